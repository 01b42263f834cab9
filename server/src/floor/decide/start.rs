//! Everything up to the first repetition: the spotter at the bar, GO, NOT YET.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{CoachId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass};

use super::target::{self, Target, not_halted};
use super::{Speaker, Verdict};
use crate::floor::config::Settings;
use crate::floor::event::Event;
use crate::floor::state::{AtBar, State, UnderWay};
use crate::training::block::working_time;

/// A coach says: I am at the bar.
pub(super) fn spot(state: &State, speaker: &Speaker, turn: TurnId) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    let Actor::Coach { coach } = speaker.actor else { return Err(Refusal::RoleMayNot) };
    if !target.hand.exercise(turn).is_some_and(|e| e.spotted()) {
        return Err(Refusal::NotSpotted);
    }
    not_begun(&target, turn)?;
    free_to_spot(state, coach)?;
    if let Some(spotter) = target.client.spotter.filter(|spotter| spotter.coach == coach) {
        return Ok(Verdict::Already(spotter.said));
    }
    Ok(Verdict::Accepted(vec![Event::SpotterNamed { turn, coach }]))
}

/// GO: the count-in begins. Never by a clock.
pub(super) fn go(state: &State, speaker: &Speaker, turn: TurnId, now: FloorMs) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    if let Some(current) = target.client.current.filter(|u| u.turn == turn) {
        return Ok(Verdict::Already(current.went));
    }
    not_halted(target.hand.group)?;
    let mut events = Vec::new();
    if let Some(before) = racked_by_going_on(&target, turn)? {
        events.push(before);
    }
    free_of_others(state, &target, turn)?;
    if turn.round > 0 && !target.hand.technique_passed(turn) {
        return Err(Refusal::TechniqueNotPassed);
    }
    let load = confirmed_load(&target, turn)?;
    let spotter = spotter(state, speaker, &target, turn)?;
    let coming = target.hand.coming(turn.client).ok_or(Refusal::NotReserved)?;
    let count_in = now + target.hand.get_set(turn);
    let starts = count_in + Settings::COUNT_IN;
    if starts < coming.earliest {
        return Err(Refusal::RestNotOver { until: coming.earliest });
    }
    let leg = target.hand.leg(turn).ok_or(Refusal::UnknownTurn)?;
    let reps = target.hand.reps(turn).ok_or(Refusal::UnknownTurn)?;
    let ends = starts + working_time(leg.tempo, reps);
    let station = target.station;
    events.push(Event::TurnWent { turn, station, count_in, starts, ends, reps, load, spotter });
    Ok(Verdict::Accepted(events))
}

/// NOT YET: thirty seconds more, and a count-in that runs is taken back. Never refused before the first
/// repetition.
pub(super) fn not_yet(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    let mut events = Vec::new();
    if let Some(current) = target.client.current.filter(|u| u.turn == turn) {
        if now >= current.starts {
            return Err(Refusal::UnderWay);
        }
        events.push(Event::TurnCalledOff { turn });
    } else {
        not_begun(&target, turn)?;
    }
    let ready = target.hand.coming(turn.client).map_or(now, |coming| coming.ready);
    let from = if events.is_empty() { ready.max(now) } else { now };
    events.push(Event::StartPutOff { turn, ready: from + Settings::NOT_YET });
    Ok(Verdict::Accepted(events))
}

/// Whether the set is the client's coming one.
pub(super) fn not_begun(target: &Target<'_>, turn: TurnId) -> Result<(), Refusal> {
    if target.place < target.client.sets.len() {
        return Err(Refusal::Over);
    }
    if target.client.current.is_some_and(|u| u.turn == turn) {
        return Err(Refusal::UnderWay);
    }
    if target.hand.next(turn.client) == Some(turn) {
        return Ok(());
    }
    Err(target.first_open(turn).map_or(Refusal::Over, |turn| Refusal::NotNext { turn }))
}

/// Whoever goes on to the next station has racked the weight before: a set without a spotter that is assumed
/// to be over is confirmed by that. A spotter is never freed this way.
fn racked_by_going_on(target: &Target<'_>, turn: TurnId) -> Result<Option<Event>, Refusal> {
    not_begun(target, turn)?;
    let Some(current) = target.client.current else { return Ok(None) };
    if !current.assumed {
        return Err(Refusal::NotNext { turn: current.turn });
    }
    if let Some(turn) = target.hand.must_be_racked_before(turn) {
        return Err(Refusal::NotRacked { turn });
    }
    let UnderWay { turn, ends, reps, .. } = current;
    Ok(Some(Event::TurnDone { turn, ended: ends, reps, effort: None }))
}

fn free_of_others(state: &State, target: &Target<'_>, turn: TurnId) -> Result<(), Refusal> {
    let on = state.stations.get(&target.station).and_then(|s| s.on);
    match on.filter(|on| (on.group, on.client) != (turn.group, turn.client)) {
        Some(on) => Err(Refusal::StationBusy { station: target.station, turn: on }),
        None => Ok(()),
    }
}

fn confirmed_load(target: &Target<'_>, turn: TurnId) -> Result<Option<Mass>, Refusal> {
    let Some(card) = target.hand.card(turn) else { return Ok(None) };
    if card.gear == GearKind::Bar && !card.confirmed {
        return Err(Refusal::LoadNotConfirmed);
    }
    Ok(Some(card.total))
}

/// Who spots: the coach named for the set, or the coach who says GO at the bar.
fn spotter(
    state: &State,
    speaker: &Speaker,
    target: &Target<'_>,
    turn: TurnId,
) -> Result<Option<CoachId>, Refusal> {
    if !target.hand.exercise(turn).is_some_and(|e| e.spotted()) {
        return Ok(None);
    }
    let coach = match (target.client.spotter, speaker.actor) {
        (Some(AtBar { coach, .. }), _) | (None, Actor::Coach { coach }) => coach,
        (
            None,
            Actor::Station { .. } | Actor::Assistant { .. } | Actor::Board | Actor::Manager | Actor::Floor,
        ) => {
            return Err(Refusal::NeedsSpotter);
        }
    };
    free_to_spot(state, coach)?;
    Ok(Some(coach))
}

fn free_to_spot(state: &State, coach: CoachId) -> Result<(), Refusal> {
    state.spotted_by(coach).map_or(Ok(()), |turn| Err(Refusal::SpotterBusy { turn }))
}

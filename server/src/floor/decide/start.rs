//! Everything up to the first repetition: the spotter at the bar, GO, NOT YET.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::target::{self, Target, not_halted};
use super::{Speaker, Verdict};
use crate::floor::config::Settings;
use crate::floor::event::Event;
use crate::floor::screening;
use crate::floor::spotting::{self, LIFT_OFF_RESERVE};
use crate::floor::state::{State, UnderWay};
use crate::training::block::working_time;
use crate::training::exercise::Exercise;

/// Somebody says: I am at the bar.
pub(super) fn spot(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    lift_off: bool,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let spotter = match speaker.actor {
        Actor::Coach { coach } => Spotter::Coach { coach },
        Actor::Assistant { coach } => Spotter::Assistant { coach },
        Actor::Station { .. } | Actor::Board | Actor::Manager | Actor::Floor => {
            return Err(Refusal::RoleMayNot);
        }
    };
    name(state, speaker, turn, AtTheBar { spotter, lift_off }, now)
}

/// Who or what is at the bar, and for how long.
#[derive(Clone, Copy)]
pub(super) struct AtTheBar {
    pub spotter: Spotter,
    pub lift_off: bool,
}

/// Somebody is at the bar for a set that has not begun.
pub(super) fn name(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    at: AtTheBar,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let AtTheBar { spotter, lift_off } = at;
    let target = target::turn(state, speaker, turn)?;
    if !target.hand.exercise(turn).is_some_and(Exercise::spotted) {
        return Err(Refusal::NotSpotted);
    }
    not_begun(&target, turn)?;
    if !target.client.is_here() {
        return Err(Refusal::ClientAbsent { client: turn.client });
    }
    if lift_off && !leaves_reserve(&target, turn) {
        return Err(Refusal::LiftOffNeedsReserve { least: LIFT_OFF_RESERVE });
    }
    // A set of the same spotter is racked first; the coming one of the same client is behind it.
    if let Some(turn) = state.spotted_by(spotter, now) {
        return Err(Refusal::SpotterBusy { turn });
    }
    spotting::may_spot(state, &target.hand, turn, spotter, now)?;
    if let Some(at_bar) = target.client.spotter.filter(|at| (at.who, at.lift_off) == (spotter, lift_off)) {
        return Ok(Verdict::Already(at_bar.said));
    }
    Ok(Verdict::Accepted(vec![Event::SpotterNamed { turn, spotter, lift_off }]))
}

fn leaves_reserve(target: &Target<'_>, turn: TurnId) -> bool {
    let reserve = target.hand.prescribed(turn).and_then(|prescribed| prescribed.reserve);
    turn.round > 0 && reserve.is_some_and(|reserve| reserve >= LIFT_OFF_RESERVE)
}

/// The coach lets a client spot others of the group in an exercise.
pub(super) fn pass_spotter(
    state: &State,
    id: GroupId,
    client: ClientId,
    exercise: ExerciseId,
) -> Result<Verdict, Refusal> {
    let now = target::group(state, id)?.clients.get(&client).ok_or(Refusal::UnknownClient)?;
    let exercise = state.floor.exercises.get(&exercise).ok_or(Refusal::UnknownExercise)?;
    if !exercise.spotted() {
        return Err(Refusal::NotSpotted);
    }
    let exercise = exercise.id;
    match (now.is_here(), now.spots.get(&exercise)) {
        (false, _) => Err(Refusal::ClientAbsent { client }),
        (true, Some(passed)) => Ok(Verdict::Already(*passed)),
        (true, None) => Ok(Verdict::Accepted(vec![Event::SpotterPassed { group: id, client, exercise }])),
    }
}

/// GO: the count-in begins. Never by a clock.
pub(super) fn go(state: &State, speaker: &Speaker, turn: TurnId, now: FloorMs) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    if let Some(current) = target.client.current.filter(|u| u.turn == turn) {
        return Ok(Verdict::Already(current.went));
    }
    may_train(&target, turn)?;
    spotting::spots_nobody(state, turn.client, now)?;
    let mut events = Vec::new();
    if let Some(before) = racked_by_going_on(&target, turn)? {
        events.push(before);
    }
    free_of_others(state, &target, turn)?;
    if turn.round > 0 && !target.hand.technique_passed(turn) {
        return Err(Refusal::TechniqueNotPassed);
    }
    let load = confirmed_load(&target, turn)?;
    if let Some((load, station)) = target.hand.pair_out(turn) {
        return Err(Refusal::PairOut { load, station });
    }
    let at_bar = spotter(state, speaker, &target, turn, now)?;
    let coming = target.hand.coming(turn.client).ok_or(Refusal::NotReserved)?;
    let count_in = now + target.hand.get_set(turn);
    let starts = count_in + Settings::COUNT_IN;
    if starts < coming.earliest {
        return Err(Refusal::RestNotOver { until: coming.earliest });
    }
    events.extend(leaves_other_bar(&target, turn));
    let work = target.hand.work(turn).ok_or(Refusal::UnknownTurn)?;
    let tempo = target.hand.prescribed(turn).ok_or(Refusal::UnknownTurn)?.tempo;
    let per_side = target.hand.leg(turn).is_some_and(|leg| leg.per_side);
    events.push(Event::TurnWent {
        turn,
        station: target.station,
        count_in,
        starts,
        ends: starts + working_time(tempo, work, per_side),
        reps: work.target(),
        load,
        spotter: at_bar.map(|at| at.spotter),
        lift_off: at_bar.is_some_and(|at| at.lift_off),
        // Only where the rest was shorter in the end.
        short_rest: target
            .client
            .rest_cut
            .filter(|_| starts < target.hand.rested(turn))
            .map(|cut| cut.reason),
    });
    Ok(Verdict::Accepted(events))
}

/// What must be so of the client and the station before anything else is looked at.
fn may_train(target: &Target<'_>, turn: TurnId) -> Result<(), Refusal> {
    let client = turn.client;
    if !target.client.is_here() {
        return Err(Refusal::ClientAbsent { client });
    }
    if screening::is_open(&target.hand, client) {
        return Err(Refusal::AskCoach);
    }
    if target.client.before.briefed.is_none() {
        return Err(Refusal::NotBriefed);
    }
    not_halted(target.hand.group, target.client)?;
    let (station, now) = (target.station, target.hand.station_now(turn).map(|(_, now)| now));
    if let Some(out) = now.and_then(|now| now.out) {
        return Err(Refusal::NotInService { station, defect: out.defect });
    }
    if let Some(other) = now.and_then(|now| now.other_use) {
        return Err(Refusal::InOtherUse { station, until: other.until });
    }
    if let Some(call) = target.hand.state.help_call(&[station]) {
        return Err(Refusal::HelpNeeded { station, call });
    }
    Ok(())
}

/// Whoever stands at somebody's bar and now lifts does not stand there any more.
fn leaves_other_bar(target: &Target<'_>, turn: TurnId) -> Option<Event> {
    let client = spotting::stands_at(target.hand.group, turn.client)?;
    let turn = target.hand.next(client)?;
    Some(Event::SpotterGone { turn })
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
    if target.over(turn).is_some() {
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
    let (reps, ending) = current.unsaid();
    let UnderWay { turn, ends, .. } = current;
    Ok(Some(Event::TurnDone { turn, ended: ends, reps, effort: None, ending }))
}

fn free_of_others(state: &State, target: &Target<'_>, turn: TurnId) -> Result<(), Refusal> {
    let on = state.stations.get(&target.station).and_then(|s| s.on);
    match on.filter(|on| (on.group, on.client) != (turn.group, turn.client)) {
        Some(on) => Err(Refusal::StationBusy { station: target.station, turn: on }),
        None => Ok(()),
    }
}

fn confirmed_load(target: &Target<'_>, turn: TurnId) -> Result<Option<Load>, Refusal> {
    let Some(card) = target.hand.card(turn) else { return Ok(None) };
    if card.gear == GearKind::Bar && !card.confirmed {
        return Err(Refusal::LoadNotConfirmed);
    }
    Ok(Some(card.total))
}

/// Who spots: whoever was named for the set, or the coach or assistant who says GO at the bar.
fn spotter(
    state: &State,
    speaker: &Speaker,
    target: &Target<'_>,
    turn: TurnId,
    now: FloorMs,
) -> Result<Option<AtTheBar>, Refusal> {
    if !target.hand.exercise(turn).is_some_and(Exercise::spotted) {
        return Ok(None);
    }
    let at = match (target.client.spotter, speaker.actor) {
        (Some(at), _) => AtTheBar { spotter: at.who, lift_off: at.lift_off },
        (None, Actor::Coach { coach }) => AtTheBar { spotter: Spotter::Coach { coach }, lift_off: false },
        (None, Actor::Assistant { coach }) => {
            AtTheBar { spotter: Spotter::Assistant { coach }, lift_off: false }
        }
        (None, Actor::Station { .. } | Actor::Board | Actor::Manager | Actor::Floor) => {
            return Err(Refusal::NeedsSpotter);
        }
    };
    spotting::may_spot(state, &target.hand, turn, at.spotter, now)?;
    Ok(Some(at))
}

//! Coaches: away and back, and who is responsible for which group.

use std::collections::BTreeSet;

use turnabout_protocol::ids::{CoachId, GroupId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};

use super::{Speaker, Verdict, target};
use crate::floor::admission;
use crate::floor::config::limits::MINUTES;
use crate::floor::event::Event;
use crate::floor::in_hand::InHand;
use crate::floor::spotting;
use crate::floor::state::{GroupNow, Stamp, State};

/// A coach is away for so long. Not while a bar rests on it.
pub(super) fn away(state: &State, coach: CoachId, minutes: u8, now: FloorMs) -> Result<Verdict, Refusal> {
    known(state, coach)?;
    if !(1..=MINUTES).contains(&minutes) {
        return Err(Refusal::MinutesRange { most: MINUTES });
    }
    spotting::free_of_bars(state, coach, now)?;
    let until = now + Millis::secs(i64::from(minutes) * 60);
    Ok(Verdict::Accepted(vec![Event::CoachWentAway { coach, until }]))
}

pub(super) fn back(state: &State, coach: CoachId) -> Result<Verdict, Refusal> {
    known(state, coach)?;
    if state.coaches.get(&coach).is_none_or(|now| now.away.is_none()) {
        return Err(Refusal::NotAway);
    }
    Ok(Verdict::Accepted(vec![Event::CoachCameBack { coach }]))
}

/// Groups are offered to another coach, or asked for. Who has to agree is the other of the two; a coach who is
/// away or off shift is not waited for.
pub(super) fn hand_over(
    state: &State,
    speaker: &Speaker,
    groups: &[GroupId],
    from: CoachId,
    to: CoachId,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    known(state, from)?;
    known(state, to)?;
    if from == to {
        return Err(Refusal::CoachedBy { coach: from });
    }
    let takes_over = speaker.actor == Actor::Coach { coach: to };
    // Nobody gives away the groups of somebody who is there to be asked.
    if !takes_over && speaker.actor != (Actor::Coach { coach: from }) && is_there(state, from, now) {
        return Err(Refusal::CoachedBy { coach: from });
    }
    let asks = if takes_over { from } else { to };
    let mut events = Vec::new();
    let mut already = None;
    for id in groups.iter().collect::<BTreeSet<_>>() {
        if let Some(agreed) = agreed_by(speaker, target::group(state, *id)?, from).filter(|_| takes_over) {
            already = already.or(Some(agreed));
            continue;
        }
        let group = of(state, *id, from)?;
        InHand::of(state, *id).ok_or(Refusal::Over)?;
        if takes_over && !is_there(state, from, now) {
            may_change_hands(state, *id, group, to, now)?;
            events.push(Event::GroupHandedOver { group: *id, from, to });
        } else if group.offer.is_none_or(|offer| (offer.to, offer.asks) != (to, asks)) {
            events.push(Event::GroupOffered { group: *id, to, asks });
        }
    }
    if events.is_empty() {
        let first = groups.iter().find_map(|id| state.groups.get(id)?.offer).map(|offer| offer.said);
        return first.or(already).map(Verdict::Already).ok_or(Refusal::UnknownGroup);
    }
    Ok(Verdict::Accepted(events))
}

pub(super) fn accept(
    state: &State,
    speaker: &Speaker,
    id: GroupId,
    from: CoachId,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    if let Some(agreed) = agreed_by(speaker, target::group(state, id)?, from) {
        return Ok(Verdict::Already(agreed));
    }
    let group = of(state, id, from)?;
    let offer = group.offer.ok_or(Refusal::NotOffered)?;
    if speaker.actor != (Actor::Coach { coach: offer.asks }) {
        return Err(Refusal::NotYoursToAgree { coach: offer.asks });
    }
    may_change_hands(state, id, group, offer.to, now)?;
    Ok(Verdict::Accepted(vec![Event::GroupHandedOver { group: id, from, to: offer.to }]))
}

/// When this very coach agreed to take a group from that one or to give it away, if that still stands: whoever says so
/// once more, on another device or with a second tap, has said nothing new.
fn agreed_by(speaker: &Speaker, group: &GroupNow, from: CoachId) -> Option<Stamp> {
    let handed = group.handed.filter(|handed| handed.from == from && group.coach != from)?;
    Some(handed.agreed).filter(|agreed| agreed.by == speaker.actor)
}

pub(super) fn decline(state: &State, speaker: &Speaker, id: GroupId) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    let offer = group.offer.ok_or(Refusal::NotOffered)?;
    let Actor::Coach { coach } = speaker.actor else { return Err(Refusal::RoleMayNot) };
    if ![offer.asks, offer.to, group.coach].contains(&coach) {
        return Err(Refusal::NotYoursToAgree { coach: offer.asks });
    }
    Ok(Verdict::Accepted(vec![Event::OfferWithdrawn { group: id }]))
}

/// Never in the middle of a spotted set, never to somebody who is not there or has too many clients.
fn may_change_hands(
    state: &State,
    id: GroupId,
    group: &GroupNow,
    to: CoachId,
    now: FloorMs,
) -> Result<(), Refusal> {
    if let Some(turn) = group.spotted_under_way() {
        return Err(Refusal::SpottedSetUnderWay { turn });
    }
    if let Some(away) = state.coaches.get(&to).and_then(|coach| coach.away) {
        return Err(Refusal::CoachAway { coach: to, until: away.until });
    }
    if !spotting::on_shift(state, to, now) {
        return Err(Refusal::OffShift { coach: to });
    }
    if group.claim.is_some() {
        admission::clients_a_coach(state, to, id)?;
        admission::stations_a_coach(state, to, state.held_by(id).len())?;
    }
    Ok(())
}

fn is_there(state: &State, coach: CoachId, now: FloorMs) -> bool {
    let away = state.coaches.get(&coach).is_some_and(|c| c.away.is_some());
    !away && spotting::on_shift(state, coach, now)
}

/// The group, if this coach is responsible for it. An answer for another has come too late.
fn of(state: &State, id: GroupId, from: CoachId) -> Result<&GroupNow, Refusal> {
    let group = target::group(state, id)?;
    if group.coach == from { Ok(group) } else { Err(Refusal::CoachedBy { coach: group.coach }) }
}

fn known(state: &State, coach: CoachId) -> Result<(), Refusal> {
    if state.floor.coaches.contains_key(&coach) { Ok(()) } else { Err(Refusal::UnknownCoach) }
}

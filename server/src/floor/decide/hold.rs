//! Holding groups back and letting them go on.

use turnabout_protocol::command::Scope;
use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::HaltKind;

use super::Verdict;
use super::target;
use crate::floor::event::Event;
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, GroupNow, State};

/// Nothing starts; what is under way goes on.
pub(super) fn pause(state: &State, id: GroupId, now: FloorMs) -> Result<Verdict, Refusal> {
    let group = going_on(state, id)?;
    if let Some(halt) = group.halt {
        return Ok(Verdict::Already(halt.since));
    }
    let mut events = vec![Event::GroupPaused { group: id }];
    events.extend(count_ins(group, now));
    Ok(Verdict::Accepted(events))
}

/// What is under way is racked, nothing starts. A paused group is stopped all the same.
pub(super) fn stop(state: &State, scope: Scope, now: FloorMs) -> Result<Verdict, Refusal> {
    let groups: Vec<(GroupId, &GroupNow)> = match scope {
        Scope::Client { group, client } => return stop_one(state, group, client, now),
        Scope::Group { group } => vec![(group, going_on(state, group)?)],
        // Whoever is finished has nothing that could be stopped, and would have to be resumed for nothing.
        Scope::Floor => {
            state.groups.keys().filter_map(|id| Some((*id, going_on(state, *id).ok()?))).collect()
        }
    };
    let stopped = |group: &GroupNow| group.halt.filter(|halt| halt.kind == HaltKind::Stop);
    let mut events = Vec::new();
    for (id, group) in groups.iter().filter(|(_, group)| stopped(group).is_none()) {
        events.push(Event::GroupStopped { group: *id });
        events.extend(count_ins(group, now));
    }
    if events.is_empty() {
        let already = groups.iter().find_map(|(_, group)| stopped(group));
        return already.map(|halt| Verdict::Already(halt.since)).ok_or(Refusal::Over);
    }
    Ok(Verdict::Accepted(events))
}

/// A group whose session is not over.
fn going_on(state: &State, id: GroupId) -> Result<&GroupNow, Refusal> {
    let group = target::group(state, id)?;
    InHand::of(state, id).map(|_| group).ok_or(Refusal::Over)
}

/// Sets whose first repetition has not started: they are taken back.
fn count_ins(group: &GroupNow, now: FloorMs) -> impl Iterator<Item = Event> {
    group.clients.values().flat_map(move |client| count_in(client, now))
}

/// What somebody had put off before is put off until then all the same.
fn count_in(client: &ClientNow, now: FloorMs) -> impl Iterator<Item = Event> {
    client.current.filter(|u| now < u.starts).into_iter().flat_map(|u| {
        let put_off = u.put_off.map(|ready| Event::StartPutOff { turn: u.turn, ready });
        std::iter::once(Event::TurnCalledOff { turn: u.turn }).chain(put_off)
    })
}

/// One client is stopped; the others of the group go on.
fn stop_one(state: &State, id: GroupId, client: ClientId, now: FloorMs) -> Result<Verdict, Refusal> {
    let client_now = going_on(state, id)?.clients.get(&client).ok_or(Refusal::UnknownClient)?;
    if let Some(halt) = client_now.halt {
        return Ok(Verdict::Already(halt.since));
    }
    if !client_now.is_here() {
        return Err(Refusal::ClientAbsent { client });
    }
    let mut events = vec![Event::ClientStopped { group: id, client }];
    events.extend(count_in(client_now, now));
    Ok(Verdict::Accepted(events))
}

/// A coach lets a group go on, or one client of it who was stopped alone.
pub(super) fn resume(state: &State, id: GroupId, client: Option<ClientId>) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    if let Some(client) = client {
        let now = group.clients.get(&client).ok_or(Refusal::UnknownClient)?;
        return match now.halt {
            Some(_) => Ok(Verdict::Accepted(vec![Event::ClientResumed { group: id, client }])),
            None => Err(Refusal::NotHalted),
        };
    }
    if group.halt.is_none() && group.clients.values().all(|c| c.halt.is_none()) {
        return Err(Refusal::NotHalted);
    }
    Ok(Verdict::Accepted(vec![Event::GroupResumed { group: id }]))
}

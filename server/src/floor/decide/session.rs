//! Who is there, what comes before the first set, and how many rounds and blocks there are.

use turnabout_protocol::command::{Reason, ScreeningDecision};
use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;

use super::target::{self, here};
use super::{Speaker, Verdict};
use crate::floor::config::ScreeningPolicy;
use crate::floor::event::Event;
use crate::floor::in_hand::InHand;
use crate::floor::screening;
use crate::floor::spotting;
use crate::floor::state::{ClientNow, GroupNow, Presence, SetOver, State};
use crate::training::block::limits::ROUNDS;

/// Clients have come or have come back. Whoever knows the exercises needs no briefing.
pub(super) fn arrive(state: &State, id: GroupId, clients: &[ClientId]) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    let mut already = None;
    let mut come = Vec::new();
    for client in clients {
        match group.clients.get(client).ok_or(Refusal::UnknownClient)?.presence {
            Presence::Here(stamp) => already = Some(stamp),
            Presence::Expected | Presence::Left(_) if !come.contains(client) => come.push(*client),
            Presence::Expected | Presence::Left(_) => {}
        }
    }
    let elsewhere = |client: &ClientId| Some((*client, state.trains_with(*client)?));
    if let Some((client, group)) = come.iter().find_map(elsewhere) {
        return Err(Refusal::ClientElsewhere { client, group });
    }
    if come.is_empty() {
        return already.map(Verdict::Already).ok_or(Refusal::UnknownClient);
    }
    let regular = |client: &ClientId| {
        let unbriefed = group.clients.get(client).is_some_and(|c| c.before.briefed.is_none());
        unbriefed && state.programme.clients.get(client).is_some_and(|c| c.regular)
    };
    let regulars: Vec<ClientId> = come.iter().copied().filter(|client| regular(client)).collect();
    let mut events = vec![Event::ClientsArrived { group: id, clients: come }];
    if !regulars.is_empty() {
        events.push(Event::ClientsBriefed { group: id, clients: regulars, skipped: true });
    }
    Ok(Verdict::Accepted(events))
}

pub(super) fn warmed_up(state: &State, id: GroupId, client: ClientId) -> Result<Verdict, Refusal> {
    let now = present(target::group(state, id)?, client)?;
    if let Some(stamp) = now.before.warmed_up {
        return Ok(Verdict::Already(stamp));
    }
    Ok(Verdict::Accepted(vec![Event::ClientWarmedUp { group: id, client }]))
}

pub(super) fn brief(
    state: &State,
    id: GroupId,
    clients: &[ClientId],
    skipped: bool,
) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    let mut already = None;
    let mut briefed = Vec::new();
    for client in clients {
        match present(group, *client)?.before.briefed {
            Some(stamp) => already = Some(stamp),
            None if !briefed.contains(client) => briefed.push(*client),
            None => {}
        }
    }
    if briefed.is_empty() {
        return already.map(Verdict::Already).ok_or(Refusal::UnknownClient);
    }
    Ok(Verdict::Accepted(vec![Event::ClientsBriefed { group: id, clients: briefed, skipped }]))
}

/// What a coach decides by name. Where the floor asks for a screening in order, nobody can decide to train.
pub(super) fn screen(
    state: &State,
    (id, client): (GroupId, ClientId),
    decision: ScreeningDecision,
    at: FloorMs,
) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    let now = group.clients.get(&client).ok_or(Refusal::UnknownClient)?;
    if let Some((_, stamp)) = now.before.screening.filter(|(said, _)| *said == decision) {
        return Ok(Verdict::Already(stamp));
    }
    if screening::in_order(state, client) {
        return Err(Refusal::ScreeningInOrder);
    }
    if decision == ScreeningDecision::Train && state.floor.policy.screening == ScreeningPolicy::Required {
        return Err(Refusal::ScreeningRequired);
    }
    not_working(now)?;
    spotting::spots_nobody(state, client, at)?;
    Ok(Verdict::Accepted(vec![Event::ScreeningDecided { group: id, client, decision }]))
}

/// A client leaves, at any time but under a weight, or at the bar of somebody who is.
pub(super) fn leave(state: &State, id: GroupId, client: ClientId, at: FloorMs) -> Result<Verdict, Refusal> {
    let now = target::group(state, id)?.clients.get(&client).ok_or(Refusal::UnknownClient)?;
    match now.presence {
        Presence::Left(stamp) => return Ok(Verdict::Already(stamp)),
        Presence::Expected | Presence::Here(_) => {}
    }
    not_working(now)?;
    spotting::spots_nobody(state, client, at)?;
    Ok(Verdict::Accepted(vec![Event::ClientLeft { group: id, client }]))
}

fn not_working(now: &ClientNow) -> Result<(), Refusal> {
    now.current.map_or(Ok(()), |u| Err(Refusal::SetUnderWay { turn: u.turn }))
}

fn present(group: &GroupNow, client: ClientId) -> Result<&ClientNow, Refusal> {
    let now = group.clients.get(&client).ok_or(Refusal::UnknownClient)?;
    if now.is_here() { Ok(now) } else { Err(Refusal::ClientAbsent { client }) }
}

/// Rounds that a client missed, as whole rounds: those without a single set done.
pub(in crate::floor) fn owed(hand: &InHand<'_>, client: ClientId) -> u8 {
    let legs = hand.block.legs.len();
    let Some(now) = hand.client(client) else { return 0 };
    let rounds = now.sets.get(legs..).unwrap_or_default().chunks(legs);
    let missed = rounds.filter(|round| round.iter().all(|set| matches!(set, SetOver::Missed))).count();
    u8::try_from(missed).unwrap_or(u8::MAX)
}

/// A client does some of the missed rounds at the end.
pub(super) fn make_up(
    state: &State,
    id: GroupId,
    client: ClientId,
    rounds: u8,
    revision: u32,
) -> Result<Verdict, Refusal> {
    let hand = edited(state, id, revision)?;
    let now = present(hand.group, client)?;
    let most = owed(&hand, client);
    if rounds > most {
        return Err(Refusal::RoundsOwed { most });
    }
    // What has been made up for already stays.
    let begun = begun_rounds(&hand, client, now).saturating_sub(hand.rounds());
    if rounds < begun {
        return Err(Refusal::RoundsRange { least: begun, most });
    }
    Ok(Verdict::Accepted(vec![Event::RoundsMadeUp { group: id, client, rounds }]))
}

fn begun_rounds(hand: &InHand<'_>, client: ClientId, now: &ClientNow) -> u8 {
    let last = now.sets.len().checked_sub(1).and_then(|place| hand.turn(client, place));
    now.current.map(|u| u.turn).or(last).map_or(0, |turn| turn.round)
}

/// Another number of working rounds, none below what anybody has begun.
pub(super) fn set_rounds(
    state: &State,
    id: GroupId,
    block: u8,
    rounds: u8,
    revision: u32,
) -> Result<Verdict, Refusal> {
    let hand = edited(state, id, revision)?;
    if block < hand.group.block {
        return Err(Refusal::Over);
    }
    if block >= hand.group.blocks {
        return Err(Refusal::UnknownTurn);
    }
    let begun = |(client, now): (&ClientId, &ClientNow)| begun_rounds(&hand, *client, now);
    let in_hand = block == hand.group.block;
    let begun = if in_hand { hand.group.clients.iter().map(begun).max() } else { None };
    let least = begun.unwrap_or_default().max(1);
    if !(least..=ROUNDS).contains(&rounds) {
        return Err(Refusal::RoundsRange { least, most: ROUNDS });
    }
    Ok(Verdict::Accepted(vec![Event::RoundsSet { group: id, block, rounds }]))
}

pub(super) fn drop_block(state: &State, id: GroupId, block: u8, revision: u32) -> Result<Verdict, Refusal> {
    let hand = edited(state, id, revision)?;
    let last = block.checked_add(1) == Some(hand.group.blocks);
    if !last || block <= hand.group.block {
        return Err(Refusal::BlockBegun);
    }
    Ok(Verdict::Accepted(vec![Event::BlockDropped { group: id, block }]))
}

pub(super) fn end(state: &State, id: GroupId, reason: Reason) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    InHand::of(state, id).ok_or(Refusal::Over)?;
    if let Some(turn) = group.under_way() {
        return Err(Refusal::SetUnderWay { turn });
    }
    Ok(Verdict::Accepted(vec![Event::SessionEnded { group: id, reason }]))
}

/// Somebody of the group says so, at one of its stations or on a page.
pub(super) fn still_here(state: &State, speaker: &Speaker, id: GroupId) -> Result<Verdict, Refusal> {
    target::group(state, id)?;
    InHand::of(state, id).ok_or(Refusal::Over)?;
    here(speaker, &state.held_by(id))?;
    Ok(Verdict::Accepted(vec![Event::GroupStillHere { group: id }]))
}

fn edited(state: &State, id: GroupId, revision: u32) -> Result<InHand<'_>, Refusal> {
    let group = target::group(state, id)?;
    let hand = InHand::of(state, id).ok_or(Refusal::Over)?;
    if group.revision == revision {
        Ok(hand)
    } else {
        Err(Refusal::StaleRevision { revision: group.revision })
    }
}

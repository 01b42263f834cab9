//! Whether a session will be over in time: a simple estimate in closed form, and what would make it shorter.

use std::cmp::Ordering;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::ClientId;
use turnabout_protocol::units::{Millis, Secs};
use turnabout_protocol::view::{FitOffer, FitPart};
use turnabout_protocol::work::Work;

use crate::floor::config::Settings;
use crate::floor::hours::Opening;
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, Presence};
use crate::training::block::{Block, Leg, Prescription, working_time};
use crate::training::exercise::Exercise;

/// How many working rounds fewer are offered at most.
const FEWER_ROUNDS: u8 = 3;

/// When a group's session has to end, and what is left of it; nothing where nothing ends it.
pub(super) fn fit(hand: &InHand<'_>) -> Option<FitPart> {
    let state = hand.state;
    let agreed = state.ends_at(hand.id);
    let closing = match state.floor.hours.at(&state.clock, state.recorded) {
        Opening::Until(closes) => Some(closes),
        Opening::Always | Opening::Closed => None,
    };
    let by = agreed.into_iter().chain(closing).min()?;
    let rounds = |block: u8| hand.group.rounds_of(hand.plan, block);
    let left = left(hand, hand.group.blocks, &rounds);
    Some(FitPart { by, closing: agreed.is_none_or(|at| by < at), left, offers: offers(hand) })
}

/// Fewer rounds of the block in hand, one by one, then without the last block.
fn offers(hand: &InHand<'_>) -> Vec<FitOffer> {
    let (group, revision, block) = (hand.id, hand.group.revision, hand.group.block);
    let least = begun(hand).max(1);
    let now = hand.rounds();
    let planned = |block: u8| hand.group.rounds_of(hand.plan, block);
    let fewer = (1..=FEWER_ROUNDS).filter_map(|less| now.checked_sub(less)).filter(|rounds| *rounds >= least);
    let fewer = fewer.map(|rounds| FitOffer {
        act: Act::SetRounds { group, block, rounds, revision },
        left: left(hand, hand.group.blocks, &|of| if of == block { rounds } else { planned(of) }),
    });
    let last = hand.group.blocks.checked_sub(1).filter(|last| *last > block);
    let dropped = last.map(|last| FitOffer {
        act: Act::DropBlock { group, block: last, revision },
        left: left(hand, last, &planned),
    });
    fewer.chain(dropped).collect()
}

/// The highest round that anybody has begun.
fn begun(hand: &InHand<'_>) -> u8 {
    let of = |(id, c): (&ClientId, &ClientNow)| {
        let last = c.sets.len().checked_sub(1).and_then(|place| hand.turn(*id, place));
        c.current.map(|u| u.turn).or(last).map_or(0, |turn| turn.round)
    };
    hand.group.clients.iter().map(of).max().unwrap_or_default()
}

/// What is left from now on, with so many blocks and so many rounds of each.
fn left(hand: &InHand<'_>, blocks: u8, rounds: &impl Fn(u8) -> u8) -> Secs {
    let clients: Vec<ClientId> = hand
        .group
        .clients
        .iter()
        .filter(|(_, c)| !matches!(c.presence, Presence::Left(_)))
        .map(|(id, _)| *id)
        .collect();
    let planned = hand.plan.blocks.iter().zip(0_u8..).take(usize::from(blocks));
    let of = |(block, place): (&Block, u8)| {
        let all = rounds(place);
        let (light, working) = match place.cmp(&hand.group.block) {
            Ordering::Less => return 0,
            Ordering::Equal => still_to_do(hand, &clients, block.legs.len(), all),
            Ordering::Greater => (true, all),
        };
        let once = cycle(hand, block, &clients, true);
        let round = cycle(hand, block, &clients, false);
        let light = if light { once } else { 0 };
        light + round.saturating_mul(i64::from(working))
    };
    let millis: i64 = planned.map(of).sum();
    Secs(u32::try_from(Millis(millis).ceil_secs()).unwrap_or(u32::MAX))
}

/// Whether light sets are still to be done in the block in hand, and how many working rounds.
fn still_to_do(hand: &InHand<'_>, clients: &[ClientId], legs: usize, rounds: u8) -> (bool, u8) {
    let over = |id: &ClientId| hand.client(*id).map_or(0, |c| c.sets.len());
    let least = clients.iter().map(over).min().unwrap_or_default();
    let done = u8::try_from((least / legs.max(1)).saturating_sub(1)).unwrap_or(u8::MAX);
    (least < legs, rounds.saturating_sub(done))
}

/// One round of a whole group in milliseconds: what one client takes for sets, ways over and rest, or what all
/// of them take at one station, whichever is longer.
fn cycle(hand: &InHand<'_>, block: &Block, clients: &[ClientId], light: bool) -> i64 {
    let settings = &hand.state.floor.settings;
    let exercise = |leg: &Leg| hand.state.floor.exercises.get(&leg.exercise);
    let time = |leg: &Leg, client: &ClientId| {
        let set = leg.sets.get(client);
        let spotted = exercise(leg).is_some_and(Exercise::spotted);
        let get_set = if spotted { settings.get_set_spotted } else { settings.get_set };
        let work = set.map_or(Millis::default(), |set| working(set, leg.per_side, light));
        (get_set.millis() + Settings::COUNT_IN.millis() + work).0
    };
    let ways = block.legs.iter().skip(1).filter(|leg| !leg.in_place).count();
    let ways = block.changeover.millis().0.saturating_mul(i64::try_from(ways).unwrap_or(i64::MAX));
    let rest = if light { 0 } else { block.rest_min.millis().0 };
    let of_client =
        |client: &ClientId| block.legs.iter().map(|leg| time(leg, client)).sum::<i64>() + ways + rest;
    let alone = clients.iter().map(of_client).max().unwrap_or_default();
    // Exercises done in place share the station of the one before.
    let mut at_stations: Vec<i64> = Vec::new();
    for leg in &block.legs {
        let all: i64 = clients.iter().map(|client| time(leg, client)).sum();
        match at_stations.last_mut().filter(|_| leg.in_place) {
            Some(before) => *before += all,
            None => at_stations.push(all),
        }
    }
    alone.max(at_stations.into_iter().max().unwrap_or_default())
}

fn working(set: &Prescription, per_side: bool, light: bool) -> Millis {
    let reps = Work::reps(set.technique.reps);
    let work = if light { Some(reps) } else { set.target(1).map(|target| target.work) };
    work.map_or(Millis::default(), |work| working_time(set.tempo, work, per_side))
}

//! A group that is larger than its rests allow on one pair of stations, known from its plan alone: before anybody has
//! come, and without planning anything.
//!
//! Turns and rests are as long as in every plan ([`length`]). Of changes of load no more is counted than is sure: where
//! nobody's loads are anybody else's, each turn comes after a change of at least one plate or one pin. So what is told
//! here is the least that somebody's rest overruns, whatever the order.

use std::collections::BTreeSet;

use turnabout_protocol::ids::{ClientId, ExerciseId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::Secs;

use super::cuts::kind;
use super::{length, prices, stations};
use crate::floor::config::Floor;
use crate::floor::in_hand::InHand;
use crate::floor::pace::{self, Pace};
use crate::floor::state::Presence;
use crate::timetable::instance::StationKind;
use crate::timetable::rotation::{self, Fit, Pair, fit};
use crate::training::block::{Block, Leg, Target};

/// By how much a group is too large for one pair of stations.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TooLarge {
    /// By at least how much the rest overruns for the client for whom it is worst, in the round where it is worst.
    pub overrun: Secs,
    /// How two pairs would do better; nothing where they would not.
    pub split: Option<OnTwo>,
}

/// A group parted on two pairs of stations.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnTwo {
    /// Who goes together, in the group's order.
    pub clients: [Vec<ClientId>; 2],
    /// By how much the worst rest still overruns.
    pub overrun: Secs,
}

/// Whether these clients of a group find their rests in a block as it is planned. Nothing where they do, and of a block
/// that is not two exercises at two stations.
#[must_use]
pub fn planned(floor: &Floor, block: &Block, clients: &[ClientId]) -> Option<TooLarge> {
    let places = nearest(floor, block)?;
    let rounds = 1..=block.rounds;
    of(floor, block, clients, (places, rounds), &|_, _| None)
}

/// The same for the block that a group has in hand, at its clients' own pace; nothing once somebody has begun it.
#[must_use]
pub fn now(hand: &InHand<'_>) -> Option<TooLarge> {
    let clients = &hand.group.clients;
    let stays =
        |id: &&ClientId| clients.get(id).is_some_and(|client| !matches!(client.presence, Presence::Left(_)));
    if clients.values().any(|client| !client.sets.is_empty() || client.current.is_some()) {
        return None;
    }
    let floor = &hand.state.floor;
    let taken = hand.group.claim.as_ref().and_then(|claim| claim.stations.as_slice().try_into().ok());
    let places = taken.or_else(|| nearest(floor, hand.block))?;
    let clients: Vec<ClientId> = hand.plan.clients.iter().filter(stays).copied().collect();
    let pace = |client, exercise| pace::of(hand.state, client, exercise);
    of(floor, hand.block, &clients, (places, 1..=hand.rounds()), &pace)
}

type Paces<'p> = &'p dyn Fn(ClientId, ExerciseId) -> Option<Pace>;

fn of(
    floor: &Floor,
    block: &Block,
    clients: &[ClientId],
    (places, rounds): ([StationId; 2], std::ops::RangeInclusive<u8>),
    pace: Paces<'_>,
) -> Option<TooLarge> {
    let [first, second] = block.legs.as_slice() else { return None };
    if second.in_place || places[0] == places[1] || clients.len() < 2 {
        return None;
    }
    let walk = stations::walk(floor, places[0], places[1]);
    let change = |leg, place| surely_changed(floor, leg, place, clients);
    let pair = Pair::new(walk, [change(first, places[0]), change(second, places[1])]).ok()?;
    let wait = Secs(block.changeover.0.saturating_sub(walk.0));
    let lead = length::lead(floor, first)?;
    let rests = (length::rest(block.rest_min, lead), length::rest(block.rest_max, lead));
    let of_round = |round: u8| {
        let member = |client: &ClientId| {
            let length =
                |leg: &Leg| length::planned(floor, leg, (*client, round), || pace(*client, leg.exercise));
            rotation::Pace::new([length(first)?, length(second)?], rests.0, Some(rests.1)).ok()
        };
        let members: Vec<rotation::Pace> = clients.iter().map(member).collect::<Option<_>>()?;
        match fit(&pair, &members, Some(wait)).ok()? {
            Fit::Fits => None,
            Fit::TooLarge { overrun, split } => Some((overrun, split)),
        }
    };
    // Past the last round that a plan names every round is like it.
    let named = block.legs.iter().flat_map(|leg| leg.sets.values()).map(|set| set.rounds.len()).max()?;
    let worst = rounds.take(named).filter_map(of_round).rev().max_by_key(|(overrun, _)| *overrun);
    let (overrun, split) = worst?;
    let split = split.map(|split| OnTwo {
        clients: split.halves.map(|half| half.iter().filter_map(|at| clients.get(*at).copied()).collect()),
        overrun: split.overruns[0].max(split.overruns[1]),
    });
    Some(TooLarge { overrun, split })
}

/// The two stations of a block that are nearest to each other, one for each exercise.
fn nearest(floor: &Floor, block: &Block) -> Option<[StationId; 2]> {
    let [first, second] = block.legs.as_slice() else { return None };
    let of = |leg: &Leg| floor.exercises.get(&leg.exercise).map(|exercise| &exercise.stations);
    let (from, to) = (of(first)?, of(second)?);
    let pairs = from.iter().flat_map(|from| to.iter().map(move |to| [*from, *to]));
    let apart = pairs.filter(|[from, to]| from != to);
    apart.min_by_key(|[from, to]| stations::walk(floor, *from, *to))
}

/// What a change between two clients takes at least, where it is sure that each turn needs one: the plan says every load
/// outright, and no two clients share any.
fn surely_changed(floor: &Floor, leg: &Leg, station: StationId, clients: &[ClientId]) -> Secs {
    let mut met: BTreeSet<Load> = BTreeSet::new();
    for client in clients {
        let targets = leg.sets.get(client).map_or(&[][..], |set| &set.rounds);
        let own: Option<BTreeSet<Load>> = targets.iter().map(Target::fixed).collect();
        let Some(own) = own.filter(|own| !own.is_empty() && own.is_disjoint(&met)) else { return Secs(0) };
        met.extend(own);
    }
    match floor.stations.get(&station).map(|station| kind(&station.gear)) {
        Some(StationKind::Bar) => Secs(prices::COLLAR.0 + prices::PLATE.0),
        Some(StationKind::Stack) => prices::PIN,
        Some(StationKind::Plain) | None => Secs(0),
    }
}

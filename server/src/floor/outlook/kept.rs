//! The order of a plan by the floor's own names, so that it outlives the problem it was found for.
//!
//! A plan is not floor state: this is what a planner keeps from one event to the next. [`KeptOrder::fitted`] puts it on
//! another problem of the same evening:
//!
//! 1. **Stations.** A client keeps the station of each exercise while it suits; else the first that does. What the floor
//!    has settled stands above that.
//! 2. **Rounds** that are done drop out, the others keep their places.
//! 3. **New rounds** come where as many rounds of everybody have gone: a client's k-th remaining round behind the last
//!    k-th remaining round of the others.
//! 4. **Rotation.** Clients of a group who share the first exercise's station take turns, in the order of (rounds
//!    begun, place in the cycle): first the round that is under way, then pass by pass one round each. The places that
//!    they have together in the sequence stay theirs. The cycle of those who have begun is the one they have gone in; of
//!    the others it is the order in which the group's rounds were planned first. A rotated order must not become the
//!    next base, or one event after another drifts away from the plan.
//! 5. **Earliest starts** that lie behind are dropped.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::units::FloorMs;

use super::Outlook;
use super::who::RoundKey;
use crate::timetable::instance::{At, Group};

/// A round of a client by the floor's own names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct KeptRound {
    /// The group.
    pub group: GroupId,
    /// The client.
    pub client: ClientId,
    /// The block.
    pub block: u8,
    /// The round.
    pub round: RoundKey,
}

/// An order of the whole floor by its own names.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct KeptOrder {
    /// The station of each exercise of a client's block in hand.
    pub stations: BTreeMap<(GroupId, ClientId, u8), Vec<StationId>>,
    /// The rounds of everybody; who comes earlier comes earlier wherever two of them meet.
    pub sequence: Vec<KeptRound>,
    /// No start of these rounds before then.
    pub earliest: BTreeMap<KeptRound, FloorMs>,
    /// The order in which the clients of a group's block came first.
    pub cycles: BTreeMap<(GroupId, u8), Vec<ClientId>>,
}

/// An order by positions in a problem: what a planner works with.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlacedOrder {
    /// The station of each leg, by group and member.
    pub stations: Vec<Vec<Vec<usize>>>,
    /// Every remaining round once, as group, member and position among the member's rounds.
    pub sequence: Vec<PlacedRound>,
}

/// A round by its place in a problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlacedRound {
    /// The group's position.
    pub group: usize,
    /// The member's position in the group.
    pub member: usize,
    /// The round's position among those that are left.
    pub round: usize,
    /// It starts no earlier; zero where anything goes.
    pub earliest: At,
}

impl KeptOrder {
    /// Keeps an order of a problem by the floor's own names. The cycles of groups that were known before stay.
    #[must_use]
    pub fn keep(&self, outlook: &Outlook, order: &PlacedOrder) -> Self {
        let who = &outlook.who;
        let mut kept = Self::default();
        for place in &order.sequence {
            let Some(round) = key(outlook, *place) else { continue };
            if place.earliest > outlook.instance.now {
                kept.earliest.insert(round, who.instant(place.earliest));
            }
            let group = (round.group, round.block);
            let known = || self.cycles.get(&group).cloned().unwrap_or_default();
            let cycle = kept.cycles.entry(group).or_insert_with(known);
            if !cycle.contains(&round.client) {
                cycle.push(round.client);
            }
            kept.sequence.push(round);
        }
        for (group, members) in order.stations.iter().enumerate() {
            let Some((id, block)) = who.groups().nth(group).zip(who.block(group)) else { continue };
            for (client, legs) in who.clients(group).zip(members) {
                let stations = legs.iter().filter_map(|place| who.stations().get(*place).copied());
                kept.stations.insert((id, client, block), stations.collect());
            }
        }
        kept
    }

    /// This order on another problem, by the rules at the head of this file. It has every remaining round once, each
    /// client's in their order.
    #[must_use]
    pub fn fitted(&self, outlook: &Outlook) -> PlacedOrder {
        let stations = self.stations_on(outlook);
        let mut sequence = merged(&self.remaining(outlook), outlook);
        for (group, members) in stations.iter().enumerate() {
            let firsts: Vec<Option<usize>> = members.iter().map(|legs| legs.first().copied()).collect();
            let there: BTreeSet<Option<usize>> = firsts.iter().copied().collect();
            for station in there {
                let together: Vec<usize> =
                    (0..firsts.len()).filter(|member| firsts[*member] == station).collect();
                self.rotate(outlook, group, &together, &mut sequence);
            }
        }
        self.delay(outlook, &mut sequence);
        PlacedOrder { stations, sequence }
    }

    /// The kept rounds that are still to do, in their order.
    fn remaining(&self, outlook: &Outlook) -> Vec<PlacedRound> {
        let mut places: BTreeMap<KeptRound, PlacedRound> =
            all(outlook).filter_map(|place| Some((key(outlook, place)?, place))).collect();
        self.sequence.iter().filter_map(|round| places.remove(round)).collect()
    }

    /// The rounds of clients who take turns at one station, in the places that they have together.
    fn rotate(&self, outlook: &Outlook, group: usize, together: &[usize], sequence: &mut [PlacedRound]) {
        let Some(of) = outlook.instance.groups.get(group) else { return };
        let rotation = self.rotation(outlook, group, of, together);
        let starting = |member: usize| usize::from(of.members[member].under_way.is_some());
        let mut turns: Vec<(usize, usize, usize)> = Vec::new();
        for (place, member) in rotation.iter().enumerate() {
            for round in 0..of.members[*member].rounds.len() {
                // What is under way comes before every pass.
                let pass = (round + 1).saturating_sub(starting(*member));
                turns.push((pass, place, round));
            }
        }
        turns.sort_unstable();
        let mut turns = turns.into_iter();
        let theirs = sequence.iter_mut().filter(|at| at.group == group && together.contains(&at.member));
        for at in theirs {
            let Some((_, place, round)) = turns.next() else { return };
            at.member = rotation[place];
            at.round = round;
        }
    }

    /// These clients in the order of (rounds begun, place in the cycle).
    fn rotation(&self, outlook: &Outlook, group: usize, of: &Group, together: &[usize]) -> Vec<usize> {
        let id = outlook.who.groups().nth(group).zip(outlook.who.block(group));
        let cycle = id.and_then(|id| self.cycles.get(&id));
        let clients: Vec<ClientId> = outlook.who.clients(group).collect();
        let begun = |member: usize| {
            let first = of.members[member].rounds.first().map_or(0, |round| round.number);
            first + u32::from(of.members[member].under_way.is_some())
        };
        let gone = |member: usize| of.order.iter().position(|next| *next == member).unwrap_or(usize::MAX);
        let in_cycle = |member: usize| {
            let place = cycle.and_then(|cycle| cycle.iter().position(|id| clients.get(member) == Some(id)));
            place.unwrap_or(usize::MAX)
        };
        let mut rotation = together.to_vec();
        rotation.sort_by_key(|member| (begun(*member), gone(*member), in_cycle(*member), *member));
        rotation
    }

    fn delay(&self, outlook: &Outlook, sequence: &mut [PlacedRound]) {
        for place in sequence {
            let kept = key(outlook, *place).and_then(|round| self.earliest.get(&round));
            let second = kept.map(|at| outlook.who.second(*at)).unwrap_or_default();
            place.earliest = if second > outlook.instance.now { second } else { At(0) };
        }
    }

    fn stations_on(&self, outlook: &Outlook) -> Vec<Vec<Vec<usize>>> {
        let groups = outlook.instance.groups.iter().enumerate();
        groups.map(|(group, of)| self.stations_of(outlook, group, of)).collect()
    }

    fn stations_of(&self, outlook: &Outlook, group: usize, of: &Group) -> Vec<Vec<usize>> {
        let who = &outlook.who;
        let id = who.groups().nth(group).zip(who.block(group));
        let clients: Vec<ClientId> = who.clients(group).collect();
        let kept = |member: usize| {
            let ((id, block), client) = id.zip(clients.get(member))?;
            let places: Vec<usize> = self
                .stations
                .get(&(id, *client, block))?
                .iter()
                .map(|station| who.station(*station))
                .collect::<Option<_>>()?;
            let suits = places.len() == of.eligible.len()
                && places.iter().zip(&of.eligible).all(|(place, eligible)| eligible.contains(place));
            suits.then_some(places)
        };
        let settled = |member: usize| of.members[member].stations.clone();
        let members = 0..of.members.len();
        if of.together {
            let all = members.clone().find_map(settled).or_else(|| members.clone().find_map(kept));
            let all = all.unwrap_or_else(|| first_that_suit(of));
            return vec![all; of.members.len()];
        }
        members
            .map(|member| settled(member).or_else(|| kept(member)).unwrap_or_else(|| first_that_suit(of)))
            .collect()
    }
}

/// For each leg the first station that suits and that no leg before it has; where all are taken, the first.
fn first_that_suit(of: &Group) -> Vec<usize> {
    let mut chosen: Vec<usize> = Vec::new();
    for eligible in &of.eligible {
        let own = eligible.iter().find(|station| !chosen.contains(station)).or_else(|| eligible.first());
        chosen.extend(own);
    }
    chosen
}

/// Every remaining round of a problem.
fn all(outlook: &Outlook) -> impl Iterator<Item = PlacedRound> + '_ {
    let groups = outlook.instance.groups.iter().enumerate();
    let members = groups.flat_map(|(group, of)| {
        of.members.iter().enumerate().map(move |(member, of)| (group, member, of.rounds.len()))
    });
    members.flat_map(|(group, member, rounds)| {
        (0..rounds).map(move |round| PlacedRound { group, member, round, earliest: At(0) })
    })
}

fn key(outlook: &Outlook, place: PlacedRound) -> Option<KeptRound> {
    let who = &outlook.who;
    let (group, block) = who.groups().nth(place.group).zip(who.block(place.group))?;
    let client = who.clients(place.group).nth(place.member)?;
    let round = *who.rounds(place.group, place.member).get(place.round)?;
    Some(KeptRound { group, client, block, round })
}

/// Puts the rounds that a sequence lacks where as many rounds of everybody have gone.
fn merged(kept: &[PlacedRound], outlook: &Outlook) -> Vec<PlacedRound> {
    let known: BTreeSet<(usize, usize, usize)> =
        kept.iter().map(|at| (at.group, at.member, at.round)).collect();
    let mut new: Vec<PlacedRound> =
        all(outlook).filter(|at| !known.contains(&(at.group, at.member, at.round))).collect();
    new.sort_by_key(|at| at.round);
    // Behind the last kept round with no more before it; a client's own rounds stay in order by that.
    let mut ends: Vec<usize> = Vec::new();
    for (place, at) in kept.iter().enumerate() {
        ends.resize(ends.len().max(at.round + 1), 0);
        ends[at.round] = place + 1;
    }
    let mut behind = 0;
    for end in &mut ends {
        behind = behind.max(*end);
        *end = behind;
    }
    let place_of = |at: &PlacedRound| ends.get(at.round).copied().unwrap_or(kept.len());
    let mut new = new.into_iter().peekable();
    let mut sequence = Vec::new();
    for (place, at) in kept.iter().enumerate() {
        while let Some(next) = new.next_if(|next| place_of(next) <= place) {
            sequence.push(next);
        }
        sequence.push(*at);
    }
    sequence.extend(new);
    in_own_order(sequence)
}

/// The same places, with each client's rounds in their order.
fn in_own_order(mut sequence: Vec<PlacedRound>) -> Vec<PlacedRound> {
    let mut next: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for at in &mut sequence {
        let round = next.entry((at.group, at.member)).or_default();
        at.round = *round;
        *round += 1;
    }
    sequence
}

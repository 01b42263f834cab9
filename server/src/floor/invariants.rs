//! What must always hold, each by its name. Checked after every event in tests, and at the edge of the floor
//! task before anything is written.

use std::collections::BTreeSet;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;

use super::config::Sharing;
use super::in_hand::InHand;
use super::promises;
use super::state::{SetOver, State, UnderWay};
use crate::training::exercise::Exercise;

/// An invariant that does not hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Broken {
    /// A station is occupied by at most one set, and a set occupies the station it is done on.
    #[error("one set a station: station {station} does not hold set {turn:?}")]
    OneSetAStation {
        /// The station.
        station: StationId,
        /// The set.
        turn: TurnId,
    },
    /// A station that is not shared is reserved by at most one group, and every station by groups that have a use
    /// for it.
    #[error("one claim a station: station {station}")]
    OneClaimAStation {
        /// The station.
        station: StationId,
    },
    /// A group has claims on all stations of its block or on none.
    #[error("all stations or none: group {group}")]
    AllOrNone {
        /// The group.
        group: GroupId,
    },
    /// A spotter spots at most one bar, and does not lift meanwhile.
    #[error("one bar a spotter: {spotter:?}")]
    OneBarASpotter {
        /// Who.
        spotter: Spotter,
    },
    /// A spotted set does not start without its named spotter.
    #[error("spotted sets have a spotter: {turn:?}")]
    SpotterNamed {
        /// The set.
        turn: TurnId,
    },
    /// No countdown starts a set.
    #[error("no countdown starts a set: {turn:?}")]
    StartedBySomebody {
        /// The set.
        turn: TurnId,
    },
    /// Rest is never shorter than its minimum.
    #[error("rest is kept: {turn:?}")]
    RestKept {
        /// The set after the rest.
        turn: TurnId,
    },
    /// No loaded bar moves before load, equal sides and collars were confirmed.
    #[error("loads are confirmed: {turn:?}")]
    LoadConfirmed {
        /// The set.
        turn: TurnId,
    },
    /// A client trains with one group at a time.
    #[error("one group a client: client {client}")]
    OneGroupAClient {
        /// The client.
        client: ClientId,
    },
    /// What people have been told can be, and of no set there are two words.
    #[error("promises can be kept: client {client}")]
    PromiseStands {
        /// The client.
        client: ClientId,
    },
    /// A client does one set at a time, in the block's order.
    #[error("sets in order: client {client}")]
    SetsInOrder {
        /// The client.
        client: ClientId,
    },
}

/// Looks at all of them.
///
/// # Errors
/// The first that does not hold.
pub fn check(state: &State) -> Result<(), Broken> {
    claims(state)?;
    clients(state)?;
    spotters(state)?;
    if let Some(client) = promises::broken(state) {
        return Err(Broken::PromiseStands { client });
    }
    let mut occupied = 0;
    for under_way in state.under_way() {
        set(state, under_way)?;
        occupied += 1;
    }
    let stray = state.stations.iter().filter_map(|(id, s)| Some((*id, s.on?)));
    if stray.clone().count() != occupied {
        for (station, turn) in stray {
            if !state.under_way().any(|u| u.turn == turn && u.station == station) {
                return Err(Broken::OneSetAStation { station, turn });
            }
        }
    }
    Ok(())
}

fn claims(state: &State) -> Result<(), Broken> {
    for (id, group) in &state.groups {
        let held = |s: &StationId| state.stations.get(s).is_some_and(|s| s.is_for(*id));
        let hand = InHand::of(state, *id);
        let legs = |ahead: u8| {
            let block = hand.and_then(|hand| hand.plan.blocks.get(usize::from(group.block + ahead)));
            block.map(|block| block.legs.len())
        };
        for (ahead, claim) in [(0, &group.claim), (1, &group.ahead)] {
            let Some(claim) = claim else { continue };
            if legs(ahead) != Some(claim.stations.len()) || !claim.stations.iter().all(held) {
                return Err(Broken::AllOrNone { group: *id });
            }
        }
    }
    for (id, station) in &state.stations {
        let sharing = state.floor.stations.get(id).map(|s| s.sharing);
        let shared = station.work_in.is_some();
        let unshared = matches!(sharing, Some(Sharing::Never) | None);
        if shared && (unshared || station.claim.is_none() || station.work_in == station.claim) {
            return Err(Broken::OneClaimAStation { station: *id });
        }
        let uses = |group: GroupId| state.groups.get(&group).is_some_and(|g| g.uses(*id));
        if !station.groups().all(uses) {
            return Err(Broken::OneClaimAStation { station: *id });
        }
    }
    Ok(())
}

/// Nobody trains with two groups. A group whose session is over does not train any more.
fn clients(state: &State) -> Result<(), Broken> {
    let mut seen = BTreeSet::new();
    let hands = state.groups.keys().filter_map(|id| InHand::of(state, *id));
    let here = hands.flat_map(|hand| hand.group.clients.iter().filter(|(_, now)| now.is_here()));
    match here.map(|(client, _)| *client).find(|client| !seen.insert(*client)) {
        Some(client) => Err(Broken::OneGroupAClient { client }),
        None => Ok(()),
    }
}

/// Nobody spots two bars, or lifts meanwhile. Whoever was free after the lift-off may have gone to another.
fn spotters(state: &State) -> Result<(), Broken> {
    for u in state.under_way() {
        let Some(who) = u.spotter.filter(|who| *who != Spotter::Arms) else { continue };
        let free_by = |other: &UnderWay| u.lift_off && u.starts <= other.went.when;
        let bound =
            |other: &&UnderWay| other.turn != u.turn && other.went.when >= u.went.when && !free_by(other);
        let mut later = state.under_way().filter(bound);
        if later.any(|other| other.spotter == Some(who)) {
            return Err(Broken::OneBarASpotter { spotter: who });
        }
        let Spotter::Client { client } = who else { continue };
        if state.under_way().any(|other| other.turn.client == client && !free_by(other)) {
            return Err(Broken::OneBarASpotter { spotter: who });
        }
    }
    Ok(())
}

fn set(state: &State, under_way: &UnderWay) -> Result<(), Broken> {
    let turn = under_way.turn;
    let misplaced = Broken::OneSetAStation { station: under_way.station, turn };
    let hand = InHand::of(state, turn.group).ok_or(misplaced)?;
    let station = state.stations.get(&under_way.station).ok_or(misplaced)?;
    if station.on != Some(turn) || !station.is_for(turn.group) {
        return Err(misplaced);
    }
    let client = hand.client(turn.client).ok_or(Broken::SetsInOrder { client: turn.client })?;
    if hand.place(turn) != Some(client.sets.len()) && !hand.is_again(turn) {
        return Err(Broken::SetsInOrder { client: turn.client });
    }
    if hand.exercise(turn).is_some_and(Exercise::spotted) && under_way.spotter.is_none() {
        return Err(Broken::SpotterNamed { turn });
    }
    if under_way.went.by == Actor::Floor {
        return Err(Broken::StartedBySomebody { turn });
    }
    let legs = hand.block.legs.len();
    let begin = usize::from(turn.round) * legs;
    // The rest comes before the first set of a round: the others follow it without one.
    let first = client.sets.get(begin..).is_none_or(|sets| sets.iter().all(|set| set.done().is_none()));
    let before = client.sets.get(legs..begin).filter(|_| first);
    let round_before = before.and_then(|sets| sets.iter().rev().find_map(SetOver::done));
    let rested = round_before.map(|last| last.ended + hand.block.rest_min);
    if rested.is_some_and(|rested| under_way.starts < rested) && under_way.short_rest.is_none() {
        return Err(Broken::RestKept { turn });
    }
    let gear = state.floor.stations.get(&under_way.station).map(|s| s.gear.kind());
    let loaded = gear == Some(GearKind::Bar) && under_way.load.is_some();
    if loaded && (station.load != under_way.load || station.confirmed.is_none()) {
        return Err(Broken::LoadConfirmed { turn });
    }
    Ok(())
}

//! What must always hold, each by its name. Checked after every event in tests, and at the edge of the floor
//! task before anything is written.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;

use super::in_hand::InHand;
use super::state::{State, UnderWay};

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
    /// A station is reserved by at most one group, and by that group's own claim.
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
    /// A spotter spots at most one bar.
    #[error("one bar a spotter: coach {coach}")]
    OneBarASpotter {
        /// The coach.
        coach: CoachId,
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
    spotters(state)?;
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
        let Some(claim) = &group.claim else { continue };
        let legs = InHand::of(state, *id).map(|hand| hand.block.legs.len());
        let held = |s: &StationId| state.stations.get(s).is_some_and(|s| s.claim == Some(*id));
        if legs != Some(claim.stations.len()) || !claim.stations.iter().all(held) {
            return Err(Broken::AllOrNone { group: *id });
        }
    }
    for (id, station) in &state.stations {
        let Some(group) = station.claim else { continue };
        let claim = state.groups.get(&group).and_then(|g| g.claim.as_ref());
        if !claim.is_some_and(|claim| claim.stations.contains(id)) {
            return Err(Broken::OneClaimAStation { station: *id });
        }
    }
    Ok(())
}

fn spotters(state: &State) -> Result<(), Broken> {
    for coach in state.under_way().filter_map(|u| u.spotter) {
        if state.under_way().filter(|u| u.spotter == Some(coach)).count() > 1 {
            return Err(Broken::OneBarASpotter { coach });
        }
    }
    Ok(())
}

fn set(state: &State, under_way: &UnderWay) -> Result<(), Broken> {
    let turn = under_way.turn;
    let misplaced = Broken::OneSetAStation { station: under_way.station, turn };
    let hand = InHand::of(state, turn.group).ok_or(misplaced)?;
    let station = state.stations.get(&under_way.station).ok_or(misplaced)?;
    if station.on != Some(turn) || station.claim != Some(turn.group) {
        return Err(misplaced);
    }
    let client = hand.client(turn.client).ok_or(Broken::SetsInOrder { client: turn.client })?;
    if hand.place(turn) != Some(client.sets.len()) {
        return Err(Broken::SetsInOrder { client: turn.client });
    }
    if hand.exercise(turn).is_some_and(|e| e.spotted()) && under_way.spotter.is_none() {
        return Err(Broken::SpotterNamed { turn });
    }
    if under_way.went.by == Actor::Floor {
        return Err(Broken::StartedBySomebody { turn });
    }
    let rested = client.sets.last().map(|last| last.ended + hand.block.rest_min);
    if turn.leg == 0 && turn.round > 1 && rested.is_some_and(|rested| under_way.starts < rested) {
        return Err(Broken::RestKept { turn });
    }
    let gear = state.floor.stations.get(&under_way.station).map(|s| s.gear.kind());
    let loaded = gear == Some(GearKind::Bar) && under_way.load.is_some();
    if loaded && (station.load != under_way.load || station.confirmed.is_none()) {
        return Err(Broken::LoadConfirmed { turn });
    }
    Ok(())
}

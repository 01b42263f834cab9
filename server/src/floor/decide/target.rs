//! Finding what a tap names, and whether this display may name it.

use turnabout_protocol::ids::{GroupId, StationId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::view::HaltKind;

use super::Speaker;
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, GroupNow, SetRecord, State};

/// A set that exists in the block its group has in hand, on a station that is reserved for it.
pub(super) struct Target<'s> {
    pub hand: InHand<'s>,
    pub client: &'s ClientNow,
    pub station: StationId,
    /// Its place among the client's sets.
    pub place: usize,
}

impl Target<'_> {
    /// What is known of the set where it is over: its record, or nothing where it was left out or missed. A
    /// light set that is to be done once more is not over.
    pub(super) fn over(&self, turn: TurnId) -> Option<Option<&SetRecord>> {
        if self.hand.is_again(turn) || self.client.current.is_some_and(|u| u.turn == turn) {
            return None;
        }
        let beside = self.client.again.iter().rev().find(|(id, _)| *id == turn).map(|(_, record)| record);
        let in_order = self.client.sets.get(self.place);
        in_order.map(|set| beside.or_else(|| set.done()))
    }

    /// The client's first set that is not over.
    pub(super) fn first_open(&self, turn: TurnId) -> Option<TurnId> {
        self.client.current.map(|u| u.turn).or_else(|| self.hand.next(turn.client))
    }
}

/// Finds the set and makes sure that this display serves it.
pub(super) fn turn<'s>(state: &'s State, speaker: &Speaker, turn: TurnId) -> Result<Target<'s>, Refusal> {
    let target = find(state, turn)?;
    here(speaker, &[target.station])?;
    Ok(target)
}

/// Finds the set and makes sure that this display serves a station of its round: what is asked after a round is asked of
/// all its exercises at each of their stations.
pub(super) fn turn_of_round<'s>(
    state: &'s State,
    speaker: &Speaker,
    turn: TurnId,
) -> Result<Target<'s>, Refusal> {
    let target = find(state, turn)?;
    let legs = (0..target.hand.legs()).map(|leg| TurnId { leg, ..turn });
    let stations: Vec<StationId> = legs.filter_map(|turn| target.hand.station(turn)).collect();
    here(speaker, &stations)?;
    Ok(target)
}

fn find(state: &State, turn: TurnId) -> Result<Target<'_>, Refusal> {
    let (_, group) = state.group(turn.group).ok_or(Refusal::UnknownGroup)?;
    if turn.block < group.block {
        return Err(Refusal::Over);
    }
    let hand = InHand::of(state, turn.group).ok_or(Refusal::UnknownTurn)?;
    let place = hand.place(turn).ok_or(Refusal::UnknownTurn)?;
    let client = hand.client(turn.client).ok_or(Refusal::UnknownTurn)?;
    let station = hand.station(turn).ok_or(Refusal::NotReserved)?;
    Ok(Target { hand, client, station, place })
}

/// A station's display serves its own stations only; everyone else all of them.
pub(super) fn here(speaker: &Speaker, stations: &[StationId]) -> Result<(), Refusal> {
    let serves = |s: &StationId| speaker.stations.contains(s);
    match speaker.actor {
        Actor::Station { .. } if !stations.iter().any(serves) => Err(Refusal::NotHere),
        Actor::Station { .. }
        | Actor::Coach { .. }
        | Actor::Assistant { .. }
        | Actor::Board
        | Actor::Manager
        | Actor::Floor => Ok(()),
    }
}

/// A group that is held starts nothing, nor does a client who was stopped alone.
pub(super) fn not_halted(group: &GroupNow, client: &ClientNow) -> Result<(), Refusal> {
    match group.halt.or(client.halt).map(|halt| halt.kind) {
        None => Ok(()),
        Some(HaltKind::Pause) => Err(Refusal::Paused),
        Some(HaltKind::Stop) => Err(Refusal::Stopped),
    }
}

/// A group by its number.
pub(super) fn group(state: &State, group: GroupId) -> Result<&GroupNow, Refusal> {
    state.groups.get(&group).ok_or(Refusal::UnknownGroup)
}

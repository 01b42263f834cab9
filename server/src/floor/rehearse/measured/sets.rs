//! The sets of an evening, as its entries tell of them.

use std::collections::BTreeMap;

use turnabout_protocol::ids::{ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::units::{FloorMs, Millis};

use crate::floor::config::{Floor, Programme};
use crate::floor::event::{Entry, Event};
use crate::training::block::Block;

/// A set that was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Set {
    pub(super) turn: TurnId,
    pub(super) station: StationId,
    /// GO.
    pub(super) went: FloorMs,
    /// The first repetition.
    pub(super) starts: FloorMs,
    /// The end.
    pub(super) ended: FloorMs,
    /// Until when somebody had put its first repetition off.
    pub(super) put_off: Option<FloorMs>,
}

/// Every set, client by client in the order in which they were begun.
#[derive(Debug, Default)]
pub(super) struct Sets<'e> {
    pub(super) floor: Option<&'e Floor>,
    programme: Option<&'e Programme>,
    /// A set that has not ended says when it was to.
    all: BTreeMap<(GroupId, ClientId), Vec<(Set, bool)>>,
    /// Until when somebody has put off what a client begins next.
    put_off: BTreeMap<(GroupId, ClientId), FloorMs>,
    /// When each client has come.
    came: BTreeMap<(GroupId, ClientId), FloorMs>,
    /// When each group gave the stations of a block back.
    freed: BTreeMap<(GroupId, u8), FloorMs>,
    /// When the first has come.
    pub(super) first_came: FloorMs,
}

impl<'e> Sets<'e> {
    pub(super) fn of(entries: &'e [Entry]) -> Self {
        let mut sets = Self::default();
        entries.iter().for_each(|entry| sets.take(entry));
        sets.first_came = sets.came.values().copied().min().unwrap_or_default();
        sets
    }

    fn take(&mut self, entry: &'e Entry) {
        // Nothing else says anything of when sets were.
        if let Event::FloorSet(floor) = &entry.event {
            self.floor = Some(floor);
        } else if let Event::ProgrammeSet(programme) = &entry.event {
            self.programme = Some(programme);
        } else if let Event::ClientsArrived { group, clients } = &entry.event {
            for client in clients {
                self.came.entry((*group, *client)).or_insert(entry.at);
            }
        } else if let Event::StationsFreed { group, block, .. } = &entry.event {
            self.freed.insert((*group, *block), entry.at);
        } else if let Event::TurnWent { turn, station, starts, ends, .. } = &entry.event {
            let (turn, starts, station) = (*turn, *starts, *station);
            let put_off = self.put_off.remove(&(turn.group, turn.client));
            let set = Set { turn, station, went: entry.at, starts, ended: *ends, put_off };
            self.all.entry((turn.group, turn.client)).or_default().push((set, false));
        } else if let Event::StartPutOff { turn, ready } = &entry.event {
            // Zero says that it is not put off any more.
            self.put_off.insert((turn.group, turn.client), *ready);
        } else if let Event::TurnsSkipped { turn, .. } | Event::ExerciseSkipped { turn, .. } = &entry.event {
            self.put_off.remove(&(turn.group, turn.client));
        } else if let Event::TurnCalledOff { turn } = &entry.event {
            self.all.entry((turn.group, turn.client)).or_default().pop_if(|(set, _)| set.turn == *turn);
        } else if let Event::TurnDone { turn, ended, .. } = &entry.event {
            if let Some((set, done)) = self.last(*turn) {
                (set.ended, *done) = (*ended, true);
            }
        } else if let Event::TurnReopened { turn } = &entry.event
            && let Some((_, done)) = self.last(*turn)
        {
            *done = false;
        }
    }

    fn last(&mut self, turn: TurnId) -> Option<&mut (Set, bool)> {
        let all = self.all.get_mut(&(turn.group, turn.client))?;
        all.iter_mut().rev().find(|(set, _)| set.turn == turn)
    }

    /// The sets that were done, client by client.
    pub(super) fn by_client(&self) -> impl Iterator<Item = Vec<Set>> {
        self.all.values().map(|all| all.iter().filter(|(_, done)| *done).map(|(set, _)| *set).collect())
    }

    /// What was prescribed.
    pub(super) fn block(&self, turn: TurnId) -> Option<&'e Block> {
        self.programme?.groups.get(&turn.group)?.blocks.get(usize::from(turn.block))
    }

    /// How long a client has waited for the first set of a block.
    pub(super) fn door(&self, before: &[Set], set: &Set) -> Millis {
        let turn = set.turn;
        if before.last().is_some_and(|last| last.turn.block == turn.block) {
            return Millis(0);
        }
        let came = self.came.get(&(turn.group, turn.client)).copied().unwrap_or(set.went);
        let earlier = turn.block.checked_sub(1).and_then(|block| self.freed.get(&(turn.group, block)));
        let since = earlier.map_or(came, |freed| came.max(*freed));
        Millis(set.went.since(since).0.max(0))
    }
}

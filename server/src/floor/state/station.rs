//! What is so at a station.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::Defect;
use turnabout_protocol::ids::{GroupId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::FloorMs;

use super::Stamp;
use crate::loading::bar::{Loaded, Plate};

/// What is so at a station.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct StationNow {
    /// The group that has reserved it.
    pub claim: Option<GroupId>,
    /// A second group that works in: it takes turns while the first rests.
    pub work_in: Option<GroupId>,
    /// A group that the first has allowed to work in and that has not taken the station yet.
    pub leave: Option<Leave>,
    /// The set that occupies it, until it is said to be racked.
    pub on: Option<TurnId>,
    /// What is on its gear, as far as anybody has said.
    pub load: Option<Load>,
    /// Which plates of it make that load, as far as anybody has said; both sides alike.
    pub plates: Option<Loaded>,
    /// Plates of its own that are not there, the heaviest kind first; of a tree they are in
    /// [`State::trees`](super::State::trees).
    pub missing: Vec<Missing>,
    /// Who confirmed that load, equal sides and collars; gone with every change of plates.
    pub confirmed: Option<Stamp>,
    /// How it is set now, as far as anybody has said: the place of each setting's value.
    pub set_to: BTreeMap<u8, u8>,
    /// Somebody of the public uses it.
    pub other_use: Option<OtherUse>,
    /// It must not be used.
    pub out: Option<OutOfService>,
}

/// Plates of one kind that are not there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Missing {
    /// Which kind.
    pub plate: Plate,
    /// How many; above zero.
    pub count: u8,
    /// Who said so, and when.
    pub said: Stamp,
}

/// A group may work in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Leave {
    /// Which one.
    pub group: GroupId,
    /// Who said so, and when.
    pub said: Stamp,
}

/// Somebody of the public uses a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct OtherUse {
    /// Until about then.
    pub until: FloorMs,
    /// Who said so, and when.
    pub said: Stamp,
}

/// A station that must not be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct OutOfService {
    /// What is wrong.
    pub defect: Defect,
    /// Who said so, and since when.
    pub said: Stamp,
}

impl StationNow {
    /// Whether a group may take turns here, because it holds it or works in.
    #[must_use]
    pub fn is_for(&self, group: GroupId) -> bool {
        self.claim == Some(group) || self.work_in == Some(group)
    }

    /// The groups that take turns here, the one that has reserved it first.
    pub fn groups(&self) -> impl Iterator<Item = GroupId> {
        self.claim.into_iter().chain(self.work_in)
    }

    /// A group gives it up. Who works in has it alone then. What is on the bar may stay, but the next who
    /// lifts it confirms it anew.
    pub fn give_up(&mut self, group: GroupId) {
        if self.work_in == Some(group) {
            self.work_in = None;
        } else if self.claim == Some(group) {
            self.claim = self.work_in.take();
            self.leave = None;
        }
        self.unconfirm();
    }

    /// Nobody answers for what is on the bar any more. Whoever lifts it at this moment had it confirmed, and
    /// nobody changes plates under a lifter.
    pub const fn unconfirm(&mut self) {
        if self.on.is_none() {
            self.confirmed = None;
        }
    }

    /// Whoever was on it has racked the bar. What must not be used is confirmed anew when it may be again.
    pub const fn vacate(&mut self) {
        self.on = None;
        if self.out.is_some() {
            self.confirmed = None;
        }
    }
}

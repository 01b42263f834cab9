//! How long sets really last. Nobody knows before they are over, but a planner that is given this in place of what a
//! floor learns.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::Millis;

use super::chance::Chance;
use super::mishap::{self, Mishap};
use super::moment::Moment;
use crate::floor::in_hand::InHand;
use crate::floor::outlook::{Lengths, SetWork};

/// What chance and mishaps have in store for sets.
#[derive(Clone, Debug)]
pub(super) struct Real {
    chance: Chance,
    mishaps: Vec<Mishap>,
}

impl Real {
    pub(super) fn new(chance: Chance, mishaps: &[Mishap]) -> Self {
        Self { chance, mishaps: mishaps.to_vec() }
    }

    /// From the first repetition of a set to the last.
    pub(super) fn work(&self, set: SetWork) -> Millis {
        self.chance.length(set) + mishap::longer(&self.mishaps, set.turn)
    }

    /// How long somebody takes over a tap for a turn.
    pub(super) fn moment(&self, moment: Moment, turn: TurnId) -> Millis {
        self.chance.moment(moment, turn)
    }
}

impl Lengths for Real {
    fn lasts(&self, _: &InHand<'_>, set: SetWork) -> Millis {
        self.work(set) + self.moment(Moment::Done, set.turn)
    }
}

//! Loads one after another on one bar: the cards of an order with the least handling, and the order with the
//! least.

use turnabout_protocol::units::Mass;

use super::bars::BarNo;
use super::card::BarCard;
use super::error::LoadError;
use super::finder::Finder;
use super::handling::Effort;
use super::looked::{Looked, in_rounds};
use super::side::Loaded;

/// Clients on one bar: a full group.
pub const MOST_CLIENTS: usize = crate::training::block::limits::CLIENTS;
/// Turns that are looked at together: a full group's light sets and five rounds. What comes later is planned
/// when it is nearer; the time grows with the cube of the number.
pub const MOST_TURNS: usize = 24;
/// One set of one client.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Turn {
    /// Whose, by the caller's own number.
    pub client: u8,
    /// The load, bar and collars included.
    pub target: Mass,
}

/// Which ways of making a load a sequence may choose from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WaysAllowed {
    /// Those with the fewest plates, as a card by itself has: what people expect to see on a bar.
    Fewest,
    /// One plate more on each side will do as well: 25 + 20 becomes 25 + 20 + 5 by one plate a side, where
    /// 25 + 25 takes two.
    OneMore,
}

/// Which orders are allowed. Rounds always stay in their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Order {
    /// Clients go in the same order in every round, so that nobody's rest changes.
    SameEachRound,
    /// Clients go in any order within each round, but nobody twice running from one round to the next unless
    /// they are alone.
    InsideRounds,
}

/// A turn with its card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Planned {
    /// Which round, from zero.
    pub round: usize,
    /// Whose.
    pub client: u8,
    /// How to set the load, and what to change from the turn before.
    pub card: BarCard,
}

/// Turns in order with their cards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sequence {
    /// In order.
    pub turns: Vec<Planned>,
    /// All changes together.
    pub effort: Effort,
    /// Whether all ways of every load were looked at, so that there is certainly no less handling.
    pub whole: bool,
}

/// The given order and the best of the allowed ones.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposal {
    /// As asked.
    pub given: Sequence,
    /// With the fewest plate moves; the given one where none has fewer.
    pub best: Sequence,
}

/// Why turns cannot be a sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SequenceError {
    /// More than [`MOST_TURNS`].
    #[error("rounds: {0} turns, at most {MOST_TURNS}")]
    TooManyTurns(usize),
    /// More than [`MOST_CLIENTS`].
    #[error("rounds: {0} clients, at most {MOST_CLIENTS}")]
    TooManyClients(usize),
    /// A client twice in one round.
    #[error("rounds: client {client} twice in round {round}")]
    Twice {
        /// Which round, from zero.
        round: usize,
        /// Who.
        client: u8,
    },
    /// A load that cannot be put on.
    #[error("round {round}, client {client}: {error}")]
    Turn {
        /// Which round, from zero.
        round: usize,
        /// Whose.
        client: u8,
        /// Why not.
        error: LoadError,
    },
}

impl Finder {
    /// The cards of turns on one bar, in the given order, with the fewest plate moves there can be, from what
    /// is on now to the last turn. Of several the first in a fixed order, heavy plates inside.
    ///
    /// # Errors
    /// See [`SequenceError`].
    pub fn sequence(
        &self,
        bar: BarNo,
        on_now: Option<&Loaded>,
        rounds: &[Vec<Turn>],
        ways: WaysAllowed,
    ) -> Result<Sequence, SequenceError> {
        let looked = Looked::new(self, bar, on_now, in_rounds(rounds)?, ways)?;
        Ok(looked.sequence(&looked.given()))
    }

    /// The given order beside the best of the allowed ones.
    ///
    /// # Errors
    /// See [`SequenceError`].
    pub fn propose(
        &self,
        bar: BarNo,
        on_now: Option<&Loaded>,
        rounds: &[Vec<Turn>],
        ways: WaysAllowed,
        order: Order,
    ) -> Result<Proposal, SequenceError> {
        let looked = Looked::new(self, bar, on_now, in_rounds(rounds)?, ways)?;
        let given = looked.given();
        let better = looked.best_of(order).filter(|other| other.cost < given.cost);
        let given = looked.sequence(&given);
        let best = better.map_or_else(|| given.clone(), |better| looked.sequence(&better));
        Ok(Proposal { given, best })
    }
}

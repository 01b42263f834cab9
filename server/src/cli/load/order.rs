//! An order of turns at one bar, as it is answered.

use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::units::Secs;

use super::{BarCard, Obstacle};
use crate::cli::amount::Amount;

/// The bar that stays for all turns.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct RowBar {
    /// The bar alone.
    pub bar: Amount,
    /// One collar; zero for clips that are not counted.
    pub collar: Amount,
}

/// Turns in an order. **Load and strip both sides in turn:** a bar loaded on one side tips.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Row {
    /// In order.
    pub turns: Vec<TurnCard>,
    /// All changes together. Where nobody has said what is on, what it takes to strip that comes on top.
    pub altogether: Handling,
    /// Whether every way with the fewest plates for each load was looked at, so that this order certainly has no
    /// fewer plate moves with these; very many plates of near sizes have more ways than are looked at.
    pub all_ways: bool,
}

/// One turn.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct TurnCard {
    /// Its place in the given order, counted from 1.
    pub turn: usize,
    /// Whose; absent where nobody is named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// How to set it, from the turn before.
    pub card: BarCard,
}

/// What there is to handle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Handling {
    /// Plates on and off, both sides together.
    pub plates_handled: u32,
    /// Seconds of one person.
    pub seconds_alone: Secs,
    /// Seconds of two people, one at each side.
    pub seconds_together: Secs,
}

/// The order with the fewest plate moves, of those in which turns of one name keep their order.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "outcome", rename_all = "snake_case")]
#[schemars(deny_unknown_fields)]
pub enum Least {
    /// The given one: none has fewer.
    AsGiven,
    /// Another one.
    Other {
        /// The order.
        order: Row,
        /// What it saves.
        saves: Saved,
    },
    /// Nobody has looked: the turns can go in too many ways.
    TooManyOrders {
        /// The product of everybody's turns, each with one more.
        product: usize,
        /// The most that is looked at.
        most: usize,
    },
}

/// What another order saves. Fewer plates may take longer where the bar is changed more often: then seconds are
/// negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Saved {
    /// Plates on and off, both sides together.
    pub plates_handled: u32,
    /// Seconds of one person.
    pub seconds_alone: i64,
    /// Seconds of two people.
    pub seconds_together: i64,
}

/// A turn whose load cannot be set exactly.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct NoTurn {
    /// Its place in the given order, counted from 1.
    pub turn: usize,
    /// Whose; absent where nobody is named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// What was asked for, in the unit it was asked in.
    pub target: Amount,
    /// What stands in the way.
    pub why: Obstacle,
    /// The heaviest lighter load on this bar; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub below: Option<Amount>,
    /// The lightest heavier load on this bar; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub above: Option<Amount>,
}

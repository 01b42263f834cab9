//! Which plates make a load on a bar, and what to change from what is on it now. Pure.
//!
//! [`BarSet`] says what there is, [`Free`] what of it is free for one bar, and [`Finder`] is both prepared for
//! questions: [`Finder::find`] answers one load with a [`BarCard`] or says why not and what is nearest,
//! [`Finder::sequence`] answers a whole order of turns on one bar, and [`Finder::own_order`] says whether another order
//! takes less handling. [`Change`] is the way from one state of the
//! bar to another, in the order in which hands go.

mod bars;
mod bottoms;
mod card;
mod error;
mod finder;
mod free;
mod handling;
mod load_ways;
mod looked;
mod nearest;
mod nested;
mod own_order;
mod path;
mod plates;
mod search;
mod sequence;
mod side;
mod steps;
mod table;
mod ways;

pub mod standard;

pub use bars::{Bar, BarNo, BarSet, BarSetError, MOST_BARS, Sleeves, Takes};
pub use card::BarCard;
pub use error::{LoadError, Nearest, NotBuilt, Standing, Why};
pub use finder::{Finder, Starts};
pub use free::Free;
pub use handling::{Change, Effort, seconds};
pub use own_order::{MOST_STANDS, OwnOrder};
pub use plates::{Diameter, Inventory, InventoryError, MOST_KINDS, Plate, PlateKind};
pub use sequence::{
    MOST_CLIENTS, MOST_TURNS, Order, Planned, Proposal, Sequence, SequenceError, Turn, WaysAllowed,
};
pub use side::{Loaded, Side};
pub use steps::{End, Step};

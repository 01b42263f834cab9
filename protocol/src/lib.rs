//! What the server, the displays and the pages of a Turnabout floor say to each other.
//!
//! No I/O and no async. Everything here is plain data with its units in the types, so that the server, the
//! kiosk and the tests cannot disagree about it.

#![warn(missing_docs)]

pub mod act;
pub mod card;
pub mod clock;
pub mod command;
pub mod entry;
pub mod frame;
pub mod ids;
pub mod load;
pub mod next;
pub mod promise;
pub mod refusal;
pub mod role;
pub mod said;
pub mod schema;
pub mod tempo;
pub mod text;
pub mod units;
pub mod view;
pub mod words;
pub mod work;

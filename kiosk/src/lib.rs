//! The display at the stations of a Turnabout floor.
//!
//! [`link`] keeps what the server said last and floor time; [`face`] decides what is drawn; [`apply`] puts it
//! on the screen. Nothing here knows a rule of the floor: a button sends what the view allows, and the server
//! decides.

#![warn(missing_docs)]

pub mod apply;
pub mod duty;
pub mod face;
pub mod gate;
pub mod headless;
pub mod input;
pub mod link;
pub mod settings;
pub mod setup;
pub mod sound;
pub mod surroundings;
pub mod window;

/// What the compiler makes of the `.slint` files.
#[allow(
    missing_docs,
    unreachable_pub,
    unused_qualifications,
    clippy::all,
    clippy::pedantic,
    clippy::unwrap_used,
    clippy::todo,
    reason = "generated"
)]
pub mod ui {
    slint::include_modules!();
}

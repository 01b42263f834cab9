//! The server of a Turnabout floor.
//!
//! Pure rooms (`training`, `loading`, `timetable`, `floor`) decide; the others carry what they decide to disk, sockets
//! and pages. `DEVELOPERS.md` at the top of the repository is the map.

#![warn(missing_docs)]

pub mod cli;
pub mod demo;
pub mod floor;
pub mod journal;
pub mod live;
pub mod loading;
pub mod setup;
pub mod timetable;
pub mod training;
pub mod web;

//! A whole evening, written down: twelve groups, three coaches, and everything that goes otherwise than planned.
//!
//! `floor.toml` and `programme.toml` are files as a floor has them, `script.txt` says what people do and when. It
//! runs through the real core in driven time; invariants are looked at after every entry. The journal that comes
//! of it and a summary that can be read are golden files:
//! `GOLDEN=write cargo test -p turnabout-server --test evening` writes them anew.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod acts;
mod book;
mod golden;
mod mistakes;
mod play;
mod script;
mod summary;
mod words;

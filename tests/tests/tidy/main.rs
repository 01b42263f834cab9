//! Keeps the house: layout, arrows between rooms, purity, sizes, words, and a map that tells the truth.
//!
//! The rules read the repository's own files. Each is a function from sources to faults, so that each is also
//! tried on a small planted sample that breaks it: a rule that cannot fail keeps nothing.

mod arrows;
mod floats;
mod layout;
mod licences;
mod map;
mod mentions;
mod purity;
mod repository;
mod rooms;
mod rust_text;
mod sizes;
mod source;
mod waits;
mod words;

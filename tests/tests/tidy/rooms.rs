//! The rooms of the house and the order of the pure ones.

use crate::source::Source;

/// Rooms without clock, socket, file or random source, each using only those before it.
pub(crate) const PURE: [&str; 5] = ["training", "loading", "timetable", "floor", "capacity"];

/// The room of a server file: the folder under `server/src`, or the file itself where the room is one file.
pub(crate) fn room(path: &str) -> Option<&str> {
    let rest = path.strip_prefix("server/src/")?;
    let first = rest.split('/').next()?;
    Some(first.strip_suffix(".rs").unwrap_or(first))
}

/// The place of a file's room among the pure ones.
pub(crate) fn pure_rank(source: &Source) -> Option<usize> {
    let room = room(&source.path)?;
    PURE.iter().position(|pure| *pure == room)
}

/// Whether the file must be pure: a pure room, or anything both sides share.
pub(crate) fn is_pure(source: &Source) -> bool {
    source.extension() == "rs" && (pure_rank(source).is_some() || source.is_under("protocol/src"))
}

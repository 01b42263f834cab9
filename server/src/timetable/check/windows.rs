//! Busy windows.

use super::super::instance::Window;

/// The windows that a span of time overlaps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Overlap {
    /// The most seconds of it that lie in one window.
    pub(super) secs: i64,
    /// When the last of the windows ends.
    pub(super) clear: i64,
}

/// What of the time from `from` up to `to` lies in windows; nothing where none of it does.
pub(super) fn overlap(windows: &[Window], from: i64, to: i64) -> Option<Overlap> {
    let bounds = windows.iter().map(|window| (i64::from(window.from.0), i64::from(window.to.0)));
    let hit = bounds.filter(|(begin, end)| from < *end && *begin < to);
    hit.map(|(begin, end)| Overlap { secs: end.min(to) - begin.max(from), clear: end })
        .reduce(|one, other| Overlap { secs: one.secs.max(other.secs), clear: one.clear.max(other.clear) })
}

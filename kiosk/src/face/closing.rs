//! That the floor closes soon.

use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::BoardView;

use super::day::Day;
use super::words::with;

/// So long before the floor closes the last rounds are announced: whoever begins a block then can still end it. Common
/// practice, no source.
const LAST_ROUNDS: Millis = Millis::secs(30 * 60);

/// The last rounds, with the time of day at which the floor closes; empty until then and from then on.
pub(super) fn last_rounds(language: Language, view: &BoardView, now: FloorMs) -> String {
    let soon = |closes: &FloorMs| (1..=LAST_ROUNDS.0).contains(&closes.since(now).0);
    let Some(closes) = view.closes.filter(soon) else { return String::new() };
    let at = Day::new(view.clock, view.zone_offset).minute(closes);
    with(language, "label.last_rounds", &[("at", &at)])
}

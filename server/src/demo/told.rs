//! When people mean to go: when they were told, as long as that is no longer than they have the patience for.

use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::TurnPart;

/// Whoever could have gone for so long goes, whatever the plan says.
const PATIENCE: Millis = Millis::secs(60);

/// When somebody means to go with a coming set that could go from `ready` on.
pub(super) fn goes(part: &TurnPart, ready: FloorMs) -> FloorMs {
    part.promise.as_ref().map_or(ready, |told| told.start.min(ready + PATIENCE))
}

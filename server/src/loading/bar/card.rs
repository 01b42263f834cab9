//! How to set one load on a bar.

use turnabout_protocol::units::Mass;

use super::bars::{BarNo, BarSet};
use super::handling::Change;
use super::side::Loaded;

/// The bar, its plates, and the way there from what is on now.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct BarCard {
    /// The bar and the plates of each side from the inside out.
    pub loaded: Loaded,
    /// Bar, collars and the plates of both sides: exactly what was asked for.
    pub total: Mass,
    /// The bar that was wanted, where the load needs another one.
    pub instead_of: Option<BarNo>,
    /// What to do.
    pub change: Change,
}

impl BarCard {
    pub(super) fn new(
        set: &BarSet,
        wanted: BarNo,
        now: Option<&Loaded>,
        loaded: Loaded,
        target: Mass,
    ) -> Self {
        debug_assert_eq!(set.total(&loaded), Some(target), "bar, collars and both sides");
        let change = Change::between(set, now, &loaded);
        let instead_of = (loaded.bar != wanted).then_some(wanted);
        Self { loaded, total: target, instead_of, change }
    }
}

//! The nearest loads that can be put on instead of one.

use turnabout_protocol::units::Mass;

use super::bars::{Bar, BarNo};
use super::error::{Nearest, Standing};
use super::finder::{Finder, Starts, rated, sleeve};

impl Finder {
    /// The nearest loads on these bars.
    pub(super) fn nearest(&self, target: Mass, bars: &[BarNo]) -> Nearest {
        let mut nearest = Nearest::default();
        for number in bars {
            let Some(bar) = self.set.bar(*number) else { continue };
            let [below, above] = self.nearest_on(bar, target);
            let standing = |total| Standing { total, bar: *number };
            // Of bars that make the same load the first one stays.
            if below > nearest.below.map(|standing| standing.total) {
                nearest.below = below.map(standing);
            }
            if above.is_some_and(|above| nearest.above.is_none_or(|best| above < best.total)) {
                nearest.above = above.map(standing);
            }
        }
        nearest
    }

    /// The nearest loads below and above on one bar.
    fn nearest_on(&self, bar: &Bar, target: Mass) -> [Option<Mass>; 2] {
        if !bar.takes_plates() {
            let there = (self.starts == Starts::Racked).then_some(bar.mass);
            return [there.filter(|mass| *mass < target), there.filter(|mass| *mass > target)];
        }
        let (table, sleeve) = (&self.table, sleeve(bar));
        let total = |place: &usize| bar.empty() + table.sums[*place] + table.sums[*place];
        let split = table.sums.partition_point(|sum| bar.empty() + *sum + *sum < target);
        let may_stand = |place: &usize| table.fits(*place, sleeve) && total(place) <= rated(bar);
        let below = (0..split).rev().find(may_stand);
        let above = (split..table.sums.len()).filter(|place| total(place) > target).find(may_stand);
        [below.as_ref().map(total), above.as_ref().map(total)]
    }
}

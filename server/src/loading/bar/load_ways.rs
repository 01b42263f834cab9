//! Every way in which the loads of a sequence may be made, and what these have in common.

use turnabout_protocol::units::Mass;

use super::bars::{Bar, BarNo};
use super::bottoms::{Bottoms, LoadWays, in_common};
use super::error::{LoadError, NotBuilt};
use super::finder::{Finder, Starts, rated, sleeve};
use super::plates::MOST_KINDS;
use super::sequence::WaysAllowed;
use super::ways::{Counts, Ways};

/// Ways that are kept of one load. Usual plates have a handful with the fewest plates.
const MOST_WAYS: usize = 64;
/// Sets of plates that turns may have in common; where there are more, fewer ways of each load are looked at.
const MOST_BOTTOMS: usize = 256;

impl Finder {
    /// Every way that a load of a sequence may be made, and whether these are all.
    pub(super) fn ways(
        &self,
        target: Mass,
        number: BarNo,
        allowed: WaysAllowed,
    ) -> Result<(LoadWays, bool), LoadError> {
        let bar = self.check(target, number)?;
        if !bar.takes_plates() && target == bar.mass && self.starts == Starts::Racked {
            return Ok((vec![[0; MOST_KINDS]], true));
        }
        self.plate_ways(target, bar, allowed).ok_or_else(|| {
            let (why, nearest) = (self.why(target, bar), self.nearest(target, &[number]));
            NotBuilt { target, unit: self.set.unit(), why, nearest }.into()
        })
    }

    fn plate_ways(&self, target: Mass, bar: &Bar, allowed: WaysAllowed) -> Option<(LoadWays, bool)> {
        let takes_it = bar.takes_plates() && target <= rated(bar);
        let place = takes_it.then(|| Self::place_of(&self.table, bar, target))??;
        if !self.table.fits(place, sleeve(bar)) {
            return None;
        }
        let fewest = self.table.fewest[0].cost(place, self.table.need_full);
        let most: u16 = self.table.kinds.iter().map(|kind| u16::from(kind.pairs)).sum();
        let by = |plates| Ways::new(&self.table, place, plates, sleeve(bar)).all(MOST_WAYS);
        let with = (fewest..=most).map(|plates| (plates, by(plates)));
        let (plates, (mut ways, mut whole)) = with.into_iter().find(|(_, (ways, _))| !ways.is_empty())?;
        if allowed == WaysAllowed::OneMore && plates < most {
            let (more, all) = by(plates + 1);
            ways.extend(more);
            whole &= all;
        }
        Some((ways, whole))
    }

    /// What the ways of the loads and what is on now have in common, and whether that is all. Where it is too
    /// much, the later ways of each load are dropped.
    pub(super) fn bottoms(&self, ways: &mut [LoadWays], beginnings: &[Counts]) -> (Bottoms, bool) {
        let kinds = &self.table.kinds;
        let may_stand = |set: &Counts| match self.starts {
            Starts::Racked => true,
            Starts::FromTheFloor => set.iter().zip(kinds).any(|(count, kind)| kind.full && *count > 0),
        };
        let mut most = MOST_WAYS;
        let mut dropped = false;
        loop {
            let (all, whole) = in_common(ways, beginnings, MOST_BOTTOMS);
            if whole || most == 1 {
                return (Bottoms::new(ways, beginnings, all, may_stand), whole && !dropped);
            }
            most /= 2;
            for ways in ways.iter_mut().filter(|ways| ways.len() > most) {
                ways.truncate(most);
                dropped = true;
            }
        }
    }
}

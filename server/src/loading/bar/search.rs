//! Which plates make a load exactly.

use turnabout_protocol::units::{Mass, Stamped};

use super::bars::{Bar, BarNo};
use super::card::BarCard;
use super::error::{LoadError, NotBuilt, Why};
use super::finder::{Finder, Starts, rated, sleeve};
use super::plates::{MOST_KINDS, Plate};
use super::side::{Loaded, Side};
use super::ways::{Counts, Ways};

impl Finder {
    /// The plates that make `target` exactly.
    ///
    /// Of all that do: the fewest plates; of these the least to handle from what is on now, which keeps as
    /// many plates from the inside as possible; of these the heaviest inside. The wanted bar comes first. What
    /// is lighter than it is looked for on lighter bars of the choice, the heaviest of them first, and what
    /// a fixed bar does not weigh on other fixed bars.
    ///
    /// # Errors
    /// What is no load, or cannot be put on: see [`LoadError`].
    pub fn find(&self, target: Mass, wanted: BarNo, on_now: Option<&Loaded>) -> Result<BarCard, LoadError> {
        let bar = self.check(target, wanted)?;
        let others = self.others(target, wanted, bar);
        for number in std::iter::once(wanted).chain(others.iter().copied()) {
            let Some(bar) = self.set.bar(number) else { continue };
            let stays = on_now.filter(|now| now.bar == number).map(|now| &now.side);
            if let Some(side) = self.side_for(target, bar, stays) {
                let loaded = Loaded { bar: number, side };
                return Ok(BarCard::new(&self.set, wanted, on_now, loaded, target));
            }
        }
        let why = self.why(target, bar);
        let tried: Vec<_> = std::iter::once(wanted).chain(others).collect();
        let nearest = self.nearest(target, &tried);
        Err(NotBuilt { target, unit: self.set.unit(), why, nearest }.into())
    }

    /// The wanted bar, if there is one and the target is a load.
    pub(super) fn check(&self, target: Mass, wanted: BarNo) -> Result<&Bar, LoadError> {
        let bar = self.bar(wanted)?;
        if target <= Mass::ZERO || target > Mass::MAX {
            let stamped = |mass| Stamped { mass, unit: self.set.unit() };
            let lightest = self.set.bars().iter().map(Bar::empty).min().unwrap_or_default();
            let (given, least, most) = (stamped(target), stamped(lightest), stamped(Mass::MAX));
            return Err(LoadError::Target { given, least, most });
        }
        Ok(bar)
    }

    /// The bars that may stand in for the wanted one, the heaviest first.
    fn others(&self, target: Mass, wanted: BarNo, bar: &Bar) -> Vec<BarNo> {
        let numbers = (0..).map(BarNo).zip(self.set.bars());
        let stands_in = |other: &Bar| {
            let lighter = target < bar.empty() && other.empty() < bar.empty();
            lighter || (!bar.takes_plates() && !other.takes_plates())
        };
        let mut others: Vec<_> =
            numbers.filter(|(number, other)| *number != wanted && stands_in(other)).collect();
        others.sort_by_key(|(number, other)| (std::cmp::Reverse(other.empty()), *number));
        others.into_iter().map(|(number, _)| number).collect()
    }

    /// What goes on each side of this bar, if it can be exact.
    fn side_for(&self, target: Mass, bar: &Bar, now: Option<&Side>) -> Option<Side> {
        if !bar.takes_plates() {
            let fits = target == bar.mass && self.starts == Starts::Racked;
            return fits.then(Side::default);
        }
        let place = Self::place_of(&self.table, bar, target).filter(|_| target <= rated(bar))?;
        if !self.table.fits(place, sleeve(bar)) {
            return None;
        }
        let fewest = self.table.fewest[0].cost(place, self.table.need_full);
        let most: u16 = self.table.kinds.iter().map(|kind| u16::from(kind.pairs)).sum();
        let inside = self.insides(now.map_or(&[][..], Side::plates));
        // The fewest plates will do unless they are too thick for the sleeve; that something fits is known.
        (fewest..=most).find_map(|plates| {
            let ways = Ways::new(&self.table, place, plates, sleeve(bar));
            inside.iter().find_map(|(inside, counts)| {
                Some(Side::new(self.nest(inside.clone(), &ways.first_with(counts)?)))
            })
        })
    }

    /// What may be innermost, the best first: as much of what is on now as possible, down to nothing.
    fn insides(&self, now: &[Plate]) -> Vec<(Vec<Plate>, Counts)> {
        let mut insides = self.beginnings(now);
        insides.reverse();
        match self.starts {
            Starts::Racked => insides.push((Vec::new(), [0; MOST_KINDS])),
            Starts::FromTheFloor => {
                let kinds = self.set.inventory().kinds().iter().enumerate();
                for (at, kind) in kinds.filter(|(_, kind)| kind.plate.is_full()) {
                    let mut counts = [0; MOST_KINDS];
                    counts[at] = 1;
                    insides.push((vec![kind.plate], counts));
                }
            }
        }
        insides
    }

    /// What of the plates on now may stay, from the innermost alone to as many as possible: known and free
    /// plates, with a full one innermost where that is asked for.
    pub(super) fn beginnings(&self, now: &[Plate]) -> Vec<(Vec<Plate>, Counts)> {
        let may_stay = match self.starts {
            Starts::Racked => true,
            Starts::FromTheFloor => now.first().is_some_and(|plate| plate.is_full()),
        };
        let mut counts = [0; MOST_KINDS];
        let mut beginnings = Vec::new();
        for (at, plate) in now.iter().enumerate().filter(|_| may_stay) {
            let Some(kind) = self.set.inventory().position(*plate) else { break };
            counts[kind] += 1;
            if counts[kind] > self.table.kinds[kind].pairs {
                break;
            }
            beginnings.push((now[..=at].to_vec(), counts));
        }
        beginnings
    }

    /// What stands in the way of a load on this bar.
    pub(super) fn why(&self, target: Mass, bar: &Bar) -> Why {
        if target < bar.empty() {
            return Why::BelowTheBar { empty: bar.empty() };
        }
        if !bar.takes_plates() {
            return if target == bar.mass { Why::NeedsFullPlates } else { Why::FixedBar };
        }
        if target > rated(bar) {
            return Why::AboveRating { rated: rated(bar) };
        }
        let any = self.without_full.as_ref().unwrap_or(&self.table);
        let Some(place) = Self::place_of(any, bar, target) else {
            let none = any.sums.len() == 1;
            return if none { Why::NoPlates } else { Why::NoPlatesMakeIt };
        };
        if any.fits(place, sleeve(bar)) {
            return Why::NeedsFullPlates;
        }
        Why::SleeveFull { length_mm: sleeve(bar) }
    }
}

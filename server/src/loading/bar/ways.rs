//! The ways in which so many plates make one load of a side: a small graph of the table's sums, from which
//! the way that keeps given plates, or every way, is read.

use super::plates::MOST_KINDS;
use super::table::{NEVER, Table};

/// Room made at once for stands and takes; usual plates need fewer.
const USUAL: usize = 128;

/// How many plates of every kind, in the table's order of kinds.
pub(super) type Counts = [u8; MOST_KINDS];

/// Where a way stands before a kind: what is left to make, with how many plates, and whether a full plate is
/// still to come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Stand {
    sum: u16,
    plates: u16,
    need_full: bool,
}

/// Taking so many plates of a kind.
#[derive(Clone, Copy, Debug)]
struct Take {
    count: u8,
    to: u32,
}

/// All ways to make one sum with so many plates.
///
/// Of every kind there are at most as many stands as there are sums and numbers of plates; with the fewest
/// plates the number follows from the sum, so there are at most as many as sums.
pub(super) struct Ways<'t> {
    table: &'t Table,
    sleeve: u16,
    stands: Vec<Stand>,
    /// For every kind, and for none, where its stands begin.
    layers: Vec<usize>,
    takes: Vec<Take>,
    /// For every stand but those of no kinds, where its takes begin; ascending in count.
    first_take: Vec<usize>,
}

impl<'t> Ways<'t> {
    /// Ways to make the sum at this place with exactly so many plates. Some stands may lead nowhere.
    pub(super) fn new(table: &'t Table, sum: usize, plates: u16, sleeve: u16) -> Self {
        let start = Stand { sum: u16::try_from(sum).unwrap_or(NEVER), plates, need_full: table.need_full };
        let mut ways = Self {
            table,
            sleeve,
            stands: Vec::with_capacity(USUAL),
            layers: vec![0],
            takes: Vec::with_capacity(USUAL),
            first_take: Vec::with_capacity(USUAL),
        };
        ways.stands.push(start);
        let mut next = Vec::with_capacity(USUAL);
        for kind in 0..table.kinds.len() {
            ways.take_kind(kind, &mut next);
        }
        ways.layers.push(ways.stands.len());
        ways.first_take.push(ways.takes.len());
        ways
    }

    /// The stands behind one kind.
    fn take_kind(&mut self, kind: usize, next: &mut Vec<(Stand, usize)>) {
        let (from, to) = (self.layers[kind], self.stands.len());
        next.clear();
        for at in from..to {
            self.first_take.push(self.takes.len());
            let mut stand = self.stands[at];
            let mut count = 0;
            loop {
                if self.may_stand(kind + 1, stand) {
                    next.push((stand, self.takes.len()));
                    self.takes.push(Take { count, to: 0 });
                }
                if count == self.table.kinds[kind].pairs || stand.plates == 0 {
                    break;
                }
                let Some(less) = self.table.less(kind, usize::from(stand.sum)) else { break };
                count += 1;
                stand.sum = u16::try_from(less).unwrap_or(NEVER);
                stand.plates -= 1;
                stand.need_full &= !self.table.kinds[kind].full;
            }
        }
        self.layers.push(to);
        next.sort_unstable_by_key(|(stand, _)| *stand);
        for (stand, take) in next.iter() {
            if self.stands.len() == to || self.stands.last() != Some(stand) {
                self.stands.push(*stand);
            }
            self.takes[*take].to = u32::try_from(self.stands.len() - 1).unwrap_or(u32::MAX);
        }
    }

    /// Whether the kinds from one on may make what is left.
    fn may_stand(&self, kind: usize, stand: Stand) -> bool {
        let sum = usize::from(stand.sum);
        let fewest = self.table.fewest[kind].cost(sum, stand.need_full);
        let done = kind < self.table.kinds.len() || stand.plates == 0;
        done && fewest <= stand.plates && self.table.sleeve(kind, sum, stand.need_full) <= self.sleeve
    }

    /// The takes of a stand.
    fn takes_of(&self, stand: usize) -> &[Take] {
        &self.takes[self.first_take[stand]..self.first_take[stand + 1]]
    }

    /// For every stand the least sleeve on the way to the end with at least these counts; [`NEVER`] where
    /// there is no way.
    fn sleeves(&self, at_least: &Counts) -> Vec<u16> {
        let kinds = self.table.kinds.len();
        let mut sleeves = vec![NEVER; self.stands.len()];
        sleeves[self.layers[kinds]..].fill(0);
        for kind in (0..kinds).rev() {
            for stand in self.layers[kind]..self.layers[kind + 1] {
                let takes = self.takes_of(stand).iter().filter(|take| take.count >= at_least[kind]);
                let best = takes.map(|take| self.behind(&sleeves, kind, *take)).min();
                sleeves[stand] = best.unwrap_or(NEVER);
            }
        }
        sleeves
    }

    /// The least sleeve by this take.
    fn behind(&self, sleeves: &[u16], kind: usize, take: Take) -> u16 {
        let own = self.table.kinds[kind].thickness.saturating_mul(u16::from(take.count));
        sleeves[take.to as usize].saturating_add(own)
    }

    /// The way with at least these counts that fits the sleeve; of several the one with the most plates of
    /// the first kind, then of the second, and so on.
    pub(super) fn first_with(&self, at_least: &Counts) -> Option<Counts> {
        let wanted: u16 = at_least.iter().map(|count| u16::from(*count)).sum();
        if wanted > self.stands[0].plates {
            return None;
        }
        let sleeves = self.sleeves(at_least);
        if sleeves[0] == NEVER || sleeves[0] > self.sleeve {
            return None;
        }
        let (mut counts, mut stand, mut left) = ([0; MOST_KINDS], 0, self.sleeve);
        for (kind, count) in counts.iter_mut().enumerate().take(self.table.kinds.len()) {
            let mut takes = self.takes_of(stand).iter().rev();
            let take = takes.find(|take| {
                let sleeve = self.behind(&sleeves, kind, **take);
                take.count >= at_least[kind] && sleeve != NEVER && sleeve <= left
            })?;
            left -= self.table.kinds[kind].thickness.saturating_mul(u16::from(take.count));
            (*count, stand) = (take.count, take.to as usize);
        }
        Some(counts)
    }

    /// Every way that fits the sleeve, in the order of [`Ways::first_with`], at most so many; and whether
    /// these are all.
    pub(super) fn all(&self, most: usize) -> (Vec<Counts>, bool) {
        let sleeves = self.sleeves(&[0; MOST_KINDS]);
        let mut found = Vec::new();
        let fits = sleeves[0] != NEVER && sleeves[0] <= self.sleeve;
        let whole =
            !fits || self.collect(&sleeves, (0, 0, self.sleeve), &mut [0; MOST_KINDS], most, &mut found);
        (found, whole)
    }

    /// Goes on from (kind, stand, sleeve left); false when it stopped because there were too many. As deep as
    /// there are kinds.
    fn collect(
        &self,
        sleeves: &[u16],
        (kind, stand, left): (usize, usize, u16),
        counts: &mut Counts,
        most: usize,
        found: &mut Vec<Counts>,
    ) -> bool {
        if kind == self.table.kinds.len() {
            if found.len() < most {
                found.push(*counts);
                return true;
            }
            return false;
        }
        for take in self.takes_of(stand).iter().rev() {
            let sleeve = self.behind(sleeves, kind, *take);
            if sleeve == NEVER || sleeve > left {
                continue;
            }
            counts[kind] = take.count;
            let own = self.table.kinds[kind].thickness.saturating_mul(u16::from(take.count));
            if !self.collect(sleeves, (kind + 1, take.to as usize, left - own), counts, most, found) {
                return false;
            }
        }
        counts[kind] = 0;
        true
    }
}

#[cfg(test)]
mod tests {
    use turnabout_protocol::units::Mass;

    use super::super::table::Kind;
    use super::*;

    /// About the most that a floor file may hold: 0.5 to 8 kg, a hundred of each, 6,801 different loads of a
    /// side.
    fn most() -> Table {
        let kind = |halves: i64| Kind {
            mass: Mass::from_grams(500 * halves),
            pairs: 50,
            full: halves >= 10,
            thickness: 0,
        };
        Table::new((1..=16).rev().map(kind).collect(), true).unwrap()
    }

    #[test]
    fn ways_grow_with_the_loads_and_not_with_what_can_be_combined() {
        let table = most();
        assert_eq!(table.sums.len(), 6_801);
        for sum in (0..table.sums.len()).step_by(97) {
            let fewest = table.fewest[0].cost(sum, true);
            let ways = Ways::new(&table, sum, fewest, u16::MAX);
            // One stand for a load that is left, with and without a full plate to come.
            let bound = 2 * (table.kinds.len() + 1) * (sum + 1);
            assert!(ways.stands.len() <= bound, "{} stands for {sum}", ways.stands.len());
            assert!(ways.takes.len() <= 51 * ways.stands.len());
            if fewest < NEVER {
                let counts = ways.first_with(&[0; MOST_KINDS]).unwrap();
                assert_eq!(counts.iter().map(|count| u16::from(*count)).sum::<u16>(), fewest);
            }
        }
    }
}

//! Every load of one side with the fewest plates, and the least sleeve, that make it: prepared once for an
//! inventory, asked many times.

use turnabout_protocol::units::Mass;

use super::plates::MOST_KINDS;
use crate::loading::gear::MOST_LOADS;

/// What no plates make.
pub(super) const NEVER: u16 = u16::MAX;

/// One kind as the table sees it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kind {
    pub(super) mass: Mass,
    /// How many one side may have.
    pub(super) pairs: u8,
    pub(super) full: bool,
    pub(super) thickness: u16,
}

/// The least cost of every sum by the kinds from one on, without and with a full plate among them.
#[derive(Debug)]
pub(super) struct Level {
    plain: Vec<u16>,
    /// Empty where nobody asks for full plates.
    full: Vec<u16>,
}

impl Level {
    /// The least cost of the sum at this place, with at least one full plate where it is needed.
    pub(super) fn cost(&self, sum: usize, need_full: bool) -> u16 {
        if need_full { self.full[sum] } else { self.plain[sum] }
    }
}

/// The sums of one side in ascending order and, for each, what it takes at least.
///
/// There are fewer than [`MOST_LOADS`] sums and at most [`MOST_KINDS`] kinds, and a kind is taken in by as many
/// passes over the sums as its number of pairs has binary digits (at most seven): under a million steps to
/// prepare for any inventory.
#[derive(Debug)]
pub(super) struct Table {
    pub(super) kinds: Vec<Kind>,
    pub(super) need_full: bool,
    pub(super) sums: Vec<Mass>,
    /// For every kind and sum the place of the sum with one plate of that kind less.
    less: Vec<Vec<u16>>,
    /// Plates, by the kinds from each on; the last level is that of no kinds.
    pub(super) fewest: Vec<Level>,
    /// Millimetres; absent where no plate's thickness is known.
    pub(super) thinnest: Option<Vec<Level>>,
}

impl Table {
    /// For kinds in the order of preference. Nothing where they make too many loads.
    pub(super) fn new(kinds: Vec<Kind>, need_full: bool) -> Option<Self> {
        let pairs: Vec<_> = kinds.iter().map(|kind| (kind.mass, kind.pairs)).collect();
        let sums = side_sums(&pairs)?;
        let less: Vec<_> = kinds.iter().map(|kind| places_less(&sums, kind.mass)).collect();
        let fewest = levels(&kinds, &less, &sums, need_full, |_| 1);
        let measured = kinds.iter().any(|kind| kind.thickness > 0);
        let thinnest = measured.then(|| levels(&kinds, &less, &sums, need_full, |kind| kind.thickness));
        Some(Self { kinds, need_full, sums, less, fewest, thinnest })
    }

    /// The place of the sum with one plate of the kind less, if there is that sum.
    pub(super) fn less(&self, kind: usize, sum: usize) -> Option<usize> {
        let place = self.less[kind][sum];
        (place != NEVER).then_some(usize::from(place))
    }

    /// The place of a load of one side, if plates can make it at all.
    pub(super) fn place(&self, sum: Mass) -> Option<usize> {
        self.sums.binary_search(&sum).ok()
    }

    /// The least sleeve for a sum by the kinds from one on; zero where nothing is measured.
    pub(super) fn sleeve(&self, from: usize, sum: usize, need_full: bool) -> u16 {
        self.thinnest.as_ref().map_or(0, |levels| levels[from].cost(sum, need_full))
    }

    /// Whether the sum can be made within so much sleeve.
    pub(super) fn fits(&self, sum: usize, sleeve: u16) -> bool {
        self.fewest[0].cost(sum, self.need_full) != NEVER && self.sleeve(0, sum, self.need_full) <= sleeve
    }
}

/// Numbers of plates whose sums are all numbers up to `count`.
fn chunks(count: u8) -> impl Iterator<Item = u8> {
    let (mut at_once, mut left) = (1_u8, count);
    std::iter::from_fn(move || {
        let chunk = at_once.min(left);
        left -= chunk;
        at_once = at_once.saturating_mul(2);
        (chunk > 0).then_some(chunk)
    })
}

/// Every load that one side can carry, in ascending order; nothing where there are [`MOST_LOADS`] or more.
pub(super) fn side_sums(pairs: &[(Mass, u8)]) -> Option<Vec<Mass>> {
    let mut sums = vec![Mass::ZERO];
    for (mass, count) in pairs {
        for chunk in chunks(*count) {
            let extra = mass.times(i64::from(chunk))?;
            sums = merged(&sums, extra);
            if sums.len() >= MOST_LOADS {
                return None;
            }
        }
    }
    Some(sums)
}

/// The sums as they are and with `extra` on top, in ascending order.
fn merged(sums: &[Mass], extra: Mass) -> Vec<Mass> {
    let mut all = Vec::with_capacity(2 * sums.len());
    let mut without = sums.iter().copied().peekable();
    for with in sums.iter().map(|sum| *sum + extra) {
        while let Some(lighter) = without.next_if(|sum| *sum < with) {
            all.push(lighter);
        }
        without.next_if_eq(&with);
        all.push(with);
    }
    all
}

/// For every sum the place of the one that is lighter by `mass`.
fn places_less(sums: &[Mass], mass: Mass) -> Vec<u16> {
    let mut at = 0;
    let lighter = sums.iter().map(|sum| {
        let wanted = *sum - mass;
        while sums[at] < wanted {
            at += 1;
        }
        if sums[at] == wanted { u16::try_from(at).unwrap_or(NEVER) } else { NEVER }
    });
    lighter.collect()
}

/// The least cost of every sum by the kinds from each on.
fn levels(
    kinds: &[Kind],
    less: &[Vec<u16>],
    sums: &[Mass],
    need_full: bool,
    cost: impl Fn(&Kind) -> u16,
) -> Vec<Level> {
    debug_assert!(kinds.len() <= MOST_KINDS);
    let mut plain = vec![NEVER; sums.len()];
    plain[0] = 0;
    let mut last = Level { plain, full: if need_full { vec![NEVER; sums.len()] } else { Vec::new() } };
    let mut levels = Vec::with_capacity(kinds.len() + 1);
    for (kind, less) in kinds.iter().zip(less).rev() {
        let next = with_kind(&last, kind, sums, less, cost(kind));
        levels.push(std::mem::replace(&mut last, next));
    }
    levels.push(last);
    levels.reverse();
    levels
}

/// The level of one kind more.
fn with_kind(level: &Level, kind: &Kind, sums: &[Mass], less: &[u16], cost: u16) -> Level {
    let mut full = level.full.clone();
    let Some(but_one) = kind.pairs.checked_sub(1) else { return Level { plain: level.plain.clone(), full } };
    let all_but_one = with_plates(level.plain.clone(), but_one, kind.mass, sums, cost);
    let plain = with_plates(all_but_one.clone(), 1, kind.mass, sums, cost);
    if !full.is_empty() && kind.full {
        // One of these, and of the others whatever is best: a full plate is among them.
        for (best, place) in full.iter_mut().zip(less).filter(|(_, place)| **place != NEVER) {
            *best = (*best).min(all_but_one[usize::from(*place)].saturating_add(cost));
        }
    } else if !full.is_empty() {
        full = with_plates(full, kind.pairs, kind.mass, sums, cost);
    }
    Level { plain, full }
}

/// The least costs when up to `count` plates of `mass` may be added to any sum.
fn with_plates(mut costs: Vec<u16>, count: u8, mass: Mass, sums: &[Mass], cost: u16) -> Vec<u16> {
    for chunk in chunks(count) {
        let Some(extra) = mass.times(i64::from(chunk)) else { break };
        let cost = cost.saturating_mul(u16::from(chunk));
        let mut from = sums.len();
        // From the heaviest down, so that no chunk is added twice.
        for sum in (0..sums.len()).rev() {
            let wanted = sums[sum] - extra;
            while from > 0 && sums[from - 1] > wanted {
                from -= 1;
            }
            let Some(place) = from.checked_sub(1) else { break };
            if sums[place] == wanted {
                costs[sum] = costs[sum].min(costs[place].saturating_add(cost));
            }
        }
    }
    costs
}

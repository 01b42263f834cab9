//! The sums that some pieces make, each with the least that it costs.

use turnabout_protocol::units::Mass;

use super::MOST_LOADS;

/// One sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sum {
    pub(super) mass: Mass,
    /// The least that the pieces of this mass cost, whatever it is that they cost.
    pub(super) cost: u16,
}

/// Adds up to `count` pieces of one kind to each sum, as far as `most`. Sums are in ascending order; of more than
/// [`MOST_LOADS`] the lightest are kept.
pub(super) fn with_pieces(mut sums: Vec<Sum>, piece: Sum, count: u8, most: Mass) -> Vec<Sum> {
    // One, two, four and so on at once: every number of pieces is a sum of these, in few steps.
    let (mut at_once, mut left) = (1_u8, count);
    while left > 0 {
        let chunk = at_once.min(left);
        let Some(mass) = piece.mass.times(i64::from(chunk)) else { break };
        let cost = piece.cost.saturating_mul(u16::from(chunk));
        sums = with_or_without(&sums, Sum { mass, cost }, most);
        left -= chunk;
        at_once = at_once.saturating_mul(2);
    }
    sums
}

/// The sums, each as it is and with `extra` on top, up to `most`. Both are in ascending order, so one walk along
/// them merges them, and what [`MOST_LOADS`] cuts off is the heaviest.
fn with_or_without(sums: &[Sum], extra: Sum, most: Mass) -> Vec<Sum> {
    let more = |sum: &Sum| Sum { mass: sum.mass + extra.mass, cost: sum.cost.saturating_add(extra.cost) };
    let mut without = sums.iter().copied().peekable();
    let mut with = sums.iter().map(more).take_while(|sum| sum.mass <= most).peekable();
    let mut merged = Vec::with_capacity((2 * sums.len()).min(MOST_LOADS));
    while merged.len() < MOST_LOADS {
        let mass = match (without.peek(), with.peek()) {
            (Some(a), Some(b)) => a.mass.min(b.mass),
            (Some(one), None) | (None, Some(one)) => one.mass,
            (None, None) => break,
        };
        let both = [without.next_if(|sum| sum.mass == mass), with.next_if(|sum| sum.mass == mass)];
        let cost = both.into_iter().flatten().map(|sum| sum.cost).min();
        merged.extend(cost.map(|cost| Sum { mass, cost }));
    }
    merged
}

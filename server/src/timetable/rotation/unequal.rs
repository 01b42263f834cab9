//! Members who take unequally long, none of whom waits between the exercises.

use turnabout_protocol::units::Secs;

use super::{Pace, Pair, RotationError};

/// The most members whose orders are all tried: 24 of them.
pub const MOST_TRIED: usize = 5;

/// The shortest rotation of some members.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cycle {
    /// From one's start to one's next, the same for all.
    pub length: Secs,
    /// Who follows whom, as positions in the list given. Begins with 0; the least such order where several are as
    /// short.
    pub order: Vec<usize>,
}

/// The shortest cycle without waits between the exercises, over every cyclic order.
///
/// Where `j` follows `i`, their starts are at least `max(a_i + cA, a_i + b_i + cB - a_j)` apart: one for the first
/// station, the other so that `j` finds the second one changed on arrival. The sum around the order, or the longest
/// of the members' own cycles where that is longer. The sum is Gilmore and Gomory's problem (1964); that both
/// together are reached is our own: what is left over to the longest own cycle can be spent anywhere in the order.
///
/// # Errors
///
/// No members, or more than [`MOST_TRIED`].
pub fn shortest_cycle(pair: &Pair, members: &[Pace]) -> Result<Cycle, RotationError> {
    let own = members.iter().map(|pace| pace.own_cycle(pair)).max().ok_or(RotationError::NoMembers)?;
    if members.len() > MOST_TRIED {
        return Err(RotationError::TooMany { found: members.len(), most: MOST_TRIED });
    }
    let mut best = Cycle { length: Secs(u32::MAX), order: Vec::new() };
    let rest: Vec<usize> = (1..members.len()).collect();
    each_order(&mut vec![0], &rest, &mut |order| {
        let length = around(pair, members, order).max(own);
        if length < best.length {
            best = Cycle { length, order: order.to_vec() };
        }
    });
    Ok(best)
}

/// How far apart the starts of these members are in this order, summed up around it.
fn around(pair: &Pair, members: &[Pace], order: &[usize]) -> Secs {
    let followers = order.iter().cycle().skip(1);
    Secs(order.iter().zip(followers).map(|(&i, &j)| apart(pair, &members[i], &members[j]).0).sum())
}

/// The least time from one's start to the follower's: `max(a_i + cA, a_i + b_i + cB - a_j)`.
fn apart(pair: &Pair, one: &Pace, follower: &Pace) -> Secs {
    let first = one.lengths[0].0 + pair.changes[0].0;
    let both = one.lengths[0].0 + one.lengths[1].0 + pair.changes[1].0;
    Secs(first.max(both.saturating_sub(follower.lengths[0].0)))
}

/// Every order that begins with `begun` and goes on with all of `left`, the least first.
fn each_order(begun: &mut Vec<usize>, left: &[usize], look: &mut impl FnMut(&[usize])) {
    if left.is_empty() {
        look(begun);
    }
    for &next in left {
        let others: Vec<usize> = left.iter().copied().filter(|&other| other != next).collect();
        begun.push(next);
        each_order(begun, &others, look);
        begun.pop();
    }
}

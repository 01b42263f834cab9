//! A group that is larger than its rest window allows, and how it could be parted on two pairs of stations.

use turnabout_protocol::units::Secs;

use super::{Pace, Pair, RotationError, shortest_cycle};

/// Whether a group can rotate on one pair with everybody's rest in its window.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fit {
    /// It can.
    Fits,
    /// It cannot.
    TooLarge {
        /// By how much the rest overruns for the member for whom it is worst.
        overrun: Secs,
        /// How two pairs would do better. Nothing: they would not.
        split: Option<Split>,
    },
}

/// A group parted on two pairs that are alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Split {
    /// The members of each half, ascending, as positions in the list given. Member 0 is in the first.
    pub halves: [Vec<usize>; 2],
    /// By how much the rest still overruns in each half for the member for whom it is worst.
    pub overruns: [Secs; 2],
}

/// Says whether these members fit on one pair where one may `wait` between the exercises (nothing: no limit), and
/// proposes whom to put together on two pairs where they do not.
///
/// The rests are those of the shortest cycle without waits. The split is the one whose worse half overruns least, then
/// the one whose better half does, then the one whose longer cycle is shorter, then the more even one, then the one
/// whose first half comes first. Our own rule.
///
/// # Errors
///
/// No members, or more than [`super::MOST_TRIED`].
pub fn fit(pair: &Pair, members: &[Pace], wait: Option<Secs>) -> Result<Fit, RotationError> {
    let (overrun, _) = overrun_and_cycle(pair, members, wait)?;
    if overrun == Secs(0) {
        return Ok(Fit::Fits);
    }
    let mut best = None;
    for chosen in 0..(1_u32 << (members.len() - 1)) - 1 {
        // Member 0 is in the first half, so each parting is met once; the other bits say who is there too.
        let (one, other): (Vec<_>, Vec<_>) =
            (0..members.len()).partition(|&member| member == 0 || chosen >> (member - 1) & 1 == 1);
        let of = |half: &[usize]| half.iter().map(|&member| members[member]).collect::<Vec<_>>();
        let (overrun_one, cycle_one) = overrun_and_cycle(pair, &of(&one), wait)?;
        let (overrun_other, cycle_other) = overrun_and_cycle(pair, &of(&other), wait)?;
        let uneven = one.len().abs_diff(other.len());
        let worse = overrun_one.max(overrun_other);
        let better = overrun_one.min(overrun_other);
        let rank = (worse, better, cycle_one.max(cycle_other), uneven, one.clone());
        if best.as_ref().is_none_or(|(least, _)| rank < *least) {
            best = Some((rank, Split { halves: [one, other], overruns: [overrun_one, overrun_other] }));
        }
    }
    let split = best.filter(|((worse, ..), _)| *worse < overrun).map(|(_, split)| split);
    Ok(Fit::TooLarge { overrun, split })
}

/// The worst overrun of anybody's rest in the shortest cycle of these, and that cycle.
fn overrun_and_cycle(
    pair: &Pair,
    members: &[Pace],
    wait: Option<Secs>,
) -> Result<(Secs, Secs), RotationError> {
    let cycle = shortest_cycle(pair, members)?.length;
    let longest = members.iter().filter_map(|pace| pace.longest_cycle(pair, wait)).min();
    Ok((Secs(longest.map_or(0, |longest| cycle.0.saturating_sub(longest.0))), cycle))
}

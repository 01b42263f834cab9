//! Whether a pair of stations can carry more people. Without such a gate no order of turns helps: one pair carries
//! about three.

use turnabout_protocol::units::Secs;

use super::{Pace, Pair, RotationError};

/// What a pair would have to carry, beside what it can.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Admission {
    /// The first station's time in one cycle: the sum of `tA + cA`.
    pub first: Secs,
    /// The second station's: the sum of `tB + cB`.
    pub second: Secs,
    /// The longest cycle that is still good for everybody. Nothing: no limit.
    pub limit: Option<Secs>,
}

impl Admission {
    /// Whether both stations are done within the limit.
    #[must_use]
    pub fn carries(&self) -> bool {
        self.limit.is_none_or(|limit| self.first.max(self.second) <= limit)
    }
}

/// Whether those who join may work in with those who are there: on each station, the turns and changes of all must
/// fit into the shortest own cycle plus slack. The slack is what a rest may be longer than the shortest one and what
/// one may `wait` between the exercises (nothing: no limit), so the member whose longest good cycle is the shortest
/// decides.
///
/// Our own derivation. What is refused cannot go well in any order, since every cycle is at least as long as either
/// sum; what is admitted can where members are alike, and nearly where they differ ([`super::shortest_cycle`] says
/// how nearly).
///
/// # Errors
///
/// Nobody joins.
pub fn admission(
    pair: &Pair,
    there: &[Pace],
    joining: &[Pace],
    wait: Option<Secs>,
) -> Result<Admission, RotationError> {
    if joining.is_empty() {
        return Err(RotationError::NoMembers);
    }
    let all = || there.iter().chain(joining);
    let sum = |station: usize| {
        all().map(|pace| pace.taken(pair)[station]).fold(Secs(0), |sum, s| Secs(sum.0.saturating_add(s.0)))
    };
    let limit = all().filter_map(|pace| pace.longest_cycle(pair, wait)).min();
    Ok(Admission { first: sum(0), second: sum(1), limit })
}

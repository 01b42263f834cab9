//! What one pair of stations carries when its members take turns there round after round: in closed form, so that it
//! can be said when a programme is entered and at a glance, without planning an evening.
//!
//! Everybody goes first station, walk, second station, rest, and again, in one order that stays, and nobody waits
//! between the two exercises unless a wait is spoken of. A station is changed for the next one before each turn.
//! Sequencing such turns without waits is the no-wait flow shop of two machines: Gilmore and Gomory, "Sequencing a one
//! state-variable machine: a solvable case of the traveling salesman problem", Operations Research 12 (1964) 655-679.
//! What is our own says so where it stands.

mod admission;
mod equal;
mod fit;
mod unequal;

use turnabout_protocol::units::Secs;

pub use admission::{Admission, admission};
pub use equal::{Equal, Share};
pub use fit::{Fit, Split, fit};
pub use unequal::{Cycle, MOST_TRIED, shortest_cycle};

/// No single time here may be longer. What is longer is a slip, and sums of shorter times cannot overflow.
pub const LONGEST: Secs = Secs(3_600);

/// What makes no rotation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, thiserror::Error)]
pub enum RotationError {
    /// A turn that takes no time.
    #[error("{which}: 0 s, at least 1 s is allowed")]
    NoTime {
        /// The field.
        which: &'static str,
    },
    /// A time beyond [`LONGEST`].
    #[error("{which}: {} s, at most {} s are allowed", .found.0, LONGEST.0)]
    TooLong {
        /// The field.
        which: &'static str,
        /// What was found.
        found: Secs,
    },
    /// The longest good rest is shorter than the shortest one.
    #[error("rest_max: {} s, at least rest_min, {} s, is allowed", .rest_max.0, .rest_min.0)]
    NoWindow {
        /// The shortest rest.
        rest_min: Secs,
        /// The longest good one.
        rest_max: Secs,
    },
    /// Nobody to take turns.
    #[error("members: none, at least one is allowed")]
    NoMembers,
    /// More than can be tried in every order.
    #[error("members: {found}, at most {most} are allowed")]
    TooMany {
        /// How many there are.
        found: usize,
        /// How many are allowed.
        most: usize,
    },
}

/// Two stations that are used in turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pair {
    walk: Secs,
    changes: [Secs; 2],
}

impl Pair {
    /// Two stations with `walk` between them, each of which takes so long to change from one member to the next; 0 s
    /// to [`LONGEST`] each.
    ///
    /// # Errors
    ///
    /// A time beyond [`LONGEST`].
    pub fn new(walk: Secs, changes: [Secs; 2]) -> Result<Self, RotationError> {
        let named = [("walk", walk), ("first change", changes[0]), ("second change", changes[1])];
        named.into_iter().try_for_each(|(which, found)| not_too_long(which, found))?;
        Ok(Self { walk, changes })
    }
}

/// How long one member's turns take, and how long they may rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pace {
    lengths: [Secs; 2],
    rest_min: Secs,
    rest_max: Option<Secs>,
}

impl Pace {
    /// Turns of these lengths at the first and the second station, 1 s to [`LONGEST`], with at least `rest_min` and
    /// at best no more than `rest_max` (nothing: no limit) before the next round.
    ///
    /// # Errors
    ///
    /// A turn of 0 s, a time beyond [`LONGEST`], or a longest rest below the shortest.
    pub fn new(lengths: [Secs; 2], rest_min: Secs, rest_max: Option<Secs>) -> Result<Self, RotationError> {
        for (which, length) in [("first turn", lengths[0]), ("second turn", lengths[1])] {
            if length == Secs(0) {
                return Err(RotationError::NoTime { which });
            }
            not_too_long(which, length)?;
        }
        not_too_long("rest_min", rest_min)?;
        if let Some(rest_max) = rest_max {
            not_too_long("rest_max", rest_max)?;
            if rest_max < rest_min {
                return Err(RotationError::NoWindow { rest_min, rest_max });
            }
        }
        Ok(Self { lengths, rest_min, rest_max })
    }

    /// From the start of a round to its end: `tA + w + tB`.
    #[must_use]
    pub const fn round(&self, pair: &Pair) -> Secs {
        Secs(self.lengths[0].0 + pair.walk.0 + self.lengths[1].0)
    }

    /// The shortest rest `r` on this pair: never shorter than the way back.
    #[must_use]
    pub fn shortest_rest(&self, pair: &Pair) -> Secs {
        self.rest_min.max(pair.walk)
    }

    /// One's own cycle, alone on the pair: `tA + w + tB + r`. No rotation is shorter for any of its members.
    #[must_use]
    pub fn own_cycle(&self, pair: &Pair) -> Secs {
        Secs(self.round(pair).0 + self.shortest_rest(pair).0)
    }

    /// The longest cycle in which the rest stays in its window where one may wait `wait` between the exercises:
    /// `tA + w + tB + rest_max + s`. Nothing: no limit, on the rest or on the wait.
    #[must_use]
    pub fn longest_cycle(&self, pair: &Pair, wait: Option<Secs>) -> Option<Secs> {
        let (rest_max, wait) = (self.rest_max?, wait?);
        Some(Secs((self.round(pair).0 + rest_max.0).saturating_add(wait.0)))
    }

    /// How long each station is taken by one turn with its change: `tA + cA` and `tB + cB`.
    const fn taken(&self, pair: &Pair) -> [Secs; 2] {
        [Secs(self.lengths[0].0 + pair.changes[0].0), Secs(self.lengths[1].0 + pair.changes[1].0)]
    }
}

const fn not_too_long(which: &'static str, found: Secs) -> Result<(), RotationError> {
    if found.0 > LONGEST.0 { Err(RotationError::TooLong { which, found }) } else { Ok(()) }
}

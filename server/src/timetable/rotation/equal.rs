//! Members who all take as long. Our own derivation: they follow each other at equal distances, and the stations or
//! each one's own cycle say how far apart.

use std::num::NonZeroU8;

use turnabout_protocol::units::Secs;

use super::{Pace, Pair};

/// Some members of one pace on one pair of stations.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Equal {
    /// The stations.
    pub pair: Pair,
    /// The pace of each.
    pub pace: Pace,
    /// How many they are, `k`.
    pub members: NonZeroU8,
}

/// A part of a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    /// The part.
    pub part: Secs,
    /// The whole, above zero.
    pub whole: Secs,
}

impl Share {
    /// Per cent, to the nearest.
    #[must_use]
    pub fn percent(self) -> u32 {
        let (part, whole) = (u64::from(self.part.0), u64::from(self.whole.0));
        u32::try_from((200 * part + whole) / (2 * whole)).unwrap_or(u32::MAX)
    }
}

impl Equal {
    /// How long one turn with its change keeps the more loaded of the two stations: `m = max(tA + cA, tB + cB)`, the
    /// least distance between two members.
    #[must_use]
    pub fn distance(&self) -> Secs {
        let [first, second] = self.pace.taken(&self.pair);
        first.max(second)
    }

    /// The shortest cycle, from one's start to one's next: `C(k) = max(tA + w + tB + r, k m)`.
    #[must_use]
    pub fn cycle(&self) -> Secs {
        let stations = u32::from(self.members.get()) * self.distance().0;
        Secs(stations.max(self.pace.own_cycle(&self.pair).0))
    }

    /// The rest that results from it: `max(r, C - tA - w - tB)`, which is `C - tA - w - tB` since nobody's cycle is
    /// below their own.
    #[must_use]
    pub fn rest(&self) -> Secs {
        Secs(self.cycle().0 - self.pace.round(&self.pair).0)
    }

    /// The part of the time in which somebody is on the first station: `k tA / C`.
    #[must_use]
    pub fn bench_use(&self) -> Share {
        let part = u32::from(self.members.get()) * self.pace.lengths[0].0;
        Share { part: Secs(part), whole: self.cycle() }
    }

    /// From the first start of the first member to the last end of the last: `(R - 1) C + (k - 1) m + tA + w + tB` for
    /// `R` rounds.
    #[must_use]
    pub fn block(&self, rounds: NonZeroU8) -> Secs {
        let later_rounds = u32::from(rounds.get() - 1) * self.cycle().0;
        let later_members = u32::from(self.members.get() - 1) * self.distance().0;
        Secs(later_rounds + later_members + self.pace.round(&self.pair).0)
    }

    /// The most members of this pace whose rest stays in its window where one may wait `wait` between the exercises:
    /// `floor((tA + w + tB + rest_max + s) / m)`. Nothing: no limit. Zero: not even one, whose own change keeps the
    /// station for longer than a good rest lasts.
    #[must_use]
    pub fn most(pair: &Pair, pace: &Pace, wait: Option<Secs>) -> Option<u32> {
        let one = Self { pair: *pair, pace: *pace, members: NonZeroU8::MIN };
        Some(pace.longest_cycle(pair, wait)?.0 / one.distance().0)
    }
}

impl Pace {
    /// One member's block of `R` rounds as a paired set: `(R - 1) (tA + w + tB + r) + tA + w + tB`.
    #[must_use]
    pub fn paired(&self, pair: &Pair, rounds: NonZeroU8) -> Secs {
        Secs(u32::from(rounds.get() - 1) * self.own_cycle(pair).0 + self.round(pair).0)
    }

    /// The same as straight sets, with a rest after every set but the last: `R (tA + tB) + (2 R - 1) r`.
    #[must_use]
    pub fn straight(&self, pair: &Pair, rounds: NonZeroU8) -> Secs {
        let rounds = u32::from(rounds.get());
        let sets = rounds * (self.lengths[0].0 + self.lengths[1].0);
        Secs(sets + (2 * rounds - 1) * self.shortest_rest(pair).0)
    }

    /// What pairing saves one member in `R` rounds: `R (r - w)`. Each round has a walk where straight sets have a
    /// rest. Our own derivation, the difference of [`Pace::straight`] and [`Pace::paired`].
    #[must_use]
    pub fn saved_by_pairing(&self, pair: &Pair, rounds: NonZeroU8) -> Secs {
        Secs(u32::from(rounds.get()) * (self.shortest_rest(pair).0 - pair.walk.0))
    }
}

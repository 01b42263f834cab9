//! The breaches found so far.

use super::super::answer::Breach;
use super::slots::Place;

/// The rules, by their numbers in the published text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// No turn before release, `not_before` or now.
    Release = 1,
    /// The next leg comes after the walk, as soon as it can, and within the limit.
    Changeover = 2,
    /// The shortest rest and the walk back.
    Rest = 3,
    /// One turn at a time at a station, with time to change, and none in a busy window.
    Station = 4,
    /// One spotted turn at a time for a coach, with time to walk, and none in a busy window.
    Coach = 5,
    /// Members of a group who share a station alternate.
    Rotation = 6,
    /// One group at a time where working in is not allowed.
    WorkingIn = 7,
}

/// Everything found, the same place perhaps more than once.
#[derive(Debug, Default)]
pub(super) struct Found {
    all: Vec<Breach>,
}

impl Found {
    /// Notes a rule as broken where `late`, in seconds, is above zero.
    pub(super) fn above_zero(&mut self, rule: Rule, place: Place, late: i64) {
        if late > 0 {
            // Starts have 32 bits and so has what they are late by, give or take a walk.
            let seconds = u32::try_from(late).unwrap_or(u32::MAX);
            let Place { group, member, round, leg } = place;
            self.all.push(Breach { rule: rule as u8, group, member, round, leg, seconds });
        }
    }

    /// The largest at each place, in order.
    pub(super) fn largest(self) -> Vec<Breach> {
        let mut all = self.all;
        // Seconds come last in the order: of equal places the largest is the last, so it is looked at from behind.
        all.sort_unstable_by(|one, other| other.cmp(one));
        all.dedup_by_key(|breach| (breach.rule, breach.group, breach.member, breach.round, breach.leg));
        all.reverse();
        all
    }
}

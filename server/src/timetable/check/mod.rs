//! Whether a timetable keeps the rules of its instance, and what it costs.
//!
//! Written from the rules alone and with none of the planner's code, so that a mistake in one of them shows: every plan
//! is looked at here before anybody sees it. The rules and their numbers are those of
//! `tests/published/timetable/README.md`; an outside test holds this against the checker published there.
//!
//! Whatever a timetable breaks is found with its place and by how many seconds. A timetable is *valid* where the
//! breaches that it lists are exactly those found: a plan of an evening that cannot keep every rule says so.

mod change;
mod coaches;
mod found;
mod listed;
mod members;
mod parts;
mod rotation;
mod shape;
mod slots;
mod stations;
mod windows;
mod working_in;

pub use change::{Change, change};
pub use listed::Fault;
pub use parts::Parts;
pub use shape::Misfit;

use super::answer::{Breach, Timetable};
use super::instance::Instance;
use found::Found;
use slots::Slots;

/// What was found of a timetable that is one of the instance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// The rules that it breaks, one entry for each rule, round and leg with the largest violation there, in the order
    /// of rule, group, member, round and leg.
    pub breaches: Vec<Breach>,
    /// Where the breaches that it lists are not those found, in the same order. Empty where it is valid.
    pub faults: Vec<Fault>,
    /// What the objective is made of.
    pub parts: Parts,
    /// What it costs by the weights of the instance: the smaller, the better. Breaches have no price.
    pub objective: i64,
}

impl Verdict {
    /// Whether the timetable lists exactly the breaches that it has.
    #[must_use]
    pub const fn is_valid(&self) -> bool {
        self.faults.is_empty()
    }

    /// The seconds of all breaches together.
    #[must_use]
    pub fn breach_seconds(&self) -> u64 {
        self.breaches.iter().map(|breach| u64::from(breach.seconds)).sum()
    }
}

/// Checks a timetable against all rules.
///
/// The instance is one that [`read_instance`](super::format::read_instance) would give: whatever it names by position
/// exists. Of the timetable nothing is taken for granted.
///
/// # Errors
/// The timetable is none of this instance: other groups, members or rounds, stations that do not suit, starts missing.
pub fn check(instance: &Instance, timetable: &Timetable) -> Result<Verdict, Vec<Misfit>> {
    let misfits = shape::misfits(instance, timetable);
    if !misfits.is_empty() {
        return Err(misfits);
    }
    let mut slots = Slots::new(instance, timetable);
    let mut found = Found::default();
    let mut parts = Parts::default();
    let at_stations = slots.by_station(instance);
    parts.handling = stations::check(instance, &mut slots, &at_stations, &mut found);
    coaches::check(instance, &mut slots, &mut found);
    members::check(instance, &slots, &mut parts, &mut found);
    rotation::check(instance, &slots, &mut found);
    working_in::check(instance, &slots, &at_stations, &mut found);
    let breaches = found.largest();
    Ok(Verdict {
        faults: listed::faults(&timetable.breaches, &breaches),
        objective: parts.price(&instance.weights),
        breaches,
        parts,
    })
}

/// Everything by which the timetable is none of this instance, in its order.
pub(super) fn misfits(instance: &Instance, timetable: &Timetable) -> Vec<Misfit> {
    shape::misfits(instance, timetable)
}

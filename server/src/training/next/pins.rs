//! The next pin of a stack whose labels are no masses.
//!
//! What a pin weighs is not known, so neither the published table nor the cap can be worked out. Our own rule: never
//! more than one pin at a time, either way.

use turnabout_protocol::next::{Change, NextReason, Proposal, Rule, SetTo};
use turnabout_protocol::units::MassUnit;
use turnabout_protocol::work::Work;

use super::judge::{Wish, judge};
use super::policy::Policy;
use super::{Set, more_instead};
use crate::training::no_proposal::NoProposal;
use crate::training::pins::Pins;

/// The pin for the set after this one, done with `pin`.
///
/// # Errors
/// Where the stack has no such pin, a number of the set is out of its range, or the set asks for a maximal
/// attempt.
pub fn after(pin: u16, pins: Pins, set: &Set, policy: &Policy) -> Result<Proposal, NoProposal> {
    set.check()?;
    let pin = pins.checked(pin)?;
    let verdict = judge(set, MassUnit::default());
    let (next, end) = match verdict.wish {
        Wish::Rise(_) => (pins.next_harder(pin), NextReason::NothingHarder),
        Wish::Stay => (Some(pin), verdict.reason),
        Wish::Fall(_) => (pins.next_easier(pin), NextReason::NothingEasier),
    };
    let (to, reason) = next.map_or((pin, end), |to| (to, verdict.reason));
    // The published table says kilograms: a pin in their place is derived.
    let rule = if verdict.rule == Rule::AnswerTable { Rule::DerivedTable } else { verdict.rule };
    Ok(proposed((pin, to), set.work, reason, rule, (pins, policy)))
}

/// Puts together which pin, after which, and why.
pub(in crate::training) fn proposed(
    (now, to): (u16, u16),
    work: Work,
    reason: NextReason,
    rule: Rule,
    (pins, policy): (Pins, &Policy),
) -> Proposal {
    let more = more_instead(work, reason, policy).filter(|_| to == now);
    let change = match more {
        Some(_) => Change::MoreReps,
        None if to == now => Change::Same,
        None if pins.harder(to, now) => Change::Harder,
        None => Change::Easier,
    };
    Proposal { set: SetTo::Pin { pin: to }, work: more.unwrap_or(work), change, reason, rule }
}

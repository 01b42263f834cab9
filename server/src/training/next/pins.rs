//! The next pin of a stack whose labels are no masses.
//!
//! What a pin weighs is not known, so neither the published table nor the cap can be worked out. Our own rule: never
//! more than one pin at a time, either way.

use turnabout_protocol::next::{Change, NextReason, Proposal, Rule, SetTo};
use turnabout_protocol::units::MassUnit;

use super::judge::{Wish, judge};
use super::policy::Policy;
use super::{Set, more_instead};
use crate::training::no_proposal::NoProposal;

/// The pin for the set after this one, done with `pin` of a stack of so many, 1 being the lightest.
///
/// # Errors
/// Where the stack has no such pin, a number of the set is out of its range, or the set asks for a maximal
/// attempt.
pub fn after(pin: u16, pins: u16, set: &Set, policy: &Policy) -> Result<Proposal, NoProposal> {
    set.check()?;
    if !(1..=pins).contains(&pin) {
        return Err(NoProposal::Pin { found: pin, most: pins });
    }
    let verdict = judge(set, MassUnit::default());
    let (to, reason) = match verdict.wish {
        Wish::Rise(_) if pin == pins => (pin, NextReason::NothingHarder),
        Wish::Rise(_) => (pin + 1, verdict.reason),
        Wish::Stay => (pin, verdict.reason),
        Wish::Fall(_) if pin == 1 => (pin, NextReason::NothingEasier),
        Wish::Fall(_) => (pin - 1, verdict.reason),
    };
    let more = more_instead(set.work, reason, policy);
    let change = match (to.cmp(&pin), more) {
        (std::cmp::Ordering::Greater, _) => Change::Harder,
        (std::cmp::Ordering::Less, _) => Change::Easier,
        (std::cmp::Ordering::Equal, Some(_)) => Change::MoreReps,
        (std::cmp::Ordering::Equal, None) => Change::Same,
    };
    // The published table says kilograms: a pin in their place is derived.
    let rule = if verdict.rule == Rule::AnswerTable { Rule::DerivedTable } else { verdict.rule };
    Ok(Proposal { set: SetTo::Pin { pin: to }, work: more.unwrap_or(set.work), change, reason, rule })
}

//! The next load, from one set to the next: from how the set ended, its repetitions and how heavy it felt.
//!
//! In this order:
//! 1. **What went wrong** ([`judge`]): an equipment fault says nothing about the client; a set that was not made
//!    or was helped goes down; where the form broke it goes down by the least there is.
//! 2. **The answer.** Repetitions in reserve go by the published table, the three words by a rule of our own,
//!    silence changes nothing. Too few repetitions are never followed by a rise.
//! 3. **The gear** ([`fit`]): only what can be set exactly; a rise no larger than the cap allows, and below the
//!    client's one-repetition maximum where that is known. A fall has no cap. Where the smallest step is too large
//!    the load stays and, if the floor wants it, one repetition is added.
//!
//! A proposal is an offer. Unanswered, the load stays ([`super::settle`]); lighter is always the client's right.

use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::next::{Change, NextReason, Proposal, SetTo};
use turnabout_protocol::units::Mass;
use turnabout_protocol::work::Work;

use super::block;
use super::loads::{Direction, Loads, harder};
use super::no_proposal::NoProposal;

pub(super) mod bound;
pub(super) mod fit;
pub(super) mod judge;
pub mod pins;
pub mod policy;

use fit::{Fitted, Limit};
use judge::{Verdict, Wish};
use policy::Policy;

/// A set that is over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Set {
    /// What it asked for.
    pub work: Work,
    /// Repetitions that should have stayed in reserve, where the block says so.
    pub reserve: Option<u8>,
    /// Repetitions done, those with help included.
    pub reps: u8,
    /// How it ended.
    pub ending: Ending,
    /// How heavy it felt, where anybody said.
    pub effort: Option<Effort>,
}

impl Set {
    /// Repetitions done without help.
    #[must_use]
    pub const fn alone(&self) -> u8 {
        self.ending.alone(self.reps)
    }

    fn check(&self) -> Result<(), NoProposal> {
        if self.reps > block::limits::REPS {
            let (found, most) = (u16::from(self.reps), block::limits::REPS);
            return Err(NoProposal::Reps { found, least: 0, most });
        }
        let answered = match self.effort {
            Some(Effort::Rir { reps }) => reps,
            Some(Effort::Light | Effort::Right | Effort::Heavy) | None => 0,
        };
        let found = answered.max(self.reserve.unwrap_or(0));
        if found > Effort::MAX_RIR {
            return Err(NoProposal::Reserve { found, most: Effort::MAX_RIR });
        }
        not_maximal(self.work, self.reserve)
    }
}

/// One repetition with none in reserve is a maximal attempt, and no load is ever proposed for it.
pub(super) fn not_maximal(work: Work, reserve: Option<u8>) -> Result<(), NoProposal> {
    match (work, reserve) {
        (Work::Reps { most: 1, .. }, Some(0)) => Err(NoProposal::Maximal),
        (Work::Reps { .. } | Work::Hold { .. }, _) => Ok(()),
    }
}

/// What a proposal stands on.
#[derive(Clone, Copy)]
pub struct Ground<'a> {
    /// What the station can be set to.
    pub loads: &'a dyn Loads,
    /// What the floor has set.
    pub policy: &'a Policy,
    /// The client's one-repetition maximum of this exercise, where it is known or was estimated.
    pub one_rm: Option<Mass>,
}

/// The load for the set after this one, done with `load` on the same gear.
///
/// # Errors
/// Where a number of the set is out of its range, the set asks for a maximal attempt, or the gear has nothing
/// easy enough.
pub fn after(load: Mass, set: &Set, ground: &Ground<'_>) -> Result<Proposal, NoProposal> {
    set.check()?;
    stated(load)?;
    let verdict = judge::judge(set, ground.loads.unit());
    let below = bound::below(load, set, ground);
    let fitted = match verdict.wish {
        Wish::Stay => fit::stay(load, below, ground.loads)?,
        Wish::Fall(amount) => fit::fall(load, amount.of(load, ground.loads.unit()), below, ground.loads)?,
        Wish::Rise(amount) => {
            let (wanted, cap) = (amount.of(load, ground.loads.unit()), ground.policy.cap);
            fit::rise(load, wanted, Limit { most: cap.of(load), share: cap, below }, ground.loads)?
        }
    };
    Ok(propose(load, set.work, fitted, &verdict, ground))
}

/// A load that can be stated at all. Zero is one: a body with nothing added.
pub(super) fn stated(load: Mass) -> Result<(), NoProposal> {
    if load < Mass::ZERO || load > Mass::MAX {
        return Err(NoProposal::Load { found: load, most: Mass::MAX });
    }
    Ok(())
}

/// Puts together what fits and why.
pub(super) fn propose(
    now: Mass,
    work: Work,
    fitted: Fitted,
    verdict: &Verdict,
    ground: &Ground<'_>,
) -> Proposal {
    let reason = fitted.instead.unwrap_or(verdict.reason);
    let more = more_instead(work, reason, ground.policy).filter(|_| fitted.load == now);
    let change = match more {
        Some(_) => Change::MoreReps,
        None if fitted.load == now => Change::Same,
        None if harder(ground.loads, fitted.load, now) => Change::Harder,
        None => Change::Easier,
    };
    let set = SetTo::Mass { load: fitted.load };
    Proposal { set, work: more.unwrap_or(work), change, reason, rule: verdict.rule }
}

/// One repetition more where a load would rise but cannot, and the floor wants it so. Near a maximum there is
/// neither.
pub(super) fn more_instead(work: Work, reason: NextReason, policy: &Policy) -> Option<Work> {
    let blocked = matches!(reason, NextReason::StepTooBig { .. } | NextReason::NothingHarder);
    match work {
        Work::Reps { least, most } if blocked && policy.reps_instead && most < block::limits::REPS => {
            Some(Work::Reps { least: least + 1, most: most + 1 })
        }
        Work::Reps { .. } | Work::Hold { .. } => None,
    }
}

/// Whether the gear carries part of the body.
pub(super) fn assisted(loads: &dyn Loads) -> bool {
    loads.direction() == Direction::Assists
}

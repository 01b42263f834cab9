//! An evening as it happens: turns take other times than planned, and the floor is run in four ways that are then
//! looked at side by side.
//!
//! Every [`Way`] meets the same realised lengths, [`noise`] around those of the instance. What comes out is a timetable
//! of the *realised* instance, priced by the [`check`](super::check) of any other timetable ([`outcome`]), so that
//! nothing that runs the floor says itself how well it did.

mod begun;
mod eye;
mod kept;
pub mod noise;
pub mod outcome;
mod planned;
mod promises;
mod snapshot;

pub use eye::CAP;

use std::num::NonZeroUsize;

use noise::Noise;
use outcome::Outcome;

use super::check::Misfit;
use super::instance::Instance;
use super::plan::{Plan, plan};
use super::search::{Effort, counted, in_turn};

/// How a floor is run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// By eye: whoever is ready first goes first.
    Eye,
    /// By eye, with at most three clients at a pair of stations: what an experienced coach does.
    CappedEye,
    /// By the plan of the lengths that were expected, its order kept and its times worked out anew as turns end.
    Planned,
    /// By a plan made with all lengths known in advance. Nobody can; it says what there was to gain.
    AllKnowing,
}

impl Way {
    /// All of them, in the order in which they are told.
    pub const ALL: [Self; 4] = [Self::Eye, Self::CappedEye, Self::Planned, Self::AllKnowing];
}

/// How long the planner may look for better orders, in orders looked at; see [`rehearse`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Looking {
    /// Where the dice of the searches start.
    pub seed: u64,
    /// For a whole evening, by each of [`THREADS`] searches.
    pub evening: u64,
    /// Whenever a turn ended at another time than expected; 0: the order is kept all evening.
    pub event: u64,
}

/// Searches beside each other for a whole evening. A fixed number, so that a seed gives the same plan on any machine.
pub const THREADS: NonZeroUsize = NonZeroUsize::new(2).unwrap();

/// A plan of an instance, ready for any number of evenings.
#[derive(Clone, Debug)]
pub struct Rehearsal<'i> {
    instance: &'i Instance,
    looking: Looking,
    plan: Plan,
}

impl<'i> Rehearsal<'i> {
    /// Plans the lengths that the instance has.
    ///
    /// # Errors
    ///
    /// As [`plan`].
    pub fn new(instance: &'i Instance, looking: Looking) -> Result<Self, Vec<Misfit>> {
        let plan = searched(instance, &[], looking)?;
        Ok(Self { instance, looking, plan })
    }

    /// The plan that [`Way::Planned`] begins with.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// One evening, each way in the order of [`Way::ALL`].
    ///
    /// # Errors
    ///
    /// As [`plan`].
    pub fn evening(&self, noise: Noise, seed: u64) -> Result<[Outcome; 4], Vec<Misfit>> {
        let real = noise::realised(self.instance, noise, seed);
        let (planned, promises) = planned::run(self.instance, &real, &self.plan, self.looking);
        let knowing = self.all_knowing(&real)?;
        Ok([
            outcome::of(&real, eye::run(&real, usize::MAX), None)?,
            outcome::of(&real, eye::run(&real, CAP), None)?,
            outcome::of(&real, planned, Some(promises))?,
            outcome::of(&real, knowing.timetable, None)?,
        ])
    }

    /// The better one of a search from nothing and one from the order of the plan.
    fn all_knowing(&self, real: &Instance) -> Result<Plan, Vec<Misfit>> {
        let cold = searched(real, &[], self.looking)?;
        let warm = searched(real, std::slice::from_ref(&self.plan.order), self.looking)?;
        let rank = |plan: &Plan| (plan.verdict.breach_seconds(), plan.verdict.objective);
        Ok(if rank(&warm) < rank(&cold) { warm } else { cold })
    }
}

fn searched(
    instance: &Instance,
    warm: &[super::order::Order],
    looking: Looking,
) -> Result<Plan, Vec<Misfit>> {
    let done = counted(looking.evening);
    plan(instance, warm, &Effort { seed: looking.seed, threads: THREADS, done: &done, beside: &in_turn })
}

//! Rehearsing an evening of a floor's own files: invented people go through it on the real core, tap by tap, and some
//! of their sets take other times than prescribed.
//!
//! Nothing here stands in for the floor. Every tap is decided by [`decide`](super::decide), what is due comes from
//! [`due`](super::due), and who runs the floor by a plan does so by the very steps of a floor that is open
//! ([`planning`](super::planning)). What came of it is worked out from the entries alone ([`measured`]).
//!
//! The [`Way`]s differ in who goes next, and in nothing else. By eye it is whoever is ready first; with a cap on it, of
//! those at a pair of stations only three are in the middle of their rounds at once, and others stand back until one of
//! them is through. By the plan it is whoever has been told to. All-knowing is the same, but for one thing: where the plan
//! expects a set to last as prescribed or as learned, it is given how long it really will, up to the tap at its end, and
//! mishaps that make sets longer too ([`Lengths`](super::outlook::Lengths)). It is told of no other mishap and of no other
//! moment somebody takes to think, it searches no longer than it is allowed to, and what has been told binds it as much:
//! so it says what there was to gain by knowing the lengths, and is no bound on what any plan could do.
//!
//! - Everybody comes at the first moment, or when their session is to start. Coaches do at once what is expected of
//!   them; each tap takes a moment to think, by [`Chance`].
//! - A set takes its prescribed time, times noise; then the weight is racked and the end is tapped, some seconds after
//!   the last repetition, and the client is off the station.
//! - Walks and changes of load take as long as the plan takes them to. Whoever watches a light set or spots does nothing
//!   else meanwhile.
//! - Nobody calls for help, nobody says how a set felt, and groups do not work in where that must be asked for.

mod agenda;
pub mod chance;
mod core;
mod course;
mod hands;
pub mod measured;
pub mod mishap;
mod moment;
pub mod opening;
mod people;
mod real;

pub use self::chance::Chance;
pub use self::mishap::{Mishap, Unexpected};

use turnabout_protocol::units::{FloorMs, Secs};

use self::agenda::Agenda;
use self::core::Core;
use self::course::Course;
use self::hands::Hands;
use self::opening::Opening;
use self::people::Goes;
use self::real::Real;
use super::decide::Verdict;
use super::event::Entry;
use super::planning::{Sight, Standing};
use super::state::State;
use crate::timetable::check::Misfit;
use crate::timetable::rehearse::CAP;

/// An evening that has not ended by then is given up.
pub const LONGEST: Secs = Secs(12 * 3_600);

/// How the floor is run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// By eye: whoever is ready first goes first.
    Eye,
    /// By eye, with at most [`CAP`] clients in the middle of their rounds at a pair of stations: what an experienced coach
    /// does.
    CappedEye,
    /// By the plan: people go when they have been told to.
    Planned(Looking),
    /// By a plan that knows beforehand how long every set will last. Nobody can; it says what there was to gain.
    AllKnowing(Looking),
}

/// How many orders a plan's searches look at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Looking {
    /// Which searches: the same number gives the same ones.
    pub seed: u64,
    /// After something structural.
    pub structural: u64,
    /// After anything else; 0 keeps the order in hand.
    pub event: u64,
}

/// Sees an evening while it happens.
pub trait Watch {
    /// An entry has been taken in.
    fn entry(&mut self, state: &State, entry: &Entry);

    /// The plan has been looked at, and what it changes of what people have been told is in the state.
    fn looked(&mut self, state: &State, sight: &Sight, now: FloorMs);
}

/// Nobody sees it.
impl Watch for () {
    fn entry(&mut self, _: &State, _: &Entry) {}

    fn looked(&mut self, _: &State, _: &Sight, _: FloorMs) {}
}

/// An evening that is over.
#[derive(Clone, Debug)]
pub struct Evening {
    /// Everything that happened.
    pub entries: Vec<Entry>,
    /// What that led to.
    pub state: State,
    /// Whether every session is over; else the evening was given up at [`LONGEST`], or when nothing went on any more.
    pub complete: bool,
}

/// Lets an evening happen.
///
/// # Errors
/// Where the checker cannot read a timetable as one of this floor: a fault of the planner.
pub fn evening(
    opening: &Opening,
    way: Way,
    chance: Chance,
    mishaps: &[Mishap],
    watch: &mut dyn Watch,
) -> Result<Evening, Vec<Misfit>> {
    let real = Real::new(chance, mishaps);
    let (goes, mut course) = match way {
        Way::Eye => (Goes::First, None),
        Way::CappedEye => (Goes::Capped(CAP), None),
        Way::Planned(looking) => (Goes::Told, Some(Course::new(Standing::default(), looking))),
        Way::AllKnowing(looking) => {
            let knowing = Standing::knowing(Box::new(real.clone()));
            (Goes::Told, Some(Course::new(knowing, looking)))
        }
    };
    let mut floor = Floor {
        core: Core::new(opening, watch),
        agenda: Agenda::default(),
        hands: Hands::new(real),
        to_come: mishap::taps(mishaps),
    };
    let end = floor.core.now + LONGEST;
    loop {
        floor.core.settle();
        if let Some(course) = &mut course {
            course.go_on(&mut floor.core)?;
        }
        let wants = people::wants(&floor.core.state, &mut floor.hands, goes);
        floor.agenda.take(wants, floor.core.now);
        if floor.tap() {
            continue;
        }
        let wakes = [floor.next(), course.as_ref().and_then(Course::wake)];
        let next = wakes.into_iter().flatten().min().filter(|at| *at <= end);
        match next.filter(|_| !is_over(&floor.core.state)) {
            Some(at) => floor.core.now = at.max(floor.core.now),
            None => break,
        }
    }
    let complete = is_over(&floor.core.state);
    Ok(Evening { entries: floor.core.entries, state: floor.core.state, complete })
}

/// Whether every session is over.
fn is_over(state: &State) -> bool {
    let over = |(id, plan)| state.groups.get(id).is_none_or(|now| now.block_of(plan).is_none());
    state.programme.groups.iter().all(over)
}

struct Floor<'w> {
    core: Core<'w>,
    agenda: Agenda,
    hands: Hands,
    /// Mishaps that somebody taps, the next one last.
    to_come: Vec<Unexpected>,
}

impl Floor<'_> {
    /// Makes the next tap whose time has come; whether there was one.
    fn tap(&mut self) -> bool {
        let now = self.core.now;
        if let Some(mut mishap) = self.to_come.pop_if(|mishap| mishap.at <= now) {
            match self.core.tap(&mishap.by, mishap.act.clone()) {
                Verdict::Accepted(_) | Verdict::Already(_) => {}
                Verdict::Refused(_) => {
                    mishap.at = now + mishap::AGAIN;
                    self.to_come.push(mishap);
                    mishap::in_order(&mut self.to_come);
                }
            }
            return true;
        }
        let Some(tap) = self.agenda.due(now) else { return false };
        self.hands.before(&self.core.state, &tap.act);
        match self.core.tap(&tap.by, tap.act.clone()) {
            Verdict::Accepted(_) => self.hands.after(now),
            Verdict::Already(_) | Verdict::Refused(_) => self.agenda.again(tap, now),
        }
        true
    }

    /// When something is tapped or due next.
    fn next(&self) -> Option<FloorMs> {
        let mishap = self.to_come.last().map(|mishap| mishap.at);
        [mishap, self.agenda.next(), self.core.wake()].into_iter().flatten().min()
    }
}

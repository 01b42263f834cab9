//! The plan that stands: an order of everybody's coming sets that is kept from one event to the next, with the times
//! that it has now.
//!
//! A plan is no floor state, and nobody decides by it. It is looked at again after whatever happens and whenever time
//! alone makes something of it untrue ([`Sight::again`]):
//!
//! - **Ordinary noise keeps the order** and works its times out anew. That is cheap enough to be done with every batch
//!   of entries.
//! - **Another order** comes from a search elsewhere, by an [`Offer`]. It is taken for any gain after something
//!   [structural] or where fewer rules are broken, else only for a [clear gain](CLEAR_GAIN), and never where it would
//!   move a start that people have been told to the second by more than the order in hand does.
//! - Every timetable has been looked at by the [checker](crate::timetable::check); one that it cannot read as an answer
//!   is never shown.

mod again;
mod moved;
mod quest;
pub mod structural;

pub use self::quest::{Found, Quest};

use turnabout_protocol::units::{FloorMs, Millis};

use super::event::Event;
use super::outlook::admission::{Admission, Errand};
use super::outlook::because::Starts;
use super::outlook::kept::KeptOrder;
use super::outlook::{Cuts, Learned, Lengths, Outlook, Who, flat};
use super::planned::Planned;
use super::promises;
use super::ribbon;
use super::run_sheet;
use super::state::State;
use crate::timetable::build::by_eye;
use crate::timetable::check::Misfit;
use crate::timetable::decode::Decoder;
use crate::timetable::order::Order;
use crate::timetable::plan::{Plan, retime};
use crate::timetable::problem::Problem;

/// What an order found by a search must gain to replace the one in hand, in thousandths of the objective. Less than
/// that is not worth that people hear something new.
pub const CLEAR_GAIN: i64 = 5;
/// Another order is adopted at most once in this time.
pub const ADOPTED_EVERY: Millis = Millis::secs(1);
/// Clients at one pair of stations in the first order of an evening, which is one by eye.
const BY_EYE: usize = 3;

/// The order in hand.
#[derive(Debug)]
pub struct Standing {
    lengths: Box<dyn Lengths>,
    /// Nothing before anybody has anything to do.
    kept: Option<KeptOrder>,
    cuts: Cuts,
    /// Something structural happened since the last search that came to its end.
    loose: bool,
    adopted: Option<FloorMs>,
}

/// The floor as the order in hand sees it at some instant.
#[derive(Clone, Debug)]
pub struct Sight {
    /// What is left to do.
    pub outlook: Outlook,
    /// The same, as the decoder has it.
    pub problem: Problem,
    /// The order in hand, its times, and the checker's word on them.
    pub plan: Plan,
    /// When time alone makes something of it untrue; nothing where nothing goes on.
    pub again: Option<FloorMs>,
}

/// An order that a search found.
#[derive(Clone, Debug)]
pub struct Offer {
    /// The order.
    pub order: KeptOrder,
    /// Who has what left to do in the problem it was found for: where that is something else by now, the order is not
    /// taken.
    pub who: Who,
    /// Whether the search has come to its end.
    pub last: bool,
}

/// What became of an offer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// It is the order in hand now.
    Adopted,
    /// It is not good enough, or not good any more.
    Left,
    /// It may be taken, but not before that instant: the last one was adopted a moment ago.
    NotBefore(FloorMs),
}

impl Default for Standing {
    /// For the lengths of sets as the floor has [`Learned`] them.
    fn default() -> Self {
        Self::knowing(Box::new(Learned))
    }
}

impl Standing {
    /// Nothing yet; from now on every look takes sets to last so long.
    #[must_use]
    pub fn knowing(lengths: Box<dyn Lengths>) -> Self {
        Self { lengths, kept: None, cuts: Cuts::default(), loose: false, adopted: None }
    }

    /// Takes note of what has happened.
    pub fn note(&mut self, event: &Event) {
        self.loose |= structural::is(event);
    }

    /// Whether something structural happened that no search has seen the end of.
    #[must_use]
    pub const fn is_loose(&self) -> bool {
        self.loose
    }

    /// The order in hand.
    #[must_use]
    pub const fn order(&self) -> Option<&KeptOrder> {
        self.kept.as_ref()
    }

    /// The times of the order in hand at `now`.
    ///
    /// # Errors
    /// Where the checker cannot read the timetable as one of this floor: a fault of the program, and never shown.
    pub fn look(&mut self, state: &State, now: FloorMs) -> Result<Sight, Vec<Misfit>> {
        let outlook = Outlook::knowing(state, now, &*self.lengths, &mut self.cuts);
        if self.kept.is_none() && !outlook.instance.groups.is_empty() {
            let problem = Problem::new(&outlook.instance);
            let order = by_eye(&problem, &mut Decoder::new(&problem), BY_EYE);
            let placed = flat::placed(&outlook, &problem, &order);
            self.kept = Some(KeptOrder::default().keep(&outlook, &placed));
            self.loose = true;
        }
        match &self.kept {
            Some(kept) => Sight::of(state, outlook, kept, now),
            None => Sight::of(state, outlook, &KeptOrder::default(), now),
        }
    }

    /// What is to be weighed for groups without stations, from the order in hand; nothing where there are none.
    pub fn errand(&mut self, state: &State, now: FloorMs) -> Option<Errand> {
        let nothing = KeptOrder::default();
        let kept = self.kept.as_ref().unwrap_or(&nothing);
        Errand::of(state, now, kept, &*self.lengths, &mut self.cuts)
    }

    /// Takes an order that a search found, where it is worth it; `present` is the floor as the order in hand sees it at
    /// `now`.
    pub fn consider(&mut self, offer: Offer, present: &Sight, state: &State, now: FloorMs) -> Taken {
        if offer.who.differs(&present.outlook.who) {
            return Taken::Left;
        }
        let offered = Sight::of(state, present.outlook.clone(), &offer.order, now);
        let better = offered.is_ok_and(|offered| self.prefers(&offered, present, state, now));
        let wait = self.adopted.map(|last| last + ADOPTED_EVERY).filter(|until| better && now < *until);
        if let Some(until) = wait {
            return Taken::NotBefore(until);
        }
        if offer.last {
            self.loose = false;
        }
        if !better {
            return Taken::Left;
        }
        self.kept = Some(offer.order);
        self.adopted = Some(now);
        Taken::Adopted
    }

    fn prefers(&self, offered: &Sight, present: &Sight, state: &State, now: FloorMs) -> bool {
        let kept = moved::moved(state, present, now);
        if moved::moved(state, offered, now).iter().any(|moved| !moved.is_among(&kept)) {
            return false;
        }
        let of = |sight: &Sight| (sight.plan.verdict.breach_seconds(), sight.plan.verdict.objective);
        let ((broken, cost), (before, known)) = (of(offered), of(present));
        let gain = known - cost;
        let clear = if self.loose { 0 } else { CLEAR_GAIN };
        broken < before
            || (broken == before && gain > 0 && gain.saturating_mul(1_000) > known.saturating_mul(clear))
    }
}

impl Sight {
    fn of(state: &State, outlook: Outlook, kept: &KeptOrder, now: FloorMs) -> Result<Self, Vec<Misfit>> {
        let placed = kept.fitted(&outlook);
        let problem = Problem::new(&outlook.instance);
        let order = flat::flat(&outlook, &problem, &placed);
        let plan = retime(&outlook.instance, &problem, order)?;
        let again = again::at(state, &outlook, &plan.timetable, now);
        Ok(Self { outlook, problem, plan, again })
    }

    /// The order as the decoder has it: where a search begins.
    #[must_use]
    pub const fn order(&self) -> &Order {
        &self.plan.order
    }

    /// What it changes of what people have been told.
    #[must_use]
    pub fn promised(&self, state: &State, now: FloorMs) -> Option<Event> {
        promises::revise(state, &self.outlook, &self.plan.timetable, now)
    }

    /// What it says beyond that, with what groups without stations could have.
    #[must_use]
    pub fn planned(&self, now: FloorMs, admissions: Vec<Admission>) -> Planned {
        let starts = Starts::of(&self.outlook, &self.plan.timetable);
        Planned { turns: run_sheet::planned(&starts, now), sets: ribbon::planned(&starts, now), admissions }
    }
}

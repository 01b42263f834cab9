//! The plan that stands, kept true: its times are worked out anew with every batch and whenever time alone makes
//! something of it untrue, and a better order is taken where a search has found one.

use futures_util::FutureExt;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::Task;
use crate::floor::outlook::admission::Admission;
use crate::floor::planned::Planned;
use crate::floor::planning::{Found, Offer, Quest, Sight, Standing, Taken};
use crate::live::planner::Planner;
use crate::live::truth::{Happening, caught};

/// What the task knows of its plan.
pub(super) struct Course {
    standing: Standing,
    pub(super) planner: Box<dyn Planner>,
    /// The last entry that the plan has seen.
    seen: Option<u64>,
    /// When it must be looked at again though nothing happens.
    again: Option<FloorMs>,
    /// An order that is good but comes too soon after the last one, and when it may be taken.
    waiting: Option<(FloorMs, Offer)>,
    planned: Planned,
    /// What groups without stations could have.
    admissions: Vec<Admission>,
    /// Counts what has been shown of plans.
    number: u64,
    /// Whether something of it has not been shown yet.
    news: bool,
}

impl Course {
    pub(super) fn new(planner: Box<dyn Planner>) -> Self {
        Self {
            standing: Standing::default(),
            planner,
            seen: None,
            again: None,
            waiting: None,
            planned: Planned::default(),
            admissions: Vec::new(),
            number: 0,
            news: false,
        }
    }

    /// What is planned beyond what has been told.
    pub(super) const fn planned(&self) -> &Planned {
        &self.planned
    }

    /// How often that has changed in this run.
    pub(super) const fn number(&self) -> u64 {
        self.number
    }

    /// When the task must turn to the plan though nothing happens.
    pub(super) fn wake(&self) -> Option<FloorMs> {
        self.again.into_iter().chain(self.waiting.as_ref().map(|(at, _)| *at)).min()
    }

    /// Whether something of it waits to be shown.
    pub(super) const fn has_news(&self) -> bool {
        self.news
    }

    /// All of it has been shown.
    pub(super) const fn shown(&mut self) {
        self.news = false;
    }

    fn show(&mut self, planned: Planned) {
        if self.planned != planned {
            self.planned = planned;
            self.number += 1;
            self.news = true;
        }
    }
}

impl Task {
    /// Looks at the plan where something has happened since it was looked at last, and has a better order looked for.
    pub(super) fn plan(&mut self) {
        let state = self.truth.state();
        if self.course.seen == Some(state.sequence) || self.trouble.is_some() || self.is_full() {
            return;
        }
        let before = self.course.seen.unwrap_or(state.sequence);
        for entry in self.truth.pending_after(before) {
            self.course.standing.note(&entry.event);
        }
        let Some(sight) = self.look() else { return };
        let now = self.now();
        let (state, standing) = (self.truth.state(), &mut self.course.standing);
        let errand = caught("errand", || standing.errand(state, now)).flatten();
        if errand.is_none() && !self.course.admissions.is_empty() {
            self.weighed(Vec::new());
        }
        let standing = &self.course.standing;
        let kept = standing.order().cloned().unwrap_or_default();
        let quest = Quest::new(sight, kept, standing.is_loose(), errand);
        if !quest.is_empty() {
            self.course.waiting = None;
            self.course.planner.begin(quest);
        }
    }

    /// Takes what a search has found.
    pub(super) fn found(&mut self, found: Found) {
        match found {
            Found::Order(offer) => self.offered(*offer),
            Found::Admissions(admissions) => self.weighed(admissions),
        }
    }

    /// What groups without stations could have. What of it cannot be had by now is left out where it is shown.
    fn weighed(&mut self, admissions: Vec<Admission>) {
        self.course.admissions.clone_from(&admissions);
        self.course.show(Planned { admissions, ..self.course.planned.clone() });
    }

    /// Turns to the plan because its time has come.
    pub(super) fn plan_due(&mut self) {
        let now = self.now();
        if let Some((_, offer)) = self.course.waiting.take_if(|(at, _)| *at <= now) {
            self.offered(offer);
        }
        if self.course.again.is_some_and(|at| at <= now) && self.trouble.is_none() && !self.is_full() {
            self.look();
        }
    }

    /// A search has found an order.
    fn offered(&mut self, offer: Offer) {
        // Where something has happened meanwhile it is looked at first, and another search has begun.
        self.plan();
        if self.trouble.is_some() || self.is_full() {
            return;
        }
        let now = self.now();
        let Some(present) = self.sight(now) else { return };
        let (state, standing) = (self.truth.state(), &mut self.course.standing);
        let again = offer.clone();
        match caught("consider", || standing.consider(offer, &present, state, now)) {
            Some(Taken::Adopted) => {
                tracing::debug!(objective = present.plan.verdict.objective, "a better order is taken");
                self.look();
            }
            Some(Taken::NotBefore(at)) => self.course.waiting = Some((at, again)),
            Some(Taken::Left) | None => {}
        }
    }

    /// Takes what a search has found by now, where it does not search beside the task: on a clock that is driven.
    pub(super) fn take_found(&mut self) {
        while let Some(found) = self.course.planner.next().now_or_never() {
            self.found(found);
        }
    }

    /// Works the times out anew, tells people what has become another start, and keeps what is planned beyond that.
    fn look(&mut self) -> Option<Sight> {
        let now = self.now();
        let sight = self.sight(now);
        self.course.again = None;
        self.course.seen = Some(self.truth.state().sequence);
        let Some(sight) = sight else {
            // Rather nothing than what is not true.
            self.course.show(Planned::default());
            return None;
        };
        self.course.again = sight.again;
        let state = self.truth.state();
        let promised = caught("promise", || sight.promised(state, now)).flatten();
        if let Some(planned) = caught("planned", || sight.planned(now, self.course.admissions.clone())) {
            self.course.show(planned);
        }
        if let Some(event) = promised {
            let events = vec![event];
            self.note_floor(&events, now);
            let happening = Happening { by: Actor::Floor, at: now, recorded: now, events };
            if let Err(unsound) = self.truth.take(happening) {
                tracing::error!(%unsound, "what was planned was not told");
                self.recent.forget_after(self.truth.state().sequence);
            }
        }
        self.course.seen = Some(self.truth.state().sequence);
        Some(sight)
    }

    fn sight(&mut self, now: FloorMs) -> Option<Sight> {
        let (state, standing) = (self.truth.state(), &mut self.course.standing);
        match caught("plan", || standing.look(state, now))? {
            Ok(sight) => Some(sight),
            Err(misfits) => {
                tracing::error!(?misfits, "a timetable was refused by the checker and is not shown");
                None
            }
        }
    }
}

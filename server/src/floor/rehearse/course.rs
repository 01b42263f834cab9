//! The plan of a rehearsed floor, kept by the steps of a floor that is open, with searches that are counted.

use std::num::NonZeroUsize;

use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::Looking;
use super::core::Core;
use crate::floor::planning::{Offer, Quest, Sight, Standing, Taken};
use crate::timetable::check::Misfit;
use crate::timetable::search::{Effort, counted, in_turn};

pub(super) struct Course {
    standing: Standing,
    looking: Looking,
    /// The last entry that the plan has seen.
    seen: u64,
    /// When it must be looked at again though nothing happens.
    again: Option<FloorMs>,
    /// An order that is good but comes too soon after the last one, and when it may be taken.
    waiting: Option<(FloorMs, Offer)>,
    /// How many searches there were.
    searches: u64,
}

impl Course {
    pub(super) fn new(standing: Standing, looking: Looking) -> Self {
        Self { standing, looking, seen: 0, again: None, waiting: None, searches: 0 }
    }

    /// When it must be turned to though nothing happens.
    pub(super) fn wake(&self) -> Option<FloorMs> {
        self.again.into_iter().chain(self.waiting.as_ref().map(|(at, _)| *at)).min()
    }

    /// Turns to the plan where its time has come or something has happened.
    pub(super) fn go_on(&mut self, core: &mut Core<'_>) -> Result<(), Vec<Misfit>> {
        if let Some((_, offer)) = self.waiting.take_if(|(at, _)| *at <= core.now) {
            self.consider(offer, core)?;
        }
        if self.again.is_some_and(|at| at <= core.now) {
            self.look(core)?;
        }
        if self.seen == core.state.sequence {
            return Ok(());
        }
        let new = core.entries.iter().filter(|entry| entry.sequence > self.seen);
        new.for_each(|entry| self.standing.note(&entry.event));
        let sight = self.look(core)?;
        self.search(sight, core)
    }

    /// Works the times out anew and tells people what has become another start.
    fn look(&mut self, core: &mut Core<'_>) -> Result<Sight, Vec<Misfit>> {
        let sight = self.standing.look(&core.state, core.now)?;
        self.again = sight.again;
        if let Some(event) = sight.promised(&core.state, core.now) {
            core.happen(Actor::Floor, core.now, event);
        }
        self.seen = core.state.sequence;
        core.watch.looked(&core.state, &sight, core.now);
        Ok(sight)
    }

    fn search(&mut self, sight: Sight, core: &mut Core<'_>) -> Result<(), Vec<Misfit>> {
        let loose = self.standing.is_loose();
        let most = if loose { self.looking.structural } else { self.looking.event };
        let kept = self.standing.order().cloned().filter(|_| most > 0);
        let quest = kept.map(|kept| Quest::new(sight, kept, loose, None)).filter(|quest| !quest.is_empty());
        let Some(quest) = quest else { return Ok(()) };
        self.waiting = None;
        let seed = self.looking.seed.wrapping_add(self.searches);
        self.searches += 1;
        let done = counted(most);
        let effort = Effort { seed, threads: NonZeroUsize::MIN, done: &done, beside: &in_turn };
        let offer = quest.offer(quest.search(&[], &effort), true);
        self.consider(offer, core)
    }

    fn consider(&mut self, offer: Offer, core: &mut Core<'_>) -> Result<(), Vec<Misfit>> {
        let present = self.standing.look(&core.state, core.now)?;
        match self.standing.consider(offer.clone(), &present, &core.state, core.now) {
            Taken::Adopted => drop(self.look(core)?),
            Taken::NotBefore(at) => self.waiting = Some((at, offer)),
            Taken::Left => {}
        }
        Ok(())
    }
}

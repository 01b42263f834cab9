//! A programme entered on a page: looked at on the state as it is now, and answered once that is durable.

use tokio::sync::oneshot;
use turnabout_protocol::role::Actor;

use super::Task;
use super::answers::Recipient;
use super::trouble::Trouble;
use crate::floor::changes;
use crate::floor::config::Names;
use crate::floor::event::Event;
use crate::floor::roles;
use crate::floor::state::State;
use crate::live::entry::{Entered, EntryIn, EveningNow, SetBy};
use crate::live::truth::Happening;

impl Task {
    /// The programme as it is on disk.
    pub(super) fn evening(&self) -> EveningNow {
        let state = self.truth.durable();
        let begun = state.programme.groups.keys().copied();
        let begun = begun.filter(|id| state.group(*id).is_some_and(|(plan, now)| now.in_progress(plan)));
        EveningNow {
            programme: state.programme.clone(),
            names: self.names.known().clone(),
            revision: state.source.revision,
            set: set_by(state).filter(|set| set.coach.is_some()),
            begun: begun.collect(),
        }
    }

    /// Takes a programme. What was due before it comes first.
    pub(super) fn enter(&mut self, entry: EntryIn, reply: oneshot::Sender<Entered>) {
        self.run_due();
        let entered = self.judge_entry(entry);
        let rests_on = self.truth.state().sequence;
        self.answer(Recipient::Entry { entered, reply }, rests_on);
    }

    fn judge_entry(&mut self, entry: EntryIn) -> Entered {
        let EntryIn { coach, programme, names, revision, dry_run } = entry;
        if let Some(writing) = self.trouble.as_ref().map(Trouble::writing) {
            return Entered::NotSaving(writing);
        }
        if self.is_full() {
            return Entered::Busy;
        }
        let state = self.truth.state();
        let by = state.floor.coach(&coach).map(|coach| Actor::Coach { coach });
        let Some(by) = by.filter(|by| roles::may_enter_programme(*by)) else { return Entered::NoCoach };
        if revision != state.source.revision {
            return Entered::Changed(set_by(state));
        }
        let names = self.names.new_ones(names);
        // New names alone are an entry too: whoever has the programme open must not overwrite them unseen.
        let again = (!names.is_empty()).then(|| Event::ProgrammeSet(Box::new(programme.clone())));
        match changes::set_programme(state, programme) {
            Err(in_use) => Entered::InUse(in_use),
            Ok(event) => match event.or(again) {
                Some(event) if !dry_run => self.take_entry(by, event, names),
                other => Entered::Taken { revision, differs: other.is_some() },
            },
        }
    }

    fn take_entry(&mut self, by: Actor, event: Event, names: Names) -> Entered {
        let now = self.now();
        let happening = Happening { by, at: now, recorded: now, events: vec![event] };
        if let Err(unsound) = self.truth.take(happening) {
            tracing::error!(%unsound, "a programme was not taken");
            self.recent.forget_after(self.truth.state().sequence);
            return Entered::Unsound;
        }
        let sequence = self.truth.state().sequence;
        self.names.change(sequence, names);
        Entered::Taken { revision: self.truth.state().source.revision, differs: true }
    }
}

/// Who set the programme last, if anybody has.
fn set_by(state: &State) -> Option<SetBy> {
    let set = state.source.set?;
    let coach = match set.by {
        Actor::Coach { coach } => state.floor.coaches.get(&coach).map(|coach| coach.key.clone()),
        Actor::Station { .. } | Actor::Board | Actor::Assistant { .. } | Actor::Manager | Actor::Floor => {
            None
        }
    };
    Some(SetBy { coach, when: state.clock.rfc3339(set.when) })
}

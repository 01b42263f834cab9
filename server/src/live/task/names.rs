//! The display names of people: on their way to the disk beside their entries, and known for views.

use crate::floor::config::{Names, Person};
use crate::journal::NameChange;

/// The names of people. They are never part of an entry, an answer or a log line.
pub(super) struct Called {
    /// The durable ones: nobody sees any other.
    known: Names,
    /// What goes with the open batch.
    open: Vec<NameChange>,
    /// Names that hold once this entry is durable.
    coming: Vec<(u64, Person, String)>,
}

impl Called {
    pub(super) const fn new(known: Names) -> Self {
        Self { known, open: Vec::new(), coming: Vec::new() }
    }

    /// The durable names.
    pub(super) const fn known(&self) -> &Names {
        &self.known
    }

    /// Those of these names that are new, beside what is known and what is on its way.
    pub(super) fn new_ones(&self, names: Names) -> Names {
        let coming = |person: &Person| self.coming.iter().rev().find(|(_, other, _)| other == person);
        let now =
            |person: &Person| coming(person).map(|(_, _, name)| name).or_else(|| self.known.get(person));
        names.into_iter().filter(|(person, name)| now(person) != Some(name)).collect()
    }

    /// Takes names whose entry, the one of this sequence, was taken in: they go with the batch of their entry.
    pub(super) fn change(&mut self, sequence: u64, names: Names) {
        for (person, name) in names {
            self.open.push(NameChange::Set { person, name: name.clone() });
            self.coming.push((sequence, person, name));
        }
    }

    /// What goes with the open batch.
    pub(super) fn hand_over(&mut self) -> Vec<NameChange> {
        std::mem::take(&mut self.open)
    }

    /// Entries up to this one are durable: their names hold.
    pub(super) fn settle(&mut self, durable: u64) {
        let Self { known, coming, .. } = self;
        coming.retain(|(sequence, person, name)| {
            let holds = *sequence <= durable;
            if holds {
                known.insert(*person, name.clone());
            }
            !holds
        });
    }

    /// Entries after the one of this sequence were never written.
    pub(super) fn forget_after(&mut self, sequence: u64) {
        self.settle(sequence);
        self.open.clear();
        self.coming.clear();
    }
}

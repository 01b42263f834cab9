//! An invented person: looks at a display, waits as people do, taps.

use turnabout_protocol::command::Act;
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{Stage, View};

use super::agenda::Agenda;
use super::client::Clients;
use super::coach;
use super::dice::Dice;

/// An invented person. Without a clock and without chance of its own: both come from outside.
#[derive(Clone, Debug)]
pub struct Person {
    part: Part,
    agenda: Agenda,
    view: Option<View>,
}

#[derive(Clone, Debug)]
enum Part {
    Coach,
    Clients(Clients),
}

impl Person {
    /// A coach with a page.
    #[must_use]
    pub fn coach(dice: Dice) -> Self {
        Self { part: Part::Coach, agenda: Agenda::new(dice), view: None }
    }

    /// Whoever is at a station's display. With `drill` they tap HELP NOW once, late in a block, so that an
    /// evening shows what it looks like; by chance nobody ever does.
    #[must_use]
    pub fn clients(mut dice: Dice, drill: bool) -> Self {
        let agenda = Agenda::new(Dice::new(dice.roll()));
        Self { part: Part::Clients(Clients::new(dice, drill)), agenda, view: None }
    }

    /// The display shows this from now on.
    pub fn see(&mut self, view: View, now: FloorMs) {
        self.view = Some(view);
        self.consider(now);
    }

    /// When this person must be asked again; nothing while an answer is awaited or there is nothing to do.
    #[must_use]
    pub fn next(&self) -> Option<FloorMs> {
        self.agenda.next()
    }

    /// The tap whose time has come. At most one is without an answer.
    pub fn act(&mut self, now: FloorMs) -> Option<Act> {
        self.agenda.take(now)
    }

    /// The answer to the last tap.
    pub fn hear(&mut self, outcome: &Outcome, now: FloorMs) {
        let act = self.agenda.hear(outcome, now);
        if let (Some(act), Part::Clients(clients)) = (act, &mut self.part) {
            clients.answered(&act, outcome);
            self.consider(now);
        }
    }

    /// The last tap will never be answered: the connection is gone, and it is none that is sent again.
    pub fn lose(&mut self, now: FloorMs) {
        self.agenda.lose(now);
    }

    /// How many sessions are over as far as this display shows, and of how many. A station's shows none.
    #[must_use]
    pub fn finished(&self) -> Option<(usize, usize)> {
        match self.view.as_ref()? {
            View::Coach(view) => {
                let over = view.groups.iter().filter(|group| group.stage == Stage::Finished).count();
                Some((over, view.groups.len()))
            }
            View::Board(view) => {
                let over = view.groups.iter().filter(|group| group.stage == Stage::Finished).count();
                Some((over, view.groups.len()))
            }
            View::Station(_) => None,
        }
    }

    fn consider(&mut self, now: FloorMs) {
        let offers = match (&mut self.part, &self.view) {
            (Part::Coach, Some(View::Coach(view))) => coach::offers(view),
            (Part::Clients(clients), Some(View::Station(view))) => clients.offers(view),
            // Another view than asked for says nothing to this person.
            (Part::Coach, Some(View::Station(_) | View::Board(_)) | None)
            | (Part::Clients(_), Some(View::Coach(_) | View::Board(_)) | None) => Vec::new(),
        };
        self.agenda.consider(offers, now);
    }
}

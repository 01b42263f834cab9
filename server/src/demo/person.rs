//! An invented person: looks at a display, waits as people do, taps.

use turnabout_protocol::command::Act;
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{Stage, View};

use super::agenda::Agenda;
use super::client::Clients;
use super::coach;
use super::dice::Dice;
use super::script::Script;

/// An invented person. Without a clock and without chance of its own: both come from outside.
#[derive(Clone, Debug)]
pub struct Person {
    part: Part,
    agenda: Agenda,
    view: Option<View>,
}

#[derive(Clone, Debug)]
enum Part {
    Coach(Script),
    Clients(Clients),
}

impl Person {
    /// A coach with a page.
    #[must_use]
    pub fn coach(dice: Dice, script: Script) -> Self {
        Self { part: Part::Coach(script), agenda: Agenda::new(dice), view: None }
    }

    /// Whoever is at a station's display.
    #[must_use]
    pub fn clients(mut dice: Dice, script: Script) -> Self {
        let agenda = Agenda::new(Dice::new(dice.roll()));
        Self { part: Part::Clients(Clients::new(dice, script)), agenda, view: None }
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
        let Some(act) = self.agenda.hear(outcome, now) else { return };
        match &mut self.part {
            Part::Coach(script) => script.answered(&act, outcome),
            Part::Clients(clients) => clients.answered(&act, outcome),
        }
        self.consider(now);
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
            (Part::Coach(script), Some(View::Coach(view))) => coach::offers(view, script),
            (Part::Clients(clients), Some(View::Station(view))) => clients.offers(view),
            // Another view than asked for says nothing to this person.
            (Part::Coach(_), Some(View::Station(_) | View::Board(_)) | None)
            | (Part::Clients(_), Some(View::Coach(_) | View::Board(_)) | None) => Vec::new(),
        };
        self.agenda.consider(offers, now);
    }
}

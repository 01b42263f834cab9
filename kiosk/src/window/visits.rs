//! A coach at a window: who wants in, whom that is asked, and what is answered meanwhile.

use std::rc::Rc;

use slint::{Global, JoinHandle};
use tokio::sync::{Notify, watch};

use super::Shown;
use crate::face::{Let, Pin, Sheet, Unlet};
use crate::gate::{Answer, Gate, NoGate};
use crate::link::socket::millis;
use crate::ui::{Kiosk, KioskWindow};

/// Whom to ask, and what is being asked.
#[derive(Debug)]
pub(super) struct Visits {
    gate: Rc<dyn Gate>,
    asked: Option<Asked>,
}

impl Default for Visits {
    fn default() -> Self {
        Self { gate: Rc::new(NoGate), asked: None }
    }
}

/// A question that is not over. Nobody listens any more once it is dropped.
struct Asked {
    answers: watch::Receiver<Answer>,
    /// Has the face follow what is answered.
    wakes: Option<JoinHandle<()>>,
}

impl std::fmt::Debug for Asked {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Asked(..)")
    }
}

impl Drop for Asked {
    fn drop(&mut self) {
        if let Some(wakes) = self.wakes.take() {
            wakes.abort();
        }
    }
}

impl Visits {
    fn ask(&mut self, pin: Pin, again: Rc<Notify>) {
        let answers = self.gate.ask(pin);
        let mut later = answers.clone();
        let follow = async move {
            while later.changed().await.is_ok() {
                again.notify_one();
            }
            again.notify_one();
        };
        // Without a loop whoever draws looks by itself.
        self.asked = Some(Asked { answers, wakes: slint::spawn_local(follow).ok() });
    }

    /// What was answered since the last look.
    fn heard(&mut self) -> Option<Let> {
        let asked = self.asked.as_mut()?;
        match asked.answers.has_changed() {
            Ok(false) => None,
            Ok(true) => match &*asked.answers.borrow_and_update() {
                Answer::Waiting => None,
                Answer::Coach(view) => Some(Let::In(Box::new(Sheet::of(view)))),
                Answer::Wrong => Some(Let::Out(Unlet::Wrong)),
                Answer::Nobody => Some(Let::Out(Unlet::Nobody)),
            },
            Err(_) => {
                let wrong = *asked.answers.borrow() == Answer::Wrong;
                self.asked = None;
                Some(Let::Out(if wrong { Unlet::Wrong } else { Unlet::Nobody }))
            }
        }
    }
}

impl Shown {
    /// At this gate.
    #[must_use]
    pub fn at(mut self, gate: Rc<dyn Gate>) -> Self {
        self.visits.gate = gate;
        self
    }

    /// Real milliseconds, as the link counts them; nothing before there is one.
    pub(super) fn real(&self) -> Option<u64> {
        self.taps.as_ref().map(|taps| millis(taps.start, self.clock.now()))
    }

    /// Takes what the gate has answered meanwhile, and listens no longer than somebody waits for it.
    pub fn hear(&mut self) {
        let Some(real) = self.real() else { return };
        if let Some(answer) = self.visits.heard() {
            self.own.visit_mut().heard(answer, real);
        }
        if !self.own.visit().listens(real) {
            self.visits.asked = None;
        }
    }

    /// Draws whether a coach can come.
    pub(super) fn offer_visits(&self, window: &KioskWindow) {
        Kiosk::get(window).set_visits_offered(self.visits.gate.is_offered());
    }

    /// A coach wants in.
    pub(super) fn want_visit(&mut self, window: &KioskWindow) {
        let (Some(real), Some(face)) = (self.real(), &self.face) else { return };
        if self.is_set_up() || !self.visits.gate.is_offered() {
            return;
        }
        self.own.visit_mut().want(face.has_room_for_a_visit(), real);
        if self.own.visit().is_here(real) {
            Kiosk::get(window).set_asking(false);
            self.own.close_pad();
        }
        self.again.notify_one();
    }

    /// Whoever has come is done.
    pub(super) fn end_visit(&mut self) {
        self.own.visit_mut().close();
        self.visits.asked = None;
    }

    /// Asks what is to be asked after a key.
    pub(super) fn ask_gate(&mut self) {
        if let Some(pin) = self.own.visit_mut().asks() {
            self.visits.ask(pin, Rc::clone(&self.again));
        }
    }
}

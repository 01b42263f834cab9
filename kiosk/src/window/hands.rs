//! Ties touches and keys to the window: what they mean is decided in [`crate::input`], and done here.

use std::cell::RefCell;
use std::rc::Rc;
use std::time::Instant;

use slint::{ComponentHandle, Global};
use tokio::sync::mpsc::Sender;
use turnabout_protocol::command::Act;

use super::Shown;
use super::keys::meant;
use crate::face::{Body, Step, Tap};
use crate::input::{Does, FourKey};
use crate::link::socket::{Tapped, millis};
use crate::ui::{Kiosk, KioskWindow};

/// Where what is pressed goes, and from when real time counts there.
#[derive(Clone, Debug)]
pub(super) struct Taps {
    pub(super) to: Sender<Tapped>,
    pub(super) start: Instant,
}

impl Taps {
    fn send(&self, now: Instant, act: Act) {
        // A full inbox means that the link is behind; the finger will come again.
        let _ = self.to.try_send((now, act));
    }
}

/// Connects the hands at a window: what is pressed on what is shown goes to the link. Real time counts from `start`.
pub fn listen(window: &KioskWindow, shown: &Rc<RefCell<Shown>>, taps: Sender<Tapped>, start: Instant) {
    shown.borrow_mut().taps = Some(Taps { to: taps, start });
    attach(window, shown);
}

/// Connects the hands at a window to what is shown in it, whether it has a link or not: once, for none of what calls may be
/// set anew while it calls.
pub(super) fn attach(window: &KioskWindow, shown: &Rc<RefCell<Shown>>) {
    let kiosk = Kiosk::get(window);
    let (own, weak) = (Rc::clone(shown), window.as_weak());
    kiosk.on_down(move |name| {
        let mut shown = own.borrow_mut();
        let now = shown.clock.millis();
        shown.hands.down(&name, now);
        if let Some(window) = weak.upgrade() {
            shown.redraw(&window);
        }
    });
    let (own, weak) = (Rc::clone(shown), window.as_weak());
    kiosk.on_up(move |name, inside| {
        hand(&own, &weak, |shown, now| shown.hands.up(&name, inside, now));
    });
    let (own, weak) = (Rc::clone(shown), window.as_weak());
    kiosk.on_press(move |name| {
        hand(&own, &weak, |shown, now| shown.hands.at_once(&name, now));
    });
    let (own, weak) = (Rc::clone(shown), window.as_weak());
    kiosk.on_visit_wanted(move || {
        if let Some(window) = weak.upgrade() {
            own.borrow_mut().want_visit(&window);
        }
    });
    shown.borrow().offer_visits(window);
    let (own, weak) = (Rc::clone(shown), window.as_weak());
    kiosk.on_key(move |text, down, repeats| {
        let Some(key) = meant(&text) else { return };
        hand(&own, &weak, |shown, now| shown.key(key, down, repeats, now));
        if let Some(window) = weak.upgrade() {
            Kiosk::get(&window).set_both_held(own.borrow().hands.both());
        }
    });
}

/// A hand does something; what it means is done, and drawn.
fn hand(
    shown: &Rc<RefCell<Shown>>,
    window: &slint::Weak<KioskWindow>,
    means: impl FnOnce(&mut Shown, u64) -> Option<Does>,
) {
    let Some(window) = window.upgrade() else { return };
    let key = {
        let mut shown = shown.borrow_mut();
        let now = shown.clock.millis();
        let does = means(&mut shown, now);
        let key = does.and_then(|does| shown.perform(&window, does));
        shown.redraw(&window);
        key
    };
    // Whoever sets the display up draws anew, so nothing is held here meanwhile.
    if let Some(key) = key {
        Kiosk::get(&window).invoke_setup_press(key.into());
    }
}

impl Shown {
    /// A key goes down or comes up.
    fn key(&mut self, key: FourKey, down: bool, repeats: bool, now: u64) -> Option<Does> {
        if !down {
            self.hands.key_up(key);
            return None;
        }
        if self.is_set_up() && key == FourKey::Help && !repeats {
            return self.help_beneath();
        }
        self.hands.key_down(key, repeats, now)
    }

    /// The call for help of the face that stands behind the one on which the display is set up.
    fn help_beneath(&self) -> Option<Does> {
        let face = self.face.as_ref()?;
        let Body::Stations { panels } = &face.body else { return None };
        let large = panels.first()?;
        face.button(Tap::HelpNow, Some(&large.key)).map(|button| Does::Send(button.act.clone()))
    }

    /// Does what was pressed; the name of a key of a display that is being set up is left to be pressed.
    fn perform(&mut self, window: &KioskWindow, does: Does) -> Option<String> {
        let kiosk = Kiosk::get(window);
        match does {
            Does::Send(act) => {
                if matches!(act, Act::Done { .. }) {
                    kiosk.set_asking(false);
                }
                // Whoever uses the station, or calls for help, has it back at once.
                self.end_visit();
                self.send(act);
            }
            Does::Step(step) => self.step(&step),
            Does::Ask(_) => kiosk.set_asking(true),
            Does::Unask => kiosk.set_asking(false),
            Does::Choose(station) => {
                self.chosen = Some((station, self.clock.now()));
                // Whoever looks at another station has left this one as it was.
                self.own.close_pad();
                self.end_visit();
            }
            Does::SetUp(name, _) => return Some(name),
            // Done by the hands themselves.
            Does::More | Does::Wipe => {}
        }
        None
    }

    fn send(&self, act: Act) {
        if let Some(taps) = &self.taps {
            taps.send(self.clock.now(), act);
        }
    }

    fn step(&mut self, step: &Step) {
        let Some(taps) = self.taps.clone() else { return };
        for act in self.own.press(step, millis(taps.start, self.clock.now())) {
            self.send(act);
        }
        self.ask_gate();
    }

    /// Draws what hands have done at once, and has the face follow.
    fn redraw(&mut self, window: &KioskWindow) {
        if self.is_set_up() {
            let drawn = self.hands.drawn(self.clock.millis());
            crate::apply::mark_setup(window, &drawn);
            self.drawn = drawn;
        } else {
            self.offer(window);
        }
        self.again.notify_one();
    }
}

//! The kiosk with a window: one thread, the link as a task of the window's own loop.

use std::cell::RefCell;
use std::rc::Rc;
use std::time::{Duration, Instant};

use async_compat::Compat;
use slint::{ComponentHandle, Global, PhysicalSize};
use tokio::sync::Notify;
use tokio::sync::mpsc::{Sender, channel};
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::Language;

use crate::apply::{apply, letters};
use crate::duty::Duty;
use crate::face::{Body, Face, Pad, Tap};
use crate::link::Link;
use crate::link::limits::{INBOX, LOOK_MS};
use crate::link::socket::{Tapped, millis, run};
use crate::ui::{Kiosk, KioskWindow};

/// How long a station that was chosen stays large: one look and one tap.
const FOCUS: Duration = Duration::from_secs(15);

/// How long a finger or an open question keeps everything in its place: far longer than an answer takes. A
/// question that nobody answers is closed then.
const HOLD: Duration = Duration::from_secs(20);

/// What is on the screen.
#[derive(Debug, Default)]
pub struct Shown {
    face: Option<Face>,
    /// How many letters went into a row.
    letters: usize,
    /// The station somebody chose, and when.
    chosen: Option<(StationId, Instant)>,
    /// Since when a finger is down or a question is open.
    held: Option<Instant>,
    /// What somebody is saying of plates.
    pad: Option<Pad>,
    /// Told when something changed here that sends nothing.
    again: Rc<Notify>,
}

impl Shown {
    /// Draws a face, unless it is drawn already. From then on the buttons send what it says.
    pub fn draw(&mut self, window: &KioskWindow, face: Face) {
        // What is not drawn any more is not being said any more.
        if face.pad.is_none() {
            self.pad = None;
        }
        // Another size of the window breaks lines elsewhere.
        let letters = letters(window);
        if self.face.as_ref() != Some(&face) || self.letters != letters {
            apply(window, &face);
            self.face = Some(face);
            self.letters = letters;
        }
    }

    /// What somebody is saying of plates.
    #[must_use]
    pub const fn pad(&self) -> Option<&Pad> {
        self.pad.as_ref()
    }

    /// Takes down whether a finger is down or a question is open; false once that lasts too long.
    pub fn hold(&mut self, held: bool, now: Instant) -> bool {
        if !held {
            self.held = None;
            return true;
        }
        let since = *self.held.get_or_insert(now);
        now.saturating_duration_since(since) < HOLD
    }

    /// The large station that is drawn now.
    fn large(&self) -> Option<StationId> {
        match &self.face.as_ref()?.body {
            Body::Stations { panels } => panels.first().map(|panel| panel.id),
            Body::Blank { .. } | Body::Board { .. } => None,
        }
    }

    /// The station that must be large now. While a finger is down or a question is open, nothing changes
    /// place.
    #[must_use]
    pub fn focus(&self, held: bool, now: Instant) -> Option<StationId> {
        if held {
            return self.large();
        }
        self.chosen.filter(|(_, at)| now.duration_since(*at) < FOCUS).map(|(station, _)| station)
    }
}

/// How large the window opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Opening {
    /// As a window of 1920 x 1080, or what a window manager makes of it.
    Preferred,
    /// Over the whole screen.
    Fullscreen,
    /// In pixels.
    Size {
        /// From left to right.
        width: u32,
        /// From top to bottom.
        height: u32,
    },
}

/// What the window opens on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screen {
    /// How large the window opens there.
    pub opening: Opening,
    /// From corner to corner, in inches.
    pub inches: f32,
}

/// Opens the window and runs until it is closed.
///
/// # Errors
/// If there is no display to open a window on.
pub fn open(url: String, link: Link, language: Language, screen: Screen) -> Result<(), slint::PlatformError> {
    let window = KioskWindow::new()?;
    Kiosk::get(&window).set_diagonal(screen.inches);
    if let Opening::Size { width, height } = screen.opening {
        window.window().set_size(PhysicalSize::new(width, height));
    }
    let _duty = Duty::begin(&window, screen.opening == Opening::Fullscreen);
    connect(&window, url, link, language)?;
    window.run()
}

/// Ties a window to a link, which runs as a task of the window's own loop.
///
/// # Errors
/// If there is no loop to run on.
pub fn connect(
    window: &KioskWindow,
    url: String,
    link: Link,
    language: Language,
) -> Result<(), slint::PlatformError> {
    let (taps, inbox) = channel(INBOX);
    let shown = Rc::new(RefCell::new(Shown::default()));
    let start = Instant::now();
    listen(window, &shown, taps, start);
    let again = Rc::clone(&shown.borrow().again);
    let weak = window.as_weak();
    let show = move |link: &mut Link, real: u64| {
        // No strong handle lives across a wait: the window can close at any time.
        let Some(window) = weak.upgrade() else { return real + LOOK_MS };
        let (kiosk, now) = (Kiosk::get(&window), Instant::now());
        let mut shown = shown.borrow_mut();
        if !shown.hold(kiosk.get_touched() || kiosk.get_asking(), now) {
            kiosk.set_touched(false);
            kiosk.set_asking(false);
        }
        let focus = shown.focus(kiosk.get_touched() || kiosk.get_asking(), now);
        let face = link.face(real, language, focus, shown.pad());
        shown.draw(&window, face);
        let Some(drawn) = &shown.face else { return real + LOOK_MS };
        link.shows_until(real, drawn, language, focus, shown.pad())
    };
    let link = Compat::new(run(url, link, start, inbox, again, show));
    slint::spawn_local(link).map_err(|error| slint::PlatformError::Other(error.to_string()))?;
    Ok(())
}

/// Connects the buttons of a window: what is pressed on what is shown goes to the link. Real time counts from
/// `start`.
pub fn listen(window: &KioskWindow, shown: &Rc<RefCell<Shown>>, taps: Sender<Tapped>, start: Instant) {
    let kiosk = Kiosk::get(window);
    let drawn = Rc::clone(shown);
    kiosk.on_press(move |name| {
        let now = Instant::now();
        let mut shown = drawn.borrow_mut();
        let acts = pressed(&mut shown, &name, millis(start, now));
        shown.again.notify_one();
        for act in acts {
            // A full inbox means that the link is behind; the finger will come again.
            let _ = taps.try_send((now, act));
        }
    });
    let drawn = Rc::clone(shown);
    kiosk.on_choose(move |key| {
        let mut shown = drawn.borrow_mut();
        let Some(Face { body: Body::Stations { panels }, .. }) = &shown.face else { return };
        let station = panels.iter().find(|panel| panel.key == key.as_str()).map(|panel| panel.id);
        shown.chosen = station.map(|station| (station, Instant::now()));
        // Whoever looks at another station has left this one as it was.
        shown.pad = None;
        shown.again.notify_one();
    });
}

/// What a button of the large station sends, as it was drawn. A key changes what is being said.
fn pressed(shown: &mut Shown, name: &str, real: u64) -> Vec<Act> {
    let Some(face) = &shown.face else { return Vec::new() };
    let Body::Stations { panels } = &face.body else { return Vec::new() };
    let large = panels.first().map(|panel| panel.key.as_str());
    if let Some(tap) = Tap::named(name) {
        return face.button(tap, large).map(|button| button.act.clone()).into_iter().collect();
    }
    let Some(step) = face.key(name, large).map(|key| key.step.clone()) else { return Vec::new() };
    let (pad, acts) = Pad::after(shown.pad.take(), &step, real);
    shown.pad = pad;
    acts
}

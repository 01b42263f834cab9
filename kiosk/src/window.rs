//! The kiosk with a window: one thread, the link as a task of the window's own loop.

mod clock;
mod desk;
mod hands;
mod keys;
mod visits;

use std::cell::RefCell;
use std::fmt;
use std::rc::Rc;
use std::time::{Duration, Instant};

use async_compat::Compat;
use slint::{ComponentHandle, Global, PhysicalSize};
use tokio::sync::Notify;
use tokio::sync::mpsc::channel;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::Language;

use crate::apply::{apply_hands, apply_with, letters, mark_setup, room};
use crate::duty::Duty;
use crate::face::{Body, Face, Going, Own, Pad};
use crate::gate::Gate;
use crate::input::{Drawn, Hands, Seen, choices, setup_choices};
use crate::link::Link;
use crate::link::limits::{INBOX, LOOK_MS};
use crate::link::socket::{Door, run};
use crate::settings::store::{SetAside, Store};
use crate::settings::{Rotation, Settings};
use crate::setup::SetupFace;
use crate::sound::{Sounds, Speakers};
use crate::surroundings::Surroundings;
use crate::ui::{Kiosk, KioskWindow};
pub use clock::Clock;
pub use desk::Running;
pub use hands::listen;
use hands::{Taps, attach};
use visits::Visits;

/// How long a station that was chosen stays large: one look and one tap.
const FOCUS: Duration = Duration::from_secs(15);

/// How long a finger or an open question keeps everything in its place: far longer than an answer takes. A
/// question that nobody answers is closed then.
const HOLD: Duration = Duration::from_secs(20);

/// How long a display that is being set up waits for the next touch, where there is a face to go back to.
const SETUP: Duration = Duration::from_secs(60);

/// How long something is said of this start.
const REMARK: Duration = Duration::from_secs(60);

/// What is on the screen.
#[derive(Debug, Default)]
pub struct Shown {
    face: Option<Face>,
    language: Language,
    /// The display is being set up, and when it was touched last: no face is drawn meanwhile.
    setup: Option<Instant>,
    /// How large the screen is set to be, in inches, for when it is no longer being set up.
    inches: f32,
    /// Which of the links draws: each that begins takes the place of the one before.
    link: u32,
    /// What is said of this start as long as nothing else is, and since when.
    remark: Option<(String, Instant)>,
    /// It is said now.
    remarked: bool,
    /// How many letters went into a row.
    letters: usize,
    /// The station somebody chose, and when.
    chosen: Option<(StationId, Instant)>,
    /// Since when a finger is down or a question is open.
    held: Option<Instant>,
    /// What is said of plates, and whose pacer is off.
    own: Own,
    /// Told when something changed here that sends nothing.
    again: Rc<Notify>,
    /// What touches and keys mean.
    hands: Hands,
    /// What is drawn of them.
    drawn: Drawn,
    /// By which they are timed.
    clock: Clock,
    /// Where what is pressed goes.
    taps: Option<Taps>,
    /// What of it is heard.
    sounds: Sounds,
    /// Whom a coach's PIN is told.
    visits: Visits,
}

impl Shown {
    /// As it begins, timed by this clock.
    #[must_use]
    pub fn timed(clock: Clock) -> Self {
        Self { clock, ..Self::default() }
    }

    /// Draws a face, unless it is drawn already, with floor time as it goes by. From then on the buttons send what it says.
    pub fn draw(&mut self, window: &KioskWindow, face: Face, going: Option<Going>) {
        self.own.drawn(&face);
        self.hear();
        self.offer_visits(window);
        // Another size of the window breaks lines elsewhere.
        let letters = letters(window);
        let remark = self.remark.take_if(|(_, since)| since.elapsed() < REMARK);
        let remarks = remark.is_some() && face.notice.is_empty();
        if self.face.as_ref() != Some(&face) || self.letters != letters || self.remarked != remarks {
            apply_with(window, &face, going, &self.drawn);
            if let Some((text, _)) = remark.as_ref().filter(|_| remarks) {
                Kiosk::get(window).set_notice(text.into());
            }
            self.remarked = remarks;
            self.face = Some(face);
            self.letters = letters;
        }
        self.remark = remark;
        self.offer(window);
    }

    /// Has hands press what is drawn now, and draws what they do.
    fn offer(&mut self, window: &KioskWindow) {
        let (Some(face), false) = (&self.face, self.is_set_up()) else { return };
        let (kiosk, now) = (Kiosk::get(window), self.clock.millis());
        let seen = Seen {
            asking: kiosk.get_asking(),
            quiet: kiosk.get_notice().is_empty() && kiosk.get_saving().is_empty(),
            room: room(window),
            wiping: self.hands.is_wiping(now),
        };
        self.hands.draws(choices(face, seen), now);
        let drawn = self.hands.drawn(now);
        if drawn != self.drawn {
            apply_hands(window, face, &drawn);
            self.drawn = drawn;
            // Another page of the row is drawn from now on.
            self.hands.draws(choices(face, seen), now);
        }
    }

    /// Has hands press what is drawn of a display that is being set up.
    pub(crate) fn offer_setup(&mut self, window: &KioskWindow, face: &SetupFace) {
        let now = self.clock.millis();
        self.hands.draws(setup_choices(face), now);
        self.drawn = self.hands.drawn(now);
        mark_setup(window, &self.drawn);
    }

    /// Begins to set the display up, or goes on with it: every touch does.
    pub(crate) fn set_up(&mut self, now: Instant) {
        if self.setup.is_none() {
            self.hands.set_up();
        }
        self.setup = Some(now);
        self.own.close_pad();
        self.end_visit();
    }

    /// Whether the display is being set up.
    pub(crate) const fn is_set_up(&self) -> bool {
        self.setup.is_some()
    }

    /// Goes back to the face.
    pub(crate) fn go_back(&mut self, window: &KioskWindow) {
        Kiosk::get(window).set_diagonal(self.inches);
        (self.setup, self.face) = (None, None);
        self.again.notify_one();
    }

    /// Goes back to the face by itself: where nobody goes on, and where somebody needs help.
    fn goes_back(&mut self, window: &KioskWindow, help: bool, now: Instant) {
        if self.setup.is_some_and(|touched| help || now.saturating_duration_since(touched) >= SETUP) {
            self.go_back(window);
        }
    }

    /// What the display keeps to itself.
    #[must_use]
    pub const fn own(&self) -> &Own {
        &self.own
    }

    /// What somebody is saying of plates.
    #[must_use]
    pub const fn pad(&self) -> Option<&Pad> {
        self.own.pad()
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

    /// When something else is drawn of hands, by a clock that says `real` now.
    fn hands_change(&self, real: u64) -> u64 {
        let now = self.clock.millis();
        self.hands.changes(now).map_or(u64::MAX, |at| real + (at - now))
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

/// How large a window opens.
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

/// What a window opens on.
pub struct Start {
    /// What the display is set to.
    pub settings: Settings,
    /// Where that is kept.
    pub store: Store,
    /// A broken file that was set aside.
    pub aside: Option<SetAside>,
    /// Somebody wants to set the display up, whatever is known.
    pub setup: bool,
    /// How large the window opens.
    pub opening: Opening,
    /// Whom a coach's PIN is told.
    pub gate: Rc<dyn Gate>,
    /// What there is around it while it is set up.
    pub surroundings: Rc<dyn Surroundings>,
    /// By what it can be heard.
    pub speakers: Option<Speakers>,
}

impl fmt::Debug for Start {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { settings, store, aside, setup, opening, gate, surroundings, speakers } = self;
        f.debug_struct("Start")
            .field("settings", settings)
            .field("store", store)
            .field("aside", aside)
            .field("setup", setup)
            .field("opening", opening)
            .field("gate", gate)
            .field("surroundings", surroundings)
            .field("speakers", &speakers.is_some())
            .finish()
    }
}

/// Why a window is no more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// It was closed.
    Closed,
    /// The program has to begin anew, with the picture turned so.
    Anew(Option<Rotation>),
}

/// Opens the window and runs until it is closed. Where no server or nothing to show is known, it is set up first.
///
/// # Errors
/// If there is no display to open a window on.
pub fn open(start: Start) -> Result<End, slint::PlatformError> {
    let window = KioskWindow::new()?;
    if let Opening::Size { width, height } = start.opening {
        window.window().set_size(PhysicalSize::new(width, height));
    }
    let _duty = Duty::begin(&window, start.opening == Opening::Fullscreen);
    let running = Running::begin(&window, start)?;
    window.run()?;
    Ok(running.end())
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
    let inches = Kiosk::get(window).get_diagonal();
    let shown = Shown { language, inches, ..Shown::default() };
    let shown = Rc::new(RefCell::new(shown));
    attach(window, &shown);
    follow(window, &shown, Door { url, token: None }, link)
}

/// Ties what is on the screen to a link. The link before, if there was one, ends.
fn follow(
    window: &KioskWindow,
    shown: &Rc<RefCell<Shown>>,
    door: Door,
    link: Link,
) -> Result<(), slint::PlatformError> {
    let (taps, inbox) = channel(INBOX);
    let start = Instant::now();
    {
        let mut shown = shown.borrow_mut();
        shown.end_visit();
        if let Some(real) = shown.real() {
            shown.own.visit_mut().begin_anew(real);
        }
    }
    // Nobody sends to the link before any more, which ends it. Hands stay as they are: one of them may be what began this.
    shown.borrow_mut().taps = Some(Taps { to: taps, start });
    let (own, again) = {
        let mut shown = shown.borrow_mut();
        shown.link += 1;
        // What was waiting to be told was for the link before.
        shown.again = Rc::default();
        shown.sounds.begin_anew();
        (shown.link, Rc::clone(&shown.again))
    };
    let (weak, shown) = (window.as_weak(), Rc::clone(shown));
    let show = move |link: &mut Link, real: u64| {
        // No strong handle lives across a wait: the window can close at any time.
        let Some(window) = weak.upgrade() else { return real + LOOK_MS };
        let (kiosk, now) = (Kiosk::get(&window), Instant::now());
        let mut shown = shown.borrow_mut();
        if shown.link != own {
            return real + LOOK_MS;
        }
        if !shown.hold(kiosk.get_touched() || kiosk.get_asking(), now) {
            kiosk.set_touched(false);
            kiosk.set_asking(false);
        }
        let choosing = shown.hands.is_choosing(shown.clock.millis());
        shown.hear();
        let held = kiosk.get_touched() || kiosk.get_asking() || choosing || shown.own.visit().is_here(real);
        let focus = shown.focus(held, now);
        let language = shown.language;
        let face = link.face(real, language, focus, &shown.own);
        shown.goes_back(&window, face.help.is_some(), now);
        if shown.is_set_up() {
            return real + LOOK_MS;
        }
        // Before the picture, which takes longer: both come at the same instant then.
        shown.sounds.look(link, &face, real);
        shown.draw(&window, face, link.going(real));
        let Some(drawn) = &shown.face else { return real + LOOK_MS };
        let until = link.shows_until(real, drawn, language, focus, &shown.own);
        until.min(shown.hands_change(real))
    };
    let link = Compat::new(run(door, link, start, inbox, again, show));
    slint::spawn_local(link).map_err(|error| slint::PlatformError::Other(error.to_string()))?;
    Ok(())
}

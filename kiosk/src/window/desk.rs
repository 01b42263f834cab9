//! Where a display is set up: what is chosen there is kept, and the usual face follows it.

use std::cell::RefCell;
use std::rc::{Rc, Weak};
use std::time::{Duration, Instant};

use async_compat::Compat;
use slint::{ComponentHandle, Global, PlatformError};
use tokio::sync::{Notify, watch};
use tokio::time::{sleep, timeout};
use turnabout_protocol::text::message;

use super::hands::attach;
use super::{End, SETUP, Shown, Start, follow};
use crate::apply::apply_setup;
use crate::duty::turning::{self, Turner, must_begin_anew};
use crate::link::token::Token;
use crate::settings::store::{SetAside, Store};
use crate::settings::{Goal, Rotation, Server, Settings};
use crate::setup::{Code, Effect, Setup, SetupFace, ask};
use crate::sound::{Ability, Cue, Speakers};
use crate::surroundings::{Enrolled, Enrols, NotTaken, Surroundings};
use crate::ui::{Kiosk, KioskWindow};

/// How long a sound device may take until it plays.
const OPENS: Duration = Duration::from_secs(1);

/// All that goes on in one window, as long as this is kept.
pub struct Running(Rc<RefCell<Desk>>);

impl Running {
    /// Begins with the usual face, or with what is needed for one.
    ///
    /// # Errors
    /// If there is no loop to run on.
    pub fn begin(window: &KioskWindow, start: Start) -> Result<Self, PlatformError> {
        Desk::begin(window, start).map(Self)
    }

    /// Why the window is no more.
    #[must_use]
    pub fn end(&self) -> End {
        self.0.borrow().anew.map_or(End::Closed, End::Anew)
    }
}

/// What the touches of a display that is set up are about.
struct Desk {
    window: slint::Weak<KioskWindow>,
    shown: Rc<RefCell<Shown>>,
    store: Store,
    settings: Settings,
    turner: Turner,
    aside: Option<SetAside>,
    /// Where the link goes, once there is one.
    goal: Option<Goal>,
    /// The display as it is being set up, and what is drawn of it.
    setup: Option<(Setup, SetupFace)>,
    /// How often it was set up: what was asked the time before is nobody's.
    times: u32,
    anew: Option<Option<Rotation>>,
    surroundings: Rc<dyn Surroundings>,
    speakers: Option<Speakers>,
    /// Told when nobody looks for servers any more.
    looking: Option<Rc<Notify>>,
    own: Weak<RefCell<Self>>,
}

impl Desk {
    fn begin(window: &KioskWindow, start: Start) -> Result<Rc<RefCell<Self>>, PlatformError> {
        let Start { settings, store, aside, setup, opening: _, gate, surroundings, speakers } = start;
        let inches = settings.inches.inches();
        let shown = Shown { language: settings.language, inches, ..Shown::default() }.at(gate);
        let desk = Rc::new_cyclic(|own| {
            RefCell::new(Self {
                window: window.as_weak(),
                shown: Rc::new(RefCell::new(shown)),
                store,
                settings,
                turner: Turner::here(),
                aside,
                goal: None,
                setup: None,
                times: 0,
                anew: None,
                surroundings,
                speakers,
                looking: None,
                own: Weak::clone(own),
            })
        });
        let kiosk = Kiosk::get(window);
        kiosk.set_diagonal(inches);
        let weak = Rc::downgrade(&desk);
        kiosk.on_setup_wanted(move || {
            if let Some(desk) = weak.upgrade() {
                desk.borrow_mut().set_up();
            }
        });
        // Before there is a link as well.
        attach(window, &desk.borrow().shown);
        let weak = Rc::downgrade(&desk);
        kiosk.on_setup_press(move |name| {
            if let Some(desk) = weak.upgrade() {
                desk.borrow_mut().press(&name);
            }
        });
        desk.borrow_mut().go(setup)?;
        Ok(desk)
    }

    /// Goes where the settings say, and sets the display up where they do not or somebody wants to.
    fn go(&mut self, setup: bool) -> Result<(), PlatformError> {
        self.turn_sound();
        self.connect()?;
        if setup || self.goal.is_none() {
            self.set_up();
        } else if let Some(aside) = &self.aside {
            let kept = aside.kept.file_name().unwrap_or_default().display().to_string();
            let text = message(self.settings.language, "label.setup_aside").replace("{file}", &kept);
            self.shown.borrow_mut().remark = Some((text, Instant::now()));
        }
        Ok(())
    }

    /// Is heard as the settings say.
    fn turn_sound(&self) {
        let sounds = &mut self.shown.borrow_mut().sounds;
        if sounds.is_on() != self.settings.sound {
            let wanted = self.speakers.as_ref().filter(|_| self.settings.sound);
            sounds.turn(wanted.map(|speakers| speakers()));
        }
    }

    /// Whether it can be heard, as far as anybody knows.
    fn ability(&self) -> Ability {
        match self.shown.borrow().sounds.trouble() {
            _ if self.speakers.is_none() => Ability::None,
            Some(why) => Ability::Fails(why),
            None => Ability::Works,
        }
    }

    /// Goes where the settings say, unless that is where the link goes already: what waits there to be sent goes on
    /// waiting.
    fn connect(&mut self) -> Result<(), PlatformError> {
        let (Some(window), Some(goal)) = (self.window.upgrade(), self.settings.goal()) else { return Ok(()) };
        if self.goal.as_ref() != Some(&goal) {
            follow(&window, &self.shown, goal.door.clone(), goal.link())?;
            self.goal = Some(goal);
        }
        Ok(())
    }

    /// Begins to set the display up.
    fn set_up(&mut self) {
        if self.shown.borrow().is_set_up() {
            return;
        }
        let aside = self.aside.as_ref().map(|aside| aside.kept.clone());
        let setup = Setup::new(&self.settings, self.turner, self.goal.is_some(), aside);
        let mut setup = setup.heard(self.ability());
        let effect = setup.begin();
        let face = setup.face();
        self.setup = Some((setup, face));
        self.times += 1;
        self.shown.borrow_mut().set_up(Instant::now());
        self.look();
        self.draw();
        self.perform(effect);
    }

    /// Looks for servers in the network from now on, and no longer as before.
    fn look(&mut self) {
        self.look_no_more();
        let (own, mut found) = (Weak::clone(&self.own), self.surroundings.look());
        let over = Rc::new(Notify::new());
        self.looking = Some(Rc::clone(&over));
        let look = async move {
            loop {
                let now = found.borrow_and_update().clone();
                let Some(desk) = own.upgrade() else { return };
                // Whoever needs help, or is long gone, ends a set-up without a word here.
                if !desk.borrow().shown.borrow().is_set_up() {
                    return;
                }
                if !now.is_empty() {
                    desk.borrow_mut().change(|setup| setup.sees(&now));
                }
                drop(desk);
                tokio::select! {
                    more = timeout(SETUP, found.changed()) => if let Ok(Err(_)) = more { return },
                    () = over.notified() => return,
                }
            }
        };
        // Without a loop there is no window either.
        let _ = slint::spawn_local(Compat::new(look));
    }

    fn look_no_more(&mut self) {
        if let Some(over) = self.looking.take() {
            over.notify_one();
        }
    }

    /// Takes something that was found out, and draws what that changes.
    fn change<T>(&mut self, take: impl FnOnce(&mut Setup) -> T) -> Option<T> {
        let (setup, _) = self.setup.as_mut()?;
        let taken = take(setup);
        self.draw();
        Some(taken)
    }

    /// Draws what is being set up, as large as it is to be.
    fn draw(&mut self) {
        let (Some(window), Some((setup, face))) = (self.window.upgrade(), &mut self.setup) else { return };
        if self.shown.borrow().is_set_up() {
            *face = setup.face();
            Kiosk::get(&window).set_diagonal(setup.draft().inches.inches());
            apply_setup(&window, face);
            self.shown.borrow_mut().offer_setup(&window, face);
        }
    }

    /// Presses a key as it was drawn.
    fn press(&mut self, name: &str) {
        if !self.shown.borrow().is_set_up() {
            return;
        }
        let Some((setup, face)) = &mut self.setup else { return };
        let Some(key) = face.key(name) else { return };
        let effect = setup.take(&key.step.clone());
        self.shown.borrow_mut().set_up(Instant::now());
        self.draw();
        self.perform(effect);
    }

    fn perform(&mut self, effect: Option<Effect>) {
        match effect {
            None => {}
            Some(Effect::Ask(number, server, token)) => {
                let enrols = self.surroundings.enrols(&server);
                self.find_out(settled(enrols, |enrols| *enrols != Enrols::Unknown), move |setup, enrols| {
                    setup.enrols(number, enrols);
                    None
                });
                let stations = async move { ask::stations(&server, token.as_ref()).await };
                self.find_out(stations, move |setup, answer| {
                    setup.answered(number, answer);
                    None
                });
            }
            Some(Effect::Enrol(number, server, code)) => {
                let answer = self.tell(&server, &code);
                self.find_out(answer, move |setup, answer| setup.enrolled(number, answer));
            }
            Some(Effect::Hear) => self.hear(),
            Some(Effect::Save(settings)) => self.save(*settings),
            Some(Effect::Leave) => self.leave(),
        }
    }

    /// Lets somebody hear what it is to be heard: a device that has to be opened first would swallow what comes at once.
    fn hear(&self) {
        let Some(mut speaker) = self.speakers.as_ref().map(|speakers| speakers()) else { return };
        let sounds = async move {
            speaker.soon();
            sleep(OPENS).await;
            speaker.play(Cue::Go);
            sleep(OPENS).await;
            speaker.trouble().map_or(Ability::Works, Ability::Fails)
        };
        self.find_out(sounds, |setup, ability| {
            setup.sounded(ability);
            None
        });
    }

    /// Tells a server a code, and waits for what comes of it.
    fn tell(&self, server: &Server, code: &Code) -> impl Future<Output = Result<Token, NotTaken>> + use<> {
        let answer = self.surroundings.enrol(server, self.settings.device, code);
        async move {
            match settled(answer, |answer| *answer != Enrolled::Waiting).await {
                Some(Enrolled::Taken(token)) => Ok(token),
                Some(Enrolled::Not(why)) => Err(why),
                Some(Enrolled::Waiting) | None => Err(NotTaken::Nobody),
            }
        }
    }

    /// Waits for an answer, takes it and does what that asks of the world.
    fn find_out<T: 'static>(
        &self,
        question: impl Future<Output = T> + 'static,
        take: impl FnOnce(&mut Setup, T) -> Option<Effect> + 'static,
    ) {
        let (own, times) = (Weak::clone(&self.own), self.times);
        let question = async move {
            let answer = question.await;
            let Some(desk) = own.upgrade() else { return };
            let mut desk = desk.borrow_mut();
            if desk.times != times {
                return;
            }
            let effect = desk.change(|setup| take(setup, answer)).flatten();
            desk.perform(effect);
        };
        // Without a loop there is no window either.
        let _ = slint::spawn_local(Compat::new(question));
    }

    fn leave(&mut self) {
        self.look_no_more();
        self.setup = None;
        if let Some(window) = self.window.upgrade() {
            self.shown.borrow_mut().go_back(&window);
        }
    }

    /// Keeps what was chosen, and goes by it.
    fn save(&mut self, settings: Settings) {
        let saved = self.store.save(&settings);
        if let (Err(error), Some((setup, _))) = (&saved, &mut self.setup) {
            eprintln!("turnabout-kiosk: {error}");
            setup.not_saved(error.to_string());
            self.draw();
            return;
        }
        self.aside = None;
        let rotation = settings.rotation;
        if must_begin_anew(self.turner, rotation, turning::told().as_deref()) {
            self.anew = Some(rotation);
            // A loop that is over already ends the window, too.
            let _ = slint::quit_event_loop();
            return;
        }
        {
            let mut shown = self.shown.borrow_mut();
            (shown.language, shown.inches) = (settings.language, settings.inches.inches());
        }
        self.settings = settings;
        self.turn_sound();
        if let Err(error) = self.connect() {
            eprintln!("turnabout-kiosk: {error}");
        }
        self.leave();
    }
}

/// The first answer that is one; nothing where there is none in as long as a server may take.
async fn settled<T: Clone>(mut answer: watch::Receiver<T>, is_one: impl FnMut(&T) -> bool) -> Option<T> {
    let settled = timeout(ask::PATIENCE, answer.wait_for(is_one)).await;
    settled.ok()?.ok().map(|answer| answer.clone())
}

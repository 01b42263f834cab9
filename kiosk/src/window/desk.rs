//! Where a display is set up: what is chosen there is kept, and the usual face follows it.

use std::cell::RefCell;
use std::rc::{Rc, Weak};
use std::time::Instant;

use async_compat::Compat;
use slint::{ComponentHandle, Global, PlatformError};
use turnabout_protocol::text::message;

use super::hands::attach;
use super::{End, Shown, Start, follow};
use crate::apply::apply_setup;
use crate::duty::turning::{self, Turner, must_begin_anew};
use crate::settings::store::{SetAside, Store};
use crate::settings::{Goal, Rotation, Settings};
use crate::setup::{Effect, Plain, Setup, SetupFace, ask};
use crate::sound::{self, Ability};
use crate::ui::{Kiosk, KioskWindow};

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
    anew: Option<Option<Rotation>>,
    own: Weak<RefCell<Self>>,
}

impl Desk {
    fn begin(window: &KioskWindow, start: Start) -> Result<Rc<RefCell<Self>>, PlatformError> {
        let Start { settings, store, aside, setup, opening: _, gate } = start;
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
                anew: None,
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
            sounds.turn(self.settings.sound.then(sound::speaker).flatten());
        }
    }

    /// Whether it can be heard, as far as anybody knows.
    fn ability(&self) -> Ability {
        match self.shown.borrow().sounds.trouble() {
            _ if !sound::BUILT => Ability::None,
            Some(why) => Ability::Fails(why),
            None => Ability::Works,
        }
    }

    /// Goes where the settings say, unless that is where the link goes already: what waits there to be sent goes on
    /// waiting.
    fn connect(&mut self) -> Result<(), PlatformError> {
        let (Some(window), Some(goal)) = (self.window.upgrade(), self.settings.goal()) else { return Ok(()) };
        if self.goal.as_ref() != Some(&goal) {
            follow(&window, &self.shown, goal.url.clone(), goal.link())?;
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
        let effect = setup.begin(&Plain);
        let face = setup.face();
        self.setup = Some((setup, face));
        self.shown.borrow_mut().set_up(Instant::now());
        self.draw();
        self.perform(effect);
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
        let effect = setup.take(&key.step.clone(), &Plain);
        self.shown.borrow_mut().set_up(Instant::now());
        self.draw();
        self.perform(effect);
    }

    fn perform(&mut self, effect: Option<Effect>) {
        match effect {
            None => {}
            Some(Effect::Ask(number, server)) => {
                let own = Weak::clone(&self.own);
                let question = async move {
                    let answer = ask::stations(&server).await;
                    let Some(desk) = own.upgrade() else { return };
                    let mut desk = desk.borrow_mut();
                    if let Some((setup, _)) = &mut desk.setup {
                        setup.answered(number, answer);
                        desk.draw();
                    }
                };
                // Without a loop there is no window either.
                let _ = slint::spawn_local(Compat::new(question));
            }
            Some(Effect::Save(settings)) => self.save(*settings),
            Some(Effect::Leave) => self.leave(),
        }
    }

    fn leave(&mut self) {
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

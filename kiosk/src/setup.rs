//! Setting a display up, decided purely: what somebody has chosen so far, what is asked next, and what a touch does.
//!
//! [`face`] draws it in words, [`draft`] holds what was chosen, [`ask`] is the one question to a server, and [`enrol`] what
//! one wants before it takes a display in.

pub mod ask;
mod draft;
mod enrol;
mod face;

use std::path::PathBuf;

use turnabout_protocol::ids::{DeviceId, Key};
use turnabout_protocol::role::MAX_STATIONS_A_KIOSK;
use turnabout_protocol::text::Language;

pub use self::draft::Draft;
use self::enrol::Enrolment;
pub use self::enrol::{Code, NoCode};
pub use self::face::{SetupFace, SetupKey};
use crate::duty::turning::Turner;
use crate::link::token::Token;
use crate::settings::{Inches, Rotation, Server, Settings};
use crate::sound::Ability;
use crate::surroundings::Found;

/// Stations that are offered at once; the others come with a key of their own.
pub const AT_ONCE: usize = 8;

/// The most servers that are offered; whose server is not among them types its address.
pub const MOST_FOUND: usize = 8;

/// What can be chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// Where the server is.
    Server,
    /// The code by which a server takes the display in.
    Code,
    /// The board, or stations.
    Shows,
    /// How the picture is turned.
    Rotation,
    /// The language of the texts.
    Language,
    /// How large the screen is.
    Diagonal,
    /// Whether it is heard as well.
    Sound,
}

impl Choice {
    /// All, in the order in which they are offered.
    pub const ALL: [Self; 7] =
        [Self::Server, Self::Code, Self::Shows, Self::Language, Self::Diagonal, Self::Rotation, Self::Sound];
}

/// What is being chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Page {
    /// What to choose next.
    Overview,
    /// A server that was found in the network.
    Found,
    /// The letters of a station's key.
    StationKey,
    /// One choice.
    Of(Choice),
}

/// What a touch does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// Goes to a page.
    Open(Page),
    /// Adds a letter.
    Type(char),
    /// Takes the last letter away.
    Rub,
    /// Takes a server that was found.
    Server(Server),
    /// Tells the server the code that was typed.
    TellCode,
    /// Shows the board.
    Board,
    /// Shows this station, or no longer.
    Station(Key),
    /// Takes the station whose key was typed.
    TakeKey,
    /// Offers the next stations.
    More,
    /// Turns the picture.
    Rotation(Rotation),
    /// Speaks this language.
    Language(Language),
    /// Takes the screen to be so large.
    Diagonal(Inches),
    /// Is heard as well, or no longer.
    Sound(bool),
    /// Keeps what was chosen.
    Save,
    /// Leaves everything as it was.
    Leave,
}

/// What a touch asks of the world.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Ask the server which stations there are, by the token by which it knows the display; the answer goes to
    /// [`Setup::answered`] with the number. And how it takes displays in, which goes to [`Setup::enrols`].
    Ask(u32, Server, Option<Token>),
    /// Tell the server a code; what becomes of it goes to [`Setup::enrolled`] with the number.
    Enrol(u32, Server, Code),
    /// Let one tone be heard; whether that went well goes to [`Setup::sounded`].
    Hear,
    /// Keep these, and go by them.
    Save(Box<Settings>),
    /// Go on as before.
    Leave,
}

/// A station, as its server names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// Its key.
    pub key: Key,
    /// Its name.
    pub name: String,
}

/// Why a server does not name its stations.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoAnswer {
    /// Nobody is there.
    Unreachable,
    /// Somebody is there who is no such server.
    Stranger,
    /// A server that tells only displays that it knows, and this one is none.
    NotLetIn,
}

/// What is known of the stations there are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stations {
    /// Nobody was asked.
    Unasked,
    /// The question is on its way.
    Asked,
    /// These.
    Told(Vec<Named>),
    /// None was named.
    Untold(NoAnswer),
}

/// A display that is being set up.
#[derive(Debug)]
pub struct Setup {
    device: DeviceId,
    draft: Draft,
    page: Page,
    stations: Stations,
    /// The first of the stations that are offered.
    first: usize,
    /// The number of the last question.
    asked: u32,
    /// Servers that were found, in that order: nothing moves under a finger.
    found: Vec<Found>,
    enrolment: Enrolment,
    turner: Turner,
    sound: Ability,
    /// There is a face to go back to.
    leaves: bool,
    /// The name of a broken file, which is kept.
    aside: Option<PathBuf>,
    /// Why the settings could not be kept.
    unsaved: Option<String>,
}

impl Setup {
    /// Begins with what a display is set to. `leaves` is whether there is a face to go back to, `aside` where a broken
    /// file is kept.
    #[must_use]
    pub fn new(settings: &Settings, turner: Turner, leaves: bool, aside: Option<PathBuf>) -> Self {
        Self {
            device: settings.device,
            draft: Draft::of(settings),
            page: Page::Overview,
            stations: Stations::Unasked,
            first: 0,
            asked: 0,
            found: Vec::new(),
            enrolment: Enrolment::new(),
            turner,
            sound: Ability::None,
            leaves,
            aside,
            unsaved: None,
        }
    }

    /// The same where the display can be heard so. Where it cannot be, nothing is asked of it.
    #[must_use]
    pub fn heard(self, sound: Ability) -> Self {
        Self { sound, ..self }
    }

    /// Takes whether a tone was heard, as far as anybody can tell.
    pub fn sounded(&mut self, sound: Ability) {
        self.sound = sound;
    }

    /// What is asked of the world at the beginning: the stations, where a server is known.
    pub fn begin(&mut self) -> Option<Effect> {
        self.ask()
    }

    /// Takes which servers are in the network. One that was there stays.
    pub fn sees(&mut self, found: &[Found]) {
        for one in found {
            let known = self.found.iter().any(|known| known.server.url() == one.server.url());
            if !known && self.found.len() < MOST_FOUND {
                self.found.push(one.clone());
            }
        }
    }

    /// What was chosen so far.
    #[must_use]
    pub const fn draft(&self) -> &Draft {
        &self.draft
    }

    /// What can be chosen now, in the order of the face: the names of the keys that can be pressed.
    #[must_use]
    pub fn choices(&self) -> Vec<String> {
        let SetupFace { keys, row, .. } = self.face();
        keys.into_iter().chain(row).filter(|key| key.enabled).map(|key| key.name).collect()
    }

    /// Takes what a server said of its stations, or why it said nothing.
    pub fn answered(&mut self, number: u32, answer: Result<Vec<Named>, NoAnswer>) {
        // Another server may have been asked meanwhile.
        if number == self.asked && self.stations == Stations::Asked {
            if answer == Err(NoAnswer::NotLetIn) {
                self.draft.not_known();
            }
            self.stations = answer.map_or_else(Stations::Untold, Stations::Told);
            self.first = 0;
        }
    }

    /// Takes why the settings could not be kept.
    pub fn not_saved(&mut self, why: String) {
        self.unsaved = Some(why);
        self.page = Page::Overview;
    }

    /// Does what a key says; what that asks of the world.
    pub fn take(&mut self, step: &Step) -> Option<Effect> {
        match step {
            Step::Open(page) => return self.open(*page),
            Step::Type(letter) => self.typed().push(*letter),
            Step::Rub => {
                self.typed().pop();
            }
            Step::Server(server) => {
                server.short().clone_into(&mut self.draft.server);
                return self.open(Page::Overview);
            }
            Step::TellCode => return self.tell_code(),
            Step::Board => self.draft.board(),
            Step::Station(key) => self.draft.toggle(key),
            Step::TakeKey => {
                if let Ok(key) = self.draft.station_key.parse() {
                    self.draft.toggle(&key);
                    self.draft.station_key.clear();
                    self.page = Page::Of(Choice::Shows);
                }
            }
            Step::More => {
                let count = match &self.stations {
                    Stations::Told(stations) => stations.len(),
                    Stations::Unasked | Stations::Asked | Stations::Untold(_) => 0,
                };
                self.first = if self.first + AT_ONCE < count { self.first + AT_ONCE } else { 0 };
            }
            Step::Rotation(rotation) => self.chose(|draft| draft.rotation = Some(*rotation)),
            Step::Language(language) => self.chose(|draft| draft.language = *language),
            Step::Diagonal(inches) => self.chose(|draft| draft.inches = *inches),
            Step::Sound(sound) => {
                self.chose(|draft| draft.sound = *sound);
                return sound.then_some(Effect::Hear);
            }
            Step::Save => {
                let settings = self.draft.settings(self.device).filter(|_| self.may_start())?;
                return Some(Effect::Save(Box::new(settings)));
            }
            Step::Leave => return self.leaves.then_some(Effect::Leave),
        }
        None
    }

    /// A choice of one thing is over with one touch.
    fn chose(&mut self, choose: impl FnOnce(&mut Draft)) {
        choose(&mut self.draft);
        self.page = Page::Overview;
    }

    fn typed(&mut self) -> &mut String {
        match self.page {
            Page::StationKey => &mut self.draft.station_key,
            Page::Of(Choice::Code) => &mut self.draft.code,
            Page::Overview | Page::Found | Page::Of(_) => &mut self.draft.server,
        }
    }

    fn open(&mut self, page: Page) -> Option<Effect> {
        let from = std::mem::replace(&mut self.page, page);
        self.unsaved = None;
        let server = matches!(from, Page::Of(Choice::Server) | Page::Found) && page == Page::Overview;
        let again = page == Page::Of(Choice::Shows) && matches!(self.stations, Stations::Untold(_));
        if server || again { self.ask() } else { None }
    }

    fn ask(&mut self) -> Option<Effect> {
        self.asked += 1;
        let Ok(server) = self.draft.read_server() else {
            self.stations = Stations::Unasked;
            self.turns_to(None);
            return None;
        };
        self.turns_to(Some(&server));
        self.stations = Stations::Asked;
        let token = self.draft.token().cloned();
        Some(Effect::Ask(self.asked, server, token))
    }

    /// As many stations are chosen as one display can show.
    fn full(&self) -> bool {
        self.draft.stations.len() >= MAX_STATIONS_A_KIOSK
    }
}

//! What is asked of whoever sets a display up, in words.

use turnabout_protocol::ids::Key;
use turnabout_protocol::text::{Language, message};

use super::enrol::Standing;
use super::{AT_ONCE, Choice, Code, Named, NoAnswer, Page, Setup, Stations, Step};
use crate::duty::turning::Turner;
use crate::link::address::AddressError;
use crate::settings::{Inches, Rotation};
use crate::sound::Ability;
use crate::surroundings::{Found, NotTaken};

/// What an address is typed with.
const ADDRESS: &str = "1234567890abcdefghijklmnopqrstuvwxyz.:-";
/// What a station's key is typed with.
const LETTERS: &str = "1234567890abcdefghijklmnopqrstuvwxyz-";
/// Screens that are sold, in tenths of an inch.
const SCREENS: [u16; 12] = [70, 101, 133, 156, 185, 215, 240, 270, 320, 430, 550, 650];

/// All that is drawn. An empty text is not drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetupFace {
    /// What is asked.
    pub title: String,
    /// What was typed so far, where something is typed.
    pub typed: Option<String>,
    /// What to know, or what is wrong.
    pub note: String,
    /// The note says what is wrong or missing.
    pub warns: bool,
    /// What can be touched.
    pub keys: Vec<SetupKey>,
    /// What ends it, below the others.
    pub row: Vec<SetupKey>,
}

impl SetupFace {
    /// The key of that name that can be pressed.
    #[must_use]
    pub fn key(&self, name: &str) -> Option<&SetupKey> {
        self.keys.iter().chain(&self.row).find(|key| key.name == name && key.enabled)
    }
}

/// Something to touch. It carries what it does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetupKey {
    /// Its name on this face.
    pub name: String,
    /// What it is.
    pub label: String,
    /// How that is set, or how else it is called.
    pub value: String,
    /// It can be pressed.
    pub enabled: bool,
    /// It is set so now.
    pub chosen: bool,
    /// It is what comes next.
    pub primary: bool,
    /// What it does.
    pub step: Step,
}

impl SetupKey {
    fn new(label: impl Into<String>, step: Step) -> Self {
        let (name, value) = (String::new(), String::new());
        Self { name, label: label.into(), value, enabled: true, chosen: false, primary: false, step }
    }

    fn value(self, value: impl Into<String>) -> Self {
        Self { value: value.into(), ..self }
    }

    fn enabled(self, enabled: bool) -> Self {
        Self { enabled, ..self }
    }

    fn chosen(self, chosen: bool) -> Self {
        Self { chosen, ..self }
    }

    fn primary(self) -> Self {
        Self { primary: self.enabled, ..self }
    }
}

/// What is said of it, and whether that is wrong or missing.
type Note = (String, bool);

impl Setup {
    /// What is drawn now.
    #[must_use]
    pub fn face(&self) -> SetupFace {
        let (title, typed) = match self.page {
            Page::Overview => ("title", None),
            Page::Found | Page::Of(Choice::Server) => ("server_ask", Some(&self.draft.server)),
            Page::StationKey => ("key_ask", Some(&self.draft.station_key)),
            Page::Of(Choice::Code) => ("code_ask", Some(&self.draft.code)),
            Page::Of(Choice::Shows) => ("shows_ask", None),
            Page::Of(Choice::Rotation) => ("rotation_ask", None),
            Page::Of(Choice::Language) => ("language_ask", None),
            Page::Of(Choice::Diagonal) => ("diagonal_ask", None),
            Page::Of(Choice::Sound) => ("sound_ask", None),
        };
        let typed = typed.filter(|_| self.page != Page::Found).cloned();
        let (note, warns) = self.note();
        let named = |prefix: &str, keys: Vec<SetupKey>| {
            let named = |(n, key)| SetupKey { name: format!("{prefix}{n}"), ..key };
            keys.into_iter().enumerate().map(named).collect()
        };
        SetupFace {
            title: self.say(title),
            typed,
            note,
            warns,
            keys: named("key-", self.keys()),
            row: named("end-", self.row()),
        }
    }

    fn say(&self, id: &str) -> String {
        message(self.draft.language, &format!("label.setup_{id}")).to_owned()
    }

    fn say_of(&self, id: &str, place: &str, value: &str) -> String {
        self.say(id).replace(&format!("{{{place}}}"), value)
    }

    fn keys(&self) -> Vec<SetupKey> {
        match self.page {
            Page::Overview => {
                let offered = |choice: &Choice| match choice {
                    Choice::Sound => self.sound != Ability::None,
                    Choice::Code => self.standing() != Standing::Open,
                    Choice::Server
                    | Choice::Shows
                    | Choice::Rotation
                    | Choice::Language
                    | Choice::Diagonal => true,
                };
                Choice::ALL.into_iter().filter(offered).map(|choice| self.choice(choice)).collect()
            }
            Page::Found => {
                let found = self.found.iter().map(|Found { name, server }| {
                    let chosen = self.draft.read_server().is_ok_and(|at| at.url() == server.url());
                    SetupKey::new(name, Step::Server(server.clone())).value(server.short()).chosen(chosen)
                });
                let typed = SetupKey::new(self.say("type_server"), Step::Open(Page::Of(Choice::Server)));
                found.chain([typed]).collect()
            }
            Page::Of(Choice::Server) => letters(ADDRESS),
            Page::StationKey | Page::Of(Choice::Code) => letters(LETTERS),
            Page::Of(Choice::Shows) => self.shown(),
            Page::Of(Choice::Rotation) => {
                let key = |rotation: Rotation| {
                    let label = self.say(&format!("turned_{rotation}"));
                    SetupKey::new(label, Step::Rotation(rotation))
                        .chosen(self.draft.rotation == Some(rotation))
                };
                Rotation::ALL.map(key).into()
            }
            Page::Of(Choice::Language) => {
                let key = |language: Language| {
                    let chosen = self.draft.language == language;
                    SetupKey::new(self.say(language.tag()), Step::Language(language)).chosen(chosen)
                };
                Language::ALL.map(key).into()
            }
            Page::Of(Choice::Diagonal) => self.screens(),
            Page::Of(Choice::Sound) => {
                let key = |on: bool| {
                    SetupKey::new(self.say(switch(on)), Step::Sound(on)).chosen(self.draft.sound == on)
                };
                [true, false].map(key).into()
            }
        }
    }

    fn row(&self) -> Vec<SetupKey> {
        let overview = Step::Open(Page::Overview);
        match self.page {
            Page::Overview => {
                let ready = self.draft.settings(self.device).is_some() && self.may_start();
                let start = SetupKey::new(self.say("start"), Step::Save).enabled(ready).primary();
                let leave = self.leaves.then(|| SetupKey::new(self.say("leave"), Step::Leave));
                leave.into_iter().chain([start]).collect()
            }
            Page::Of(Choice::Server) => {
                let done = SetupKey::new(self.say("done"), overview);
                let done = if self.draft.read_server().is_ok() { done.primary() } else { done };
                vec![SetupKey::new("←", Step::Rub).enabled(!self.draft.server.is_empty()), done]
            }
            Page::StationKey => {
                let fits = self.draft.station_key.parse::<Key>().is_ok();
                vec![
                    SetupKey::new(self.say("back"), Step::Open(Page::Of(Choice::Shows))),
                    SetupKey::new("←", Step::Rub).enabled(!self.draft.station_key.is_empty()),
                    SetupKey::new(self.say("done"), Step::TakeKey).enabled(fits).primary(),
                ]
            }
            Page::Of(Choice::Code) => {
                let fits = self.draft.code.parse::<Code>().is_ok();
                vec![
                    SetupKey::new(self.say("back"), overview),
                    SetupKey::new("←", Step::Rub).enabled(!self.draft.code.is_empty()),
                    SetupKey::new(self.say("done"), Step::TellCode).enabled(fits).primary(),
                ]
            }
            Page::Of(Choice::Shows) => {
                let done = SetupKey::new(self.say("done"), overview);
                vec![if self.draft.shows().is_some() { done.primary() } else { done }]
            }
            Page::Found
            | Page::Of(Choice::Rotation | Choice::Language | Choice::Diagonal | Choice::Sound) => {
                vec![SetupKey::new(self.say("back"), overview)]
            }
        }
    }

    /// A choice on the overview, with how it is set.
    fn choice(&self, choice: Choice) -> SetupKey {
        let draft = &self.draft;
        let nothing = || self.say("nothing");
        let (id, value) = match choice {
            Choice::Server => {
                ("server", if draft.server.is_empty() { nothing() } else { draft.server.clone() })
            }
            Choice::Code if draft.token().is_some() => ("code", self.say("code_taken")),
            Choice::Code => ("code", self.say("code_none")),
            Choice::Shows if draft.board => ("shows", self.say("board")),
            Choice::Shows if draft.stations.is_empty() => ("shows", nothing()),
            Choice::Shows => {
                let names: Vec<&str> = draft.stations.iter().map(|key| self.name(key.as_str())).collect();
                ("shows", names.join(", "))
            }
            Choice::Rotation if self.turner == Turner::Desktop => ("rotation", self.say("by_desktop")),
            Choice::Rotation => {
                let turned =
                    draft.rotation.map_or_else(|| "as_is".to_owned(), |turned| format!("turned_{turned}"));
                ("rotation", self.say(&turned))
            }
            Choice::Language => ("language", self.say(draft.language.tag())),
            Choice::Diagonal => ("diagonal", self.inches(draft.inches)),
            Choice::Sound => ("sound", self.say(switch(draft.sound))),
        };
        let page =
            if choice == Choice::Server && !self.found.is_empty() { Page::Found } else { Page::Of(choice) };
        let enabled = choice != Choice::Rotation || self.turner == Turner::Program;
        SetupKey::new(self.say(id), Step::Open(page)).value(value).enabled(enabled)
    }

    /// The board, and stations: those there are, and those that were typed.
    fn shown(&self) -> Vec<SetupKey> {
        let board = SetupKey::new(self.say("board"), Step::Board).chosen(self.draft.board);
        let (told, known) = match &self.stations {
            Stations::Told(told) => (told.as_slice(), true),
            Stations::Unasked | Stations::Asked | Stations::Untold(_) => (&[][..], false),
        };
        let full = self.full();
        let key = |label: &str, key: &Key| {
            let chosen = self.draft.stations.contains(key);
            SetupKey::new(label, Step::Station(key.clone())).chosen(chosen).enabled(chosen || !full)
        };
        let gone = self.draft.stations.iter().filter(|k| !told.iter().any(|there| there.key == **k));
        let gone = gone.map(|k| {
            let value = if known { self.say("not_here") } else { String::new() };
            key(k.as_str(), k).value(value)
        });
        let there = told.iter().skip(self.first).take(AT_ONCE).map(|named| key(&named.name, &named.key));
        let more = (told.len() > AT_ONCE).then(|| {
            let last = (self.first + AT_ONCE).min(told.len());
            let which = format!("{}–{last} / {}", self.first + 1, told.len());
            SetupKey::new(self.say("more"), Step::More).value(which)
        });
        let typed = (!known)
            .then(|| SetupKey::new(self.say("type_station"), Step::Open(Page::StationKey)).enabled(!full));
        [board].into_iter().chain(gone).chain(there).chain(more).chain(typed).collect()
    }

    /// The screens that are sold, and this one.
    fn screens(&self) -> Vec<SetupKey> {
        let mut tenths: Vec<u16> = SCREENS.into_iter().chain([self.draft.inches.tenths()]).collect();
        tenths.sort_unstable();
        tenths.dedup();
        let key = |inches: Inches| {
            let centimetres = (u32::from(inches.tenths()) * 254 + 500) / 1_000;
            SetupKey::new(self.inches(inches), Step::Diagonal(inches))
                .value(format!("{centimetres} cm"))
                .chosen(self.draft.inches == inches)
        };
        tenths.into_iter().filter_map(Inches::of_tenths).map(key).collect()
    }

    fn inches(&self, inches: Inches) -> String {
        let number = inches.to_string();
        let number = match self.draft.language {
            Language::En => number,
            Language::De => number.replace('.', ","),
        };
        self.say_of("inches", "n", &number)
    }

    /// The name of a station, where its server said it.
    fn name<'s>(&'s self, key: &'s str) -> &'s str {
        let Stations::Told(told) = &self.stations else { return key };
        told.iter().find(|named: &&Named| named.key.as_str() == key).map_or(key, |named| &named.name)
    }

    fn note(&self) -> Note {
        match self.page {
            Page::Overview => self.what_is_missing(),
            Page::Of(Choice::Server) => match self.draft.read_server() {
                Err(error) if !self.draft.server.is_empty() => (self.wrong_address(error), true),
                Ok(_) | Err(_) => (self.say("server_hint"), false),
            },
            Page::StationKey => (self.say("key_hint"), false),
            Page::Of(Choice::Code) => (self.say("code_hint"), false),
            Page::Found => (self.say("found_hint"), false),
            Page::Of(Choice::Shows) => self.about_stations(),
            Page::Of(Choice::Rotation) => (self.say("by_program"), false),
            Page::Of(Choice::Sound) => self.silence().unwrap_or_else(|| (self.say("sound_hint"), false)),
            Page::Of(Choice::Language | Choice::Diagonal) => (String::new(), false),
        }
    }

    fn what_is_missing(&self) -> Note {
        if let Some(why) = &self.unsaved {
            return (self.say_of("unsaved", "why", why), true);
        }
        if let Some(kept) = &self.aside {
            // Its folder is told where the program was started; here it would make the letters small.
            let file = kept.file_name().unwrap_or_default().display().to_string();
            return (self.say_of("aside", "file", &file), true);
        }
        if self.draft.server.is_empty() {
            return (self.say("first_server"), true);
        }
        if let Err(error) = self.draft.read_server() {
            return (self.wrong_address(error), true);
        }
        if let Some(note) = self.about_code() {
            return note;
        }
        if let (Stations::Untold(_), Some(_)) = (&self.stations, self.draft.shows()) {
            return self.about_stations();
        }
        if self.draft.shows().is_none() {
            return (self.say("first_shows"), true);
        }
        if let Some(silence) = self.silence().filter(|_| self.draft.sound) {
            return silence;
        }
        (self.say("ready"), false)
    }

    /// What there is to say of a code that the server wants.
    fn about_code(&self) -> Option<Note> {
        let (id, warns) = match self.standing() {
            Standing::Open | Standing::Taken => return None,
            Standing::Needed => ("code_needed", true),
            Standing::Waits => ("code_asking", false),
            Standing::Failed(NotTaken::Wrong) => ("code_wrong", true),
            Standing::Failed(NotTaken::Declined) => ("code_declined", true),
            Standing::Failed(NotTaken::TooOften) => ("code_often", true),
            Standing::Failed(NotTaken::Nobody) => ("code_nobody", true),
        };
        Some((self.say(id), warns))
    }

    /// Why nothing is heard.
    fn silence(&self) -> Option<Note> {
        let Ability::Fails(why) = &self.sound else { return None };
        Some((self.say_of("silent", "why", why), true))
    }

    fn wrong_address(&self, error: AddressError) -> String {
        self.say(match error {
            AddressError::NoHost => "no_host",
            AddressError::Scheme => "scheme",
            AddressError::Port => "port",
        })
    }

    fn about_stations(&self) -> Note {
        let server = self.draft.server.as_str();
        match &self.stations {
            Stations::Unasked => (self.say("without_server"), false),
            Stations::Asked => (self.say("asking"), false),
            Stations::Told(_) => (self.say("up_to"), false),
            Stations::Untold(NoAnswer::Unreachable) => (self.say_of("unreachable", "server", server), true),
            Stations::Untold(NoAnswer::Stranger) => (self.say_of("stranger", "server", server), true),
            Stations::Untold(NoAnswer::NotLetIn) => (self.say("not_let_in"), true),
        }
    }
}

/// The word for something that is on or off.
const fn switch(on: bool) -> &'static str {
    if on { "on" } else { "off" }
}

/// A key for each letter.
fn letters(letters: &str) -> Vec<SetupKey> {
    letters.chars().map(|letter| SetupKey::new(letter, Step::Type(letter))).collect()
}

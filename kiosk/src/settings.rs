//! What a display is set to: which server, what it shows, and how it stands on its wall.
//!
//! [`file`] reads and writes it as JSON, [`store`] keeps it on disk; the command line goes over it with [`Over`].

pub mod file;
pub mod store;

use std::fmt;
use std::str::FromStr;

use turnabout_protocol::ids::{DeviceId, Key};
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::text::Language;
use uuid::Uuid;

use crate::link::address::{AddressError, socket_url};
use crate::link::socket::Door;
use crate::link::token::Token;
use crate::link::{Identity, Link};

/// All that is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    /// Which display this is. Kept, so that a tap which was sent before a crash is known as the same one after it.
    pub device: DeviceId,
    /// Where the server is; nothing before somebody said so.
    pub server: Option<Server>,
    /// What is shown; nothing before somebody said so.
    pub shows: Option<Shows>,
    /// How the picture is turned; nothing where the surroundings decide.
    pub rotation: Option<Rotation>,
    /// The language of the texts.
    pub language: Language,
    /// How large the screen is.
    pub inches: Inches,
    /// Whether it is heard as well.
    pub sound: bool,
    /// By what the server knows this display, where it took it in by a code.
    pub token: Option<Token>,
}

impl Settings {
    /// What a new display is set to.
    #[must_use]
    pub fn new(device: DeviceId) -> Self {
        Self {
            device,
            server: None,
            shows: None,
            rotation: None,
            language: Language::En,
            inches: Inches::default(),
            sound: false,
            token: None,
        }
    }

    /// What a display is set to that nobody has seen before.
    #[must_use]
    pub fn unseen() -> Self {
        Self::new(DeviceId(Uuid::new_v4()))
    }

    /// The same with what the command line says over it.
    #[must_use]
    pub fn with(self, over: Over) -> Self {
        // What one server knows the display by is not told another.
        let url = |server: &Option<Server>| server.as_ref().map(|server| server.url.clone());
        let stays = over.server.is_none() || url(&over.server) == url(&self.server);
        Self {
            device: self.device,
            server: over.server.or(self.server),
            shows: over.shows.or(self.shows),
            rotation: over.rotation.or(self.rotation),
            language: over.language.unwrap_or(self.language),
            inches: over.inches.unwrap_or(self.inches),
            sound: over.sound.unwrap_or(self.sound),
            token: self.token.filter(|_| stays),
        }
    }

    /// Where it goes and as whom, once both are known.
    #[must_use]
    pub fn goal(&self) -> Option<Goal> {
        let (server, shows) = (self.server.as_ref()?, self.shows.as_ref()?);
        let door = Door { url: server.url.clone(), token: self.token.clone() };
        Some(Goal { door, identity: shows.identity(self.device) })
    }
}

/// A server, and who goes to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Goal {
    /// The door of its socket.
    pub door: Door,
    /// Which display, and what it watches.
    pub identity: Identity,
}

impl Goal {
    /// A link to there that begins now.
    #[must_use]
    pub fn link(&self) -> Link {
        Link::new(self.identity.clone())
    }
}

/// What the command line says; it holds for one start and goes into no file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Over {
    /// Where the server is.
    pub server: Option<Server>,
    /// What is shown.
    pub shows: Option<Shows>,
    /// How the picture is turned.
    pub rotation: Option<Rotation>,
    /// The language of the texts.
    pub language: Option<Language>,
    /// How large the screen is.
    pub inches: Option<Inches>,
    /// Whether it is heard as well.
    pub sound: Option<bool>,
}

/// Where a server is, as a person wrote it and as the socket needs it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Server {
    written: String,
    url: String,
}

impl Server {
    /// What nobody has to write.
    pub const SCHEME: &str = "http://";

    /// As it is written in a line: without what nobody has to write.
    #[must_use]
    pub fn short(&self) -> &str {
        self.written.strip_prefix(Self::SCHEME).unwrap_or(&self.written)
    }

    /// As it was written: `http://192.168.0.20:7474`.
    #[must_use]
    pub fn written(&self) -> &str {
        &self.written
    }

    /// The address of its socket.
    #[must_use]
    pub fn url(&self) -> &str {
        &self.url
    }
}

impl FromStr for Server {
    type Err = AddressError;

    fn from_str(text: &str) -> Result<Self, AddressError> {
        Ok(Self { written: text.trim().to_owned(), url: socket_url(text)? })
    }
}

/// What a display shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shows {
    /// Every group at a glance.
    Board,
    /// One to four stations, none twice.
    Stations(StationList),
}

/// One to four keys of stations, none twice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StationList(Vec<Key>);

impl StationList {
    /// What such a list is, for whoever wrote another one.
    pub const ALLOWED: &str = "one to four station keys, none twice";

    /// The list; nothing if that is none.
    #[must_use]
    pub fn new(keys: &[Key]) -> Option<Self> {
        let list = keys.iter().map(Key::as_str).collect::<Vec<_>>().join(",");
        list.parse().ok()
    }

    /// The keys, in order.
    #[must_use]
    pub fn keys(&self) -> &[Key] {
        &self.0
    }
}

impl FromStr for StationList {
    type Err = String;

    /// Reads `bench-1,row-1`.
    fn from_str(list: &str) -> Result<Self, String> {
        match format!("station/{list}").parse() {
            Ok(Topic::Station(keys)) => Ok(Self(keys)),
            Ok(Topic::Board | Topic::Coach(_) | Topic::Manager) | Err(_) => {
                Err(format!("found {list:?}, allowed are {}", Self::ALLOWED))
            }
        }
    }
}

impl Shows {
    /// As whom a display goes to the server.
    fn identity(&self, device: DeviceId) -> Identity {
        let (role, topic) = match self {
            Self::Board => (Role::Board, Topic::Board),
            Self::Stations(StationList(keys)) => {
                (Role::Station { stations: keys.clone() }, Topic::Station(keys.clone()))
            }
        };
        Identity { device, role, topic }
    }
}

/// How far the picture is turned, clockwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rotation {
    /// Not at all.
    Upright,
    /// A quarter.
    Quarter,
    /// Upside down.
    Half,
    /// Three quarters.
    ThreeQuarters,
}

impl Rotation {
    /// Every one, in order.
    pub const ALL: [Self; 4] = [Self::Upright, Self::Quarter, Self::Half, Self::ThreeQuarters];
    /// What one may be, for whoever wrote something else.
    pub const ALLOWED: &str = "0, 90, 180 or 270";

    /// In degrees.
    #[must_use]
    pub const fn degrees(self) -> u16 {
        match self {
            Self::Upright => 0,
            Self::Quarter => 90,
            Self::Half => 180,
            Self::ThreeQuarters => 270,
        }
    }
}

impl fmt::Display for Rotation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.degrees().fmt(f)
    }
}

impl FromStr for Rotation {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let turned = Self::ALL.into_iter().find(|rotation| rotation.to_string() == text);
        turned.ok_or_else(|| format!("found {text:?}, allowed is {}", Self::ALLOWED))
    }
}

/// How large a screen is from corner to corner, in tenths of an inch: from a telephone to a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Inches(u16);

impl Inches {
    /// The smallest, in tenths of an inch.
    pub const LEAST: u16 = 50;
    /// The largest, in tenths of an inch.
    pub const MOST: u16 = 1_200;
    /// What it may be, for whoever wrote something else.
    pub const ALLOWED: &str = "inches, 5 to 120, such as 15.6";

    /// From tenths of an inch; nothing outside what there is.
    #[must_use]
    pub const fn of_tenths(tenths: u16) -> Option<Self> {
        if tenths >= Self::LEAST && tenths <= Self::MOST { Some(Self(tenths)) } else { None }
    }

    /// From inches, to the nearest tenth; nothing outside what there is.
    #[must_use]
    pub fn of(inches: f64) -> Option<Self> {
        let tenths = (inches * 10.0).round();
        if !(f64::from(Self::LEAST)..=f64::from(Self::MOST)).contains(&tenths) {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "in range, as just seen")]
        Some(Self(tenths as u16))
    }

    /// In tenths of an inch.
    #[must_use]
    pub const fn tenths(self) -> u16 {
        self.0
    }

    /// In inches.
    #[must_use]
    pub fn inches(self) -> f32 {
        f32::from(self.0) / 10.0
    }
}

impl Default for Inches {
    /// What most screens at a wall have.
    fn default() -> Self {
        Self(240)
    }
}

impl fmt::Display for Inches {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.inches().fmt(f)
    }
}

impl FromStr for Inches {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let inches = text.parse().ok().and_then(Self::of);
        inches.ok_or_else(|| format!("found {text:?}, allowed are {}", Self::ALLOWED))
    }
}

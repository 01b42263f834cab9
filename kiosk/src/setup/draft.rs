//! What somebody has chosen so far.

use turnabout_protocol::ids::{DeviceId, Key};
use turnabout_protocol::text::Language;

use crate::link::address::AddressError;
use crate::link::token::Token;
use crate::settings::{Inches, Rotation, Server, Settings, Shows, StationList};

/// What was chosen and typed so far.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The server as it is typed: without what all of them begin with.
    pub server: String,
    /// Whether the board is shown; nothing is chosen where it is not and there are no stations.
    pub board: bool,
    /// The stations that are shown, in the order in which they were chosen.
    pub stations: Vec<Key>,
    /// The letters of a station's key.
    pub station_key: String,
    /// How the picture is turned; nothing where the surroundings decide.
    pub rotation: Option<Rotation>,
    /// The language of the texts.
    pub language: Language,
    /// How large the screen is.
    pub inches: Inches,
    /// Whether it is heard as well.
    pub sound: bool,
    /// The letters of a code.
    pub code: String,
    /// The server that took the display in last, and by what it knows it.
    pub admitted: Option<(Server, Token)>,
}

impl Draft {
    /// What a display is set to.
    #[must_use]
    pub fn of(settings: &Settings) -> Self {
        let (board, stations) = match &settings.shows {
            None => (false, Vec::new()),
            Some(Shows::Board) => (true, Vec::new()),
            Some(Shows::Stations(stations)) => (false, stations.keys().to_vec()),
        };
        Self {
            server: settings.server.as_ref().map_or("", Server::short).to_owned(),
            board,
            stations,
            station_key: String::new(),
            rotation: settings.rotation,
            language: settings.language,
            inches: settings.inches,
            sound: settings.sound,
            code: String::new(),
            admitted: settings.server.clone().zip(settings.token.clone()),
        }
    }

    /// By what the server that is chosen knows the display; nothing where another one took it in.
    #[must_use]
    pub fn token(&self) -> Option<&Token> {
        let server = self.read_server().ok()?;
        self.admitted.as_ref().filter(|(at, _)| at.url() == server.url()).map(|(_, token)| token)
    }

    /// The server that is chosen does not know the display by what it gave it.
    pub(super) fn not_known(&mut self) {
        if self.token().is_some() {
            self.admitted = None;
        }
    }

    /// The server, where what was typed is one.
    ///
    /// # Errors
    /// If it is none.
    pub fn read_server(&self) -> Result<Server, AddressError> {
        if self.server.contains("://") {
            self.server.parse()
        } else {
            format!("{}{}", Server::SCHEME, self.server).parse()
        }
    }

    /// What is shown; nothing where nothing is chosen.
    #[must_use]
    pub fn shows(&self) -> Option<Shows> {
        if self.board {
            return Some(Shows::Board);
        }
        StationList::new(&self.stations).map(Shows::Stations)
    }

    /// What a display is set to by it; nothing as long as something is missing.
    #[must_use]
    pub fn settings(&self, device: DeviceId) -> Option<Settings> {
        Some(Settings {
            device,
            server: Some(self.read_server().ok()?),
            shows: Some(self.shows()?),
            rotation: self.rotation,
            language: self.language,
            inches: self.inches,
            sound: self.sound,
            token: self.token().cloned(),
        })
    }

    /// Shows the board and no stations.
    pub(super) fn board(&mut self) {
        self.board = true;
        self.stations.clear();
    }

    /// Shows a station beside the others, or no longer. Nothing where there are as many as a display can show.
    pub(super) fn toggle(&mut self, key: &Key) {
        if let Some(at) = self.stations.iter().position(|chosen| chosen == key) {
            self.stations.remove(at);
            return;
        }
        let more: Vec<Key> = self.stations.iter().chain([key]).cloned().collect();
        if StationList::new(&more).is_some() {
            (self.stations, self.board) = (more, false);
        }
    }
}

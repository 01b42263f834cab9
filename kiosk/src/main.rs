//! The command line of a kiosk, and nothing else.

use std::path::PathBuf;
use std::process::ExitCode;
use std::rc::Rc;

use clap::{ArgGroup, CommandFactory, Parser, ValueEnum, error::ErrorKind};
use turnabout_kiosk::duty::turning::{self, Turner, must_begin_anew};
use turnabout_kiosk::gate::NoGate;
use turnabout_kiosk::headless::{self, HeadlessError};
use turnabout_kiosk::settings::store::{Store, StoreError};
use turnabout_kiosk::settings::{Inches, Over, Rotation, Server, Settings, Shows, StationList};
use turnabout_kiosk::sound;
use turnabout_kiosk::surroundings::Plain;
use turnabout_kiosk::window::{self, End, Opening, Start};
use turnabout_protocol::text::Language;

/// A display of a Turnabout floor. What is not said here is as it was set up, in a small file.
#[derive(Debug, Parser)]
#[command(version, about, group(ArgGroup::new("face")))]
struct Options {
    /// Where the settings of this display are kept, for one kiosk at a time [default: turnabout/kiosk.json under
    /// $XDG_CONFIG_HOME or ~/.config; none with --headless]
    #[arg(long, value_name = "FILE")]
    settings: Option<PathBuf>,
    /// Set the display up first; so it is anyway where no server or nothing to show is known
    #[arg(long, conflicts_with = "headless")]
    setup: bool,
    /// Where the server is, such as http://127.0.0.1:7474
    #[arg(long, value_name = "URL")]
    server: Option<Server>,
    /// The stations it stands at, by their keys in the floor file: one to four
    #[arg(long, group = "face", value_name = "KEY[,KEY]")]
    station: Option<StationList>,
    /// Show every group at a glance
    #[arg(long, group = "face")]
    board: bool,
    /// How large the screen is from corner to corner, in inches: letters and buttons are as large as people need them
    #[arg(long, value_name = "INCHES", conflicts_with = "headless")]
    diagonal: Option<Inches>,
    /// The language of the texts
    #[arg(long)]
    language: Option<Words>,
    /// Let it be heard as well: the count-in, the end of a rest and a stop. Only where it was built with sound
    #[arg(long, conflicts_with = "headless")]
    sound: Option<Switch>,
    /// How far the picture is turned, clockwise: 0, 90, 180 or 270. Without X only; X turns its screen itself
    #[arg(long, value_name = "DEGREES", conflicts_with = "headless")]
    rotation: Option<Rotation>,
    /// Open no window; print each face as a JSON line and take taps as JSON lines
    #[arg(long, conflicts_with = "fullscreen")]
    headless: bool,
    /// Fill the screen, with a window manager or without one
    #[arg(long)]
    fullscreen: bool,
    /// Size of the window, such as 1280x800
    #[arg(long, value_name = "WxH", value_parser = size, conflicts_with_all = ["headless", "fullscreen"])]
    size: Option<(u32, u32)>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Words {
    En,
    De,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Switch {
    On,
    Off,
}

/// The smallest window that is readable, and the largest screen there is.
const SIDES: std::ops::RangeInclusive<u32> = 360..=16_384;

fn size(text: &str) -> Result<(u32, u32), String> {
    let side = |side: &str| side.parse().ok().filter(|pixels| SIDES.contains(pixels));
    text.split_once('x')
        .and_then(|(width, height)| Some((side(width)?, side(height)?)))
        .ok_or_else(|| format!("WIDTHxHEIGHT in pixels, each {} to {}", SIDES.start(), SIDES.end()))
}

impl Options {
    /// What goes over the settings.
    fn over(&self) -> Over {
        let stations = self.station.clone().map(Shows::Stations);
        Over {
            server: self.server.clone(),
            shows: stations.or_else(|| self.board.then_some(Shows::Board)),
            rotation: self.rotation,
            language: self.language.map(|language| match language {
                Words::En => Language::En,
                Words::De => Language::De,
            }),
            inches: self.diagonal,
            sound: self.sound.map(|sound| sound == Switch::On),
        }
    }

    fn opening(&self) -> Opening {
        match self.size {
            Some((width, height)) => Opening::Size { width, height },
            None if self.fullscreen => Opening::Fullscreen,
            None => Opening::Preferred,
        }
    }
}

#[derive(Debug, thiserror::Error)]
enum KioskError {
    #[error(transparent)]
    Settings(#[from] StoreError),
    #[error("cannot open a window: {0}")]
    Window(#[from] slint::PlatformError),
    #[error("cannot begin anew with the picture turned: {0}")]
    Anew(std::io::Error),
    #[error(transparent)]
    Headless(#[from] HeadlessError),
}

fn main() -> ExitCode {
    match kiosk(&Options::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("turnabout-kiosk: {error}");
            ExitCode::FAILURE
        }
    }
}

fn kiosk(options: &Options) -> Result<(), KioskError> {
    // Dozens of displays without a window run on one machine: each has a file only where it is given one.
    if options.headless && options.settings.is_none() {
        return headless(&Settings::unseen().with(options.over()));
    }
    let (store, kept, aside) = Store::open(options.settings.clone())?;
    if let Some(aside) = &aside {
        eprintln!("turnabout-kiosk: {aside}");
    }
    let settings = kept.with(options.over());
    if options.headless {
        return headless(&settings);
    }
    let speakers = sound::speakers();
    if settings.sound && speakers.is_none() {
        eprintln!("turnabout-kiosk: no sound: this program was built without the feature `sound`");
    }
    let rotation = settings.rotation;
    if must_begin_anew(Turner::here(), rotation, turning::told().as_deref()) {
        return Err(KioskError::Anew(turning::begin_anew(rotation)));
    }
    let (setup, opening) = (options.setup, options.opening());
    let (gate, surroundings) = (Rc::new(NoGate), Rc::new(Plain));
    let start = Start { settings, store, aside, setup, opening, gate, surroundings, speakers };
    match window::open(start)? {
        End::Closed => Ok(()),
        End::Anew(rotation) => Err(KioskError::Anew(turning::begin_anew(rotation))),
    }
}

/// Runs without a window; nobody can set a display up there.
fn headless(settings: &Settings) -> Result<(), KioskError> {
    let Some(goal) = settings.goal() else {
        let missing = "no server and stations are known: say --server, and --station or --board";
        Options::command().error(ErrorKind::MissingRequiredArgument, missing).exit()
    };
    let link = goal.link();
    headless::speak(goal.door, link, settings.language)?;
    Ok(())
}

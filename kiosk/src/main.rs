//! The command line of a kiosk, and nothing else.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::{SystemTime, UNIX_EPOCH};

use clap::{ArgGroup, CommandFactory, Parser, ValueEnum, error::ErrorKind};
use turnabout_kiosk::duty::turning::{self, Turner, must_begin_anew};
use turnabout_kiosk::headless::{self, HeadlessError};
use turnabout_kiosk::link::Link;
use turnabout_kiosk::settings::store::{Store, StoreError};
use turnabout_kiosk::settings::{Inches, Over, Rotation, Server, Settings, Shows, StationList};
use turnabout_kiosk::window::{self, Opening, Screen};
use turnabout_protocol::text::Language;

/// A display of a Turnabout floor. What is not said here is as it was set up, in a small file.
#[derive(Debug, Parser)]
#[command(version, about, group(ArgGroup::new("face")))]
struct Options {
    /// Where the settings of this display are kept, for one kiosk at a time [default: turnabout/kiosk.json under
    /// $XDG_CONFIG_HOME or ~/.config; none with --headless]
    #[arg(long, value_name = "FILE")]
    settings: Option<PathBuf>,
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
    /// How far the picture is turned, clockwise: 0, 90, 180 or 270. Without X only; X turns its screen itself
    #[arg(long, value_name = "DEGREES", conflicts_with = "headless")]
    rotation: Option<Rotation>,
    /// Whether it may sound
    #[arg(long, value_name = "on|off")]
    sound: Option<Switch>,
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

#[derive(Clone, Copy, Debug, ValueEnum)]
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
            sound: self.sound.map(|sound| match sound {
                Switch::On => true,
                Switch::Off => false,
            }),
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
    let (store, kept, aside) = if options.headless && options.settings.is_none() {
        (None, Settings::unseen(), None)
    } else {
        let (store, kept, aside) = Store::open(options.settings.clone())?;
        (Some(store), kept, aside)
    };
    if let Some(aside) = &aside {
        eprintln!("turnabout-kiosk: {aside}");
    }
    let settings = kept.with(options.over());
    let Some(goal) = settings.goal() else {
        let missing = "no server and stations are known: say --server, and --station or --board";
        Options::command().error(ErrorKind::MissingRequiredArgument, missing).exit()
    };
    let link = Link::new(goal.identity, utc());
    if !options.headless && must_begin_anew(Turner::here(), settings.rotation, turning::told().as_deref()) {
        return Err(KioskError::Anew(turning::begin_anew(settings.rotation)));
    }
    if options.headless {
        headless::speak(goal.url, link, settings.language)?;
    } else {
        let screen = Screen { opening: options.opening(), inches: settings.inches.inches() };
        window::open(goal.url, link, settings.language, screen)?;
    }
    drop(store);
    Ok(())
}

/// The time of day. A clock before 1970 is a clock that was never set: the age is then shown from 1970 on, and is
/// wrong by as much as the clock.
fn utc() -> i64 {
    let utc = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    i64::try_from(utc).unwrap_or(i64::MAX)
}

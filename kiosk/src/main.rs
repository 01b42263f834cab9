//! The command line of a kiosk, and nothing else.

use std::process::ExitCode;
use std::time::{SystemTime, UNIX_EPOCH};

use clap::{ArgGroup, Parser, ValueEnum};
use turnabout_kiosk::headless::{self, HeadlessError};
use turnabout_kiosk::link::address::socket_url;
use turnabout_kiosk::link::{Identity, Link};
use turnabout_kiosk::window::{self, Opening, Screen};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::text::Language;
use uuid::Uuid;

/// A display of a Turnabout floor.
#[derive(Debug, Parser)]
#[command(version, about, group(ArgGroup::new("face").required(true)))]
struct Options {
    /// Where the server is, such as http://127.0.0.1:8080
    #[arg(long, value_name = "URL", value_parser = socket_url)]
    server: String,
    /// The stations it stands at, by their keys in the floor file: one to four
    #[arg(long, group = "face", value_name = "KEY[,KEY]", value_parser = stations)]
    station: Option<Topic>,
    /// Show every group at a glance
    #[arg(long, group = "face")]
    board: bool,
    /// How large the screen is from corner to corner, in inches: letters and buttons are as large as people need them
    #[arg(long, value_name = "INCHES", value_parser = inches, conflicts_with = "headless", default_value = "24")]
    diagonal: f32,
    /// The language of the texts
    #[arg(long, default_value = "en")]
    language: Words,
    /// Open no window; print each face as a JSON line and take taps as JSON lines
    #[arg(long, conflicts_with = "fullscreen")]
    headless: bool,
    /// Fill the screen
    #[arg(long)]
    fullscreen: bool,
    /// Size of the window, such as 1280x800: for a screen without a window manager, which knows no full screen
    #[arg(long, value_name = "WxH", value_parser = size, conflicts_with_all = ["headless", "fullscreen"])]
    size: Option<(u32, u32)>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Words {
    En,
    De,
}

fn stations(list: &str) -> Result<Topic, String> {
    format!("station/{list}").parse().map_err(|_| "one to four station keys, none twice".to_owned())
}

/// The smallest window that is readable, and the largest screen there is.
const SIDES: std::ops::RangeInclusive<u32> = 360..=16_384;

fn size(text: &str) -> Result<(u32, u32), String> {
    let side = |side: &str| side.parse().ok().filter(|pixels| SIDES.contains(pixels));
    text.split_once('x')
        .and_then(|(width, height)| Some((side(width)?, side(height)?)))
        .ok_or_else(|| format!("WIDTHxHEIGHT in pixels, each {} to {}", SIDES.start(), SIDES.end()))
}

/// From a telephone to a wall.
const INCHES: std::ops::RangeInclusive<f32> = 5.0..=120.0;

fn inches(text: &str) -> Result<f32, String> {
    let inches = text.parse().ok().filter(|inches| INCHES.contains(inches));
    inches.ok_or_else(|| format!("inches, {} to {}, such as 15.6", INCHES.start(), INCHES.end()))
}

#[derive(Debug, thiserror::Error)]
enum KioskError {
    #[error("cannot open a window: {0}")]
    Window(#[from] slint::PlatformError),
    #[error(transparent)]
    Headless(#[from] HeadlessError),
}

fn main() -> ExitCode {
    match kiosk(Options::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("turnabout-kiosk: {error}");
            ExitCode::FAILURE
        }
    }
}

fn kiosk(options: Options) -> Result<(), KioskError> {
    let (role, topic) = match options.station {
        Some(Topic::Station(stations)) => {
            (Role::Station { stations: stations.clone() }, Topic::Station(stations))
        }
        Some(Topic::Board | Topic::Coach(_) | Topic::Manager) | None => (Role::Board, Topic::Board),
    };
    let identity = Identity { device: DeviceId(Uuid::new_v4()), role, topic };
    // A clock before 1970 is a clock that was never set: the age is then shown from 1970 on, and is wrong by
    // as much as the clock.
    let utc = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs());
    let link = Link::new(identity, i64::try_from(utc).unwrap_or(i64::MAX));
    let language = match options.language {
        Words::En => Language::En,
        Words::De => Language::De,
    };
    if options.headless {
        headless::speak(options.server, link, language)?;
    } else {
        let opening = match options.size {
            Some((width, height)) => Opening::Size { width, height },
            None if options.fullscreen => Opening::Fullscreen,
            None => Opening::Preferred,
        };
        window::open(options.server, link, language, Screen { opening, inches: options.diagonal })?;
    }
    Ok(())
}

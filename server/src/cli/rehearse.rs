//! `turnabout rehearse`: evenings in which sets take other times than planned, with the floor run in four ways: of an
//! instance, or of a floor's own files, where people go through it on the floor's real core.

mod answer;
pub mod floor;
mod text;

use std::path::{Path, PathBuf};

use clap::Args;

pub use answer::{Answer, Promised, Way, WayName};

use super::Told;
use super::error::CliError;
use super::plan::file;
use crate::timetable::rehearse::noise::Noise;
use crate::timetable::rehearse::{Looking, Rehearsal};

/// The most evenings: a few hours of searching.
const MOST_RUNS: u32 = 10_000;

/// What is to happen, and how often.
#[derive(Clone, Debug, Args)]
pub struct Ask {
    /// The instance: what is to be planned; or a floor file and a programme file.
    #[arg(required = true, num_args = 1..=2, value_names = ["INSTANCE or FLOOR", "PROGRAMME"])]
    files: Vec<PathBuf>,
    /// By how much the lengths of sets vary, as their standard deviation: 0% to 50%.
    #[arg(long, default_value = "10%", value_parser = noise)]
    noise: Noise,
    /// How many evenings.
    #[arg(long, default_value_t = 50, value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_RUNS)))]
    runs: u32,
    /// Which evenings: the same number gives the same ones.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// How many orders each of the planner's searches looks at: for a whole evening (20000 if not said), or of files
    /// whenever somebody comes, goes or takes stations (2000 if not said).
    #[arg(long, value_parser = clap::value_parser!(u64).range(1..=100_000_000))]
    iterations: Option<u64>,
    /// How many orders are looked at whenever something ordinary happens; 0 keeps the order.
    #[arg(long, default_value_t = 500, value_parser = clap::value_parser!(u64).range(0..=1_000_000))]
    at_events: u64,
    /// Answer with JSON.
    #[arg(long)]
    json: bool,
}

/// Reads `10%`.
fn noise(written: &str) -> Result<Noise, String> {
    let percent = written.strip_suffix('%').and_then(|percent| percent.parse().ok());
    percent
        .and_then(Noise::percent)
        .ok_or_else(|| format!("allowed a whole number of percent such as 10%, 0% to {}%", Noise::MOST))
}

/// How many orders a search looks at where nobody says: for a whole evening, and after something structural.
const WHOLE: u64 = 20_000;
const STRUCTURAL: u64 = 2_000;

/// Answers.
///
/// # Errors
/// A file cannot be read, or has mistakes.
pub fn tell(ask: &Ask) -> Result<Told, CliError> {
    match &ask.files[..] {
        [floor, programme] => floor::tell(ask, floor, programme),
        // There is one at least.
        files => of_an_instance(ask, files.first().map_or_else(|| Path::new(""), PathBuf::as_path)),
    }
}

fn of_an_instance(ask: &Ask, path: &Path) -> Result<Told, CliError> {
    let instance = file::instance(path)?;
    let looking = Looking { seed: ask.seed, evening: ask.iterations.unwrap_or(WHOLE), event: ask.at_events };
    let of_the_instance = "what is planned is a timetable of the instance";
    let rehearsal = Rehearsal::new(&instance, looking).expect(of_the_instance);
    let evenings: Vec<_> = (0..u64::from(ask.runs))
        .map(|run| rehearsal.evening(ask.noise, ask.seed.wrapping_add(run)).expect(of_the_instance))
        .collect();
    let answer = answer::of(&instance, rehearsal.plan(), &evenings, (ask.noise, looking));
    Ok(Told::new(&answer, ask.json, true, text::of))
}

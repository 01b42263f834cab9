//! Evenings of a floor's own files.

mod answer;
mod text;

use std::path::Path;

pub use answer::{Answer, Kept, Told as ToldStarts, Way, WayName};

use super::{Ask, STRUCTURAL};
use crate::cli::Told;
use crate::cli::error::CliError;
use crate::floor::config::Programme;
use crate::floor::rehearse::measured::{Measured, measured};
use crate::floor::rehearse::opening::Opening;
use crate::floor::rehearse::{self, Chance, Looking, evening};
use crate::setup::read_pair;

/// How the floor is run, in the order of the answer.
const WAYS: [WayName; 4] = [WayName::Eye, WayName::CappedEye, WayName::Planned, WayName::AllKnowing];

/// The all-knowing planner looks at so many times as many orders: what it shows is to hang on what it knows, and less on
/// how long it looked.
const LONGER: u64 = 4;

/// One evening, and whether it came to its end.
pub(super) type Seen = (Measured, bool);

pub(super) fn tell(ask: &Ask, floor: &Path, programme: &Path) -> Result<Told, CliError> {
    let files = read_pair(floor, Some(programme), None).map_err(CliError::Floor)?;
    let name = files.floor.floor.name.clone();
    // A pair that is read with a programme has one.
    let programme = files.programme.map_or_else(Programme::default, |file| file.programme);
    let opening = Opening::of(files.floor.floor, programme);
    let looking =
        Looking { seed: ask.seed, structural: ask.iterations.unwrap_or(STRUCTURAL), event: ask.at_events };
    let seen = |run: u64| {
        let chance = Chance { noise: ask.noise, seed: ask.seed.wrapping_add(run) };
        WAYS.map(|way| seen(&opening, way, looking, chance))
    };
    let evenings: Vec<[Seen; 4]> = (0..u64::from(ask.runs)).map(seen).collect();
    let answer = answer::of(name, &evenings, (ask.noise, looking));
    Ok(Told::new(&answer, ask.json, true, text::of))
}

fn seen(opening: &Opening, way: WayName, looking: Looking, chance: Chance) -> Seen {
    let way = match way {
        WayName::Eye => rehearse::Way::Eye,
        WayName::CappedEye => rehearse::Way::CappedEye,
        WayName::Planned => rehearse::Way::Planned(looking),
        WayName::AllKnowing => rehearse::Way::AllKnowing(Looking {
            structural: looking.structural.saturating_mul(LONGER),
            event: looking.event.saturating_mul(LONGER),
            ..looking
        }),
    };
    let happened = evening(opening, way, chance, &[], &mut ());
    let happened = happened.expect("what is planned is a timetable of the floor");
    (measured(&happened.entries), happened.complete)
}

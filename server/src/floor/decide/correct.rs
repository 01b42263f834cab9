//! What was really done in a set of the evening, said later. What was said first is kept.

use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::load::Load;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::Mass;

use super::finish::{helped_in_range, in_range};
use super::{Verdict, target};
use crate::floor::event::Event;
use crate::floor::state::{SetRecord, State};
use crate::loading::gear::Gear;
use crate::training::scale::Scale;

/// What is known of a set now.
#[derive(Clone, Copy)]
pub(super) struct Known {
    pub reps: u8,
    pub load: Option<Load>,
    pub effort: Option<Effort>,
    pub ending: Ending,
}

pub(super) fn correct(state: &State, turn: TurnId, known: Known) -> Result<Verdict, Refusal> {
    target::group(state, turn.group)?;
    let Known { reps, load, effort, ending } = known;
    let record = state.record(turn).ok_or(Refusal::UnknownTurn)?;
    in_range(reps, effort)?;
    let reps = Some(reps);
    helped_in_range(ending, reps)?;
    let gear = state.floor.stations.get(&record.station).map(|s| &s.gear);
    match (load, gear) {
        // The gear may have been another then: what it cannot hold today is still no reason to refuse.
        (Some(_), Some(gear)) if gear.lightest().is_none() => return Err(Refusal::NoLoad),
        (Some(load), _) => possible(load, record.load.now(), gear)?,
        (None, _) => {}
    }
    let ending = by_reps(ending, record, reps);
    let known = (record.reps.now(), record.load.now(), record.effort.now(), record.ending.now());
    if known == (reps, load, effort, ending) {
        return Ok(Verdict::Already(record.last_said()));
    }
    Ok(Verdict::Accepted(vec![Event::SetCorrected { turn, reps, load, effort, ending }]))
}

/// How a set ended of which only the repetitions are put right: whether these were all follows from them.
fn by_reps(said: Ending, record: &SetRecord, reps: Option<u8>) -> Ending {
    let follows = matches!(said, Ending::Complete | Ending::Short) && said == record.ending.now();
    match reps.filter(|_| follows && reps != record.reps.now()) {
        Some(reps) if record.work.is_met_by(reps) => Ending::Complete,
        Some(_) => Ending::Short,
        None => said,
    }
}

/// Whether a set can have been done with this load: a pin where it was done with one, else where the labels are
/// numbers, and a mass elsewhere.
fn possible(load: Load, was: Option<Load>, gear: Option<&Gear>) -> Result<(), Refusal> {
    let pins = gear.and_then(|gear| match gear.scale() {
        Scale::Pins(pins) => Some(pins),
        Scale::Loads(_) => None,
    });
    let by_pin = was.map_or(pins.is_some(), |was| was.pin().is_some());
    let most = pins.map_or(u16::MAX, |pins| pins.count);
    match load {
        Load::Mass(_) if by_pin => Err(Refusal::TakesPin { most }),
        Load::Mass(mass) if mass > Mass::MAX || mass < Mass::ZERO => Err(Refusal::NoLoad),
        Load::Mass(_) => Ok(()),
        Load::Pin { .. } if !by_pin => Err(Refusal::TakesMass),
        Load::Pin { pin } if (1..=most).contains(&pin) => Ok(()),
        Load::Pin { .. } => Err(Refusal::TakesPin { most }),
    }
}

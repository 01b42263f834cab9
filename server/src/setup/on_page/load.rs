//! Problems of how a load is found.

use turnabout_protocol::entry::LoadWrong;

use super::said;
use crate::setup::load_problem::{LoadProblem, NoRamp};
use crate::setup::load_rule::Load;
use crate::setup::written::Written;
use crate::training::percent::{MOST_REPS, MOST_RESERVE};

pub(super) fn wrong(problem: &LoadProblem) -> LoadWrong {
    match problem {
        LoadProblem::MaxOfNothing { helps: true, exercise: _ } => LoadWrong::MaxHelps,
        LoadProblem::MaxOfNothing { helps: false, exercise: _ } => LoadWrong::MaxOfNothing,
        LoadProblem::OnlyForAll(load) => LoadWrong::OnlyForAll { load: entered(*load) },
        LoadProblem::ShareOnAssisting(load) => LoadWrong::ShareOnAssisting { load: entered(*load) },
        LoadProblem::MaxOfNumbers { exercise } => LoadWrong::MaxOfNumbers { exercise: exercise.clone() },
        LoadProblem::OnlyPins { load, exercise, most } => {
            LoadWrong::OnlyPins { load: entered(*load), exercise: exercise.clone(), most: *most }
        }
        LoadProblem::NoPins { pin, exercise } => {
            LoadWrong::NoPins { load: said(&Written::Pin(*pin)), exercise: exercise.clone() }
        }
        LoadProblem::NoMax { load, client, exercise } => {
            LoadWrong::NoMax { load: entered(*load), client: *client, exercise: exercise.clone() }
        }
        LoadProblem::NoReserve => LoadWrong::NoReserve { most: MOST_RESERVE },
        LoadProblem::ReserveOfHold => LoadWrong::ReserveOfHold,
        LoadProblem::TooMuchReserve { reserve } => {
            LoadWrong::TooMuchReserve { reserve: *reserve, most: MOST_RESERVE }
        }
        LoadProblem::TooManyReps { reps, reserve } => {
            LoadWrong::TooManyReps { reps: *reps, reserve: *reserve, most: MOST_REPS }
        }
        LoadProblem::Maximal => LoadWrong::Maximal,
        LoadProblem::Ramp(NoRamp::Hold) => LoadWrong::RampHold,
        LoadProblem::Ramp(NoRamp::NothingSet) => LoadWrong::RampNothingSet,
        LoadProblem::Ramp(NoRamp::Helps) => LoadWrong::RampHelps,
    }
}

/// A load as it is entered: words of files without their quotation marks.
fn entered(load: Load) -> String {
    said(&load).trim_matches('"').to_owned()
}

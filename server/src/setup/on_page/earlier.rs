//! Problems of sets that were done before.

use turnabout_protocol::entry::EarlierWrong;

use super::value::field;
use super::{nearest, said};
use crate::setup::earlier_problem::EarlierProblem;
use crate::setup::words::Iso;

/// What is wrong; nothing where the first of two stands in a line, as in files.
pub(super) fn wrong(problem: &EarlierProblem) -> Option<EarlierWrong> {
    Some(match problem {
        EarlierProblem::NotThere { station, exercise, allowed } => EarlierWrong::NotThere {
            station: station.clone(),
            exercise: exercise.clone(),
            stations: allowed.clone(),
        },
        EarlierProblem::NothingSet { exercise } => EarlierWrong::NothingSet { exercise: exercise.clone() },
        EarlierProblem::CannotHold { load, station, below, above } => EarlierWrong::CannotHold {
            load: said(load),
            station: station.clone(),
            nearest: nearest(below.as_ref(), above.as_ref()),
        },
        EarlierProblem::OnlyPins { load, station, most } => {
            EarlierWrong::OnlyPins { load: said(load), station: station.clone(), most: *most }
        }
        EarlierProblem::NoPins { load, station } => {
            EarlierWrong::NoPins { load: said(load), station: station.clone() }
        }
        EarlierProblem::Ahead { on, day } => {
            EarlierWrong::Ahead { on: said(&Iso(*on)), day: said(&Iso(*day)) }
        }
        EarlierProblem::SameDay { on, exercise, station, first } => EarlierWrong::SameDay {
            on: said(&Iso(*on)),
            exercise: exercise.clone(),
            station: station.clone(),
            first: field(first)?.to_owned(),
        },
        EarlierProblem::TooMany { exercise, station } => {
            EarlierWrong::TooMany { exercise: exercise.clone(), station: station.clone() }
        }
        EarlierProblem::RepsOfHold => EarlierWrong::RepsOfHold,
        EarlierProblem::NotComplete { reps, least } => {
            EarlierWrong::NotComplete { reps: *reps, least: *least }
        }
        EarlierProblem::NotHelped => EarlierWrong::NotHelped,
    })
}

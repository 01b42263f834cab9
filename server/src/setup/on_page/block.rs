//! Problems of blocks.

use turnabout_protocol::entry::{BlockWrong, Split};
use turnabout_protocol::ids::ClientId;

use super::said;
use crate::floor::outlook::too_large::OnTwo;
use crate::setup::block_problem::BlockProblem;

pub(super) fn wrong(problem: &BlockProblem) -> BlockWrong {
    match problem {
        BlockProblem::RangeOrder { least, most } => BlockWrong::RangeOrder { least: *least, most: *most },
        BlockProblem::RoundsLength { found, rounds } => {
            BlockWrong::RoundsLength { count: *found, rounds: *rounds }
        }
        BlockProblem::FirstInPlace => BlockWrong::FirstInPlace,
        BlockProblem::NowhereInPlace { exercise, before } => {
            BlockWrong::NowhereInPlace { exercise: exercise.clone(), before: before.clone() }
        }
        BlockProblem::TooFewStations { needs } => BlockWrong::TooFewStations { needs: *needs },
        BlockProblem::MoreThanACoach { needs, most } => {
            BlockWrong::MoreThanACoach { needs: *needs, most: *most }
        }
        BlockProblem::GroupTooLarge { clients, most } => {
            BlockWrong::GroupTooLarge { count: *clients, most: *most }
        }
        BlockProblem::KeptForMembers { needs, left, keep, of } => {
            BlockWrong::KeptForMembers { needs: *needs, left: *left, keep: *keep, of: *of }
        }
        // Group and block are in the place.
        BlockProblem::RestsTooLong { group: _, block: _, most, too_large } => BlockWrong::RestsTooLong {
            over: too_large.overrun.0,
            most: most.0,
            split: split(too_large.split.as_ref()),
        },
        BlockProblem::TooFewHandles { handle, needs, count } => {
            BlockWrong::TooFewHandles { handle: handle.clone(), needs: *needs, count: *count }
        }
        BlockProblem::NobodyToSpot { exercise } => BlockWrong::NobodyToSpot { exercise: exercise.clone() },
        BlockProblem::CoachAbsent { coach, shift, session } => {
            BlockWrong::CoachAbsent { coach: coach.clone(), shift: said(shift), session: said(session) }
        }
    }
}

fn split(on_two: Option<&OnTwo>) -> Split {
    let Some(OnTwo { clients: [one, other], overrun }) = on_two else { return Split::NoBetter };
    let numbers = |clients: &[ClientId]| clients.iter().map(|client| client.0).collect();
    let (one, other) = (numbers(one), numbers(other));
    match overrun.0 {
        0 => Split::Kept { one, other },
        over => Split::Longer { one, other, over },
    }
}

//! What a coach makes of the load that is proposed for a coming set.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::next::{CoachSaid, Proposal};
use turnabout_protocol::refusal::Refusal;

use super::target;
use super::{Speaker, Verdict};
use crate::floor::event::Event;
use crate::floor::next_load::{self, Ladders};
use crate::floor::state::State;
use crate::training::settle::{self, MOST_STEPS, SettleError};

/// The coach takes what is proposed, or goes some steps off it. It need not be the client's very next set: the load
/// of a press is settled while the client rows.
pub(super) fn settle(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    proposed: Proposal,
    said: CoachSaid,
) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    if target.over(turn).is_some() {
        return Err(Refusal::Over);
    }
    if target.client.current.is_some_and(|u| u.turn == turn) {
        return Err(Refusal::UnderWay);
    }
    let mut ladders = Ladders::default();
    let next = next_load::of_leg(&target.hand, turn.client, turn.leg, &mut ladders);
    let next = next.filter(|next| next.turn == turn).ok_or(Refusal::NothingProposed)?;
    if next.proposal != proposed {
        return Err(Refusal::ProposalChanged);
    }
    let before = next_load::before(&target.hand, turn);
    let ladder = ladders.of(&target.hand, turn).ok_or(Refusal::UnknownStation)?;
    let settled = settle::settle(proposed, Some(said), before, ladder.scale()).map_err(steps)?;
    let load = settled.set.load();
    let last = target.hand.leg_now(turn).and_then(|leg| leg.settled).filter(|last| last.round == turn.round);
    // A load that was made lighter since is taken once more.
    if let Some(last) = last.filter(|last| last.settled == settled && target.hand.load(turn) == Some(load)) {
        return Ok(Verdict::Already(last.said));
    }
    Ok(Verdict::Accepted(vec![Event::LoadSettled { turn, settled }]))
}

fn steps(error: SettleError) -> Refusal {
    match error {
        SettleError::Steps { most, .. } => Refusal::StepsRange { most },
        SettleError::GearEnds { reached } => Refusal::StepsRange { most: reached.min(MOST_STEPS) },
        SettleError::OtherGear => Refusal::ProposalChanged,
    }
}

//! Sets that are left out, and a light set that is done once more.

use turnabout_protocol::command::{Reason, SkipScope};
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;

use super::start::not_begun;
use super::target::{self, Target};
use super::{Speaker, Verdict};
use crate::floor::event::Event;
use crate::floor::state::State;

/// Leaves out the client's next set, what is left of the round, or the exercise. A client may leave out a set
/// at the station; the rest is the coach's.
pub(super) fn skip(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    scope: SkipScope,
    reason: Reason,
) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    let by_client = matches!(speaker.actor, Actor::Station { .. });
    let light = turn.round == 0;
    if by_client && (scope != SkipScope::Set || light) {
        return Err(Refusal::RoleMayNot);
    }
    nothing_under_way(&target)?;
    not_begun(&target, turn)?;
    if target.hand.is_again(turn) && !target.hand.is_ramp(turn) {
        // A light set beside the order is not left out: the coach passes it without its being done.
        return Err(Refusal::TechniqueNotPassed);
    }
    let legs = target.hand.block.legs.len();
    // Beside the order there is one set to leave out, whatever is said.
    let scope = if target.hand.is_ramp(turn) { SkipScope::Set } else { scope };
    let event = match scope {
        SkipScope::Set => Event::TurnsSkipped { turn, count: 1, reason },
        SkipScope::Round => {
            let left = legs - usize::from(turn.leg);
            Event::TurnsSkipped { turn, count: u8::try_from(left).unwrap_or(u8::MAX), reason }
        }
        SkipScope::Exercise => Event::ExerciseSkipped { turn, reason },
    };
    Ok(Verdict::Accepted(vec![event]))
}

/// Another light set before the client's next working set of an exercise, seen by the coach: after a change of
/// form, or ten minutes of cold.
pub(super) fn technique_again(state: &State, speaker: &Speaker, turn: TurnId) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    nothing_under_way(&target)?;
    if turn.round == 0 || target.over(turn).is_some() {
        return Err(Refusal::NoTechniqueSet);
    }
    let leg = target.hand.leg_now(turn).ok_or(Refusal::UnknownTurn)?;
    let light = TurnId { round: 0, ..turn };
    if leg.again || target.hand.place(light).is_none_or(|place| place >= target.client.sets.len()) {
        return Err(Refusal::NotNext { turn: light });
    }
    Ok(Verdict::Accepted(vec![Event::TechniqueAsked { turn }]))
}

fn nothing_under_way(target: &Target<'_>) -> Result<(), Refusal> {
    target.client.current.map_or(Ok(()), |u| Err(Refusal::SetUnderWay { turn: u.turn }))
}

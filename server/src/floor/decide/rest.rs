//! More rest, less rest, and a way over that became a rest.

use turnabout_protocol::command::Reason;
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::view::After;

use super::start::not_begun;
use super::target::{self, Target};
use super::{Speaker, Verdict};
use crate::floor::event::Event;
use crate::floor::in_hand::Coming;
use crate::floor::state::State;

/// The least and the most that can be added at once.
const MORE: (u16, u16) = (5, 600);

/// So much more before the client is told to be ready. Works on a way over too: nobody is hurried.
pub(super) fn more(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    secs: u16,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let (target, coming) = coming(state, speaker, turn)?;
    let (least, most) = MORE;
    if !(least..=most).contains(&secs) {
        return Err(Refusal::SecsRange { least, most });
    }
    not_begun(&target, turn)?;
    let ready = coming.ready.max(now) + Millis::secs(i64::from(secs));
    Ok(Verdict::Accepted(vec![Event::StartPutOff { turn, ready }]))
}

/// A shorter rest for this once: shorter than the block says, and with a reason.
pub(super) fn less(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    secs: u16,
    reason: Reason,
) -> Result<Verdict, Refusal> {
    let (target, coming) = coming(state, speaker, turn)?;
    not_begun(&target, turn)?;
    match coming.after {
        // A way over that became a rest has no shortest one.
        After::Rest { .. } if target.client.as_rest.is_none() => {}
        After::Rest { .. } | After::Nothing | After::Changeover { .. } => return Err(Refusal::NoRest),
    }
    let Secs(planned) = target.hand.block.rest_min;
    let most = u16::try_from(planned.saturating_sub(1)).unwrap_or(u16::MAX);
    if u32::from(secs) >= planned {
        return Err(Refusal::SecsRange { least: 0, most });
    }
    let least = Secs(u32::from(secs));
    if let Some(cut) = target.client.rest_cut.filter(|cut| (cut.least, cut.reason) == (least, reason)) {
        return Ok(Verdict::Already(cut.said));
    }
    Ok(Verdict::Accepted(vec![Event::RestShortened { turn, least, reason }]))
}

/// The client stood and waited on the way over: what follows is a rest, and the pair is no pair this once.
pub(super) fn treat_as_rest(state: &State, speaker: &Speaker, turn: TurnId) -> Result<Verdict, Refusal> {
    let (target, coming) = coming(state, speaker, turn)?;
    not_begun(&target, turn)?;
    if let Some(said) = target.client.as_rest {
        return Ok(Verdict::Already(said));
    }
    match coming.after {
        After::Changeover { .. } => Ok(Verdict::Accepted(vec![Event::TreatedAsRest { turn }])),
        After::Nothing | After::Rest { .. } => Err(Refusal::NoRest),
    }
}

fn coming<'s>(state: &'s State, speaker: &Speaker, turn: TurnId) -> Result<(Target<'s>, Coming), Refusal> {
    let target = target::turn(state, speaker, turn)?;
    not_begun(&target, turn)?;
    let coming = target.hand.coming(turn.client).ok_or(Refusal::NotReserved)?;
    Ok((target, coming))
}

//! The end of a set, and what is said of it afterwards.

use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;

use super::target::{self, Target};
use super::{Speaker, Verdict, happened};
use crate::floor::event::Event;
use crate::floor::state::{RAN_OVER, State, UnderWay};
use crate::training::block::limits::REPS;

/// What a done tap says.
#[derive(Clone, Copy)]
pub(super) struct Said {
    pub reps: Option<u8>,
    pub effort: Option<Effort>,
    pub ending: Option<Ending>,
    pub at: FloorMs,
}

/// The set is over and racked.
pub(super) fn done(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    said: Said,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    if let Some(over) = target.over(turn) {
        return over.map(|record| Verdict::Already(record.done)).ok_or(Refusal::WasSkipped);
    }
    let current = target.client.current.filter(|u| u.turn == turn).ok_or(Refusal::NotBegun)?;
    if now < current.starts {
        return Err(Refusal::NotBegun);
    }
    let (unsaid, ending) = current.unsaid();
    let reps = said.reps.or(unsaid);
    in_range(reps.unwrap_or_default(), said.effort)?;
    let ending = self::ending(&target, turn, said, (reps, ending))?;
    let ended = ended(&current, happened(said.at, current.starts, now));
    Ok(Verdict::Accepted(vec![Event::TurnDone { turn, ended, reps, effort: said.effort, ending }]))
}

/// How it ended, as somebody says; or else as the repetitions say, where somebody has. A set that was stopped with all
/// of them done was complete.
fn ending(
    target: &Target<'_>,
    turn: TurnId,
    said: Said,
    (reps, unsaid): (Option<u8>, Ending),
) -> Result<Ending, Refusal> {
    if let Some(ending) = said.ending {
        return helped_in_range(ending, reps).map(|()| ending);
    }
    let met = |reps| target.hand.work(turn).is_none_or(|work| work.is_met_by(reps));
    Ok(match (said.reps, unsaid) {
        (Some(reps), _) if met(reps) => Ending::Complete,
        (Some(_), Ending::Complete) => Ending::Short,
        (Some(_) | None, unsaid) => unsaid,
    })
}

/// Nobody is helped with more repetitions than there were, as far as these are known.
pub(super) fn helped_in_range(ending: Ending, reps: Option<u8>) -> Result<(), Refusal> {
    let most = reps.unwrap_or(REPS);
    match ending {
        Ending::Helped { reps: helped } if helped == 0 || helped > most => Err(Refusal::RepsRange { most }),
        Ending::Helped { .. }
        | Ending::Complete
        | Ending::Short
        | Ending::Failed
        | Ending::FormBroken
        | Ending::EquipmentFault
        | Ending::Stopped => Ok(()),
    }
}

fn ended(current: &UnderWay, tapped: FloorMs) -> FloorMs {
    if tapped.since(current.ends) > RAN_OVER { current.ends } else { tapped }
}

pub(super) fn in_range(reps: u8, effort: Option<Effort>) -> Result<(), Refusal> {
    if reps > REPS {
        return Err(Refusal::RepsRange { most: REPS });
    }
    match effort {
        Some(Effort::Rir { reps }) if reps > Effort::MAX_RIR => {
            Err(Refusal::EffortRange { most: Effort::MAX_RIR })
        }
        Some(Effort::Rir { .. } | Effort::Light | Effort::Right | Effort::Heavy) | None => Ok(()),
    }
}

/// How a set felt, said after it was over, at any station of its round.
pub(super) fn effort(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    effort: Effort,
) -> Result<Verdict, Refusal> {
    let target = target::turn_of_round(state, speaker, turn)?;
    let record = target.over(turn).ok_or(Refusal::NotBegun)?.ok_or(Refusal::WasSkipped)?;
    in_range(0, Some(effort))?;
    if record.effort.now() == Some(effort) {
        return Ok(Verdict::Already(record.effort.last.stamp));
    }
    Ok(Verdict::Accepted(vec![Event::EffortGiven { turn, effort: Some(effort) }]))
}

/// The repetitions of a set, said after it was over.
pub(super) fn reps(state: &State, speaker: &Speaker, turn: TurnId, reps: u8) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    let record = target.over(turn).ok_or(Refusal::NotBegun)?.ok_or(Refusal::WasSkipped)?;
    in_range(reps, None)?;
    let reps = Some(reps);
    if record.reps.now() == reps {
        return Ok(Verdict::Already(record.reps.last.stamp));
    }
    Ok(Verdict::Accepted(vec![Event::RepsCorrected { turn, reps }]))
}

/// The coach saw the technique set, while it is done or after.
pub(super) fn pass_technique(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    if turn.round != 0 {
        return Err(Refusal::NoTechniqueSet);
    }
    let passed = target.client.legs.get(usize::from(turn.leg)).and_then(|leg| leg.passed);
    if let Some(passed) = passed {
        return Ok(Verdict::Already(passed));
    }
    let seen = match target.client.current.filter(|u| u.turn == turn) {
        Some(current) => now >= current.starts,
        // A light set that was asked for beside the order need not be done if the coach passes it all the same.
        None => target.over(turn).is_some() || target.hand.is_again(turn),
    };
    if !seen {
        return Err(Refusal::TechniqueNotDone);
    }
    Ok(Verdict::Accepted(vec![Event::TechniquePassed { turn }]))
}

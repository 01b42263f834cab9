//! Which load of the gear a wish comes to.

use turnabout_protocol::next::{NextReason, PerMille};
use turnabout_protocol::units::Mass;

use crate::training::loads::{
    Direction, Loads, NANOGRAM, at_hardest, easier_by, easiest, harder, harder_by, next_harder,
};
use crate::training::no_proposal::NoProposal;

/// A load of the gear, and why it is another than wished for, where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Fitted {
    pub(crate) load: Mass,
    pub(crate) instead: Option<NextReason>,
}

/// How far up at most.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limit {
    /// By so much.
    pub(crate) most: Mass,
    /// What that is of the load, to say it.
    pub(crate) share: PerMille,
    /// Below this, where there is such a limit.
    pub(crate) below: Option<Mass>,
}

/// The load to go up to: the hardest within what is wanted, else the next one if that is allowed, else the same.
pub(crate) fn rise(now: Mass, wanted: Mass, limit: Limit, loads: &dyn Loads) -> Result<Fitted, NoProposal> {
    let goal = under(limit.below, harder_by(loads, now, wanted.min(limit.most)), loads);
    if let Some(load) = at_hardest(loads, goal).filter(|load| harder(loads, *load, now)) {
        return Ok(Fitted { load, instead: None });
    }
    step_to(now, next_harder(loads, now), limit, loads)
}

/// That step up, if there is one and it is allowed, else the same.
pub(crate) fn step_to(
    now: Mass,
    step: Option<Mass>,
    limit: Limit,
    loads: &dyn Loads,
) -> Result<Fitted, NoProposal> {
    let instead = match step {
        None => NextReason::NothingHarder,
        Some(step) if harder(loads, step, under(limit.below, step, loads)) => NextReason::NearMax,
        Some(step) if harder(loads, step, harder_by(loads, now, limit.most)) => {
            NextReason::StepTooBig { above: step, share: limit.share }
        }
        Some(load) => return Ok(Fitted { load, instead: None }),
    };
    kept(now, instead, limit.below, loads)
}

/// The same load, or the nearest easier one where the gear has it no more.
pub(crate) fn stay(now: Mass, below: Option<Mass>, loads: &dyn Loads) -> Result<Fitted, NoProposal> {
    let goal = under(below, now, loads);
    let load = at_hardest(loads, goal).ok_or_else(|| too_hard(loads))?;
    let instead = match (load == now, goal == now) {
        (true, _) => None,
        (false, true) => Some(NextReason::NotOnGear { load: now.into() }),
        (false, false) => Some(NextReason::NearMax),
    };
    Ok(Fitted { load, instead })
}

/// The load to go down to: the hardest that is easier by so much or more, else the easiest there is.
pub(crate) fn fall(
    now: Mass,
    amount: Mass,
    below: Option<Mass>,
    loads: &dyn Loads,
) -> Result<Fitted, NoProposal> {
    let goal = under(below, easier_by(loads, now, amount), loads);
    let found = at_hardest(loads, goal).or_else(|| easiest(loads));
    match found.filter(|load| harder(loads, now, *load)) {
        Some(load) if !harder(loads, load, under(below, load, loads)) => Ok(Fitted { load, instead: None }),
        Some(_) => Err(too_hard(loads)),
        None => kept(now, NextReason::NothingEasier, below, loads),
    }
}

fn kept(now: Mass, why: NextReason, below: Option<Mass>, loads: &dyn Loads) -> Result<Fitted, NoProposal> {
    let fitted = stay(now, below, loads)?;
    Ok(Fitted { instead: fitted.instead.or(Some(why)), ..fitted })
}

/// The load, or the hardest mass below the limit where the load is not below it. Only mass that resists has one.
fn under(below: Option<Mass>, load: Mass, loads: &dyn Loads) -> Mass {
    match (below, loads.direction()) {
        (Some(below), Direction::Resists) => load.min(below - NANOGRAM),
        (Some(_), Direction::Assists) | (None, Direction::Resists | Direction::Assists) => load,
    }
}

fn too_hard(loads: &dyn Loads) -> NoProposal {
    NoProposal::NothingEasyEnough { easiest: easiest(loads) }
}

//! With which loads a client begins an exercise at a station: as the plan says outright, or by its rule from what
//! this client did at this very station. And the light sets before them.

use turnabout_protocol::ids::{ClientId, ExerciseId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::FloorMs;

use super::event::{FirstLoads, LegLoads};
use super::gear_now;
use super::history;
use super::state::State;
use crate::loading::gear::Ladder;
use crate::training::block::{Block, Leg, Prescription, Target};
use crate::training::no_proposal::NoProposal;
use crate::training::rule::LoadRule;
use crate::training::scale::{Footing, Scale};

/// The loads of every client for every exercise of a block that has any, at these stations.
///
/// # Errors
/// Where a rule leads to no load of a station: then the station does not suit.
pub fn of_block(
    state: &State,
    block: &Block,
    stations: &[StationId],
    rounds: u8,
    now: FloorMs,
) -> Result<Vec<FirstLoads>, NoProposal> {
    let mut all = Vec::new();
    for ((leg, station), place) in block.legs.iter().zip(stations).zip(0_u8..) {
        let loads = of_leg(state, leg, *station, rounds, now)?;
        all.extend(loads.into_iter().map(|loads| FirstLoads { leg: place, loads }));
    }
    Ok(all)
}

/// The loads of every client for one exercise at a station; none where it has none.
///
/// # Errors
/// As for [`of_block`].
pub fn of_leg(
    state: &State,
    leg: &Leg,
    station: StationId,
    rounds: u8,
    now: FloorMs,
) -> Result<Vec<LegLoads>, NoProposal> {
    let Some(there) = There::of(state, leg, station, now) else { return Ok(Vec::new()) };
    leg.sets.keys().filter_map(|client| there.loads(*client, rounds).transpose()).collect()
}

/// The loads of one client for one exercise at a station; nothing where it has none.
///
/// # Errors
/// As for [`of_block`].
pub fn of(
    state: &State,
    (leg, client): (&Leg, ClientId),
    station: StationId,
    rounds: u8,
    now: FloorMs,
) -> Result<Option<LegLoads>, NoProposal> {
    There::of(state, leg, station, now).map_or(Ok(None), |there| there.loads(client, rounds))
}

/// The loads of one client who moves to a station where what was set before says nothing: a mass where the labels are
/// numbers, and a pin everywhere but where it was found. What the plan says outright for such gear holds there; else
/// the client goes on as last time there, or finds it out. `instead`: what is done in place of the planned exercise.
#[must_use]
pub fn moved(
    state: &State,
    (leg, client): (&Leg, ClientId),
    (station, instead): (StationId, Option<ExerciseId>),
    rounds: u8,
    now: FloorMs,
) -> Option<LegLoads> {
    let there = There::of(state, leg, station, now)?;
    let exercise = instead.unwrap_or(leg.exercise);
    There { exercise, moved: true, ..there }.loads(client, rounds).ok().flatten()
}

/// Whether every rule of an exercise leads to a load at a station. Loads that the plan says outright are not
/// looked at.
#[must_use]
pub fn has_all(state: &State, leg: &Leg, station: StationId, now: FloorMs) -> bool {
    let mut by_rule = leg.sets.iter().filter(|(_, set)| set.goes_by_rule()).peekable();
    if by_rule.peek().is_none() {
        return true;
    }
    let Some(there) = There::of(state, leg, station, now) else { return false };
    by_rule.all(|(client, set)| {
        let rounds = u8::try_from(set.rounds.len()).unwrap_or(u8::MAX);
        there.loads(*client, rounds).is_ok()
    })
}

/// An exercise at a station, with every load that can be set there, worked out once for all clients.
struct There<'s> {
    state: &'s State,
    leg: &'s Leg,
    /// What is done: of the leg, or instead of it.
    exercise: ExerciseId,
    station: StationId,
    now: FloorMs,
    ladder: Ladder,
    /// What was planned for other gear is found anew.
    moved: bool,
}

impl<'s> There<'s> {
    /// Nothing where there is no such station, or nothing to set.
    fn of(state: &'s State, leg: &'s Leg, station: StationId, now: FloorMs) -> Option<Self> {
        leg.sets.values().any(Prescription::is_loaded).then_some(())?;
        let ladder = Ladder::of(gear_now::there(state, station, leg.exercise)?.as_ref());
        let exercise = leg.exercise;
        Some(Self { state, leg, exercise, station, now, ladder, moved: false })
    }

    fn loads(&self, client: ClientId, rounds: u8) -> Result<Option<LegLoads>, NoProposal> {
        let Some(set) = self.leg.sets.get(&client).filter(|set| set.is_loaded()) else { return Ok(None) };
        let exercise = self.exercise;
        let lately = history::last_times(self.state, client, self.station, exercise, self.now);
        let known = self.state.programme.clients.get(&client);
        let one_rm = known.and_then(|client| client.max.get(&exercise).copied());
        let scale = self.ladder.scale();
        let footing = Footing { scale, policy: &self.state.floor.policy.loads, one_rm };
        let proposed = |target: &Target| match target.load.map(|rule| self.rule(rule)) {
            None => Ok((None, None)),
            Some(LoadRule::Fixed { load }) if self.moved => {
                Ok((scale.at_hardest(load).or_else(|| scale.easiest()), None))
            }
            Some(LoadRule::Fixed { load }) => Ok((Some(load), None)),
            Some(by) => {
                let proposal = footing.first(by, target.work, lately.as_ref())?;
                Ok((Some(proposal.set.load()), Some(proposal)))
            }
        };
        let targets: Vec<Target> = (1..=rounds).filter_map(|round| set.target(round)).collect();
        let rounds = targets.iter().map(proposed).collect::<Result<Vec<_>, NoProposal>>()?;
        let first = rounds.first().and_then(|(_, proposal)| *proposal);
        let asked = rounds.iter().zip(&targets).zip(1_u8..).filter_map(|(((_, proposal), target), round)| {
            let work = proposal.as_ref().map(|proposal| proposal.work)?;
            (work != target.work).then_some((round, work))
        });
        let works = asked.collect();
        let loads: Vec<Option<Load>> = rounds.into_iter().map(|(load, _)| load).collect();
        let (technique_load, ramp) = light(set, loads.first().copied().flatten(), scale);
        Ok(Some(LegLoads { client, loads, technique_load, ramp, first, works }))
    }

    /// By which rule a load is found here: as the plan says, or, where somebody has moved, what of it still holds.
    fn rule(&self, planned: LoadRule) -> LoadRule {
        let scale = self.ladder.scale();
        let holds = match planned {
            LoadRule::Fixed { load } => scale.is_of(load) && self.exercise == self.leg.exercise,
            LoadRule::ShareOfMax { .. } => matches!(scale, Scale::Loads(_)),
            LoadRule::ForReserve { .. } | LoadRule::AsLastTime | LoadRule::FindIt => true,
        };
        if holds || !self.moved { planned } else { LoadRule::AsLastTime }
    }
}

/// The light sets before a working load: what the plan says, as long as that is no heavier, or shares of the load.
fn light(set: &Prescription, first: Option<Load>, scale: Scale<'_>) -> (Option<Load>, Option<Load>) {
    let shares = first.and_then(|first| scale.light_sets(first));
    let said = set
        .technique
        .load
        .filter(|said| scale.is_of(*said) && first.is_none_or(|first| !scale.harder(*said, first)));
    let technique = said.or(shares.map(|shares| shares.technique)).or_else(|| scale.easiest());
    let ramp = shares.filter(|_| set.technique.ramp).and_then(|shares| shares.ramp);
    (technique, ramp.filter(|ramp| technique.is_none_or(|technique| technique < *ramp)))
}

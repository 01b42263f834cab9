//! With which loads a client begins an exercise at a station: as the plan says outright, or by its rule from what
//! this client did at this very station. And the light sets before them.

use turnabout_protocol::ids::{ClientId, StationId};
use turnabout_protocol::next::SetTo;
use turnabout_protocol::units::{FloorMs, Mass};

use super::event::{FirstLoads, LegLoads};
use super::gear_now;
use super::history;
use super::state::State;
use crate::loading::gear::Ladder;
use crate::training::block::{Block, Leg, Prescription, Target};
use crate::training::light::light_sets;
use crate::training::loads::{easiest, harder};
use crate::training::next::Ground;
use crate::training::no_proposal::NoProposal;
use crate::training::rule::{self, LoadRule};

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
        let Some(there) = There::of(state, leg, *station, now) else { continue };
        for client in leg.sets.keys() {
            let loads = there.loads(*client, rounds)?;
            all.extend(loads.map(|loads| FirstLoads { leg: place, loads }));
        }
    }
    Ok(all)
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
    station: StationId,
    now: FloorMs,
    ladder: Ladder,
}

impl<'s> There<'s> {
    /// Nothing where there is no such station, or nothing to set.
    fn of(state: &'s State, leg: &'s Leg, station: StationId, now: FloorMs) -> Option<Self> {
        leg.sets.values().any(Prescription::is_loaded).then_some(())?;
        let ladder = Ladder::of(gear_now::there(state, station, leg.exercise)?.as_ref());
        Some(Self { state, leg, station, now, ladder })
    }

    fn loads(&self, client: ClientId, rounds: u8) -> Result<Option<LegLoads>, NoProposal> {
        let Some(set) = self.leg.sets.get(&client).filter(|set| set.is_loaded()) else { return Ok(None) };
        let exercise = self.leg.exercise;
        let lately = history::last_times(self.state, client, self.station, exercise, self.now);
        let known = self.state.programme.clients.get(&client);
        let one_rm = known.and_then(|client| client.max.get(&exercise).copied());
        let ground = Ground { loads: &self.ladder, policy: &self.state.floor.policy.loads, one_rm };
        let proposed = |target: &Target| match target.load {
            None | Some(LoadRule::Fixed { .. }) => Ok((target.fixed(), None)),
            Some(by) => {
                let proposal = rule::first(by, target.work, lately.as_ref(), &ground)?;
                Ok((load_of(proposal.set), Some(proposal)))
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
        let loads: Vec<Option<Mass>> = rounds.into_iter().map(|(load, _)| load).collect();
        let (technique_load, ramp) = light(set, loads.first().copied().flatten(), &self.ladder);
        Ok(Some(LegLoads { client, loads, technique_load, ramp, first, works }))
    }
}

/// The light sets before a working load: what the plan says, as long as that is no heavier, or shares of the load.
fn light(set: &Prescription, first: Option<Mass>, ladder: &Ladder) -> (Option<Mass>, Option<Mass>) {
    let shares = first.and_then(|first| light_sets(first, ladder));
    let said = set.technique.load.filter(|said| first.is_none_or(|first| !harder(ladder, *said, first)));
    let technique = said.or(shares.map(|shares| shares.technique)).or_else(|| easiest(ladder));
    let ramp = shares.filter(|_| set.technique.ramp).and_then(|shares| shares.ramp);
    (technique, ramp.filter(|ramp| technique.is_none_or(|technique| technique < *ramp)))
}

/// The load that a station is set to; nothing where that is a pin without a mass.
#[must_use]
pub const fn load_of(set: SetTo) -> Option<Mass> {
    match set {
        SetTo::Mass { load } => Some(load),
        SetTo::Pin { .. } => None,
    }
}

//! Who may have which stations, and in which order those who wait get them.
//!
//! Groups on the wait list are served in order, each with all stations of its block or none. A later one may
//! go first only where no earlier one loses by it: whatever stations become free later, the earlier groups can
//! be served from what is left exactly when they could have been served without it.

mod matching;
mod policy;

use std::collections::BTreeSet;

use turnabout_protocol::command::Reason;
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;

use self::matching::runs;
pub use self::matching::{assign, serves_as_well};
pub use self::policy::allows;
use self::policy::{Served, allows_after, kept};
pub(in crate::floor) use self::policy::{clients_a_coach, handle_for, stations_a_coach};
use super::config::{GroupPlan, Sharing};
use super::decide::suited;
use super::state::{GroupNow, State, StationNow};
use crate::training::block::Block;

/// A group that waits, with the block for which it does.
#[derive(Clone, Copy, Debug)]
struct Waiting<'s> {
    group: GroupId,
    number: u8,
    block: &'s Block,
}

/// The first that can be served now: the group, its block, and a station for each exercise.
#[must_use]
pub fn next(state: &State, now: FloorMs) -> Option<(GroupId, u8, Vec<StationId>)> {
    state.line.iter().find_map(|ask| {
        let waiting = waiting(state, ask.group, ask.block)?;
        let stations = assign(waiting.block, &choices(state, waiting, now))?;
        let fits = allows(state, ask.group, waiting.block, &stations, now).is_ok()
            && overtaken(state, ask.group, waiting.block, &stations, now).is_none();
        fits.then_some((ask.group, waiting.number, stations))
    })
}

/// The stations that a group would get if it were served now, whatever others wait for.
#[must_use]
pub fn proposal(state: &State, group: GroupId) -> Option<Vec<StationId>> {
    let waiting = waiting(state, group, state.groups.get(&group)?.block)?;
    assign(waiting.block, &choices(state, waiting, state.recorded))
}

/// The first group on the wait list that would lose if another had these stations for a block now. Those who may
/// not be served at the moment for another reason than stations hold nobody up, nor do groups of whom nobody is
/// there.
#[must_use]
pub fn overtaken(
    state: &State,
    group: GroupId,
    block: &Block,
    stations: &[StationId],
    now: FloorMs,
) -> Option<GroupId> {
    let earlier = state.line.iter().take_while(|ask| ask.group != group);
    let mut before: Vec<(GroupId, Vec<Vec<StationId>>)> = Vec::new();
    let held = state.held_by(group);
    let more: BTreeSet<&StationId> = stations.iter().filter(|station| !held.contains(station)).collect();
    let served = Served { group, block, more: more.len() };
    for ask in earlier {
        let Some(waiting) = waiting(state, ask.group, ask.block) else { continue };
        if held_back(state, waiting, now) {
            continue;
        }
        let runs = runs(waiting.block, &suited_to(state, waiting.block));
        let more = runs.len().saturating_sub(state.held_by(ask.group).len());
        let then = Served { group: ask.group, block: waiting.block, more };
        if !allows_after(state, served, then) {
            return Some(ask.group);
        }
        before.push((ask.group, runs));
    }
    // Of what is kept for members nothing more can be had, by whomever it was taken.
    let could_have = |besides: &[StationId]| {
        let kept = kept(state, besides, now).all;
        let could = |id: &StationId| is_free(state, *id) && !besides.contains(id) && !kept.contains(id);
        state.stations.keys().copied().filter(could).collect::<Vec<_>>()
    };
    let (mut free, left) = (could_have(&[]), could_have(stations));
    // Whoever works in has the station alone once the other group is done: those who wait lose it then.
    free.extend(more.into_iter().copied().filter(|station| !is_free(state, *station)));
    let groups: Vec<_> = before.iter().map(|(_, legs)| legs.as_slice()).collect();
    // Where all of them lose nothing none does; only else is it worth asking who is the first to.
    if serves_as_well(&groups, &free, &left) {
        return None;
    }
    let loses = |n: &usize| !serves_as_well(groups.get(..*n).unwrap_or(&groups), &free, &left);
    (1..=groups.len()).find(loses).and_then(|n| before.get(n - 1)).map(|(group, _)| *group)
}

/// Whether a policy, and not only the stations, keeps a group from being served now.
fn held_back(state: &State, waiting: Waiting<'_>, now: FloorMs) -> bool {
    // Where there are no stations yet, it is what stands against any stations at all.
    let stations = assign(waiting.block, &choices(state, waiting, now)).unwrap_or_default();
    allows(state, waiting.group, waiting.block, &stations, now).is_err()
}

/// Whether a group may be given this station now: its own, a free one, or one where it may work in.
///
/// # Errors
/// What stands against it.
pub fn may_hold(state: &State, group: GroupId, station: StationId) -> Result<(), Refusal> {
    let now = state.stations.get(&station).ok_or(Refusal::UnknownStation)?;
    if let Some(out) = now.out {
        return Err(Refusal::NotInService { station, defect: out.defect });
    }
    if let Some(other) = now.other_use {
        return Err(Refusal::InOtherUse { station, until: other.until });
    }
    if let Some(call) = state.help_call(&[station]) {
        return Err(Refusal::HelpNeeded { station, call });
    }
    let Some(holder) = now.claim.filter(|holder| *holder != group && now.work_in != Some(group)) else {
        return Ok(());
    };
    if let Some(second) = now.work_in {
        return Err(Refusal::StationTaken { station, group: second });
    }
    match state.floor.stations.get(&station).map(|s| s.sharing) {
        Some(Sharing::Open) => Ok(()),
        Some(Sharing::Ask) if now.leave.is_some_and(|leave| leave.group == group) => Ok(()),
        Some(Sharing::Ask) => Err(Refusal::LeaveNeeded { station, group: holder }),
        Some(Sharing::Never) | None => Err(Refusal::StationTaken { station, group: holder }),
    }
}

/// Whether anybody may have a station: nobody holds it, and it can be used.
#[must_use]
pub fn is_free(state: &State, station: StationId) -> bool {
    usable(state, station).is_some_and(|now| now.claim.is_none())
}

/// A station that nothing keeps from being used: nobody of the public is on it, nothing is broken, nobody needs
/// help there.
fn usable(state: &State, station: StationId) -> Option<&StationNow> {
    let now = state.stations.get(&station)?;
    let fit = now.out.is_none() && now.other_use.is_none() && !state.help_at(&[station]);
    fit.then_some(now)
}

/// Who goes first, and why a group that goes before it may.
///
/// # Errors
/// The first group on the wait list that would have to wait longer, where no reason is given.
pub fn in_order(
    state: &State,
    (group, block): (GroupId, &Block),
    stations: &[StationId],
    despite: Option<Reason>,
    now: FloorMs,
) -> Result<(), Refusal> {
    match overtaken(state, group, block, stations, now).filter(|_| despite.is_none()) {
        Some(first) => Err(Refusal::InLine { first }),
        None => Ok(()),
    }
}

/// The block for which a group waits, while anybody of it is there.
fn waiting(state: &State, id: GroupId, number: u8) -> Option<Waiting<'_>> {
    let (plan, group): (&GroupPlan, &GroupNow) = state.group(id)?;
    group.clients.values().find(|client| client.is_here())?;
    let block = plan.blocks.get(usize::from(number)).filter(|_| number < group.blocks)?;
    Some(Waiting { group: id, number, block })
}

/// For each exercise the stations that suit, free or not.
fn suited_to(state: &State, block: &Block) -> Vec<Vec<StationId>> {
    block.legs.iter().map(|leg| suited(state, leg).collect()).collect()
}

/// For each exercise the stations that suit and that the group could have now: free ones, and its own where it
/// waits for its next block. Those of which some are kept for members come last.
fn choices(state: &State, waiting: Waiting<'_>, now: FloorMs) -> Vec<Vec<StationId>> {
    let kept = kept(state, &[], now);
    let own = |id: &StationId| usable(state, *id).is_some_and(|s| s.is_for(waiting.group));
    let can = |id: &StationId| (is_free(state, *id) && !kept.all.contains(id)) || own(id);
    let choices = |suited: Vec<StationId>| {
        let mut choices: Vec<StationId> = suited.into_iter().filter(can).collect();
        choices.sort_by_key(|id| kept.some.contains(id) && !own(id));
        choices
    };
    suited_to(state, waiting.block).into_iter().map(choices).collect()
}

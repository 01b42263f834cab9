//! Another station for an exercise of a group, another exercise for a client.

use std::collections::BTreeSet;

use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::{FloorMs, Mass};

use super::load::{Typed, held, unfit};
use super::{Verdict, target};
use crate::floor::admission;
use crate::floor::event::{Event, LegLoads};
use crate::floor::first_loads;
use crate::floor::gear_now;
use crate::floor::history;
use crate::floor::in_hand::InHand;
use crate::floor::state::{LegNow, State};
use crate::loading::gear::Gear;
use crate::training::movement::Movement;
use crate::training::rule::LoadRule;
use crate::training::scale::Scale;

/// The group does an exercise at another station from now on, and with it those done in place after it. Loads
/// that cannot be put on there become the next lighter ones that can.
pub(super) fn station(
    state: &State,
    id: GroupId,
    leg: u8,
    to: StationId,
    revision: u32,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    let hand = InHand::of(state, id).ok_or(Refusal::NotReserved)?;
    let claim = group.claim.as_ref().ok_or(Refusal::NotReserved)?;
    if group.revision != revision {
        return Err(Refusal::StaleRevision { revision: group.revision });
    }
    let first = hand.block.legs.get(usize::from(leg)).ok_or(Refusal::UnknownTurn)?;
    let from = *claim.stations.get(usize::from(leg)).ok_or(Refusal::UnknownTurn)?;
    if group.wipe_down.is_some() {
        return Err(Refusal::Over);
    }
    // An exercise done in place moves with the one before it.
    if from == to || first.in_place {
        return Err(Refusal::StationUnfit { station: to });
    }
    if let Some(turn) = state.stations.get(&from).and_then(|s| s.on).filter(|on| on.group == id) {
        return Err(Refusal::SetUnderWay { turn });
    }
    let there = |exercise: ExerciseId| {
        state.floor.exercises.get(&exercise).is_some_and(|exercise| exercise.stations.contains(&to))
    };
    let run = hand.block.legs.iter().enumerate().skip(usize::from(leg));
    let run: Vec<usize> =
        run.take_while(|(p, l)| *p == usize::from(leg) || l.in_place).map(|(p, _)| p).collect();
    let planned = run.iter().filter_map(|place| hand.block.legs.get(*place)).map(|leg| leg.exercise);
    // What a client does instead goes along, unless the client does it elsewhere anyway.
    let legs = hand.group.clients.values().flat_map(|c| run.iter().filter_map(|place| c.legs.get(*place)));
    let instead = legs.filter(|leg| leg.elsewhere.is_none()).filter_map(|leg| leg.instead);
    if !planned.chain(instead).all(there) {
        return Err(Refusal::StationUnfit { station: to });
    }
    admission::may_hold(state, id, to)?;
    if !state.held_by(id).contains(&to) {
        admission::allows(state, id, hand.block, &[to], now)?;
        // Whoever was let in before those who wait, and cannot go on where they were, does not wait again.
        if state.stations.get(&from).is_none_or(|now| now.out.is_none()) {
            admission::in_order(state, (id, hand.block), &[to], None, now)?;
        }
    }
    // Where the easiest there is is harder than what was to be lifted, nobody is sent.
    if run.iter().any(|place| raises(&hand, *place, to)) {
        return Err(Refusal::StationUnfit { station: to });
    }
    let moved = |place: usize| {
        let leg = u8::try_from(place).ok()?;
        Some(Event::StationSwapped { group: id, leg, from, to, loads: loads(&hand, place, to, now) })
    };
    Ok(Verdict::Accepted(run.into_iter().filter_map(moved).collect()))
}

/// The loads of every client that are others there; of whoever does the exercise elsewhere none. What goes by what
/// the client did last time is worked out anew, since loads compare at the same station only; and so is everything
/// where one of the two stations has pins that are mere numbers.
fn loads(hand: &InHand<'_>, place: usize, to: StationId, at: FloorMs) -> Vec<LegLoads> {
    let by_station = |client: ClientId| {
        let leg = hand.block.legs.get(place)?;
        let rule = leg.sets.get(&client)?.target(1)?.load?;
        let there = matches!(rule, LoadRule::AsLastTime | LoadRule::FindIt);
        let found = there.then(|| first_loads::of(hand.state, (leg, client), to, hand.rounds(), at))?;
        found.ok().flatten()
    };
    let by_pin = |client: ClientId, now: &LegNow, scale: Scale<'_>| {
        let pins =
            matches!(scale, Scale::Pins(_)) || now.loads.iter().flatten().any(|load| !scale.is_of(*load));
        let leg = hand.block.legs.get(place).filter(|_| pins)?;
        first_loads::moved(hand.state, (leg, client), (to, now.instead), hand.rounds(), at)
    };
    let of = |(client, now): (&ClientId, &crate::floor::state::ClientNow)| {
        let leg = now.legs.get(place).filter(|leg| leg.elsewhere.is_none())?;
        if let Some(anew) = by_station(*client).filter(|_| leg.instead.is_none()) {
            return Some(anew);
        }
        let exercise = leg.instead.or_else(|| Some(hand.block.legs.get(place)?.exercise))?;
        let gear = gear_now::as_planned(&hand.state.floor, to, exercise)?;
        if let Some(anew) = by_pin(*client, leg, gear.scale()) {
            return Some(anew);
        }
        let fit = |load: Load| gear.no_harder_than(load);
        let loads: Vec<_> = leg.loads.iter().map(|load| load.and_then(fit)).collect();
        let technique_load = leg.technique_load.and_then(fit);
        let ramp = leg.ramp.and_then(fit);
        let same = loads == leg.loads && technique_load == leg.technique_load && ramp == leg.ramp;
        (!same).then_some(LegLoads {
            client: *client,
            loads,
            technique_load,
            ramp,
            first: None,
            works: leg.works.clone(),
        })
    };
    hand.group.clients.iter().filter_map(of).collect()
}

/// Whether a load of somebody who moves along would become a harder one there.
fn raises(hand: &InHand<'_>, place: usize, to: StationId) -> bool {
    let raised = |leg: &LegNow| {
        let exercise = leg.instead.or_else(|| Some(hand.block.legs.get(place)?.exercise))?;
        let gear = gear_now::as_planned(&hand.state.floor, to, exercise)?;
        let mut all = leg.loads.iter().copied().chain([leg.technique_load, leg.ramp]).flatten();
        let scale = gear.scale();
        // Pins of two stacks do not compare.
        let raised = |load: Load| {
            load.mass().is_some() && gear.no_harder_than(load).is_some_and(|there| scale.harder(there, load))
        };
        Some(all.any(raised))
    };
    let legs = hand.group.clients.values().filter_map(|client| client.legs.get(place));
    legs.filter(|leg| leg.elsewhere.is_none()).any(|leg| raised(leg).unwrap_or(false))
}

/// What is done instead, by one client.
#[derive(Clone, Copy)]
pub(super) struct Instead {
    pub group: GroupId,
    pub client: ClientId,
    pub leg: u8,
    pub exercise: ExerciseId,
    pub station: Option<StationId>,
    pub load: Option<Typed>,
    pub revision: u32,
}

/// A client does another exercise of the same movement. A light set comes before its first working set.
pub(super) fn exercise(state: &State, wanted: Instead, now: FloorMs) -> Result<Verdict, Refusal> {
    let Instead { group: id, client, leg, exercise, station, load, revision } = wanted;
    let group = target::group(state, id)?;
    let hand = InHand::of(state, id).ok_or(Refusal::NotReserved)?;
    let claim = group.claim.as_ref().ok_or(Refusal::NotReserved)?;
    if group.revision != revision {
        return Err(Refusal::StaleRevision { revision: group.revision });
    }
    let place = usize::from(leg);
    let prescribed = hand.block.legs.get(place).ok_or(Refusal::UnknownTurn)?;
    let now_client = hand.client(client).ok_or(Refusal::UnknownClient)?;
    if let Some(turn) = now_client.current.map(|u| u.turn).filter(|turn| turn.leg == leg) {
        return Err(Refusal::SetUnderWay { turn });
    }
    if !hand.has_left(client, leg) {
        return Err(Refusal::Over);
    }
    let other = state.floor.exercises.get(&exercise).ok_or(Refusal::UnknownExercise)?;
    let turn = TurnId { group: id, client, block: group.block, round: 0, leg };
    let is_now = hand.exercise(turn).ok_or(Refusal::UnknownExercise)?;
    let planned = state.floor.exercises.get(&prescribed.exercise).ok_or(Refusal::UnknownExercise)?;
    let same = other.movement == planned.movement && other.movement != Movement::Other;
    if other.id == is_now.id || !(same || other.id == planned.id) {
        return Err(Refusal::OtherMovement);
    }
    let usual = claim.stations.get(place).copied().ok_or(Refusal::UnknownTurn)?;
    let at = station.unwrap_or(usual);
    if !other.stations.contains(&at) {
        return Err(Refusal::StationUnfit { station: at });
    }
    admission::may_hold(state, id, at)?;
    let held: BTreeSet<StationId> = state.held_by(id).into_iter().collect();
    if !held.contains(&at) {
        admission::allows(state, id, hand.block, &[at], now)?;
        admission::in_order(state, (id, hand.block), &[at], None, now)?;
    }
    admission::handle_for(state, id, leg, other)?;
    let gear = gear_now::as_planned(&state.floor, at, exercise).ok_or(Refusal::UnknownStation)?;
    let typed = load;
    let load = typed.map(|typed| typed.load);
    buildable(&gear, load)?;
    if let Some(typed) = typed {
        typed.not_far_above(state, history::last_load(state, client, at, exercise, now), &gear)?;
    }
    let technique_load = load.and_then(|load| Some(gear.scale().light_sets(load)?.technique));
    let station = station.filter(|station| *station != usual);
    let swapped = Event::ExerciseSwapped { group: id, client, leg, exercise, station, load, technique_load };
    Ok(Verdict::Accepted(vec![swapped]))
}

/// A load that can be put on, or none where there is nothing to set.
fn buildable(gear: &Gear, load: Option<Load>) -> Result<(), Refusal> {
    match (load, gear.lightest()) {
        (None, None) => Ok(()),
        (Some(_), None) => Err(Refusal::NoLoad),
        (Some(load), Some(_)) => held(gear, load),
        (None, Some(_)) => Err(unfit(gear, Load::Mass(Mass::ZERO))),
    }
}

//! What must hold, said here once more and in other words than `invariants`, so that a mistake there does
//! not hide one in the core. Rules look at a step: the state before it, what happened, the state after it.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{CoachId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::invariants;
use turnabout_server::floor::state::{State, UnderWay};

use crate::clock::NOW;

/// Something that must hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Rule {
    /// The core's own `invariants`.
    Invariants,
    /// A group has a station for every exercise of its block or none, and shares none with another group.
    AllOrNone,
    /// A station is occupied by at most one set.
    OneSetAStation,
    /// A spotter spots one bar at a time, and a spotted set has a spotter.
    OneBarASpotter,
    /// The floor itself never says GO.
    StartedBySomebody,
    /// The first repetition comes no earlier than the shortest rest.
    RestKept,
    /// A bar moves with the load that was confirmed since plates were last changed.
    LoadConfirmed,
    /// What is only assumed frees neither station nor spotter.
    AssumedFreesNothing,
    /// What the floor does of itself happens at its time: not before, and not after.
    OnTime,
    /// The same tap again has no second effect.
    OnceIsOnce,
}

/// What is known of bars by listening to what happened, not by asking the state.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub(crate) struct Heard {
    confirmed: BTreeMap<StationId, Mass>,
}

/// Something that happened.
pub(crate) struct Happened<'e> {
    pub(crate) by: Actor,
    /// When, as the core says.
    pub(crate) at: FloorMs,
    pub(crate) event: &'e Event,
}

/// Looks at one entry. `heard` is brought up to date.
pub(crate) fn of_entry(
    before: &State,
    heard: &mut Heard,
    happened: &Happened<'_>,
    broken: &mut BTreeSet<Rule>,
) {
    let by_floor = happened.by == Actor::Floor;
    match happened.event {
        Event::TurnWent { turn, station, starts, load, spotter, .. } => {
            let rules = [
                (Rule::StartedBySomebody, !by_floor),
                (Rule::OneSetAStation, free_for(before, *station, *turn)),
                (Rule::OneBarASpotter, may_spot(before, *turn, *spotter)),
                (Rule::RestKept, rested(before, *turn, *starts)),
                (Rule::LoadConfirmed, is_confirmed(before, heard, *station, *load)),
            ];
            broken.extend(rules.iter().filter(|(_, holds)| !holds).map(|(rule, _)| *rule));
        }
        Event::LoadConfirmed { station, load, .. } => {
            heard.confirmed.insert(*station, *load);
        }
        Event::StationsFreed { group, .. } => {
            let group = &before.groups[group];
            for station in group.claim.iter().flat_map(|claim| &claim.stations) {
                heard.confirmed.remove(station);
            }
            let lapses = group.wipe_down.map(|since| since + before.floor.settings.wipe_down);
            if by_floor && lapses.is_none_or(|lapses| happened.at < lapses) {
                broken.insert(Rule::OnTime);
            }
        }
        Event::TurnAssumed { turn } => {
            let ends = under_way(before, *turn).map(|set| set.ends);
            if ends.is_none_or(|ends| happened.at < ends) {
                broken.insert(Rule::OnTime);
            }
        }
        Event::FloorSet(_)
        | Event::ProgrammeSet(_)
        | Event::ClockMapped { .. }
        | Event::Resumed { .. }
        | Event::StationsTaken { .. }
        | Event::TechniquePassed { .. }
        | Event::SpotterNamed { .. }
        | Event::TurnCalledOff { .. }
        | Event::StartPutOff { .. }
        | Event::TurnDone { .. }
        | Event::EffortGiven { .. }
        | Event::RepsCorrected { .. }
        | Event::LoadLightened { .. }
        | Event::SetsFinished { .. }
        | Event::GroupPaused { .. }
        | Event::GroupStopped { .. }
        | Event::GroupResumed { .. }
        | Event::CallMade { .. }
        | Event::CallAttended { .. } => {}
    }
}

/// Looks at the state after everything that happened at once.
pub(crate) fn of_state(state: &State, broken: &mut BTreeSet<Rule>) {
    let rules = [
        (Rule::Invariants, invariants::check(state).is_ok()),
        (Rule::AllOrNone, claims_are_whole(state)),
        (Rule::OneSetAStation, sets_and_stations_agree(state)),
        (Rule::OneBarASpotter, spotters_are_single(state)),
    ];
    broken.extend(rules.iter().filter(|(_, holds)| !holds).map(|(rule, _)| *rule));
}

/// Looks at the state after what was due: nothing is left that was.
pub(crate) fn of_settled(before: &[UnderWay], state: &State, broken: &mut BTreeSet<Rule>) {
    let wipe_down = state.floor.settings.wipe_down;
    let lapsed = state.groups.values().filter_map(|g| g.wipe_down).any(|since| since + wipe_down <= NOW);
    let over = state.under_way().any(|set| !set.assumed && set.ends <= NOW);
    if lapsed || over {
        broken.insert(Rule::OnTime);
    }
    let kept = |turn: TurnId| {
        under_way(state, turn).is_some_and(|set| state.stations[&set.station].on == Some(turn))
    };
    let spotter = |turn| under_way(state, turn).and_then(|set| set.spotter);
    if !before.iter().all(|set| kept(set.turn) && spotter(set.turn) == set.spotter) {
        broken.insert(Rule::AssumedFreesNothing);
    }
}

/// Whether the session of every group is over.
pub(crate) fn finished(state: &State) -> bool {
    state.groups.keys().all(|id| InHand::of(state, *id).is_none())
}

fn under_way(state: &State, turn: TurnId) -> Option<&UnderWay> {
    state.under_way().find(|set| set.turn == turn)
}

/// Nobody is there but, on the way to the next exercise in place, the same client.
fn free_for(before: &State, station: StationId, turn: TurnId) -> bool {
    let on = before.stations[&station].on;
    on.is_none_or(|on| (on.group, on.client) == (turn.group, turn.client))
}

fn may_spot(before: &State, turn: TurnId, spotter: Option<CoachId>) -> bool {
    let spotted = before.programme.groups[&turn.group]
        .blocks
        .get(usize::from(turn.block))
        .and_then(|block| block.legs.get(usize::from(turn.leg)))
        .is_some_and(|leg| before.floor.exercises[&leg.exercise].spotted());
    let busy = |coach| before.under_way().any(|set| set.spotter == Some(coach));
    spotter.map_or(!spotted, |coach| spotted && !busy(coach))
}

/// Rest comes before the first exercise of every working round but the first.
fn rested(before: &State, turn: TurnId, starts: FloorMs) -> bool {
    let block = &before.programme.groups[&turn.group].blocks[usize::from(turn.block)];
    let client = &before.groups[&turn.group].clients[&turn.client];
    let ended = client.current.map(|set| set.ends).or(client.sets.last().map(|set| set.ended));
    turn.leg > 0
        || turn.round < 2
        || ended.is_some_and(|ended| starts.since(ended) >= block.rest_min.millis())
}

fn is_confirmed(before: &State, heard: &Heard, station: StationId, load: Option<Mass>) -> bool {
    let loaded = before.floor.stations[&station].gear.kind() == GearKind::Bar;
    !loaded || load.is_none() || heard.confirmed.get(&station) == load.as_ref()
}

fn claims_are_whole(state: &State) -> bool {
    state.groups.iter().all(|(id, group)| {
        let stations: Vec<_> = group.claim.iter().flat_map(|claim| &claim.stations).collect();
        let held: Vec<_> =
            state.stations.iter().filter(|(_, s)| s.claim == Some(*id)).map(|(s, _)| s).collect();
        let legs = InHand::of(state, *id).map_or(0, |hand| hand.block.legs.len());
        held.len() == stations.len()
            && held.iter().all(|station| stations.contains(station))
            && (stations.is_empty() || stations.len() == legs)
    })
}

fn sets_and_stations_agree(state: &State) -> bool {
    let occupied = state.stations.values().filter(|station| station.on.is_some()).count();
    let on = |station: StationId| state.stations[&station].on;
    occupied == state.under_way().count() && state.under_way().all(|set| on(set.station) == Some(set.turn))
}

fn spotters_are_single(state: &State) -> bool {
    let spotters: Vec<_> = state.under_way().filter_map(|set| set.spotter).collect();
    spotters.iter().collect::<BTreeSet<_>>().len() == spotters.len()
}

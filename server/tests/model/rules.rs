//! What must hold, said here once more and in other words than `invariants`, so that a mistake there does
//! not hide one in the core. Rules look at a step: the state before it, what happened, the state after it.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{CallKind, Spotter};
use turnabout_protocol::ids::{GroupId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::invariants;
use turnabout_server::floor::state::{GroupNow, State, UnderWay};

use crate::claims::{self, binds};
use crate::clock::NOW;
use crate::line;

/// Something that must hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Rule {
    /// The core's own `invariants`.
    Invariants,
    /// A group has a station for every exercise of its block or none, and shares one with another group only
    /// where it may.
    AllOrNone,
    /// A station is occupied by at most one set, and by none while it is out of use.
    OneSetAStation,
    /// A spotter spots one bar at a time and does not lift meanwhile, and a spotted set has a spotter.
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
    /// Nobody has stations that somebody earlier in line then has to wait for, unless a reason is kept.
    LineKept,
    /// Nobody waits for stations that could be given without harm to anybody earlier.
    NobodyWaitsInVain,
    /// The same tap again has no second effect.
    OnceIsOnce,
    /// Nobody goes away from a bar, or spots while away.
    SpotterStays,
    /// A group goes over to another coach by agreement, and not in the middle of a spotted set.
    HandedOver,
    /// What is taken back is as if it had never been.
    AsIfNever,
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

/// Looks at one entry, with the state before it. `heard` is brought up to date.
pub(crate) fn of_entry(before: &State, heard: &mut Heard, entry: &Happened<'_>, broken: &mut BTreeSet<Rule>) {
    let mut demand = |rule, holds: bool| {
        if !holds {
            broken.insert(rule);
        }
    };
    if let Event::TurnWent { turn, station, starts, load, spotter, lift_off, short_rest, .. } = entry.event {
        demand(Rule::StartedBySomebody, entry.by != Actor::Floor);
        demand(Rule::OneSetAStation, free_for(before, *station, *turn));
        demand(Rule::OneBarASpotter, may_spot(before, *turn, *spotter));
        demand(Rule::RestKept, short_rest.is_some() || rested(before, *turn, *starts));
        demand(Rule::LoadConfirmed, is_confirmed(before, heard, *station, *load));
        demand(Rule::SpotterStays, !is_away(before, *spotter));
        demand(Rule::OneBarASpotter, !lift_off || leaves_reserve(before, *turn));
    }
    if let Event::StationsTaken { group, block, stations, despite, loads: _ } = entry.event {
        let of = &before.groups[group];
        // What a group has for the block in hand it may keep for the next.
        let (own, more): (Vec<_>, Vec<_>) = stations.iter().partition(|s| claims::has(before, *group, **s));
        let block_is_next = if own.is_empty() { *block >= of.block } else { *block > of.block };
        demand(Rule::AllOrNone, block_is_next && more.iter().all(|s| claims::may_have(before, *group, *s)));
        demand(Rule::LineKept, despite.is_some() || !line::harms_earlier(before, *group, &more));
    }
    if let Event::StationSwapped { group, from, to, .. } = entry.event {
        let own = claims::has(before, *group, *to);
        let broken = before.stations[from].out.is_some();
        demand(Rule::AllOrNone, own || claims::may_have(before, *group, *to));
        demand(Rule::LineKept, own || broken || !line::harms_earlier(before, *group, &[*to]));
        demand(Rule::OneSetAStation, before.stations[from].on.is_none_or(|on| on.group != *group));
    }
    if let Event::GroupHandedOver { group, to, .. } = entry.event {
        demand(Rule::HandedOver, claims::may_change_hands(before, *group, *to, entry.by));
    }
    if let Some(due) = due(before, entry.event).filter(|_| entry.by == Actor::Floor) {
        demand(Rule::OnTime, entry.at >= due && NOW >= due);
    }
    hear(before, heard, entry.event);
}

/// From when on the floor may do this of itself, where that is its business.
fn due(before: &State, event: &Event) -> Option<FloorMs> {
    let settings = &before.floor.settings;
    match event {
        Event::TurnAssumed { turn } => under_way(before, *turn).map(|set| set.ends),
        Event::StationsFreed { group, .. } => Some(before.groups[group].wipe_down? + settings.wipe_down),
        Event::LapseWarned { group } => Some(before.groups[group].heard + settings.idle),
        Event::GroupLapsed { group } => Some(before.groups[group].warned? + settings.lapse),
        Event::OtherUseEnded { station } => Some(before.stations[station].other_use?.until),
        Event::CoachCameBack { coach } => Some(before.coaches[coach].away?.until),
        _ => None,
    }
}

/// Plates may be changed by whoever has the station next, or by whoever mends it or sits down on it; not under
/// somebody of another group who lifts there.
pub(crate) fn hear(before: &State, heard: &mut Heard, event: &Event) {
    match event {
        Event::LoadConfirmed { station, load, .. } => {
            heard.confirmed.insert(*station, *load);
        }
        Event::StationsFreed { group, .. }
        | Event::StationsGivenBack { group, .. }
        | Event::GroupLapsed { group } => {
            for station in before.groups[group].claim.iter().flat_map(|claim| &claim.stations) {
                if before.stations[station].on.is_none_or(|on| on.group == *group) {
                    heard.confirmed.remove(station);
                }
            }
        }
        Event::StationSwapped { from: station, .. } if before.stations[station].on.is_none() => {
            heard.confirmed.remove(station);
        }
        Event::LoadUnconfirmed { station, .. }
        | Event::OtherUseEnded { station }
        | Event::TakenOutOfService { station, .. } => {
            heard.confirmed.remove(station);
        }
        _ => {}
    }
}

/// Looks at the state after everything that happened at once.
pub(crate) fn of_state(state: &State, broken: &mut BTreeSet<Rule>) {
    let rules = [
        (Rule::Invariants, invariants::check(state).is_ok()),
        (Rule::AllOrNone, claims::are_whole(state)),
        (Rule::OneSetAStation, sets_and_stations_agree(state)),
        (Rule::OneBarASpotter, spotters_are_single(state)),
        (Rule::SpotterStays, !state.under_way().any(|set| binds(set) && is_away(state, set.spotter))),
    ];
    broken.extend(rules.iter().filter(|(_, holds)| !holds).map(|(rule, _)| *rule));
}

/// Looks at the state after what was due: nothing is left that was, and nobody waits in vain.
pub(crate) fn of_settled(before: &[UnderWay], state: &State, broken: &mut BTreeSet<Rule>) {
    let over = state.under_way().any(|set| !set.assumed && set.ends <= NOW);
    let other_use = state.stations.values().filter_map(|now| now.other_use).any(|other| other.until <= NOW);
    let away = state.coaches.values().filter_map(|now| now.away).any(|away| away.until <= NOW);
    if over || other_use || away || state.groups.iter().any(|(id, group)| overdue(state, *id, group)) {
        broken.insert(Rule::OnTime);
    }
    if line::somebody_waits_in_vain(state) {
        broken.insert(Rule::NobodyWaitsInVain);
    }
    // Whoever is given up has been warned, and leaves bar and spotter to whoever finds them.
    let given_up = |turn: TurnId| state.groups[&turn.group].claim.is_none();
    let kept = |was: &UnderWay| {
        under_way(state, was.turn).is_some_and(|set| {
            set.spotter == was.spotter && state.stations[&set.station].on == Some(was.turn)
        })
    };
    if !before.iter().all(|was| kept(was) || given_up(was.turn)) {
        broken.insert(Rule::AssumedFreesNothing);
    }
}

/// Something of a group that should have happened by now.
fn overdue(state: &State, id: GroupId, group: &GroupNow) -> bool {
    let settings = &state.floor.settings;
    let in_line = state.line.iter().any(|ask| ask.group == id);
    let waits = group.claim.is_none() && in_line;
    let holds = group.claim.is_some() && group.wipe_down.is_none();
    let silent = waits && group.warned.is_none() && group.heard + settings.idle <= NOW;
    // While somebody needs help nobody is given up, and nobody calls in an evening where silence counts.
    let given_up = (waits || holds) && group.warned.is_some_and(|warned| warned + settings.lapse <= NOW);
    let help = state.help_at(&state.held_by(id));
    let wiped = !help && group.wipe_down.is_some_and(|since| since + settings.wipe_down <= NOW);
    wiped || given_up || silent
}

/// Whether the session of every group is over.
pub(crate) fn finished(state: &State) -> bool {
    state.groups.keys().all(|id| InHand::of(state, *id).is_none())
}

fn under_way(state: &State, turn: TurnId) -> Option<&UnderWay> {
    state.under_way().find(|set| set.turn == turn)
}

/// Nobody is there but, on the way to the next exercise in place, the same client; and it is fit for use.
fn free_for(before: &State, station: StationId, turn: TurnId) -> bool {
    let now = &before.stations[&station];
    let alone = now.on.is_none_or(|on| (on.group, on.client) == (turn.group, turn.client));
    let help = before.calls.values().any(|call| call.station == station && call.kind == CallKind::HelpNow);
    alone && now.out.is_none() && now.other_use.is_none() && !help
}

/// The model's floor has no safety arms.
fn may_spot(before: &State, turn: TurnId, spotter: Option<Spotter>) -> bool {
    let exercise = InHand::of(before, turn.group).and_then(|hand| hand.exercise(turn));
    let spotted = exercise.is_some_and(turnabout_server::training::exercise::Exercise::spotted);
    let Some(spotter) = spotter else { return !spotted };
    let busy = before.under_way().any(|set| binds(set) && set.spotter == Some(spotter));
    let lifts = |client| before.under_way().any(|set| set.turn.client == client);
    let fit = match spotter {
        Spotter::Client { client } => client != turn.client && !lifts(client),
        Spotter::Coach { .. } | Spotter::Assistant { .. } => true,
        Spotter::Arms => false,
    };
    spotted && !busy && fit && !before.under_way().any(|set| binds(set) && set.spotter == Some(lifter(turn)))
}

/// A client in the part of a spotter.
const fn lifter(turn: TurnId) -> Spotter {
    Spotter::Client { client: turn.client }
}

fn is_away(state: &State, spotter: Option<Spotter>) -> bool {
    matches!(spotter, Some(Spotter::Coach { coach }) if claims::is_away(state, coach))
}

/// Nobody is let off after the lift-off of a light set, or where fewer than three repetitions are to stay in
/// reserve: common practice, no source.
fn leaves_reserve(before: &State, turn: TurnId) -> bool {
    let block = &before.programme.groups[&turn.group].blocks[usize::from(turn.block)];
    let reserve = block.legs[usize::from(turn.leg)].sets[&turn.client].reserve;
    turn.round > 0 && reserve.is_some_and(|reserve| reserve > 2)
}

/// Rest comes before the first set of every working round that a client does, counted from the last set of an
/// earlier one.
fn rested(before: &State, turn: TurnId, starts: FloorMs) -> bool {
    let block = &before.programme.groups[&turn.group].blocks[usize::from(turn.block)];
    let client = &before.groups[&turn.group].clients[&turn.client];
    let legs = block.legs.len();
    let worked =
        (legs..client.sets.len()).rev().filter_map(|place| Some((place / legs, client.sets[place].done()?)));
    let last = worked.map(|(round, set)| (round, set.ended)).next();
    let current = client.current.map(|set| (usize::from(set.turn.round), set.ends));
    let last = current.filter(|(round, _)| *round > 0).or(last);
    last.is_none_or(|(round, ended)| {
        round == usize::from(turn.round) || starts.since(ended) >= block.rest_min.millis()
    })
}

fn is_confirmed(before: &State, heard: &Heard, station: StationId, load: Option<Load>) -> bool {
    let loaded = before.floor.stations[&station].gear.kind() == GearKind::Bar;
    !loaded || load.is_none() || heard.confirmed.get(&station).copied().map(Load::Mass) == load
}

fn sets_and_stations_agree(state: &State) -> bool {
    let occupied = state.stations.values().filter(|station| station.on.is_some()).count();
    let on = |station: StationId| state.stations[&station].on;
    occupied == state.under_way().count() && state.under_way().all(|set| on(set.station) == Some(set.turn))
}

fn spotters_are_single(state: &State) -> bool {
    let spotters: Vec<_> = state.under_way().filter(|set| binds(set)).filter_map(|set| set.spotter).collect();
    let lifters: Vec<_> = state.under_way().map(|set| lifter(set.turn)).collect();
    spotters.iter().collect::<BTreeSet<_>>().len() == spotters.len()
        && !spotters.iter().any(|spotter| lifters.contains(spotter))
}

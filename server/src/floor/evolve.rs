//! What an entry makes of the state. Nothing is decided here: an entry happened.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::units::Millis;
use turnabout_protocol::view::{After, HaltKind};

use super::config::{Floor, Programme};
use super::event::{Entry, Event};
use super::in_hand::InHand;
use super::state::{
    AtBar, CallNow, Claim, ClientNow, GroupNow, Halt, LegNow, SetRecord, Stamp, State, StationNow, UnderWay,
};

/// Takes one entry into the state.
pub fn evolve(state: &mut State, entry: &Entry) {
    state.sequence = entry.sequence;
    state.recorded = entry.recorded;
    let stamp = Stamp { by: entry.by, when: entry.recorded };
    match &entry.event {
        Event::FloorSet(floor) => floor_set(state, floor),
        Event::ProgrammeSet(programme) => programme_set(state, programme),
        Event::ClockMapped { utc_ms, offset_secs } => {
            state.clock = state.clock.moved(entry.at, *utc_ms, *offset_secs);
        }
        Event::Resumed { down } => resumed(state, *down),
        Event::StationsTaken { group, stations, .. } => taken(state, *group, stations, stamp),
        Event::StationsFreed { group, .. } => freed(state, *group),
        Event::TechniquePassed { turn } => {
            if let Some(leg) = leg(state, *turn) {
                leg.passed = Some(stamp);
            }
        }
        Event::LoadConfirmed { station, load, .. } => {
            if let Some(station) = state.stations.get_mut(station) {
                station.load = Some(*load);
                station.confirmed = Some(stamp);
            }
        }
        Event::SpotterNamed { turn, coach } => {
            spotter_named(state, *turn, AtBar { coach: *coach, said: stamp });
        }
        Event::TurnWent { turn, station, count_in, starts, ends, reps, load, spotter } => {
            let under_way = UnderWay {
                turn: *turn,
                station: *station,
                went: stamp,
                count_in: *count_in,
                starts: *starts,
                ends: *ends,
                reps: *reps,
                load: *load,
                spotter: *spotter,
                assumed: false,
            };
            went(state, under_way);
        }
        Event::TurnCalledOff { turn } => called_off(state, *turn),
        Event::StartPutOff { turn, ready } => {
            if let Some(client) = client(state, turn.group, turn.client) {
                client.put_off = Some(*ready);
            }
        }
        Event::TurnAssumed { turn } => {
            if let Some(current) = client(state, turn.group, turn.client).and_then(|c| c.current.as_mut()) {
                current.assumed = true;
            }
        }
        Event::TurnDone { turn, ended, reps, effort } => {
            let record = |u: UnderWay| SetRecord {
                started: u.starts,
                ended: *ended,
                reps: *reps,
                load: u.load,
                effort: *effort,
                done: stamp,
            };
            done(state, *turn, record);
        }
        Event::EffortGiven { turn, effort } => {
            if let Some(record) = record(state, *turn) {
                record.effort = Some(*effort);
            }
        }
        Event::RepsCorrected { turn, reps } => {
            if let Some(record) = record(state, *turn) {
                record.reps = *reps;
            }
        }
        Event::LoadLightened { turn, load } => {
            if let Some(leg) = leg(state, *turn) {
                *(if turn.round == 0 { &mut leg.technique_load } else { &mut leg.load }) = Some(*load);
            }
            edited(state, turn.group);
        }
        Event::SetsFinished { group, .. } => {
            if let Some(group) = state.groups.get_mut(group) {
                group.wipe_down = Some(entry.at);
            }
        }
        Event::GroupPaused { group } => halted(state, *group, Some((HaltKind::Pause, stamp))),
        Event::GroupStopped { group } => halted(state, *group, Some((HaltKind::Stop, stamp))),
        Event::GroupResumed { group } => halted(state, *group, None),
        Event::CallMade { call, station, urgency } => {
            state.last_call = state.last_call.max(call.0);
            state.calls.insert(*call, CallNow { station: *station, kind: *urgency, made: stamp });
        }
        Event::CallAttended { call } => {
            state.calls.remove(call);
        }
    }
}

fn floor_set(state: &mut State, floor: &Floor) {
    state.stations.retain(|id, _| floor.stations.contains_key(id));
    for id in floor.stations.keys() {
        state.stations.entry(*id).or_default();
    }
    state.calls.retain(|_, call| floor.stations.contains_key(&call.station));
    state.floor = floor.clone();
}

fn programme_set(state: &mut State, programme: &Programme) {
    if programme.day != state.programme.day {
        another_evening(state);
    }
    state.groups.retain(|id, _| programme.groups.contains_key(id));
    for (id, plan) in &programme.groups {
        if state.programme.groups.get(id) != Some(plan) || !state.groups.contains_key(id) {
            // Only the plan of a group that is not in progress can change: `changes` sees to that.
            state.groups.insert(*id, GroupNow::new(plan));
        }
    }
    state.programme = programme.clone();
}

/// Nobody is left from the evening before. What is on the bars may be, but nobody has confirmed it today.
fn another_evening(state: &mut State) {
    state.groups.clear();
    state.calls.clear();
    for station in state.stations.values_mut() {
        *station = StationNow { load: station.load, ..StationNow::default() };
    }
}

/// The clock went on while nobody could tap: what people were to do in time moves by that, rest does not.
fn resumed(state: &mut State, down: Millis) {
    let in_changeover: Vec<(GroupId, ClientId)> = state
        .groups
        .keys()
        .filter_map(|id| InHand::of(state, *id))
        .flat_map(|hand| hand.group.clients.keys().map(move |client| (hand, *client)))
        .filter(|(hand, client)| {
            hand.coming(*client).is_some_and(|coming| matches!(coming.after, After::Changeover { .. }))
        })
        .map(|(hand, client)| (hand.id, client))
        .collect();
    for (group, id) in in_changeover {
        if let Some(client) = client(state, group, id) {
            client.down = client.down + down;
        }
    }
    for group in state.groups.values_mut() {
        group.wipe_down = group.wipe_down.map(|since| since + down);
    }
}

fn taken(state: &mut State, id: GroupId, stations: &[StationId], taken: Stamp) {
    let Some(hand) = InHand::of(state, id) else { return };
    let legs = |client: &ClientId| -> Vec<LegNow> {
        let lightest = |station: &StationId| state.floor.stations.get(station)?.gear.lightest();
        hand.block
            .legs
            .iter()
            .zip(stations)
            .map(|(leg, station)| {
                let sets = leg.sets.get(client);
                let load = sets.and_then(|s| s.load);
                let technique_load =
                    load.and_then(|_| sets.and_then(|s| s.technique_load).or_else(|| lightest(station)));
                LegNow { load, technique_load, passed: None }
            })
            .collect()
    };
    let legs: Vec<(ClientId, Vec<LegNow>)> =
        hand.group.clients.keys().map(|client| (*client, legs(client))).collect();
    for station in stations {
        if let Some(station) = state.stations.get_mut(station) {
            station.claim = Some(id);
        }
    }
    if let Some(group) = state.groups.get_mut(&id) {
        group.claim = Some(Claim { stations: stations.to_vec(), taken });
        for (client, legs) in legs {
            group.clients.insert(client, ClientNow { legs, ..ClientNow::default() });
        }
    }
    edited(state, id);
}

fn freed(state: &mut State, id: GroupId) {
    let Some(group) = state.groups.get_mut(&id) else { return };
    let claim = group.claim.take();
    group.block = group.block.saturating_add(1);
    group.wipe_down = None;
    for client in group.clients.values_mut() {
        *client = ClientNow::default();
    }
    for station in claim.into_iter().flat_map(|claim| claim.stations) {
        if let Some(station) = state.stations.get_mut(&station) {
            // What is on the bar may stay, but the next who lifts it confirms it anew.
            *station = StationNow { load: station.load, ..StationNow::default() };
        }
    }
    edited(state, id);
}

fn spotter_named(state: &mut State, turn: TurnId, spotter: AtBar) {
    for client in state.groups.values_mut().flat_map(|g| g.clients.values_mut()) {
        client.spotter = client.spotter.filter(|other| other.coach != spotter.coach);
    }
    if let Some(client) = client(state, turn.group, turn.client) {
        client.spotter = Some(spotter);
    }
}

fn went(state: &mut State, under_way: UnderWay) {
    let turn = under_way.turn;
    let gear = state.floor.stations.get(&under_way.station).map(|s| s.gear.kind());
    if let Some(station) = state.stations.get_mut(&under_way.station) {
        station.on = Some(turn);
        // A pin is set by the one who trains; a bar only by confirmation.
        if gear == Some(GearKind::Stack) {
            station.load = under_way.load;
        }
    }
    if let Some(coach) = under_way.spotter {
        spotter_named(state, turn, AtBar { coach, said: under_way.went });
    }
    if let Some(client) = client(state, turn.group, turn.client) {
        client.current = Some(under_way);
        client.spotter = None;
        client.put_off = None;
        client.down = Millis::default();
    }
}

fn called_off(state: &mut State, turn: TurnId) {
    let Some(client) = client(state, turn.group, turn.client) else { return };
    let Some(current) = client.current.take() else { return };
    // The coach is still at the bar.
    client.spotter = current.spotter.map(|coach| AtBar { coach, said: current.went });
    if let Some(station) = state.stations.get_mut(&current.station) {
        station.on = None;
    }
}

fn done(state: &mut State, turn: TurnId, record: impl FnOnce(UnderWay) -> SetRecord) {
    let Some(client) = client(state, turn.group, turn.client) else { return };
    let Some(current) = client.current.take() else { return };
    client.sets.push(record(current));
    client.put_off = None;
    client.down = Millis::default();
    if let Some(station) = state.stations.get_mut(&current.station) {
        station.on = None;
    }
}

fn halted(state: &mut State, group: GroupId, halt: Option<(HaltKind, Stamp)>) {
    if let Some(group) = state.groups.get_mut(&group) {
        group.halt = halt.map(|(kind, since)| Halt { kind, since });
    }
}

fn edited(state: &mut State, group: GroupId) {
    if let Some(group) = state.groups.get_mut(&group) {
        group.revision = group.revision.saturating_add(1);
    }
}

fn client(state: &mut State, group: GroupId, client: ClientId) -> Option<&mut ClientNow> {
    state.groups.get_mut(&group)?.clients.get_mut(&client)
}

fn leg(state: &mut State, turn: TurnId) -> Option<&mut LegNow> {
    client(state, turn.group, turn.client)?.legs.get_mut(usize::from(turn.leg))
}

fn record(state: &mut State, turn: TurnId) -> Option<&mut SetRecord> {
    let place = InHand::of(state, turn.group)?.place(turn)?;
    client(state, turn.group, turn.client)?.sets.get_mut(place)
}

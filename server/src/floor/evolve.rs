//! What an entry makes of the state. Nothing is decided here: an entry happened.

mod block;
mod news;
mod people;
mod session;
mod sets;
mod stations;
mod whole;

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{ClientId, GroupId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::HaltKind;

use super::event::{Entry, Event};
use super::promises;
use super::state::{
    AtBar, Away, CallNow, Claim, ClientNow, GroupNow, Handed, Leave, LegNow, MOST_NOTES, Missing, NoteNow,
    Offer, OtherUse, OutOfService, Presence, RestCut, Stamp, State, UnderWay,
};

/// Takes one entry into the state.
pub fn evolve(state: &mut State, entry: &Entry) {
    state.sequence = entry.sequence;
    state.recorded = entry.recorded;
    let stamp = Stamp { by: entry.by, when: entry.recorded };
    news::take(state, entry);
    happened(state, entry, stamp);
    if entry.by != Actor::Floor
        && let Some(group) = entry.event.group().and_then(|group| state.groups.get_mut(&group))
    {
        group.heard = entry.recorded;
        group.warned = None;
    }
    promises::settle(state);
}

#[expect(clippy::too_many_lines, reason = "one arm for every kind of entry, each a line or a few")]
fn happened(state: &mut State, entry: &Entry, stamp: Stamp) {
    match &entry.event {
        Event::FloorSet(floor) => whole::floor_set(state, floor),
        Event::ProgrammeSet(programme) => whole::programme_set(state, programme, stamp),
        Event::ClockMapped { utc_ms, offset_secs } => {
            state.clock = state.clock.moved(entry.at, *utc_ms, *offset_secs);
        }
        Event::Resumed { down } => whole::resumed(state, *down),
        Event::StationsTaken { group, block, stations, loads, .. } => {
            let claim = Claim { stations: stations.clone(), taken: stamp, loads: loads.clone() };
            block::taken(state, *group, *block, claim);
        }
        Event::StationsGivenBack { group, block } => block::given_back(state, *group, *block),
        Event::StationsFreed { group, bar, .. } => block::freed(state, *group, *bar),
        Event::StationsAsked { group, block } => block::asked(state, *group, *block, stamp),
        Event::AskWithdrawn { group } => state.line.retain(|ask| ask.group != *group),
        Event::LeaveGiven { station, group } => {
            if let Some(station) = state.stations.get_mut(station) {
                station.leave = Some(Leave { group: *group, said: stamp });
            }
        }
        Event::StationSwapped { group, leg, from, to, loads } => {
            stations::swapped(state, *group, *leg, (*from, *to), loads);
        }
        Event::OtherUseBegan { station, until } => {
            if let Some(station) = state.stations.get_mut(station) {
                station.other_use = Some(OtherUse { until: *until, said: stamp });
            }
        }
        Event::OtherUseEnded { station } => {
            if let Some(station) = state.stations.get_mut(station) {
                // Whoever used it may have left anything on the bar.
                station.other_use = None;
                station.unconfirm();
            }
        }
        Event::TakenOutOfService { station, defect } => {
            if let Some(station) = state.stations.get_mut(station) {
                station.out = Some(OutOfService { defect: *defect, said: stamp });
                station.unconfirm();
            }
        }
        Event::PutBackInService { station } => {
            if let Some(station) = state.stations.get_mut(station) {
                // Whoever put it right may have taken the plates off.
                station.out = None;
                // Whoever mended it may have changed what is on it.
                station.unconfirm();
            }
        }
        Event::SettingKept { station, client, setting, value } => {
            stations::setting_kept(state, (*station, *client), *setting, *value);
        }
        Event::ClientsArrived { group, clients } => session::arrived(state, *group, clients, stamp),
        Event::ArrivalTakenBack { group, clients } => {
            for id in clients {
                if let Some(client) = client(state, *group, *id) {
                    client.presence = Presence::Expected;
                    client.late = false;
                }
            }
        }
        Event::ClientWarmedUp { group, client: id } => {
            if let Some(client) = client(state, *group, *id) {
                client.before.warmed_up = Some(stamp);
            }
        }
        Event::ClientsBriefed { group, clients, .. } => {
            for id in clients {
                if let Some(client) = client(state, *group, *id) {
                    client.before.briefed = Some(stamp);
                }
            }
        }
        Event::ScreeningDecided { group, client: id, decision } => {
            session::screened(state, *group, *id, *decision, stamp);
        }
        Event::ClientLeft { group, client } => session::left(state, *group, *client, stamp),
        Event::SetsMissed { group, client, until } => sets::missed(state, *group, *client, *until),
        Event::RoundsMadeUp { group, client: id, rounds } => {
            if let Some(client) = client(state, *group, *id) {
                client.extra = *rounds;
            }
            session::goes_on(state, *group);
        }
        Event::RoundsSet { group, block, rounds } => session::rounds_set(state, *group, *block, *rounds),
        Event::BlockDropped { group, block } => session::block_dropped(state, *group, *block),
        Event::SessionEnded { group, .. } => session::ended(state, *group),
        Event::LapseWarned { group } => {
            if let Some(group) = state.groups.get_mut(group) {
                group.warned = Some(entry.recorded);
            }
        }
        Event::GroupStillHere { group } => {
            if let Some(group) = state.groups.get_mut(group) {
                group.warned = None;
            }
        }
        Event::GroupLapsed { group } => session::lapsed(state, *group, stamp),
        Event::GroupNotComing { group: id } => {
            if let Some(group) = state.groups.get_mut(id) {
                group.no_show = true;
                group.warned = None;
            }
            state.line.retain(|ask| ask.group != *id);
        }
        Event::TechniquePassed { turn } => sets::technique_passed(state, *turn, stamp),
        Event::TechniqueNotPassed { turn } => {
            if let Some(leg) = leg(state, *turn) {
                leg.passed = None;
            }
        }
        Event::TechniqueAsked { turn } => {
            if let Some(leg) = leg(state, *turn) {
                leg.passed = None;
                leg.again = true;
            }
        }
        Event::LoadConfirmed { station, load, plates, .. } => {
            if let Some(station) = state.stations.get_mut(station) {
                (station.load, station.plates) = (Some(Load::Mass(*load)), plates.clone());
                station.confirmed = Some(stamp);
            }
        }
        Event::LoadUnconfirmed { station, load, plates } => {
            if let Some(station) = state.stations.get_mut(station) {
                (station.load, station.plates) = (load.map(Load::Mass), plates.clone());
                station.unconfirm();
            }
        }
        Event::PlatesSeen { station, plates, load } => {
            if let Some(station) = state.stations.get_mut(station) {
                (station.load, station.plates) = (Some(Load::Mass(*load)), Some(plates.clone()));
                station.unconfirm();
            }
        }
        Event::PlatesMissing { station, plate, count } => {
            stations::plates_missing(state, *station, Missing { plate: *plate, count: *count, said: stamp });
        }
        Event::SpotterNamed { turn, spotter, lift_off } => {
            let at_bar = AtBar { who: *spotter, lift_off: *lift_off, said: stamp };
            people::spotter_named(state, *turn, at_bar);
        }
        Event::SpotterGone { turn } => {
            if let Some(client) = client(state, turn.group, turn.client) {
                client.spotter = None;
            }
        }
        Event::SpotterPassed { group, client: id, exercise } => {
            if let Some(client) = client(state, *group, *id) {
                client.spots.entry(*exercise).or_insert(stamp);
            }
        }
        Event::CoachWentAway { coach, until } => {
            people::not_at_a_bar(state, Spotter::Coach { coach: *coach });
            state.coaches.entry(*coach).or_default().away = Some(Away { until: *until, said: stamp });
        }
        Event::CoachCameBack { coach } => state.coaches.entry(*coach).or_default().away = None,
        Event::GroupOffered { group, to, asks } => {
            if let Some(group) = state.groups.get_mut(group) {
                group.offer = Some(Offer { to: *to, asks: *asks, said: stamp });
            }
        }
        Event::OfferWithdrawn { group } => {
            if let Some(group) = state.groups.get_mut(group) {
                group.offer = None;
            }
        }
        Event::GroupHandedOver { group, from, to } => {
            if let Some(group) = state.groups.get_mut(group) {
                group.coach = *to;
                group.offer = None;
                group.handed = Some(Handed { from: *from, agreed: stamp });
            }
        }
        Event::TurnWent {
            turn,
            station,
            count_in,
            starts,
            ends,
            reps,
            load,
            spotter,
            lift_off,
            short_rest,
        } => {
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
                lift_off: *lift_off,
                short_rest: *short_rest,
                put_off: client(state, turn.group, turn.client).and_then(|client| client.put_off),
                assumed: false,
                stopped: false,
            };
            sets::went(state, under_way);
        }
        Event::TurnCalledOff { turn } => sets::called_off(state, *turn),
        Event::RestShortened { turn, least, reason } => {
            if let Some(client) = client(state, turn.group, turn.client) {
                client.rest_cut = Some(RestCut { least: *least, reason: *reason, said: stamp });
            }
        }
        Event::TreatedAsRest { turn } => {
            if let Some(client) = client(state, turn.group, turn.client) {
                client.as_rest = Some(stamp);
            }
        }
        Event::StartPutOff { turn, ready } => {
            if let Some(client) = client(state, turn.group, turn.client) {
                client.put_off = Some(*ready).filter(|ready| *ready > FloorMs::default());
            }
        }
        Event::TurnAssumed { turn } => {
            if let Some(current) = client(state, turn.group, turn.client).and_then(|c| c.current.as_mut()) {
                current.assumed = true;
            }
        }
        Event::TurnDone { turn, ended, reps, effort, ending } => {
            sets::done(
                state,
                *turn,
                sets::End { at: *ended, reps: *reps, effort: *effort, ending: *ending },
                stamp,
            );
        }
        Event::TurnReopened { turn } => sets::reopened(state, *turn),
        Event::TurnsSkipped { turn, count, reason } => {
            sets::skipped(state, *turn, *count, stamp, *reason);
        }
        Event::ExerciseSkipped { turn, reason } => {
            if let Some(leg) = leg(state, *turn) {
                leg.dropped = Some((stamp, *reason));
            }
            sets::not_that_one(state, *turn);
            sets::settle(state, turn.group, turn.client);
        }
        Event::ExerciseSwapped { group, client, leg, exercise, station, load, technique_load } => {
            let other = sets::Other {
                exercise: *exercise,
                station: *station,
                load: *load,
                technique_load: *technique_load,
            };
            sets::swapped(state, (*group, *client), *leg, other);
        }
        Event::SetCorrected { turn, reps, load, effort, ending } => {
            if let Some(record) = sets::record(state, *turn) {
                record.reps.say(*reps, stamp);
                record.load.say(*load, stamp);
                record.effort.say(*effort, stamp);
                record.ending.say(*ending, stamp);
            }
        }
        Event::EffortGiven { turn, effort } => {
            if let Some(record) = sets::record(state, *turn) {
                record.effort.say(*effort, stamp);
            }
        }
        Event::RepsCorrected { turn, reps } => {
            if let Some(record) = sets::record(state, *turn) {
                record.reps.say(*reps, stamp);
            }
        }
        Event::LoadLightened { turn, load } => sets::lightened(state, *turn, *load),
        Event::LoadSet { turn, load } => sets::load_set(state, *turn, *load),
        Event::LoadSettled { turn, settled } => sets::load_settled(state, *turn, *settled, stamp),
        Event::Promised { made, taken_back } => promises::promised(state, made, taken_back),
        Event::SetsFinished { group, .. } => {
            if let Some(group) = state.groups.get_mut(group) {
                group.wipe_down = Some(entry.at);
            }
        }
        Event::GroupPaused { group } => people::halted(state, *group, Some((HaltKind::Pause, stamp))),
        Event::GroupStopped { group } => people::halted(state, *group, Some((HaltKind::Stop, stamp))),
        Event::GroupResumed { group } => people::halted(state, *group, None),
        Event::ClientStopped { group, client } => {
            people::client_halted(state, (*group, *client), Some((HaltKind::Stop, stamp)));
        }
        Event::ClientResumed { group, client } => people::client_halted(state, (*group, *client), None),
        Event::CallMade { call, station, urgency } => {
            state.last_call = state.last_call.max(call.0);
            let made = CallNow { station: *station, kind: *urgency, made: stamp, answered: None };
            state.calls.insert(*call, made);
            people::heard_at(state, *station, entry.recorded);
        }
        Event::CallAnswered { call } => people::call_answered(state, *call, stamp),
        Event::CallTakenBack { call } | Event::CallAttended { call } => {
            if let Some(call) = state.calls.remove(call) {
                people::heard_at(state, call.station, entry.recorded);
            }
        }
        Event::NoteKept { note, about } => {
            state.last_note = state.last_note.max(note.0);
            state.notes.insert(*note, NoteNow { about: *about, written: stamp, erased: None });
            while state.notes.len() > MOST_NOTES {
                state.notes.pop_first();
            }
        }
        Event::NoteErased { note } => {
            if let Some(note) = state.notes.get_mut(note) {
                note.erased = Some(stamp);
            }
        }
    }
}

/// The group's displays showed something that is not so any more.
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

/// Gives up those of a group's stations that it has no use for any more.
fn give_up_unused(state: &mut State, id: GroupId) {
    let held = state.held_by(id);
    let group: Option<&GroupNow> = state.groups.get(&id);
    let needed = |station| group.is_some_and(|group| group.uses(station));
    let unused: Vec<_> = held.into_iter().filter(|station| !needed(*station)).collect();
    for station in unused {
        if let Some(station) = state.stations.get_mut(&station) {
            station.give_up(id);
        }
    }
}

/// Makes a station a group's: its own, or to work in.
fn hold(state: &mut State, id: GroupId, station: turnabout_protocol::ids::StationId) {
    if let Some(station) = state.stations.get_mut(&station) {
        match station.claim {
            Some(other) if other != id => {
                station.work_in = Some(id);
                station.leave = None;
            }
            Some(_) | None => station.claim = Some(id),
        }
    }
}

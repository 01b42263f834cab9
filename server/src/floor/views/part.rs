//! Parts that several views share.

use turnabout_protocol::command::{CallKind, Spotter};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, ExerciseId, GroupId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{
    Attendance, CallPart, ClockPart, CuesPart, HaltKind, HaltPart, HelpPart, OtherUsePart, OutPart,
    PromisePart, SetName, SettingPart, StartPart, StationLine, ThenPart, TurnPart, TurnPhase,
};
use turnabout_protocol::words::Words;

use super::{Context, card};
use crate::floor::config::Person;
use crate::floor::hours::Opening;
use crate::floor::in_hand::InHand;
use crate::floor::promises;
use crate::floor::state::{CallNow, GroupNow, Halt, Presence, State, StationNow};

/// A client's display name, or the number where the name has been erased.
pub(super) fn client_name(context: &Context<'_>, client: ClientId) -> String {
    context.names.get(&Person::Client(client)).cloned().unwrap_or_else(|| format!("#{client}"))
}

/// A coach's name, or the number where there is none.
pub(super) fn coach_name(context: &Context<'_>, coach: CoachId) -> String {
    context.names.get(&Person::Coach(coach)).cloned().unwrap_or_else(|| format!("#{coach}"))
}

/// The set under way of a client, or else the coming one.
pub(super) fn turn_of(hand: &InHand<'_>, context: &Context<'_>, client: ClientId) -> Option<TurnPart> {
    let current = hand.client(client)?.current.map(|u| u.turn);
    turn(hand, context, current.or_else(|| hand.next(client))?)
}

/// A set, under way or coming.
pub(super) fn turn(hand: &InHand<'_>, context: &Context<'_>, turn: TurnId) -> Option<TurnPart> {
    let exercise = hand.exercise(turn)?;
    let now = hand.client(turn.client)?;
    let current = now.current.filter(|u| u.turn == turn);
    let spotter = current.map_or(now.spotter.map(|spotter| spotter.who), |u| u.spotter);
    let spotter = spotter.filter(|_| exercise.spotted());
    let lift_off = current.map_or(now.spotter.is_some_and(|at| at.lift_off), |u| u.lift_off);
    let phase = match current {
        Some(u) => {
            TurnPhase::UnderWay { went: u.went.when, count_in: u.count_in, starts: u.starts, ends: u.ends }
        }
        None => coming(hand, turn)?,
    };
    Some(TurnPart {
        turn,
        revision: hand.group.revision,
        client: client_name(context, turn.client),
        station: hand.station(turn),
        exercise: exercise.name.clone(),
        set: set_name(hand, turn),
        reps: hand.work(turn)?.target(),
        work: hand.work(turn)?,
        per_side: hand.leg(turn)?.per_side,
        tempo: hand.prescribed(turn)?.tempo,
        starts_with: exercise.starts_with,
        cues: None,
        load: hand.card(turn),
        spotted: exercise.spotted(),
        spotter: spotter.and_then(|who| spotter_name(context, who)),
        arms: spotter == Some(Spotter::Arms),
        lift_off: spotter.is_some() && lift_off,
        settings: settings(hand, turn),
        proposal: None,
        promise: promise(hand, context, turn),
        phase,
        then: then(hand, turn),
    })
}

/// Which set of how many.
pub(super) fn set_name(hand: &InHand<'_>, turn: TurnId) -> SetName {
    match turn.round {
        0 if hand.is_ramp(turn) => SetName::Ramp,
        0 => SetName::Technique,
        n => SetName::Working { n, of: hand.rounds_for(turn.client) },
    }
}

/// What is told of a set that has not begun.
fn promise(hand: &InHand<'_>, context: &Context<'_>, turn: TurnId) -> Option<PromisePart> {
    let told = promises::of(hand.state, turn)?;
    let spotter = told.spotter.and_then(|who| spotter_name(context, who));
    Some(PromisePart { start: told.start, about: told.about, spotter, reason: told.reason })
}

/// The start that was told of a set, for those who need not know who spots it.
pub(super) fn start(state: &State, turn: TurnId) -> Option<StartPart> {
    promises::of(state, turn).map(|told| StartPart {
        start: told.start,
        about: told.about,
        reason: told.reason,
    })
}

/// How the load of a set is put on, for whoever does that: a wall does without.
pub(super) fn with_plates(hand: &InHand<'_>, mut part: TurnPart) -> TurnPart {
    if let Some(load) = part.load.as_mut() {
        card::fill(hand, part.turn, part.station, load);
    }
    part
}

/// What a pacer says of a set, for the display that counts it.
pub(super) fn cues(hand: &InHand<'_>, turn: TurnId) -> Option<CuesPart> {
    let about = &hand.exercise(turn)?.about;
    Some(CuesPart { phases: about.phases.clone(), breathing: about.breathing })
}

/// Which time of day it is at the floor.
pub(super) fn clock(state: &State) -> ClockPart {
    ClockPart { floor: state.clock.floor, utc_ms: state.clock.utc_ms }
}

/// When the floor closes, where it is open and does.
pub(super) fn closes(state: &State) -> Option<FloorMs> {
    match state.floor.hours.at(&state.clock, state.recorded) {
        Opening::Until(at) => Some(at),
        Opening::Always | Opening::Closed => None,
    }
}

/// The name of a spotter; nothing for safety arms. An assistant goes by the coach who is helped.
pub(super) fn spotter_name(context: &Context<'_>, who: Spotter) -> Option<String> {
    match who {
        Spotter::Coach { coach } | Spotter::Assistant { coach } => Some(coach_name(context, coach)),
        Spotter::Client { client } => Some(client_name(context, client)),
        Spotter::Arms => None,
    }
}

/// How the station is set for the client of a set: what is to be changed first.
fn settings(hand: &InHand<'_>, turn: TurnId) -> Vec<SettingPart> {
    let Some((station, now)) = hand.station_now(turn) else { return Vec::new() };
    let id = hand.station(turn);
    let kept = id.and_then(|id| hand.state.settings.get(&turn.client)?.get(&id));
    let part = |(place, value): (&u8, &u8)| {
        let setting = station.settings.get(usize::from(*place))?;
        Some(SettingPart {
            setting: *place,
            name: setting.name.clone(),
            value: setting.values.get(usize::from(*value))?.clone(),
            change: now.set_to.get(place) != Some(value),
        })
    };
    let mut settings: Vec<SettingPart> = kept.into_iter().flatten().filter_map(part).collect();
    settings.sort_by_key(|part| (!part.change, part.setting));
    settings
}

/// The name of an exercise, or its number where the floor has it no more.
pub(super) fn exercise_name(state: &State, id: ExerciseId) -> Words {
    let unknown = || Words::same(&format!("#{id}"));
    state.floor.exercises.get(&id).map_or_else(unknown, |exercise| exercise.name.clone())
}

fn coming(hand: &InHand<'_>, turn: TurnId) -> Option<TurnPhase> {
    let needs = hand.needs(turn);
    let Some(coming) = hand.coming(turn.client) else {
        // No stations yet: there is no time to tell.
        let since = FloorMs::default();
        let after = turnabout_protocol::view::After::Nothing;
        return Some(TurnPhase::Coming { after, ready: since, go_from: since, needs });
    };
    Some(TurnPhase::Coming { after: coming.after, ready: coming.go, go_from: coming.go_from, needs })
}

/// Where the client goes from there without a rest.
fn then(hand: &InHand<'_>, turn: TurnId) -> Option<ThenPart> {
    let next = TurnId { leg: turn.leg.checked_add(1)?, ..turn };
    let exercise = hand.exercise(next)?;
    let (station, _) = hand.station_now(next)?;
    Some(ThenPart {
        station: station.name.clone(),
        exercise: exercise.name.clone(),
        changeover: hand.block.changeover,
    })
}

/// A group that is held.
pub(super) fn halt(group: &GroupNow) -> Option<HaltPart> {
    halt_part(group.halt)
}

/// Somebody or a group that is held.
pub(super) fn halt_part(halt: Option<Halt>) -> Option<HaltPart> {
    halt.map(|halt| HaltPart { halt: halt.kind, since: halt.since.when })
}

/// What holds a client: the client's own stop before a pause of the group.
pub(super) fn halt_of(hand: &InHand<'_>, client: ClientId) -> Option<HaltPart> {
    let own = halt_part(hand.client(client).and_then(|client| client.halt));
    let group = halt(hand.group);
    group.filter(|group| group.halt == HaltKind::Stop).or(own).or(group)
}

/// Whether a client is there.
pub(super) fn attendance(group: &GroupNow, client: ClientId) -> Attendance {
    match group.clients.get(&client).map(|client| client.presence) {
        Some(Presence::Here(_)) => Attendance::Here,
        Some(Presence::Left(_)) => Attendance::Left,
        Some(Presence::Expected) | None if group.has_begun() => Attendance::Late,
        Some(Presence::Expected) | None => Attendance::Expected,
    }
}

/// The prescribed exercise of a set in whose place another is done.
pub(super) fn in_place_of(hand: &InHand<'_>, turn: TurnId) -> Option<Words> {
    hand.leg_now(turn)?.instead?;
    Some(exercise_name(hand.state, hand.leg(turn)?.exercise))
}

/// The place of a group in the wait list, from 1.
pub(super) fn place(state: &State, group: GroupId) -> Option<u16> {
    u16::try_from(state.place_in_line(group)? + 1).ok()
}

/// A call.
pub(super) fn call(context: &Context<'_>, state: &State, id: CallId, call: &CallNow) -> CallPart {
    let place = state.floor.stations.get(&call.station).map(|s| s.name.clone()).unwrap_or_default();
    let answered = call.answered.and_then(|answered| match answered.by {
        Actor::Coach { coach } | Actor::Assistant { coach } => Some(coach_name(context, coach)),
        Actor::Station { .. } | Actor::Board | Actor::Manager | Actor::Floor => None,
    });
    CallPart { call: id, kind: call.kind, station: call.station, place, since: call.made.when, answered }
}

/// The oldest open call for help.
pub(super) fn help(state: &State, context: &Context<'_>) -> Option<HelpPart> {
    let (id, oldest) = state.calls.iter().find(|(_, call)| call.kind == CallKind::HelpNow)?;
    Some(HelpPart { call: call(context, state, *id, oldest), emergency: state.floor.emergency.clone() })
}

/// Somebody of the public on a station.
pub(super) fn other_use(station: &StationNow) -> Option<OtherUsePart> {
    station.other_use.map(|other| OtherUsePart { until: other.until })
}

/// A station that must not be used.
pub(super) fn out(station: &StationNow) -> Option<OutPart> {
    station.out.map(|out| OutPart { defect: out.defect, since: out.said.when })
}

/// Every station in a line.
pub(super) fn station_lines(state: &State) -> Vec<StationLine> {
    let line = |(id, now)| {
        let station = state.floor.stations.get(id)?;
        let now: &StationNow = now;
        Some(StationLine {
            station: *id,
            key: station.key.clone(),
            name: station.name.clone(),
            state: state.station_state(*id, now),
            group: now.claim,
            shared_with: now.work_in,
            other_use: other_use(now),
            out: out(now),
        })
    };
    state.stations.iter().filter_map(line).collect()
}

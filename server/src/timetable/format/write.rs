//! Writes instances and timetables, one line each, with their fields in the order of the format.

use serde::{Serialize, Serializer};
use turnabout_protocol::units::Secs;

use super::FORMAT;
use crate::timetable::answer::{Breach, RoundStarts, Timetable};
use crate::timetable::instance::{
    At, Coach, Group, Instance, Load, Member, Price, Round, Spot, Station, StationKind, Turn, UnderWay,
    Weights, Window,
};

/// An instance as one line of JSON. A group's own changeover limit is not in it: the format has no word for it.
#[must_use]
pub fn write_instance(instance: &Instance) -> String {
    line(&InstanceOut::of(instance))
}

/// A timetable as one line of JSON.
#[must_use]
pub fn write_timetable(timetable: &Timetable) -> String {
    line(&TimetableOut {
        instance: &timetable.instance,
        stations: &timetable.stations,
        turns: timetable.turns.iter().map(RoundOut::of).collect(),
        breaches: timetable.breaches.iter().map(BreachOut::of).collect(),
    })
}

fn line(value: &impl Serialize) -> String {
    let mut line = serde_json::to_string(value).expect("numbers, texts and lists are plain JSON");
    line.push('\n');
    line
}

fn times(list: &[Option<At>]) -> Vec<Option<u32>> {
    list.iter().map(|at| at.map(|at| at.0)).collect()
}

#[derive(Serialize)]
struct TimetableOut<'a> {
    instance: &'a str,
    stations: &'a [Vec<Vec<usize>>],
    turns: Vec<RoundOut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    breaches: Vec<BreachOut>,
}

#[derive(Serialize)]
struct RoundOut {
    group: usize,
    member: usize,
    round: usize,
    starts: Vec<Option<u32>>,
}

impl RoundOut {
    fn of(turn: &RoundStarts) -> Self {
        let RoundStarts { group, member, round, ref starts } = *turn;
        Self { group, member, round, starts: times(starts) }
    }
}

#[derive(Serialize)]
struct BreachOut {
    rule: u8,
    group: usize,
    member: usize,
    round: usize,
    leg: usize,
    seconds: u32,
}

impl BreachOut {
    fn of(breach: &Breach) -> Self {
        let Breach { rule, group, member, round, leg, seconds } = *breach;
        Self { rule, group, member, round, leg, seconds }
    }
}

#[derive(Serialize)]
struct InstanceOut<'a> {
    format: &'static str,
    name: &'a str,
    now: u32,
    weights: WeightsOut,
    plate_s: u32,
    collar_s: u32,
    pin_s: u32,
    changeover_wait_max: Option<u32>,
    stations: Vec<StationOut<'a>>,
    walk: Vec<Vec<u32>>,
    coach_walk: Vec<Vec<u32>>,
    coaches: Vec<CoachOut>,
    groups: Vec<GroupOut<'a>>,
}

impl<'a> InstanceOut<'a> {
    fn of(instance: &'a Instance) -> Self {
        let secs =
            |rows: &[Vec<Secs>]| rows.iter().map(|row| row.iter().map(|walk| walk.0).collect()).collect();
        Self {
            format: FORMAT,
            name: &instance.name,
            now: instance.now.0,
            weights: WeightsOut::of(&instance.weights),
            plate_s: instance.plate.0,
            collar_s: instance.collar.0,
            pin_s: instance.pin.0,
            changeover_wait_max: instance.changeover_wait_max.map(|secs| secs.0),
            stations: instance.stations.iter().enumerate().map(StationOut::of).collect(),
            walk: secs(&instance.walk),
            coach_walk: secs(&instance.coach_walk),
            coaches: instance.coaches.iter().enumerate().map(CoachOut::of).collect(),
            groups: instance.groups.iter().enumerate().map(GroupOut::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct WeightsOut {
    overrun: Vec<[u32; 2]>,
    changeover_wait: u32,
    flow: u32,
    makespan: u32,
    handling: u32,
    late: u32,
    door: Vec<[u32; 2]>,
    tardy: u32,
    told: u32,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    x_free_start: bool,
}

impl WeightsOut {
    fn of(weights: &Weights) -> Self {
        let price = |price: &Price| price.iter().map(|(from, each)| [from.0, *each]).collect();
        Self {
            overrun: price(&weights.overrun),
            changeover_wait: weights.changeover_wait,
            flow: weights.flow,
            makespan: weights.makespan,
            handling: weights.handling,
            late: weights.late,
            door: price(&weights.door),
            tardy: weights.tardy,
            told: weights.told,
            x_free_start: weights.free_start,
        }
    }
}

fn windows(busy: &[Window]) -> Vec<[u32; 2]> {
    busy.iter().map(|window| [window.from.0, window.to.0]).collect()
}

#[derive(Serialize)]
#[serde(untagged)]
enum LoadOut<'a> {
    Plates(&'a [u32]),
    Label(u32),
}

impl<'a> LoadOut<'a> {
    fn of(load: &'a Load) -> Self {
        match load {
            Load::Plates(plates) => Self::Plates(plates),
            Load::Label(grams) => Self::Label(*grams),
        }
    }
}

#[derive(Serialize)]
struct StationOut<'a> {
    id: usize,
    kind: &'static str,
    free_at: u32,
    load: Option<LoadOut<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    busy: Vec<[u32; 2]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    work_in: Option<bool>,
}

impl<'a> StationOut<'a> {
    fn of((id, station): (usize, &'a Station)) -> Self {
        Self {
            id,
            kind: match station.kind {
                StationKind::Bar => "bar",
                StationKind::Stack => "stack",
                StationKind::Plain => "plain",
            },
            free_at: station.free_at.0,
            load: station.load.as_ref().map(LoadOut::of),
            busy: windows(&station.busy),
            work_in: (!station.work_in).then_some(false),
        }
    }
}

#[derive(Serialize)]
struct CoachOut {
    id: usize,
    free_at: u32,
    at: Option<usize>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    busy: Vec<[u32; 2]>,
}

impl CoachOut {
    fn of((id, coach): (usize, &Coach)) -> Self {
        Self { id, free_at: coach.free_at.0, at: coach.at, busy: windows(&coach.busy) }
    }
}

#[derive(Serialize)]
struct GroupOut<'a> {
    id: usize,
    coach: usize,
    together: bool,
    legs: Vec<LegOut<'a>>,
    rest_min: u32,
    rest_max: Option<u32>,
    order: Option<&'a [usize]>,
    #[serde(skip_serializing_if = "<[usize]>::is_empty")]
    holds: &'a [usize],
    members: Vec<MemberOut<'a>>,
}

#[derive(Serialize)]
struct LegOut<'a> {
    eligible: &'a [usize],
}

impl<'a> GroupOut<'a> {
    fn of((id, group): (usize, &'a Group)) -> Self {
        Self {
            id,
            coach: group.coach,
            together: group.together,
            legs: group.eligible.iter().map(|eligible| LegOut { eligible }).collect(),
            rest_min: group.rest_min.0,
            rest_max: group.rest_max.map(|secs| secs.0),
            order: (!group.order.is_empty()).then_some(group.order.as_slice()),
            holds: &group.holds,
            members: group.members.iter().enumerate().map(MemberOut::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct MemberOut<'a> {
    id: usize,
    release: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    due: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stations: Option<&'a [usize]>,
    last_round_end: Option<u32>,
    under_way: Option<UnderWayOut>,
    rounds: Vec<RoundLeftOut<'a>>,
}

#[derive(Serialize)]
struct UnderWayOut {
    legs_done: usize,
    last_end: u32,
}

impl<'a> MemberOut<'a> {
    fn of((id, member): (usize, &'a Member)) -> Self {
        let way = |way: UnderWay| UnderWayOut { legs_done: way.legs_done, last_end: way.last_end.0 };
        Self {
            id,
            release: member.release.0,
            due: member.due.map(|at| at.0),
            stations: member.stations.as_deref(),
            last_round_end: member.last_round_end.map(|at| at.0),
            under_way: member.under_way.map(way),
            rounds: member.rounds.iter().map(RoundLeftOut::of).collect(),
        }
    }
}

#[derive(Serialize)]
struct RoundLeftOut<'a> {
    round: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    coach: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rest_min: Option<u32>,
    /// Absent is not null here: null says that there is no limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    rest_max: Option<Option<u32>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    not_before: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    told: Option<Vec<Option<u32>>>,
    legs: Vec<Option<TurnOut<'a>>>,
}

impl<'a> RoundLeftOut<'a> {
    fn of(round: &'a Round) -> Self {
        Self {
            round: round.number,
            coach: round.coach,
            rest_min: round.rest_min.map(|secs| secs.0),
            rest_max: round.rest_max.map(|most| most.map(|secs| secs.0)),
            not_before: round.not_before.map(|at| at.0),
            told: round.told.iter().any(Option::is_some).then(|| times(&round.told)),
            legs: round.legs.iter().map(|turn| turn.as_ref().map(TurnOut::of)).collect(),
        }
    }
}

#[derive(Serialize)]
struct TurnOut<'a> {
    dur: u32,
    load: Option<LoadOut<'a>>,
    #[serde(serialize_with = "spot")]
    spot: Option<(Spot, Secs)>,
}

impl<'a> TurnOut<'a> {
    fn of(turn: &'a Turn) -> Self {
        Self {
            dur: turn.length.0,
            load: turn.load.as_ref().map(LoadOut::of),
            spot: turn.spot.map(|spot| (spot, turn.length)),
        }
    }
}

/// False, true for the whole turn, or from when to when.
fn spot<S: Serializer>(spot: &Option<(Spot, Secs)>, out: S) -> Result<S::Ok, S::Error> {
    match spot {
        None => out.serialize_bool(false),
        Some((Spot { from: Secs(0), to }, length)) if to == length => out.serialize_bool(true),
        Some((Spot { from, to }, _)) => [from.0, to.0].serialize(out),
    }
}

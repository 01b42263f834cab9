//! The usual small floor with everything on it that a floor can have, for histories in which anything happens:
//! sharing, settings, handles, safety arms, policies, screening, shifts, and sessions of two blocks.

use std::collections::BTreeSet;

use turnabout_protocol::ids::{CoachId, ExerciseId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{
    Client, Coach, Day, Floor, KeptForMembers, Policy, Programme, Screening, ScreeningPolicy,
    ScreeningResult, Setting, Sharing, Shift,
};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::hours::Hours;
use turnabout_server::floor::local_time::{Minute, Weekday};
use turnabout_server::floor::state::State;
use turnabout_server::training::block::{Block, Leg, Target};
use turnabout_server::training::exercise::Exercise;
use turnabout_server::training::movement::Movement;

use crate::world::*;

/// Stands in for the row; another press, for the bench press, has the number before.
const HIGH_ROW: ExerciseId = ExerciseId(4);
/// 2026-11-25, a Wednesday, 18:00 in a zone an hour east of UTC.
const OPENS_UTC_MS: i64 = 1_795_626_000_000;

/// What differs from floor to floor.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Kind {
    /// One of the pair comes before the other.
    pub(crate) late: bool,
    pub(crate) members: bool,
    pub(crate) few_stations: bool,
    pub(crate) few_clients: bool,
    pub(crate) screening: ScreeningPolicy,
    pub(crate) get_set: u32,
}

fn minute(minutes: u16) -> Minute {
    Minute::new(minutes).unwrap()
}

pub(crate) fn rich_floor(kind: Kind) -> Floor {
    let mut floor = floor();
    floor.settings.get_set = Secs(kind.get_set);
    for (id, movement) in [(1, Movement::HorizontalPress), (2, Movement::HorizontalPull)] {
        let exercise = floor.exercises.get_mut(&ExerciseId(id)).unwrap();
        exercise.movement = movement;
        let other = ExerciseId(id + 2);
        let name = ["close-press", "high-row"][usize::from(id - 1)];
        let handle = (id == 2).then(|| key("rope"));
        let other = Exercise { id: other, key: key(name), handle, ..exercise.clone() };
        floor.exercises.insert(other.id, other);
    }
    floor.handles.insert(key("rope"), 1);
    for (station, sharing, arms) in
        [(BENCH, Sharing::Open, false), (BENCH_2, Sharing::Ask, true), (ROW, Sharing::Open, false)]
    {
        let station = floor.stations.get_mut(&station).unwrap();
        station.sharing = sharing;
        station.arms = arms;
        let values = ["1", "2", "3"].map(str::to_owned).to_vec();
        station.settings = vec![Setting { name: "Seat".to_owned(), values }];
    }
    let shift = Shift { from: minute(6 * 60), to: minute(18 * 60 + 20) };
    floor.coaches.insert(BRAM, Coach { key: key("coach-2"), shift: Some(shift) });
    floor.coaches.insert(CoachId(3), Coach { key: key("coach-3"), shift: None });
    floor.policy = policy(kind);
    floor
}

fn policy(kind: Kind) -> Policy {
    let window = turnabout_server::floor::hours::Window::new(minute(18 * 60), minute(18 * 60 + 10)).unwrap();
    let hours = Hours::new([(Weekday::Wednesday, vec![window])].into());
    let kept = KeptForMembers { stations: BTreeSet::from([BENCH, BENCH_2]), keep: 1, hours };
    Policy {
        loads: Default::default(),
        members: if kind.members { vec![kept] } else { Vec::new() },
        stations_a_coach: kind.few_stations.then_some(2),
        clients_a_coach: kind.few_clients.then_some(2),
        arms_accepted: true,
        screening: kind.screening,
    }
}

/// A press that leaves enough in reserve for a free lift-off, heavier from round to round, and then rows, the
/// second without a pause lighter in place.
fn second_block(of: &Block) -> Block {
    let mut block = of.clone();
    block.rounds = 1;
    let row: Leg = block.legs[1].clone();
    block.legs.push(Leg { exercise: HIGH_ROW, in_place: true, per_side: true, ..row });
    for set in block.legs[0].sets.values_mut() {
        set.reserve = Some(3);
        set.rounds.push(Target { work: Work::Hold { secs: Secs(20) }, ..set.rounds[0] });
    }
    block
}

pub(crate) fn rich_programme() -> Programme {
    let mut programme = programme();
    let day = Day { year: 2026, month: 11, day: 25 };
    programme.day = Some(day);
    for (id, group) in &mut programme.groups {
        let second = second_block(&group.blocks[0]);
        group.blocks.push(second);
        group.starts = (*id != SINGLE).then(|| minute(18 * 60 + 5));
        group.ends = Some(minute(19 * 60));
    }
    for (id, client) in &mut programme.clients {
        let screening = Screening { on: day, result: ScreeningResult::Cleared };
        let screening = [DARA, EDDA].contains(id).then_some(screening);
        *client = Client { regular: *id != EDDA, screening, ..client.clone() };
    }
    programme
}

pub(crate) fn rich_world(kind: Kind) -> World {
    let mut world = World { state: State::new(), entries: Vec::new(), now: FloorMs(0) };
    world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(rich_floor(kind))));
    world.take(Actor::Floor, world.now, Event::ClockMapped { utc_ms: OPENS_UTC_MS, offset_secs: 3_600 });
    world.take(Actor::Floor, world.now, Event::ProgrammeSet(Box::new(rich_programme())));
    world
}

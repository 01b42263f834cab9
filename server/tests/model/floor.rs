//! The small floor and its evenings: two benches, two rows, two coaches, times on a grid of three seconds.
//!
//! Three seconds are the 3-2-1, which no setting changes. Everything else is a multiple of it, so that the
//! deadlines of different people fall on the same instant as often as possible.

use std::collections::BTreeMap;
use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, StationId};
use turnabout_protocol::units::{Mass, MassUnit, Millis, Secs};
use turnabout_protocol::view::{Emergency, StartsWith};
use turnabout_server::floor::config::{Client, Coach, Floor, GroupPlan, Programme, Settings, Station};
use turnabout_server::loading::gear::{Bar, Gear, Plates, Stack};
use turnabout_server::training::block::{Block, Leg, Prescription};
use turnabout_server::training::exercise::{Exercise, SpotRule};
use turnabout_server::training::movement::Movement;
use turnabout_server::training::words::Words;

use crate::asks::Family;

pub(crate) const BENCHES: [StationId; 2] = [StationId(1), StationId(2)];
pub(crate) const ROWS: [StationId; 2] = [StationId(3), StationId(4)];
pub(crate) const COACHES: [CoachId; 2] = [CoachId(1), CoachId(2)];
const PRESS: ExerciseId = ExerciseId(1);
const ROW: ExerciseId = ExerciseId(2);

/// One evening to look at, with the taps that people make in it.
#[derive(Clone, Debug)]
pub(crate) struct Scenario {
    pub(crate) name: &'static str,
    pub(crate) floor: Floor,
    pub(crate) programme: Programme,
    pub(crate) families: Vec<Family>,
}

/// What a group trains.
#[derive(Clone, Copy)]
enum Work {
    /// A press, then a row, once.
    Paired,
    /// The press alone.
    Press { rounds: u8 },
}

/// Three groups of one want two benches and two rows: one of them must wait.
pub(crate) fn three_groups() -> Scenario {
    let groups = [(1, Work::Paired), (1, Work::Paired), (1, Work::Press { rounds: 1 })];
    scenario("three groups on two pairs of stations", &groups, &Family::WORK)
}

/// Two clients share a bench, and beside them one rests between two rounds.
pub(crate) fn pair_and_single() -> Scenario {
    let groups = [(2, Work::Press { rounds: 1 }), (1, Work::Press { rounds: 2 })];
    scenario("a pair and a single with a rest", &groups, &Family::WORK)
}

/// Two groups are held back and let go on at any moment.
pub(crate) fn held_back() -> Scenario {
    let groups = [(1, Work::Press { rounds: 1 }), (1, Work::Press { rounds: 1 })];
    scenario("two groups held back", &groups, &Family::WITH_HALTS)
}

/// One group, and whatever people can tap, wrong taps too.
pub(crate) fn every_tap() -> Scenario {
    scenario("one group and every tap", &[(1, Work::Paired)], &Family::ALL)
}

/// A pair takes turns on one bench with a rest.
pub(crate) fn pair_alone() -> Scenario {
    scenario("a pair alone", &[(2, Work::Press { rounds: 2 })], &Family::WORK)
}

/// Two groups of one, one with a row.
pub(crate) fn two_groups() -> Scenario {
    scenario("two groups", &[(1, Work::Paired), (1, Work::Paired)], &Family::WORK)
}

/// One after the other on the same bench with the same load from the first set on.
pub(crate) fn same_load() -> Scenario {
    let groups = [(1, Work::Press { rounds: 1 }), (1, Work::Press { rounds: 1 })];
    let mut scenario = scenario("the same load", &groups, &Family::WORK);
    let plans = scenario.programme.groups.values_mut();
    let legs = plans.flat_map(|plan| &mut plan.blocks).flat_map(|block| &mut block.legs);
    for set in legs.flat_map(|leg| leg.sets.values_mut()) {
        set.technique_load = set.load;
    }
    scenario
}

/// More than can be looked at whole: for walks.
pub(crate) fn everything() -> Scenario {
    let groups = [(2, Work::Paired), (1, Work::Press { rounds: 3 }), (1, Work::Paired)];
    scenario("everything", &groups, &Family::ALL)
}

fn scenario(name: &'static str, groups: &[(u32, Work)], families: &[Family]) -> Scenario {
    let mut programme = Programme::default();
    for (number, (people, work)) in (1_u32..).zip(groups) {
        let clients: Vec<ClientId> = (0..*people).map(|place| ClientId(number * 10 + place)).collect();
        programme.clients.extend(clients.iter().map(|id| (*id, Client { show_load: true })));
        let coach = COACHES[usize::from(number % 2 == 0)];
        let blocks = vec![block(*work, &clients)];
        programme.groups.insert(GroupId(number), GroupPlan { coach, clients, blocks });
    }
    Scenario { name, floor: floor(), programme, families: families.to_vec() }
}

fn block(work: Work, clients: &[ClientId]) -> Block {
    let leg = |exercise: ExerciseId, load: i64| Leg {
        exercise,
        tempo: "1-0-2-0".parse().unwrap(),
        technique_reps: 1,
        sets: clients
            .iter()
            .map(|client| (*client, Prescription { reps: 1, load: Some(kg(load)), technique_load: None }))
            .collect(),
    };
    let (legs, rounds) = match work {
        Work::Paired => (vec![leg(PRESS, 30), leg(ROW, 10)], 1),
        Work::Press { rounds } => (vec![leg(PRESS, 30)], rounds),
    };
    Block { legs, rounds, rest_min: Secs(6), rest_max: Secs(9), changeover: Secs(3) }
}

fn floor() -> Floor {
    let text = String::new;
    let station = |id: StationId, gear: Gear| {
        let key = format!("s{id}").parse().unwrap();
        (id, Station { key, name: text(), at_cm: [0, 0], gear })
    };
    let exercise = |id: ExerciseId, gear, stations: [StationId; 2], starts_with, spot| {
        let key = format!("e{id}").parse().unwrap();
        let exercise = Exercise {
            id,
            key,
            name: Words::same(""),
            gear,
            stations: stations.into(),
            starts_with,
            spot,
            movement: Movement::default(),
            handle: None,
            about: Arc::default(),
        };
        (id, exercise)
    };
    Floor {
        name: text(),
        zone: "UTC".to_owned(),
        emergency: Emergency { number: text(), address: text(), defibrillator: text(), first_aid: text() },
        settings: Settings { get_set_spotted: Secs(0), get_set: Secs(0), wipe_down: Secs(6) },
        stations: BTreeMap::from([
            station(BENCHES[0], bar()),
            station(BENCHES[1], bar()),
            station(ROWS[0], stack()),
            station(ROWS[1], stack()),
        ]),
        coaches: COACHES.map(|id| (id, Coach { key: format!("c{id}").parse().unwrap() })).into(),
        exercises: BTreeMap::from([
            exercise(PRESS, GearKind::Bar, BENCHES, StartsWith::Eccentric, SpotRule::OverFace),
            exercise(ROW, GearKind::Stack, ROWS, StartsWith::Concentric, SpotRule::None),
        ]),
    }
}

fn bar() -> Gear {
    let plates = vec![Plates { mass: kg(5), count: 2 }];
    Gear::Bar(Bar { unit: MassUnit::Kg, bar: kg(20), collar: Mass::ZERO, plates })
}

fn stack() -> Gear {
    Gear::Stack(Stack { unit: MassUnit::Kg, first: kg(5), step: kg(5), labels: 2 })
}

fn kg(kg: i64) -> Mass {
    Mass::from_grams(kg * 1_000)
}

/// A set this long after its prescribed end is a tap that was forgotten: the core's own limit is 20 s.
pub(crate) const LONG_OVER: Millis = Millis::secs(21);

//! The small floor: two benches, two rows, two coaches, times on a grid of three seconds.
//!
//! Three seconds are the 3-2-1, which no setting changes. Everything else is a multiple of it, so that the
//! deadlines of different people fall on the same instant as often as possible.

use std::collections::BTreeMap;
use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, StationId};
use turnabout_protocol::units::{Mass, MassUnit, Millis, Secs};
use turnabout_protocol::view::{Emergency, StartsWith};
use turnabout_protocol::words::Words;
use turnabout_protocol::work;
use turnabout_server::floor::config::{
    Client, Coach, Floor, GroupPlan, Programme, Settings, Sharing, Station,
};
use turnabout_server::floor::hours::Hours;
use turnabout_server::loading::gear::{Bar, Gear, Plates, Stack};
use turnabout_server::training::block::{Block, Leg, Prescription};
use turnabout_server::training::exercise::{Exercise, SpotRule};
use turnabout_server::training::movement::Movement;

use crate::family::Family;

pub(crate) const BENCHES: [StationId; 2] = [StationId(1), StationId(2)];
pub(crate) const ROWS: [StationId; 2] = [StationId(3), StationId(4)];
pub(crate) const COACHES: [CoachId; 2] = [CoachId(1), CoachId(2)];
pub(crate) const PRESS: ExerciseId = ExerciseId(1);
pub(crate) const ROW: ExerciseId = ExerciseId(2);

/// No evening lasts so long: what comes later never comes.
pub(crate) const FAR: Millis = Millis::secs(12 * 3_600);

/// A set this long after its prescribed end is a tap that was forgotten: the core's own limit is 20 s.
pub(crate) const LONG_OVER: Millis = Millis::secs(21);

/// One evening to look at, with the taps that people make in it.
#[derive(Clone, Debug)]
pub(crate) struct Scenario {
    pub(crate) name: &'static str,
    pub(crate) floor: Floor,
    pub(crate) programme: Programme,
    pub(crate) families: Vec<Family>,
    /// Whether everybody has come when it begins.
    pub(crate) there: bool,
    /// Whether taps are taken back.
    pub(crate) slips: bool,
}

/// What a group trains.
#[derive(Clone, Copy)]
pub(crate) enum Work {
    /// A press, then a row, once.
    Paired,
    /// The same in two rounds.
    PairedTwice,
    /// The press alone.
    Press { rounds: u8 },
    /// The row alone, once.
    Row,
    /// Two blocks: the row alone, then the press alone.
    RowThenPress,
    /// The other way round.
    PressThenRow,
}

/// An evening of groups of so many clients, everybody there, on a floor that gives nobody up.
pub(crate) fn scenario(name: &'static str, groups: &[(u32, Work)], families: &[Family]) -> Scenario {
    let mut programme = Programme::default();
    for (number, (people, work)) in (1_u32..).zip(groups) {
        let clients: Vec<ClientId> = (0..*people).map(|place| ClientId(number * 10 + place)).collect();
        let client = Client { show_load: true, regular: true, ..Client::default() };
        programme.clients.extend(clients.iter().map(|id| (*id, client.clone())));
        let coach = COACHES[usize::from(number % 2 == 0)];
        let blocks = blocks(*work, &clients);
        programme
            .groups
            .insert(GroupId(number), GroupPlan { coach, clients, blocks, starts: None, ends: None });
    }
    Scenario { name, floor: floor(), programme, families: families.to_vec(), there: true, slips: false }
}

fn blocks(work: Work, clients: &[ClientId]) -> Vec<Block> {
    let press = (PRESS, 30);
    let row = (ROW, 10);
    let blocks = match work {
        Work::Paired => vec![(vec![press, row], 1)],
        Work::PairedTwice => vec![(vec![press, row], 2)],
        Work::Press { rounds } => vec![(vec![press], rounds)],
        Work::Row => vec![(vec![row], 1)],
        Work::RowThenPress => vec![(vec![row], 1), (vec![press], 1)],
        Work::PressThenRow => vec![(vec![press], 1), (vec![row], 1)],
    };
    blocks.into_iter().map(|(legs, rounds)| block(&legs, rounds, clients)).collect()
}

fn block(legs: &[(ExerciseId, i64)], rounds: u8, clients: &[ClientId]) -> Block {
    let leg = |(exercise, load): &(ExerciseId, i64)| Leg {
        exercise: *exercise,
        in_place: false,
        per_side: false,
        sets: clients
            .iter()
            .map(|client| {
                let tempo = "1-0-2-0".parse().unwrap();
                (*client, Prescription::plain(tempo, 1, work::Work::reps(1), Some(kg(*load))))
            })
            .collect(),
    };
    let legs = legs.iter().map(leg).collect();
    Block { legs, rounds, rest_min: Secs(6), rest_max: Secs(9), changeover: Secs(3) }
}

fn floor() -> Floor {
    let text = String::new;
    let station = |id: StationId, gear: Gear| {
        let key = format!("s{id}").parse().unwrap();
        let (sharing, settings) = (Sharing::Never, Vec::new());
        (id, Station { key, name: text(), at_cm: [0, 0], gear, sharing, settings, arms: false })
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
            from_the_floor: false,
            handle: None,
            about: Arc::default(),
        };
        (id, exercise)
    };
    Floor {
        name: text(),
        zone: "UTC".to_owned(),
        emergency: Emergency { number: text(), address: text(), defibrillator: text(), first_aid: text() },
        settings: Settings {
            get_set_spotted: Secs(0),
            get_set: Secs(0),
            wipe_down: Secs(6),
            idle: Secs(u32::MAX),
            ..Settings::default()
        },
        hours: Hours::default(),
        stations: BTreeMap::from([
            station(BENCHES[0], bar()),
            station(BENCHES[1], bar()),
            station(ROWS[0], stack()),
            station(ROWS[1], stack()),
        ]),
        coaches: COACHES.map(|id| (id, Coach { key: format!("c{id}").parse().unwrap(), shift: None })).into(),
        exercises: BTreeMap::from([
            exercise(PRESS, GearKind::Bar, BENCHES, StartsWith::Eccentric, SpotRule::OverFace),
            exercise(ROW, GearKind::Stack, ROWS, StartsWith::Concentric, SpotRule::None),
        ]),
        ..Floor::unknown()
    }
}

fn bar() -> Gear {
    let plates = vec![Plates::new(kg(5), 2)];
    Gear::Bar(Bar::one(MassUnit::Kg, kg(20), Mass::ZERO, plates))
}

fn stack() -> Gear {
    Gear::Stack(Stack::steps(MassUnit::Kg, kg(5), kg(5), 2))
}

fn kg(kg: i64) -> Mass {
    Mass::from_grams(kg * 1_000)
}

//! The invented floor of the benches: every group is a pair with a bench and a row of its own.

use std::collections::BTreeMap;
use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, Key, StationId};
use turnabout_protocol::units::{Mass, MassUnit, Secs};
use turnabout_protocol::view::{Emergency, StartsWith};
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{
    Client, Coach, Floor, GroupPlan, Names, Person, Programme, Settings, Sharing, Station,
};
use turnabout_server::floor::hours::Hours;
use turnabout_server::live::Files;
use turnabout_server::loading::gear::{Bar, Gear, Plates, Stack};
use turnabout_server::training::block::{Block, Leg, Prescription};
use turnabout_server::training::exercise::{Exercise, SpotRule};
use turnabout_server::training::movement::Movement;

const NAMES: [&str; 8] = ["Chidi", "Dara", "Edda", "Farid", "Greta", "Hana", "Ilse", "Jonah"];

/// The one coach.
pub(crate) const COACH: CoachId = CoachId(1);

/// The bench of a group, and its row.
pub(crate) const fn stations(group: u16) -> [StationId; 2] {
    [StationId(group * 2), StationId(group * 2 + 1)]
}

/// The pair of a group.
pub(crate) fn clients(group: u16) -> [ClientId; 2] {
    [ClientId(u32::from(group) * 2), ClientId(u32::from(group) * 2 + 1)]
}

/// What the floor's files say. Groups count from 1; station 1 is one where nothing happens.
pub(crate) fn files(groups: u16) -> Files {
    let people = (1..=groups).flat_map(clients).zip(NAMES.into_iter().cycle());
    let names = people.map(|(client, name)| (Person::Client(client), name.to_owned()));
    let coach = (Person::Coach(COACH), "Ayla".to_owned());
    let names: Names = names.chain([coach]).collect();
    Files { floor: floor(groups), programme: Some(programme(groups, 0)), names }
}

fn key(text: &str) -> Key {
    text.parse().expect("a key")
}

fn station(id: StationId, gear: Gear) -> (StationId, Station) {
    let name = format!("Station {id}");
    (
        id,
        Station {
            key: key(&format!("station-{id}")),
            name,
            at_cm: [i32::from(id.0) * 200, 0],
            gear,
            sharing: Sharing::Never,
            settings: Vec::new(),
            arms: false,
        },
    )
}

fn floor(groups: u16) -> Floor {
    let kg = |kg: i64| Mass::from_grams(kg * 1_000);
    let plates = [20, 10, 5].map(|mass| Plates::new(kg(mass), 4)).to_vec();
    let bar = Gear::Bar(Bar::one(MassUnit::Kg, kg(20), Mass::ZERO, plates));
    let stack = Gear::Stack(Stack::steps(MassUnit::Kg, kg(5), kg(5), 20));
    let pair = |group| {
        let [bench, row] = stations(group);
        [station(bench, bar.clone()), station(row, stack.clone())]
    };
    let exercise = |id, name: &str, gear, starts_with| {
        // The first exercise on the benches, the second on the rows.
        let place = usize::from(id) - 1;
        let stations = (1..=groups).map(|group| stations(group)[place]).collect();
        let (id, key) = (ExerciseId(id), key(&format!("exercise-{id}")));
        let (name, spot, movement) = (Words::same(name), SpotRule::None, Movement::Other);
        let (from_the_floor, handle, about) = (false, None, Arc::default());
        (
            id,
            Exercise {
                id,
                key,
                name,
                gear,
                stations,
                starts_with,
                spot,
                movement,
                from_the_floor,
                handle,
                about,
            },
        )
    };
    Floor {
        name: "Invented hall".to_owned(),
        zone: "Europe/Berlin".to_owned(),
        emergency: Emergency {
            number: "112".to_owned(),
            address: "1 Invented Street".to_owned(),
            defibrillator: "by the door".to_owned(),
            first_aid: "behind the desk".to_owned(),
        },
        settings: Settings::default(),
        hours: Hours::default(),
        stations: (1..=groups).flat_map(pair).chain([station(StationId(1), Gear::Plain)]).collect(),
        coaches: BTreeMap::from([(COACH, Coach { key: key("coach-1"), shift: None })]),
        exercises: BTreeMap::from([
            exercise(1, "Bench press", GearKind::Bar, StartsWith::Eccentric),
            exercise(2, "Cable row", GearKind::Stack, StartsWith::Concentric),
        ]),
        ..Floor::unknown()
    }
}

/// The evening number `evening`: its groups have numbers of their own, its clients and stations are the same.
pub(crate) fn programme(groups: u16, evening: u32) -> Programme {
    let plan = |group| {
        let clients = clients(group);
        let blocks = vec![block(clients, 4), block(clients, 3)];
        GroupPlan { coach: COACH, clients: clients.into(), blocks, starts: None, ends: None }
    };
    let number = |group| GroupId(evening * u32::from(groups) + u32::from(group));
    Programme {
        day: None,
        clients: (1..=groups)
            .flat_map(clients)
            .map(|client| (client, Client { show_load: true, regular: true, ..Client::default() }))
            .collect(),
        groups: (1..=groups).map(|group| (number(group), plan(group))).collect(),
    }
}

fn block(clients: [ClientId; 2], rounds: u8) -> Block {
    let leg = |exercise, kg: i64| {
        let load = Some(Mass::from_grams(kg * 1_000));
        let sets = clients.map(|client| {
            (client, Prescription::plain("2-0-2-0".parse().expect("a tempo"), 4, Work::reps(10), load))
        });
        Leg { exercise: ExerciseId(exercise), in_place: false, per_side: false, sets: sets.into() }
    };
    Block {
        legs: vec![leg(1, 60), leg(2, 50)],
        rounds,
        rest_min: Secs(60),
        rest_max: Secs(120),
        changeover: Secs(30),
    }
}

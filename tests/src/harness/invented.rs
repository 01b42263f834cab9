//! An invented floor: two groups that want the same bench and row.

use std::collections::BTreeMap;
use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, Key, StationId};
use turnabout_protocol::units::Secs;
use turnabout_protocol::view::{Emergency, StartsWith};
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{
    Client, Coach, Floor, GroupPlan, Person, Programme, Settings, Sharing, Station,
};
use turnabout_server::floor::hours::Hours;
use turnabout_server::live::Files;
use turnabout_server::loading::gear::Gear;
use turnabout_server::training::block::{Block, Leg, Prescription};
use turnabout_server::training::exercise::{Exercise, SpotRule};
use turnabout_server::training::movement::Movement;

const STATIONS: [(u16, &str, &str); 2] = [(1, "bench-1", "Bench 1"), (2, "row-1", "Row 1")];
const COACHES: [(u16, &str, &str); 2] = [(1, "coach-1", "Ayla"), (2, "coach-2", "Bram")];
const CLIENTS: [(u32, &str); 4] = [(1, "Chidi"), (2, "Dara"), (3, "Edda"), (4, "Farid")];

/// What the invented floor's files say: gear with nothing to set, nothing spotted, two rounds.
pub fn files() -> Files {
    let clients = CLIENTS.map(|(id, name)| (Person::Client(ClientId(id)), name));
    let coaches = COACHES.map(|(id, _, name)| (Person::Coach(CoachId(id)), name));
    let names = clients.into_iter().chain(coaches).map(|(person, name)| (person, name.to_owned()));
    Files { floor: floor(), programme: Some(programme()), names: names.collect() }
}

fn key(text: &str) -> Key {
    text.parse().expect("a key")
}

fn floor() -> Floor {
    let note = |text: &str| text.to_owned();
    let stations = STATIONS.map(|(id, name, shown)| {
        (
            StationId(id),
            Station {
                key: key(name),
                name: note(shown),
                at_cm: [i32::from(id) * 300, 0],
                gear: Gear::Plain,
                sharing: Sharing::Never,
                settings: Vec::new(),
                arms: false,
            },
        )
    });
    let exercise = |(id, _, _): (u16, &str, &str), name: &str, starts_with| {
        let id = ExerciseId(id);
        let exercise = Exercise {
            id,
            key: key(&format!("exercise-{id}")),
            name: Words::same(name),
            gear: GearKind::Plain,
            stations: STATIONS.map(|(id, _, _)| StationId(id)).into(),
            starts_with,
            spot: SpotRule::None,
            movement: Movement::Other,
            from_the_floor: false,
            handle: None,
            about: Arc::default(),
        };
        (id, exercise)
    };
    Floor {
        name: note("Invented hall"),
        zone: note("Europe/Berlin"),
        emergency: Emergency {
            number: note("112"),
            address: note("1 Invented Street"),
            defibrillator: note("by the door"),
            first_aid: note("behind the desk"),
        },
        settings: Settings::default(),
        hours: Hours::default(),
        stations: stations.into(),
        coaches: COACHES.map(|(id, name, _)| (CoachId(id), Coach { key: key(name), shift: None })).into(),
        exercises: BTreeMap::from([
            exercise(STATIONS[0], "Press-up", StartsWith::Eccentric),
            exercise(STATIONS[1], "Body row", StartsWith::Concentric),
        ]),
        ..Floor::unknown()
    }
}

fn programme() -> Programme {
    let group = |coach, clients: [u32; 2]| GroupPlan {
        coach: CoachId(coach),
        clients: clients.map(ClientId).into(),
        blocks: vec![block(clients)],
        starts: None,
        ends: None,
    };
    Programme {
        day: None,
        clients: CLIENTS
            .map(|(id, _)| (ClientId(id), Client { show_load: true, regular: true, ..Client::default() }))
            .into(),
        groups: BTreeMap::from([(GroupId(1), group(1, [1, 2])), (GroupId(2), group(2, [3, 4]))]),
    }
}

fn block(clients: [u32; 2]) -> Block {
    let sets = clients.map(|id| {
        (ClientId(id), Prescription::plain("2-0-2-0".parse().expect("a tempo"), 3, Work::reps(10), None))
    });
    let leg = |exercise| Leg {
        exercise: ExerciseId(exercise),
        in_place: false,
        per_side: false,
        sets: sets.clone().into(),
    };
    Block {
        legs: vec![leg(1), leg(2)],
        rounds: 2,
        rest_min: Secs(60),
        rest_max: Secs(90),
        changeover: Secs(30),
    }
}

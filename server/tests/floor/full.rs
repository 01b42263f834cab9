//! The largest floor that one coach is meant to have still fits the frames that displays accept.
//!
//! Twelve groups of four, all of one coach: thirty stations, each with two settings; sessions of three blocks of
//! six exercises; every name as long as a name may be. It is far above what anybody coaches (common practice, no
//! source: two to four groups), so that a page of a real evening stays far below the limit.

use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, CallKind, NoteAbout};
use turnabout_protocol::frame::{Revision, ToDisplay, limits};
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, NoteId, StationId, TurnId};
use turnabout_protocol::next::{Change, CoachSaid, NextReason, PerMille, Proposal, Rule, SetTo};
use turnabout_protocol::units::{FloorMs, Mass, MassUnit, Secs};
use turnabout_protocol::view::{
    AdmissionPart, CoachView, LongerPart, ProposalPart, StartsWith, TooLargePart, TurnPhase, View,
};
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::limits::NAME;
use turnabout_server::floor::config::{
    Client, Floor, GroupPlan, Names, Notes, Person, Programme, Setting, Sharing, Station,
};
use turnabout_server::floor::outlook::admission::limits as admission_limits;
use turnabout_server::floor::planned;
use turnabout_server::floor::views::{Context, MOST_LONGER, MOST_PROPOSALS, Watch, view};
use turnabout_server::training::block::{Block, Leg, Prescription, limits::LEGS};
use turnabout_server::training::exercise::{Exercise, SpotRule};
use turnabout_server::training::movement::Movement;

use crate::world::*;

const GROUPS: u32 = 12;
const STATIONS: u16 = 30;
const BLOCKS: usize = 3;
/// Exercises of each of the two movements: more than a page names as others.
const OF_A_MOVEMENT: u16 = 15;
/// The first exercises of a group's block are done at its bar, the others at its stack.
const AT_THE_BAR: u8 = 3;

/// A name as long as one may be.
fn long(text: &str) -> String {
    format!("{text:\u{b7}<NAME$}")
}

/// Odd stations have a bar, even ones a stack.
fn station(id: u16) -> (StationId, Station) {
    let like = |of: StationId| floor().stations[&of].gear.clone();
    let setting =
        |name: &str| Setting { name: long(name), values: (1..=20).map(|n| n.to_string()).collect() };
    let station = Station {
        key: key(&format!("station-{id}")),
        name: long(&format!("Station {id}")),
        at_cm: [i32::from(id) * 200, 0],
        gear: if id % 2 == 1 { like(BENCH) } else { like(ROW) },
        sharing: Sharing::Never,
        settings: vec![setting("Seat"), setting("Hooks")],
        arms: true,
    };
    (StationId(id), station)
}

fn exercise(id: u16) -> (ExerciseId, Exercise) {
    let bar = id <= OF_A_MOVEMENT;
    let exercise = Exercise {
        id: ExerciseId(id),
        key: key(&format!("exercise-{id}")),
        name: Words { en: long(&format!("Exercise {id}")), de: long(&format!("Übung {id}")) },
        gear: if bar { GearKind::Bar } else { GearKind::Stack },
        stations: (1..=STATIONS).filter(|at| (at % 2 == 1) == bar).map(StationId).collect(),
        starts_with: StartsWith::Concentric,
        spot: if bar { SpotRule::OverFace } else { SpotRule::None },
        movement: if bar { Movement::HorizontalPress } else { Movement::HorizontalPull },
        from_the_floor: false,
        handle: None,
        about: Arc::default(),
    };
    (ExerciseId(id), exercise)
}

fn full_floor() -> Floor {
    let mut floor = floor();
    floor.name = long("Floor");
    floor.policy.arms_accepted = true;
    floor.stations = (1..=STATIONS).map(station).collect();
    floor.exercises = (1..=2 * OF_A_MOVEMENT).map(exercise).collect();
    floor
}

fn clients(group: u32) -> Vec<ClientId> {
    (0..4).map(|n| ClientId(group * 10 + n)).collect()
}

fn full_programme() -> Programme {
    let leg = |group: u32, place: u8| Leg {
        exercise: ExerciseId(u16::from(place) + 1 + if place < AT_THE_BAR { 0 } else { OF_A_MOVEMENT }),
        in_place: !place.is_multiple_of(AT_THE_BAR),
        per_side: true,
        sets: clients(group)
            .into_iter()
            .map(|client| {
                let work = Work::Reps { least: 8, most: 12 };
                (client, Prescription::plain("3-1-2-1".parse().unwrap(), 4, work, Some(kg(60))))
            })
            .collect(),
    };
    let block = |group| Block {
        legs: (0..u8::try_from(LEGS).unwrap()).map(|place| leg(group, place)).collect(),
        rounds: 3,
        rest_min: Secs(60),
        rest_max: Secs(120),
        changeover: Secs(20),
    };
    let plan = |group| GroupPlan {
        coach: AYLA,
        clients: clients(group),
        blocks: vec![block(group); BLOCKS],
        starts: None,
        ends: None,
    };
    let everybody = (1..=GROUPS).flat_map(clients);
    let client = Client { show_load: true, regular: true, ..Client::default() };
    Programme {
        day: None,
        clients: everybody.map(|id| (id, client.clone())).collect(),
        groups: (1..=GROUPS).map(|group| (GroupId(group), plan(group))).collect(),
    }
}

fn full_names() -> Names {
    let coaches = [AYLA, BRAM].map(|id| (Person::Coach(id), long(&format!("Coach {id}"))));
    let clients =
        (1..=GROUPS).flat_map(clients).map(|id| (Person::Client(id), long(&format!("Client {id}"))));
    coaches.into_iter().chain(clients).collect()
}

/// The stations of a group's block: its bar, and its stack.
fn at(group: u32) -> [StationId; 2] {
    let bar = StationId(u16::try_from(2 * group - 1).unwrap());
    [bar, StationId(bar.0 + 1)]
}

fn set(group: u32, client: u32, leg: u8) -> TurnId {
    turn(GroupId(group), ClientId(group * 10 + client), 0, leg)
}

/// Everybody is there, with settings kept, and does another exercise in the set that will be shown.
fn prepare(world: &mut World, group: u32) {
    let id = GroupId(group);
    let by = coach(AYLA);
    world.accept(&by, Act::Arrive { group: id, clients: clients(group) });
    let [bar, stack] = at(group);
    let legs = (0..u8::try_from(LEGS).unwrap()).map(|leg| if leg < AT_THE_BAR { bar } else { stack });
    world.claim(AYLA, id, &legs.collect::<Vec<_>>());
    for (client, n) in clients(group).into_iter().zip(0..) {
        for station in at(group) {
            for setting in 0..2 {
                world.accept(&by, Act::SetSetting { station, client, setting, value: 10 + n });
            }
        }
        let leg = if n == 3 { AT_THE_BAR - 1 } else { AT_THE_BAR };
        let exercise = ExerciseId(OF_A_MOVEMENT * if n == 3 { 1 } else { 2 });
        let revision = world.state.groups[&id].revision;
        let load = Some(kilos(60));
        world.accept(
            &by,
            Act::SwapExercise { group: id, client, leg, exercise, station: None, load, sure: true, revision },
        );
    }
}

fn go(world: &mut World, turn: TurnId) {
    if turn.leg < AT_THE_BAR {
        world.accept(&coach(AYLA), Act::UseArms { turn });
    }
    world.begin(AYLA, turn);
}

/// The same set in every group at once.
fn in_every_group(world: &mut World, client: u32, leg: u8) {
    let sets: Vec<TurnId> = (1..=GROUPS).map(|group| set(group, client, leg)).collect();
    for turn in &sets {
        go(world, *turn);
    }
    let ends = world.current(sets[0]).ends;
    world.pass_to(ends);
    for turn in sets {
        world.accept(&coach(AYLA), Act::Done { turn, reps: None, effort: None, ending: None });
        world.accept(&coach(AYLA), Act::PassTechnique { turn });
    }
}

/// A set under way at every bar and every stack that has been reserved, everybody has done some; a call from
/// every station, help needed somewhere, every group offered to another coach, and as many notes as are listed.
fn full_world() -> World {
    let mut world = World::other(|floor, programme| (*floor, *programme) = (full_floor(), full_programme()));
    for group in 1..=GROUPS {
        prepare(&mut world, group);
    }
    for (client, legs) in [(0, 3), (1, 3), (2, 3), (3, 2)] {
        for leg in 0..legs {
            in_every_group(&mut world, client, leg);
        }
    }
    for group in 1..=GROUPS {
        go(&mut world, set(group, 0, 3));
        go(&mut world, set(group, 3, 2));
    }
    for station in (1..=STATIONS).map(StationId) {
        let call = if station.0 == 1 { CallKind::HelpNow } else { CallKind::CoachPlease };
        world.accept(&kiosk(&[station]), Act::Call { station, call });
    }
    let groups = (1..=GROUPS).map(GroupId).collect();
    world.accept(&coach(AYLA), Act::HandOver { groups, from: AYLA, to: BRAM });
    for n in 0..20 {
        let note = NoteAbout::Set { turn: set(1 + n % GROUPS, 0, 0) };
        world.accept(&coach(AYLA), Act::Note { note, text: "n".repeat(500) });
    }
    world
}

fn shown(world: &World, watch: &Watch) -> View {
    let notes: Notes = (1..=20).map(|n| (NoteId(n), "n".repeat(500))).collect();
    let names = full_names();
    let context = Context { names: &names, notes: &notes, zone_offset: 3_600, plan: &planned::NOTHING };
    let mut view = view(&world.state, &context, watch).unwrap();
    match &mut view {
        View::Coach(coach) => {
            let me = coach.me;
            let own = coach.groups.iter_mut().filter(|group| group.coach == me);
            for (n, group) in own.enumerate() {
                group.too_large = Some(too_large());
                if n < admission_limits::GROUPS {
                    group.admissions = vec![admission(); admission_limits::EACH];
                }
            }
            let own = coach.groups.iter_mut().filter(|group| group.coach == me);
            for client in own.flat_map(|group| &mut group.clients) {
                client.proposals = vec![proposed(); MOST_PROPOSALS];
            }
        }
        View::Station(station) => {
            for turn in station.stations.iter_mut().filter_map(|station| station.turn.as_mut()) {
                turn.proposal = Some(proposed());
            }
        }
        View::Board(_) => {}
    }
    view
}

/// The longest there is, as everybody has it who has done a working set of each exercise.
fn proposed() -> ProposalPart {
    let (least, most) = (99, 100);
    let work = Work::Reps { least, most };
    ProposalPart {
        turn: set(GROUPS, 3, AT_THE_BAR),
        exercise: Words { en: long("Exercise"), de: long("\u{dc}bung") },
        unit: MassUnit::Lb,
        proposal: Proposal {
            set: SetTo::Mass { load: Mass::MAX },
            work,
            change: Change::MoreReps,
            reason: NextReason::StepTooBig { above: Mass::MAX, share: PerMille(1_000) },
            rule: Rule::DerivedTable,
        },
        load: Some(Mass::MAX.into()),
        work,
        easier: Some(Mass::MAX.into()),
        harder: Some(Mass::MAX.into()),
        said: Some(CoachSaid::Easier { steps: 10 }),
    }
}

/// A group of four that is parted.
fn too_large() -> TooLargePart {
    let clients = |n: u32| vec![ClientId(GROUPS * 10 + n), ClientId(GROUPS * 10 + n + 1)];
    TooLargePart { overrun: Secs(9_999), split: Some([clients(0), clients(2)]) }
}

/// Stations that can be taken, at a price for more groups than are named.
fn admission() -> AdmissionPart {
    let stations: Vec<StationId> = (0..LEGS).map(|_| StationId(STATIONS)).collect();
    let (group, revision) = (GroupId(GROUPS), 1_000);
    AdmissionPart {
        stations: stations.clone(),
        from: FloorMs(100_000_000),
        works_in: Some(group),
        longer: vec![LongerPart { group, by: Secs(9_999) }; MOST_LONGER],
        others: u8::MAX,
        overrun: Secs(9_999),
        act: Some(Act::TakeStations { group, block: 0, stations, revision, despite: None }),
    }
}

/// The bytes of a topic's frame.
fn bytes(world: &World, topic: &str, watch: &Watch) -> usize {
    let revision = Revision { epoch: uuid::Uuid::nil(), sequence: 1_000_000, plan: 0 };
    let view = shown(world, watch);
    let frame = ToDisplay::View { topic: topic.parse().unwrap(), revision, as_of: world.now, view };
    serde_json::to_string(&frame).unwrap().len()
}

#[test]
fn the_views_of_a_full_floor_fit_their_frames() {
    let world = full_world();
    let four = (1..=4).map(StationId).collect();
    for (topic, watch) in [
        ("station/station-1,station-2,station-3,station-4", Watch::Station(four)),
        ("board", Watch::Board),
        ("coach/coach-1", Watch::Coach(AYLA)),
        ("coach/coach-2", Watch::Coach(BRAM)),
    ] {
        let bytes = bytes(&world, topic, &watch);
        println!("{topic}: {bytes} bytes");
        assert!(bytes <= limits::FRAME_TO_DISPLAY, "{topic}: {bytes} bytes");
    }
}

#[test]
fn the_full_floor_is_full() {
    let View::Coach(CoachView { groups, calls, exercises, places, notes, .. }) =
        shown(&full_world(), &Watch::Coach(AYLA))
    else {
        panic!("a coach's page")
    };
    assert_eq!((groups.len(), calls.len(), notes.len()), (12, 30, 10));
    // All but the one exercise that everybody does already could be done, eight of them are named for each.
    assert!(groups.iter().all(|group| group.choices.iter().all(|leg| leg.exercises.len() == 8)));
    // Nobody is sent to the one station where somebody needs help.
    assert!(exercises.len() >= 16 && places.len() == 29, "{} {}", exercises.len(), places.len());
    let clients: Vec<_> = groups.iter().flat_map(|group| &group.clients).collect();
    let turns: Vec<_> = clients.iter().filter_map(|client| client.turn.as_ref()).collect();
    assert!(turns.iter().all(|turn| turn.settings.len() == 2 && turn.load.is_some() && turn.then.is_some()));
    let under_way = turns.iter().filter(|turn| matches!(turn.phase, TurnPhase::UnderWay { .. })).count();
    assert_eq!((clients.len(), turns.len(), under_way), (48, 48, 24));
    assert!(clients.iter().all(|client| client.last.is_some() && client.in_place_of.is_some()));
}

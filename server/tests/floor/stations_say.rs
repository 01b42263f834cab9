//! What a station says beside whose set it is: until when it is free, who goes where, who does what, what comes next
//! time.

use turnabout_protocol::command::{Act, Spotter};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::units::{FloorMs, Mass, MassUnit, Secs};
use turnabout_protocol::view::{
    Breathing, ClockPart, FreePart, JobsPart, LeavingPart, StationPart, StationView, View,
};
use turnabout_protocol::words::Words;
use turnabout_server::floor::config::Notes;
use turnabout_server::floor::hours::{Hours, Window};
use turnabout_server::floor::local_time::{Minute, Weekday};
use turnabout_server::floor::outlook::admission::Admission;
use turnabout_server::floor::planned::{NOTHING, Planned};
use turnabout_server::floor::views::{Context, Watch, view};

use crate::world::*;

fn at(world: &World, plan: &Planned, id: StationId) -> StationView {
    let context = Context { names: &names(), notes: &Notes::new(), zone_offset: 0, plan };
    let Some(View::Station(view)) = view(&world.state, &context, &Watch::Station(vec![id])) else {
        panic!("a station's view")
    };
    view
}

fn part(world: &World, id: StationId) -> StationPart {
    at(world, &NOTHING, id).stations.remove(0)
}

fn done(world: &mut World, set: turnabout_protocol::ids::TurnId) {
    let ends = world.current(set).ends;
    world.pass_to(ends);
    world.accept(&coach(AYLA), Act::Done { turn: set, reps: None, effort: None, ending: None });
}

/// The best way for a group without stations, from then on, and a second that is no promise of anything.
fn proposed(from: FloorMs, best: [StationId; 2], other: [StationId; 2]) -> Planned {
    let way = |stations: [StationId; 2]| Admission {
        group: LATER,
        block: 0,
        stations: stations.to_vec(),
        from,
        works_in: None,
        longer: Vec::new(),
        own_overrun: Secs(0),
    };
    Planned { admissions: vec![way(best), way(other)], ..Planned::default() }
}

#[test]
fn a_free_station_says_until_when_it_is_for_everyone_and_who_comes_then() {
    let world = World::with_pair_on();
    let free = |plan: &Planned, id| at(&world, plan, id).stations.remove(0).free;
    assert_eq!(free(&NOTHING, BENCH_2), Some(FreePart::default()), "nothing is planned there");
    assert_eq!(free(&NOTHING, BENCH), None, "it is not free");
    // To the whole minute: a plan moves by seconds.
    let plan = proposed(FloorMs(5 * 60_000 + 17_400), [BENCH_2, ROW_2], [BENCH, ROW]);
    let then = Some(FreePart { until: Some(FloorMs(5 * 60_000)), then: Some("Greta".to_owned()) });
    assert_eq!((free(&plan, BENCH_2), free(&plan, ROW_2)), (then.clone(), then));
    let other = proposed(FloorMs(300_000), [BENCH, ROW], [BENCH_2, ROW_2]);
    assert_eq!(free(&other, BENCH_2), Some(FreePart::default()), "what could be done instead is not planned");
}

#[test]
fn a_free_station_and_the_board_say_when_the_floor_closes() {
    let window = Window::new(Minute::START, Minute::new(60).unwrap()).unwrap();
    // Floor time begins at 1970-01-01T00:00:00Z here, a Thursday, at floors without a clock of their own.
    let world = World::other_with_all(|floor, _| {
        floor.hours = Hours::new([(Weekday::Thursday, vec![window])].into());
    });
    let closes = FloorMs(3_600_000 - i64::from(world.state.clock.offset_secs) * 1_000);
    assert_eq!(at(&world, &NOTHING, BENCH).clock, ClockPart { floor: FloorMs(0), utc_ms: 0 });
    assert_eq!(part(&world, BENCH).free, Some(FreePart { until: Some(closes), then: None }));
    let View::Board(board) = world.view(&Watch::Board) else { panic!("the board") };
    assert_eq!(board.closes, Some(closes));
    // Whoever comes before that is said; whoever would come later is not.
    let free =
        |from| at(&world, &proposed(from, [BENCH, ROW], [BENCH_2, ROW_2]), BENCH).stations.remove(0).free;
    assert_eq!(free(FloorMs(600_000)).unwrap().then.as_deref(), Some("Greta"));
    assert_eq!(free(FloorMs(closes.0 + 60_000)), Some(FreePart { until: Some(closes), then: None }));
}

#[test]
fn the_station_that_is_left_says_where_its_client_goes_and_who_is_still_there() {
    let mut world = World::with_pair_on();
    for client in [DARA, EDDA] {
        world.whole_set(AYLA, turn(PAIR, client, 0, 0));
        world.whole_set(AYLA, turn(PAIR, client, 0, 1));
    }
    let press = turn(PAIR, DARA, 1, 0);
    world.begin(AYLA, press);
    assert_eq!(part(&world, BENCH).leaving, None, "nobody is on the way");
    done(&mut world, press);
    let ended = world.now;
    let limit = ended + Secs(20);
    let to_row = LeavingPart {
        client: "Dara".to_owned(),
        to: "Row 1".to_owned(),
        exercise: Words::same("Cable row"),
        limit,
        held_by: None,
    };
    assert_eq!(part(&world, BENCH).leaving, Some(to_row));
    assert_eq!(part(&world, ROW).leaving, None, "whoever comes is that station's own turn");
    world.begin(AYLA, turn(PAIR, DARA, 1, 1));
    assert_eq!(part(&world, BENCH).leaving, None, "the way is over");
    // Edda is through at the bench while Dara is still on the row.
    let second = turn(PAIR, EDDA, 1, 0);
    world.begin(AYLA, second);
    let ends = world.current(second).ends;
    // Nobody says that Dara is done.
    world.pass_to(ends);
    world.accept(&coach(AYLA), Act::Done { turn: second, reps: None, effort: None, ending: None });
    let leaving = part(&world, BENCH).leaving.unwrap();
    assert_eq!((leaving.client.as_str(), leaving.held_by.as_deref()), ("Edda", Some("Dara")));
}

#[test]
fn whoever_rests_can_load_and_no_one_else_is_named() {
    let mut world = World::with_pair_on();
    let jobs = |world: &World| part(world, BENCH).jobs;
    let loads = |name: &str, spots: Option<&str>| {
        Some(JobsPart { spots: spots.map(ToOwned::to_owned), loads: name.to_owned() })
    };
    // Dara is first, nothing is on the bar as far as anybody knows.
    assert_eq!(jobs(&world), loads("Edda", None));
    let first = turn(PAIR, DARA, 0, 0);
    world.accept(&coach(AYLA), Act::Spot { turn: first, lift_off: false });
    assert_eq!(jobs(&world), loads("Edda", Some("Ayla")));
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: first });
    assert_eq!(jobs(&world), None, "the load is on");
    world.accept(&coach(AYLA), Act::Go { turn: first });
    assert_eq!(jobs(&world), None, "nobody loads under a lifter");
    // A partner who spots does not load.
    let mut world = World::with_pair_on();
    for client in [DARA, EDDA] {
        world.whole_set(AYLA, turn(PAIR, client, 0, 0));
        world.whole_set(AYLA, turn(PAIR, client, 0, 1));
    }
    let press = turn(PAIR, DARA, 1, 0);
    world.accept(&coach(AYLA), Act::PassSpotter { group: PAIR, client: EDDA, exercise: exercise_of(&world) });
    world.accept(&kiosk(&[BENCH]), Act::SpotBy { turn: press, client: EDDA });
    let at_bar = world.client(PAIR, DARA).spotter.unwrap().who;
    assert_eq!(at_bar, Spotter::Client { client: EDDA });
    assert_eq!(jobs(&world), None, "there is nobody else");
    // Of a group of one nobody can.
    let mut alone = World::new();
    alone.claim(BRAM, SINGLE, &[BENCH, ROW]);
    assert_eq!(jobs(&alone), None);
}

fn exercise_of(world: &World) -> turnabout_protocol::ids::ExerciseId {
    *world.state.floor.exercises.keys().next().unwrap()
}

#[test]
fn a_pacer_has_the_words_of_the_exercise() {
    let world = World::with_pair_on();
    let cues = part(&world, BENCH).turn.unwrap().cues.unwrap();
    // The exercises of this floor are defined without any: there the general words do.
    assert_eq!((cues.phases, cues.breathing), (None, Breathing::OutWithEffort));
    let View::Board(board) = world.view(&Watch::Board) else { panic!("the board") };
    assert!(board.groups[0].clients[0].turn.as_ref().unwrap().cues.is_none(), "a wall counts for nobody");
}

#[test]
fn once_the_sets_are_done_the_station_says_whose_they_were_and_what_comes_next_time() {
    let mut world = World::with_pair_on();
    for round in 0..=2 {
        for client in [DARA, EDDA] {
            for leg in 0..=1 {
                let set = turn(PAIR, client, round, leg);
                if round > 0 {
                    world.pass(130);
                }
                world.whole_set(AYLA, set);
            }
        }
        let early = part(&world, BENCH).finished;
        assert_eq!(early.is_some(), round == 2, "not before the last set");
    }
    let finished = part(&world, BENCH).finished.unwrap();
    assert_eq!(finished.clients, ["Dara", "Edda"]);
    // Edda asked not to show her loads.
    let next: Vec<_> = finished.next_time.iter().map(|next| (next.client.as_str(), next.unit)).collect();
    assert_eq!(next, [("Dara", MassUnit::Kg)]);
    assert!(finished.next_time[0].load.mass().unwrap() > Mass::ZERO);
    assert_eq!(
        finished.next_time[0].exercise,
        Words::same("Bench press"),
        "what is done here, and nothing else"
    );
}

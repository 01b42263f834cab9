//! What an invented person does first about what a display shows, whatever chance says.

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::{CoachId, StationId};
use turnabout_protocol::units::FloorMs;
use turnabout_server::demo::dice::Dice;
use turnabout_server::demo::person::Person;
use turnabout_server::demo::script::Script;
use turnabout_server::floor::views::Watch;

use crate::world::*;

/// How many people meet each situation.
const PEOPLE: u64 = 100;

/// The first tap of somebody who has just looked up, and how many seconds later it is.
fn first_tap(mut person: Person, world: &World, watch: &Watch) -> Option<(Act, i64)> {
    person.see(world.view(watch), world.now);
    let mut now = world.now;
    for _ in 0..10 {
        now = now.max(person.next()?);
        if let Some(act) = person.act(now) {
            return Some((act, now.since(world.now).floor_secs()));
        }
    }
    panic!("asked ten times, and no tap");
}

fn clients_tap(world: &World, station: StationId) -> Vec<Option<(Act, i64)>> {
    let tap = |seed| {
        first_tap(Person::clients(Dice::new(seed), Script::none()), world, &Watch::Station(vec![station]))
    };
    (0..PEOPLE).map(tap).collect()
}

/// Everybody who plays this coach does this first, so many seconds later.
#[track_caller]
fn coach_taps(world: &World, coach: CoachId, expect: &Act, (least, most): (i64, i64)) {
    for seed in 0..PEOPLE {
        let tap = first_tap(Person::coach(Dice::new(seed), Script::none()), world, &Watch::Coach(coach));
        let (act, after) = tap.unwrap_or_else(|| panic!("seed {seed}: nothing instead of {expect:?}"));
        assert_eq!(act, *expect, "seed {seed}");
        assert!((least..=most).contains(&after), "seed {seed}: {act:?} after {after} s");
    }
}

#[track_caller]
fn all_tap(taps: Vec<Option<(Act, i64)>>, expect: &Act, (least, most): (i64, i64)) {
    for (act, after) in taps.into_iter().map(|tap| tap.expect("there is something to do")) {
        assert_eq!(act, *expect);
        assert!((least..=most).contains(&after), "{act:?} after {after} s");
    }
}

#[test]
fn clients_load_first_and_leave_go_at_a_spotted_bar_to_the_spotter() {
    let mut world = World::with_pair_on();
    let first = turn(PAIR, DARA, 0, 0);
    all_tap(clients_tap(&world, BENCH), &Act::ConfirmLoad { turn: first }, (12, 30));
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: first });
    world.accept(&coach(AYLA), Act::Spot { turn: first, lift_off: false });
    assert!(clients_tap(&world, BENCH).iter().all(Option::is_none));
}

#[test]
fn clients_walk_over_and_say_go_at_the_second_exercise() {
    let mut world = World::with_pair_on();
    world.whole_set(AYLA, turn(PAIR, DARA, 0, 0));
    all_tap(clients_tap(&world, ROW), &Act::Go { turn: turn(PAIR, DARA, 0, 1) }, (6, 12));
}

#[test]
fn clients_say_done_around_the_prescribed_end_and_some_forget() {
    let mut world = World::with_pair_on();
    let set = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, set);
    let lasts = world.current(set).ends.since(world.current(set).starts).floor_secs();
    let begins = world.current(set).starts.since(world.now).floor_secs();
    let taps = clients_tap(&world, BENCH);
    let forgot = taps.iter().filter(|tap| tap.is_none()).count();
    assert!((1..=20).contains(&forgot), "{forgot} of {PEOPLE} forgot");
    for (act, after) in taps.into_iter().flatten() {
        // Nobody is asked how a technique set felt.
        assert_eq!(act, Act::Done { turn: set, reps: None, effort: None, ending: None });
        let window = begins + lasts * 7 / 10..=begins + lasts * 14 / 10 + 5;
        assert!(window.contains(&after), "after {after} s, not in {window:?}");
    }
}

#[test]
fn nobody_goes_on_while_the_group_is_held_but_the_coach_who_resumes_it() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.accept(&coach(BRAM), Act::Pause { group: SINGLE });
    assert!(clients_tap(&world, BENCH).iter().all(Option::is_none));
    // The load may be confirmed before the coach lets them go on; who stands by does that or resumes.
    world.accept(&coach(BRAM), Act::ConfirmLoad { turn: turn(SINGLE, FARID, 0, 0) });
    world.accept(&coach(BRAM), Act::Spot { turn: turn(SINGLE, FARID, 0, 0), lift_off: false });
    coach_taps(&world, BRAM, &Act::Resume { group: SINGLE, client: None }, (40, 80));
}

#[test]
fn a_coach_takes_stations_for_groups_of_ones_own_only() {
    let mut world = World::new();
    let stations = vec![BENCH, ROW];
    let take = Act::TakeStations { group: SINGLE, block: 0, stations, revision: 0, despite: None };
    coach_taps(&world, BRAM, &take, (4, 12));
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 0));
    // Two groups of another coach are waiting, and there is nothing else to do but to wait for the row.
    for seed in 0..PEOPLE {
        let tap = first_tap(Person::coach(Dice::new(seed), Script::none()), &world, &Watch::Coach(BRAM));
        assert!(tap.is_none_or(|(act, _)| !matches!(act, Act::TakeStations { .. })), "seed {seed}");
    }
}

#[test]
fn a_coach_goes_to_the_bar_says_go_and_watches() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    let set = turn(SINGLE, FARID, 0, 0);
    coach_taps(&world, BRAM, &Act::Spot { turn: set, lift_off: false }, (1, 4));
    world.accept(&coach(BRAM), Act::Spot { turn: set, lift_off: false });
    // Nobody loads: after a while the coach sees to it.
    coach_taps(&world, BRAM, &Act::ConfirmLoad { turn: set }, (40, 60));
    world.accept(&coach(BRAM), Act::ConfirmLoad { turn: set });
    coach_taps(&world, BRAM, &Act::Go { turn: set }, (1, 4));
    world.accept(&coach(BRAM), Act::Go { turn: set });
    // Ten seconds of get set, three of count-in, four repetitions of four seconds.
    coach_taps(&world, BRAM, &Act::PassTechnique { turn: set }, (13 + 9, 13 + 14));
    world.pass(13);
    world.accept(&coach(BRAM), Act::PassTechnique { turn: set });
    let done = Act::Done { turn: set, reps: None, effort: None, ending: None };
    coach_taps(&world, BRAM, &done, (16 + 8, 16 + 15));
}

#[test]
fn whoever_spots_sees_nothing_else_and_the_other_coach_comes() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let set = turn(SINGLE, FARID, 0, 0);
    world.begin(BRAM, set);
    world.accept(&kiosk(&[ROW_2]), Act::Call { station: ROW_2, call: CallKind::HelpNow });
    let call = *world.state.calls.keys().next().unwrap();
    // The call is from a station of Bram's group, but Bram has a bar in hand.
    coach_taps(&world, BRAM, &Act::PassTechnique { turn: set }, (13 + 9, 13 + 14));
    coach_taps(&world, AYLA, &Act::Attend { call }, (1, 3));
    world.pass_to(FloorMs(60_000));
    world.accept(&coach(BRAM), Act::Done { turn: set, reps: None, effort: None, ending: None });
    coach_taps(&world, BRAM, &Act::Attend { call }, (1, 3));
}

#[test]
fn the_same_seed_does_the_same() {
    let world = World::with_pair_on();
    assert_eq!(clients_tap(&world, BENCH), clients_tap(&world, BENCH));
}

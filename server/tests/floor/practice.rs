//! What the entries of an evening say of rests and of what was late, beside what a summary on paper says of the same.

use turnabout_protocol::command::Act;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::cli::practice;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::rehearse::measured::late::{What, late};
use turnabout_server::floor::rehearse::measured::measured;
use turnabout_server::floor::state::Promise;

use crate::world::*;

const ROUND_1: [(u8, u8); 4] = [(0, 0), (0, 1), (1, 0), (1, 1)];
const ROUND_2: [(u8, u8); 2] = [(2, 0), (2, 1)];

/// Dara's two rounds, the second begun so many seconds after the shortest rest, with so many seconds more rest on
/// purpose. The block's rests are 60 to 120 s.
fn rested(more: u16, late: i64) -> World {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &ROUND_1);
    if more > 0 {
        world.accept(&coach(AYLA), Act::MoreRest { turn: turn(PAIR, DARA, 2, 0), secs: more });
    }
    world.rest(PAIR, DARA);
    world.pass(late);
    world.sets(AYLA, PAIR, DARA, &ROUND_2);
    world
}

#[test]
fn a_rest_that_was_lengthened_on_purpose_is_too_long_by_what_went_beyond_that() {
    for (more, late, over) in [(0, 60, 0), (0, 75, 15), (90, 90, 0), (90, 102, 12), (30, 75, 15)] {
        let found = measured(&rested(more, late).entries);
        let over = Millis::secs(over);
        assert_eq!((found.overrun, found.worst_overrun), (over, over), "{more} s more, {late} s late");
    }
    let said = practice::told(&rested(90, 102).entries, &floor(), &names(), AYLA);
    assert!(said.ends_with("rests too long by 0:12, the worst by 0:12.\n"), "{said}");
}

/// The entries with a start told to the second before a set, 60 s before it went.
fn told_before(entries: &[Entry], is_it: impl Fn(&Event) -> bool) -> Vec<Entry> {
    let place = entries.iter().position(|entry| is_it(&entry.event)).unwrap();
    let mut all = entries.to_vec();
    let Event::TurnWent { turn, station, .. } = entries[place].event else { panic!("a set begins") };
    let start = FloorMs(entries[place].at.0 - 60_000);
    let (reason, spotter) = (StartReason::Rest, None);
    let made = vec![Promise { turn, station, spotter, start, about: false, reason }];
    let event = Event::Promised { made, taken_back: Vec::new() };
    all.insert(place, Entry { by: Actor::Floor, event, ..entries[place].clone() });
    all
}

#[test]
fn a_ramp_set_is_named_as_one() {
    let mut world = World::other_with_all(|_, programme| {
        let block = &mut programme.groups.get_mut(&PAIR).unwrap().blocks[0];
        block.legs[0].sets.get_mut(&DARA).unwrap().technique.ramp = true;
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &ROUND_1[..2]);
    let light = turn(PAIR, DARA, 0, 0);
    world.rest(PAIR, DARA);
    let before = world.entries.len();
    world.begin(AYLA, light);
    let went = |event: &Event| matches!(event, Event::TurnWent { turn, .. } if *turn == light);
    // The technique set is the first of that name, the ramp set the second.
    for (from, ramp, name) in [(0, false, "technique set"), (before, true, "ramp set")] {
        let at = world.entries[from..].iter().position(|entry| went(&entry.event)).unwrap() + from;
        let sequence = world.entries[at].sequence;
        let entries = told_before(&world.entries, |event| *event == world.entries[at].event);
        let found = late(&entries, AYLA).late;
        let what = found.iter().map(|late| match late.what {
            What::Set { turn, ramp, .. } => (turn, ramp),
            What::Call { .. } => panic!("nobody called"),
        });
        assert_eq!(what.collect::<Vec<_>>(), [(light, ramp)], "entry {sequence}");
        let said = practice::told(&entries, &floor(), &names(), AYLA);
        assert!(said.contains(&format!("Dara at Bench 1, {name}: ")), "{said}");
    }
}

//! What is said while a set is under way, of the set itself or of the one that comes.

use turnabout_protocol::command::{Act, Effort, Reason, SkipScope};
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::Secs;

use crate::world::*;

fn done(turn: TurnId) -> Act {
    Act::Done { turn, reps: None, effort: Some(Effort::Right), ending: None }
}

/// A coach shortens the rest to come while the set before it is still under way.
#[test]
fn what_is_said_of_the_coming_rest_outlives_the_done_tap() {
    let mut world = World::with_pair_on();
    for (leg, round) in [(0, 0), (1, 0), (0, 1)] {
        world.whole_set(AYLA, turn(PAIR, DARA, round, leg));
    }
    let (by, row, next) = (coach(AYLA), turn(PAIR, DARA, 1, 1), turn(PAIR, DARA, 2, 0));
    world.begin(AYLA, row);
    let ends = world.current(row).ends;
    world.pass_to(ends);
    let reason = Reason::ShortOfTime;
    world.accept(&by, Act::LessRest { turn: next, secs: 20, reason });
    world.accept(&by, done(row));
    let cut = world.state.groups[&PAIR].clients[&DARA].rest_cut.map(|cut| cut.least);
    assert_eq!(cut, Some(Secs(20)));
}

/// An exercise that was left out is not the next while the set before it is still under way.
#[test]
fn an_exercise_that_was_left_out_is_not_started_by_going_on() {
    let mut world = World::with_pair_on();
    let (by, press) = (coach(AYLA), turn(PAIR, DARA, 0, 0));
    let (skip, reason) = (SkipScope::Exercise, Reason::Safety);
    world.accept(&by, Act::Skip { turn: press, skip, reason });
    let (light, row) = (turn(PAIR, DARA, 0, 1), turn(PAIR, DARA, 1, 1));
    world.begin(AYLA, light);
    world.pass(60);
    world.refuse(&by, Act::Go { turn: turn(PAIR, DARA, 1, 0) }, Refusal::NotNext { turn: light });
    world.accept(&by, done(light));
    world.accept(&by, Act::PassTechnique { turn: light });
    world.pass(120);
    world.accept(&by, Act::Go { turn: row });
}

/// The coach sees enough before a light set that is done once more is over.
#[test]
fn a_light_set_done_once_more_is_passed_while_it_is_done() {
    let mut world = World::with_pair_on();
    let (by, light) = (coach(AYLA), turn(PAIR, DARA, 0, 0));
    for leg in [0, 1] {
        world.whole_set(AYLA, turn(PAIR, DARA, 0, leg));
    }
    world.accept(&by, Act::TechniqueAgain { turn: turn(PAIR, DARA, 1, 0) });
    world.begin(AYLA, light);
    world.pass(15);
    world.accept(&by, Act::PassTechnique { turn: light });
    world.pass(30);
    world.accept(&by, done(light));
    world.pass(60);
    world.begin(AYLA, turn(PAIR, DARA, 1, 0));
}

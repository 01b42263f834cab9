//! A client's time as a strip: what was done, what goes on, and what is planned.

use turnabout_protocol::command::{Act, Reason};
use turnabout_protocol::ids::{ClientId, TurnId};
use turnabout_protocol::units::Secs;
use turnabout_protocol::view::{RestWindow, RibbonIs, RibbonSet, View};
use turnabout_server::floor::config::Notes;
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::planned::{NOTHING, Planned};
use turnabout_server::floor::planning::Standing;
use turnabout_server::floor::promises::MOVES_BY;
use turnabout_server::floor::ribbon::AHEAD;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::{Context, Watch, view};

use crate::histories::always_the_same;
use crate::world::*;

/// The strips of everybody on the wall, by client.
fn strips(state: &State, plan: &Planned) -> Vec<(ClientId, Vec<RibbonSet>)> {
    let context = Context { names: &names(), notes: &Notes::new(), zone_offset: 0, plan };
    let Some(View::Board(board)) = view(state, &context, &Watch::Board) else { panic!("a board") };
    let clients = board.groups.into_iter().flat_map(|group| group.clients);
    clients.map(|client| (client.client, client.ribbon)).collect()
}

/// Dara's strip with the plan as the floor's task has it now.
fn daras(world: &World, standing: &mut Standing) -> Vec<RibbonSet> {
    let plan = standing.look(&world.state, world.now).unwrap().planned(world.now, Vec::new());
    let strips = strips(&world.state, &plan);
    strips.into_iter().find(|(client, _)| *client == DARA).unwrap().1
}

fn lead(world: &World, turn: TurnId) -> turnabout_protocol::units::Millis {
    InHand::of(&world.state, turn.group).unwrap().lead(turn)
}

#[test]
fn a_strip_has_what_was_done_what_goes_on_and_what_is_planned() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    let strip = daras(&world, &mut standing);
    let legs: Vec<_> = strip.iter().map(|set| (set.round, set.leg, set.is, set.spotted)).collect();
    assert_eq!(legs[..2], [(0, 0, RibbonIs::ToCome, true), (0, 1, RibbonIs::ToCome, true)], "{legs:?}");
    assert!(legs.iter().all(|(.., is, _)| *is == RibbonIs::ToCome));
    assert!(strip.iter().all(|set| set.from <= world.now + AHEAD + lead(&world, turn(PAIR, DARA, 0, 0))));
    let first = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, first);
    let current = world.current(first);
    let strip = daras(&world, &mut standing);
    assert_eq!(
        (strip[0].is, strip[0].from, strip[0].until),
        (RibbonIs::UnderWay, current.starts, current.ends),
        "from the first repetition to the prescribed end"
    );
    assert_eq!((strip[1].is, strip[1].leg), (RibbonIs::ToCome, 1));
    world.pass_to(current.ends);
    world.accept(&coach(AYLA), Act::Done { turn: first, reps: None, effort: None, ending: None });
    let strip = daras(&world, &mut standing);
    assert_eq!((strip[0].is, strip[0].from, strip[0].until), (RibbonIs::Done, current.starts, world.now));
}

#[test]
fn the_rest_before_a_set_has_the_two_ends_that_the_floor_goes_by() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    for round in 0..2 {
        for leg in 0..2 {
            for client in [DARA, EDDA] {
                world.whole_set(AYLA, turn(PAIR, client, round, leg));
            }
        }
    }
    let hand = InHand::of(&world.state, PAIR).unwrap();
    let ended = world.state.groups[&PAIR].clients[&DARA].sets.last().unwrap().done().unwrap().ended;
    let strip = daras(&world, &mut standing);
    let next = strip.iter().find(|set| set.is == RibbonIs::ToCome).unwrap();
    assert_eq!((next.round, next.leg), (2, 0));
    let (rest_min, rest_max) = (hand.block.rest_min, hand.block.rest_max);
    let since = |window: RestWindow| (window.from.since(ended), window.until.since(ended));
    assert_eq!(next.window.map(since), Some((rest_min.millis(), rest_max.millis())));
    // A coach who grants less moves the earlier end.
    world.accept(
        &coach(AYLA),
        Act::LessRest { turn: turn(PAIR, DARA, 2, 0), secs: 30, reason: Reason::ShortOfTime },
    );
    let strip = daras(&world, &mut standing);
    let next = strip.iter().find(|set| set.is == RibbonIs::ToCome).unwrap();
    assert_eq!(next.window.map(since).unwrap().0, Secs(30).millis());
    // Between the exercises of a round there is a way over and no rest.
    let second = strip.iter().find(|set| set.is == RibbonIs::ToCome && set.leg == 1).unwrap();
    assert_eq!(second.window, None);
}

#[test]
fn nobody_who_is_held_has_anything_to_come() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    assert!(!daras(&world, &mut standing).is_empty());
    world.accept(&coach(AYLA), Act::Pause { group: PAIR });
    assert_eq!(daras(&world, &mut standing), []);
}

#[test]
fn along_any_history_a_strip_is_in_order() {
    let (mut coming, mut under_way, mut windows) = (0, 0, 0);
    for entries in always_the_same(30) {
        let (mut state, mut standing) = (State::new(), Standing::default());
        for mut entry in entries {
            entry.sequence = state.sequence + 1;
            let now = entry.recorded;
            standing.note(&entry.event);
            evolve(&mut state, &entry);
            let plan = standing.look(&state, now).unwrap().planned(now, Vec::new());
            for (client, strip) in strips(&state, &plan) {
                assert!(strip.is_sorted_by_key(|set| (set.is, set.from)), "{client}: {strip:?}");
                assert!(strip.iter().all(|set| set.from <= set.until), "{client}: {strip:?}");
                let current = strip.iter().filter(|set| set.is == RibbonIs::UnderWay).count();
                assert!(current <= 1, "{client}: {strip:?}");
                under_way += current;
                for set in strip.iter().filter(|set| set.is == RibbonIs::ToCome) {
                    coming += 1;
                    let Some(window) = set.window else { continue };
                    windows += 1;
                    assert!(window.from <= window.until || set.round == 0, "{client}: {strip:?}");
                    // What is told may be off by less than it moves by.
                    assert!(set.from + MOVES_BY >= window.from, "{client} rests long enough: {strip:?}");
                }
            }
        }
        // Where nobody plans there is nothing to come, and what was done stays.
        let known = strips(&state, &NOTHING);
        assert!(known.iter().flat_map(|(_, strip)| strip).all(|set| set.is != RibbonIs::ToCome));
    }
    assert!(coming > 10_000 && under_way > 500 && windows > 1_000, "{coming} {under_way} {windows}");
}

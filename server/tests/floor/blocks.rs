//! Blocks of every shape, and sessions of several.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, Ending};
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, StationId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::Secs;
use turnabout_protocol::view::{Stage, StartsWith};
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{Floor, Programme, Sharing, Station};
use turnabout_server::loading::gear::Gear;
use turnabout_server::training::block::{Block, Leg, Target};
use turnabout_server::training::exercise::SpotRule;

use crate::world::*;

const MAT: StationId = StationId(5);

/// A mat with a plank, and what happens to the only group's blocks.
fn world(blocks: impl FnOnce(&mut Vec<Block>)) -> World {
    World::other_with_all(|floor, programme| {
        let mut mat: Station = floor.stations[&ROW].clone();
        mat.key = key("mat");
        mat.gear = Gear::Plain;
        mat.sharing = Sharing::Open;
        floor.stations.insert(MAT, mat);
        plank(floor);
        blocks(&mut programme.groups.get_mut(&SINGLE).unwrap().blocks);
        others(programme);
    })
}

fn plank(floor: &mut Floor) {
    let mut plank = floor.exercises[&ExerciseId(2)].clone();
    plank.id = ExerciseId(5);
    plank.key = key("plank");
    plank.gear = GearKind::Plain;
    plank.stations = [MAT].into();
    plank.starts_with = StartsWith::Concentric;
    plank.spot = SpotRule::None;
    floor.exercises.insert(ExerciseId(5), plank);
}

fn others(programme: &mut Programme) {
    programme.groups.get_mut(&LATER).unwrap().blocks[0].legs.truncate(1);
}

fn holds(leg: &Leg, secs: u32, rounds: usize) -> Leg {
    let mut leg = leg.clone();
    leg.exercise = ExerciseId(5);
    for set in leg.sets.values_mut() {
        set.technique.load = None;
        set.rounds = vec![Target { work: Work::Hold { secs: Secs(secs) }, load: None }; rounds];
    }
    leg
}

fn single(block: u8, round: u8, leg: u8) -> TurnId {
    TurnId { group: SINGLE, client: FARID, block, round, leg }
}

/// Every set of the block in hand, in order.
fn all(world: &mut World, group: GroupId, client: ClientId, rounds: u8, legs: u8) {
    for round in 0..=rounds {
        for leg in 0..legs {
            world.sets(BRAM, group, client, &[(round, leg)]);
        }
    }
}

#[test]
fn a_block_has_one_to_six_exercises() {
    for legs in 1..=6_u8 {
        let mut world = world(|blocks| {
            let row = blocks[0].legs[1].clone();
            blocks[0].legs = vec![row; usize::from(legs)];
        });
        let stations: Vec<_> = (0..legs).map(|leg| if leg % 2 == 0 { ROW } else { ROW_2 }).collect();
        world.claim(BRAM, SINGLE, &stations);
        all(&mut world, SINGLE, FARID, 2, legs);
        assert!(world.state.groups[&SINGLE].wipe_down.is_some(), "{legs} exercises");
    }
}

#[test]
fn a_drop_set_strips_in_place_and_is_confirmed_anew() {
    let mut world = world(|blocks| {
        let mut drop = blocks[0].legs[0].clone();
        drop.in_place = true;
        drop.sets
            .values_mut()
            .for_each(|set| set.rounds[0] = Target::plain(set.rounds[0].work, Some(kg(50))));
        blocks[0].legs[1] = drop;
    });
    let take = |stations: &[StationId]| Act::TakeStations {
        group: SINGLE,
        block: 0,
        stations: stations.to_vec(),
        revision: 0,
        despite: None,
    };
    world.refuse(&coach(BRAM), take(&[BENCH, BENCH_2]), Refusal::StationUnfit { station: BENCH_2 });
    world.accept(&coach(BRAM), take(&[BENCH, BENCH]));
    all(&mut world, SINGLE, FARID, 0, 2);
    world.sets(BRAM, SINGLE, FARID, &[(1, 0)]);
    let drop = single(0, 1, 1);
    world.refuse(&coach(BRAM), Act::Go { turn: drop }, Refusal::LoadNotConfirmed);
    world.begin(BRAM, drop);
    assert_eq!(world.current(drop).load, Some(kilos(50)));
    // Both go to another bench together.
    world.pass(60);
    world.done(BRAM, drop);
    let alone = Act::SwapStation { group: SINGLE, leg: 1, to: BENCH_2, revision: world.revision(SINGLE) };
    world.refuse(&coach(BRAM), alone, Refusal::StationUnfit { station: BENCH_2 });
    let both = Act::SwapStation { group: SINGLE, leg: 0, to: BENCH_2, revision: world.revision(SINGLE) };
    world.accept(&coach(BRAM), both);
    assert_eq!(world.state.held_by(SINGLE), [BENCH_2]);
}

#[test]
fn a_pyramid_a_range_a_hold_and_both_sides() {
    let mut world = world(|blocks| {
        let block = &mut blocks[0];
        block.rounds = 3;
        let step = |reps, load| Target::plain(Work::reps(reps), Some(kg(load)));
        for set in block.legs[0].sets.values_mut() {
            set.rounds = vec![step(12, 40), step(8, 50), step(4, 60)];
        }
        for set in block.legs[1].sets.values_mut() {
            set.rounds[0].work = Work::Reps { least: 8, most: 12 };
        }
        let plank = holds(&block.legs[1], 30, 1);
        block.legs.push(plank);
        block.legs[2].per_side = true;
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW, MAT]);
    all(&mut world, SINGLE, FARID, 0, 3);
    for (round, reps, load) in [(1, 12, 40), (2, 8, 50), (3, 4, 60)] {
        let (press, row, plank) = (single(0, round, 0), single(0, round, 1), single(0, round, 2));
        world.rest(SINGLE, FARID);
        world.begin(BRAM, press);
        let now = world.current(press);
        assert_eq!((now.reps, now.load), (reps, Some(kilos(load))));
        // 2-0-2-0 takes four seconds a repetition.
        assert_eq!(now.ends.since(now.starts), secs(i64::from(reps) * 4));
        world.pass_to(now.ends);
        world.done(BRAM, press);
        // In a range planned with its upper end, and met from the lower on.
        world.begin(BRAM, row);
        let now = world.current(row);
        assert_eq!((now.reps, now.ends.since(now.starts)), (12, secs(48)));
        world.pass_to(now.ends);
        let (said, ending) = if round == 1 { (8, Ending::Complete) } else { (7, Ending::Short) };
        world.accept(&coach(BRAM), Act::Done { turn: row, reps: Some(said), effort: None, ending: None });
        assert_eq!(world.state.record(row).unwrap().ending.now(), ending);
        world.begin(BRAM, plank);
        let now = world.current(plank);
        assert_eq!((now.load, now.ends.since(now.starts)), (None, secs(60)), "thirty seconds on each side");
        world.pass_to(now.ends);
        world.done(BRAM, plank);
    }
}

/// Two blocks: press and row, then row and plank.
fn two_blocks() -> World {
    let mut world = world(|blocks| {
        let mut next = blocks[0].clone();
        let plank = holds(&next.legs[1], 20, 1);
        next.legs = vec![next.legs[1].clone(), plank];
        blocks.push(next.clone());
        next.legs.truncate(1);
        blocks.push(next);
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world
}

#[test]
fn the_next_blocks_stations_are_asked_for_in_the_last_round() {
    let mut world = two_blocks();
    let ask = |world: &World| Act::AskStations { group: SINGLE, block: 1, revision: world.revision(SINGLE) };
    let take = |world: &World, stations: &[StationId]| Act::TakeStations {
        group: SINGLE,
        block: 1,
        stations: stations.to_vec(),
        revision: world.revision(SINGLE),
        despite: None,
    };
    all(&mut world, SINGLE, FARID, 1, 2);
    let early = ask(&world);
    world.refuse(&coach(BRAM), early, Refusal::TooEarlyToAsk);
    let early = take(&world, &[ROW, MAT]);
    world.refuse(&coach(BRAM), early, Refusal::TooEarlyToAsk);
    world.sets(BRAM, SINGLE, FARID, &[(2, 0)]);
    // In line it is served at once, with its own row.
    let mut line = world.clone();
    let asked = ask(&line);
    line.accept(&coach(BRAM), asked);
    assert_eq!(line.state.groups[&SINGLE].ahead.as_ref().unwrap().stations, [ROW, MAT]);
    let now = take(&world, &[ROW_2, MAT]);
    world.accept(&coach(BRAM), now.clone());
    world.already(&coach(AYLA), now);
    assert_eq!(world.state.held_by(SINGLE), [BENCH, ROW, ROW_2, MAT]);
    for (world, row) in [(&mut line, ROW), (&mut world, ROW_2)] {
        world.sets(BRAM, SINGLE, FARID, &[(2, 1)]);
        world.accept(&coach(BRAM), Act::FreeStations { group: SINGLE, block: 0, bar: None });
        assert_eq!(world.state.held_by(SINGLE), [row, MAT], "what is shared between the blocks stays");
        assert_eq!(world.next(SINGLE, FARID), Some(single(1, 0, 0)));
        all(world, SINGLE, FARID, 2, 2);
        world.refuse(&coach(BRAM), Act::Go { turn: single(0, 1, 0) }, Refusal::Over);
        // Nobody frees them: they are free by themselves two minutes later.
        world.pass(119);
        assert_eq!(world.state.held_by(SINGLE), [row, MAT]);
        world.pass(1);
        assert!(world.state.held_by(SINGLE).is_empty());
        assert_eq!(world.state.groups[&SINGLE].block, 2);
    }
}

#[test]
fn stations_got_ahead_are_given_back_by_the_coach_or_with_the_group() {
    let mut world = two_blocks();
    all(&mut world, SINGLE, FARID, 1, 2);
    world.sets(BRAM, SINGLE, FARID, &[(2, 0)]);
    let free = |block| Act::FreeStations { group: SINGLE, block, bar: None };
    world.refuse(&coach(BRAM), free(1), Refusal::NotReserved);
    let asked =
        |world: &World| Act::AskStations { group: SINGLE, block: 1, revision: world.revision(SINGLE) };
    let ask = asked(&world);
    world.accept(&coach(BRAM), ask);
    assert_eq!(world.state.held_by(SINGLE), [BENCH, ROW, MAT]);
    for speaker in [kiosk(&[ROW, MAT]), crate::deeds::assistant(BRAM)] {
        world.refuse(&speaker, free(1), Refusal::RoleMayNot);
    }
    // Nobody hears of them for ten minutes and five more.
    let mut silent = world.clone();
    silent.pass(3_600);
    assert!(silent.state.held_by(SINGLE).is_empty() && silent.state.groups[&SINGLE].ahead.is_none());
    // By the same tap as any: those of the block in hand stay, whatever they are for besides.
    world.accept(&coach(AYLA), free(1));
    assert_eq!(world.state.held_by(SINGLE), [BENCH, ROW]);
    world.refuse(&coach(BRAM), free(1), Refusal::NotReserved);
    world.refuse(&coach(BRAM), free(0), Refusal::SetsLeft);
    world.sets(BRAM, SINGLE, FARID, &[(2, 1)]);
    let ask = asked(&world);
    world.accept(&coach(BRAM), ask);
    world.accept(&coach(BRAM), free(1));
    world.accept(&coach(BRAM), free(0));
    assert!(world.state.held_by(SINGLE).is_empty());
    assert_eq!(world.replayed(), world.state);
}

#[test]
fn the_last_block_is_dropped_and_no_other() {
    let mut world = two_blocks();
    all(&mut world, SINGLE, FARID, 1, 2);
    world.sets(BRAM, SINGLE, FARID, &[(2, 0)]);
    let asked = Act::AskStations { group: SINGLE, block: 1, revision: world.revision(SINGLE) };
    world.accept(&coach(BRAM), asked);
    let drop =
        |world: &World, block| Act::DropBlock { group: SINGLE, block, revision: world.revision(SINGLE) };
    for block in [0, 1, 3] {
        let wrong = drop(&world, block);
        world.refuse(&coach(BRAM), wrong, Refusal::BlockBegun);
    }
    let last = drop(&world, 2);
    world.accept(&coach(BRAM), last.clone());
    world.refuse(&coach(BRAM), last, Refusal::StaleRevision { revision: world.revision(SINGLE) });
    assert!(world.state.groups[&SINGLE].ahead.is_some(), "the stations of the block before it stay");
    let last = drop(&world, 1);
    world.accept(&coach(BRAM), last);
    assert_eq!(world.state.held_by(SINGLE), [BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(2, 1)]);
    world.pass(120);
    assert_eq!(world.state.groups[&SINGLE].stage(&world.state.programme.groups[&SINGLE]), Stage::Finished);
}

#[test]
fn rounds_are_fewer_or_more_but_none_that_has_begun_is_taken_away() {
    let mut world = two_blocks();
    let set = |world: &World, block, rounds| Act::SetRounds {
        group: SINGLE,
        block,
        rounds,
        revision: world.revision(SINGLE),
    };
    let none = set(&world, 0, 0);
    world.refuse(&coach(BRAM), none, Refusal::RoundsRange { least: 1, most: 20 });
    let many = set(&world, 0, 21);
    world.refuse(&coach(BRAM), many, Refusal::RoundsRange { least: 1, most: 20 });
    let unknown = set(&world, 3, 2);
    world.refuse(&coach(BRAM), unknown, Refusal::UnknownTurn);
    all(&mut world, SINGLE, FARID, 1, 2);
    let more = set(&world, 0, 3);
    world.accept(&coach(BRAM), more);
    world.sets(BRAM, SINGLE, FARID, &[(2, 0)]);
    let one = set(&world, 0, 1);
    world.refuse(&coach(BRAM), one, Refusal::RoundsRange { least: 2, most: 20 });
    let two = set(&world, 0, 2);
    world.accept(&coach(BRAM), two);
    let next = set(&world, 1, 1);
    world.accept(&coach(BRAM), next);
    world.sets(BRAM, SINGLE, FARID, &[(2, 1)]);
    assert!(world.state.groups[&SINGLE].wipe_down.is_some());
    let again = set(&world, 0, 3);
    world.accept(&coach(BRAM), again);
    assert_eq!(world.state.groups[&SINGLE].wipe_down, None, "and on it goes");
}

//! The wait list: who is served when, and who may go first.

use turnabout_protocol::command::{Act, Reason};
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_server::floor::config::KeptForMembers;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::hours::{Hours, Window};
use turnabout_server::floor::local_time::{Minute, Weekday};

use crate::world::*;

fn ask(world: &World, group: GroupId) -> Act {
    Act::AskStations { group, block: world.state.groups[&group].block, revision: world.revision(group) }
}

fn take(world: &World, group: GroupId, stations: &[StationId], despite: Option<Reason>) -> Act {
    let revision = world.revision(group);
    Act::TakeStations { group, block: 0, stations: stations.to_vec(), revision, despite }
}

fn stations(world: &World, group: GroupId) -> Option<Vec<StationId>> {
    world.state.groups[&group].claim.as_ref().map(|claim| claim.stations.clone())
}

/// Clocks say Thursday 00:00 at floor time 0.
fn hours(from: u16, to: u16) -> Hours {
    let window = Window::new(Minute::new(from).unwrap(), Minute::new(to).unwrap()).unwrap();
    Hours::new([(Weekday::Thursday, vec![window])].into())
}

#[test]
fn stations_are_given_out_in_order_as_soon_as_they_are_free() {
    let mut world = World::with_pair_on();
    world.accept(&coach(BRAM), Act::OtherUse { station: ROW_2, minutes: 5 });
    world.pass(1);
    let (single, later) = (ask(&world, SINGLE), ask(&world, LATER));
    world.accept(&coach(BRAM), single.clone());
    world.accept(&coach(AYLA), later);
    assert_eq!(world.already(&coach(AYLA), single).by, coach(BRAM).actor);
    assert_eq!((world.state.place_in_line(SINGLE), world.state.place_in_line(LATER)), (Some(0), Some(1)));
    // At the end of the other use the first in line gets both, of itself.
    world.pass(300);
    assert_eq!(stations(&world, SINGLE), Some(vec![BENCH_2, ROW_2]));
    assert_eq!(world.state.place_in_line(LATER), Some(0));
    assert_eq!(world.state.groups[&SINGLE].claim.as_ref().unwrap().taken.by, Actor::Floor);
    let withdraw = Act::WithdrawAsk { group: LATER };
    world.accept(&coach(AYLA), withdraw.clone());
    world.refuse(&coach(AYLA), withdraw, Refusal::NotInLine);
}

#[test]
fn a_later_group_goes_first_only_where_no_earlier_one_loses_or_with_a_reason_that_is_kept() {
    let mut world = World::with_pair_on();
    world.accept(&coach(BRAM), Act::OtherUse { station: ROW_2, minutes: 5 });
    let single = ask(&world, SINGLE);
    world.accept(&coach(BRAM), single);
    world.accept(&coach(BRAM), Act::EndOtherUse { station: ROW_2 });
    assert_eq!(stations(&world, SINGLE), Some(vec![BENCH_2, ROW_2]), "given at once");

    let mut world = World::with_pair_on();
    world.accept(
        &coach(BRAM),
        Act::OutOfService { station: ROW, defect: turnabout_protocol::command::Defect::Cable },
    );
    world.accept(&coach(AYLA), Act::SwapStation { group: PAIR, leg: 1, to: ROW_2, revision: 1 });
    let single = ask(&world, SINGLE);
    world.accept(&coach(BRAM), single);
    // The bench that is free is Farid's as soon as a row is: nobody takes it away.
    world.accept(&coach(BRAM), Act::BackInService { station: ROW });
    assert_eq!(stations(&world, SINGLE), Some(vec![BENCH_2, ROW]));
}

#[test]
fn a_reason_is_kept_only_where_it_was_needed() {
    let open = |floor: &mut turnabout_server::floor::config::Floor| {
        floor.stations.get_mut(&ROW).unwrap().sharing = turnabout_server::floor::config::Sharing::Open;
    };
    let mut world = World::other_with_all(|floor, _| open(floor));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.accept(&coach(BRAM), Act::OtherUse { station: ROW_2, minutes: 60 });
    let single = ask(&world, SINGLE);
    world.accept(&coach(BRAM), single);
    let bare = take(&world, LATER, &[BENCH_2, ROW], None);
    world.refuse(&coach(AYLA), bare, Refusal::InLine { first: SINGLE });
    let reason = Some(Reason::ShortOfTime);
    let given = take(&world, LATER, &[BENCH_2, ROW], reason);
    world.accept(&coach(AYLA), given);
    let Event::StationsTaken { despite, .. } = &world.entries.last().unwrap().event else { panic!() };
    assert_eq!(*despite, reason);

    let mut world = World::new();
    let needless = take(&world, LATER, &[BENCH_2, ROW], reason);
    world.accept(&coach(AYLA), needless);
    let Event::StationsTaken { despite, .. } = &world.entries.last().unwrap().event else { panic!() };
    assert_eq!(*despite, None);
}

#[test]
fn a_drop_set_that_waits_needs_one_bench_and_keeps_no_second() {
    // Farid's block is two presses in place and a row; the row is in other use.
    let mut world = World::other_with_all(|_, programme| {
        let block = &mut programme.groups.get_mut(&SINGLE).unwrap().blocks[0];
        let mut drop = block.legs[0].clone();
        drop.in_place = true;
        block.legs.insert(1, drop);
    });
    for row in [ROW, ROW_2] {
        world.accept(&coach(BRAM), Act::OtherUse { station: row, minutes: 60 });
    }
    let single = ask(&world, SINGLE);
    world.accept(&coach(BRAM), single);
    assert_eq!(stations(&world, SINGLE), None);
    world.accept(&coach(BRAM), Act::EndOtherUse { station: ROW });
    assert_eq!(stations(&world, SINGLE), Some(vec![BENCH, BENCH, ROW]));

    // With both benches free and no row at all, one bench may go to somebody who needs no row.
    let mut world = World::other_with_all(|_, programme| {
        let block = &mut programme.groups.get_mut(&SINGLE).unwrap().blocks[0];
        let mut drop = block.legs[0].clone();
        drop.in_place = true;
        block.legs.insert(1, drop);
        programme.groups.get_mut(&LATER).unwrap().blocks[0].legs.truncate(1);
    });
    for row in [ROW, ROW_2] {
        world.accept(&coach(BRAM), Act::OtherUse { station: row, minutes: 60 });
    }
    let single = ask(&world, SINGLE);
    world.accept(&coach(BRAM), single);
    world.claim(AYLA, LATER, &[BENCH]);
    let last = take(&world, PAIR, &[BENCH_2, ROW], None);
    world.refuse(&coach(AYLA), last, Refusal::InOtherUse { station: ROW, until: world.now + secs(3_600) });
}

#[test]
fn who_is_held_back_by_a_rule_and_not_by_stations_holds_nobody_up() {
    // Ayla may have two clients: with the pair on, Greta cannot start, whatever is free.
    for row_is_free in [true, false] {
        let mut world = World::other_with_all(|floor, programme| {
            floor.policy.clients_a_coach = Some(2);
            programme.groups.get_mut(&SINGLE).unwrap().blocks[0].legs.truncate(1);
        });
        world.claim(AYLA, PAIR, &[BENCH, ROW]);
        let refused = take(&world, LATER, &[BENCH_2, ROW_2], None);
        world.refuse(&coach(AYLA), refused, Refusal::ClientsACoach { most: 2 });
        if !row_is_free {
            world.accept(&coach(BRAM), Act::OtherUse { station: ROW_2, minutes: 60 });
        }
        let later = ask(&world, LATER);
        world.accept(&coach(AYLA), later);
        assert_eq!(stations(&world, LATER), None);
        let single = take(&world, SINGLE, &[BENCH_2], None);
        world.accept(&coach(BRAM), single);
    }
}

#[test]
fn the_last_that_a_coach_may_have_goes_to_the_first_who_waits() {
    // Ayla's groups may hold four stations. The pair waits for rows, Greta could start on the second bench
    // and a row, and then the pair could not.
    let mut world = World::other_with_all(|floor, programme| {
        floor.policy.stations_a_coach = Some(2);
        programme.groups.get_mut(&LATER).unwrap().blocks[0].legs.truncate(1);
    });
    for row in [ROW, ROW_2] {
        world.accept(&coach(BRAM), Act::OtherUse { station: row, minutes: 60 });
    }
    let pair = ask(&world, PAIR);
    world.accept(&coach(AYLA), pair);
    let later = take(&world, LATER, &[BENCH], None);
    world.refuse(&coach(AYLA), later, Refusal::InLine { first: PAIR });
    world.accept(&coach(BRAM), Act::EndOtherUse { station: ROW });
    assert_eq!(stations(&world, PAIR), Some(vec![BENCH, ROW]));
}

#[test]
fn a_group_of_whom_nobody_is_there_is_not_served_and_holds_nobody_up() {
    let mut world = World::with_pair_on();
    world.accept(&coach(BRAM), Act::OtherUse { station: ROW_2, minutes: 60 });
    let (single, later) = (ask(&world, SINGLE), ask(&world, LATER));
    world.accept(&coach(BRAM), single);
    world.accept(&coach(AYLA), later);
    world.accept(&coach(BRAM), Act::Leave { group: SINGLE, client: FARID });
    world.accept(&coach(BRAM), Act::EndOtherUse { station: ROW_2 });
    assert_eq!(stations(&world, SINGLE), None, "or a block would be over that nobody began");
    assert_eq!(stations(&world, LATER), Some(vec![BENCH_2, ROW_2]));
    assert_eq!(world.state.place_in_line(SINGLE), Some(0), "who comes back is still first");
}

#[test]
fn a_station_kept_for_members_is_passed_over_for_one_that_is_not() {
    let keep = |stations: &[StationId], keep, to| KeptForMembers {
        stations: stations.iter().copied().collect(),
        keep,
        hours: hours(0, to),
    };
    let mut world = World::other_with_all(|floor, _| floor.policy.members = vec![keep(&[BENCH], 1, 60)]);
    let kept = take(&world, SINGLE, &[BENCH, ROW], None);
    world.refuse(&coach(BRAM), kept, Refusal::KeptForMembers { keep: 1 });
    let single = ask(&world, SINGLE);
    world.accept(&coach(BRAM), single);
    assert_eq!(stations(&world, SINGLE), Some(vec![BENCH_2, ROW]));
    // The next waits until the hour is over, and is served then of itself.
    let later = ask(&world, LATER);
    world.accept(&coach(AYLA), later);
    assert_eq!(stations(&world, LATER), None);
    world.accept(&coach(AYLA), Act::StillHere { group: LATER });
    while world.now.0 < 3_599_000 {
        world.pass(100.min((3_599_000 - world.now.0) / 1_000));
        world.accept(&coach(AYLA), Act::StillHere { group: LATER });
        world.accept(&coach(AYLA), Act::StillHere { group: SINGLE });
        assert_eq!(stations(&world, LATER), None);
    }
    world.pass(1);
    assert_eq!(stations(&world, LATER), Some(vec![BENCH, ROW_2]));

    // Of two benches one stays unreserved: who would take the other takes it from the first who waits.
    let mut world = World::other_with_all(|floor, programme| {
        floor.policy.members = vec![keep(&[BENCH, BENCH_2], 1, 1_440)];
        programme.groups.get_mut(&LATER).unwrap().blocks[0].legs.truncate(1);
    });
    for row in [ROW, ROW_2] {
        world.accept(&coach(BRAM), Act::OtherUse { station: row, minutes: 60 });
    }
    let single = ask(&world, SINGLE);
    world.accept(&coach(BRAM), single);
    let later = take(&world, LATER, &[BENCH_2], None);
    world.refuse(&coach(AYLA), later, Refusal::InLine { first: SINGLE });
}

#[test]
fn handles_are_counted_over_groups_and_nothing_is_reserved_when_closed() {
    let handle = key("v-bar");
    let mut world = World::other_with_all(|floor, _| {
        floor.handles.insert(handle.clone(), 1);
        for exercise in floor.exercises.values_mut().filter(|e| !e.spotted()) {
            exercise.handle = Some(handle.clone());
        }
        floor.hours = hours(0, 30);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let single = take(&world, SINGLE, &[BENCH_2, ROW_2], None);
    world.refuse(&coach(BRAM), single, Refusal::NoHandle { count: 1 });
    world.accept(&coach(AYLA), Act::EndSession { group: PAIR, reason: Reason::ClientAsked });
    world.pass(1_800);
    let single = take(&world, SINGLE, &[BENCH_2, ROW_2], None);
    world.refuse(&coach(BRAM), single, Refusal::Closed);
}

//! Coaches who are away, whose shift is over, and who hand their groups over.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{CoachId, GroupId};
use turnabout_protocol::refusal::Refusal;
use turnabout_server::floor::config::{Coach, Shift};
use turnabout_server::floor::decide::Verdict;
use turnabout_server::floor::local_time::Minute;

use crate::world::*;

const CHIDI: CoachId = CoachId(3);

/// A third coach, with Bram's shift ending at one o'clock.
fn three_coaches() -> World {
    let mut world = World::other_with_all(|floor, _| {
        let at = |minute| Minute::new(minute).unwrap();
        floor.coaches.insert(CHIDI, Coach { key: key("coach-3"), shift: None });
        floor.coaches.get_mut(&BRAM).unwrap().shift = Some(Shift { from: at(0), to: at(60) });
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world
}

fn hand(groups: &[GroupId], from: CoachId, to: CoachId) -> Act {
    Act::HandOver { groups: groups.to_vec(), from, to }
}

#[test]
fn a_coach_is_away_until_a_tap_or_the_time_and_spots_nothing_meanwhile() {
    let mut world = three_coaches();
    let press = turn(PAIR, DARA, 0, 0);
    let away = |minutes| Act::Away { coach: AYLA, minutes };
    let back = Act::Back { coach: AYLA };
    world.refuse(&coach(AYLA), away(121), Refusal::MinutesRange { most: 120 });
    world.refuse(&coach(AYLA), Act::Away { coach: CoachId(9), minutes: 5 }, Refusal::UnknownCoach);
    world.refuse(&coach(AYLA), back.clone(), Refusal::NotAway);
    world.accept(&coach(AYLA), Act::Spot { turn: press, lift_off: false });
    world.accept(&coach(AYLA), away(5));
    assert_eq!(world.client(PAIR, DARA).spotter, None, "at no bar at once");
    let until = world.now + secs(300);
    let spot = Act::Spot { turn: press, lift_off: false };
    world.refuse(&coach(AYLA), spot.clone(), Refusal::CoachAway { coach: AYLA, until });
    world.accept(&coach(BRAM), back);
    world.accept(&coach(AYLA), spot);
    world.begin(AYLA, press);
    world.refuse(&coach(AYLA), away(5), Refusal::SpotterBusy { turn: press });
    world.pass(60);
    world.done(AYLA, press);
    world.accept(&coach(AYLA), away(1));
    world.pass(60);
    assert_eq!(world.state.coaches[&AYLA].away, None);
}

#[test]
fn groups_change_hands_when_the_other_agrees() {
    let mut world = three_coaches();
    let offer = hand(&[PAIR, LATER], AYLA, BRAM);
    world.refuse(&coach(AYLA), hand(&[SINGLE], AYLA, BRAM), Refusal::CoachedBy { coach: BRAM });
    world.refuse(&coach(CHIDI), offer.clone(), Refusal::CoachedBy { coach: AYLA });
    world.refuse(&coach(AYLA), hand(&[PAIR], AYLA, AYLA), Refusal::CoachedBy { coach: AYLA });
    let accept = |group| Act::AcceptGroup { group, from: AYLA };
    world.refuse(&coach(BRAM), accept(PAIR), Refusal::NotOffered);
    world.accept(&coach(AYLA), offer.clone());
    assert_eq!(world.already(&coach(AYLA), offer).by, coach(AYLA).actor);
    world.refuse(&coach(AYLA), accept(PAIR), Refusal::NotYoursToAgree { coach: BRAM });
    // Not in the middle of a spotted set.
    let press = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, press);
    world.refuse(&coach(BRAM), accept(PAIR), Refusal::SpottedSetUnderWay { turn: press });
    world.pass(60);
    world.done(AYLA, press);
    world.accept(&coach(BRAM), accept(PAIR));
    assert_eq!(world.state.groups[&PAIR].coach, BRAM);
    assert_eq!(world.already(&coach(BRAM), accept(PAIR)).by, coach(BRAM).actor);
    let decline = Act::DeclineGroup { group: LATER };
    world.refuse(&coach(CHIDI), decline.clone(), Refusal::NotYoursToAgree { coach: BRAM });
    world.accept(&coach(BRAM), decline.clone());
    world.refuse(&coach(BRAM), decline, Refusal::NotOffered);
}

#[test]
fn a_group_is_asked_for_and_of_an_absent_coach_taken_over() {
    let mut world = three_coaches();
    world.accept(&coach(BRAM), hand(&[PAIR], AYLA, BRAM));
    world.refuse(
        &coach(BRAM),
        Act::AcceptGroup { group: PAIR, from: AYLA },
        Refusal::NotYoursToAgree { coach: AYLA },
    );
    assert_eq!(world.state.groups[&PAIR].coach, AYLA, "asked for, not taken");
    // Whoever asked has gone away meanwhile.
    world.accept(&coach(BRAM), Act::Away { coach: BRAM, minutes: 5 });
    let until = world.now + secs(300);
    let away = Refusal::CoachAway { coach: BRAM, until };
    world.refuse(&coach(AYLA), Act::AcceptGroup { group: PAIR, from: AYLA }, away);
    world.accept(&coach(BRAM), Act::Back { coach: BRAM });
    world.accept(&coach(AYLA), Act::AcceptGroup { group: PAIR, from: AYLA });
    // Bram's shift is over at one: Chidi takes both over, Bram takes nothing any more.
    world.pass(3_600);
    world.refuse(&coach(BRAM), Act::AcceptGroup { group: LATER, from: AYLA }, Refusal::NotOffered);
    world.accept(&coach(AYLA), hand(&[LATER], AYLA, BRAM));
    world.refuse(
        &coach(BRAM),
        Act::AcceptGroup { group: LATER, from: AYLA },
        Refusal::OffShift { coach: BRAM },
    );
    world.accept(&coach(CHIDI), hand(&[PAIR, SINGLE, PAIR], BRAM, CHIDI));
    for group in [PAIR, SINGLE] {
        assert_eq!(world.state.groups[&group].coach, CHIDI);
    }
}

#[test]
fn nobody_gets_more_clients_or_stations_by_a_hand_over_than_the_floor_allows() {
    for (clients, stations, refusal) in [
        (Some(2), None, Refusal::ClientsACoach { most: 2 }),
        (None, Some(3), Refusal::StationsACoach { most: 3 }),
    ] {
        let mut world = World::other_with_all(|floor, _| {
            floor.policy.clients_a_coach = clients;
            floor.policy.stations_a_coach = stations;
        });
        world.claim(AYLA, PAIR, &[BENCH, ROW]);
        world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
        world.accept(&coach(AYLA), hand(&[PAIR], AYLA, BRAM));
        world.refuse(&coach(BRAM), Act::AcceptGroup { group: PAIR, from: AYLA }, refusal);
    }
}

#[test]
fn who_takes_a_group_twice_has_it_already_and_who_gives_it_twice_has_given_it() {
    let accept = Act::AcceptGroup { group: PAIR, from: AYLA };
    // Offered, or asked for: whoever agrees says so on two devices.
    for (offers, agrees) in [(AYLA, BRAM), (BRAM, AYLA)] {
        let mut world = three_coaches();
        world.accept(&coach(offers), hand(&[PAIR], AYLA, BRAM));
        world.accept(&coach(agrees), accept.clone());
        let (before, agreed) = (world.state.clone(), world.state.groups[&PAIR].handed.unwrap().agreed);
        world.pass(1);
        assert_eq!(world.tap(&coach(agrees), accept.clone()), Verdict::Already(agreed));
        assert_eq!((agreed.by, &world.state), (coach(agrees).actor, &before), "one effect");
        // Nobody else has agreed to anything.
        world.refuse(&coach(CHIDI), accept.clone(), Refusal::CoachedBy { coach: BRAM });
        // Once it has gone back, the old answer is for nothing.
        world.accept(&coach(BRAM), hand(&[PAIR], BRAM, AYLA));
        world.accept(&coach(AYLA), Act::AcceptGroup { group: PAIR, from: BRAM });
        world.refuse(&coach(agrees), accept.clone(), Refusal::NotOffered);
    }
}

#[test]
fn who_takes_the_groups_of_somebody_away_twice_has_them_already() {
    let mut world = three_coaches();
    world.accept(&coach(AYLA), Act::Away { coach: AYLA, minutes: 5 });
    let take = hand(&[PAIR, LATER], AYLA, BRAM);
    world.accept(&coach(BRAM), take.clone());
    assert!(matches!(world.tap(&coach(BRAM), take.clone()), Verdict::Already(_)));
    world.refuse(&coach(CHIDI), take, Refusal::CoachedBy { coach: BRAM });
}

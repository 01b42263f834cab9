//! Who is there and who is not: arriving late, leaving, coming back, and what comes before the first set.

use turnabout_protocol::command::{Act, Reason, ScreeningDecision};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::view::Stage;
use turnabout_server::floor::config::{Client, Day, Screening, ScreeningPolicy, ScreeningResult};
use turnabout_server::floor::state::SetOver;

use crate::deeds::assistant;
use crate::world::*;

fn arrive(clients: &[turnabout_protocol::ids::ClientId]) -> Act {
    Act::Arrive { group: PAIR, clients: clients.to_vec() }
}

/// Dara has come and is in her first working round; Edda has not come.
fn one_of_two() -> World {
    let mut world = World::empty();
    world.accept(&coach(AYLA), arrive(&[DARA]));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0)]);
    world
}

#[test]
fn a_late_client_does_the_light_sets_and_goes_on_with_the_others() {
    let mut world = one_of_two();
    world.accept(&coach(AYLA), arrive(&[EDDA]));
    assert_eq!(world.next(PAIR, EDDA), Some(turn(PAIR, EDDA, 0, 0)), "the light sets come first");
    world.sets(AYLA, PAIR, EDDA, &[(0, 0)]);
    // Meanwhile nobody waits for her.
    world.sets(AYLA, PAIR, DARA, &[(1, 1)]);
    world.sets(AYLA, PAIR, EDDA, &[(0, 1)]);
    world.settle();
    assert_eq!(
        world.next(PAIR, EDDA),
        Some(turn(PAIR, EDDA, 2, 0)),
        "the round that the others have reached"
    );
    let sets = &world.client(PAIR, EDDA).sets;
    assert!(
        sets[2..4].iter().all(|set| matches!(set, SetOver::Missed)),
        "what was missed is noted: {sets:?}"
    );
    world.sets(AYLA, PAIR, EDDA, &[(2, 0), (2, 1)]);
    world.sets(AYLA, PAIR, DARA, &[(2, 0), (2, 1)]);
    assert!(world.state.groups[&PAIR].wipe_down.is_some());
}

#[test]
fn a_late_client_misses_nothing_where_the_others_have_not_got_on() {
    let mut world = one_of_two();
    world.accept(&coach(AYLA), arrive(&[EDDA]));
    world.sets(AYLA, PAIR, EDDA, &[(0, 0), (0, 1)]);
    assert_eq!(world.next(PAIR, EDDA), Some(turn(PAIR, EDDA, 1, 0)));
}

#[test]
fn missed_rounds_are_owed_and_can_be_made_up_for() {
    let mut world = one_of_two();
    world.sets(AYLA, PAIR, DARA, &[(1, 1)]);
    world.accept(&coach(AYLA), arrive(&[EDDA]));
    world.sets(AYLA, PAIR, EDDA, &[(0, 0), (0, 1), (2, 0), (2, 1)]);
    let make_up = |world: &World, rounds| {
        let revision = world.revision(PAIR);
        Act::MakeUp { group: PAIR, client: EDDA, rounds, revision }
    };
    let two = make_up(&world, 2);
    world.refuse(&coach(AYLA), two, Refusal::RoundsOwed { most: 1 });
    let none = Act::MakeUp { group: PAIR, client: DARA, rounds: 1, revision: world.revision(PAIR) };
    world.refuse(&coach(AYLA), none, Refusal::RoundsOwed { most: 0 });
    world.sets(AYLA, PAIR, DARA, &[(2, 0), (2, 1)]);
    assert_eq!(world.state.groups[&PAIR].stage(&world.state.programme.groups[&PAIR]), Stage::WipeDown);
    // Even when all is done: the block is open again.
    let one = make_up(&world, 1);
    world.accept(&coach(AYLA), one.clone());
    assert_eq!(world.state.groups[&PAIR].wipe_down, None);
    world.refuse(&coach(AYLA), one, Refusal::StaleRevision { revision: world.revision(PAIR) });
    world.sets(AYLA, PAIR, EDDA, &[(3, 0), (3, 1)]);
    assert!(world.state.groups[&PAIR].wipe_down.is_some());
    let least = make_up(&world, 0);
    world.refuse(&coach(AYLA), least, Refusal::RoundsRange { least: 1, most: 1 });
}

#[test]
fn a_group_goes_on_without_one_who_leaves_and_with_one_who_comes_back() {
    let mut world = World::with_pair_on();
    for client in [DARA, EDDA] {
        world.sets(AYLA, PAIR, client, &[(0, 0), (0, 1), (1, 0)]);
    }
    let leave = Act::Leave { group: PAIR, client: EDDA };
    world.sets(AYLA, PAIR, DARA, &[(1, 1)]);
    world.rest(PAIR, EDDA);
    world.begin(AYLA, turn(PAIR, EDDA, 1, 1));
    world.refuse(&coach(AYLA), leave.clone(), Refusal::SetUnderWay { turn: turn(PAIR, EDDA, 1, 1) });
    world.pass(60);
    world.done(AYLA, turn(PAIR, EDDA, 1, 1));
    world.accept(&coach(AYLA), leave.clone());
    world.already(&coach(BRAM), leave);
    world.rest(PAIR, EDDA);
    let absent = Refusal::ClientAbsent { client: EDDA };
    world.refuse(&coach(AYLA), Act::Go { turn: turn(PAIR, EDDA, 2, 0) }, absent);
    world.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    world.accept(&coach(AYLA), arrive(&[EDDA]));
    assert_eq!(world.next(PAIR, EDDA), Some(turn(PAIR, EDDA, 2, 0)), "the light sets are done already");
    world.accept(&coach(AYLA), Act::Leave { group: PAIR, client: EDDA });
    world.sets(AYLA, PAIR, DARA, &[(2, 1)]);
    assert!(world.state.groups[&PAIR].wipe_down.is_some(), "nobody waits for whoever has left");
    world.accept(&coach(AYLA), arrive(&[EDDA]));
    assert_eq!(world.state.groups[&PAIR].wipe_down, None, "there is something to do again");
}

#[test]
fn who_comes_is_told_apart_from_who_is_there() {
    let mut world = World::empty();
    world.refuse(&coach(AYLA), arrive(&[FARID]), Refusal::UnknownClient);
    world.accept(&coach(AYLA), arrive(&[DARA, DARA]));
    let stamp = world.already(&coach(BRAM), arrive(&[DARA]));
    assert_eq!(stamp.by, coach(AYLA).actor);
    world.accept(&coach(BRAM), arrive(&[DARA, EDDA]));
    let warm = Act::WarmedUp { group: PAIR, client: DARA };
    world.accept(&coach(AYLA), warm.clone());
    world.already(&coach(BRAM), warm);
}

#[test]
fn only_who_knows_the_exercises_needs_no_briefing() {
    let mut world = World::other(|_, programme| {
        programme.clients.insert(EDDA, Client { show_load: true, regular: false, ..Client::default() });
    });
    let brief = |clients: &[_], skipped| Act::Brief { group: PAIR, clients: clients.to_vec(), skipped };
    let absent = Refusal::ClientAbsent { client: EDDA };
    world.refuse(&coach(AYLA), brief(&[EDDA], false), absent);
    world.accept(&coach(AYLA), arrive(&[DARA, EDDA]));
    let stage = |world: &World| world.state.groups[&PAIR].stage(&world.state.programme.groups[&PAIR]);
    assert_eq!(stage(&world), Stage::WarmUp);
    world.accept(&coach(AYLA), Act::WarmedUp { group: PAIR, client: EDDA });
    assert_eq!(stage(&world), Stage::Briefing);
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.already(&coach(AYLA), brief(&[DARA], true));
    let edda = turn(PAIR, EDDA, 0, 0);
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: edda });
    world.refuse(&coach(AYLA), Act::Go { turn: edda }, Refusal::NotBriefed);
    world.accept(&coach(AYLA), brief(&[DARA, EDDA], true));
    world.already(&coach(BRAM), brief(&[DARA, EDDA], false));
    world.accept(&coach(AYLA), Act::Go { turn: edda });
}

/// The pair on a floor with this policy on 1970-01-01; Dara has this screening.
fn screened(policy: ScreeningPolicy, on: Option<(u16, u8, u8, ScreeningResult)>) -> World {
    let mut world = World::other(|floor, programme| {
        floor.policy.screening = policy;
        programme.day = Some(Day { year: 1970, month: 1, day: 1 });
        let screening =
            on.map(|(year, month, day, result)| Screening { on: Day { year, month, day }, result });
        for client in [DARA, EDDA] {
            programme
                .clients
                .insert(client, Client { show_load: true, regular: true, screening, ..Client::default() });
        }
    });
    world.accept(&coach(AYLA), arrive(&[DARA, EDDA]));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: turn(PAIR, DARA, 0, 0) });
    world
}

fn screen(decision: ScreeningDecision) -> Act {
    Act::Screen { group: PAIR, client: DARA, decision }
}

#[test]
fn a_coach_decides_where_a_screening_is_missing_old_or_asks_for_more() {
    // Twelve months are printed on the questionnaire in common use, from memory.
    let cleared = ScreeningResult::Cleared;
    let open = [
        None,
        Some((1968, 12, 31, cleared)),
        Some((1970, 1, 2, cleared)),
        Some((1969, 12, 1, ScreeningResult::FollowUpNeeded)),
    ];
    let go = Act::Go { turn: turn(PAIR, DARA, 0, 0) };
    for screening in open {
        let mut world = screened(ScreeningPolicy::CoachDecides, screening);
        world.refuse(&coach(AYLA), go.clone(), Refusal::AskCoach);
        world.refuse(&assistant(AYLA), screen(ScreeningDecision::Train), Refusal::RoleMayNot);
        world.accept(&coach(BRAM), screen(ScreeningDecision::Train));
        assert_eq!(world.already(&coach(AYLA), screen(ScreeningDecision::Train)).by, coach(BRAM).actor);
        world.accept(&coach(AYLA), go.clone());
        // Not under a weight, but any time after.
        let refer = screen(ScreeningDecision::Refer);
        world.refuse(&coach(AYLA), refer.clone(), Refusal::SetUnderWay { turn: turn(PAIR, DARA, 0, 0) });
        world.pass(60);
        world.done(AYLA, turn(PAIR, DARA, 0, 0));
        world.accept(&coach(AYLA), refer);
        assert!(!world.client(PAIR, DARA).is_here());
    }
    for screening in [(1969, 1, 1, cleared), (1970, 1, 1, cleared)] {
        let mut world = screened(ScreeningPolicy::CoachDecides, Some(screening));
        world.refuse(&coach(AYLA), screen(ScreeningDecision::NotToday), Refusal::ScreeningInOrder);
        world.accept(&coach(AYLA), go.clone());
    }
}

#[test]
fn a_floor_may_forbid_or_not_ask() {
    let go = Act::Go { turn: turn(PAIR, DARA, 0, 0) };
    let mut world = screened(ScreeningPolicy::Required, None);
    world.refuse(&coach(AYLA), go.clone(), Refusal::AskCoach);
    world.refuse(&coach(AYLA), screen(ScreeningDecision::Train), Refusal::ScreeningRequired);
    world.accept(&coach(AYLA), screen(ScreeningDecision::NotToday));
    // Coming back does not change it.
    world.accept(&coach(AYLA), arrive(&[DARA]));
    world.refuse(&coach(AYLA), go.clone(), Refusal::AskCoach);
    screened(ScreeningPolicy::NotAsked, None).accept(&coach(AYLA), go);
}

#[test]
fn a_session_ends_early_when_nobody_is_under_a_weight() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    let end = Act::EndSession { group: PAIR, reason: Reason::ShortOfTime };
    world.begin(AYLA, press);
    world.refuse(&coach(AYLA), end.clone(), Refusal::SetUnderWay { turn: press });
    world.pass(60);
    world.done(AYLA, press);
    world.accept(&coach(AYLA), end.clone());
    world.refuse(&coach(AYLA), end, Refusal::Over);
    assert!(world.state.held_by(PAIR).is_empty());
    assert_eq!(world.state.groups[&PAIR].stage(&world.state.programme.groups[&PAIR]), Stage::Finished);
    let said = |turn| Act::Correct {
        turn,
        reps: 2,
        load: Some(kilos(20)),
        effort: None,
        ending: turnabout_protocol::command::Ending::Short,
    };
    world.accept(&coach(AYLA), said(press));
    assert!(world.state.record(press).unwrap().reps.first.is_some(), "what was done can still be corrected");
}

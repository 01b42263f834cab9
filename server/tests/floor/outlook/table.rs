//! A group that has its stations, point by point.

use turnabout_protocol::command::{Act, Ending, Reason, SkipScope};
use turnabout_protocol::ids::CoachId;
use turnabout_protocol::units::{Mass, Secs};
use turnabout_server::floor::config::{Coach, Sharing, Shift};
use turnabout_server::floor::local_time::Minute;
use turnabout_server::floor::outlook::{HORIZON, OVERDUE, RACKED, RoundKey};
use turnabout_server::timetable::instance::{At, Load, Spot, StationKind, UnderWay, Window};

use super::{group_of, member_of, outlook};
use crate::deeds::assistant;
use crate::world::*;

/// Get set and 3-2-1 at the bench, where a spotter is needed, and at the row.
const LEADS: [u32; 2] = [13, 11];
/// Ten repetitions at 2-0-2-0, and four.
const WORK: [u32; 2] = [40, 16];

fn length(leg: usize, light: bool) -> Secs {
    Secs(LEADS[leg] + WORK[usize::from(light)] + RACKED.0)
}

#[test]
fn light_sets_are_a_round_in_front_with_their_own_load_and_the_coach() {
    let outlook = outlook(&World::with_pair_on());
    let dara = member_of(&outlook, PAIR, DARA);
    let numbers: Vec<u32> = dara.rounds.iter().map(|round| round.number).collect();
    assert_eq!(numbers, [1, 2, 3], "the light sets and two working rounds");
    let group = outlook.who.group(PAIR).unwrap();
    assert_eq!(
        outlook.who.rounds(group, 0),
        [RoundKey::Technique, RoundKey::Working(1), RoundKey::Working(2)]
    );
    for (round, light) in [(0, true), (1, false)] {
        for leg in [0, 1] {
            let turn = dara.rounds[round].legs[leg].as_ref().unwrap();
            let whole = length(leg, light);
            assert_eq!(turn.length, whole);
            // The coach watches every light set, and spots the bench press.
            let spotted = (light || leg == 0).then_some(Spot { from: Secs(0), to: whole });
            assert_eq!(turn.spot, spotted, "round {round}, exercise {leg}");
        }
    }
    let load = |round: usize, leg: usize| dara.rounds[round].legs[leg].as_ref().unwrap().load.clone();
    assert_eq!(load(0, 0), Some(Load::Plates(Vec::new())), "the bar alone");
    assert_eq!(load(1, 0), Some(Load::Plates(vec![20_000])), "60 kg on a bar of 20");
    assert_eq!((load(0, 1), load(1, 1)), (Some(Load::Label(5_000)), Some(Load::Label(50_000))));
}

#[test]
fn a_group_with_stations_is_held_to_them_and_nobody_else_gets_in() {
    let mut world = World::with_pair_on();
    let outlook = outlook(&world);
    let pair = group_of(&outlook, PAIR);
    let place = |id| outlook.who.station(id).unwrap();
    let own = vec![place(BENCH), place(ROW)];
    assert_eq!(pair.eligible, own.iter().map(|place| vec![*place]).collect::<Vec<_>>());
    assert!(pair.members.iter().all(|member| member.stations.as_ref() == Some(&own)));
    assert_eq!(pair.holds, own);
    assert!(pair.together && outlook.who.has_stations(0));
    assert!(outlook.instance.stations.iter().all(|station| !station.work_in));
    // Four metres are four seconds, and the block's 20 s are for the way too.
    assert_eq!(outlook.instance.walk[own[0]][own[1]], Secs(4));
    assert_eq!(pair.changeover_wait_max, Some(Some(Secs(16))));
    // 60 to 120 s of rest, less what a turn begins with.
    assert_eq!((pair.rest_min, pair.rest_max), (Secs(60 - 13), Some(Secs(120 - 13))));
    // Without rounds to do, a group is in no plan.
    world.accept(&coach(AYLA), Act::EndSession { group: PAIR, reason: Reason::CoachDecides });
    assert!(super::outlook(&world).instance.groups.is_empty());
}

#[test]
fn a_station_may_be_shared_as_its_rule_and_its_holder_say() {
    for (sharing, leave, shared) in [
        (Sharing::Open, false, true),
        (Sharing::Ask, false, false),
        (Sharing::Ask, true, true),
        (Sharing::Never, false, false),
    ] {
        let mut world = World::other_with_all(|floor, _| {
            floor.stations.get_mut(&BENCH).unwrap().sharing = sharing;
        });
        world.claim(AYLA, PAIR, &[BENCH, ROW]);
        if leave {
            world.accept(&coach(AYLA), Act::GiveLeave { station: BENCH, group: SINGLE });
        }
        let outlook = outlook(&world);
        let bench = outlook.who.station(BENCH).unwrap();
        assert_eq!(outlook.instance.stations[bench].work_in, shared, "{sharing:?}, {leave}");
        assert_eq!(group_of(&outlook, PAIR).holds.contains(&bench), !shared);
    }
}

#[test]
fn a_set_under_way_keeps_its_station_and_its_coach_until_it_can_be_racked() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, press);
    let ends = world.current(press).ends;
    let bench = |world: &World| {
        let outlook = outlook(world);
        let bench = outlook.who.station(BENCH).unwrap();
        let coach = &outlook.instance.coaches[outlook.who.coach(AYLA).unwrap()];
        assert_eq!((coach.free_at, coach.at), (outlook.instance.stations[bench].free_at, Some(bench)));
        let way = member_of(&outlook, PAIR, DARA).under_way.unwrap();
        assert_eq!(way, UnderWay { legs_done: 1, last_end: coach.free_at });
        (outlook.who.instant(coach.free_at), outlook.who.instant(outlook.instance.now))
    };
    assert_eq!(bench(&world).0, ends + RACKED);
    // Nobody has said that it is over: any moment now, again and again.
    for later in [37, 50] {
        world.pass(later);
        let (free, now) = bench(&world);
        assert_eq!(free, now + OVERDUE);
    }
}

#[test]
fn between_two_exercises_the_wait_counts_from_the_end_and_what_was_put_off_does_not_count() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &[(0, 0)]);
    let ended = world.client(PAIR, DARA).sets[0].done().unwrap().ended;
    let way = |world: &World| {
        let outlook = outlook(world);
        let way = member_of(&outlook, PAIR, DARA).under_way.unwrap();
        assert_eq!(way.legs_done, 1);
        outlook.who.instant(way.last_end)
    };
    assert_eq!(way(&world), ended, "whoever has tapped is off");
    world.down(30);
    assert_eq!(way(&world), ended + Secs(30), "the server's own pause is nobody's wait");
    let row = turn(PAIR, DARA, 0, 1);
    world.accept(&coach(AYLA), Act::TreatAsRest { turn: row });
    let now = world.now;
    assert_eq!(way(&world), (now - Secs(4).millis()).max(ended + Secs(30)));
    world.accept(&coach(AYLA), Act::NotYet { turn: row });
    let ready = world.client(PAIR, DARA).put_off.unwrap();
    assert_eq!(way(&world), ready - Secs(11 + 4).millis());
}

/// Dara and Edda have done the light sets and one working round each.
fn after_a_round() -> World {
    let mut world = World::with_pair_on();
    for client in [DARA, EDDA] {
        world.sets(AYLA, PAIR, client, &[(0, 0), (0, 1), (1, 0), (1, 1)]);
    }
    world
}

#[test]
fn a_rest_runs_from_the_last_set_and_can_be_cut_or_put_off() {
    let mut world = after_a_round();
    let ended = world.client(PAIR, EDDA).sets[3].done().unwrap().ended;
    let next = turn(PAIR, EDDA, 2, 0);
    let before = outlook(&world);
    let edda = member_of(&before, PAIR, EDDA);
    assert_eq!(edda.last_round_end, Some(before.who.second(ended)));
    let rest = |round: &turnabout_server::timetable::instance::Round| {
        (round.rest_min, round.rest_max, round.not_before)
    };
    assert_eq!(rest(&edda.rounds[0]), (None, None, None), "as in the block");
    let cut = Act::LessRest { turn: next, secs: 40, reason: Reason::CoachDecides };
    world.accept(&coach(AYLA), cut);
    let cut = outlook(&world);
    assert_eq!(rest(&member_of(&cut, PAIR, EDDA).rounds[0]), (Some(Secs(40 - 13)), None, None));
    for _ in 0..4 {
        world.accept(&coach(AYLA), Act::NotYet { turn: next });
    }
    let ready = world.client(PAIR, EDDA).put_off.unwrap();
    let after = outlook(&world);
    let edda = member_of(&after, PAIR, EDDA);
    let from = after.who.second(ready - Secs(13).millis());
    assert_eq!(edda.rounds[0].not_before, Some(from));
    let asked = Secs(from.0 - edda.last_round_end.unwrap().0);
    assert_eq!(edda.rounds[0].rest_max, Some(Some(asked)), "as long as it was asked to be");
}

#[test]
fn around_light_sets_no_rest_is_due_and_five_minutes_are_the_most() {
    let mut world = World::with_pair_on();
    let outlook = outlook(&world);
    for round in &member_of(&outlook, PAIR, DARA).rounds[..2] {
        assert_eq!((round.rest_min, round.rest_max), (Some(Secs(0)), Some(Some(Secs(300)))));
    }
    assert_eq!(member_of(&outlook, PAIR, DARA).rounds[2].rest_min, None);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    let outlook = super::outlook(&world);
    let dara = member_of(&outlook, PAIR, DARA);
    assert!(dara.has_begun());
    assert_eq!((dara.rounds[0].rest_min, dara.rounds[0].rest_max), (Some(Secs(0)), Some(Some(Secs(300)))));
}

#[test]
fn whoever_has_begun_fewer_rounds_goes_next_then_whoever_began_the_last_one_first() {
    let mut world = after_a_round();
    let order = |world: &World| group_of(&outlook(world), PAIR).order.clone();
    assert_eq!(order(&world), [0, 1], "Dara went first");
    world.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    assert_eq!(order(&world), [1, 0]);
    world.accept(&coach(AYLA), Act::NotYet { turn: turn(PAIR, EDDA, 2, 0) });
    assert_eq!(order(&world), [0], "whose start was put off binds nobody");
}

#[test]
fn whoever_has_done_the_light_sets_first_goes_first_while_others_are_at_theirs() {
    let mut world = World::with_pair_on();
    let order = |world: &World| group_of(&outlook(world), PAIR).order.clone();
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    world.sets(AYLA, PAIR, EDDA, &[(0, 0)]);
    assert_eq!(order(&world), [0, 1]);
    world.begin(AYLA, turn(PAIR, EDDA, 0, 1));
    assert_eq!(order(&world), [0, 1], "her light sets are one round, to their end and after it");
    world.pass(60);
    assert_eq!(order(&world), [0, 1]);
}

#[test]
fn what_is_left_out_is_in_no_round() {
    let mut world = after_a_round();
    let skip = |scope| Act::Skip { turn: turn(PAIR, DARA, 2, 0), skip: scope, reason: Reason::ClientAsked };
    world.accept(&coach(AYLA), skip(SkipScope::Set));
    let outlook = outlook(&world);
    let dara = member_of(&outlook, PAIR, DARA);
    assert_eq!(dara.rounds.len(), 1);
    assert!(dara.rounds[0].legs[0].is_none() && dara.rounds[0].legs[1].is_some());
    assert_eq!(dara.under_way, None, "nothing of the round is done");
    // The rest before it is that of the row, with the shorter get set.
    assert_eq!(dara.rounds[0].rest_min, Some(Secs(60 - 11)));
}

#[test]
fn nobody_waits_for_who_is_not_there() {
    let mut world = World::empty();
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![DARA] });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let members = |world: &World| {
        let outlook = outlook(world);
        outlook.who.clients(outlook.who.group(PAIR).unwrap()).collect::<Vec<_>>()
    };
    assert_eq!(members(&world), [DARA]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0)]);
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![EDDA] });
    assert_eq!(members(&world), [DARA, EDDA]);
    let late = outlook(&world);
    let edda = member_of(&late, PAIR, EDDA);
    // She goes on with the others: the first working round is missed.
    assert_eq!(edda.rounds.iter().map(|round| round.number).collect::<Vec<_>>(), [1, 3]);
    assert_eq!(late.who.rounds(0, 1), [RoundKey::Technique, RoundKey::Working(2)]);
    world.accept(&coach(AYLA), Act::Leave { group: PAIR, client: EDDA });
    assert_eq!(members(&world), [DARA]);
}

#[test]
fn a_client_stopped_alone_is_not_planned_and_a_group_on_hold_is() {
    let mut world = World::with_pair_on();
    let scope = turnabout_protocol::command::Scope::Client { group: PAIR, client: EDDA };
    world.accept(&coach(AYLA), Act::Stop { scope });
    assert_eq!(group_of(&outlook(&world), PAIR).members.len(), 1);
    world.accept(&coach(AYLA), Act::Resume { group: PAIR, client: Some(EDDA) });
    world.accept(&coach(AYLA), Act::Pause { group: PAIR });
    assert_eq!(group_of(&outlook(&world), PAIR).members.len(), 2);
}

#[test]
fn a_bar_is_the_coachs_unless_somebody_else_stands_there() {
    let mut world = World::other_with_all(|floor, _| {
        floor.policy.arms_accepted = true;
        floor.stations.get_mut(&BENCH).unwrap().arms = true;
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    for client in [DARA, EDDA] {
        world.sets(AYLA, PAIR, client, &[(0, 0), (0, 1)]);
    }
    let press = turn(PAIR, DARA, 1, 0);
    let spot = |world: &World| {
        let outlook = outlook(world);
        let round = &member_of(&outlook, PAIR, DARA).rounds[0];
        let coach = round.coach.map(|place| outlook.who.coaches()[place]);
        (round.legs[0].as_ref().unwrap().spot.is_some(), coach)
    };
    assert_eq!(spot(&world), (true, None));
    world.accept(&coach(BRAM), Act::Spot { turn: press, lift_off: false });
    assert_eq!(spot(&world), (true, Some(BRAM)), "another coach for this round");
    world.accept(&assistant(AYLA), Act::Spot { turn: press, lift_off: false });
    assert_eq!(spot(&world), (false, None));
    world.accept(&coach(AYLA), Act::UseArms { turn: press });
    assert_eq!(spot(&world), (false, None));
    world.accept(
        &coach(AYLA),
        Act::PassSpotter { group: PAIR, client: EDDA, exercise: turnabout_protocol::ids::ExerciseId(1) },
    );
    world.accept(&coach(AYLA), Act::SpotBy { turn: press, client: EDDA });
    assert_eq!(spot(&world), (false, None));
}

#[test]
fn who_is_away_off_shift_or_handed_over_spots_nothing() {
    let at = |minutes| Minute::new(minutes).unwrap();
    let mut world = World::other_with_all(|floor, _| {
        floor
            .coaches
            .insert(AYLA, Coach { key: key("coach-1"), shift: Some(Shift { from: at(0), to: at(60) }) });
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let busy = |world: &World, coach: CoachId| {
        let outlook = outlook(world);
        outlook.instance.coaches[outlook.who.coach(coach).unwrap()].busy.clone()
    };
    let horizon = HORIZON.0;
    // Floor time is the time of day on this floor: the shift is over at one.
    assert_eq!(busy(&world, AYLA), [Window { from: At(3_600), to: At(horizon) }]);
    world.accept(&coach(AYLA), Act::Away { coach: AYLA, minutes: 5 });
    assert_eq!(busy(&world, AYLA)[0], Window { from: At(0), to: At(300) });
    world.accept(&coach(AYLA), Act::Back { coach: AYLA });
    world.accept(&coach(AYLA), Act::HandOver { groups: vec![PAIR], from: AYLA, to: BRAM });
    world.accept(&coach(BRAM), Act::AcceptGroup { group: PAIR, from: AYLA });
    let handed = outlook(&world);
    assert_eq!(handed.who.coaches()[group_of(&handed, PAIR).coach], BRAM);
}

#[test]
fn a_station_is_busy_with_the_public_and_for_an_unknown_time_when_it_is_broken() {
    let mut world = World::with_pair_on();
    let bench = |world: &World| {
        let outlook = outlook(world);
        outlook.instance.stations[outlook.who.station(BENCH).unwrap()].busy.clone()
    };
    assert_eq!(bench(&world), []);
    world.accept(&coach(AYLA), Act::OtherUse { station: BENCH, minutes: 4 });
    assert_eq!(bench(&world), [Window { from: At(0), to: At(240) }]);
    let defect = turnabout_protocol::command::Defect::Frame;
    world.accept(&coach(AYLA), Act::OutOfService { station: BENCH, defect });
    assert_eq!(bench(&world), [Window { from: At(0), to: At(HORIZON.0) }]);
}

#[test]
fn what_is_on_a_bar_is_what_somebody_said_and_stays_where_it_weighs_as_much() {
    let mut world = World::with_pair_on();
    let plate =
        |kg: i64| turnabout_protocol::card::PlatePart { mass: Mass::from_grams(kg * 1_000), full: false };
    let full = turnabout_protocol::card::PlatePart { full: true, ..plate(10) };
    let bench = |world: &World| {
        let outlook = outlook(world);
        let bench = outlook.who.station(BENCH).unwrap();
        let station = &outlook.instance.stations[bench];
        assert_eq!(station.kind, StationKind::Bar);
        let wanted = member_of(&outlook, PAIR, DARA).rounds[1].legs[0].as_ref().unwrap().load.clone();
        (station.load.clone(), wanted)
    };
    assert_eq!(bench(&world).0, None, "nobody has said");
    let side = vec![full, full];
    let on = Act::PlatesOn { station: BENCH, side: side.clone(), bar: 0 };
    let on = match world.tap(&coach(AYLA), on) {
        turnabout_server::floor::decide::Verdict::Accepted(_) => side,
        _ => {
            let side = vec![plate(10), plate(10)];
            world.accept(&coach(AYLA), Act::PlatesOn { station: BENCH, side: side.clone(), bar: 0 });
            side
        }
    };
    assert_eq!(on.len(), 2);
    // Two tens make the same 60 kg as one twenty: nobody changes them.
    let tens = Some(Load::Plates(vec![10_000, 10_000]));
    assert_eq!(bench(&world), (tens.clone(), tens));
}

#[test]
fn a_light_set_asked_for_once_more_makes_the_coming_set_longer() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    let press = turn(PAIR, DARA, 1, 0);
    world.accept(&coach(AYLA), Act::TechniqueAgain { turn: press });
    let outlook = outlook(&world);
    let turn = member_of(&outlook, PAIR, DARA).rounds[0].legs[0].clone().unwrap();
    assert_eq!(turn.length, Secs(length(0, true).0 + length(0, false).0));
    assert_eq!(turn.spot, Some(Spot { from: Secs(0), to: turn.length }));
}

#[test]
fn a_set_that_was_short_is_over_like_any_other() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, press);
    world.pass(20);
    world.accept(
        &coach(AYLA),
        Act::Done { turn: press, reps: Some(2), effort: None, ending: Some(Ending::Short) },
    );
    let outlook = outlook(&world);
    let ended = world.now;
    let way = member_of(&outlook, PAIR, DARA).under_way.unwrap();
    assert_eq!(outlook.who.instant(way.last_end), ended, "it is racked when somebody says so");
}

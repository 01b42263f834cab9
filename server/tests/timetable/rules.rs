//! Each rule and each part of the objective, worked out by hand on the small evening.
//!
//! There: member 0 of group 0 is between two legs and has a last round after a missed one; member 1 has one round to
//! go; group 1 is one client with one turn. Nothing is broken, and 8464 is 10 x (556 flow + 290 makespan) + 4 plates.

use serde_json::{Value, json};
use turnabout_protocol::units::Secs;
use turnabout_server::timetable::answer::Breach;
use turnabout_server::timetable::check::{Fault, Parts, Verdict, check};
use turnabout_server::timetable::format::read_timetable;

use crate::small::{self, Put, judge, read, turn};

type Changes = Vec<(&'static str, Put)>;

/// Rule, group, member, round, leg, and seconds.
type Broken = (u8, usize, usize, usize, usize, u32);

fn set(pointer: &'static str, value: Value) -> (&'static str, Put) {
    (pointer, Put::Value(value))
}

fn verdict(of_instance: Changes, of_timetable: Changes) -> Verdict {
    judge(&read(of_instance), of_timetable)
}

/// Each change breaks this and nothing else.
#[track_caller]
fn each(rows: Vec<(Changes, Changes, Vec<Broken>)>) {
    for (of_instance, of_timetable, broken) in rows {
        let words = format!("{of_instance:?} {of_timetable:?}");
        let found = verdict(of_instance, of_timetable).breaches.into_iter();
        let found: Vec<Broken> = found
            .map(|found| (found.rule, found.group, found.member, found.round, found.leg, found.seconds))
            .collect();
        assert_eq!(found, broken, "{words}");
    }
}

const AFTER_BENCH: &str = "/turns/2/starts/1";
const BENCH: &str = "/turns/2/starts/0";
const LAST_ROUND: &str = "/turns/1/starts/0";
const AT_MAT: &str = "/turns/3/starts/0";
const UNDER_WAY: &str = "/turns/0/starts/1";

#[test]
fn the_small_evening_keeps_every_rule() {
    let found = verdict(vec![], vec![]);
    let parts = Parts { flow: 290 + 198 + 68, makespan: 290, door: 48, handling: 4, ..Parts::default() };
    assert_eq!(found, Verdict { breaches: vec![], faults: vec![], parts, objective: 8_464 });
    assert!(found.is_valid());
}

#[test]
fn rule_1_release_not_before_and_now() {
    each(vec![
        (vec![], vec![set(AT_MAT, json!(140))], vec![(1, 1, 0, 0, 0, 10)]),
        (vec![], vec![set(LAST_ROUND, json!(245))], vec![(1, 0, 0, 1, 0, 5)]),
        // The larger of two reasons: 130 is 20 before the release and 10 before now.
        (
            vec![set("/now", json!(140))],
            vec![set(AT_MAT, json!(130))],
            vec![(1, 0, 0, 0, 1, 40), (1, 0, 1, 0, 0, 20), (1, 1, 0, 0, 0, 20)],
        ),
    ]);
}

#[test]
fn rule_2_after_the_walk_and_as_soon_as_it_can() {
    let mat_first = |at| vec![set(AFTER_BENCH, json!(at)), set(AT_MAT, json!(170))];
    each(vec![
        (vec![], vec![set(AFTER_BENCH, json!(165))], vec![(2, 0, 1, 0, 1, 3)]),
        (vec![], vec![set(AFTER_BENCH, json!(170)), set(AT_MAT, json!(200))], vec![(2, 0, 1, 0, 1, 2)]),
        // The mat is taken until 190, which is 22 s of waiting: 7 more than the limit.
        (vec![], mat_first(190), vec![(2, 0, 1, 0, 1, 7)]),
        (vec![set("/changeover_wait_max", json!(null))], mat_first(190), vec![]),
        (vec![set("/changeover_wait_max", json!(0))], mat_first(190), vec![(2, 0, 1, 0, 1, 22)]),
        // As soon as it can is 190.
        (vec![set("/changeover_wait_max", json!(null))], mat_first(195), vec![(2, 0, 1, 0, 1, 5)]),
        (
            vec![set("/changeover_wait_max", json!(null)), set("/weights/x_free_start", json!(true))],
            mat_first(195),
            vec![],
        ),
        // A window of the station, then one of the coach, are waited out.
        (
            vec![
                set("/changeover_wait_max", json!(null)),
                set("/stations/2/busy", json!([[160, 210]])),
                set("/groups/0/members/1/rounds/0/legs/1/spot", json!([5, 30])),
                set("/coaches/0/busy", json!([[190, 230]])),
            ],
            vec![set(AFTER_BENCH, json!(226)), set(AT_MAT, json!(256))],
            vec![(2, 0, 1, 0, 1, 1)],
        ),
    ]);
}

#[test]
fn a_wait_beyond_the_limit_that_began_before_now_is_late() {
    let found = verdict(vec![set("/stations/1/free_at", json!(120))], vec![set(UNDER_WAY, json!(120))]);
    assert_eq!(found.breaches, []);
    // 20 s from the end of the walk; told 100, and 5 s of that nobody minds.
    let parts = Parts { changeover_wait: 15, late: 5, told: 15, ..verdict(vec![], vec![]).parts };
    assert_eq!(found.parts, parts);
    assert_eq!(found.objective, 8_464 + 15 * 60 + 5 * 1_000 + 15 * 20);
}

/// A group's own limit goes before the instance's, whichever is tighter.
#[test]
fn a_group_may_have_a_limit_of_its_own() {
    let mut instance = read([]);
    let changes = || vec![set(AFTER_BENCH, json!(190)), set(AT_MAT, json!(170))];
    for (own, beyond) in
        [(None, 7), (Some(None), 0), (Some(Some(22)), 0), (Some(Some(21)), 1), (Some(Some(0)), 22)]
    {
        instance.groups[0].changeover_wait_max = own.map(|own| own.map(Secs));
        let found: Vec<u32> =
            judge(&instance, changes()).breaches.iter().map(|breach| breach.seconds).collect();
        assert_eq!(found, if beyond == 0 { vec![] } else { vec![beyond] }, "{own:?}");
    }
}

/// A drop set at the bench: one plate comes off, 8 s, which is work and no waiting.
#[test]
fn changing_the_load_of_a_drop_set_is_no_waiting() {
    let legs = json!([turn(20, json!([20000]), false), turn(20, json!([]), false)]);
    let of_instance = || {
        vec![
            set("/groups/1/legs", json!([{"eligible": [0]}, {"eligible": [0]}])),
            set("/groups/1/members/0/rounds/0/legs", legs.clone()),
        ]
    };
    let starts =
        |second: u32| vec![set("/stations/1", json!([[0, 0]])), set("/turns/3/starts", json!([300, second]))];
    let found = verdict(of_instance(), starts(328));
    assert_eq!((found.breaches, found.parts.changeover_wait), (vec![], 0));
    assert_eq!(found.parts.handling, 4 + 2 + 2);
    let early = Breach { rule: 2, group: 1, member: 0, round: 0, leg: 1, seconds: 1 };
    let unloaded = Breach { rule: 4, ..early };
    assert_eq!(verdict(of_instance(), starts(327)).breaches, [early, unloaded]);
    let found = verdict(of_instance(), starts(329));
    assert_eq!((found.breaches, found.parts.changeover_wait), (vec![early], 1));
}

#[test]
fn rule_3_the_shortest_rest_and_the_walk_back() {
    let sooner = || vec![set(BENCH, json!(115)), set(AFTER_BENCH, json!(163))];
    let no_rest = set("/groups/0/rest_min", json!(0));
    each(vec![
        (vec![], sooner(), vec![(3, 0, 1, 0, 0, 5)]),
        (vec![set("/groups/0/members/1/rounds/0/rest_min", json!(55))], sooner(), vec![]),
        (
            vec![no_rest, set("/groups/0/members/1/last_round_end", json!(115))],
            vec![],
            vec![(3, 0, 1, 0, 0, 3)],
        ),
        (vec![set("/groups/0/members/0/rounds/1/rest_min", json!(130))], vec![], vec![(3, 0, 0, 1, 0, 10)]),
    ]);
}

#[test]
fn a_rest_too_long_costs_more_by_the_second() {
    let found = verdict(vec![], vec![set(BENCH, json!(175)), set(AFTER_BENCH, json!(223))]);
    assert_eq!(found.breaches, []);
    assert_eq!((found.parts.overrun, found.parts.overrun_price), (25, 15 * 30 + 10 * 100));
    // Across a missed round no rest is too long; from one round to the next it is.
    let longest = || set("/groups/0/members/0/rounds/1/rest_max", json!(70));
    assert_eq!(verdict(vec![longest()], vec![]).parts.overrun, 0);
    let found = verdict(vec![longest(), set("/groups/0/members/0/rounds/1/round", json!(2))], vec![]);
    assert_eq!((found.parts.overrun, found.parts.overrun_price), (50, 15 * 30 + 30 * 100 + 5 * 300));
}

#[test]
fn rule_4_one_turn_at_a_time_with_its_change_and_outside_windows() {
    each(vec![
        (vec![], vec![set(AT_MAT, json!(190))], vec![(4, 1, 0, 0, 0, 8)]),
        // From 245 on one plate goes on, 8 s.
        (vec![], vec![set(BENCH, json!(205)), set(AFTER_BENCH, json!(253))], vec![(4, 0, 0, 1, 0, 3)]),
        (vec![set("/plate_s", json!(1))], vec![set(BENCH, json!(205)), set(AFTER_BENCH, json!(253))], vec![]),
        (vec![set("/stations/1/busy", json!([[120, 140]]))], vec![], vec![(4, 0, 0, 0, 1, 10)]),
        // The plate comes off from 112 to 120.
        (vec![set("/stations/0/busy", json!([[110, 115]]))], vec![], vec![(4, 0, 1, 0, 0, 3)]),
        (vec![set("/stations/0/busy", json!([[110, 112]]))], vec![], vec![]),
        // The pin: nobody moves it for equal loads, and an unknown one is moved.
        (
            vec![set("/stations/1/load", json!(null)), set("/stations/1/free_at", json!(98))],
            vec![],
            vec![(4, 0, 0, 0, 1, 1)],
        ),
        (vec![set("/stations/1/free_at", json!(100))], vec![], vec![]),
        // An unknown bar counts as empty: one plate on for member 1, one more for member 0.
        (
            vec![set("/stations/0/load", json!(null)), set("/stations/0/free_at", json!(113))],
            vec![],
            vec![(4, 0, 1, 0, 0, 1)],
        ),
    ]);
}

#[test]
fn rule_5_one_bar_at_a_time_with_the_walk_and_outside_windows() {
    each(vec![
        (vec![set("/coaches/0/busy", json!([[150, 170]]))], vec![], vec![(5, 0, 1, 0, 0, 10)]),
        (
            vec![set("/coaches/0/at", json!(1)), set("/coaches/0/free_at", json!(118))],
            vec![],
            vec![(5, 0, 1, 0, 0, 2)],
        ),
        (vec![set("/coaches/0/free_at", json!(120))], vec![], vec![]),
        // Spotted from the tenth second on.
        (vec![set("/coaches/1/busy", json!([[250, 262]]))], vec![], vec![(5, 0, 0, 1, 0, 2)]),
        (vec![set("/coaches/1/busy", json!([[250, 260]]))], vec![], vec![]),
        // The other coach spots member 1 until 160 and has 6 s to walk from the bench to the mat.
        (
            vec![
                set("/groups/0/members/1/rounds/0/coach", json!(1)),
                set("/groups/1/members/0/rounds/0/legs/0/spot", json!(true)),
            ],
            vec![set(AT_MAT, json!(150))],
            // The mat is taken until 170, and the next exercise comes at 168.
            vec![(4, 0, 1, 0, 1, 2), (5, 1, 0, 0, 0, 16)],
        ),
    ]);
}

/// Member 1 has three short rounds before the next of member 0.
fn three_short_rounds() -> (Changes, Changes) {
    let round = |number: u32| json!({"round": number, "legs": [turn(10, json!([20000]), false), null]});
    let of_instance = vec![
        set("/groups/0/rest_min", json!(20)),
        set("/groups/0/members/1/rounds", json!([round(1), round(2), round(3)])),
    ];
    let entry =
        |round: u32, start: u32| json!({"group": 0, "member": 1, "round": round, "starts": [start, null]});
    let of_timetable =
        vec![set("/turns/2", entry(0, 120)), set("/turns/4", entry(1, 150)), set("/turns/5", entry(2, 180))];
    (of_instance, of_timetable)
}

#[test]
fn rule_6_members_alternate() {
    // Two rounds lie between those of member 0, so that the third of member 1 is one too many.
    let (of_instance, of_timetable) = three_short_rounds();
    each(vec![(of_instance, of_timetable, vec![(6, 0, 1, 2, 0, 70)])]);
    // With the next round, and there all the time, member 0 comes before each of them.
    let (mut of_instance, of_timetable) = three_short_rounds();
    of_instance.push(set("/groups/0/members/0/rounds/1/round", json!(2)));
    of_instance.push(("/groups/0/members/0/rounds/1/not_before", Put::Gone));
    each(vec![(of_instance, of_timetable, vec![(6, 0, 1, 1, 0, 100), (6, 0, 1, 2, 0, 70)])]);
    // At another bench they do not meet.
    let (mut of_instance, mut of_timetable) = three_short_rounds();
    of_instance.push(set("/groups/0/legs/0/eligible", json!([0, 2])));
    of_timetable.push(set("/stations/0/1", json!([2, 1])));
    of_timetable.push(set(AT_MAT, json!(190)));
    each(vec![(of_instance, of_timetable, vec![])]);
}

#[test]
fn rule_6_a_given_order_is_kept() {
    each(vec![
        (vec![set("/groups/0/order", json!([0, 1]))], vec![], vec![(6, 0, 1, 0, 0, 130)]),
        (vec![set("/groups/0/order", json!([1]))], vec![], vec![]),
        (vec![set("/groups/0/order", json!(null))], vec![], vec![]),
    ]);
}

#[test]
fn rule_7_one_group_at_a_time() {
    let at_stack = |at: u32| vec![set("/stations/1", json!([[1]])), set(AT_MAT, json!(at))];
    let may =
        || vec![set("/groups/1/legs/0/eligible", json!([1])), set("/groups/1/members/0/release", json!(0))];
    let with = |more: Changes| may().into_iter().chain(more).collect::<Changes>();
    // Group 0 is there until 130 only.
    each(vec![(may(), at_stack(140), vec![])]);
    // With member 1 there too it is there until 195.
    let both = [at_stack(140), vec![set("/stations/0/1/1", json!(1)), set(AFTER_BENCH, json!(165))]].concat();
    each(vec![
        (may(), both.clone(), vec![(7, 1, 0, 0, 0, 55)]),
        (with(vec![set("/stations/1/work_in", json!(true))]), both.clone(), vec![]),
    ]);
    // The place is the group's first turn there, however many there are.
    let later = || {
        let round = |number: u32| json!({"round": number, "legs": [turn(20, Value::Null, false)]});
        set("/groups/1/members/0/rounds", json!([round(0), round(1)]))
    };
    let entry = json!({"group": 1, "member": 0, "round": 1, "starts": [230]});
    let twice = [both.clone(), vec![set("/turns/4", entry)]].concat();
    each(vec![(with(vec![later()]), twice, vec![(7, 1, 0, 0, 0, 55)])]);
    // Who holds it has it from now on: somebody else before the first turn is in the way.
    let first = || [at_stack(100), vec![set(UNDER_WAY, json!(120))]].concat();
    each(vec![
        (may(), first(), vec![(7, 1, 0, 0, 0, 50)]),
        (with(vec![("/groups/0/holds", Put::Gone)]), first(), vec![]),
        // Without a turn there a hold means nothing.
        (vec![set("/groups/1/holds", json!([0])), set("/stations/0/work_in", json!(false))], vec![], vec![]),
    ]);
}

#[test]
fn the_door_and_being_late_home_have_their_prices() {
    let found = verdict(vec![], vec![set(AT_MAT, json!(500))]);
    assert_eq!((found.parts.door, found.parts.door_price), (350, 50 * 20));
    let found = verdict(vec![set("/groups/0/members/1/due", json!(150))], vec![]);
    assert_eq!((found.parts.tardy, found.objective), (48, 8_464 + 48 * 20));
    let found = verdict(vec![set("/groups/0/members/0/rounds/0/told/1", json!(112))], vec![]);
    assert_eq!((found.parts.told, found.objective), (7, 8_464 + 7 * 20));
}

/// A plan that cannot keep a rule says so, with the seconds, and is valid for that.
#[test]
fn what_is_listed_must_be_what_is_broken() {
    let instance = read([]);
    let broken = Breach { rule: 2, group: 0, member: 1, round: 0, leg: 1, seconds: 3 };
    let listed = |seconds: u32| json!([{"rule": 2, "group": 0, "member": 1, "round": 0, "leg": 1, "seconds": seconds}]);
    let faults = |changes: Changes| judge(&instance, changes).faults;
    let early = || set(AFTER_BENCH, json!(165));
    assert_eq!(faults(vec![early()]), [Fault::NotListed(broken)]);
    assert_eq!(faults(vec![early(), set("/breaches", listed(3))]), []);
    let other = faults(vec![early(), set("/breaches", listed(4))]);
    assert_eq!(other, [Fault::OtherSeconds { found: broken, listed: 4 }]);
    assert_eq!(faults(vec![set("/breaches", listed(3))]), [Fault::NotBroken(broken)]);
    let words: Vec<String> =
        [Fault::NotListed(broken), other[0], Fault::NotBroken(broken)].map(|f| f.to_string()).into();
    assert_eq!(
        words,
        [
            "rule 2: group 0 member 1 round 0 leg 1: broken by 3 s",
            "rule 2: group 0 member 1 round 0 leg 1: broken by 3 s, listed with 4 s",
            "rule 2: group 0 member 1 round 0 leg 1: listed but not broken",
        ]
    );
    // In whatever order.
    let text = small::timetable().to_string();
    let mut timetable = read_timetable(&text, &instance).expect("no mistakes");
    timetable.turns.reverse();
    assert!(check(&instance, &timetable).expect("one of the instance").is_valid());
}

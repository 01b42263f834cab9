//! Figures worked out by hand from the closed forms, for a pair of 55 s and 45 s with 5 s between them.

use std::num::NonZeroU8;

use turnabout_protocol::units::Secs;
use turnabout_server::timetable::rotation::{
    Admission, Equal, Fit, Pace, Pair, admission, fit, shortest_cycle,
};

use crate::{pace, pair};

const NO_WAIT: Option<Secs> = Some(Secs(0));

/// tA 55, tB 45, w 5, cA 12, cB 3, rest 75 to 105.
fn bench_and_row() -> (Pair, Pace) {
    (pair(5, [12, 3]), pace([55, 45], 75, 105))
}

fn equal(members: u8) -> Equal {
    let (pair, pace) = bench_and_row();
    Equal { pair, pace, members: NonZeroU8::new(members).unwrap() }
}

#[test]
fn one_to_four_members_in_four_rounds() {
    // k: cycle, rest, block of four rounds, bench use in per cent
    let table =
        [(1, 180, 75, 645, 31), (2, 180, 75, 712, 61), (3, 201, 96, 842, 82), (4, 268, 163, 1_110, 82)];
    for (members, cycle, rest, block, bench) in table {
        let equal = equal(members);
        let found = (equal.cycle().0, equal.rest().0, equal.block(NonZeroU8::new(4).unwrap()).0);
        assert_eq!(found, (cycle, rest, block), "{members} members");
        assert_eq!(equal.bench_use().percent(), bench, "{members} members");
    }
}

#[test]
fn three_stay_in_the_window_and_a_fourth_does_not() {
    let (pair, pace) = bench_and_row();
    assert_eq!(Equal::most(&pair, &pace, NO_WAIT), Some(3));
    // (55 + 5 + 45 + 105 + 57) / 67 is just below 4, a second more is 4.
    assert_eq!(Equal::most(&pair, &pace, Some(Secs(57))), Some(3));
    assert_eq!(Equal::most(&pair, &pace, Some(Secs(58))), Some(4));
    assert_eq!(Equal::most(&pair, &pace, None), None, "who may wait for ever can always be joined");
    assert_eq!(fit(&pair, &[pace; 3], NO_WAIT), Ok(Fit::Fits));
    let Fit::TooLarge { overrun, split } = fit(&pair, &[pace; 4], NO_WAIT).unwrap() else {
        panic!("four fit");
    };
    assert_eq!(overrun, Secs(163 - 105));
    let split = split.unwrap();
    assert_eq!((split.halves, split.overruns), ([vec![0, 1], vec![2, 3]], [Secs(0), Secs(0)]));
}

#[test]
fn a_change_longer_than_any_good_rest_leaves_room_for_nobody() {
    let slow = pair(5, [600, 3]);
    assert_eq!(Equal::most(&slow, &bench_and_row().1, NO_WAIT), Some(0));
}

#[test]
fn one_may_join_two_and_two_may_not() {
    let (pair, pace) = bench_and_row();
    let one = admission(&pair, &[pace; 2], &[pace], NO_WAIT).unwrap();
    assert_eq!(one, Admission { first: Secs(201), second: Secs(144), limit: Some(Secs(210)) });
    assert!(one.carries());
    let two = admission(&pair, &[pace; 2], &[pace; 2], NO_WAIT).unwrap();
    assert_eq!(two, Admission { first: Secs(268), second: Secs(192), limit: Some(Secs(210)) });
    assert!(!two.carries());
}

#[test]
fn the_second_station_alone_can_refuse() {
    let (pair, quick) = (pair(5, [0, 40]), pace([20, 70], 30, 60));
    let three = admission(&pair, &[quick; 2], &[quick], NO_WAIT).unwrap();
    assert_eq!((three.first, three.second, three.limit), (Secs(60), Secs(330), Some(Secs(155))));
    assert!(!three.carries());
}

#[test]
fn without_a_longest_rest_anybody_may_join() {
    let loose = Pace::new([Secs(55), Secs(45)], Secs(75), None).unwrap();
    let crowd = admission(&bench_and_row().0, &[loose; 9], &[loose], NO_WAIT).unwrap();
    assert!(crowd.carries());
    assert_eq!(crowd.limit, None);
}

#[test]
fn pairing_saves_a_rest_less_a_walk_in_every_round() {
    let ((pair, pace), four) = (bench_and_row(), NonZeroU8::new(4).unwrap());
    assert_eq!(pace.paired(&pair, four), Secs(645));
    assert_eq!(pace.straight(&pair, four), Secs(4 * 100 + 7 * 75));
    assert_eq!(pace.saved_by_pairing(&pair, four), Secs(4 * 70));
}

#[test]
fn the_order_of_unequal_members_counts() {
    // Without walk and changes: 0, 1, 2 takes max(10, 40 - 30) + max(30, 40 - 20) + max(20, 60 - 10) = 90,
    // 0, 2, 1 takes max(10, 40 - 20) + max(20, 60 - 30) + max(30, 40 - 10) = 80.
    let members = [[10, 30], [30, 10], [20, 40]].map(|lengths| pace(lengths, 0, 3_600));
    let cycle = shortest_cycle(&pair(0, [0, 0]), &members).unwrap();
    assert_eq!((cycle.length, cycle.order), (Secs(80), vec![0, 2, 1]));
}

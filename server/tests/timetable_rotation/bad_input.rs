//! What is no rotation says which figure is wrong and what would be allowed.

use turnabout_protocol::units::Secs;
use turnabout_server::timetable::rotation::{
    LONGEST, MOST_TRIED, Pace, Pair, RotationError, admission, fit, shortest_cycle,
};

use crate::{pace, pair};

fn said(lengths: [u32; 2], rest_min: u32, rest_max: Option<u32>) -> String {
    Pace::new(lengths.map(Secs), Secs(rest_min), rest_max.map(Secs)).unwrap_err().to_string()
}

#[test]
fn a_pace_without_sense_is_refused() {
    assert_eq!(said([0, 45], 75, Some(105)), "first turn: 0 s, at least 1 s is allowed");
    assert_eq!(said([55, 0], 75, Some(105)), "second turn: 0 s, at least 1 s is allowed");
    assert_eq!(said([55, 3_601], 75, None), "second turn: 3601 s, at most 3600 s are allowed");
    assert_eq!(said([55, 45], u32::MAX, None), "rest_min: 4294967295 s, at most 3600 s are allowed");
    assert_eq!(said([55, 45], 75, Some(3_601)), "rest_max: 3601 s, at most 3600 s are allowed");
    assert_eq!(said([55, 45], 75, Some(74)), "rest_max: 74 s, at least rest_min, 75 s, is allowed");
}

#[test]
fn a_pair_without_sense_is_refused() {
    let said = |walk, changes| Pair::new(walk, changes).unwrap_err().to_string();
    assert_eq!(said(Secs(3_601), [Secs(0); 2]), "walk: 3601 s, at most 3600 s are allowed");
    assert_eq!(said(Secs(0), [Secs(9_999), Secs(0)]), "first change: 9999 s, at most 3600 s are allowed");
    assert_eq!(said(Secs(0), [Secs(0), Secs(9_999)]), "second change: 9999 s, at most 3600 s are allowed");
}

#[test]
fn nobody_and_too_many_are_refused() {
    let (pair, pace) = (pair(5, [12, 3]), pace([55, 45], 75, 105));
    assert_eq!(shortest_cycle(&pair, &[]), Err(RotationError::NoMembers));
    assert_eq!(fit(&pair, &[], None), Err(RotationError::NoMembers));
    assert_eq!(admission(&pair, &[pace], &[], None), Err(RotationError::NoMembers));
    let many = RotationError::TooMany { found: MOST_TRIED + 1, most: MOST_TRIED };
    assert_eq!(shortest_cycle(&pair, &[pace; 6]), Err(many));
    assert_eq!(fit(&pair, &[pace; 6], Some(Secs(0))), Err(many));
    assert_eq!(many.to_string(), "members: 6, at most 5 are allowed");
}

#[test]
fn the_longest_times_of_all_overflow_nowhere() {
    use std::num::NonZeroU8;
    use turnabout_server::timetable::rotation::Equal;

    let pair = Pair::new(LONGEST, [LONGEST; 2]).unwrap();
    let pace = Pace::new([LONGEST; 2], LONGEST, Some(LONGEST)).unwrap();
    let all = Equal { pair, pace, members: NonZeroU8::MAX };
    assert_eq!(all.cycle(), Secs(255 * 7_200));
    assert_eq!(all.block(NonZeroU8::MAX), Secs(254 * 255 * 7_200 + 254 * 7_200 + 3 * 3_600));
    assert_eq!(all.bench_use().percent(), 50);
    assert_eq!(Equal::most(&pair, &pace, Some(Secs(u32::MAX))), Some(u32::MAX / 7_200));
    assert_eq!(shortest_cycle(&pair, &[pace; 5]).unwrap().length, Secs(5 * 7_200));
}

//! Groups that are too large, parted on two pairs.

use std::collections::BTreeSet;

use proptest::prelude::*;
use turnabout_protocol::units::Secs;
use turnabout_server::timetable::rotation::{Fit, Pace, Pair, fit, shortest_cycle};

use crate::{pace, pair};

/// By how much the rest of whom it is worst for overruns, by the definition.
fn overrun(pair: &Pair, members: &[Pace], wait: Secs) -> Secs {
    let cycle = shortest_cycle(pair, members).unwrap().length.0;
    let over = |pace: &Pace| cycle.saturating_sub(pace.longest_cycle(pair, Some(wait)).unwrap().0);
    Secs(members.iter().map(over).max().unwrap())
}

proptest! {
    #[test]
    fn no_other_split_has_a_better_worse_half(
        lengths in prop::collection::vec([5_u32..60, 5_u32..60], 1..=5),
        changes in [0_u32..30, 0_u32..30],
        window in (0_u32..60, 0_u32..30),
        wait in 0_u32..10,
    ) {
        let (pair, wait) = (pair(3, changes), Secs(wait));
        let members: Vec<_> = lengths.iter().map(|&lengths| pace(lengths, window.0, window.0 + window.1)).collect();
        let whole = overrun(&pair, &members, wait);
        let of = |half: &BTreeSet<usize>| {
            overrun(&pair, &half.iter().map(|&member| members[member]).collect::<Vec<_>>(), wait)
        };
        let everybody: BTreeSet<usize> = (0..members.len()).collect();
        let least = (1..(1_usize << members.len()) - 1)
            .map(|bits| everybody.iter().copied().partition::<BTreeSet<_>, _>(|member| bits >> member & 1 == 1))
            .map(|(one, other)| of(&one).max(of(&other)))
            .min();
        match fit(&pair, &members, Some(wait)).unwrap() {
            Fit::Fits => prop_assert_eq!(whole, Secs(0)),
            Fit::TooLarge { overrun, split: None } => {
                prop_assert_eq!(overrun, whole);
                prop_assert!(least.is_none_or(|least| least >= whole), "a split would help");
            }
            Fit::TooLarge { overrun, split: Some(split) } => {
                prop_assert_eq!(overrun, whole);
                prop_assert_eq!(Some(split.overruns[0].max(split.overruns[1])), least);
                let halves = split.halves.map(|half| half.into_iter().collect::<BTreeSet<_>>());
                prop_assert_eq!(halves.each_ref().map(of), split.overruns);
                prop_assert!(halves[0].contains(&0) && halves[0].is_disjoint(&halves[1]));
                prop_assert_eq!(&halves[0] | &halves[1], everybody);
            }
        }
    }
}

#[test]
fn the_slow_are_put_together_where_that_helps_the_quick() {
    // Two who need two minutes at the bench and two who need twenty seconds, with rests of at most a minute: a slow
    // one keeps a quick one waiting, wherever they stand.
    let (slow, quick) = (pace([120, 20], 30, 130), pace([20, 20], 30, 60));
    let Fit::TooLarge { overrun, split } =
        fit(&pair(0, [0, 0]), &[slow, quick, slow, quick], Some(Secs(0))).unwrap()
    else {
        panic!("they fit");
    };
    assert_eq!(overrun, Secs(280 - 100));
    let split = split.unwrap();
    assert_eq!((split.halves, split.overruns), ([vec![0, 2], vec![1, 3]], [Secs(0), Secs(0)]));
}

#[test]
fn one_alone_who_overruns_cannot_be_parted() {
    // The way back is longer than the longest good rest.
    let far = pair(60, [0, 0]);
    let alone = fit(&far, &[pace([30, 30], 10, 40)], Some(Secs(0)));
    assert_eq!(alone, Ok(Fit::TooLarge { overrun: Secs(20), split: None }));
    let two = fit(&far, &[pace([30, 30], 10, 40); 2], Some(Secs(0)));
    assert_eq!(two, Ok(Fit::TooLarge { overrun: Secs(20), split: None }), "two pairs would do no better");
}

#[test]
fn who_may_wait_without_limit_fits() {
    assert_eq!(fit(&pair(5, [12, 3]), &[pace([55, 45], 75, 105); 5], None), Ok(Fit::Fits));
}

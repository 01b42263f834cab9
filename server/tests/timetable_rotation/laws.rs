//! The closed forms beside rotations laid out second by second.

use std::num::NonZeroU8;

use proptest::prelude::*;
use turnabout_protocol::units::Secs;
use turnabout_server::timetable::rotation::{Equal, Fit, Pace, admission, fit, shortest_cycle};

use crate::dial::{Case, Member, as_early_as_possible};

const NO_WAIT: Option<Secs> = Some(Secs(0));

fn member() -> impl Strategy<Value = Member> {
    ([1_u32..7, 1_u32..7], 0_u32..9).prop_map(|(lengths, rest)| Member { lengths, rest })
}

/// Up to so many members who differ.
fn unequal(most: usize) -> impl Strategy<Value = Case> {
    (0_u32..3, [0_u32..4, 0_u32..4], prop::collection::vec(member(), 1..=most))
        .prop_map(|(walk, changes, members)| Case { walk, changes, members })
}

/// Up to five members who are alike.
fn equal() -> impl Strategy<Value = Case> {
    (0_u32..3, [0_u32..4, 0_u32..4], member(), 1_usize..=5).prop_map(|(walk, changes, one, count)| Case {
        walk,
        changes,
        members: vec![one; count],
    })
}

fn as_equal(case: &Case, slack: u32) -> Equal {
    let members = NonZeroU8::new(u8::try_from(case.members.len()).unwrap()).unwrap();
    Equal { pair: case.pair(), pace: case.paces(slack)[0], members }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn the_shortest_cycle_is_the_one_that_the_dial_finds(case in unequal(5)) {
        let found = shortest_cycle(&case.pair(), &case.paces(0)).unwrap();
        prop_assert_eq!(found.length, case.shortest());
    }

    #[test]
    fn alike_members_need_what_the_dial_finds(case in equal()) {
        let equal = as_equal(&case, 0);
        prop_assert_eq!(equal.cycle(), case.shortest());
        prop_assert_eq!(shortest_cycle(&case.pair(), &case.paces(0)).unwrap().length, equal.cycle());
    }

    #[test]
    fn the_order_given_keeps_its_cycle_when_it_is_gone_through(case in unequal(5)) {
        let found = shortest_cycle(&case.pair(), &case.paces(0)).unwrap();
        // Longer than any way of settling down: it gains at least a second a round on what is not the bottleneck.
        let starts = as_early_as_possible(&case, &found.order, 200);
        for (last, before) in starts[199].iter().zip(&starts[198]) {
            prop_assert_eq!(last - before, found.length.0);
        }
    }

    #[test]
    fn a_block_lasts_as_long_as_gone_through(case in equal(), rounds in 1_u8..7) {
        let equal = as_equal(&case, 0);
        let order: Vec<usize> = (0..case.members.len()).collect();
        let starts = as_early_as_possible(&case, &order, usize::from(rounds));
        let last = starts.last().unwrap().last().unwrap();
        let one = case.members[0];
        let end = last + one.lengths[0] + case.walk + one.lengths[1];
        prop_assert_eq!(equal.block(NonZeroU8::new(rounds).unwrap()), Secs(end));
        let rest = starts.get(1).map(|second| second[0] - (one.lengths[0] + case.walk + one.lengths[1]));
        prop_assert_eq!(rest.unwrap_or(equal.rest().0), equal.rest().0);
        prop_assert_eq!(equal.bench_use().part.0, case.members.len() as u32 * one.lengths[0]);
        prop_assert_eq!(equal.bench_use().whole, equal.cycle());
    }

    #[test]
    fn no_cycle_is_shorter_than_anybodys_own(case in unequal(5)) {
        let found = shortest_cycle(&case.pair(), &case.paces(0)).unwrap();
        for pace in case.paces(0) {
            prop_assert!(found.length >= pace.own_cycle(&case.pair()));
        }
    }

    #[test]
    fn the_most_members_fit_and_one_more_does_not(case in equal(), slack in 0_u32..20) {
        let (pair, pace) = (case.pair(), case.paces(slack)[0]);
        let most = Equal::most(&pair, &pace, NO_WAIT).unwrap();
        for members in 1..=5_u32 {
            let fits = fit(&pair, &vec![pace; members as usize], NO_WAIT).unwrap() == Fit::Fits;
            prop_assert_eq!(fits, members <= most, "{} of {}", members, most);
            let last = vec![pace; members as usize - 1];
            prop_assert_eq!(admission(&pair, &last, &[pace], NO_WAIT).unwrap().carries(), members <= most);
        }
    }

    #[test]
    fn who_is_refused_fits_in_no_order(case in unequal(5), slack in 0_u32..15, wait in 0_u32..5) {
        let (pair, paces) = (case.pair(), case.paces(slack));
        let wait = Some(Secs(wait));
        let all = admission(&pair, &paces[1..], &paces[..1], wait).unwrap();
        let cycle = shortest_cycle(&pair, &paces).unwrap().length;
        prop_assert!(all.first.max(all.second) <= cycle);
        prop_assert!(all.carries() || fit(&pair, &paces, wait).unwrap() != Fit::Fits);
    }

    #[test]
    fn pairing_saves_the_difference(case in unequal(1), rounds in 1_u8..9) {
        let (pair, one, walk) = (case.pair(), case.members[0], case.walk);
        let (pace, rounds) = (case.paces(0)[0], NonZeroU8::new(rounds).unwrap());
        // Set after set, as a clock would count it.
        let gone = |between: [u32; 2]| {
            let lengths = one.lengths.iter().cycle().zip(between.iter().cycle());
            let sets = lengths.take(2 * usize::from(rounds.get()));
            Secs(sets.map(|(length, pause)| length + pause).sum::<u32>() - between[1])
        };
        let rest = one.rest.max(walk);
        prop_assert_eq!(pace.paired(&pair, rounds), gone([walk, rest]));
        prop_assert_eq!(pace.straight(&pair, rounds), gone([rest, rest]));
        let saved = Pace::straight(&pace, &pair, rounds).0 - pace.paired(&pair, rounds).0;
        prop_assert_eq!(pace.saved_by_pairing(&pair, rounds), Secs(saved));
    }
}

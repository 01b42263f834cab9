//! Turns at one bar whose clients keep their own order, beside trying every order.

use proptest::prelude::*;
use turnabout_server::loading::bar::{
    Finder, Free, Loaded, MOST_STANDS, OwnOrder, Plate, SequenceError, Side, Starts, Turn, WaysAllowed,
};

use crate::brute::{self, Rules};
use crate::sequences::{fewest_moves, orders, stacks};
use crate::world::{FIRST, bar, finder, kg, loaded, set};

fn usual() -> Finder {
    let plates = [(25.0, 4), (20.0, 4), (15.0, 4), (10.0, 4), (5.0, 4), (2.5, 4), (1.25, 4)];
    finder(&set(vec![bar(20.0, 0.0)], &plates))
}

fn turns(turns: &[(u8, f64)]) -> Vec<Turn> {
    turns.iter().map(|(client, target)| Turn { client: *client, target: kg(*target) }).collect()
}

fn ask(asked: &[Turn]) -> OwnOrder {
    usual().own_order(FIRST, Some(&loaded(&[])), asked, WaysAllowed::Fewest).unwrap()
}

/// The clients of the best order, and the plate moves of both orders, computed by hand.
#[track_caller]
fn check(asked: &[(u8, f64)], best_order: &[u8], given: u32, best: u32) {
    let told = ask(&turns(asked));
    let least = told.best.expect("few enough");
    assert_eq!(least.turns.iter().map(|turn| turn.client).collect::<Vec<_>>(), best_order);
    assert_eq!((told.given.effort.moves, least.effort.moves), (given, best), "{asked:?}");
}

#[test]
fn clients_keep_their_order_and_others_go_between() {
    // 60 is 20 on each side, 42.5 is 10 + 1.25: every change takes three plates on each side, the first one.
    check(&[(0, 60.0), (1, 42.5), (0, 60.0), (1, 42.5)], &[0, 0, 1, 1], 2 * (1 + 3 * 3), 2 * (1 + 3));
    // Client 0 goes up to 62.5 and comes back: client 1 goes in between, where the bar is at 62.5 anyway.
    check(&[(0, 60.0), (0, 62.5), (0, 60.0), (1, 62.5)], &[0, 0, 1, 0], 2 * (1 + 1 + 1 + 1), 2 * (1 + 1 + 1));
    // Nothing is better than one client's own order, or than the given one.
    check(&[(0, 60.0), (0, 42.5), (0, 60.0)], &[0, 0, 0], 2 * (1 + 3 + 3), 2 * (1 + 3 + 3));
    check(&[(0, 60.0), (1, 65.0)], &[0, 1], 2 * 2, 2 * 2);
}

#[test]
fn a_turn_says_where_it_stood() {
    let best = ask(&turns(&[(0, 60.0), (1, 42.5), (2, 60.0), (3, 42.5)])).best.unwrap();
    // 60 first: beginning with 42.5 takes one plate more.
    let places: Vec<usize> = best.turns.iter().map(|turn| turn.round).collect();
    assert_eq!(places, [0, 2, 1, 3], "turns of one load stay in the order in which they were given");
}

#[test]
fn too_many_orders_are_not_looked_through() {
    // Eleven loads that are free of each other have 2^11 stands; so many of one load as there may be have 25.
    let free: Vec<Turn> =
        (0..11).map(|n| Turn { client: n, target: kg(60.0 + 2.5 * f64::from(n)) }).collect();
    let told = ask(&free);
    assert_eq!((told.best, told.stands), (None, 2_048));
    assert_eq!(told.given.turns.len(), 11);
    let told = ask(&free[..10]);
    assert_eq!((told.best.is_some(), told.stands), (true, 1_024));
    let alike: Vec<Turn> = (0..24).map(|client| Turn { client, target: kg(60.0) }).collect();
    let told = ask(&alike);
    assert_eq!((told.best.is_some(), told.stands), (true, 25));
    assert!(told.stands < MOST_STANDS);
}

#[test]
fn bounds_are_told() {
    let ask = |asked: &[Turn]| usual().own_order(FIRST, None, asked, WaysAllowed::Fewest);
    let many = turns(&[(0, 60.0); 25]);
    assert_eq!(ask(&many), Err(SequenceError::TooManyTurns(25)));
    assert_eq!(ask(&[]).map(|told| told.given.turns.len()), Ok(0));
    let error = ask(&turns(&[(0, 60.0), (1, 61.0)])).unwrap_err();
    assert!(matches!(error, SequenceError::Turn { round: 1, client: 1, .. }), "{error}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn no_allowed_order_has_fewer_moves(
        plates in prop::collection::vec((1_u8..8, 1_u8..3), 1..4),
        picks in prop::collection::vec((0_u8..4, 0_usize..1_000), 1..6),
        on_now in prop::collection::vec(0_usize..3, 0..3),
    ) {
        let mut plates = plates;
        plates.sort_unstable();
        plates.dedup_by_key(|(number, _)| *number);
        let listed: Vec<(f64, u8)> = plates.iter().map(|(n, pairs)| (f64::from(*n), 2 * pairs)).collect();
        let set = set(vec![bar(20.0, 0.0)], &listed);
        let rules = Rules {
            kinds: set.inventory().kinds(),
            pairs: set.inventory().kinds().iter().map(|kind| kind.count / 2).collect(),
            sleeve: None,
            from_the_floor: false,
        };
        let all = brute::all_sides(&rules);
        let finder = Finder::new(&set, &Free::all(set.inventory()), Starts::Racked);
        let now: Vec<Plate> =
            on_now.iter().filter_map(|at| Some(set.inventory().kinds().get(*at)?.plate)).collect();
        let on_now = Loaded {
            bar: FIRST,
            side: Side::new(now.clone()),
        };
        let asked: Vec<Turn> = picks
            .iter()
            .map(|(client, pick)| {
                let side = brute::mass(&all[pick % all.len()]);
                Turn { client: *client, target: kg(20.0) + side + side }
            })
            .collect();
        let fewest = |order: &[usize]| {
            let loads: Vec<_> =
                order.iter().map(|at| stacks(&all, asked[*at].target, WaysAllowed::Fewest)).collect();
            u32::try_from(2 * fewest_moves(&now, &loads)).unwrap()
        };
        let places: Vec<usize> = (0..asked.len()).collect();
        let allowed = |order: &Vec<usize>| {
            let before = |a: usize, b: usize| order.iter().position(|at| *at == a) < order.iter().position(|at| *at == b);
            let kept = |(a, b): (usize, usize)| asked[a].client != asked[b].client || before(a, b);
            places.iter().flat_map(|a| places[..*a].iter().map(|b| (*b, *a))).all(kept)
        };
        let least = orders(&places).iter().filter(|order| allowed(order)).map(|order| fewest(order)).min();
        let told = finder.own_order(FIRST, Some(&on_now), &asked, WaysAllowed::Fewest).unwrap();
        prop_assert_eq!(told.given.effort.moves, fewest(&places));
        let best = told.best.unwrap();
        prop_assert_eq!(Some(best.effort.moves), least);
        let order: Vec<usize> = best.turns.iter().map(|turn| turn.round).collect();
        prop_assert_eq!(orders(&places).contains(&order), true, "every turn once");
        prop_assert!(allowed(&order));
        for planned in &best.turns {
            prop_assert_eq!(planned.card.total, asked[planned.round].target);
        }
    }
}

//! Loads one after another on one bar, beside trying everything.

use std::collections::BTreeMap;

use proptest::prelude::*;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::loading::bar::{
    BarSet, Finder, Free, Inventory, LoadError, Loaded, Order, Plate, Sequence, SequenceError, Side, Starts,
    Turn, WaysAllowed,
};

use crate::brute::{self, Rules};
use crate::world::{FIRST, bar, finder, full, kg, kind, loaded, numbers, set, small};

const BAR: f64 = 20.0;

fn rounds(targets: &[&[f64]]) -> Vec<Vec<Turn>> {
    let round = |round: &&[f64]| {
        (0..).zip(*round).map(|(client, target)| Turn { client, target: kg(*target) }).collect()
    };
    targets.iter().map(round).collect()
}

fn sides(sequence: &Sequence) -> Vec<Vec<String>> {
    sequence.turns.iter().map(|turn| numbers(&turn.card.loaded.side)).collect()
}

fn usual() -> BarSet {
    let plates = [(25.0, 4), (20.0, 4), (15.0, 4), (10.0, 4), (5.0, 4), (2.5, 4), (1.25, 4)];
    set(vec![bar(BAR, 0.0)], &plates)
}

#[test]
fn what_two_clients_share_stays_inside() {
    // 100 is 25 + 15 or 20 + 20, 90 is 25 + 10 or 20 + 15: whoever takes 15 inside, or 25, moves one plate a
    // side.
    let sequence = finder(&usual())
        .sequence(FIRST, None, &rounds(&[&[100.0, 90.0], &[100.0, 90.0]]), WaysAllowed::Fewest)
        .unwrap();
    assert_eq!(sides(&sequence), [["25", "15"], ["25", "10"], ["25", "15"], ["25", "10"]]);
    assert_eq!(sequence.effort.moves, 4 + 3 * 4);
    assert!(sequence.whole);
}

#[test]
fn one_plate_more_may_save_handling() {
    let asked = rounds(&[&[110.0, 120.0], &[110.0, 120.0]]);
    let moves = |ways| finder(&usual()).sequence(FIRST, None, &asked, ways).unwrap().effort.moves;
    // 25 + 20 and 25 + 25 change two plates a side; 25 + 20 and 25 + 20 + 5 one.
    assert_eq!((moves(WaysAllowed::Fewest), moves(WaysAllowed::OneMore)), (4 + 3 * 4, 4 + 3 * 2));
}

#[test]
fn another_order_may_save_handling_and_says_how_much() {
    let finder = finder(&usual());
    let round: &[f64] = &[60.0, 140.0, 62.5, 142.5];
    let asked = rounds(&[round; 2]);
    let on_now = loaded(&[]);
    let propose = |order| finder.propose(FIRST, Some(&on_now), &asked, WaysAllowed::Fewest, order).unwrap();
    for order in [Order::SameEachRound, Order::InsideRounds] {
        let proposal = propose(order);
        assert!(proposal.best.effort.moves < proposal.given.effort.moves, "{order:?}");
        assert!(proposal.best.effort.alone < proposal.given.effort.alone, "{order:?}");
    }
    let free = propose(Order::InsideRounds).best;
    let clients: Vec<u8> = free.turns.iter().map(|turn| turn.client).collect();
    assert_ne!(clients[3], clients[4], "nobody goes twice running");
}

#[test]
fn a_load_that_cannot_be_put_on_is_named_with_its_turn() {
    let asked = rounds(&[&[60.0, 61.0]]);
    let error = finder(&usual()).sequence(FIRST, None, &asked, WaysAllowed::Fewest).unwrap_err();
    let SequenceError::Turn { round: 0, client: 1, error: LoadError::NotBuilt(not) } = error else {
        panic!()
    };
    assert_eq!(not.nearest.above.map(|near| near.total), Some(kg(62.5)));
}

#[test]
fn bounds_are_told() {
    let finder = finder(&usual());
    let ask = |asked: &[Vec<Turn>]| {
        finder.sequence(FIRST, None, asked, WaysAllowed::Fewest).map(|sequence| sequence.turns.len())
    };
    let round = vec![Turn { client: 1, target: kg(60.0) }];
    assert_eq!(ask(&vec![round.clone(); 24]), Ok(24));
    assert_eq!(ask(&vec![round.clone(); 25]), Err(SequenceError::TooManyTurns(25)));
    assert_eq!(ask(&[]), Ok(0));
    assert_eq!(ask(&rounds(&[&[60.0; 5]])), Err(SequenceError::TooManyClients(5)));
    assert_eq!(ask(&[[round.clone(), round].concat()]), Err(SequenceError::Twice { round: 0, client: 1 }));
}

/// A few plates, what is on now, and loads of three clients in two rounds.
#[derive(Clone, Debug)]
struct Case {
    plates: Vec<(f64, u8, bool)>,
    on_now: Vec<usize>,
    picks: Vec<Vec<usize>>,
    ways: WaysAllowed,
    starts: Starts,
}

fn cases() -> impl Strategy<Value = Case> {
    let plates = prop::collection::vec((1_u8..8, 1_u8..3, any::<bool>()), 1..5);
    let picks = prop::collection::vec(prop::collection::vec(0_usize..1_000, 1..4), 1..3);
    let rest = (prop::collection::vec(0_usize..4, 0..4), any::<bool>(), any::<bool>());
    (plates, picks, rest).prop_map(|(plates, picks, (on_now, one_more, floor))| {
        let mut kinds: BTreeMap<u8, (u8, bool)> = BTreeMap::new();
        for (number, pairs, is_full) in plates {
            kinds.insert(number, (pairs, is_full));
        }
        Case {
            plates: kinds
                .into_iter()
                .map(|(n, (pairs, is_full))| (f64::from(n), 2 * pairs, is_full))
                .collect(),
            on_now,
            picks,
            ways: if one_more { WaysAllowed::OneMore } else { WaysAllowed::Fewest },
            starts: if floor { Starts::FromTheFloor } else { Starts::Racked },
        }
    })
}

/// Every order of the plates of every allowed way.
pub(crate) fn stacks(all: &[Vec<Plate>], target: Mass, ways: WaysAllowed) -> Vec<Vec<Plate>> {
    let right = |side: &&Vec<Plate>| kg(BAR) + brute::mass(side) + brute::mass(side) == target;
    let fewest = all.iter().filter(right).map(Vec::len).min().unwrap();
    let most = fewest + usize::from(ways == WaysAllowed::OneMore);
    all.iter().filter(right).filter(|side| side.len() <= most).cloned().collect()
}

/// The fewest plate moves of one side over the loads in this order: from every stack of one load to every stack
/// of the next.
pub(crate) fn fewest_moves(now: &[Plate], loads: &[Vec<Vec<Plate>>]) -> usize {
    let mut reached = vec![(now.to_vec(), 0)];
    for stacks in loads {
        let best = |to: &Vec<Plate>| reached.iter().map(|(from, cost)| cost + brute::moves(from, to)).min();
        reached = stacks.iter().map(|to| (to.clone(), best(to).unwrap())).collect();
    }
    reached.into_iter().map(|(_, cost)| cost).min().unwrap()
}

pub(crate) fn orders<T: Clone>(items: &[T]) -> Vec<Vec<T>> {
    if items.is_empty() {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for at in 0..items.len() {
        let mut rest = items.to_vec();
        let first = rest.remove(at);
        all.extend(orders(&rest).into_iter().map(|order| [vec![first.clone()], order].concat()));
    }
    all
}

/// Every allowed order.
fn allowed(rounds: &[Vec<Turn>], order: Order) -> Vec<Vec<Turn>> {
    match order {
        Order::SameEachRound => {
            let clients: Vec<u8> = (0..3).collect();
            let sorted = |order: &Vec<u8>| {
                let place = |turn: &Turn| order.iter().position(|client| *client == turn.client);
                let sort = |round: &Vec<Turn>| {
                    let mut round = round.clone();
                    round.sort_by_key(place);
                    round
                };
                rounds.iter().flat_map(sort).collect()
            };
            orders(&clients).iter().map(sorted).collect()
        }
        Order::InsideRounds => {
            let mut all: Vec<(Vec<Turn>, usize)> = vec![(Vec::new(), 0)];
            for round in rounds {
                let fits = |(before, alone): &(Vec<Turn>, usize), next: &[Turn]| {
                    let both_alone = *alone == 1 && next.len() == 1;
                    both_alone || before.last().map(|turn| turn.client) != Some(next[0].client)
                };
                let next = all.iter().flat_map(|before| {
                    let next = orders(round).into_iter().filter(|next| fits(before, next));
                    next.map(|next| ([before.0.clone(), next].concat(), round.len())).collect::<Vec<_>>()
                });
                all = next.collect();
            }
            all.into_iter().map(|(turns, _)| turns).collect()
        }
    }
}

fn check(case: &Case) -> Result<(), TestCaseError> {
    let plate = |n: f64, is_full: bool| if is_full { full(n) } else { small(n) };
    let kinds = case.plates.iter().map(|(n, count, is_full)| kind(plate(*n, *is_full), *count)).collect();
    let set = BarSet::new(Inventory::new(MassUnit::Kg, kinds).unwrap(), vec![bar(BAR, 0.0)]).unwrap();
    let finder = Finder::new(&set, &Free::all(set.inventory()), case.starts);
    let from_the_floor = case.starts == Starts::FromTheFloor;
    let kinds = set.inventory().kinds();
    let pairs = kinds.iter().map(|kind| kind.count / 2).collect();
    let all = brute::all_sides(&Rules { kinds, pairs, sleeve: None, from_the_floor });
    if all.is_empty() {
        return Ok(());
    }
    let target = |pick: &usize| {
        let side = brute::mass(&all[pick % all.len()]);
        kg(BAR) + side + side
    };
    let turn = |(client, pick): (u8, &usize)| Turn { client, target: target(pick) };
    let asked: Vec<Vec<Turn>> = case.picks.iter().map(|r| (0..).zip(r).map(turn).collect()).collect();
    let now: Vec<Plate> = case.on_now.iter().filter_map(|at| Some(kinds.get(*at)?.plate)).collect();
    let on_now = Loaded { bar: FIRST, side: Side::new(now.clone()) };
    let by_target: BTreeMap<Mass, Vec<Vec<Plate>>> =
        asked.iter().flatten().map(|turn| (turn.target, stacks(&all, turn.target, case.ways))).collect();
    let fewest = |order: &[Turn]| {
        let loads: Vec<_> = order.iter().map(|turn| by_target[&turn.target].clone()).collect();
        u32::try_from(2 * fewest_moves(&now, &loads)).unwrap()
    };
    let given = asked.concat();
    for order in [Order::SameEachRound, Order::InsideRounds] {
        let proposal = finder.propose(FIRST, Some(&on_now), &asked, case.ways, order).unwrap();
        prop_assert_eq!(proposal.given.effort.moves, fewest(&given));
        let orders = allowed(&asked, order);
        let best = orders.iter().map(|order| fewest(order)).chain([fewest(&given)]).min().unwrap();
        prop_assert_eq!(proposal.best.effort.moves, best, "{:?}", order);
        for sequence in [&proposal.given, &proposal.best] {
            prop_assert!(sequence.whole);
            sound(&set, &on_now, &asked, sequence)?;
            let stack = |turn: &Turn, side: &Side| by_target[&turn.target].iter().any(|s| s == side.plates());
            for planned in &sequence.turns {
                let turn = Turn { client: planned.client, target: planned.card.total };
                prop_assert!(stack(&turn, &planned.card.loaded.side));
            }
        }
    }
    Ok(())
}

/// Every turn is there, each card is exact and leads on from the one before.
fn sound(set: &BarSet, now: &Loaded, asked: &[Vec<Turn>], sequence: &Sequence) -> Result<(), TestCaseError> {
    let mut before = now.clone();
    let mut moves = 0;
    for planned in &sequence.turns {
        let turn = asked[planned.round].iter().find(|turn| turn.client == planned.client);
        prop_assert_eq!(turn.map(|turn| turn.target), Some(planned.card.total));
        prop_assert_eq!(set.total(&planned.card.loaded), Some(planned.card.total));
        moves += 2 * brute::moves(before.side.plates(), planned.card.loaded.side.plates());
        before = planned.card.loaded.clone();
    }
    prop_assert_eq!(sequence.turns.len(), asked.iter().map(Vec::len).sum::<usize>());
    prop_assert_eq!(u32::try_from(moves).unwrap(), sequence.effort.moves);
    let order: Vec<usize> = sequence.turns.iter().map(|turn| turn.round).collect();
    prop_assert!(order.is_sorted(), "rounds stay in order");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_500))]

    #[test]
    fn the_least_handling_is_what_trying_everything_finds(case in cases()) {
        check(&case)?;
    }
}

#[test]
fn a_full_group_in_five_rounds_is_exact() {
    let set = usual();
    let finder = finder(&set);
    let kinds = set.inventory().kinds();
    let pairs = kinds.iter().map(|kind| kind.count / 2).collect();
    let all = brute::all_sides(&Rules { kinds, pairs: fewer(pairs), sleeve: None, from_the_floor: false });
    let round: &[f64] = &[100.0, 72.5, 90.0, 60.0];
    let asked = rounds(&[round; 5]);
    let sequence = finder.sequence(FIRST, None, &asked, WaysAllowed::Fewest).unwrap();
    let loads: Vec<_> =
        asked.iter().flatten().map(|turn| stacks(&all, turn.target, WaysAllowed::Fewest)).collect();
    assert_eq!(sequence.effort.moves, u32::try_from(2 * fewest_moves(&[], &loads)).unwrap());
    assert!(sequence.whole);
}

/// At most one pair of each of the small plates, which is all that these loads can use with the fewest plates.
fn fewer(mut pairs: Vec<u8>) -> Vec<u8> {
    for pairs in pairs.iter_mut().skip(2) {
        *pairs = 1;
    }
    pairs
}

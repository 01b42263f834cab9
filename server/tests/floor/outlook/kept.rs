//! An order that outlives the problem it was found for.

use std::collections::BTreeMap;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::ClientId;
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::outlook::kept::{KeptOrder, PlacedOrder};
use turnabout_server::floor::outlook::{Cuts, Outlook, RoundKey};
use turnabout_server::floor::state::State;
use turnabout_server::timetable::instance::At;

use super::outlook;
use crate::histories::always_the_same;
use crate::world::*;

/// The sequence as people and rounds.
fn told(outlook: &Outlook, order: &PlacedOrder) -> Vec<(ClientId, RoundKey)> {
    let one = |at: &turnabout_server::floor::outlook::kept::PlacedRound| {
        let client = outlook.who.clients(at.group).nth(at.member).unwrap();
        (client, outlook.who.rounds(at.group, at.member)[at.round])
    };
    order.sequence.iter().map(one).collect()
}

/// Every remaining round once, each client's in their order, at stations that suit.
fn whole(outlook: &Outlook, order: &PlacedOrder) {
    let mut next: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for at in &order.sequence {
        let round = next.entry((at.group, at.member)).or_default();
        assert_eq!(at.round, *round, "in their order");
        *round += 1;
        assert!(at.earliest == At(0) || at.earliest > outlook.instance.now);
    }
    for (place, group) in outlook.instance.groups.iter().enumerate() {
        assert_eq!(order.stations[place].len(), group.members.len());
        for (member, of) in group.members.iter().enumerate() {
            assert_eq!(next.get(&(place, member)), Some(&of.rounds.len()), "all of them");
            let stations = &order.stations[place][member];
            match &of.stations {
                Some(settled) => assert_eq!(stations, settled),
                None => {
                    let suits = |(station, choice): (&usize, &Vec<usize>)| choice.contains(station);
                    assert!(stations.iter().zip(&group.eligible).all(suits));
                }
            }
        }
        assert!(!group.together || order.stations[place].windows(2).all(|pair| pair[0] == pair[1]));
    }
}

#[test]
fn an_order_fits_every_later_problem_of_random_histories() {
    let mut changed = 0;
    for entries in always_the_same(60) {
        let (mut state, mut cuts, mut kept) = (State::new(), Cuts::default(), KeptOrder::default());
        for entry in entries {
            evolve(&mut state, &entry);
            let outlook = Outlook::of(&state, entry.recorded, &mut cuts);
            let order = kept.fitted(&outlook);
            whole(&outlook, &order);
            let again = kept.keep(&outlook, &order);
            assert_eq!(again.fitted(&outlook), order, "what was kept comes back");
            changed += usize::from(again != kept);
            kept = again;
        }
    }
    assert!(changed > 500, "{changed}");
}

#[test]
fn an_order_without_a_past_takes_turns() {
    let outlook = outlook(&World::with_pair_on());
    let order = KeptOrder::default().fitted(&outlook);
    let rounds = [RoundKey::Technique, RoundKey::Working(1), RoundKey::Working(2)];
    let wanted: Vec<_> = rounds.into_iter().flat_map(|round| [(DARA, round), (EDDA, round)]).collect();
    assert_eq!(told(&outlook, &order), wanted);
}

#[test]
fn the_rotation_stays_that_of_the_plan_when_somebody_has_begun() {
    let mut world = World::with_pair_on();
    let before = outlook(&world);
    let mut order = KeptOrder::default().fitted(&before);
    // Whoever plans may let Edda go first.
    order.sequence.chunks_mut(2).for_each(|pair| pair.swap(0, 1));
    let kept = KeptOrder::default().keep(&before, &order);
    assert_eq!(kept.fitted(&before), order);
    world.sets(AYLA, PAIR, EDDA, &[(0, 0)]);
    let after = outlook(&world);
    let fitted = kept.fitted(&after);
    let [technique, first, second] = [RoundKey::Technique, RoundKey::Working(1), RoundKey::Working(2)];
    assert_eq!(
        told(&after, &fitted),
        [(EDDA, technique), (DARA, technique), (EDDA, first), (DARA, first), (EDDA, second), (DARA, second)]
    );
}

#[test]
fn done_rounds_drop_out_and_whoever_is_behind_goes_first() {
    let mut world = World::with_pair_on();
    let before = outlook(&world);
    let kept = KeptOrder::default().keep(&before, &KeptOrder::default().fitted(&before));
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    let after = outlook(&world);
    let [technique, first, second] = [RoundKey::Technique, RoundKey::Working(1), RoundKey::Working(2)];
    assert_eq!(
        told(&after, &kept.fitted(&after)),
        [(EDDA, technique), (DARA, first), (EDDA, first), (DARA, second), (EDDA, second)]
    );
}

#[test]
fn new_rounds_come_where_as_many_rounds_have_gone() {
    let mut world = World::with_pair_on();
    let before = outlook(&world);
    let kept = KeptOrder::default().keep(&before, &KeptOrder::default().fitted(&before));
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let after = outlook(&world);
    let clients: Vec<ClientId> = told(&after, &kept.fitted(&after)).into_iter().map(|at| at.0).collect();
    assert_eq!(clients, [DARA, EDDA, FARID, DARA, EDDA, FARID, DARA, EDDA, FARID]);
}

#[test]
fn an_earliest_start_is_kept_until_it_is_past() {
    let mut world = World::with_pair_on();
    let before = outlook(&world);
    let mut order = KeptOrder::default().fitted(&before);
    order.sequence[3].earliest = At(before.instance.now.0 + 100);
    let kept = KeptOrder::default().keep(&before, &order);
    world.pass(50);
    let after = outlook(&world);
    assert_eq!(kept.fitted(&after).sequence[3].earliest, order.sequence[3].earliest);
    world.pass(50);
    let after = outlook(&world);
    assert_eq!(kept.fitted(&after).sequence[3].earliest, At(0));
}

#[test]
fn a_station_is_kept_while_it_suits() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let revision = world.revision(LATER);
    world.accept(&coach(AYLA), Act::AskStations { group: LATER, block: 0, revision });
    let before = outlook(&world);
    let group = before.who.group(LATER).unwrap();
    let mut order = KeptOrder::default().fitted(&before);
    let place = |outlook: &Outlook, id| outlook.who.station(id).unwrap();
    assert_eq!(order.stations[group][0], [place(&before, BENCH), place(&before, ROW)], "the first that suit");
    order.stations[group][0] = vec![place(&before, BENCH_2), place(&before, ROW)];
    let kept = KeptOrder::default().keep(&before, &order);
    assert_eq!(kept.fitted(&before).stations, order.stations);
    let defect = turnabout_protocol::command::Defect::Frame;
    world.accept(&coach(AYLA), Act::OutOfService { station: BENCH_2, defect });
    let after = outlook(&world);
    assert_eq!(kept.fitted(&after).stations[group][0], [place(&after, BENCH), place(&after, ROW)]);
}

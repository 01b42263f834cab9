//! Two groups that want the same bench, from the first claim to the last.

use turnabout_protocol::command::Act;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::view::Stage;

use crate::world::*;

#[test]
fn the_second_group_gets_the_bench_when_the_first_is_done_and_nobody_ever_shares_a_station() {
    let mut world = World::with_pair_on();
    let wanted = |revision| Act::TakeStations {
        group: SINGLE,
        block: 0,
        stations: vec![BENCH, ROW_2],
        revision,
        despite: None,
    };
    world.refuse(&coach(BRAM), wanted(0), Refusal::StationTaken { station: BENCH, group: PAIR });
    assert_eq!(world.state.stations[&ROW_2].claim, None, "all or none");

    for round in 0..=2 {
        for leg in 0..=1 {
            for client in [DARA, EDDA] {
                world.whole_set(AYLA, turn(PAIR, client, round, leg));
            }
        }
        world.pass(90);
    }
    world.accept(&coach(AYLA), Act::FreeStations { group: PAIR, block: 0, bar: None });
    world.accept(&coach(BRAM), wanted(0));
    for round in 0..=2 {
        world.whole_set(BRAM, turn(SINGLE, FARID, round, 0));
        world.whole_set(BRAM, turn(SINGLE, FARID, round, 1));
        world.pass(60);
    }
    world.pass(120);
    for group in [PAIR, SINGLE] {
        let (plan, now) = world.state.group(group).unwrap();
        assert_eq!(now.stage(plan), Stage::Finished);
    }
    assert!(world.state.stations.values().all(|s| s.claim.is_none() && s.on.is_none()));
    assert_eq!(world.replayed(), world.state);
}

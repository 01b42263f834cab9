//! Groups that wait for their stations.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_server::floor::outlook::Outlook;

use super::{group_of, outlook};
use crate::world::*;

fn ask(world: &mut World, group: GroupId) {
    let revision = world.revision(group);
    world.accept(&coach(AYLA), Act::AskStations { group, block: 0, revision });
}

fn eligible(outlook: &Outlook, group: GroupId) -> Vec<Vec<StationId>> {
    let id = |place: &usize| outlook.who.stations()[*place];
    group_of(outlook, group).eligible.iter().map(|choice| choice.iter().map(id).collect()).collect()
}

#[test]
fn whoever_waits_may_have_every_station_that_suits_and_can_be_used() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    ask(&mut world, LATER);
    let waits = outlook(&world);
    assert!(!waits.who.has_stations(waits.who.group(LATER).unwrap()));
    assert_eq!(eligible(&waits, LATER), [vec![BENCH, BENCH_2], vec![ROW, ROW_2]]);
    let group = group_of(&waits, LATER);
    assert!(group.together && group.holds.is_empty() && group.order.is_empty());
    assert!(group.members.iter().all(|member| member.stations.is_none() && !member.has_begun()));
    let defect = turnabout_protocol::command::Defect::Frame;
    world.accept(&coach(AYLA), Act::OutOfService { station: BENCH_2, defect });
    assert_eq!(eligible(&outlook(&world), LATER)[0], [BENCH], "what is broken is not waited for");
    world.accept(&coach(AYLA), Act::OutOfService { station: BENCH, defect });
    assert_eq!(eligible(&outlook(&world), LATER)[0], [BENCH, BENCH_2], "unless there is nothing else");
}

#[test]
fn whoever_has_not_asked_is_not_planned() {
    let mut world = World::with_pair_on();
    assert_eq!(outlook(&world).who.group(LATER), None);
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    ask(&mut world, LATER);
    assert!(outlook(&world).who.group(LATER).is_some());
    world.accept(&coach(AYLA), Act::WithdrawAsk { group: LATER });
    assert_eq!(outlook(&world).who.group(LATER), None);
}

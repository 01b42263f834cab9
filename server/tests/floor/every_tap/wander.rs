//! Evenings at random: of the same taps as in the table, aimed at whoever, any, at any time. Whatever is
//! accepted, the invariants hold after every entry, and the journal alone leads to the same state.

use proptest::prelude::*;
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::GroupId;
use turnabout_server::floor::config::{ScreeningPolicy, Sharing};

use super::phases::floor_with;
use super::taps::{Who, at_the_station, by_the_coach};
use crate::world::*;

/// How many evenings; each is up to 120 taps.
const EVENINGS: u32 = 1_000;

const EVERYBODY: [Who; 4] = [
    Who { group: PAIR, client: DARA, mate: EDDA },
    Who { group: PAIR, client: EDDA, mate: DARA },
    Who { group: SINGLE, client: FARID, mate: FARID },
    Who { group: LATER, client: GRETA, mate: GRETA },
];

#[derive(Clone, Copy, Debug)]
enum Step {
    /// The n-th of all taps, aimed at somebody, by the coach or at the station.
    Any(usize, usize, bool),
    /// What brings somebody on.
    Usual(usize),
    /// Time goes on.
    Pass(i64),
    /// The server was down.
    Down(i64),
}

fn step() -> impl Strategy<Value = Step> {
    let who = 0..EVERYBODY.len();
    prop_oneof![
        5 => (who.clone(), 0_usize..100, any::<bool>()).prop_map(|(who, n, coach)| Step::Any(who, n, coach)),
        9 => who.prop_map(Step::Usual),
        3 => (0_i64..90).prop_map(Step::Pass),
        1 => (0_i64..1_200).prop_map(Step::Pass),
        1 => (0_i64..4_000).prop_map(Step::Down),
    ]
}

/// A floor where everything is shared that can be, with everybody there and briefed.
fn world() -> World {
    let mut world = floor_with(ScreeningPolicy::NotAsked);
    let mut floor = world.state.floor.clone();
    floor.stations.values_mut().for_each(|station| station.sharing = Sharing::Open);
    let by = turnabout_protocol::role::Actor::Floor;
    world.take(by, world.now, turnabout_server::floor::event::Event::FloorSet(Box::new(floor)));
    world.all_arrive();
    world.accept(&coach(AYLA), Act::Brief { group: PAIR, clients: vec![DARA, EDDA], skipped: true });
    world
}

/// The taps that an evening by the book is made of.
const USUAL: [&str; 7] =
    ["confirm_load", "go", "done", "pass_technique", "resume", "free_stations", "arrive"];

fn usual(world: &mut World, who: Who) {
    let Who { group, .. } = who;
    if world.state.groups[&group].claim.is_none() {
        take(world, group);
    }
    for name in USUAL {
        for (speaker, named) in by_the_coach(world, who) {
            if named.name == name {
                world.tap(&speaker, named.act);
            }
        }
        if name == "go" {
            world.pass(70);
        }
    }
}

/// Any stations that the group may have.
fn take(world: &mut World, group: GroupId) {
    let now = &world.state.groups[&group];
    let (block, revision) = (now.block, now.revision);
    for stations in [[BENCH, ROW], [BENCH_2, ROW_2], [BENCH, ROW_2]] {
        let stations = stations.to_vec();
        world.tap(&coach(AYLA), Act::TakeStations { group, block, stations, revision, despite: None });
    }
}

fn run(world: &mut World, step: Step) {
    match step {
        Step::Any(who, n, by_coach) => {
            let who = EVERYBODY[who];
            let mut taps = if by_coach { by_the_coach(world, who) } else { at_the_station(world, who) };
            let (speaker, named) = taps.swap_remove(n % taps.len());
            // An evening that is over is no evening.
            if named.name != "end_session" {
                world.tap(&speaker, named.act);
            }
        }
        Step::Usual(who) => usual(world, EVERYBODY[who]),
        Step::Pass(secs) => world.pass(secs),
        Step::Down(secs) => world.down(secs),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: EVENINGS, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_tapped_the_invariants_hold(steps in proptest::collection::vec(step(), 1..120)) {
        let mut world = world();
        for step in steps {
            run(&mut world, step);
        }
        prop_assert_eq!(world.replayed(), world.state);
    }
}

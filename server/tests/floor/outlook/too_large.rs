//! A group that is larger than its rests allow.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::ClientId;
use turnabout_protocol::units::Secs;
use turnabout_protocol::view::{TooLargePart, View};
use turnabout_server::floor::config::Client;
use turnabout_server::floor::outlook::too_large::{OnTwo, TooLarge, planned};
use turnabout_server::floor::views::Watch;

use crate::world::*;

const HANA: ClientId = ClientId(108);
const ILSE: ClientId = ClientId(109);
const FOUR: [(ClientId, i64, i64); 4] = [(DARA, 60, 50), (EDDA, 40, 35), (HANA, 50, 45), (ILSE, 30, 25)];

/// By hand, from the rule `floor((tA + w + tB + rest_max + s) / m)` in `rotation.rs`: at the bench 13 s to get set, 40 s
/// of work, 4 s to rack and at least 8 s for a plate a side, 65 s; four of them 260 s. Both sets take 57 s and 55 s, the
/// way and the wait 20 s, and of the longest rest 107 s lie between two turns: 239 s.
#[test]
fn four_clients_are_too_many_by_what_the_closed_form_says() {
    let floor = floor();
    let ids = FOUR.map(|one| one.0);
    let split = OnTwo { clients: [vec![DARA, EDDA], vec![HANA, ILSE]], overrun: Secs(0) };
    let too_large = TooLarge { overrun: Secs(21), split: Some(split) };
    assert_eq!(planned(&floor, &block(&FOUR), &ids), Some(too_large));
    assert_eq!(planned(&floor, &block(&FOUR), &ids[..3]), None, "three take 195 s");
    // Loads that two share may need no change: four take 228 s. At the row the pins still differ: 55 s and 3 s, 232 s.
    let alike = FOUR.map(|(id, _, row)| (id, 60, row));
    let found = planned(&floor, &block(&alike), &ids).map(|found| found.overrun);
    assert_eq!(found, None);
}

#[test]
fn other_blocks_than_pairs_have_no_such_limit() {
    let (floor, ids) = (floor(), FOUR.map(|one| one.0));
    let mut drop_set = block(&FOUR);
    drop_set.legs[1].in_place = true;
    assert_eq!(planned(&floor, &drop_set, &ids), None);
    let mut one = block(&FOUR);
    one.legs.truncate(1);
    assert_eq!(planned(&floor, &one, &ids), None);
}

#[test]
fn the_coach_reads_it_until_the_block_has_begun() {
    let mut world = World::other(|_, programme| {
        let pair = programme.groups.get_mut(&PAIR).unwrap();
        pair.clients = FOUR.map(|one| one.0).to_vec();
        pair.blocks = vec![block(&FOUR)];
        for (id, ..) in FOUR {
            programme.clients.insert(id, Client { regular: true, ..Client::default() });
        }
    });
    let told = |world: &World, by| {
        let View::Coach(page) = world.view(&Watch::Coach(by)) else { panic!("a coach's page") };
        page.groups.into_iter().find(|group| group.group == PAIR).unwrap().too_large
    };
    let split = Some([vec![DARA, EDDA], vec![HANA, ILSE]]);
    let part = Some(TooLargePart { overrun: Secs(21), split });
    assert_eq!(told(&world, AYLA), part);
    assert_eq!(told(&world, BRAM), None, "no group of his");
    let clients = FOUR.map(|one| one.0).to_vec();
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    assert_eq!(told(&world, AYLA), part);
    let mut three = world.clone();
    three.accept(&coach(AYLA), Act::Leave { group: PAIR, client: ILSE });
    assert_eq!(told(&three, AYLA), None, "three find their rests");
    world.begin(AYLA, turn(PAIR, DARA, 0, 0));
    assert_eq!(told(&world, AYLA), None);
}

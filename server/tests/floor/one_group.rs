//! A client trains with one group at a time, whatever the programme and whoever taps.

use turnabout_protocol::command::{Act, Reason};
use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::view::View;
use turnabout_server::floor::changes::set_programme;
use turnabout_server::floor::config::Programme;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::invariants::{self, Broken};
use turnabout_server::floor::views::Watch;

use crate::undo::Desk;
use crate::world::*;

/// Dara is in two groups, as in a programme in which they train at different times.
fn twice(programme: &mut Programme) {
    programme.groups.insert(SINGLE, programme.groups[&PAIR].clone());
    programme.groups.get_mut(&SINGLE).unwrap().coach = BRAM;
}

fn arrive(group: GroupId, clients: &[ClientId]) -> Act {
    Act::Arrive { group, clients: clients.to_vec() }
}

fn elsewhere(group: GroupId) -> Refusal {
    Refusal::ClientElsewhere { client: DARA, group }
}

/// Dara is there, with the pair.
fn with_the_pair() -> World {
    let mut world = World::other(|_, programme| twice(programme));
    world.accept(&coach(AYLA), arrive(PAIR, &[DARA]));
    world
}

#[test]
fn who_trains_with_one_group_arrives_in_no_other_until_that_is_over_or_left() {
    let mut world = with_the_pair();
    world.refuse(&coach(BRAM), arrive(SINGLE, &[DARA]), elsewhere(PAIR));
    // Nobody arrives by halves.
    world.refuse(&coach(BRAM), arrive(SINGLE, &[EDDA, DARA]), elsewhere(PAIR));
    world.accept(&coach(BRAM), arrive(SINGLE, &[EDDA]));
    let mut left = world.clone();
    left.accept(&coach(AYLA), Act::Leave { group: PAIR, client: DARA });
    left.accept(&coach(BRAM), arrive(SINGLE, &[DARA]));
    left.refuse(&coach(AYLA), arrive(PAIR, &[DARA]), elsewhere(SINGLE));
    world.accept(&coach(AYLA), Act::EndSession { group: PAIR, reason: Reason::ShortOfTime });
    world.accept(&coach(BRAM), arrive(SINGLE, &[DARA]));
}

#[test]
fn the_page_asks_for_nobody_who_trains_elsewhere() {
    let asked = |world: &World, group: GroupId| {
        let View::Coach(page) = world.view(&Watch::Coach(BRAM)) else { panic!("a coach's view") };
        let taps = page.groups.into_iter().find(|of| of.group == group).unwrap().taps;
        taps.into_iter().find_map(|tap| match tap.act {
            Act::Arrive { clients, .. } => Some(clients),
            _ => None,
        })
    };
    let mut world = World::other(|_, programme| twice(programme));
    assert_eq!(asked(&world, SINGLE), Some(vec![DARA, EDDA]));
    world.accept(&coach(AYLA), arrive(PAIR, &[DARA]));
    assert_eq!(asked(&world, SINGLE), Some(vec![EDDA]));
    world.accept(&coach(AYLA), arrive(PAIR, &[EDDA]));
    assert_eq!(asked(&world, SINGLE), None);
}

#[test]
fn leaving_is_not_taken_back_by_who_trains_elsewhere_meanwhile() {
    let mut desk = Desk::at(with_the_pair());
    let left = desk.tap(&coach(AYLA), Act::Leave { group: PAIR, client: DARA }).unwrap();
    desk.tap(&coach(BRAM), arrive(SINGLE, &[DARA])).unwrap();
    assert_eq!(desk.undo(&coach(AYLA), left), Err(Refusal::LaterRestsOnIt));
}

#[test]
fn another_programme_takes_nobody_into_a_second_group() {
    // Dara has come to one group; another programme has her in a second one too, or moves her there.
    let mut world = World::empty();
    world.accept(&coach(AYLA), arrive(PAIR, &[DARA]));
    let mut both = world.state.programme.clone();
    twice(&mut both);
    let mut moved = both.clone();
    moved.groups.get_mut(&PAIR).unwrap().clients.retain(|client| *client != DARA);
    for (programme, refused) in [(both, Some(elsewhere(PAIR))), (moved, None)] {
        let mut world = world.clone();
        let event = set_programme(&world.state, programme).expect("nobody has begun").expect("it is another");
        world.take(Actor::Floor, world.now, event);
        match refused {
            Some(refusal) => world.refuse(&coach(BRAM), arrive(SINGLE, &[DARA]), refusal),
            None => world.accept(&coach(BRAM), arrive(SINGLE, &[DARA])),
        }
    }
}

#[test]
fn a_journal_in_which_somebody_is_in_two_groups_is_a_fault() {
    let mut world = with_the_pair();
    let event = Event::ClientsArrived { group: SINGLE, clients: vec![DARA] };
    let entry = turnabout_server::floor::event::Entry {
        sequence: world.state.sequence + 1,
        recorded: world.now,
        at: world.now,
        by: coach(BRAM).actor,
        event,
    };
    turnabout_server::floor::evolve::evolve(&mut world.state, &entry);
    assert_eq!(invariants::check(&world.state), Err(Broken::OneGroupAClient { client: DARA }));
}

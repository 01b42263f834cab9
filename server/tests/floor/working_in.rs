//! Stations that two groups share.

use turnabout_protocol::command::{Act, BarLeft};
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_server::floor::config::Sharing;

use crate::world::*;

fn take(world: &World, group: GroupId, stations: &[StationId]) -> Act {
    let revision = world.revision(group);
    Act::TakeStations { group, block: 0, stations: stations.to_vec(), revision, despite: None }
}

/// The pair has bench 1 and row 1, of which the bench is shared like this.
fn shared(sharing: Sharing) -> World {
    let mut world = World::other_with_all(|floor, _| {
        floor.stations.get_mut(&BENCH).unwrap().sharing = sharing;
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world
}

#[test]
fn an_open_station_is_shared_by_two_groups_and_no_third() {
    let mut world = shared(Sharing::Open);
    world.claim(BRAM, SINGLE, &[BENCH, ROW_2]);
    let third = take(&world, LATER, &[BENCH, ROW_2]);
    world.refuse(&coach(AYLA), third, Refusal::StationTaken { station: BENCH, group: SINGLE });
    let (dara, farid) = (turn(PAIR, DARA, 0, 0), turn(SINGLE, FARID, 0, 0));
    world.begin(AYLA, dara);
    // Turns alternate: nobody starts, and nobody changes plates, while the other group is on it.
    let busy = Refusal::StationBusy { station: BENCH, turn: dara };
    world.refuse(&coach(BRAM), Act::ConfirmLoad { turn: farid }, busy.clone());
    world.refuse(&coach(BRAM), Act::Go { turn: farid }, busy);
    world.pass(60);
    world.done(AYLA, dara);
    // The same empty bar is on it: nothing has changed since it was confirmed.
    world.begin(BRAM, farid);
    world.pass(60);
    world.done(BRAM, farid);
    world.accept(&coach(BRAM), Act::PassTechnique { turn: farid });
    world.sets(BRAM, SINGLE, FARID, &[(0, 1), (1, 0)]);
    // Farid's 70 kg are on the bar now, and what Edda confirms is the bar alone.
    let edda = turn(PAIR, EDDA, 0, 0);
    world.refuse(&coach(AYLA), Act::Go { turn: edda }, Refusal::LoadNotConfirmed);
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: edda });
    world.accept(&coach(AYLA), Act::Go { turn: edda });
}

#[test]
fn leave_is_given_by_the_holder_and_to_one_group() {
    let mut world = shared(Sharing::Ask);
    let single = take(&world, SINGLE, &[BENCH, ROW_2]);
    let later = take(&world, LATER, &[BENCH, ROW_2]);
    let needed = Refusal::LeaveNeeded { station: BENCH, group: PAIR };
    world.refuse(&coach(BRAM), single.clone(), needed.clone());
    let leave = |station, group| Act::GiveLeave { station, group };
    world.refuse(&coach(AYLA), leave(ROW_2, SINGLE), Refusal::NotReserved);
    world.refuse(&coach(AYLA), leave(ROW, SINGLE), Refusal::NotShared { station: ROW });
    world.accept(&coach(AYLA), leave(BENCH, SINGLE));
    assert_eq!(world.already(&coach(BRAM), leave(BENCH, SINGLE)).by, coach(AYLA).actor);
    world.refuse(&coach(AYLA), later, needed);
    world.accept(&coach(BRAM), single);
    assert_eq!(world.state.stations[&BENCH].work_in, Some(SINGLE));
    world.refuse(&coach(AYLA), leave(BENCH, LATER), Refusal::NotShared { station: BENCH });
}

#[test]
fn a_station_is_not_shared_where_its_floor_says_so() {
    let mut world = shared(Sharing::Never);
    let single = take(&world, SINGLE, &[BENCH, ROW_2]);
    world.refuse(&coach(BRAM), single, Refusal::StationTaken { station: BENCH, group: PAIR });
}

/// Farid is done at the bench that he holds, and Dara, whose group works in, is under the bar there.
fn holder_done_while_other_lifts() -> (World, turnabout_protocol::ids::TurnId) {
    let mut world = World::other_with_all(|floor, _| {
        floor.stations.get_mut(&BENCH).unwrap().sharing = Sharing::Open;
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.claim(AYLA, PAIR, &[BENCH, ROW_2]);
    let all = [(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)];
    world.sets(BRAM, SINGLE, FARID, &all);
    let press = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, press);
    world.pass(15);
    (world, press)
}

#[test]
fn giving_a_shared_station_back_changes_nothing_for_who_lifts_there() {
    for bar in [None, Some(BarLeft::AsItIs), Some(BarLeft::Stripped)] {
        let (mut world, press) = holder_done_while_other_lifts();
        world.accept(&coach(BRAM), Act::FreeStations { group: SINGLE, block: 0, bar });
        assert_eq!(world.state.stations[&BENCH].claim, Some(PAIR), "who worked in has it alone");
        assert_eq!(world.state.stations[&BENCH].load, Some(kilos(20)), "nobody strips a bar that is lifted");
        world.pass(60);
        world.done(AYLA, press);
    }
    // The same when nobody gives it back, or its group's session ends.
    let (mut world, press) = holder_done_while_other_lifts();
    world.pass(200);
    assert_eq!(world.state.groups[&SINGLE].claim, None);
    world.done(AYLA, press);
}

#[test]
fn a_bar_that_is_stripped_is_the_bar_alone() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)]);
    assert_eq!(world.state.stations[&BENCH].load, Some(kilos(70)));
    let free = |bar| Act::FreeStations { group: SINGLE, block: 0, bar };
    let mut left = world.clone();
    world.accept(&kiosk(&[BENCH]), free(Some(BarLeft::Stripped)));
    assert_eq!(world.state.stations[&BENCH].load, Some(kilos(20)));
    left.accept(&kiosk(&[BENCH]), free(Some(BarLeft::AsItIs)));
    assert_eq!(left.state.stations[&BENCH].load, Some(kilos(70)));
    for world in [&world, &left] {
        assert_eq!(world.state.stations[&BENCH].confirmed, None, "the next who lifts it confirms it anew");
    }
    world.refuse(&kiosk(&[BENCH]), free(None), Refusal::Over);
}

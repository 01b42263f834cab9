//! Pause, stop, calls.

use turnabout_protocol::command::{Act, CallKind, Reason, Scope, Spotter};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_server::floor::decide::{Speaker, Verdict};
use turnabout_server::floor::views::Watch;

use crate::world::*;

#[test]
fn a_held_group_starts_nothing_until_a_coach_resumes_it() {
    let press = turn(SINGLE, FARID, 0, 0);
    let stop = Act::Stop { scope: Scope::Group { group: SINGLE } };
    for (hold, refusal) in [(Act::Pause { group: SINGLE }, Refusal::Paused), (stop, Refusal::Stopped)] {
        let mut world = World::new();
        world.claim(BRAM, SINGLE, &[BENCH, ROW]);
        world.accept(&coach(BRAM), Act::ConfirmLoad { turn: press });
        world.accept(&coach(AYLA), hold.clone());
        assert!(matches!(world.tap(&coach(BRAM), hold), Verdict::Already(_)));
        world.refuse(&coach(BRAM), Act::Go { turn: press }, refusal);
        world.refuse(&kiosk(&[BENCH]), Act::Resume { group: SINGLE, client: None }, Refusal::RoleMayNot);
        world.accept(&coach(BRAM), Act::Resume { group: SINGLE, client: None });
        world.refuse(&coach(BRAM), Act::Resume { group: SINGLE, client: None }, Refusal::NotHalted);
        world.accept(&coach(BRAM), Act::Go { turn: press });
    }
}

#[test]
fn stopping_the_floor_takes_back_count_ins_and_leaves_lifts_to_be_racked() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let (lifting, counting) = (turn(PAIR, DARA, 0, 0), turn(SINGLE, FARID, 0, 0));
    world.begin(AYLA, lifting);
    world.pass(13);
    world.begin(BRAM, counting);
    world.accept(&coach(BRAM), Act::Stop { scope: Scope::Floor });
    assert_eq!(world.state.stations[&BENCH_2].on, None, "3-2-1 is taken back");
    assert_eq!(world.state.stations[&BENCH].on, Some(lifting), "a bar in the air is racked first");
    assert_eq!(world.state.spotted_by(spots(AYLA), world.now), Some(lifting), "its spotter stays");
    world.accept(&kiosk(&[BENCH]), Act::Done { turn: lifting, reps: Some(1), effort: None, ending: None });
    // A paused group is stopped all the same; one that is stopped already is not stopped twice.
    world.accept(&coach(AYLA), Act::Resume { group: PAIR, client: None });
    world.accept(&coach(AYLA), Act::Pause { group: PAIR });
    world.accept(&coach(BRAM), Act::Stop { scope: Scope::Floor });
    world.refuse(&coach(AYLA), Act::Go { turn: turn(PAIR, EDDA, 0, 0) }, Refusal::Stopped);
}

#[test]
fn whoever_is_finished_is_neither_stopped_nor_resumed() {
    let floor = || Act::Stop { scope: Scope::Floor };
    let single = |world: &World| world.state.groups[&SINGLE].clone();
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)]);
    // Stopped, alone too, while they wipe down: with their stations that is over.
    let mut wiping = world.clone();
    for scope in [Scope::Client { group: SINGLE, client: FARID }, Scope::Group { group: SINGLE }] {
        wiping.accept(&coach(BRAM), Act::Stop { scope });
    }
    wiping.pass(120);
    let now = single(&wiping);
    assert!(now.block > 0 && now.halt.is_none() && now.clients[&FARID].halt.is_none(), "{now:?}");
    wiping.refuse(&coach(BRAM), Act::Resume { group: SINGLE, client: None }, Refusal::NotHalted);
    // Finished before everybody is stopped.
    world.accept(&coach(BRAM), Act::FreeStations { group: SINGLE, block: 0, bar: None });
    for scope in [Scope::Client { group: SINGLE, client: FARID }, Scope::Group { group: SINGLE }] {
        world.refuse(&coach(BRAM), Act::Stop { scope }, Refusal::Over);
    }
    let Verdict::Accepted(events) = world.tap(&coach(BRAM), floor()) else { panic!("it is stopped") };
    let stopped: Vec<_> = events.iter().filter_map(turnabout_server::floor::event::Event::group).collect();
    assert_eq!(stopped, [PAIR, LATER]);
    assert_eq!(single(&world).halt, None);
    world.already(&coach(AYLA), floor());
    world.refuse(&coach(BRAM), Act::Resume { group: SINGLE, client: None }, Refusal::NotHalted);
    for group in [PAIR, LATER] {
        world.accept(&coach(AYLA), Act::EndSession { group, reason: Reason::Safety });
    }
    world.refuse(&coach(AYLA), floor(), Refusal::Over);
}

#[test]
fn a_call_is_seen_everywhere_it_must_be_and_made_once() {
    let mut world = World::with_pair_on();
    let call = |kind| Act::Call { station: ROW, call: kind };
    world.accept(&kiosk(&[ROW]), call(CallKind::CoachPlease));
    let again = world.tap(&kiosk(&[ROW]), call(CallKind::CoachPlease));
    assert!(matches!(again, Verdict::Already(_)), "{again:?}");
    world.accept(&kiosk(&[ROW]), call(CallKind::HelpNow));
    world.refuse(&kiosk(&[BENCH]), call(CallKind::HelpNow), Refusal::NotHere);
    for watch in [Watch::Board, Watch::Station(vec![BENCH_2]), Watch::Coach(BRAM)] {
        let help = match world.view(&watch) {
            turnabout_protocol::view::View::Station(view) => view.help,
            turnabout_protocol::view::View::Board(view) => view.help,
            turnabout_protocol::view::View::Coach(view) => view.help,
        };
        let help = help.expect("help is shown everywhere");
        assert_eq!((help.call.place.as_str(), help.emergency.number.as_str()), ("Row 1", "112"));
    }
    let help = *world.state.calls.iter().find(|(_, c)| c.kind == CallKind::HelpNow).unwrap().0;
    world.accept(&coach(AYLA), Act::Attend { call: help });
    world.refuse(&coach(AYLA), Act::Attend { call: help }, Refusal::UnknownCall);
}

#[test]
fn an_assistant_spots_and_does_not_pass_technique() {
    let mut world = World::with_pair_on();
    let assistant = Speaker { actor: Actor::Assistant { coach: AYLA }, stations: Vec::new() };
    let press = turn(PAIR, DARA, 0, 0);
    world.refuse(&assistant, Act::PassTechnique { turn: press }, Refusal::RoleMayNot);
    world.accept(&assistant, Act::ConfirmLoad { turn: press });
    let board = Speaker { actor: Actor::Board, stations: Vec::new() };
    world.refuse(&board, Act::Go { turn: press }, Refusal::RoleMayNot);
    world.accept(&assistant, Act::Go { turn: press });
    assert_eq!(world.current(press).spotter, Some(Spotter::Assistant { coach: AYLA }));
}

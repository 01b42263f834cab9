//! Pause, stop, calls.

use turnabout_protocol::command::{Act, CallKind, Ending, Reason, Scope, Spotter};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::view::{ClientSummary, NotCounted};
use turnabout_server::floor::config::Notes;
use turnabout_server::floor::decide::{Speaker, Verdict};
use turnabout_server::floor::planned;
use turnabout_server::floor::views::summary::Whose;
use turnabout_server::floor::views::{Context, Watch, summary};

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

fn done(turn: turnabout_protocol::ids::TurnId, reps: Option<u8>) -> Act {
    Act::Done { turn, reps, effort: None, ending: None }
}

#[test]
fn of_a_set_that_was_stopped_nobody_knows_the_repetitions_until_somebody_says_them() {
    let press = turn(PAIR, DARA, 0, 0);
    let group = Scope::Group { group: PAIR };
    for scope in [group, Scope::Client { group: PAIR, client: DARA }, Scope::Floor] {
        let stopped = |then: &[Act], said: Act| {
            let mut world = World::with_pair_on();
            world.begin(AYLA, press);
            world.pass(13);
            world.accept(&coach(BRAM), Act::Stop { scope });
            then.iter().for_each(|act| world.accept(&coach(AYLA), act.clone()));
            world.accept(&kiosk(&[BENCH]), said);
            world
        };
        let known = |world: &World| {
            let record = world.state.record(press).unwrap();
            (record.reps.now(), record.ending.now())
        };
        let mut world = stopped(&[], done(press, None));
        assert_eq!(known(&world), (None, Ending::Stopped));
        // Who lets the group go on before the bar is racked has not made the set whole.
        let resume = Act::Resume { group: PAIR, client: None };
        assert_eq!(known(&stopped(&[resume], done(press, None))), (None, Ending::Stopped));
        let target = world.state.record(press).unwrap().work.target();
        assert_eq!(known(&stopped(&[], done(press, Some(1)))), (Some(1), Ending::Stopped));
        assert_eq!(known(&stopped(&[], done(press, Some(target)))), (Some(target), Ending::Complete));
        world.accept(&kiosk(&[BENCH]), Act::Reps { turn: press, reps: 2 });
        assert_eq!(known(&world), (Some(2), Ending::Stopped));
        assert_eq!(world.replayed(), world.state);
    }
}

fn on_paper(world: &World) -> ClientSummary {
    let (names, notes) = (names(), Notes::new());
    let context = Context { names: &names, notes: &notes, zone_offset: 3_600, plan: &planned::NOTHING };
    let sheet = summary::sheet(&world.state, &context, AYLA, PAIR, Whose::Clients).unwrap();
    sheet.clients.into_iter().find(|summary| summary.client == DARA).unwrap()
}

#[test]
fn a_set_that_was_stopped_is_on_paper_without_a_number_and_out_of_the_volume_load() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    world.rest(PAIR, DARA);
    let press = turn(PAIR, DARA, 1, 0);
    world.begin(AYLA, press);
    world.pass(20);
    world.accept(&coach(AYLA), Act::Stop { scope: Scope::Group { group: PAIR } });
    world.accept(&kiosk(&[BENCH]), done(press, None));
    let dara = on_paper(&world);
    let set = dara.sets.last().unwrap();
    let why = Some(NotCounted::RepsUnknown);
    assert_eq!((set.turn, set.reps, set.ending, set.not_counted), (press, None, Ending::Stopped, why));
    assert_eq!((dara.volume.load, dara.volume.counted, dara.volume.left_out), (None, 0, 1));
    assert!(dara.next.is_empty(), "it says nothing of the next time");
    world.accept(&coach(AYLA), Act::Reps { turn: press, reps: 4 });
    let dara = on_paper(&world);
    assert_eq!((dara.volume.load.as_deref(), dara.volume.left_out), (Some("240"), 0));
}

#[test]
fn a_set_whose_tap_was_forgotten_before_a_stop_is_as_planned() {
    let press = turn(PAIR, DARA, 0, 0);
    for (late, ending) in [(20, Ending::Stopped), (21, Ending::Complete)] {
        let mut world = World::with_pair_on();
        world.begin(AYLA, press);
        let ends = world.current(press).ends;
        world.pass_to(ends + secs(late));
        world.accept(&coach(AYLA), Act::Stop { scope: Scope::Group { group: PAIR } });
        world.accept(&coach(AYLA), done(press, None));
        assert_eq!(world.state.record(press).unwrap().ending.now(), ending, "{late}");
    }
}

#[test]
fn what_was_put_off_stays_put_off_when_a_hold_takes_the_count_in_back() {
    let press = turn(PAIR, DARA, 1, 0);
    let group = Scope::Group { group: PAIR };
    let client = Scope::Client { group: PAIR, client: DARA };
    for hold in [Act::Stop { scope: group }, Act::Stop { scope: client }, Act::Pause { group: PAIR }] {
        let mut world = World::with_pair_on();
        world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
        world.rest(PAIR, DARA);
        world.accept(&coach(AYLA), Act::NotYet { turn: press });
        let until = world.client(PAIR, DARA).put_off.expect("it is put off");
        world.rest(PAIR, DARA);
        world.begin(AYLA, press);
        assert_eq!(world.client(PAIR, DARA).put_off, None, "it goes");
        world.accept(&coach(BRAM), hold.clone());
        assert_eq!(world.state.stations[&BENCH].on, None, "3-2-1 is taken back");
        assert_eq!(world.client(PAIR, DARA).put_off, Some(until), "{hold:?}");
    }
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

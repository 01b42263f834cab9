//! Taking back: what cannot be, and what something later rests on.

use turnabout_protocol::command::{Act, CallKind, Defect, Effort, Scope};
use turnabout_protocol::ids::{CommandId, DeviceId, GroupId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::config::{Setting, Sharing};
use turnabout_server::floor::decide::{Speaker, Tap, Verdict, decide};
use turnabout_server::floor::due;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::undo::{MOST_LATER, MOST_TAPS, RecentTaps, TappedBy, WINDOW, inverse};
use uuid::Uuid;

use crate::world::*;

/// A floor whose taps are remembered, as the running server does it.
#[derive(Clone)]
pub(crate) struct Desk {
    pub(crate) world: World,
    pub(crate) recent: RecentTaps,
    taps: u128,
}

/// A display of a coach, one for each.
pub(crate) fn by(speaker: &Speaker) -> TappedBy {
    let device = match speaker.actor {
        Actor::Coach { coach } => u128::from(coach.0),
        Actor::Station { station } => 100 + u128::from(station.0),
        Actor::Assistant { .. } | Actor::Board | Actor::Manager | Actor::Floor => 1_000,
    };
    TappedBy { device: DeviceId(Uuid::from_u128(device)), actor: speaker.actor }
}

impl Desk {
    pub(crate) fn at(world: World) -> Self {
        Self { world, recent: RecentTaps::default(), taps: 0 }
    }

    /// Benches may be shared and have settings and safety arms.
    pub(crate) fn rich() -> Self {
        let mut world = World::new();
        let mut floor = floor();
        for bench in [BENCH, BENCH_2] {
            let bench = floor.stations.get_mut(&bench).unwrap();
            bench.sharing = if bench.key == key("bench-1") { Sharing::Open } else { Sharing::Ask };
            bench.arms = true;
            let values = ["1", "2", "3"].map(str::to_owned).to_vec();
            bench.settings = vec![Setting { name: "Arms".to_owned(), values }];
        }
        for row in [ROW, ROW_2] {
            floor.stations.get_mut(&row).unwrap().sharing = Sharing::Open;
        }
        floor.policy.arms_accepted = true;
        world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(floor)));
        Self::at(world)
    }

    /// Decides a tap; where it is accepted, remembers it and takes it in. What is due then comes later.
    pub(crate) fn tap(&mut self, speaker: &Speaker, act: Act) -> Result<CommandId, Verdict> {
        self.taps += 1;
        let command = CommandId(Uuid::from_u128(self.taps));
        let tap = Tap { speaker: speaker.clone(), at: self.world.now, act };
        match decide(&self.world.state, &tap, self.world.now) {
            Verdict::Accepted(events) => {
                self.recent.remember(by(speaker), command, &self.world.state, &events, self.world.now);
                self.take(speaker.actor, events);
                Ok(command)
            }
            other @ (Verdict::Already(_) | Verdict::Refused(_)) => Err(other),
        }
    }

    pub(crate) fn take(&mut self, actor: Actor, events: Vec<Event>) {
        for event in events {
            self.world.take(actor, self.world.now, event);
        }
    }

    /// Lets time pass, and what is due meanwhile happen.
    pub(crate) fn pass(&mut self, secs: i64) {
        let to = self.world.now + turnabout_protocol::units::Millis::secs(secs);
        while let Some(at) = due::next_wake(&self.world.state).filter(|at| *at <= to) {
            self.world.now = self.world.now.max(at);
            let due = due::due(&self.world.state, self.world.now).expect("its time has come");
            self.recent.note_floor(&self.world.state, &due.events, self.world.now);
            for event in due.events {
                self.world.take(Actor::Floor, due.at, event);
            }
        }
        self.world.now = to;
    }

    pub(crate) fn undo(&mut self, speaker: &Speaker, command: CommandId) -> Result<(), Refusal> {
        let (state, now) = (&self.world.state, self.world.now);
        let events = self.recent.undo(by(speaker), command, state, now)?;
        self.taps += 1;
        let undo = CommandId(Uuid::from_u128(self.taps));
        self.recent.taken_back((command, undo), by(speaker), state, &events, now);
        self.take(speaker.actor, events);
        Ok(())
    }

    fn taps(&mut self, speaker: &Speaker, act: Act) -> CommandId {
        let tapped = self.tap(speaker, act.clone());
        let command = tapped.unwrap_or_else(|verdict| panic!("{act:?} led to {verdict:?}"));
        self.pass(0);
        command
    }
}

fn done(turn: turnabout_protocol::ids::TurnId) -> Act {
    Act::Done { turn, reps: None, effort: Some(Effort::Right), ending: None }
}

fn take(group: GroupId, stations: [turnabout_protocol::ids::StationId; 2]) -> Act {
    Act::TakeStations { group, block: 0, stations: stations.to_vec(), revision: 0, despite: None }
}

const LATER_RESTS: Result<(), Refusal> = Err(Refusal::LaterRestsOnIt);

#[test]
fn a_tap_is_taken_back_once_by_its_display_within_ten_seconds() {
    let mut desk = Desk::at(World::with_pair_on());
    let (ayla, bram) = (coach(AYLA), coach(BRAM));
    let pause = desk.taps(&ayla, Act::Pause { group: PAIR });
    assert_eq!(desk.undo(&bram, pause), Err(Refusal::NothingToUndo), "another display's");
    assert_eq!(desk.undo(&ayla, CommandId(Uuid::nil())), Err(Refusal::NothingToUndo), "never was");
    desk.world.now = desk.world.now + WINDOW;
    assert_eq!(desk.undo(&ayla, pause), Ok(()));
    assert!(desk.world.state.groups[&PAIR].halt.is_none());
    assert_eq!(desk.undo(&ayla, pause), Err(Refusal::NothingToUndo), "taken back already");
    let late = desk.taps(&ayla, Act::Pause { group: PAIR });
    desk.world.now = FloorMs(desk.world.now.0 + WINDOW.0 + 1);
    assert_eq!(desk.undo(&ayla, late), Err(Refusal::NothingToUndo), "too long ago");
}

#[test]
fn a_display_that_speaks_for_another_now_takes_nothing_back() {
    let mut desk = Desk::at(World::with_pair_on());
    let pause = desk.taps(&coach(AYLA), Act::Pause { group: PAIR });
    let other = TappedBy { actor: Actor::Station { station: BENCH }, ..by(&coach(AYLA)) };
    let undo = desk.recent.undo(other, pause, &desk.world.state, desk.world.now);
    assert_eq!(undo, Err(Refusal::NothingToUndo));
}

#[test]
fn taking_back_cannot_be_taken_back() {
    let mut desk = Desk::at(World::with_pair_on());
    let by = coach(AYLA);
    let pause = desk.taps(&by, Act::Pause { group: PAIR });
    assert_eq!(desk.undo(&by, pause), Ok(()));
    let undo = CommandId(Uuid::from_u128(desk.taps));
    assert_eq!(desk.undo(&by, undo), Err(Refusal::NoUndo));
}

#[test]
fn a_stop_is_not_taken_back() {
    let mut desk = Desk::at(World::with_pair_on());
    let by = coach(AYLA);
    for scope in [Scope::Client { group: PAIR, client: DARA }, Scope::Group { group: PAIR }, Scope::Floor] {
        let stop = desk.taps(&by, Act::Stop { scope });
        assert_eq!(desk.undo(&by, stop), Err(Refusal::NoUndo), "{scope:?}");
    }
}

#[test]
fn who_was_stopped_alone_stays_stopped_when_a_pause_of_all_is_taken_back() {
    let mut desk = Desk::at(World::with_pair_on());
    let by = coach(AYLA);
    desk.taps(&by, Act::Stop { scope: Scope::Client { group: PAIR, client: DARA } });
    let pause = desk.taps(&by, Act::Pause { group: PAIR });
    assert_eq!(desk.undo(&by, pause), Ok(()));
    let group = &desk.world.state.groups[&PAIR];
    assert!(group.halt.is_none() && group.clients[&DARA].halt.is_some());
}

#[test]
fn go_is_taken_back_until_the_first_repetition() {
    let mut world = World::new();
    let mut floor = floor();
    floor.settings.get_set_spotted = turnabout_protocol::units::Secs(2);
    world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(floor)));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let mut desk = Desk::at(world);
    let by = coach(AYLA);
    let press = turn(PAIR, DARA, 0, 0);
    desk.taps(&by, Act::ConfirmLoad { turn: press });
    let go = desk.taps(&by, Act::Go { turn: press });
    // Two seconds to get set, three to count in.
    desk.pass(5);
    assert_eq!(desk.undo(&by, go), LATER_RESTS);
    desk.taps(&by, done(press));
    let go = desk.taps(&by, Act::Go { turn: turn(PAIR, DARA, 0, 1) });
    desk.pass(4);
    assert_eq!(desk.undo(&by, go), Ok(()));
    assert_eq!(desk.world.state.stations[&ROW].on, None);
}

/// Dara has done her light press: what may stand in the way of its going on.
fn after_done() -> (Desk, CommandId) {
    let mut desk = Desk::rich();
    let by = coach(AYLA);
    let press = turn(PAIR, DARA, 0, 0);
    desk.taps(&by, take(PAIR, [BENCH, ROW]));
    desk.taps(&by, Act::ConfirmLoad { turn: press });
    desk.taps(&by, Act::Go { turn: press });
    desk.pass(30);
    let done = desk.taps(&by, done(press));
    (desk, done)
}

#[test]
fn what_others_did_on_the_strength_of_a_done_tap_keeps_it_from_being_taken_back() {
    let (plain, tapped) = after_done();
    assert_eq!(plain.clone().undo(&coach(AYLA), tapped), Ok(()));
    let edda = turn(PAIR, EDDA, 0, 0);
    let (ayla, bram) = (coach(AYLA), coach(BRAM));
    let cases: [(&str, &Speaker, Vec<Act>); 8] = [
        ("another client's set", &bram, vec![Act::Go { turn: edda }]),
        ("the bench's other use", &bram, vec![Act::OtherUse { station: BENCH, minutes: 5 }]),
        ("the bench broken", &bram, vec![Act::OutOfService { station: BENCH, defect: Defect::Bar }]),
        ("its spotter away", &bram, vec![Act::Away { coach: AYLA, minutes: 5 }]),
        ("its spotter elsewhere", &ayla, vec![Act::Spot { turn: edda, lift_off: false }]),
        ("its spotter on a call", &ayla, vec![Act::Answer { call: turnabout_protocol::ids::CallId(1) }]),
        ("the client gone", &bram, vec![Act::Leave { group: PAIR, client: DARA }]),
        ("a pause", &bram, vec![Act::Pause { group: PAIR }]),
    ];
    for (what, speaker, acts) in cases {
        let mut desk = plain.clone();
        desk.tap(&kiosk(&[ROW]), Act::Call { station: ROW, call: CallKind::HelpNow }).unwrap();
        for act in acts {
            desk.taps(speaker, act);
        }
        assert_eq!(desk.undo(&coach(AYLA), tapped), LATER_RESTS, "{what}");
    }
}

#[test]
fn what_has_nothing_to_do_with_a_tap_does_not_keep_it() {
    let (mut desk, tapped) = after_done();
    desk.taps(&coach(BRAM), take(SINGLE, [BENCH_2, ROW_2]));
    desk.taps(&coach(AYLA), Act::StillHere { group: PAIR });
    desk.tap(&kiosk(&[ROW]), Act::Call { station: ROW, call: CallKind::CoachPlease }).unwrap();
    desk.recent.note_floor(
        &desk.world.state,
        &[Event::ClockMapped { utc_ms: 0, offset_secs: 0 }, Event::LapseWarned { group: PAIR }],
        desk.world.now,
    );
    assert_eq!(desk.undo(&coach(AYLA), tapped), Ok(()));
    assert!(desk.world.current(turn(PAIR, DARA, 0, 0)).turn.leg == 0);
}

#[test]
fn stations_that_the_wait_list_gave_away_are_not_taken_back() {
    let mut desk = Desk::at(World::new());
    let (ayla, bram) = (coach(AYLA), coach(BRAM));
    desk.taps(&ayla, Act::OtherUse { station: BENCH, minutes: 60 });
    desk.taps(&ayla, Act::OtherUse { station: BENCH_2, minutes: 60 });
    desk.taps(&bram, Act::AskStations { group: SINGLE, block: 0, revision: 0 });
    assert!(desk.world.state.groups[&SINGLE].claim.is_none());
    let ended = desk.taps(&ayla, Act::EndOtherUse { station: BENCH });
    assert!(desk.world.state.groups[&SINGLE].claim.is_some(), "the floor gave it to who waits");
    assert_eq!(desk.undo(&ayla, ended), LATER_RESTS);
}

#[test]
fn a_done_tap_after_which_a_late_client_caught_up_stands() {
    let mut desk = Desk::at(World::with_pair_on());
    let (by, press) = (coach(AYLA), turn(PAIR, DARA, 0, 0));
    desk.taps(&by, Act::ConfirmLoad { turn: press });
    desk.taps(&by, Act::Go { turn: press });
    desk.pass(30);
    let tapped = desk.taps(&by, done(press));
    let caught_up = Event::SetsMissed { group: PAIR, client: DARA, until: 1 };
    desk.recent.note_floor(&desk.world.state, &[caught_up], desk.world.now);
    assert_eq!(desk.undo(&by, tapped), LATER_RESTS);
}

/// Who comes when the others have begun their rounds goes on with them: what put the others there stands.
#[test]
fn a_done_tap_after_which_somebody_came_too_late_for_the_light_sets_stands() {
    let mut desk = Desk::at(World::with_pair_on());
    let by = coach(AYLA);
    desk.taps(&by, Act::Leave { group: PAIR, client: EDDA });
    let mut last = None;
    for leg in [0, 1] {
        let light = turn(PAIR, DARA, 0, leg);
        if leg == 0 {
            desk.taps(&by, Act::ConfirmLoad { turn: light });
        }
        desk.taps(&by, Act::Go { turn: light });
        desk.pass(30);
        last = Some(desk.taps(&by, done(light)));
    }
    let last = last.unwrap();
    assert_eq!(desk.clone().undo(&by, last), Ok(()), "nobody came");
    let came = desk.taps(&by, Act::Arrive { group: PAIR, clients: vec![EDDA] });
    assert!(desk.world.state.groups[&PAIR].clients[&EDDA].late);
    assert_eq!(desk.undo(&by, last), LATER_RESTS);
    assert_eq!(desk.undo(&by, came), Ok(()), "nothing rests on the arrival");
    assert_eq!(desk.undo(&by, last), LATER_RESTS, "what was taken back has happened, too");
}

#[test]
fn what_never_became_durable_is_forgotten() {
    let mut desk = Desk::at(World::with_pair_on());
    let by = coach(AYLA);
    let pause = desk.taps(&by, Act::Pause { group: PAIR });
    let (paused, known) = (desk.world.clone(), desk.world.state.sequence);
    assert_eq!(desk.undo(&by, pause), Ok(()));
    // The disk did not take the undo: the pause holds, and can be taken back.
    desk.world = paused;
    desk.recent.forget_after(known);
    assert_eq!(desk.undo(&by, pause), Ok(()));
    // Nor the pause.
    desk.recent.forget_after(known - 1);
    assert_eq!(desk.undo(&by, pause), Err(Refusal::NothingToUndo));
}

#[test]
fn memory_is_bounded_and_what_was_forgotten_is_not_taken_back() {
    let mut desk = Desk::at(World::with_pair_on());
    let by = coach(AYLA);
    let pause = desk.taps(&by, Act::Pause { group: PAIR });
    for _ in 0..=MOST_LATER {
        let of_itself = [Event::OtherUseEnded { station: ROW_2 }];
        desk.recent.note_floor(&desk.world.state, &of_itself, desk.world.now);
    }
    assert_eq!(desk.undo(&by, pause), Err(Refusal::NothingToUndo));
    let mut desk = Desk::at(World::with_pair_on());
    let first = desk.taps(&by, Act::Pause { group: LATER });
    for _ in 0..MOST_TAPS {
        let call = Event::CallMade {
            call: turnabout_protocol::ids::CallId(9),
            station: ROW,
            urgency: CallKind::CoachPlease,
        };
        desk.recent.remember(
            self::by(&kiosk(&[ROW])),
            CommandId(Uuid::nil()),
            &desk.world.state,
            &[call],
            desk.world.now,
        );
    }
    assert_eq!(desk.undo(&by, first), Err(Refusal::NothingToUndo));
}

/// A group that works in gives a station up while the one that holds it has a set under way there: what is
/// under the lifter was confirmed and stays so.
#[test]
fn a_station_given_up_under_a_lifter_keeps_its_confirmed_load() {
    let mut desk = Desk::rich();
    let (ayla, bram) = (coach(AYLA), coach(BRAM));
    let press = turn(PAIR, DARA, 0, 0);
    desk.taps(&ayla, take(PAIR, [BENCH, ROW]));
    desk.taps(&ayla, Act::ConfirmLoad { turn: press });
    desk.taps(&ayla, Act::Go { turn: press });
    let worked_in = desk.taps(&bram, take(SINGLE, [BENCH, ROW_2]));
    assert_eq!(desk.undo(&bram, worked_in), Ok(()));
    let broken = desk.taps(&ayla, Act::OutOfService { station: BENCH, defect: Defect::Other });
    assert_eq!(desk.undo(&ayla, broken), Ok(()));
    assert!(desk.world.state.stations[&BENCH].confirmed.is_some());
    desk.pass(30);
    desk.taps(&ayla, done(press));
    desk.taps(&ayla, Act::OutOfService { station: BENCH, defect: Defect::Other });
    desk.taps(&ayla, Act::BackInService { station: BENCH });
    assert!(desk.world.state.stations[&BENCH].confirmed.is_none(), "whoever mended it may have changed it");
}

#[test]
fn who_leaves_anothers_bar_for_an_own_set_stands_there_again() {
    let mut desk = Desk::rich();
    let by = coach(AYLA);
    let (dara, edda) = (turn(PAIR, DARA, 0, 0), turn(PAIR, EDDA, 0, 0));
    desk.taps(&by, take(PAIR, [BENCH, ROW]));
    let exercise = turnabout_protocol::ids::ExerciseId(1);
    desk.taps(&by, Act::PassSpotter { group: PAIR, client: EDDA, exercise });
    desk.taps(&by, Act::SpotBy { turn: dara, client: EDDA });
    desk.taps(&by, Act::ConfirmLoad { turn: edda });
    let go = desk.taps(&by, Act::Go { turn: edda });
    assert_eq!(desk.undo(&by, go), Ok(()));
    let at = desk.world.state.groups[&PAIR].clients[&DARA].spotter.map(|at| at.who);
    assert_eq!(at, Some(turnabout_protocol::command::Spotter::Client { client: EDDA }));
}

#[test]
fn rounds_that_are_made_up_for_are_as_many_as_before() {
    let mut desk = Desk::at(World::with_pair_on());
    let before = desk.world.state.clone();
    let made_up = Event::RoundsMadeUp { group: PAIR, client: DARA, rounds: 2 };
    let back = inverse(&before, &made_up).unwrap();
    desk.take(Actor::Coach { coach: AYLA }, vec![made_up]);
    assert_eq!(desk.world.state.groups[&PAIR].clients[&DARA].extra, 2);
    desk.take(Actor::Coach { coach: AYLA }, back);
    assert_eq!(desk.world.state.groups[&PAIR].clients[&DARA].extra, 0);
}

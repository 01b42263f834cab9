//! The link's decisions, without a socket: time is a number, chance is given.

mod scenes;

use scenes::*;
use turnabout_kiosk::face::{Body, Face, LinkState};
use turnabout_kiosk::link::limits::{QUEUE, RETRY_MOST_MS, SAVING_AFTER_MS, SILENCE_MS};
use turnabout_kiosk::link::queue::kept_while_lost;
use turnabout_kiosk::link::{Action, Event, Identity, Link};
use turnabout_protocol::command::{Act, CallKind, Effort, Scope};
use turnabout_protocol::frame::limits::{TIME_BURST, TIME_EVERY_MS, UNANSWERED};
use turnabout_protocol::frame::{Fault, PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::ids::{CallId, CommandId, DeviceId, GroupId, StationId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::View;
use uuid::Uuid;

struct Desk {
    link: Link,
    real: u64,
    epoch: Uuid,
    rate: u32,
    ids: u128,
}

impl Desk {
    fn new() -> Self {
        let stations = vec!["bench-1".parse().unwrap()];
        let identity = Identity {
            device: DeviceId(Uuid::from_u128(1)),
            role: Role::Station { stations: stations.clone() },
            topic: Topic::Station(stations),
        };
        Self { link: Link::new(identity, 0), real: 0, epoch: Uuid::from_u128(7), rate: 0, ids: 100 }
    }

    /// A desk whose link is up at rate 0, at [`NOW`], with a view of a set that may start.
    fn up() -> Self {
        let mut desk = Self::new();
        desk.connect();
        desk.view(1, 0, ready());
        desk
    }

    fn on(&mut self, event: Event) -> Vec<Action> {
        self.link.on(self.real, event)
    }

    fn frame(&mut self, frame: ToDisplay) -> Vec<Action> {
        self.on(Event::Frame(Box::new(frame)))
    }

    fn tick_after(&mut self, ms: u64) -> Vec<Action> {
        self.real += ms;
        self.on(Event::Tick { dice: 999 })
    }

    fn connect(&mut self) -> Vec<Action> {
        assert_eq!(self.tick_after(RETRY_MOST_MS), [Action::Open]);
        let hello = self.on(Event::Opened);
        assert!(
            matches!(hello.as_slice(), [Action::Send(ToServer::Hello { protocol: PROTOCOL, .. })]),
            "{hello:?}"
        );
        let (epoch, rate) = (self.epoch, self.rate);
        self.frame(ToDisplay::Welcome { protocol: PROTOCOL, epoch, rate, now: NOW })
    }

    fn close(&mut self) {
        assert_eq!(self.on(Event::Closed { dice: 999 }), []);
    }

    fn view(&mut self, sequence: u64, plan: u64, view: View) {
        let revision = Revision { epoch: self.epoch, sequence, plan };
        let topic = "station/bench-1".parse().unwrap();
        self.frame(ToDisplay::View { topic, revision, as_of: NOW, view });
    }

    fn tap(&mut self, act: Act) -> (CommandId, Vec<Action>) {
        self.ids += 1;
        let id = CommandId(Uuid::from_u128(self.ids));
        (id, self.on(Event::Tap { id, act }))
    }

    fn face(&mut self) -> Face {
        self.link.face(self.real, Language::En, None)
    }

    fn who(&mut self) -> String {
        match self.face().body {
            Body::Stations { panels } => panels[0].who.clone(),
            Body::Blank { text } => text,
            Body::Board { board } => board.floor,
        }
    }
}

fn ready() -> View {
    view(vec![bench_1(coming(rest(-1), -1, -1, &[]))])
}

fn named(name: &str) -> View {
    let mut part = bench_1(coming(rest(-1), -1, -1, &[]));
    part.turn.as_mut().unwrap().client = name.into();
    view(vec![part])
}

fn done() -> Act {
    Act::Done { turn: turn_id(1, 2, 0), reps: None, effort: Some(Effort::Right) }
}

fn go() -> Act {
    Act::Go { turn: turn_id(1, 2, 0) }
}

/// The ids of the commands among actions.
fn commands(actions: &[Action]) -> Vec<CommandId> {
    let id = |action: &Action| match action {
        Action::Send(ToServer::Command(command)) => Some(command.id),
        Action::Send(ToServer::Hello { .. } | ToServer::Time { .. }) | Action::Open | Action::Close => None,
    };
    actions.iter().filter_map(id).collect()
}

fn questions(actions: &[Action]) -> Vec<i64> {
    let t1 = |action: &Action| match action {
        Action::Send(ToServer::Time { t1 }) => Some(*t1),
        Action::Send(ToServer::Hello { .. } | ToServer::Command(_)) | Action::Open | Action::Close => None,
    };
    actions.iter().filter_map(t1).collect()
}

/// Every act, and whether it may come late. A new one must be judged here.
fn judged(act: &Act) -> bool {
    match act {
        Act::TakeStations { .. } => false,
        Act::PassTechnique { .. } => false,
        Act::ConfirmLoad { .. } => false,
        Act::Spot { .. } => false,
        Act::Go { .. } => false,
        Act::NotYet { .. } => false,
        Act::Done { .. } => true,
        Act::Effort { .. } => true,
        Act::Reps { .. } => true,
        Act::Lighter { .. } => false,
        Act::Pause { .. } => false,
        Act::Stop { .. } => false,
        Act::Resume { .. } => false,
        Act::Call { .. } => true,
        Act::Attend { .. } => false,
        Act::FreeStations { .. } => false,
    }
}

fn every_act() -> Vec<Act> {
    let (turn, group, station) = (turn_id(1, 2, 0), GroupId(1), StationId(1));
    vec![
        Act::TakeStations { group, block: 0, stations: vec![station], revision: 1 },
        Act::PassTechnique { turn },
        Act::ConfirmLoad { turn },
        Act::Spot { turn },
        Act::Go { turn },
        Act::NotYet { turn },
        Act::Done { turn, reps: Some(8), effort: None },
        Act::Effort { turn, effort: Effort::Rir { reps: 2 } },
        Act::Reps { turn, reps: 9 },
        Act::Lighter { turn, revision: 1 },
        Act::Pause { group },
        Act::Stop { scope: Scope::Floor },
        Act::Resume { group },
        Act::Call { station, call: CallKind::HelpNow },
        Act::Attend { call: CallId(1) },
        Act::FreeStations { group, block: 0 },
    ]
}

#[test]
fn only_done_reps_effort_and_calls_are_kept_while_the_link_is_lost() {
    for act in every_act() {
        let keeps = judged(&act);
        assert_eq!(kept_while_lost(&act), keeps, "{act:?}");
        let mut desk = Desk::up();
        desk.close();
        let (id, actions) = desk.tap(act.clone());
        assert_eq!(actions, [], "nothing can be sent");
        let told = desk.face().notice;
        assert_eq!(told.ends_with("not sent"), !keeps, "{act:?}: {told}");
        let sent = commands(&desk.connect());
        assert_eq!(sent, if keeps { vec![id] } else { vec![] }, "{act:?}");
    }
}

#[test]
fn what_was_on_its_way_is_sent_again_with_its_id_or_reported() {
    for act in every_act() {
        let keeps = judged(&act);
        let mut desk = Desk::up();
        let (id, actions) = desk.tap(act.clone());
        assert_eq!(commands(&actions), [id], "sent at once");
        desk.close();
        assert_eq!(desk.face().notice.ends_with("not sent"), !keeps, "{act:?}");
        let again = commands(&desk.connect());
        assert_eq!(again, if keeps { vec![id] } else { vec![] }, "{act:?}");
    }
}

#[test]
fn an_answered_tap_is_not_sent_again_and_a_refusal_is_shown_for_four_seconds() {
    let mut desk = Desk::up();
    let (id, _) = desk.tap(done());
    desk.frame(ToDisplay::Answer { id, answer: Outcome::Accepted { recorded: NOW } });
    assert_eq!(desk.face().notice, "");
    desk.close();
    assert_eq!(commands(&desk.connect()), []);
    let (id, _) = desk.tap(go());
    desk.frame(ToDisplay::Answer { id, answer: Outcome::Refused { refusal: Refusal::Paused } });
    assert_eq!(desk.face().notice, "The group is paused.");
    desk.tick_after(3_999);
    assert_eq!(desk.face().notice, "The group is paused.");
    desk.tick_after(1);
    assert_eq!(desk.face().notice, "");
}

#[test]
fn a_late_answer_is_shown_as_saving() {
    let mut desk = Desk::up();
    let (id, _) = desk.tap(go());
    desk.tick_after(SAVING_AFTER_MS - 1);
    assert_eq!(desk.face().saving, "");
    desk.tick_after(1);
    assert_eq!(desk.face().saving, "saving");
    desk.frame(ToDisplay::Answer { id, answer: Outcome::Accepted { recorded: NOW } });
    assert_eq!(desk.face().saving, "");
}

#[test]
fn a_tap_carries_the_floor_time_of_the_tap() {
    let mut desk = Desk::up();
    desk.close();
    desk.tap(done());
    desk.epoch = Uuid::from_u128(8);
    let actions = desk.connect();
    let Some(Action::Send(ToServer::Command(command))) = actions.first() else { panic!("{actions:?}") };
    assert_eq!((command.at, &command.act), (NOW, &done()));
}

#[test]
fn no_more_commands_are_on_their_way_than_the_server_takes_and_no_more_are_kept_than_the_limit() {
    let mut desk = Desk::up();
    desk.close();
    for n in 0..=QUEUE {
        desk.tap(done());
        assert_eq!(desk.face().notice.ends_with("not sent"), n == QUEUE, "tap {n}");
    }
    let first = commands(&desk.connect());
    assert_eq!(first.len(), UNANSWERED);
    let next = desk.frame(ToDisplay::Answer { id: first[0], answer: Outcome::Accepted { recorded: NOW } });
    assert_eq!(commands(&next).len(), 1);
    let (_, full) = desk.tap(go());
    assert_eq!(commands(&full), [], "a start does not wait in a queue");
    assert!(desk.face().notice.ends_with("not sent"));
}

#[test]
fn older_and_doubled_views_are_ignored_and_a_new_epoch_replaces() {
    let mut desk = Desk::up();
    for (sequence, plan, name, shown) in [
        (5, 0, "Bram", "Bram"),
        (5, 0, "Chidi", "Bram"),
        (4, 9, "Dara", "Bram"),
        (5, 1, "Edda", "Edda"),
        (5, 0, "Farid", "Edda"),
        (6, 0, "Greta", "Greta"),
    ] {
        desk.view(sequence, plan, named(name));
        assert_eq!(desk.who(), shown, "{sequence}.{plan}");
    }
    desk.epoch = Uuid::from_u128(9);
    desk.view(1, 0, named("Hana"));
    assert_eq!(desk.who(), "Hana");
}

#[test]
fn a_view_of_something_else_is_ignored() {
    let mut desk = Desk::up();
    let revision = Revision { epoch: desk.epoch, sequence: 99, plan: 0 };
    desk.frame(ToDisplay::View { topic: Topic::Board, revision, as_of: NOW, view: View::Board(board(1)) });
    assert_eq!(desk.who(), "Ayla");
}

#[test]
fn a_silent_link_is_lost_and_counted_from_when_it_was_last_heard() {
    let mut desk = Desk::new();
    desk.rate = 1;
    let asked = questions(&desk.connect());
    desk.frame(ToDisplay::Time { t1: asked[0], t2: NOW, t3: NOW });
    desk.view(1, 0, ready());
    desk.real += SILENCE_MS - 1;
    desk.on(Event::Heard);
    assert!(!desk.tick_after(SILENCE_MS - 1).contains(&Action::Close));
    assert_eq!(desk.link.state(), LinkState::Up);
    assert!(desk.tick_after(1).contains(&Action::Close));
    // Heard at 2 s + 9.999 s by the display's own clock, 9.999 s after NOW.
    assert_eq!(desk.link.state(), LinkState::Lost { since: FloorMs(NOW.0 + 9_999), utc: Some(11) });
    assert_eq!(desk.link.now(desk.real), Some(FloorMs(NOW.0 + 19_999)), "and goes on counting");
    assert_eq!(desk.who(), "Ayla");
}

#[test]
fn tries_come_soon_then_slower_and_never_slower_than_the_limit() {
    let mut desk = Desk::new();
    let mut waits = Vec::new();
    for _ in 0..8 {
        assert_eq!(desk.tick_after(RETRY_MOST_MS), [Action::Open]);
        desk.close();
        let wait = (1..).find(|_| desk.tick_after(1) == [Action::Open]).unwrap();
        waits.push(wait);
        desk.close();
    }
    assert!(waits.is_sorted(), "{waits:?}");
    assert!(waits[0] <= 200 && waits[7] <= RETRY_MOST_MS && waits[7] > RETRY_MOST_MS / 2, "{waits:?}");
}

#[test]
fn a_connection_that_does_not_open_is_given_up() {
    let mut desk = Desk::new();
    assert_eq!(desk.tick_after(1), [Action::Open]);
    assert_eq!(desk.tick_after(4_999), []);
    assert_eq!(desk.tick_after(1), [Action::Close]);
    assert_eq!(desk.tick_after(RETRY_MOST_MS), [Action::Open]);
}

#[test]
fn time_is_asked_for_in_a_burst_and_then_every_two_seconds() {
    let mut desk = Desk::new();
    desk.rate = 10;
    let mut asked = questions(&desk.connect());
    let mut count = 0;
    while let [t1] = asked.as_slice() {
        count += 1;
        desk.real += 3;
        // Thirty floor milliseconds there and back, fifteen of them one way.
        let there = FloorMs(t1 + 500_015);
        asked = questions(&desk.frame(ToDisplay::Time { t1: *t1, t2: there, t3: there }));
    }
    assert_eq!(count, TIME_BURST);
    let own = i64::try_from(desk.real).unwrap() * 10;
    assert_eq!(desk.link.now(desk.real), Some(FloorMs(own + 500_000)));
    let before = TIME_EVERY_MS - 3 - 1;
    assert_eq!(questions(&desk.tick_after(before)), [0; 0]);
    assert_eq!(questions(&desk.tick_after(1)).len(), 1);
    assert_eq!(
        questions(&desk.tick_after(TIME_EVERY_MS)).len(),
        1,
        "an answer that never comes is asked again"
    );
}

#[test]
fn a_clock_driven_by_hand_is_followed_at_once_and_asks_nothing() {
    let mut desk = Desk::up();
    assert_eq!(desk.link.now(desk.real), Some(NOW));
    assert_eq!(questions(&desk.tick_after(60_000 - RETRY_MOST_MS)), [0; 0]);
    let frames = desk.link.frames_by_hand();
    desk.frame(ToDisplay::Clock { now: at(90) });
    assert_eq!(desk.link.now(desk.real), Some(at(90)));
    assert_eq!(desk.link.frames_by_hand(), frames + 1);
    desk.view(9, 0, named("Bram"));
    assert_eq!(desk.link.now(desk.real), Some(at(90)), "an older view does not turn time back");
}

#[test]
fn floor_time_goes_on_through_a_restart_of_the_server() {
    let mut desk = Desk::new();
    desk.rate = 1;
    let asked = questions(&desk.connect());
    desk.frame(ToDisplay::Time { t1: asked[0], t2: NOW, t3: NOW });
    desk.close();
    desk.real += 60_000;
    desk.epoch = Uuid::from_u128(8);
    desk.connect();
    assert_eq!(desk.link.now(desk.real), Some(at(60 + 2)), "before the first new sample");
}

#[test]
fn a_server_that_does_not_want_this_display_is_shown_and_asked_again() {
    let mut desk = Desk::new();
    desk.tick_after(1);
    desk.on(Event::Opened);
    desk.frame(ToDisplay::Fault { fault: Fault::UnknownTopic });
    desk.close();
    assert_eq!(desk.who(), "No such station or coach on this floor.");
    desk.connect();
    assert_eq!(desk.link.state(), LinkState::Up);
}

#[test]
fn another_version_of_the_wire_is_not_spoken() {
    let mut desk = Desk::new();
    desk.tick_after(1);
    desk.on(Event::Opened);
    let epoch = desk.epoch;
    let actions = desk.frame(ToDisplay::Welcome { protocol: PROTOCOL + 1, epoch, rate: 1, now: NOW });
    assert_eq!(actions, [Action::Close]);
    desk.close();
    assert!(desk.who().contains("needs an update"));
}

#[test]
fn a_bad_frame_of_ours_is_said_and_the_link_lives_on() {
    let mut desk = Desk::up();
    desk.frame(ToDisplay::Fault { fault: Fault::Malformed { line: 1, column: 2 } });
    assert_eq!(desk.face().notice, "This display sent something unreadable.");
    assert_eq!(desk.link.state(), LinkState::Up);
}

//! The link's decisions, without a socket: time is a number, chance is given.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod apart;
mod clock;
mod digits;
mod line;
mod paced;
mod queue;
#[path = "../scenes/mod.rs"]
mod scenes;
mod undo;

use scenes::*;
use turnabout_kiosk::face::{Body, Face, Own};
use turnabout_kiosk::link::limits::RETRY_MOST_MS;
use turnabout_kiosk::link::{Action, Event, Identity, Link};
use turnabout_protocol::command::{Act, Effort};
use turnabout_protocol::frame::{PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::ids::{CommandId, DeviceId};
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
        Self { link: Link::new(identity), real: 0, epoch: Uuid::from_u128(7), rate: 0, ids: 100 }
    }

    /// A desk whose link is up at rate 0, at [`NOW`], with a view of a set that may start.
    fn up() -> Self {
        let mut desk = Self::new();
        desk.connect();
        desk.view(1, 0, ready());
        desk
    }

    /// A desk on a floor that runs, where it is `now`, with a view.
    fn running(rate: u32, now: FloorMs, view: View) -> Self {
        let mut desk = Self::new();
        desk.rate = rate;
        let asked = questions(&desk.connect());
        desk.frame(ToDisplay::Time { t1: asked[0], t2: now, t3: now });
        desk.view(1, 0, view);
        desk
    }

    /// Shows, and says until when that stands.
    fn show(&mut self) -> (Face, u64) {
        let face = self.face();
        let until = self.link.shows_until(self.real, &face, Language::En, None, &Own::default());
        (face, until)
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
        self.link.face(self.real, Language::En, None, &Own::default())
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
    Act::Done { turn: turn_id(1, 2, 0), reps: None, effort: Some(Effort::Right), ending: None }
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

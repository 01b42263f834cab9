//! With a link: what a speaker is asked for while it is lost and found, and while floor time is put right.

use std::cell::RefCell;
use std::rc::Rc;

use turnabout_kiosk::face::Own;
use turnabout_kiosk::link::limits::RETRY_MOST_MS;
use turnabout_kiosk::link::{Action, Event, Identity, Link};
use turnabout_kiosk::sound::{Sounds, Speaker};
use turnabout_protocol::frame::{PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::view::View;

use crate::scenes::*;
use crate::*;

/// Takes down what it is asked for.
#[derive(Clone, Default)]
struct Paper(Rc<RefCell<Vec<Cue>>>);

impl Speaker for Paper {
    fn soon(&mut self) {}

    fn play(&mut self, cue: Cue) {
        self.0.borrow_mut().push(cue);
    }

    fn trouble(&self) -> Option<String> {
        Some("it is paper".into())
    }
}

/// A display whose real time is driven, at a floor whose time is real time and something.
struct Desk {
    link: Link,
    sounds: Sounds,
    paper: Paper,
    real: u64,
    /// Floor time is so far ahead of the display's own clock.
    ahead: i64,
    epoch: u128,
}

impl Desk {
    fn new() -> Self {
        let stations = vec!["bench-1".parse().unwrap()];
        let role = Role::Station { stations: stations.clone() };
        let identity =
            Identity { device: DeviceId(Uuid::from_u128(1)), role, topic: Topic::Station(stations) };
        let (paper, mut sounds) = (Paper::default(), Sounds::default());
        sounds.turn(Some(Box::new(paper.clone())));
        Self { link: Link::new(identity), sounds, paper, real: 0, ahead: NOW.0, epoch: 1 }
    }

    fn floor(&self) -> FloorMs {
        FloorMs(i64::try_from(self.real).unwrap() + self.ahead)
    }

    fn on(&mut self, event: Event) {
        for action in self.link.on(self.real, event) {
            if let Action::Send(ToServer::Time { t1 }) = action {
                let now = self.floor();
                self.on(Event::Frame(Box::new(ToDisplay::Time { t1, t2: now, t3: now })));
            }
        }
    }

    fn connect(&mut self) {
        self.real += RETRY_MOST_MS;
        self.on(Event::Tick { dice: 999 });
        self.on(Event::Opened);
        let (epoch, now) = (Uuid::from_u128(self.epoch), self.floor());
        self.on(Event::Frame(Box::new(ToDisplay::Welcome { protocol: PROTOCOL, epoch, rate: 1, now })));
    }

    fn told(&mut self, sequence: u64, view: View) {
        let revision = Revision { epoch: Uuid::from_u128(self.epoch), sequence, plan: 0 };
        let (topic, as_of) = ("station/bench-1".parse().unwrap(), self.floor());
        self.on(Event::Frame(Box::new(ToDisplay::View { topic, revision, as_of, view })));
    }

    /// Looks whenever the display would: when something else is shown, and when the link has something to do.
    fn run(&mut self, ms: u64) {
        let end = self.real + ms;
        while self.real < end {
            let face = self.link.face(self.real, Language::En, None, &Own::default());
            self.sounds.look(&mut self.link, &face, self.real);
            let until = self.link.shows_until(self.real, &face, Language::En, None, &Own::default());
            self.real = until.min(self.link.due()).clamp(self.real + 1, end);
            self.on(Event::Tick { dice: 999 });
        }
    }

    fn heard(&self) -> Vec<Cue> {
        self.paper.0.borrow().clone()
    }
}

/// A set whose first repetition comes so many seconds after the beginning of floor time here.
fn set(starts: i64) -> View {
    view(vec![bench_1(under_way(starts))])
}

const ALL: [Cue; 4] = [THREE, TWO, ONE, Cue::Go];

#[test]
fn a_display_that_wakes_by_itself_hears_a_whole_count_in() {
    let mut desk = Desk::new();
    desk.connect();
    desk.told(1, set(30));
    desk.run(60_000);
    assert_eq!(desk.heard(), ALL);
}

#[test]
fn a_link_that_is_lost_and_found_in_a_count_in_neither_breaks_it_off_nor_repeats_it() {
    let mut desk = Desk::new();
    desk.connect();
    desk.told(1, set(30));
    // Between 3 and 2 the link is lost; it is up again after GO, with the same set.
    let until_three = 28_500 - desk.real;
    desk.run(until_three);
    desk.on(Event::Closed { dice: 999 });
    desk.run(4_000);
    assert_eq!(desk.heard(), ALL);
    desk.epoch = 2;
    desk.connect();
    desk.told(1, set(30));
    desk.run(10_000);
    assert_eq!(desk.heard(), ALL);
}

#[test]
fn floor_time_that_is_put_right_in_a_count_in_repeats_nothing() {
    // A clock that was 0.4 s wrong to either side, which is slewed, and one that was wrong by more, which is stepped.
    for wrong in [-1_700, -400, 400, 1_700] {
        let mut desk = Desk::new();
        desk.connect();
        desk.told(1, set(30));
        let until_three = 27_500 - desk.real;
        desk.run(until_three);
        desk.ahead += wrong;
        desk.run(20_000);
        let heard = desk.heard();
        let in_order = ALL.iter().filter(|cue| heard.contains(cue)).copied().collect::<Vec<_>>();
        assert_eq!(heard, in_order, "{wrong}: none twice and none before another");
        assert_eq!(heard.first(), Some(&THREE), "{wrong}");
        // What a step jumps over is left out.
        assert!(heard == ALL || wrong == 1_700, "{wrong}: {heard:?}");
    }
}

#[test]
fn sound_that_is_turned_on_makes_up_for_nothing_and_says_why_it_is_silent() {
    let mut desk = Desk::new();
    desk.sounds.turn(None);
    assert_eq!((desk.sounds.is_on(), desk.sounds.trouble()), (false, None));
    desk.connect();
    desk.told(1, set(30));
    let until_two = 28_900 - desk.real;
    desk.run(until_two);
    desk.sounds.turn(Some(Box::new(desk.paper.clone())));
    desk.run(10_000);
    assert_eq!(desk.heard(), [ONE, Cue::Go]);
    assert_eq!((desk.sounds.is_on(), desk.sounds.trouble()), (true, Some("it is paper".into())));
}

#[test]
fn another_link_begins_anew() {
    let mut desk = Desk::new();
    desk.connect();
    desk.told(1, set(30));
    desk.run(60_000);
    // Another server, whose floor has just begun: without a fresh start all of it would be long past.
    let mut other =
        Desk { sounds: std::mem::take(&mut desk.sounds), paper: desk.paper.clone(), ..Desk::new() };
    other.sounds.begin_anew();
    other.connect();
    other.told(1, set(30));
    other.run(60_000);
    assert_eq!(desk.heard(), [ALL, ALL].concat());
}

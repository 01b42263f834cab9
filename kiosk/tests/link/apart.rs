//! Two displays with clocks of their own beside each other, on a network that delays and breaks: when each turns a
//! digit, and what it shows meanwhile. The same bar as `protocol/tests/clock/`, through the whole link.

use std::collections::BTreeMap;

use turnabout_kiosk::link::limits::CONNECT_MS;
use turnabout_protocol::units::FloorMs;

use crate::scenes::*;
use crate::*;

/// The least delay one way and the mean of what comes on top of it, exponentially distributed; the worst drift of a
/// clock: the model in which the bar is stated. Milliseconds.
const LEAST: f64 = 20.0;
const MEAN: f64 = 20.0;
const WORST_DRIFT: f64 = 100e-6;

/// The bar: milliseconds between the same digit on two displays, and within which a display is up to date again.
const AT_P95: f64 = 20.0;
const AT_WORST: f64 = 50.0;
const BACK_WITHIN: f64 = 2_000.0;

/// SplitMix64 (constants from memory).
struct Dice(u64);

impl Dice {
    /// From 0 to 1, never 1.
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
    fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn delay(&mut self) -> f64 {
        LEAST - MEAN * (1.0 - self.roll()).ln()
    }
}

/// What is on its way to a display.
enum Mail {
    Opened,
    Frame(Box<ToDisplay>),
}

/// A display on the model's network. True time is floor time less [`NOW`].
struct Side {
    desk: Desk,
    dice: Dice,
    began: f64,
    drift: f64,
    /// By the true instant of arrival, in microseconds: a connection keeps the order of what is sent.
    mail: BTreeMap<u64, Mail>,
    arrived: f64,
    breaks: std::ops::Range<f64>,
    shown: Option<String>,
    /// The true instant at which each count came.
    turned: BTreeMap<i64, f64>,
    /// When it was up to date after the break.
    back: Option<f64>,
}

impl Side {
    fn new(seed: u64, breaks: std::ops::Range<f64>) -> Self {
        let mut dice = Dice(seed);
        let (began, drift) = (dice.roll() * 1_000.0, (2.0 * dice.roll() - 1.0) * WORST_DRIFT);
        let mut desk = Desk::new();
        desk.rate = 1;
        let (mail, turned) = (BTreeMap::new(), BTreeMap::new());
        Self { desk, dice, began, drift, mail, arrived: 0.0, breaks, shown: None, turned, back: None }
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small and not negative")]
    fn own(&self, truth: f64) -> u64 {
        ((truth - self.began) * (1.0 + self.drift)).max(0.0) as u64
    }

    #[expect(clippy::cast_precision_loss, reason = "a test's times are small")]
    fn truth(&self, own: u64) -> f64 {
        self.began + own as f64 / (1.0 + self.drift)
    }

    /// Sends something to the display at a true instant; what meets the break is lost.
    fn send(&mut self, at: f64, mail: Mail) {
        let arrives = (at + self.dice.delay()).max(self.arrived);
        if self.breaks.contains(&at) || self.breaks.contains(&arrives) {
            return;
        }
        self.arrived = arrives;
        let mut key = micros(arrives);
        while self.mail.contains_key(&key) {
            key += 1;
        }
        self.mail.insert(key, mail);
    }

    /// Does what the link wants, at a true instant.
    fn act(&mut self, truth: f64, actions: Vec<Action>) {
        for action in actions {
            let arrives = truth + self.dice.delay();
            let lost = self.breaks.contains(&truth) || self.breaks.contains(&arrives);
            match action {
                Action::Close => self.mail.clear(),
                Action::Open if !lost => self.send(arrives, Mail::Opened),
                Action::Send(ToServer::Hello { .. }) if !lost => {
                    let (epoch, now) = (self.desk.epoch, floor(arrives));
                    let welcome = ToDisplay::Welcome { protocol: PROTOCOL, epoch, rate: 1, now };
                    self.send(arrives, Mail::Frame(Box::new(welcome)));
                    let revision = Revision { epoch, sequence: 1, plan: 0 };
                    let topic = "station/bench-1".parse().unwrap();
                    let view = view(vec![bench_1(coming(rest(500), 500, 500, &[]))]);
                    self.send(
                        arrives,
                        Mail::Frame(Box::new(ToDisplay::View { topic, revision, as_of: now, view })),
                    );
                }
                Action::Send(ToServer::Time { t1 }) if !lost => {
                    let now = floor(arrives);
                    self.send(arrives, Mail::Frame(Box::new(ToDisplay::Time { t1, t2: now, t3: now })));
                }
                Action::Open | Action::Send(_) => {}
            }
        }
    }

    /// Looks at what is shown at a true instant; how long that stands.
    fn look(&mut self, truth: f64) -> u64 {
        let face = self.desk.face();
        if let Body::Stations { panels } = &face.body {
            let left = panels[0].count.clone();
            if self.shown.as_ref() != Some(&left) {
                let (minutes, secs) = left.split_once(':').unwrap();
                let left: i64 = minutes.parse::<i64>().unwrap() * 60 + secs.parse::<i64>().unwrap();
                if let Some((least, _)) = self.turned.first_key_value() {
                    assert_eq!(left, least - 1, "each digit comes once and in its turn");
                }
                self.turned.insert(left, truth);
            }
            self.shown = Some(left);
        } else {
            assert_eq!(self.shown, None, "it never goes blank again: {:?}", face.body);
        }
        let up = self.desk.link.state() == turnabout_kiosk::face::LinkState::Up;
        assert_eq!(face.link.is_empty(), up || self.shown.is_none(), "{}", face.link);
        if up && truth > self.breaks.end && self.back.is_none() {
            self.back = Some(truth);
        }
        self.desk.link.shows_until(self.desk.real, &face, Language::En, None, &Own::default())
    }

    /// Runs until a true instant. The server pings every two seconds.
    fn run(mut self, to: f64) -> Self {
        let (mut truth, mut wake, mut ping) = (self.began, 0, 0.0);
        while truth < to {
            let woken = self.truth(wake);
            let mail = self.mail.first_key_value().map(|(at, _)| *at);
            let event = match mail {
                Some(at) if at <= micros(woken) => {
                    #[expect(clippy::cast_precision_loss, reason = "a test's times are small")]
                    let at = at as f64 / 1_000.0;
                    truth = at;
                    match self.mail.pop_first().unwrap().1 {
                        Mail::Opened => Event::Opened,
                        Mail::Frame(frame) => Event::Frame(frame),
                    }
                }
                Some(_) | None => {
                    truth = woken;
                    Event::Tick { dice: 999 }
                }
            };
            self.desk.real = self.own(truth + 1e-6).max(self.desk.real);
            let mut actions = self.desk.on(event);
            if truth >= ping && !self.breaks.contains(&truth) && self.shown.is_some() {
                ping = truth + 2_000.0;
                actions.extend(self.desk.on(Event::Heard));
            }
            self.act(truth, actions);
            let until = self.look(truth);
            wake = until.min(self.desk.link.due()).max(self.desk.real + 1);
        }
        self
    }
}

#[expect(clippy::cast_possible_truncation, reason = "small")]
fn floor(truth: f64) -> FloorMs {
    FloorMs(NOW.0 + truth.floor() as i64)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small and not negative")]
fn micros(truth: f64) -> u64 {
    (truth * 1_000.0).round() as u64
}

/// How far apart the sides turned the same digits between two true instants.
fn apart(sides: &[Side], from: f64, to: f64) -> (f64, f64, usize) {
    let mut all = Vec::new();
    for pair in sides.chunks_exact(2) {
        let both = pair[0].turned.iter().filter_map(|(left, at)| Some((*at, *pair[1].turned.get(left)?)));
        all.extend(both.filter(|(at, _)| (from..to).contains(at)).map(|(one, other)| (one - other).abs()));
    }
    all.sort_by(f64::total_cmp);
    (all[all.len() * 95 / 100], all[all.len() - 1], all.len())
}

#[test]
fn digits_turn_together_before_during_and_after_a_break_and_nothing_flickers() {
    let breaks = 150_000.0..330_000.0;
    let sides: Vec<Side> = (0..40).map(|seed| Side::new(seed, breaks.clone()).run(450_000.0)).collect();
    for (what, from, to) in [
        ("with a link", 6_000.0, breaks.start),
        ("three minutes without", breaks.start, breaks.end),
        ("back again", breaks.end, 450_000.0),
    ] {
        let (p95, worst, count) = apart(&sides, from, to);
        println!("{what}: {count} digits, {p95:.1} ms apart at p95, {worst:.1} ms at worst");
        assert!(count > 1_000, "{what}: {count} digits");
        assert!(p95 <= AT_P95 && worst <= AT_WORST, "{what}: {p95:.1} ms at p95, {worst:.1} ms at worst");
    }
    let late = |side: &Side| side.back.expect("it came back") - breaks.end;
    let latest = sides.iter().map(late).fold(0.0, f64::max);
    println!("back after {latest:.0} ms at the latest");
    assert!(latest <= BACK_WITHIN, "{latest:.0} ms");
}

#[test]
fn a_display_is_back_soon_wherever_in_its_tries_the_network_returns() {
    for n in 0..60 {
        let end = 40_000.0 + f64::from(n) * 53.0;
        let side = Side::new(1_000 + u64::try_from(n).unwrap(), 20_000.0..end).run(end + 3_000.0);
        let back = side.back.expect("it came back") - end;
        assert!(back <= BACK_WITHIN, "back after {back:.0} ms; a try takes {CONNECT_MS}");
    }
}

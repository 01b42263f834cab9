//! The link as a pure machine: events in, actions out. It opens no socket, reads no clock, rolls no dice.

use turnabout_protocol::command::{Act, Command};
use turnabout_protocol::frame::{Fault, PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::ids::{CommandId, DeviceId, StationId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::View;

use super::ahead::Edges;
use super::clockwork::Clockwork;
use super::limits::{CONNECT_MS, NOTICE_MS, RETRY_FIRST_MS, RETRY_MOST_MS, SAVING_AFTER_MS, SILENCE_MS};
use super::queue::Queue;
use crate::face::{Face, Going, Known, LastTap, LinkState, Notice, Own, Scene, face};

/// Who this display is, and what it watches.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Identity {
    /// The device.
    pub device: DeviceId,
    /// Its part.
    pub role: Role,
    /// What it watches.
    pub topic: Topic,
}

/// What happened to the link.
#[derive(Clone, Debug)]
pub enum Event {
    /// The connection is open.
    Opened,
    /// Anything was heard, such as a ping.
    Heard,
    /// A frame came.
    Frame(Box<ToDisplay>),
    /// The connection is closed, or could not be opened.
    Closed {
        /// 0 to 999, by chance: spreads the next tries of many displays.
        dice: u16,
    },
    /// The server did not open: it does not know this display.
    NotLetIn {
        /// As above.
        dice: u16,
    },
    /// Time went by.
    Tick {
        /// As above, should the silence have lasted too long.
        dice: u16,
    },
    /// Somebody pressed a button.
    Tap {
        /// Made by chance.
        id: CommandId,
        /// What is asked.
        act: Act,
    },
}

/// What is to be done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// Open a connection.
    Open,
    /// Send a frame.
    Send(ToServer),
    /// Drop the connection, open or opening.
    Close,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Waiting { until: u64 },
    Opening { since: u64 },
    Greeting,
    Up,
}

/// The link. Real times are milliseconds since the display started.
#[derive(Debug)]
pub struct Link {
    identity: Identity,
    stage: Stage,
    failures: u32,
    heard: u64,
    clock: Clockwork,
    known: Option<(Revision, Known)>,
    queue: Queue,
    lost: Option<LinkState>,
    refused: Option<Fault>,
    barred: bool,
    notice: Option<(Notice, u64)>,
    last: Option<LastTap>,
    frames_by_hand: u64,
    edges: Edges,
}

impl Link {
    /// A display that has just started.
    #[must_use]
    pub fn new(identity: Identity) -> Self {
        Self {
            identity,
            stage: Stage::Waiting { until: 0 },
            failures: 0,
            heard: 0,
            clock: Clockwork::default(),
            known: None,
            queue: Queue::default(),
            lost: None,
            refused: None,
            barred: false,
            notice: None,
            last: None,
            frames_by_hand: 0,
            edges: Edges::default(),
        }
    }

    /// Takes an event at a real time; says what is to be done.
    pub fn on(&mut self, real: u64, event: Event) -> Vec<Action> {
        let mut actions = Vec::new();
        match event {
            Event::Opened => {
                self.heard = real;
                self.barred = false;
                self.stage = Stage::Greeting;
                let Identity { device, role, topic } = self.identity.clone();
                actions.push(Action::Send(ToServer::Hello { protocol: PROTOCOL, device, role, topic }));
            }
            Event::Heard => self.heard = real,
            Event::Frame(frame) => {
                self.heard = real;
                self.frame(real, *frame, &mut actions);
            }
            Event::Closed { dice } => self.closed(real, dice),
            Event::NotLetIn { dice } => {
                self.closed(real, dice);
                self.barred = true;
                // What people lift is nobody's business who is not let in.
                (self.known, self.last, self.notice) = (None, None, None);
            }
            Event::Tick { dice } => self.tick(real, dice, &mut actions),
            Event::Tap { id, act } => self.tap(real, id, act),
        }
        if self.stage == Stage::Up {
            let commands = self.queue.send_now().into_iter().map(ToServer::Command);
            actions.extend(commands.map(Action::Send));
            if let Some(t1) = self.clock.question(real) {
                actions.push(Action::Send(ToServer::Time { t1 }));
            }
        }
        actions
    }

    /// What the display shows at a real time. `focus` is the station that somebody chose to see large, `own`
    /// what the display keeps to itself.
    pub fn face(&mut self, real: u64, language: Language, focus: Option<StationId>, own: &Own) -> Face {
        let now = self.now(real);
        self.face_at(now, real, language, focus, own)
    }

    /// The first real time after `real`, and at most [`LOOK_MS`](super::limits::LOOK_MS) later, at which something
    /// else is shown than `drawn`, which is shown now, if nothing comes until then.
    #[must_use]
    pub fn shows_until(
        &mut self,
        real: u64,
        drawn: &Face,
        language: Language,
        focus: Option<StationId>,
        own: &Own,
    ) -> u64 {
        // Taken out and put back, since looking ahead borrows everything else.
        let mut edges = std::mem::take(&mut self.edges);
        let floor = |at: u64| self.clock.ahead(at);
        let same = |at: u64| self.face_at(floor(at), at, language, focus, own) == *drawn;
        let until = edges.first_change(real, floor, same);
        self.edges = edges;
        until
    }

    /// When the link itself has something to do, if nothing comes until then.
    #[must_use]
    pub fn due(&self) -> u64 {
        match self.stage {
            Stage::Waiting { until } => until,
            Stage::Opening { since } => since + CONNECT_MS,
            Stage::Greeting => self.heard + SILENCE_MS,
            Stage::Up => {
                let silent = self.heard + SILENCE_MS;
                self.clock.due().map_or(silent, |question| question.min(silent))
            }
        }
    }

    fn face_at(
        &self,
        now: Option<FloorMs>,
        real: u64,
        language: Language,
        focus: Option<StationId>,
        own: &Own,
    ) -> Face {
        let link = self.state();
        let pending = self.queue.acts();
        face(&Scene {
            known: self.known.as_ref().map(|(_, known)| known),
            link: &link,
            now,
            real,
            language,
            focus,
            pending: &pending,
            saving: self.queue.oldest().is_some_and(|tapped| real >= tapped + SAVING_AFTER_MS),
            notice: self.notice.as_ref().filter(|(_, until)| real < *until).map(|(notice, _)| notice),
            last: self.last.as_ref(),
            pad: own.pad(),
            unpaced: own.unpaced(),
            visit: own.visit(),
        })
    }

    /// Floor time at a real time; nothing before the first clock sample.
    pub fn now(&mut self, real: u64) -> Option<FloorMs> {
        self.clock.now(real)
    }

    /// How floor time goes by at a real time; nothing before the first clock sample.
    pub fn going(&mut self, real: u64) -> Option<Going> {
        Some(Going { now: self.now(real)?, rate: self.clock.rate()? })
    }

    /// How the link stands.
    #[must_use]
    pub fn state(&self) -> LinkState {
        match (&self.refused, self.stage, &self.lost) {
            _ if self.barred => LinkState::NotLetIn,
            (Some(fault), _, _) => LinkState::Refused { fault: fault.clone() },
            (None, Stage::Up, _) => LinkState::Up,
            (None, _, Some(lost)) => lost.clone(),
            (None, _, None) => LinkState::Connecting,
        }
    }

    /// What the server said last, and which state of the floor that was; nothing before the first view.
    #[must_use]
    pub const fn known(&self) -> Option<&(Revision, Known)> {
        self.known.as_ref()
    }

    /// How many clock and view frames came while a test drives the clock: each is shown, changed or not.
    #[must_use]
    pub const fn frames_by_hand(&self) -> u64 {
        self.frames_by_hand
    }

    fn frame(&mut self, real: u64, frame: ToDisplay, actions: &mut Vec<Action>) {
        match frame {
            ToDisplay::Welcome { protocol, epoch, rate, now } => {
                if protocol != PROTOCOL {
                    self.refused = Some(Fault::Version { supported: protocol, found: PROTOCOL });
                    actions.push(Action::Close);
                    return;
                }
                self.stage = Stage::Up;
                self.failures = 0;
                self.refused = None;
                self.lost = None;
                // A server that started anew takes nothing back.
                if self.clock.epoch() != Some(epoch) {
                    self.last = None;
                }
                self.clock.welcome(epoch, rate, now, real);
            }
            ToDisplay::View { topic, revision, as_of, view } if topic == self.identity.topic => {
                self.view(real, revision, as_of, view);
            }
            // Nobody asked for it.
            ToDisplay::View { .. } => {}
            ToDisplay::Answer { id, answer } => self.answer(real, id, answer),
            ToDisplay::Time { t1, t2, t3 } => self.clock.answer(t1, t2, t3, real),
            ToDisplay::Clock { now } => {
                self.clock.told(now);
                self.count_by_hand();
            }
            ToDisplay::Fault { fault } => self.fault(real, fault),
        }
    }

    fn view(&mut self, real: u64, revision: Revision, as_of: FloorMs, view: View) {
        let newer = self.known.as_ref().is_none_or(|(shown, _)| shown.gives_way_to(&revision));
        if newer {
            self.known = Some((revision, Known { view, as_of }));
        } else if let Some((shown, known)) = &mut self.known {
            // After a reconnection the same state comes again: it is known to be so for longer.
            if *shown == revision {
                known.as_of = known.as_of.max(as_of);
            }
        }
        if self.clock.now(real).is_none_or(|now| now < as_of) {
            self.clock.told(as_of);
        }
        self.count_by_hand();
    }

    fn count_by_hand(&mut self) {
        if self.clock.by_hand() {
            self.frames_by_hand += 1;
        }
    }

    fn answer(&mut self, real: u64, id: CommandId, outcome: Outcome) {
        if let Some(act) = self.queue.answered(id) {
            self.last = LastTap::answered(id, &act, &outcome);
            self.say(real, Notice::Answered { act, outcome });
        }
    }

    fn fault(&mut self, real: u64, fault: Fault) {
        match fault {
            // The socket lives on: one frame of ours was bad.
            Fault::Malformed { .. } | Fault::NotText | Fault::HelloTwice => {
                self.say(real, Notice::Fault { fault });
            }
            // The server closes after these.
            Fault::Oversize
            | Fault::Version { .. }
            | Fault::HelloFirst
            | Fault::HelloLate
            | Fault::UnknownTopic
            | Fault::TopicNotAllowed
            | Fault::Flood
            | Fault::Full => self.refused = Some(fault),
        }
    }

    fn tap(&mut self, real: u64, id: CommandId, act: Act) {
        let up = self.stage == Stage::Up;
        let taken = match self.clock.now(real) {
            Some(at) => self.queue.push(Command { id, at, act: act.clone() }, real, up),
            None => false,
        };
        if !taken {
            self.say(real, Notice::NotSent { act });
        }
    }

    fn tick(&mut self, real: u64, dice: u16, actions: &mut Vec<Action>) {
        match self.stage {
            Stage::Waiting { until } if real >= until => {
                self.stage = Stage::Opening { since: real };
                actions.push(Action::Open);
            }
            Stage::Opening { since } if real >= since + CONNECT_MS => {
                actions.push(Action::Close);
                self.closed(real, dice);
            }
            Stage::Greeting | Stage::Up if real >= self.heard + SILENCE_MS => {
                actions.push(Action::Close);
                self.closed(real, dice);
            }
            Stage::Waiting { .. } | Stage::Opening { .. } | Stage::Greeting | Stage::Up => {}
        }
    }

    fn closed(&mut self, real: u64, dice: u16) {
        if self.stage == Stage::Up {
            let silent = self.clock.at_floor_rate(real.saturating_sub(self.heard));
            let since = self.clock.now(real).map(|now| now - Millis(silent));
            self.lost = since.map(|since| LinkState::Lost { since });
            if let Some(act) = self.queue.lost().pop() {
                self.say(real, Notice::NotSent { act });
            }
        }
        let longest = RETRY_FIRST_MS.saturating_mul(1 << self.failures.min(16)).min(RETRY_MOST_MS);
        let wait = longest / 2 + longest / 2 * u64::from(dice.min(999)) / 1_000;
        self.failures = self.failures.saturating_add(1);
        self.stage = Stage::Waiting { until: real + wait };
    }

    fn say(&mut self, real: u64, notice: Notice) {
        self.notice = Some((notice, real + NOTICE_MS));
    }
}

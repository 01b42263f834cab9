//! A coach's hand: taps what the page offers, remembers what was asked and answered, and asks again.
//!
//! It speaks frames, not through the kiosk's link: it must be able to do what no display does, such as sending
//! an answered tap once more.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;

use futures_util::{SinkExt, StreamExt};
use tokio::time::{Duration, Instant, timeout};
use tokio_tungstenite::WebSocketStream;
use tokio_tungstenite::tungstenite::Message;
use turnabout_protocol::command::{Act, Command};
use turnabout_protocol::frame::{PROTOCOL, ToDisplay, ToServer};
use turnabout_protocol::ids::{CommandId, DeviceId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{CoachView, View};
use turnabout_server::demo::dice::Dice;
use uuid::Uuid;

use crate::history::History;
use crate::network::{Ear, Stream, id, open};
use crate::pause::pause;
use crate::plan::range;

/// A connection that takes longer is tried anew.
const CONNECT: Duration = Duration::from_secs(1);
/// Nothing was heard for so long: the connection is gone.
const SILENCE: Duration = Duration::from_secs(3);
/// How long until the next try.
const RETRY_MS: u64 = 300;
/// Taps without an answer at once.
const UNANSWERED: usize = 4;

/// A tap and all the answers it got, each with the epoch of the server that gave it.
#[derive(Clone, Debug)]
pub(crate) struct Asked {
    pub(crate) command: Command,
    pub(crate) answers: Vec<(Uuid, Outcome)>,
    /// How often it was sent on the present connection.
    sent: usize,
    /// How many answers came on it.
    heard: usize,
    /// How many there were when it was asked for once more, in the end.
    before_end: Option<usize>,
}

/// A coach's hand.
#[derive(Clone)]
pub(crate) struct Hand(Rc<Inside>);

struct Inside {
    name: String,
    coach: &'static str,
    device: DeviceId,
    ear: Ear,
    dice: RefCell<Dice>,
    asked: RefCell<BTreeMap<CommandId, Asked>>,
    /// Whether to tap no more, and to ask once more for all that was accepted.
    ends: Cell<bool>,
    history: History,
}

impl Hand {
    pub(crate) fn new(n: usize, coach: &'static str, seed: u64, history: History) -> Self {
        let mut dice = Dice::for_person(seed, 200 + n as u64);
        let device = DeviceId(id(&mut dice));
        Self(Rc::new(Inside {
            name: format!("hand-{n}"),
            coach,
            device,
            ear: Ear::default(),
            dice: RefCell::new(dice),
            asked: RefCell::default(),
            ends: Cell::new(false),
            history,
        }))
    }

    /// Its host's name.
    pub(crate) fn name(&self) -> &str {
        &self.0.name
    }

    pub(crate) fn device(&self) -> DeviceId {
        self.0.device
    }

    pub(crate) fn ear(&self) -> &Ear {
        &self.0.ear
    }

    /// All that was asked.
    pub(crate) fn asked(&self) -> Vec<Asked> {
        self.0.asked.borrow().values().cloned().collect()
    }

    /// From now on it taps nothing new and asks once more for whatever was accepted.
    pub(crate) fn end(&self) {
        self.0.ends.set(true);
        for asked in self.0.asked.borrow_mut().values_mut().filter(|asked| asked.accepted()) {
            // As if the present connection had not carried it yet.
            (asked.sent, asked.heard) = (0, 0);
            asked.before_end = Some(asked.answers.len());
        }
    }

    /// Runs for ever.
    pub(crate) async fn run(self) -> turmoil::Result {
        loop {
            if let Ok(Some(socket)) = timeout(CONNECT, open(self.0.ear.clone())).await {
                let _ = self.talk(socket).await;
                self.0.history.say(&self.0.name, "is cut off");
            }
            pause(RETRY_MS).await;
        }
    }

    /// Speaks until the connection is gone.
    async fn talk(&self, socket: WebSocketStream<Stream>) -> Option<()> {
        let coach = self.0.coach.parse().ok()?;
        let (role, topic) = (Role::Coach { coach }, Topic::Coach(self.0.coach.parse().ok()?));
        let hello = ToServer::Hello { protocol: PROTOCOL, device: self.0.device, role, topic };
        let mut talk = Talk { socket, server: None, page: None };
        talk.send(&hello).await?;
        for asked in self.0.asked.borrow_mut().values_mut() {
            let again = asked.answers.is_empty() || (self.0.ends.get() && asked.accepted());
            (asked.sent, asked.heard) =
                if again { (0, 0) } else { (asked.answers.len(), asked.answers.len()) };
        }
        let mut heard = Instant::now();
        let mut next_tap = Instant::now() + self.think();
        loop {
            match tokio::time::timeout_at(next_tap, talk.socket.next()).await {
                Ok(message) => {
                    heard = Instant::now();
                    self.hear(&mut talk, message?.ok()?)?;
                }
                Err(_) if heard.elapsed() >= SILENCE => return None,
                Err(_) => {
                    next_tap = Instant::now() + self.think();
                    self.tap(&mut talk).await?;
                }
            }
        }
    }

    fn think(&self) -> Duration {
        let most = if self.0.ends.get() { 150 } else { 500 };
        Duration::from_millis(range(&mut self.0.dice.borrow_mut(), 100, most))
    }

    /// Takes one message; nothing if the connection is over.
    fn hear(&self, talk: &mut Talk, message: Message) -> Option<()> {
        let Message::Text(text) = message else { return (!message.is_close()).then_some(()) };
        match serde_json::from_str(&text).expect("a frame of the server") {
            ToDisplay::Welcome { epoch, rate, now, .. } => {
                talk.server = Some(Server { epoch, rate, now, since: Instant::now() });
            }
            ToDisplay::View { view: View::Coach(page), .. } => talk.page = Some(page),
            ToDisplay::Answer { id, answer } => {
                let epoch = talk.server.as_ref()?.epoch;
                self.0.history.say(&self.0.name, &format!("hears {id:?} {answer:?}"));
                let mut asked = self.0.asked.borrow_mut();
                let asked = asked.get_mut(&id).expect("an answer to something that was asked");
                asked.answers.push((epoch, answer));
                asked.heard += 1;
            }
            ToDisplay::Time { .. } => {}
            other @ (ToDisplay::View { .. } | ToDisplay::Clock { .. } | ToDisplay::Fault { .. }) => {
                panic!("{} hears {other:?}", self.0.name);
            }
        }
        Some(())
    }

    /// Asks again what has no answer, or else taps something new; and says that it is there.
    async fn tap(&self, talk: &mut Talk) -> Option<()> {
        let Some(now) = talk.server.as_ref().map(Server::now) else { return Some(()) };
        talk.send(&ToServer::Time { t1: now.0 }).await?;
        for command in self.due(talk, now) {
            talk.send(&ToServer::Command(command)).await?;
        }
        Some(())
    }

    fn due(&self, talk: &Talk, now: FloorMs) -> Vec<Command> {
        let mut asked = self.0.asked.borrow_mut();
        let waiting = asked.values().filter(|asked| asked.sent > asked.heard).count();
        let room = UNANSWERED.saturating_sub(waiting);
        let unsent = asked.values_mut().filter(|asked| asked.sent == 0).take(room);
        let mut due: Vec<_> = unsent.map(Asked::send).collect();
        if !due.is_empty() || room == 0 || self.0.ends.get() {
            return due;
        }
        let dice = &mut *self.0.dice.borrow_mut();
        if let Some(command) = new(talk.page.as_ref(), now, dice) {
            self.0.history.say(&self.0.name, &format!("taps {command:?}"));
            let fresh =
                Asked { command: command.clone(), answers: Vec::new(), sent: 0, heard: 0, before_end: None };
            let fresh = asked.entry(command.id).or_insert(fresh);
            due.push(fresh.send());
            // A network that has everything twice.
            if dice.chance(150) {
                due.push(fresh.send());
            }
        }
        let old = usize::try_from(dice.below(20)).unwrap_or(0);
        if let Some(old) = asked.values_mut().filter(|asked| asked.accepted()).nth(old) {
            due.push(old.send());
        }
        due
    }
}

/// One of the taps that the page offers, most of them when they will be taken.
fn new(page: Option<&CoachView>, now: FloorMs, dice: &mut Dice) -> Option<Command> {
    let page = page?;
    let early = dice.chance(100);
    let expected = page.groups.iter().flat_map(|group| &group.taps);
    let expected = expected.filter(|tap| early || tap.from <= now).map(|tap| tap.act.clone());
    let calls = page.calls.iter().map(|call| Act::Attend { call: call.call });
    let offered: Vec<Act> = expected.chain(calls).collect();
    let chosen = usize::try_from(dice.below(offered.len() as u64)).ok()?;
    let act = offered.get(chosen)?.clone();
    let late = Millis(i64::try_from(range(dice, 0, 300)).ok()?);
    Some(Command { id: CommandId(id(dice)), at: now - late, act })
}

impl Asked {
    pub(crate) fn accepted(&self) -> bool {
        self.answers.iter().any(|(_, answer)| matches!(answer, Outcome::Accepted { .. }))
    }

    /// Whether it was answered after it was asked for once more.
    pub(crate) fn answered_again(&self) -> bool {
        self.before_end.is_none_or(|before| self.answers.len() > before)
    }

    fn send(&mut self) -> Command {
        self.sent += 1;
        self.command.clone()
    }
}

/// One connection.
struct Talk {
    socket: WebSocketStream<Stream>,
    server: Option<Server>,
    page: Option<CoachView>,
}

/// Who is at the other end, and what time it is there.
struct Server {
    epoch: Uuid,
    rate: u32,
    now: FloorMs,
    since: Instant,
}

impl Server {
    fn now(&self) -> FloorMs {
        let passed = i64::try_from(self.since.elapsed().as_millis()).unwrap_or(0);
        self.now + Millis(passed * i64::from(self.rate))
    }
}

impl Talk {
    async fn send(&mut self, frame: &ToServer) -> Option<()> {
        let text = serde_json::to_string(frame).expect("plain JSON");
        timeout(SILENCE, self.socket.send(Message::text(text))).await.ok()?.ok()
    }
}

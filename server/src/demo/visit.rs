//! One invented person at one display: the socket, the clock, and coming back when the server restarts.

use std::net::SocketAddr;
use std::pin::pin;
use std::time::Duration;

use futures_util::{SinkExt, StreamExt};
use tokio::net::TcpStream;
use tokio::sync::watch;
use tokio::time::{Instant, sleep, sleep_until, timeout};
use tokio_tungstenite::tungstenite::protocol::WebSocketConfig;
use tokio_tungstenite::tungstenite::{Error, Message};
use tokio_tungstenite::{WebSocketStream, client_async_with_config};
use turnabout_protocol::command::Command;
use turnabout_protocol::frame::limits::FRAME_TO_DISPLAY;
use turnabout_protocol::frame::{Fault, PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::ids::{CommandId, DeviceId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

use super::clockwork::Clockwork;
use super::evening::DemoError;
use super::person::Person;
use super::tally::{Summary, word};

/// The path of the socket at every server.
const PATH: &str = "/socket";
/// A connection that takes longer is given up and tried anew.
const CONNECT: Duration = Duration::from_secs(5);
/// A frame that cannot be handed over for so long: the peer no longer reads.
const SEND: Duration = Duration::from_secs(5);
/// Nothing was heard for so long although the time was asked every two seconds: the link is dead.
const SILENCE: Duration = Duration::from_secs(10);
/// A tap that is not answered for so long is taken as lost with its link: saving takes seconds at the worst.
const ANSWER: Duration = Duration::from_secs(30);
/// The first wait before a new connection; each further one is twice as long.
const RETRY_FIRST: Duration = Duration::from_millis(100);
/// The longest wait before a new connection.
const RETRY_MOST: Duration = Duration::from_secs(3);
/// A server that cannot be reached for so long does not come back.
const GIVE_UP: Duration = Duration::from_secs(180);

type Socket = WebSocketStream<TcpStream>;

/// How far the evening is, as one page shows it: sessions over, and of how many.
pub(super) type Progress = (usize, usize);

/// One person with a display.
pub(super) struct Visit {
    server: SocketAddr,
    device: DeviceId,
    role: Role,
    topic: Topic,
    person: Person,
    clock: Clockwork,
    shown: Option<Revision>,
    /// The one tap without an answer; a person awaits it before the next.
    pending: Option<Command>,
    /// When that was sent.
    sent: Instant,
    progress: watch::Sender<Progress>,
    tally: Summary,
}

/// Why a connection is over.
enum Lost {
    /// It broke, or never came to be: worth another try.
    Broken,
    /// The server will never take this display.
    Rejected(Fault),
}

impl From<Error> for Lost {
    fn from(error: Error) -> Self {
        tracing::debug!(%error, "a demo display lost its server");
        Self::Broken
    }
}

impl Visit {
    pub(super) fn new(
        server: SocketAddr,
        (role, topic): (Role, Topic),
        person: Person,
        progress: watch::Sender<Progress>,
    ) -> Self {
        Self {
            server,
            device: DeviceId(Uuid::new_v4()),
            role,
            topic,
            person,
            clock: Clockwork::new(Instant::now()),
            shown: None,
            pending: None,
            sent: Instant::now(),
            progress,
            tally: Summary::default(),
        }
    }

    /// Stays until `stop` says so, through restarts of the server.
    pub(super) async fn stay(mut self, mut stop: watch::Receiver<bool>) -> Result<Summary, DemoError> {
        let mut retry = RETRY_FIRST;
        let mut last_up = Instant::now();
        loop {
            let lost = tokio::select! {
                lost = self.connection(&mut last_up) => lost,
                _ = stop.wait_for(|stop| *stop) => return Ok(self.tally),
            };
            if let Lost::Rejected(fault) = lost {
                return Err(DemoError::Rejected { topic: self.topic, fault });
            }
            let now = Instant::now();
            self.lose(now);
            let down = now.saturating_duration_since(last_up);
            if down > GIVE_UP {
                return Err(DemoError::Unreachable { server: self.server });
            }
            // A server that was up a moment ago is looked for soon.
            retry = if down < RETRY_FIRST { RETRY_FIRST } else { (retry * 2).min(RETRY_MOST) };
            tokio::select! {
                () = sleep(retry) => {}
                _ = stop.wait_for(|stop| *stop) => return Ok(self.tally),
            }
        }
    }

    async fn connection(&mut self, last_up: &mut Instant) -> Lost {
        match timeout(CONNECT, open(self.server)).await {
            Ok(Ok(mut socket)) => match self.talk(&mut socket, last_up).await {
                Ok(never) => match never {},
                Err(lost) => lost,
            },
            Ok(Err(lost)) => lost,
            Err(_) => Lost::Broken,
        }
    }

    async fn talk(
        &mut self,
        socket: &mut Socket,
        last_up: &mut Instant,
    ) -> Result<std::convert::Infallible, Lost> {
        let (device, role, topic) = (self.device, self.role.clone(), self.topic.clone());
        send(socket, &ToServer::Hello { protocol: PROTOCOL, device, role, topic }).await?;
        let mut welcomed = false;
        let mut heard = Instant::now();
        loop {
            let now = Instant::now();
            if welcomed {
                self.speak(socket, now).await?;
            }
            let too_long = if self.pending.is_some() { self.sent + ANSWER } else { heard + SILENCE };
            let too_long = too_long.min(heard + SILENCE);
            let wake = self.wake(welcomed, now).map_or(too_long, |wake| wake.min(too_long));
            tokio::select! {
                frame = socket.next() => {
                    let frame = frame.ok_or(Lost::Broken)??;
                    heard = Instant::now();
                    if let Some(frame) = read(&frame)? {
                        let welcome = matches!(frame, ToDisplay::Welcome { .. });
                        self.take(frame, heard)?;
                        if welcome {
                            welcomed = true;
                            self.send_again(socket).await?;
                        }
                        *last_up = heard;
                    }
                }
                () = sleep_until(wake) => {
                    if Instant::now() >= too_long {
                        return Err(Lost::Broken);
                    }
                }
            }
        }
    }

    /// Asks for the time and taps, each if it is due.
    async fn speak(&mut self, socket: &mut Socket, now: Instant) -> Result<(), Lost> {
        if self.clock.next_question() <= now {
            let t1 = self.clock.question(now);
            send(socket, &ToServer::Time { t1 }).await?;
        }
        let Some(at) = self.clock.now(now) else { return Ok(()) };
        if self.pending.is_none()
            && let Some(act) = self.person.act(at)
        {
            // Ids are made at random even where the people are not: a second evening on the same journal
            // must not repeat those of the first.
            let command = Command { id: CommandId(Uuid::new_v4()), at, act };
            self.tally.taps += 1;
            self.pending = Some(command.clone());
            self.sent = now;
            send(socket, &ToServer::Command(command)).await?;
        }
        Ok(())
    }

    /// When there is something to say without hearing anything before.
    fn wake(&mut self, welcomed: bool, now: Instant) -> Option<Instant> {
        let person = self.person.next().filter(|_| welcomed && self.pending.is_none());
        let person = person.and_then(|at| self.clock.when(at, now));
        let question = welcomed.then(|| self.clock.next_question());
        person.into_iter().chain(question).min()
    }

    async fn send_again(&mut self, socket: &mut Socket) -> Result<(), Lost> {
        let Some(command) = self.pending.clone() else { return Ok(()) };
        self.sent = Instant::now();
        send(socket, &ToServer::Command(command)).await
    }

    fn take(&mut self, frame: ToDisplay, now: Instant) -> Result<(), Lost> {
        match frame {
            ToDisplay::Welcome { epoch, rate, now: floor, protocol: _ } => {
                self.tally.reconnected += u64::from(self.shown.is_some());
                self.clock.welcome(epoch, rate, floor, now);
            }
            ToDisplay::View { revision, as_of, view, topic: _ } => {
                if self.shown.is_none_or(|shown| shown.gives_way_to(&revision)) {
                    self.shown = Some(revision);
                    let at = self.clock.now(now).unwrap_or(as_of);
                    self.person.see(view, at);
                    self.report();
                }
            }
            ToDisplay::Answer { id, answer } => self.answered(id, &answer, now),
            ToDisplay::Time { t1, t2, t3 } => self.clock.answer(t1, t2, t3, now),
            ToDisplay::Clock { now: floor } => self.clock.told(floor, now),
            ToDisplay::Fault { fault } => match fault {
                Fault::Version { .. }
                | Fault::UnknownTopic
                | Fault::TopicNotAllowed
                | Fault::HelloFirst
                | Fault::HelloTwice
                | Fault::NotText
                | Fault::Malformed { .. }
                | Fault::Oversize => return Err(Lost::Rejected(fault)),
                Fault::HelloLate | Fault::Flood | Fault::Full => {
                    tracing::debug!(topic = %self.topic, ?fault, "a demo display was sent away");
                    return Err(Lost::Broken);
                }
            },
        }
        Ok(())
    }

    fn answered(&mut self, id: CommandId, answer: &Outcome, now: Instant) {
        let Some(command) = self.pending.take_if(|command| command.id == id) else { return };
        if let Outcome::Refused { refusal } = answer {
            // Two people reach for the same thing now and then: that is no fault.
            tracing::debug!(topic = %self.topic, because = word(refusal), "a demo tap was refused");
        }
        self.tally.count(answer);
        let at = self.clock.now(now).unwrap_or(command.at);
        self.person.hear(answer, at);
    }

    /// The link is gone. What states a fact of the past is kept for the next, with the same id.
    fn lose(&mut self, now: Instant) {
        let late = self.pending.take_if(|command| !command.act.may_come_late());
        if let Some(command) = late {
            let at: FloorMs = self.clock.now(now).unwrap_or(command.at);
            self.person.lose(at);
        }
    }

    fn report(&self) {
        if let Some(progress) = self.person.finished() {
            self.progress.send_replace(progress);
        }
    }
}

async fn open(server: SocketAddr) -> Result<Socket, Lost> {
    let config = WebSocketConfig::default()
        .read_buffer_size(4 * 1024)
        .max_message_size(Some(FRAME_TO_DISPLAY))
        .max_frame_size(Some(FRAME_TO_DISPLAY));
    let stream = TcpStream::connect(server).await.map_err(Error::Io)?;
    stream.set_nodelay(true).map_err(Error::Io)?;
    let url = format!("ws://{server}{PATH}");
    let opening = pin!(client_async_with_config(url, stream, Some(config)));
    let (socket, _) = opening.await?;
    Ok(socket)
}

async fn send(socket: &mut Socket, frame: &ToServer) -> Result<(), Lost> {
    let text = serde_json::to_string(frame).expect("a frame is plain data with text keys");
    match timeout(SEND, socket.send(Message::text(text))).await {
        Ok(sent) => Ok(sent?),
        Err(_) => Err(Lost::Broken),
    }
}

/// A frame of ours; nothing for the network's own ones.
fn read(message: &Message) -> Result<Option<ToDisplay>, Lost> {
    match message {
        Message::Text(text) => serde_json::from_str(text).map(Some).map_err(|error| {
            tracing::warn!(%error, "a demo display could not read what the server said");
            Lost::Broken
        }),
        Message::Close(_) => Err(Lost::Broken),
        Message::Binary(_) | Message::Ping(_) | Message::Pong(_) | Message::Frame(_) => Ok(None),
    }
}

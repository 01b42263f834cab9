//! One display's socket: `hello` and `welcome`, then taps in, answers and views out.
//!
//! A socket has one task, one frame waiting for it at most, and a bound on everything its peer can do.
//! Whatever is ready is queued and sent by one flush.

use std::sync::Arc;

use axum::extract::State;
use axum::extract::ws::{WebSocket, WebSocketUpgrade};
use axum::http::{HeaderMap, header};
use axum::response::Response;
use tokio::sync::{OwnedSemaphorePermit, mpsc, watch};
use tokio::time::{Duration, Instant, Interval, MissedTickBehavior, interval_at, timeout_at};
use turnabout_protocol::command::Command;
use turnabout_protocol::frame::{Fault, PROTOCOL, ToDisplay, ToServer, limits};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::units::FloorMs;

use super::app::App;
use super::flood::Leave;
use super::hello::{self, Hello};
use super::problem::Problem;
use super::wire::{End, Incoming, Wire, settle};
use crate::live::{Answer, BodyHash, Clock, DrivenClock, Seat, TapIn, Unanswered};

/// How long a display may take to say `hello`.
pub const HELLO_WITHIN: Duration = Duration::from_secs(5);
/// How often a display must show that it is there, and hears that the server is: twice before it takes the
/// link for dead.
pub const PING_EVERY: Duration = Duration::from_secs(2);
/// How long nothing may be heard of a display. A dead one holds nothing up; one that only sleeps may stay.
pub const SILENT_FOR: Duration = Duration::from_secs(15);
/// Things done before a flush: a burst of time questions and what is ready beside it.
const BURST: usize = 64;

/// `/socket`: opens a socket for a display or for a page of this server.
pub(super) async fn upgrade(
    State(app): State<Arc<App>>,
    headers: HeaderMap,
    upgrade: WebSocketUpgrade,
) -> Result<Response, Problem> {
    // A page says where it comes from and cannot lie about it; a kiosk is no page and says nothing.
    let foreign =
        |origin: &header::HeaderValue| !app.origins.iter().any(|own| own.as_bytes() == origin.as_bytes());
    if headers.get_all(header::ORIGIN).iter().any(foreign) {
        return Err(Problem::Origin);
    }
    let upgrade = settle(upgrade);
    match Arc::clone(&app.sockets).try_acquire_owned() {
        Ok(permit) => Ok(upgrade.on_upgrade(|socket| serve(socket, app, permit))),
        Err(_) => {
            let permit = Arc::clone(&app.turned_away).try_acquire_owned().map_err(|_| Problem::Full)?;
            Ok(upgrade.on_upgrade(|socket| turn_away(socket, permit)))
        }
    }
}

async fn turn_away(socket: WebSocket, permit: OwnedSemaphorePermit) {
    Wire::new(socket).end(End::Fault(Fault::Full)).await;
    drop(permit);
}

async fn serve(socket: WebSocket, app: Arc<App>, permit: OwnedSemaphorePermit) {
    let mut wire = Wire::new(socket);
    let end = match converse(&mut wire, &app).await {
        Ok(never) => match never {},
        Err(end) => end,
    };
    tracing::debug!(?end, "a socket ends");
    wire.end(end).await;
    drop(permit);
}

/// A conversation goes on until it ends.
enum Never {}

async fn converse(wire: &mut Wire, app: &App) -> Result<Never, End> {
    let mut leave = Leave::new(Instant::now());
    let hello = welcome_in_time(wire, app, &mut leave).await?;
    let seat = match app.floor.join(hello.role, hello.topic).await {
        Ok(seat) => seat.map_err(End::Fault)?,
        Err(Unanswered::Busy) => return Err(End::Fault(Fault::Full)),
        Err(Unanswered::Gone) => return Err(End::Closing),
    };
    let mut moves = app.clock.driven().map(DrivenClock::moves);
    let now = moves.as_mut().map_or_else(|| app.clock.now(), |moves| *moves.borrow_and_update());
    let (epoch, rate) = (app.epoch, app.clock.rate());
    wire.feed(&ToDisplay::Welcome { protocol: PROTOCOL, epoch, rate, now }).await?;
    let (reply, answers) = mpsc::channel(limits::UNANSWERED);
    let mut beat = interval_at(Instant::now() + PING_EVERY, PING_EVERY);
    beat.set_missed_tick_behavior(MissedTickBehavior::Delay);
    let (closing, heard) = (app.closing.clone(), Instant::now());
    let device = hello.device;
    Talk { wire, app, seat, device, moves, closing, reply, answers, unanswered: 0, leave, beat, heard }
        .go_on()
        .await
}

/// Waits for a `hello` that is in order.
async fn welcome_in_time(wire: &mut Wire, app: &App, leave: &mut Leave) -> Result<Hello, End> {
    let mut closing = app.closing.clone();
    let late = Instant::now() + HELLO_WITHIN;
    loop {
        let incoming = tokio::select! {
            _ = closing.wait_for(|closing| *closing) => return Err(End::Closing),
            incoming = timeout_at(late, wire.next()) => incoming.map_err(|_| End::Fault(Fault::HelloLate))??,
        };
        if !leave.take(Instant::now()) {
            return Err(End::Fault(Fault::Flood));
        }
        if let Some(fault) = match hello::take(incoming) {
            hello::Taken::Hello(hello) => return Ok(hello),
            hello::Taken::Fatal(fault) => return Err(End::Fault(fault)),
            hello::Taken::Fault(fault) => Some(fault),
            hello::Taken::Sign => None,
        } {
            wire.feed(&ToDisplay::Fault { fault }).await?;
            wire.flush().await?;
        }
    }
}

/// A socket after its `hello`.
struct Talk<'a> {
    wire: &'a mut Wire,
    app: &'a App,
    seat: Seat,
    device: DeviceId,
    /// Moves of a driven clock.
    moves: Option<watch::Receiver<FloorMs>>,
    closing: watch::Receiver<bool>,
    reply: mpsc::Sender<Answer>,
    answers: mpsc::Receiver<Answer>,
    unanswered: usize,
    leave: Leave,
    beat: Interval,
    heard: Instant,
}

/// What a socket does next, the first that is ready in this order. The time comes before the views that
/// were made at it, answers before the views that show them.
enum Next {
    Moved(FloorMs),
    Answer(Answer),
    View,
    Incoming(Result<Incoming, End>),
    Beat,
    Closing,
}

impl Talk<'_> {
    async fn go_on(mut self) -> Result<Never, End> {
        loop {
            self.wire.flush().await?;
            let mut next = Some(self.next().await);
            for _ in 0..BURST {
                let Some(now) = next else { break };
                self.take(now).await?;
                next = self.next_now();
            }
            if let Some(now) = next {
                self.take(now).await?;
            }
        }
    }

    async fn next(&mut self) -> Next {
        let Self { wire, seat, moves, closing, answers, beat, .. } = self;
        tokio::select! {
            biased;
            now = moved(moves) => Next::Moved(now),
            Some(answer) = answers.recv() => Next::Answer(answer),
            changed = seat.frames.changed() => if changed.is_ok() { Next::View } else { Next::Closing },
            incoming = wire.next() => Next::Incoming(incoming),
            _ = beat.tick() => Next::Beat,
            _ = closing.wait_for(|closing| *closing) => Next::Closing,
        }
    }

    /// As [`Self::next`], without waiting.
    fn next_now(&mut self) -> Option<Next> {
        if let Some(moves) = &mut self.moves
            && moves.has_changed().unwrap_or(false)
        {
            return Some(Next::Moved(*moves.borrow_and_update()));
        }
        if let Ok(answer) = self.answers.try_recv() {
            return Some(Next::Answer(answer));
        }
        if self.seat.frames.has_changed().unwrap_or(false) {
            return Some(Next::View);
        }
        self.wire.next_now().map(Next::Incoming)
    }

    async fn take(&mut self, next: Next) -> Result<(), End> {
        match next {
            Next::Moved(now) => self.wire.feed(&ToDisplay::Clock { now }).await,
            Next::Answer(answer) => {
                self.unanswered = self.unanswered.saturating_sub(1);
                self.answer(answer).await
            }
            Next::View => {
                let frame = self.seat.frames.borrow_and_update().clone();
                match frame {
                    Some(frame) => self.wire.feed_text(frame).await,
                    None => Ok(()),
                }
            }
            Next::Incoming(incoming) => self.hear(incoming?).await,
            Next::Beat if self.heard.elapsed() >= SILENT_FOR => Err(End::Silent),
            Next::Beat => self.wire.feed_ping().await,
            Next::Closing => Err(self.last_words().await),
        }
    }

    /// What the floor still had to say before it ended.
    async fn last_words(&mut self) -> End {
        while let Ok(answer) = self.answers.try_recv() {
            if let Err(end) = self.answer(answer).await {
                return end;
            }
        }
        End::Closing
    }

    async fn hear(&mut self, incoming: Incoming) -> Result<(), End> {
        let now = Instant::now();
        self.heard = now;
        if !self.leave.take(now) {
            return Err(End::Fault(Fault::Flood));
        }
        match incoming {
            Incoming::Frame(ToServer::Time { t1 }) => {
                // The time of arrival is now: frames are taken as they come.
                let t2 = self.app.clock.now();
                let t3 = self.app.clock.now();
                self.wire.feed(&ToDisplay::Time { t1, t2, t3 }).await
            }
            Incoming::Frame(ToServer::Command(command)) => self.command(command).await,
            Incoming::Frame(ToServer::Hello { .. }) => self.fault(Fault::HelloTwice).await,
            Incoming::Fault(fault, _) => self.fault(fault).await,
            Incoming::Sign => Ok(()),
        }
    }

    async fn fault(&mut self, fault: Fault) -> Result<(), End> {
        self.wire.feed(&ToDisplay::Fault { fault }).await
    }

    async fn command(&mut self, command: Command) -> Result<(), End> {
        let id = command.id;
        let refused = if self.unanswered >= limits::UNANSWERED {
            Err(Refusal::Busy)
        } else {
            let body = BodyHash::of(&command);
            let (device, speaker, reply) = (self.device, self.seat.speaker.clone(), self.reply.clone());
            self.app.floor.tap(TapIn { device, speaker, command, body, reply })
        };
        match refused {
            Ok(()) => {
                self.unanswered += 1;
                Ok(())
            }
            Err(refusal) => self.answer(Answer { id, outcome: Outcome::Refused { refusal } }).await,
        }
    }

    async fn answer(&mut self, answer: Answer) -> Result<(), End> {
        self.wire.feed(&ToDisplay::Answer { id: answer.id, answer: answer.outcome }).await
    }
}

/// The next move of a driven clock; never where the clock runs by itself.
async fn moved(moves: &mut Option<watch::Receiver<FloorMs>>) -> FloorMs {
    if let Some(moves) = moves
        && moves.changed().await.is_ok()
    {
        return *moves.borrow_and_update();
    }
    std::future::pending().await
}

//! A server that plays one part on loopback, on a clock of its own.

use std::net::TcpListener;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use futures_util::{SinkExt, StreamExt};
use tokio::net::TcpStream;
use tokio_tungstenite::tungstenite::Message;
use tokio_tungstenite::{WebSocketStream, accept_async};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::frame::{PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{StationPart, View};
use uuid::Uuid;

use crate::scenes::{NOW, bench_1, coming, rest, station, under_way, view};

/// A port of loopback where nobody listens (the discard service of RFC 863, which no machine of today runs).
pub(crate) const NOBODY: u16 = 9;

/// So fast does the clock of the driven day go.
pub(crate) const DAY_RATE: u32 = 1_000;

/// How often the station changes in it, in floor time.
const CHANGES_EVERY: i64 = 60_000;

/// What is played.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    /// A free station.
    Still,
    /// A rest of ten minutes.
    Countdown,
    /// A set of repetitions, from two seconds on.
    Pacer,
    /// Rest, set and a free station in turns.
    Evening,
}

impl Part {
    /// What the station shows at a floor time, and how often it has changed until then.
    fn at(self, now: FloorMs) -> (i64, StationPart) {
        let free = || station(1, "Bench 1", GearKind::Bar, None);
        let round = (now.0 - NOW.0) / CHANGES_EVERY;
        let since = round * CHANGES_EVERY / 1_000;
        match self {
            Self::Still => (0, free()),
            Self::Countdown => (0, bench_1(coming(rest(600), 600, 600, &[]))),
            Self::Pacer => (0, bench_1(under_way(2))),
            Self::Evening => (
                round,
                match round % 3 {
                    0 => bench_1(coming(rest(since + 60), since + 60, since + 60, &[])),
                    1 => bench_1(under_way(since + 10)),
                    _ => free(),
                },
            ),
        }
    }
}

/// Floor time in a part.
#[derive(Clone, Copy)]
struct Clock {
    since: Instant,
    rate: u32,
}

impl Clock {
    fn now(self) -> FloorMs {
        let real = i64::try_from(self.since.elapsed().as_millis()).unwrap_or(i64::MAX);
        FloorMs(NOW.0 + real * i64::from(self.rate))
    }
}

/// The server, until the bench ends.
pub(crate) struct Played {
    port: u16,
    sent: Arc<AtomicUsize>,
}

impl Played {
    /// Listens, and plays to whoever comes. The clock starts now.
    pub(crate) fn begin(part: Part, rate: u32) -> Self {
        let listener = TcpListener::bind(("127.0.0.1", 0)).expect("loopback has a free port");
        listener.set_nonblocking(true).expect("a socket can be made so");
        let port = listener.local_addr().expect("it is bound").port();
        let sent = Arc::new(AtomicUsize::new(0));
        let counted = Arc::clone(&sent);
        let clock = Clock { since: Instant::now(), rate };
        std::thread::spawn(move || {
            let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build();
            runtime.expect("there are threads").block_on(async {
                let listener = tokio::net::TcpListener::from_std(listener).expect("it listens");
                while let Ok((stream, _)) = listener.accept().await {
                    play(stream, part, clock, &counted).await;
                }
            });
        });
        Self { port, sent }
    }

    pub(crate) const fn port(&self) -> u16 {
        self.port
    }

    /// How many views were sent.
    pub(crate) fn sent(&self) -> usize {
        self.sent.load(Ordering::Relaxed)
    }
}

/// Plays to one display until it goes.
async fn play(stream: TcpStream, part: Part, clock: Clock, sent: &AtomicUsize) {
    let Ok(mut socket) = accept_async(stream).await else { return };
    let epoch = Uuid::from_u128(1);
    let mut last = None;
    loop {
        let next = tokio::time::timeout(Duration::from_millis(20), socket.next()).await;
        let now = clock.now();
        let answer = match next {
            Err(_) | Ok(Some(Ok(Message::Ping(_) | Message::Pong(_)))) => None,
            Ok(Some(Ok(Message::Text(text)))) => match serde_json::from_str(&text) {
                Ok(ToServer::Hello { .. }) => {
                    last = Some(-1);
                    Some(ToDisplay::Welcome { protocol: PROTOCOL, epoch, rate: clock.rate, now })
                }
                Ok(ToServer::Time { t1 }) => Some(ToDisplay::Time { t1, t2: now, t3: clock.now() }),
                Ok(ToServer::Command(_)) | Err(_) => None,
            },
            Ok(Some(Ok(_) | Err(_)) | None) => return,
        };
        if let Some(answer) = answer
            && say(&mut socket, &answer).await.is_none()
        {
            return;
        }
        let (changed, station) = part.at(now);
        // Nothing is shown before somebody has said hello.
        if last.is_none_or(|last| last >= changed) {
            continue;
        }
        let view: View = view(vec![station]);
        let sequence = u64::try_from(changed).unwrap_or(0) + 1;
        let revision = Revision { epoch, sequence, plan: 0 };
        let topic = "station/bench-1".parse().expect("a topic");
        if say(&mut socket, &ToDisplay::View { topic, revision, as_of: now, view }).await.is_none() {
            return;
        }
        last = Some(changed);
        sent.fetch_add(1, Ordering::Relaxed);
    }
}

async fn say(socket: &mut WebSocketStream<TcpStream>, frame: &ToDisplay) -> Option<()> {
    let text = serde_json::to_string(frame).ok()?;
    socket.send(Message::text(text)).await.ok()
}

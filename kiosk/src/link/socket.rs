//! The socket behind the link: does what the machine says, and tells it what happened.

use std::future::{Future, pending};
use std::pin::Pin;
use std::time::{Duration, Instant};

use futures_util::{SinkExt, StreamExt};
use tokio::net::TcpStream;
use tokio::sync::mpsc::Receiver;
use tokio::time::{MissedTickBehavior, interval, timeout};
use tokio_tungstenite::tungstenite::protocol::WebSocketConfig;
use tokio_tungstenite::tungstenite::{Error, Message};
use tokio_tungstenite::{MaybeTlsStream, WebSocketStream, connect_async_with_config};
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::limits::FRAME_TO_DISPLAY;
use turnabout_protocol::ids::CommandId;
use uuid::Uuid;

use super::limits::{CONNECT_MS, SEND_MS, TICK_MS};
use super::{Action, Event, Link};

type Socket = WebSocketStream<MaybeTlsStream<TcpStream>>;
type Opening = Pin<Box<dyn Future<Output = Option<Socket>>>>;

enum Line {
    Down,
    Opening(Opening),
    Open(Box<Socket>),
}

/// A tap on its way to the link: what is asked, and when by the display's own clock.
pub type Tapped = (Instant, Act);

/// Runs the link until the sender of taps is dropped. `show` is called after everything that happened, and
/// ten times a second, with the real time in milliseconds since `start`.
pub async fn run(
    url: String,
    mut link: Link,
    start: Instant,
    mut taps: Receiver<Tapped>,
    mut show: impl FnMut(&mut Link, u64),
) {
    let mut line = Line::Down;
    let mut ticks = interval(Duration::from_millis(TICK_MS));
    ticks.set_missed_tick_behavior(MissedTickBehavior::Skip);
    loop {
        let (at, event) = tokio::select! {
            event = next(&mut line) => (Instant::now(), event),
            tap = taps.recv() => match tap {
                Some((at, act)) => (at, Event::Tap { id: CommandId(Uuid::new_v4()), act }),
                None => return,
            },
            _ = ticks.tick() => (Instant::now(), Event::Tick { dice: dice() }),
        };
        let actions = link.on(millis(start, at), event);
        for action in actions {
            if !act(&mut line, &url, action).await {
                line = Line::Down;
                // Nothing follows from this but a later try.
                link.on(millis(start, Instant::now()), Event::Closed { dice: dice() });
                break;
            }
        }
        show(&mut link, millis(start, Instant::now()));
    }
}

/// Real milliseconds since the start.
#[must_use]
pub fn millis(start: Instant, at: Instant) -> u64 {
    u64::try_from(at.saturating_duration_since(start).as_millis()).unwrap_or(u64::MAX)
}

/// 0 to 999 by chance.
fn dice() -> u16 {
    u16::try_from(Uuid::new_v4().as_u128() % 1_000).unwrap_or(0)
}

/// Does one action; false if the connection is gone.
async fn act(line: &mut Line, url: &str, action: Action) -> bool {
    match action {
        Action::Open => *line = Line::Opening(Box::pin(open(url.to_owned()))),
        Action::Close => *line = Line::Down,
        Action::Send(frame) => {
            let Line::Open(socket) = line else {
                return false;
            };
            let text = serde_json::to_string(&frame).expect("a frame is plain JSON");
            let sent = timeout(Duration::from_millis(SEND_MS), socket.send(Message::text(text))).await;
            return matches!(sent, Ok(Ok(())));
        }
    }
    true
}

async fn open(url: String) -> Option<Socket> {
    let config = WebSocketConfig::default()
        .max_message_size(Some(FRAME_TO_DISPLAY))
        .max_frame_size(Some(FRAME_TO_DISPLAY));
    // Small frames must not wait for each other.
    let connecting = connect_async_with_config(url, Some(config), true);
    let (socket, _) = timeout(Duration::from_millis(CONNECT_MS), connecting).await.ok()?.ok()?;
    Some(socket)
}

/// The next thing that happens on the line; never, while it is down.
async fn next(line: &mut Line) -> Event {
    match line {
        Line::Down => pending().await,
        Line::Opening(opening) => match opening.await {
            Some(socket) => {
                *line = Line::Open(Box::new(socket));
                Event::Opened
            }
            None => closed(line),
        },
        Line::Open(socket) => match heard(socket.next().await) {
            Some(event) => event,
            None => closed(line),
        },
    }
}

fn closed(line: &mut Line) -> Event {
    *line = Line::Down;
    Event::Closed { dice: dice() }
}

/// What was heard; nothing if the connection is gone.
fn heard(message: Option<Result<Message, Error>>) -> Option<Event> {
    match message? {
        Ok(Message::Text(text)) => match serde_json::from_str(&text) {
            Ok(frame) => Some(Event::Frame(Box::new(frame))),
            // A frame this version does not know: the server is another one, and the link is still alive.
            Err(_) => Some(Event::Heard),
        },
        Ok(Message::Binary(_) | Message::Ping(_) | Message::Pong(_) | Message::Frame(_)) => {
            Some(Event::Heard)
        }
        Ok(Message::Close(_)) | Err(_) => None,
    }
}

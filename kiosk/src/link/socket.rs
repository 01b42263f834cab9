//! The socket behind the link: does what the machine says, and tells it what happened.

use std::future::{Future, pending};
use std::pin::Pin;
use std::rc::Rc;
use std::time::{Duration, Instant};

use futures_util::{SinkExt, StreamExt};
use tokio::io::{AsyncRead, AsyncWrite};
use tokio::net::TcpStream;
use tokio::sync::Notify;
use tokio::sync::mpsc::Receiver;
use tokio::time::{sleep_until, timeout};
use tokio_tungstenite::tungstenite::client::IntoClientRequest;
use tokio_tungstenite::tungstenite::handshake::client::Request;
use tokio_tungstenite::tungstenite::http::header::AUTHORIZATION;
use tokio_tungstenite::tungstenite::http::{HeaderValue, StatusCode};
use tokio_tungstenite::tungstenite::protocol::WebSocketConfig;
use tokio_tungstenite::tungstenite::{Error, Message};
use tokio_tungstenite::{MaybeTlsStream, WebSocketStream, connect_async_with_config};
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::limits::FRAME_TO_DISPLAY;
use turnabout_protocol::ids::CommandId;
use uuid::Uuid;

use super::limits::{CONNECT_MS, SEND_MS};
use super::token::Token;
use super::{Action, Event, Link};

/// What the link meets outside: a network, and chance.
pub trait Outside {
    /// A connection.
    type Stream: AsyncRead + AsyncWrite + Unpin + 'static;

    /// Opens a socket to the server.
    fn open(&self) -> impl Future<Output = Result<WebSocketStream<Self::Stream>, NotOpen>> + 'static;

    /// 128 bits that are an id nobody else has.
    fn chance(&mut self) -> Uuid;
}

/// Why a socket did not open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotOpen {
    /// Nobody is there, or nobody who speaks as a server does.
    Unreachable,
    /// The server does not know this display.
    NotLetIn,
}

impl From<Error> for NotOpen {
    fn from(error: Error) -> Self {
        match error {
            Error::Http(answer)
                if matches!(answer.status(), StatusCode::UNAUTHORIZED | StatusCode::FORBIDDEN) =>
            {
                Self::NotLetIn
            }
            _ => Self::Unreachable,
        }
    }
}

/// Where a server is, and by what it knows this display.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Door {
    /// The address of its socket.
    pub url: String,
    /// Nothing where it takes every display.
    pub token: Option<Token>,
}

impl Door {
    /// The question that opens the socket; nothing where the address is none.
    fn request(&self) -> Option<Request> {
        let mut request = self.url.as_str().into_client_request().ok()?;
        if let Some(token) = &self.token {
            let mut value = HeaderValue::from_str(&token.bearer()).ok()?;
            value.set_sensitive(true);
            request.headers_mut().insert(AUTHORIZATION, value);
        }
        Some(request)
    }
}

/// The network and the chance of this machine.
struct Machine {
    door: Door,
}

impl Outside for Machine {
    type Stream = MaybeTlsStream<TcpStream>;

    fn open(&self) -> impl Future<Output = Result<WebSocketStream<Self::Stream>, NotOpen>> + 'static {
        let request = self.door.request();
        async {
            // Small frames must not wait for each other.
            let request = request.ok_or(NotOpen::Unreachable)?;
            let (socket, _) = connect_async_with_config(request, Some(config()), true).await?;
            Ok(socket)
        }
    }

    fn chance(&mut self) -> Uuid {
        Uuid::new_v4()
    }
}

/// The bounds of a socket.
#[must_use]
pub fn config() -> WebSocketConfig {
    WebSocketConfig::default().max_message_size(Some(FRAME_TO_DISPLAY)).max_frame_size(Some(FRAME_TO_DISPLAY))
}

type Socket<O> = WebSocketStream<<O as Outside>::Stream>;
type Opening<O> = Pin<Box<dyn Future<Output = Result<Socket<O>, NotOpen>>>>;

enum Line<O: Outside> {
    Down,
    Opening(Opening<O>),
    Open(Box<Socket<O>>),
}

/// A tap on its way to the link: what is asked, and when by the display's own clock.
pub type Tapped = (Instant, Act);

/// Runs the link until the sender of taps is dropped. `show` is called after everything that happened, when `again`
/// is notified, and at the time that it last said itself, with the real time in milliseconds since `start`; it says
/// when what it shows changes next if nothing comes until then.
pub async fn run(
    door: Door,
    link: Link,
    start: Instant,
    taps: Receiver<Tapped>,
    again: Rc<Notify>,
    show: impl FnMut(&mut Link, u64) -> u64,
) {
    run_in(Machine { door }, link, start, taps, again, show).await;
}

/// As [`run`], wherever there is a network.
pub async fn run_in<O: Outside>(
    mut outside: O,
    mut link: Link,
    start: Instant,
    mut taps: Receiver<Tapped>,
    again: Rc<Notify>,
    mut show: impl FnMut(&mut Link, u64) -> u64,
) {
    let mut line: Line<O> = Line::Down;
    let mut wake = 0;
    loop {
        let (at, event) = tokio::select! {
            biased;
            () = sleep_until((start + Duration::from_millis(wake)).into()) => {
                (now(), Event::Tick { dice: dice(&mut outside) })
            }
            () = again.notified() => (now(), Event::Tick { dice: dice(&mut outside) }),
            tap = taps.recv() => match tap {
                Some((at, act)) => (at, Event::Tap { id: CommandId(outside.chance()), act }),
                None => return,
            },
            // Last, since it can be ready all the time and the others cannot.
            heard = next(&mut line) => {
                let event = match heard {
                    Ok(event) => event,
                    Err(NotOpen::Unreachable) => closed(&mut line, &mut outside),
                    Err(NotOpen::NotLetIn) => {
                        line = Line::Down;
                        Event::NotLetIn { dice: dice(&mut outside) }
                    }
                };
                (now(), event)
            }
        };
        let actions = link.on(millis(start, at), event);
        for action in actions {
            if !act(&mut line, &outside, action).await {
                let event = closed(&mut line, &mut outside);
                // Nothing follows from this but a later try.
                link.on(millis(start, now()), event);
                break;
            }
        }
        let real = millis(start, now());
        // Never at once, or nothing else would come to its turn.
        wake = show(&mut link, real).min(link.due()).max(real + 1);
    }
}

/// Now, by the clock that the ticks go by.
fn now() -> Instant {
    tokio::time::Instant::now().into_std()
}

/// Real milliseconds since the start.
#[must_use]
pub fn millis(start: Instant, at: Instant) -> u64 {
    u64::try_from(at.saturating_duration_since(start).as_millis()).unwrap_or(u64::MAX)
}

/// 0 to 999 by chance.
fn dice(outside: &mut impl Outside) -> u16 {
    u16::try_from(outside.chance().as_u128() % 1_000).unwrap_or(0)
}

/// Does one action; false if the connection is gone.
async fn act<O: Outside>(line: &mut Line<O>, outside: &O, action: Action) -> bool {
    match action {
        Action::Open => *line = Line::Opening(Box::pin(in_time(outside.open()))),
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

async fn in_time<T>(opening: impl Future<Output = Result<T, NotOpen>>) -> Result<T, NotOpen> {
    timeout(Duration::from_millis(CONNECT_MS), opening).await.unwrap_or(Err(NotOpen::Unreachable))
}

/// The next thing that happens on the line; never, while it is down.
async fn next<O: Outside>(line: &mut Line<O>) -> Result<Event, NotOpen> {
    match line {
        Line::Down => pending().await,
        Line::Opening(opening) => {
            let socket = opening.await?;
            *line = Line::Open(Box::new(socket));
            Ok(Event::Opened)
        }
        Line::Open(socket) => heard(socket.next().await).ok_or(NotOpen::Unreachable),
    }
}

fn closed<O: Outside>(line: &mut Line<O>, outside: &mut O) -> Event {
    *line = Line::Down;
    Event::Closed { dice: dice(outside) }
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

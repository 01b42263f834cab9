//! A WebSocket as this server uses it: frames in, frames out, and no send that lasts for ever.

use axum::Error;
use axum::extract::ws::{CloseFrame, Message, Utf8Bytes, WebSocket, WebSocketUpgrade, close_code};
use futures_util::{FutureExt, SinkExt, StreamExt};
use tokio::time::{Duration, timeout};
use tokio_tungstenite::tungstenite;
use turnabout_protocol::frame::{Fault, ToDisplay, ToServer, limits};

/// How long a peer may leave what is sent to it unread. Its system's buffers are full by then.
pub const SEND_TIMEOUT: Duration = Duration::from_secs(5);
/// How long a peer has to answer a close before the connection is cut.
const LINGER: Duration = Duration::from_secs(1);
/// Bytes read at once: several commands, or the burst of time questions. Allocated for every connection,
/// where the library's own 128 KiB would be; a longer frame gets more for itself.
const READ_BUFFER: usize = 1024;
/// Bytes gathered before they are written without a flush.
const WRITE_BUFFER: usize = 16 * 1024;
/// Bytes a connection may have waiting: what is gathered, one view and the answers beside it.
const MOST_WAITING: usize = WRITE_BUFFER + 3 * limits::FRAME_TO_DISPLAY;

/// Why a conversation ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum End {
    /// It did what may not be done. It is told, and closed.
    Fault(Fault),
    /// Its bytes are no WebSocket, or its text is no UTF-8 (RFC 6455, section 7.4.1).
    Protocol(u16),
    /// The server ends.
    Closing,
    /// It said that it leaves.
    Bye,
    /// It left without a word.
    Left,
    /// Nothing was heard of it for too long.
    Silent,
    /// It does not read.
    Stuck,
}

/// What came in.
#[derive(Debug)]
pub(super) enum Incoming {
    /// A frame of known shape.
    Frame(ToServer),
    /// Something that cannot be taken; the socket lives on. The text, where it was text.
    Fault(Fault, Option<Utf8Bytes>),
    /// A sign of life.
    Sign,
}

/// One end of a socket.
pub(super) struct Wire {
    socket: WebSocket,
}

/// Sets the buffers and limits of a socket that is about to be.
pub(super) fn settle(upgrade: WebSocketUpgrade) -> WebSocketUpgrade {
    upgrade
        .read_buffer_size(READ_BUFFER)
        .write_buffer_size(WRITE_BUFFER)
        .max_write_buffer_size(MOST_WAITING)
        .max_message_size(limits::FRAME_TO_SERVER)
        .max_frame_size(limits::FRAME_TO_SERVER)
}

impl Wire {
    pub(super) const fn new(socket: WebSocket) -> Self {
        Self { socket }
    }

    /// The next thing that comes in. May be dropped while it waits.
    pub(super) async fn next(&mut self) -> Result<Incoming, End> {
        incoming(self.socket.next().await)
    }

    /// The next thing that has come in already.
    pub(super) fn next_now(&mut self) -> Option<Result<Incoming, End>> {
        self.socket.next().now_or_never().map(incoming)
    }

    /// Queues a frame for the next flush.
    pub(super) async fn feed(&mut self, frame: &ToDisplay) -> Result<(), End> {
        let text = serde_json::to_string(frame).expect("a frame is plain JSON");
        self.feed_text(text.into()).await
    }

    /// Queues an encoded frame for the next flush.
    pub(super) async fn feed_text(&mut self, text: Utf8Bytes) -> Result<(), End> {
        self.feed_message(Message::Text(text)).await
    }

    /// Queues a ping for the next flush.
    pub(super) async fn feed_ping(&mut self) -> Result<(), End> {
        self.feed_message(Message::Ping(Vec::new().into())).await
    }

    async fn feed_message(&mut self, message: Message) -> Result<(), End> {
        in_time(self.socket.feed(message)).await
    }

    /// Sends everything that is queued.
    pub(super) async fn flush(&mut self) -> Result<(), End> {
        in_time(self.socket.flush()).await
    }

    /// Says why it ends, as far as anybody listens, and closes.
    pub(super) async fn end(mut self, end: End) {
        let code = match end {
            End::Left | End::Silent | End::Stuck => return,
            // The library has queued the answer to its close.
            End::Bye => {
                let _ = self.flush().await;
                return;
            }
            End::Closing => close_code::AWAY,
            End::Protocol(code) => code,
            End::Fault(fault) => {
                let code = if fault == Fault::Oversize { close_code::SIZE } else { close_code::POLICY };
                if self.feed(&ToDisplay::Fault { fault }).await.is_err() {
                    return;
                }
                code
            }
        };
        let close = CloseFrame { code, reason: Utf8Bytes::default() };
        if self.feed_message(Message::Close(Some(close))).await.is_err() || self.flush().await.is_err() {
            return;
        }
        // Cutting the connection while something is unread would take the reason with it.
        let _ = timeout(LINGER, async { while let Some(Ok(_)) = self.socket.next().await {} }).await;
    }
}

async fn in_time(sending: impl Future<Output = Result<(), Error>>) -> Result<(), End> {
    match timeout(SEND_TIMEOUT, sending).await {
        Ok(Ok(())) => Ok(()),
        Ok(Err(_)) => Err(End::Left),
        Err(_) => Err(End::Stuck),
    }
}

fn incoming(received: Option<Result<Message, Error>>) -> Result<Incoming, End> {
    match received {
        None => Err(End::Left),
        Some(Ok(Message::Close(_))) => Err(End::Bye),
        Some(Ok(Message::Text(text))) => Ok(parse(text)),
        Some(Ok(Message::Binary(_))) => Ok(Incoming::Fault(Fault::NotText, None)),
        // Pings are answered by the library.
        Some(Ok(Message::Ping(_) | Message::Pong(_))) => Ok(Incoming::Sign),
        Some(Err(error)) => Err(broken(error)),
    }
}

fn parse(text: Utf8Bytes) -> Incoming {
    match serde_json::from_str(text.as_str()) {
        Ok(frame) => Incoming::Frame(frame),
        Err(error) => {
            // Of a frame that is JSON but of no known shape the place is not told: the whole of it.
            let from_one = |place: usize| u32::try_from(place).unwrap_or(u32::MAX).max(1);
            let (line, column) = (from_one(error.line()), from_one(error.column()));
            Incoming::Fault(Fault::Malformed { line, column }, Some(text))
        }
    }
}

fn broken(error: Error) -> End {
    match error.into_inner().downcast_ref() {
        Some(tungstenite::Error::Capacity(_)) => End::Fault(Fault::Oversize),
        Some(tungstenite::Error::Utf8(_)) => End::Protocol(close_code::INVALID),
        Some(tungstenite::Error::Protocol(
            tungstenite::error::ProtocolError::ResetWithoutClosingHandshake,
        )) => End::Left,
        Some(tungstenite::Error::Protocol(_)) => End::Protocol(close_code::PROTOCOL),
        // All others, of a foreign and growing enum: the connection is of no more use.
        Some(_) | None => End::Left,
    }
}

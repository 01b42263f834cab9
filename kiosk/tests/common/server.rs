//! A server of the tests' own on loopback, which drives the clock of the display that comes to it.

use std::time::Duration;

use futures_util::{SinkExt, StreamExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::time::timeout;
use tokio_tungstenite::tungstenite::Message;
use tokio_tungstenite::{WebSocketStream, accept_async};
use turnabout_protocol::frame::{PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::view::TurnPhase;
use uuid::Uuid;

use crate::scenes::*;

/// Far longer than anything here takes: a test that waits so long has failed.
pub(crate) const PATIENCE: Duration = Duration::from_secs(30);

/// The server's end of one display's socket.
pub(crate) struct Server {
    socket: WebSocketStream<TcpStream>,
}

impl Server {
    /// Takes a display's connection and its hello, and welcomes it.
    pub(crate) async fn meet(listener: &TcpListener, epoch: Uuid) -> (Self, ToServer) {
        let (stream, _) = timeout(PATIENCE, listener.accept()).await.unwrap().unwrap();
        let mut server = Self { socket: accept_async(stream).await.unwrap() };
        let hello = server.hear().await;
        server.say(&ToDisplay::Welcome { protocol: PROTOCOL, epoch, rate: 0, now: NOW }).await;
        (server, hello)
    }

    pub(crate) async fn hear(&mut self) -> ToServer {
        loop {
            match timeout(PATIENCE, self.socket.next()).await.unwrap().unwrap().unwrap() {
                Message::Text(text) => return serde_json::from_str(&text).unwrap(),
                Message::Ping(_) | Message::Pong(_) => {}
                other => panic!("{other:?}"),
            }
        }
    }

    pub(crate) async fn say(&mut self, frame: &ToDisplay) {
        self.socket.send(Message::text(serde_json::to_string(frame).unwrap())).await.unwrap();
    }

    pub(crate) async fn show(&mut self, epoch: Uuid, sequence: u64, phase: TurnPhase) {
        let revision = Revision { epoch, sequence, plan: 0 };
        let topic = "station/bench-1".parse().unwrap();
        self.say(&ToDisplay::View { topic, revision, as_of: NOW, view: view(vec![bench_1(phase)]) }).await;
    }
}

//! A display as a test needs it.

use std::net::SocketAddr;
use std::time::Duration;

use futures_util::{SinkExt, StreamExt};
use tokio::net::TcpStream;
use tokio_tungstenite::tungstenite::{Error, Message, protocol::CloseFrame};
use tokio_tungstenite::{MaybeTlsStream, WebSocketStream, client_async};
use turnabout_protocol::command::{Act, Command};
use turnabout_protocol::frame::{Fault, PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::ids::{CommandId, DeviceId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::View;
use uuid::Uuid;

use super::House;

/// How long a test waits, in real time, for something that must come.
pub const WAIT: Duration = Duration::from_secs(20);

/// A display on its socket.
#[derive(Debug)]
pub struct Display {
    socket: WebSocketStream<MaybeTlsStream<TcpStream>>,
    /// What the device calls itself.
    pub device: DeviceId,
    /// The welcome, once there was one: epoch, rate and time.
    pub welcome: Option<(Uuid, u32, FloorMs)>,
    /// Floor time as it was last told.
    pub now: FloorMs,
    /// The revision of the last view.
    pub revision: Option<Revision>,
}

/// What came over a socket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Received {
    /// A frame.
    Frame(Box<ToDisplay>),
    /// A ping.
    Ping,
    /// A close, with its code.
    Closed(Option<u16>),
    /// The end, without a close.
    Cut,
}

/// A `hello` of this version.
pub fn hello(device: DeviceId, role: Role, topic: &str) -> ToServer {
    ToServer::Hello { protocol: PROTOCOL, device, role, topic: topic.parse::<Topic>().expect("a topic") }
}

/// A command with a new id.
pub fn command(at: FloorMs, act: Act) -> Command {
    Command { id: CommandId(Uuid::new_v4()), at, act }
}

impl Display {
    /// Connects and says nothing yet.
    pub async fn connect(house: &House) -> Self {
        Self::connect_to(house.server().address()).await
    }

    /// As [`Self::connect`], to any server.
    pub async fn connect_to(address: SocketAddr) -> Self {
        Self::connect_over(TcpStream::connect(address).await.expect("a server"), address).await
    }

    /// As [`Self::connect_to`], over a connection that was made before.
    pub async fn connect_over(stream: TcpStream, address: SocketAddr) -> Self {
        let url = socket_url(address);
        let (socket, _) =
            client_async(url, MaybeTlsStream::Plain(stream)).await.expect("a server that upgrades");
        let device = DeviceId(Uuid::new_v4());
        Self { socket, device, welcome: None, now: FloorMs(0), revision: None }
    }

    /// A kiosk at these stations, given as in a topic.
    pub async fn kiosk(house: &House, stations: &str) -> Self {
        let role =
            Role::Station { stations: stations.split(',').map(|key| key.parse().expect("a key")).collect() };
        Self::open(house, role, &format!("station/{stations}")).await
    }

    /// A coach's page.
    pub async fn coach(house: &House, coach: &str) -> Self {
        let role = Role::Coach { coach: coach.parse().expect("a key") };
        Self::open(house, role, &format!("coach/{coach}")).await
    }

    /// Connects and is welcome.
    pub async fn open(house: &House, role: Role, topic: &str) -> Self {
        Self::open_at(house.server().address(), role, topic).await
    }

    /// As [`Self::open`], at any server.
    pub async fn open_at(address: SocketAddr, role: Role, topic: &str) -> Self {
        Self::open_as(address, None, role, topic).await
    }

    /// As [`Self::open_at`], as a device that was there before.
    pub async fn open_as(address: SocketAddr, device: Option<DeviceId>, role: Role, topic: &str) -> Self {
        let mut display = Self::connect_to(address).await;
        display.device = device.unwrap_or(display.device);
        let hello = hello(display.device, role, topic);
        display.send(&hello).await;
        display.until_welcome().await;
        display
    }

    /// Waits for the welcome.
    pub async fn until_welcome(&mut self) {
        match self.frame().await {
            ToDisplay::Welcome { epoch, rate, now, .. } => self.welcome = Some((epoch, rate, now)),
            other => panic!("no welcome but {other:?}"),
        }
    }

    /// Sends a frame.
    pub async fn send(&mut self, frame: &ToServer) {
        self.send_text(&serde_json::to_string(frame).expect("plain JSON")).await;
    }

    /// Sends any text.
    pub async fn send_text(&mut self, text: &str) {
        self.send_message(Message::text(text)).await;
    }

    /// Sends any message.
    pub async fn send_message(&mut self, message: Message) {
        self.socket.send(message).await.expect("a server that reads");
    }

    /// Sends many frames in one go. Some may be lost where the server closes meanwhile.
    pub async fn send_all(&mut self, frames: &[ToServer]) {
        for frame in frames {
            let text = serde_json::to_string(frame).expect("plain JSON");
            if self.socket.feed(Message::text(text)).await.is_err() {
                return;
            }
        }
        let _ = self.socket.flush().await;
    }

    /// Sends a command and does not wait.
    pub async fn send_act(&mut self, act: Act) -> Command {
        let command = command(self.now, act);
        self.send(&ToServer::Command(command.clone())).await;
        command
    }

    /// Sends a command and waits for its answer.
    pub async fn tap(&mut self, act: Act) -> Outcome {
        let command = self.send_act(act).await;
        self.answer(command.id).await
    }

    /// Whatever comes next, within [`WAIT`].
    pub async fn receive(&mut self) -> Received {
        let message = tokio::time::timeout(WAIT, self.socket.next()).await.expect("something in time");
        match message {
            Some(Ok(Message::Text(text))) => {
                let frame: ToDisplay = serde_json::from_str(&text).expect("a frame");
                self.note(&frame);
                Received::Frame(Box::new(frame))
            }
            Some(Ok(Message::Ping(_))) => Received::Ping,
            Some(Ok(Message::Close(close))) => {
                Received::Closed(close.map(|CloseFrame { code, .. }| code.into()))
            }
            None | Some(Err(Error::ConnectionClosed | Error::Protocol(_) | Error::Io(_))) => Received::Cut,
            other => panic!("unexpected {other:?}"),
        }
    }

    fn note(&mut self, frame: &ToDisplay) {
        match frame {
            ToDisplay::Welcome { now, .. } | ToDisplay::Clock { now } => self.now = *now,
            ToDisplay::View { revision, .. } => {
                if let Some(shown) = self.revision {
                    assert!(shown.gives_way_to(revision), "{shown:?} is followed by {revision:?}");
                }
                self.revision = Some(*revision);
            }
            ToDisplay::Answer { .. } | ToDisplay::Time { .. } | ToDisplay::Fault { .. } => {}
        }
    }

    /// The next frame, within [`WAIT`]. Pings only say that the server lives.
    pub async fn frame(&mut self) -> ToDisplay {
        let next = async {
            loop {
                match self.receive().await {
                    Received::Frame(frame) => return *frame,
                    Received::Ping => {}
                    closed @ (Received::Closed(_) | Received::Cut) => panic!("the server left: {closed:?}"),
                }
            }
        };
        tokio::time::timeout(WAIT, next).await.expect("a frame in time")
    }

    /// The next view; other frames before it are let go.
    pub async fn view(&mut self) -> View {
        loop {
            if let ToDisplay::View { view, .. } = self.frame().await {
                return view;
            }
        }
    }

    /// The answer to a command; other frames before it are let go.
    pub async fn answer(&mut self, id: CommandId) -> Outcome {
        loop {
            if let ToDisplay::Answer { id: found, answer } = self.frame().await
                && found == id
            {
                return answer;
            }
        }
    }

    /// The next fault; other frames before it are let go.
    pub async fn fault(&mut self) -> Fault {
        loop {
            if let ToDisplay::Fault { fault } = self.frame().await {
                return fault;
            }
        }
    }

    /// Asks for the time and gives all frames that came before the answer.
    pub async fn until_time(&mut self, t1: i64) -> Vec<ToDisplay> {
        self.send(&ToServer::Time { t1 }).await;
        let mut before = Vec::new();
        loop {
            match self.frame().await {
                ToDisplay::Time { t1: found, t2, t3 } => {
                    assert_eq!(found, t1);
                    assert!(t2 <= t3);
                    return before;
                }
                frame => before.push(frame),
            }
        }
    }

    /// Waits for the close and gives its code; frames before it are let go.
    pub async fn closed(&mut self) -> Option<u16> {
        loop {
            match self.receive().await {
                Received::Closed(code) => return code,
                Received::Cut => return None,
                Received::Frame(_) | Received::Ping => {}
            }
        }
    }
}

/// Where sockets are opened.
pub fn socket_url(address: SocketAddr) -> String {
    format!("ws://{address}/socket")
}

//! Clients who tap as fast as they are answered, over sockets.
//!
//! The server takes only so many frames a second from one socket. So each client has many and uses them in
//! turn, and a run ends when one of them has used its leave: that limit is never what is measured.

use std::net::SocketAddr;
use std::time::{Duration, Instant};

use turnabout_protocol::command::{Act, Command};
use turnabout_protocol::frame::ToServer;
use turnabout_protocol::ids::{CommandId, GroupId, TurnId};
use turnabout_protocol::role::Role;
use turnabout_protocol::units::FloorMs;
use turnabout_server::web::{A_SECOND, AT_ONCE};
use uuid::Uuid;

use crate::Done;
use crate::floor;
use crate::pipes::Pipes;
use crate::websocket;

/// Frames that a socket sends in one run: a burst, less the pongs meanwhile. Its leave is back before the next.
const A_RUN: u32 = AT_ONCE - A_SECOND / 10;

/// All clients. The sockets of client n are numbers n, n + clients, n + 2 * clients, ...
pub(crate) struct Clients {
    pipes: Pipes,
    number: usize,
    sockets: usize,
    /// The next socket of each client.
    next: Vec<usize>,
    /// Frames sent in this run, for each socket.
    sent: Vec<u32>,
    /// About when floor time began.
    began: Instant,
    /// When the command on its way was sent, for each client.
    since: Vec<Instant>,
}

impl Clients {
    /// Connects them; each has a group of its own, with its stations.
    pub(crate) fn connect(address: SocketAddr, number: u16, sockets: usize) -> Self {
        let began = Instant::now();
        let mut pipes = Pipes::new(websocket::split);
        let clients = usize::from(number);
        for _ in 0..clients * sockets {
            // A coach who watches a station where nothing happens: answers are measured, not views.
            let role = Role::Coach { coach: "coach-1".parse().expect("a key") };
            pipes.add(websocket::connect(address, role, "station/station-1"));
        }
        let sent = vec![0; clients * sockets];
        let since = vec![Instant::now(); clients];
        let mut all = Self { pipes, number: clients, sockets, next: vec![0; clients], sent, began, since };
        for client in 0..clients {
            let group = group(client);
            let stations = floor::stations(group).into();
            all.send(
                client,
                Act::TakeStations {
                    group: GroupId(group.into()),
                    block: 0,
                    stations,
                    revision: 0,
                    despite: None,
                },
            );
            while all.answered().is_empty() {}
        }
        all
    }

    /// Lets all of them tap for that long, or until a socket has used its leave.
    pub(crate) fn run(&mut self, time: Duration, done: &mut Done) {
        self.sent.fill(0);
        let started = Instant::now();
        for client in 0..self.number {
            self.send(client, not_yet(client));
        }
        let mut under_way = self.number;
        while under_way > 0 {
            for client in self.answered() {
                done.times.push(self.since[client].elapsed());
                if started.elapsed() < time && self.may_send(client) {
                    self.send(client, not_yet(client));
                } else {
                    under_way -= 1;
                }
            }
        }
        done.took += started.elapsed();
    }

    fn socket(&self, client: usize) -> usize {
        self.next[client] * self.number + client
    }

    fn may_send(&self, client: usize) -> bool {
        self.sent[self.socket(client)] < A_RUN
    }

    fn send(&mut self, client: usize, act: Act) {
        let socket = self.socket(client);
        self.next[client] = (self.next[client] + 1) % self.sockets;
        self.sent[socket] += 1;
        let command = Command { id: CommandId(Uuid::new_v4()), at: floor_time(self.began), act };
        let frame = serde_json::to_string(&ToServer::Command(command)).expect("a frame is plain JSON");
        self.since[client] = Instant::now();
        self.pipes.send(socket, &websocket::text(&frame));
    }

    /// The clients who have been answered. All must have been accepted.
    fn answered(&mut self) -> Vec<usize> {
        let mut answered = Vec::new();
        let number = self.number;
        self.pipes.receive(|socket, body| {
            let text = std::str::from_utf8(body).expect("text");
            if text.starts_with(r#"{"frame":"answer""#) {
                assert!(text.contains("accepted"), "{text}");
                answered.push(socket % number);
            }
        });
        answered
    }
}

/// Floor time as a display would know it. The floor begins at zero, and taps from long ago are not taken.
pub(crate) fn floor_time(began: Instant) -> FloorMs {
    FloorMs(i64::try_from(began.elapsed().as_millis()).expect("a bench takes minutes"))
}

/// Groups count from 1.
pub(crate) fn group(client: usize) -> u16 {
    u16::try_from(client + 1).expect("a hundred at most")
}

/// NOT YET is never refused before the first repetition, and always something that happened.
pub(crate) fn not_yet(client: usize) -> Act {
    let group = group(client);
    let [first, _] = floor::clients(group);
    let turn = TurnId { group: GroupId(group.into()), client: first, block: 0, round: 0, leg: 0 };
    Act::NotYet { turn }
}

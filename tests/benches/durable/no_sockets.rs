//! The floor and its journal without sockets: threads that tap and wait, as those of the bare loop do.

use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use tokio::runtime::Runtime;
use tokio::sync::mpsc;
use turnabout_protocol::command::{Act, Command};
use turnabout_protocol::ids::{CommandId, DeviceId, GroupId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::Actor;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::journal::{self, Storage};
use turnabout_server::live::{Answer, BodyHash, FloorHandle, Stored, TapIn};
use turnabout_server::web::{Options, Server};
use uuid::Uuid;

use crate::clients::{floor_time, group, not_yet};
use crate::{Done, floor};

/// A server in this process, to whose sockets nobody connects.
pub(crate) struct NoSockets {
    runtime: Runtime,
    server: Server,
    clients: u16,
    began: Instant,
}

impl NoSockets {
    /// Starts it; each client has a group of its own, with its stations.
    pub(crate) fn in_folder(folder: &Path, clients: u16) -> Self {
        let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().expect("threads");
        let server = runtime.block_on(async {
            let storage = Storage::Folder(folder.to_owned());
            let stored = Stored::open(&storage, journal::Options::default()).expect("a journal that opens");
            let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.expect("a free port");
            Server::start(listener, stored, floor::files(clients), Options::default()).expect("it starts")
        });
        let began = Instant::now();
        for client in 0..usize::from(clients) {
            let group = group(client);
            let stations = floor::stations(group).into();
            let act = Act::TakeStations {
                group: GroupId(group.into()),
                block: 0,
                stations,
                revision: 0,
                despite: None,
            };
            Tapper::of(server.floor(), began).tap(act);
        }
        Self { runtime, server, clients, began }
    }

    /// Lets all of them tap for that long.
    pub(crate) fn run(&self, time: Duration, done: &mut Done) {
        let started = Instant::now();
        let client = |client| {
            let mut tapper = Tapper::of(self.server.floor(), self.began);
            thread::spawn(move || {
                let mut times = Vec::new();
                while started.elapsed() < time {
                    let since = Instant::now();
                    tapper.tap(not_yet(client));
                    times.push(since.elapsed());
                }
                times
            })
        };
        let threads: Vec<_> = (0..usize::from(self.clients)).map(client).collect();
        for thread in threads {
            done.times.extend(thread.join().expect("a client does not fail"));
        }
        done.took += started.elapsed();
    }

    /// Ends it.
    pub(crate) fn end(self) {
        self.runtime.block_on(self.server.shutdown()).expect("an orderly end");
    }
}

/// One client.
struct Tapper {
    floor: FloorHandle,
    began: Instant,
    reply: mpsc::Sender<Answer>,
    answers: mpsc::Receiver<Answer>,
}

impl Tapper {
    fn of(floor: &FloorHandle, began: Instant) -> Self {
        let (reply, answers) = mpsc::channel(1);
        Self { floor: floor.clone(), began, reply, answers }
    }

    /// Taps, and returns when it is accepted for good.
    fn tap(&mut self, act: Act) {
        let command = Command { id: CommandId(Uuid::new_v4()), at: floor_time(self.began), act };
        let speaker = Speaker { actor: Actor::Coach { coach: floor::COACH }, stations: Vec::new() };
        let (body, reply) = (BodyHash::of(&command), self.reply.clone());
        let tap = TapIn { device: DeviceId(Uuid::from_u128(1)), speaker, command, body, reply };
        self.floor.tap(tap).expect("there is room for a hundred");
        let answer = self.answers.blocking_recv().expect("the floor answers");
        assert!(matches!(answer.outcome, Outcome::Accepted { .. }), "{answer:?}");
    }
}

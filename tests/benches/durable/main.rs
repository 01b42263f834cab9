//! Durable commands a second, beside what the disk and the database can do, in turns.
//!
//! Each client has one command on its way and sends the next when the answer is there.

#[path = "../common/child.rs"]
mod child;
#[path = "../common/disk.rs"]
mod disk;
#[path = "../common/floor.rs"]
mod floor;
#[path = "../common/pipes.rs"]
mod pipes;
#[path = "../common/process.rs"]
mod process;
#[path = "../common/served.rs"]
mod served;
#[path = "../common/spread.rs"]
mod spread;
#[path = "../common/table.rs"]
mod table;
#[path = "../common/websocket.rs"]
mod websocket;

mod clients;
mod group_commit;
mod no_sockets;

use std::time::{Duration, Instant};

use clients::Clients;
use disk::Appends;
use group_commit::GroupCommit;
use no_sockets::NoSockets;
use spread::{Spread, ms};

/// Clients, and the sockets of each: the server takes 50 frames a second from one.
const CLIENTS: [(u16, usize); 3] = [(1, 200), (10, 80), (100, 18)];
const TURNS: usize = 5;
const A_TURN: Duration = Duration::from_secs(2);

fn main() {
    if served::serve_if_asked() {
        return;
    }
    for (clients, sockets) in CLIENTS {
        measure(clients, sockets);
    }
}

/// What was done in all turns.
struct Done {
    /// How long each command took.
    times: Vec<Duration>,
    /// How long all of it took.
    took: Duration,
}

impl Done {
    const fn new() -> Self {
        Self { times: Vec::new(), took: Duration::ZERO }
    }

    fn a_second(&self) -> f64 {
        f64::from(u32::try_from(self.times.len()).unwrap_or(u32::MAX)) / self.took.as_secs_f64()
    }
}

fn measure(number: u16, sockets: usize) {
    let folders = [(); 4].map(|()| tempfile::tempdir().expect("a folder on the disk"));
    let mut appends = Appends::in_folder(folders[0].path());
    let mut bare = GroupCommit::in_folder(folders[1].path());
    let floor = NoSockets::in_folder(folders[3].path(), number);
    let server = served::start(Some(folders[2].path()), number);
    let mut clients = Clients::connect(server.address(), number, sockets);
    let [mut synced, mut grouped, mut decided, mut answered] = [const { Done::new() }; 4];
    let mut cpu = Duration::ZERO;
    for _ in 0..TURNS {
        let started = Instant::now();
        while started.elapsed() < A_TURN / 2 {
            synced.times.push(appends.append());
        }
        synced.took += started.elapsed();
        bare = bare.run(number, A_TURN, &mut grouped);
        floor.run(A_TURN, &mut decided);
        let before = process::cpu(server.pid());
        clients.run(A_TURN, &mut answered);
        cpu += process::cpu(server.pid()) - before;
    }
    floor.end();
    let busy = cpu.as_secs_f64() / answered.took.as_secs_f64();
    let reference = grouped.a_second();
    let rows = [
        ("fdatasync of 4 KiB", synced),
        ("group commit", grouped),
        ("turnabout, no sockets", decided),
        ("turnabout", answered),
    ]
    .map(|(name, done)| row(name, done, reference));
    let title = format!("{number} clients, {TURNS} turns of at most {} s each; ms", A_TURN.as_secs());
    table::print(&title, &["what", "a second", "p50", "p99", "max", "to group commit"], &rows);
    println!("\nThe server kept {busy:.2} CPUs busy.");
}

fn row(name: &str, done: Done, reference: f64) -> Vec<String> {
    let a_second = done.a_second();
    let spread = Spread::of(done.times);
    let times = [50, 99, 100].map(|percent| ms(spread.at(percent)));
    let ratio = format!("{:.2}", a_second / reference);
    [vec![name.to_owned(), format!("{a_second:.0}")], times.into(), vec![ratio]].concat()
}

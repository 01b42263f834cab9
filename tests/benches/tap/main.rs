//! From a tap to the last of 200 displays that show it, with the journal on the disk.
//!
//! Taps and plain synced appends to the same disk take turns.

#[path = "../common/child.rs"]
mod child;
#[path = "../common/disk.rs"]
mod disk;
#[path = "../common/floor.rs"]
mod floor;
#[path = "../common/house.rs"]
mod house;
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

use std::time::{Duration, Instant};

use disk::Appends;
use house::House;
use spread::{Spread, ms};

const DISPLAYS: usize = 200;
const GROUPS: u16 = 10;
const WARM_UP: usize = 20;
const ROUNDS: usize = 500;

fn main() {
    if served::serve_if_asked() {
        return;
    }
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let server = served::start(Some(folder.path()), GROUPS);
    let mut house = House::open(server.address(), GROUPS);
    house.watch(server.address(), DISPLAYS);
    let elsewhere = tempfile::tempdir().expect("a folder for the appends");
    let mut appends = Appends::in_folder(elsewhere.path());
    let (mut taps, mut syncs) = (Vec::new(), Vec::new());
    let before = process::cpu(server.pid());
    for round in 0..WARM_UP + ROUNDS {
        let sync = appends.append();
        let started = Instant::now();
        house.round();
        let tap = started.elapsed();
        if round >= WARM_UP {
            syncs.push(sync);
            taps.push(tap);
        }
    }
    let cpu = process::cpu(server.pid()) - before;
    show(house.frame.len(), &Spread::of(taps), &Spread::of(syncs));
    let taps = u32::try_from(WARM_UP + ROUNDS).expect("a few hundred");
    println!("Server CPU for a tap and all its views: {} ms", ms(cpu / taps));
}

fn show(bytes: usize, taps: &Spread, syncs: &Spread) {
    let sync = syncs.at(50);
    let row = |name: &str, spread: &Spread| {
        let times = [50, 90, 99, 100].map(|percent| ms(spread.at(percent)));
        let ratio = spread.at(50).as_secs_f64() / sync.as_secs_f64();
        [vec![name.to_owned()], times.into(), vec![format!("{ratio:.2}")]].concat()
    };
    let rows = [row("fdatasync of 4 KiB", syncs), row("tap to the last display", taps)];
    let title = format!("{DISPLAYS} displays, a view of {bytes} bytes, {ROUNDS} rounds; ms");
    table::print(&title, &["what", "p50", "p90", "p99", "max", "to fdatasync"], &rows);
    let beyond: Duration = taps.at(50).saturating_sub(sync);
    println!("\nBeyond the disk's own p50: {} ms", ms(beyond));
}

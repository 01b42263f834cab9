//! One view to 200 and 1,000 displays, beside a broker and beside a bare loop, in turns.
//!
//! A round begins as the tap leaves (for the broker: the message, for the loop: one byte) and ends when the
//! last display has the new frame. All three send the same bytes to the same single-threaded reader.

#[path = "../common/child.rs"]
mod child;
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

mod bare;
mod memory;
mod mqtt;

use std::time::{Duration, Instant};

use bare::Loop;
use house::House;
use mqtt::{Audience, Broker};
use spread::{Spread, ms};

const DISPLAYS: [usize; 2] = [200, 1_000];
const GROUPS: u16 = 2;
const WARM_UP: usize = 20;
const ROUNDS: usize = 300;

fn main() {
    if served::serve_if_asked() || bare::run_if_asked() {
        return;
    }
    for displays in DISPLAYS {
        measure(displays);
    }
}

/// One of the three, and what was measured of it.
struct Sender<'a> {
    name: &'static str,
    pid: u32,
    /// Its memory before there were displays, in kilobytes; `None` where that says nothing.
    empty_kb: Option<u64>,
    round: Box<dyn FnMut() + 'a>,
    times: Vec<Duration>,
}

fn measure(displays: usize) {
    let server = served::start(None, GROUPS);
    let mut house = House::open(server.address(), GROUPS);
    let server_kb = memory::resident_kb(server.pid());
    house.watch(server.address(), displays);
    house.round();
    let frame = house.frame.clone();
    let broker = Broker::start();
    let mut audience = Audience::of(&broker);
    let broker_kb = memory::resident_kb(broker.pid());
    audience.watch(&broker, displays);
    let mut bare = Loop::start(displays, &frame);

    let sender = |name, pid, empty_kb, round| Sender { name, pid, empty_kb, round, times: Vec::new() };
    let (server_pid, broker_pid, bare_pid) = (server.pid(), broker.pid(), bare.pid());
    let mut senders = [
        sender("turnabout", server_pid, Some(server_kb), Box::new(|| house.round())),
        sender("mosquitto", broker_pid, Some(broker_kb), Box::new(|| audience.round(&frame))),
        sender("bare loop", bare_pid, None, Box::new(|| bare.round())),
    ];
    rounds(&mut senders, WARM_UP);
    senders.iter_mut().for_each(|sender| sender.times.clear());
    let before = senders.each_ref().map(|sender| process::cpu(sender.pid));
    rounds(&mut senders, ROUNDS);
    let cpu = senders.each_ref().map(|sender| process::cpu(sender.pid));
    let used: Vec<Duration> = cpu.iter().zip(before).map(|(after, before)| *after - before).collect();
    show(displays, frame.len(), senders, &used);
}

/// Lets each have its round in turn, so that whatever else goes on meets all of them.
fn rounds(senders: &mut [Sender<'_>], rounds: usize) {
    for _ in 0..rounds {
        for sender in &mut *senders {
            let started = Instant::now();
            (sender.round)();
            sender.times.push(started.elapsed());
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a few thousand displays and kilobytes")]
fn show(displays: usize, bytes: usize, senders: [Sender<'_>; 3], used: &[Duration]) {
    let measured = senders.map(|sender| {
        let kb = sender.empty_kb.map(|empty| memory::resident_kb(sender.pid).saturating_sub(empty));
        let memory = kb.map_or("-".to_owned(), |kb| format!("{:.1}", kb as f64 / displays as f64));
        (sender.name, memory, Spread::of(sender.times))
    });
    let [_, broker_p50, bare_p50] = measured.each_ref().map(|(_, _, spread)| spread.at(50).as_secs_f64());
    let row = |((name, memory, spread), used): (&(&str, String, Spread), &Duration)| {
        let p50 = spread.at(50).as_secs_f64();
        let cpu = used.as_secs_f64() * 1e6 / (ROUNDS * displays) as f64;
        let times = [50, 90, 100].map(|percent| ms(spread.at(percent)));
        let ratios = [p50 / broker_p50, p50 / bare_p50].map(|ratio| format!("{ratio:.2}"));
        [vec![(*name).to_owned()], times.into(), vec![format!("{cpu:.2}"), memory.clone()], ratios.into()]
            .concat()
    };
    let rows: Vec<_> = measured.iter().zip(used).map(row).collect();
    let title = format!("{displays} displays, a view of {bytes} bytes, {ROUNDS} rounds; last receiver in ms");
    let head = ["sender", "p50", "p90", "max", "CPU us a view", "kB a connection", "to broker", "to loop"];
    table::print(&title, &head, &rows);
}

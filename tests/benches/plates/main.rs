//! How long it takes to find the plates of a load, and the cards of a whole block.

#[path = "../common/spread.rs"]
mod spread;
#[path = "../common/table.rs"]
mod table;

mod block;
mod inventories;
mod programme;

use std::hint::black_box;
use std::time::{Duration, Instant};

use inventories::{FIRST, Named, named};
use spread::{Spread, ms};
use turnabout_protocol::units::Mass;
use turnabout_server::loading::bar::{Finder, Free, Loaded, Side, Starts};

/// Tries of one question; the quickest counts, since others use the machine too.
const TRIES: usize = 5;

fn main() {
    let inventories = named();
    let rows = inventories.iter().flat_map(|inventory| {
        [Starts::Racked, Starts::FromTheFloor].map(|starts| searches(inventory, starts))
    });
    let head = [
        "plates",
        "loads",
        "targets",
        "prepare, ms",
        "search p50, us",
        "worst, us",
        "nearest worst, us",
        "programme p50, us",
        "worst, us",
        "p50 to programme",
    ];
    table::print("One load", &head, &rows.collect::<Vec<_>>());
    block::run(&inventories);
}

/// Microseconds, as the tables show them.
pub(crate) fn us(time: Duration) -> String {
    format!("{:.2}", time.as_secs_f64() * 1_000_000.0)
}

/// The quickest of some tries.
pub(crate) fn time<T>(mut what: impl FnMut() -> T) -> Duration {
    let try_once = |_| {
        let started = Instant::now();
        black_box(what());
        started.elapsed()
    };
    (0..TRIES).map(try_once).min().expect("at least one try")
}

/// Every load that can be put on and what lies a little above it, each from another one that is on.
fn searches(inventory: &Named, starts: Starts) -> Vec<String> {
    let set = &inventory.set;
    let free = Free::all(set.inventory());
    let prepare = time(|| Finder::new(set, &free, starts));
    let finder = Finder::new(set, &free, starts);
    let loads = inventory.loads();
    let mut before: Option<Loaded> = None;
    let (mut search, mut nearest, mut programme) = (Vec::new(), Vec::new(), Vec::new());
    // A stride without a common factor, so that what is on now is far from what is wanted.
    for at in 0..loads.len().min(most_asked(loads.len())) {
        let load = loads[(at * 617) % loads.len()];
        for target in [load, load + Mass::from_grams(100)] {
            let took = time(|| finder.find(black_box(target), FIRST, before.as_ref()));
            let found = finder.find(target, FIRST, before.as_ref()).is_ok();
            if found { &mut search } else { &mut nearest }.push(took);
            let side = (target - set.bars()[0].empty()).nanograms() / 2;
            programme.push(time(|| programme::fewest(set.inventory(), black_box(side))));
        }
        let there = finder.find(load, FIRST, before.as_ref()).ok().map(|card| card.loaded);
        let fewest = programme::fewest(set.inventory(), side_of(set.bars()[0].empty(), load));
        if starts == Starts::Racked && !inventory.is_measured() {
            assert_eq!(there.as_ref().map(|on| on.side.plates().len()), fewest, "both find as few plates");
        }
        // What is on is turned around now and then: somebody has put it on in another order.
        before = there.map(|mut on| {
            if at % 2 == 1 {
                on.side = Side::new(on.side.plates().iter().rev().copied().collect());
            }
            on
        });
    }
    let targets = programme.len();
    let (search, nearest, programme) = (Spread::of(search), Spread::of(nearest), Spread::of(programme));
    let ratio = search.at(50).as_secs_f64() / programme.at(50).as_secs_f64();
    let name = match starts {
        Starts::Racked => inventory.name.to_owned(),
        Starts::FromTheFloor => format!("{}, from the floor", inventory.name),
    };
    vec![
        name,
        loads.len().to_string(),
        targets.to_string(),
        ms(prepare),
        us(search.at(50)),
        us(search.at(100)),
        us(nearest.at(100)),
        us(programme.at(50)),
        us(programme.at(100)),
        format!("{ratio:.3}"),
    ]
}

/// Of how many loads it is asked: all of a usual set, and few where the plain programme takes milliseconds.
const fn most_asked(loads: usize) -> usize {
    if loads > 4_000 { 100 } else { 1_000 }
}

fn side_of(empty: Mass, load: Mass) -> i64 {
    (load - empty).nanograms() / 2
}

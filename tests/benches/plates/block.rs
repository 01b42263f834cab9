//! All cards of a block of four clients in five rounds.

use turnabout_protocol::units::Mass;
use turnabout_server::loading::bar::{Finder, Free, Order, Starts, Turn, WaysAllowed};

use crate::inventories::{FIRST, Named};
use crate::spread::Spread;
use crate::{table, time, us};

const CLIENTS: usize = 4;
const ROUNDS: usize = 5;
const BLOCKS: usize = 100;

/// Prints what blocks of every inventory take.
pub(crate) fn run(inventories: &[Named]) {
    let rows: Vec<Vec<String>> =
        inventories.iter().flat_map(|inventory| [false, true].map(|rises| row(inventory, rises))).collect();
    let head = [
        "plates",
        "loads of a client",
        "cards p50, us",
        "worst, us",
        "one plate more p50, us",
        "worst, us",
        "same each round p50, us",
        "worst, us",
        "inside rounds p50, us",
        "worst, us",
        "all ways looked at",
    ];
    let title = format!("A block of {CLIENTS} clients in {ROUNDS} rounds, {BLOCKS} blocks, plates prepared");
    table::print(&title, &head, &rows);
}

/// Loads that stay the same in every round, or are another one in each.
fn row(inventory: &Named, rises: bool) -> Vec<String> {
    let free = Free::all(inventory.set.inventory());
    let finder = Finder::new(&inventory.set, &free, Starts::Racked);
    // A bar that somebody lifts: the lighter ones of what can be put on.
    let most = Mass::from_grams(200_000);
    let stands = |load: &Mass| *load <= most && finder.find(*load, FIRST, None).is_ok();
    let loads: Vec<Mass> = inventory.loads().into_iter().filter(stands).collect();
    let mut times: [Vec<_>; 4] = Default::default();
    let mut whole = 0;
    for block in 0..BLOCKS {
        let load = |client: usize, round: usize| {
            let at = block * 617 + client * 241 + if rises { round * 89 } else { 0 };
            loads[at % loads.len()]
        };
        let turn = |client: u8, round| Turn { client, target: load(usize::from(client), round) };
        let rounds: Vec<Vec<Turn>> =
            (0..ROUNDS).map(|round| (0..4).map(|client| turn(client, round)).collect()).collect();
        let cards = |ways| finder.sequence(FIRST, None, &rounds, ways);
        let orders = |order| finder.propose(FIRST, None, &rounds, WaysAllowed::Fewest, order);
        times[0].push(time(|| cards(WaysAllowed::Fewest)));
        times[1].push(time(|| cards(WaysAllowed::OneMore)));
        times[2].push(time(|| orders(Order::SameEachRound)));
        times[3].push(time(|| orders(Order::InsideRounds)));
        whole += usize::from(cards(WaysAllowed::Fewest).is_ok_and(|sequence| sequence.whole));
    }
    let mut row =
        vec![inventory.name.to_owned(), if rises { "another each round" } else { "the same" }.to_owned()];
    for times in times {
        let spread = Spread::of(times);
        row.extend([us(spread.at(50)), us(spread.at(100))]);
    }
    row.push(format!("{whole} of {BLOCKS}"));
    row
}

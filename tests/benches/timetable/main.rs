//! How good the planner's timetables are after so much time, and what looking at one order costs.

#[path = "../common/random.rs"]
mod random;
#[path = "../common/table.rs"]
mod table;

mod arithmetic;
mod asked;
mod beside;
mod counting;
mod drawn;
mod gaps;
mod growth;
mod looking;
mod outage;
mod published;
mod shops;

use std::process::ExitCode;

use asked::{Asked, Part};

#[global_allocator]
static COUNTING: counting::Counting = counting::Counting;

fn main() -> ExitCode {
    let asked = match Asked::read(std::env::args().skip(1)) {
        Ok(asked) => asked,
        Err(wrong) => {
            eprintln!("{wrong}");
            return ExitCode::from(2);
        }
    };
    println!("{} threads; short: {}", looking::threads(), asked.short);
    for part in &asked.parts {
        let before = arithmetic::unit();
        match part {
            Part::Gaps => gaps::run(&asked),
            Part::Shops => shops::run(&asked),
            Part::Growth => growth::run(&asked),
            Part::Outage => outage::run(&asked),
            Part::Beside => beside::run(&asked),
        }
        let after = arithmetic::unit();
        println!("\na unit of arithmetic took {before:.3} us before this and {after:.3} us after it");
    }
    ExitCode::SUCCESS
}

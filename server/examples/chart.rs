//! Draws the charts of a group and of a station from the tables in `server/src/floor/chart/rows.rs`:
//! `cargo run -p turnabout-server --example chart`. `DEVELOPERS.md` holds what it prints.

use turnabout_server::floor::chart;

#[allow(clippy::print_stdout, reason = "what it is for")]
fn main() {
    println!("```mermaid\n{}```\n\n```mermaid\n{}```", chart::group(), chart::station());
}

//! The ways side by side.

use std::fmt::Write as _;

use super::answer::{Answer, Kept, Way, WayName};

/// One figure of a way.
type Figure = fn(&Way) -> i64;

/// The rows of the table.
const ROWS: [(&str, Figure); 7] = [
    ("rests too long, s", |way| way.overrun),
    ("the worst of all, s", |way| way.worst_overrun),
    ("changeover waits, s", |way| way.changeover_wait),
    ("waits of light sets, s", |way| way.light_wait),
    ("waits at the door, s", |way| way.door),
    ("a client finishes at, s", |way| way.client_finish),
    ("the evening ends at, s", |way| way.finish),
];

const fn heading(way: WayName) -> &'static str {
    match way {
        WayName::Eye => "by eye",
        WayName::CappedEye => "three a pair",
        WayName::Planned => "planned",
        WayName::AllKnowing => "all-knowing",
    }
}

pub(super) fn of(answer: &Answer) -> String {
    let Answer { name, noise_percent, runs, ways, .. } = answer;
    let mut said = format!("{name}: {runs} evenings, lengths vary by {noise_percent} %\n");
    let mut line = |what: &str, cells: Vec<String>| {
        let cells: String = cells.iter().map(|cell| format!(" {cell:>13}")).collect();
        let _ = writeln!(said, "  {what:<24}{cells}");
    };
    line("mean of an evening", ways.iter().map(|way| heading(way.way).to_owned()).collect());
    for (what, figure) in ROWS {
        line(what, ways.iter().map(|way| figure(way).to_string()).collect());
    }
    for way in ways {
        let heading = heading(way.way);
        if way.complete < *runs {
            let _ = writeln!(said, "{heading}: only {} evenings came to their end", way.complete);
        }
        if let Some(told) = way.told {
            kept(&mut said, heading, "starts of rounds", told.rounds);
            kept(&mut said, heading, "starts between exercises", told.between);
            let _ = writeln!(said, "{heading}: {} told starts were taken back", told.taken_back);
        }
    }
    said
}

fn kept(said: &mut String, heading: &str, what: &str, kept: Kept) {
    let Kept { told, moved, strayed, hurried } = kept;
    let _ = writeln!(
        said,
        "{heading}: {told} {what} told to the second, {moved} began more than 5 s off, {hurried} were called earlier; \
         {strayed} were more than 5 s off what was told about them before",
    );
}

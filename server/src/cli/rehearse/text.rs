//! The four ways side by side.

use std::fmt::Write as _;

use super::answer::{Answer, Way, WayName};

/// One figure of a way.
type Figure = fn(&Way) -> i64;

/// The rows of the table.
const ROWS: [(&str, Figure); 8] = [
    ("cost", |way| way.objective),
    ("without told, handling", |way| way.bare),
    ("rests too long, s", |way| way.overrun),
    ("the worst of all, s", |way| way.worst_overrun.into()),
    ("changeover waits, s", |way| way.changeover_wait),
    ("waits at the door, s", |way| way.door),
    ("a member finishes at, s", |way| way.finish),
    ("other rules broken, s", |way| way.breach_seconds),
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
    let Answer { name, noise_percent, plan, ways, .. } = answer;
    let runs = ways.first().map_or(0, |way| way.objectives.len());
    let mut said =
        format!("{name}: {runs} evenings, lengths vary by {noise_percent} %; the plan costs {plan}\n");
    let mut line = |what: &str, cells: Vec<String>| {
        let cells: String = cells.iter().map(|cell| format!(" {cell:>13}")).collect();
        let _ = writeln!(said, "  {what:<24}{cells}");
    };
    line("mean of an evening", ways.iter().map(|way| heading(way.way).to_owned()).collect());
    for (what, figure) in ROWS {
        line(what, ways.iter().map(|way| figure(way).to_string()).collect());
    }
    for (way, told) in ways.iter().filter_map(|way| Some((way, way.promised?))) {
        let _ = writeln!(
            said,
            "{}: {} starts told to the second, {} began more than 5 s off, {} were called earlier; {} were more than \
             5 s off what was told about them before",
            heading(way.way),
            told.told,
            told.moved,
            told.hurried,
            told.strayed,
        );
    }
    said
}

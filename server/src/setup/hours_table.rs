//! The opening hours of a floor file: windows for every day, and other ones for days that are named.

use std::collections::BTreeMap;

use super::fields::{Entry, Fields};
use super::findings::Findings;
use super::form;
use super::limits;
use super::problem::Problem;
use super::spot::Said;
use crate::floor::hours::{Hours, Window};
use crate::floor::local_time::Weekday;

/// Reads `[floor.hours]`. A day is open as its own list says, an empty one for closed; without a list of its
/// own as `daily` says, and closed without either.
pub(super) fn hours(mut table: Fields<'_>, found: &mut Findings<'_>) -> Hours {
    let before = found.count();
    let daily = windows(&mut table, found, "daily");
    let week: BTreeMap<Weekday, Vec<Window>> = Weekday::ALL
        .into_iter()
        .map(|day| {
            let own = windows(&mut table, found, day.name());
            (day, own.or_else(|| daily.clone()).unwrap_or_default())
        })
        .collect();
    table.finish(found);
    // What could not be read may be the hours that are missing.
    if found.count() == before && week.values().all(Vec::is_empty) {
        found.add(&table.spot, Problem::NeverOpen);
    }
    Hours::new(week)
}

fn windows(table: &mut Fields<'_>, found: &mut Findings<'_>, name: &'static str) -> Option<Vec<Window>> {
    let mut read: Vec<Window> = Vec::new();
    for entry in table.optional_list(found, name, 0, limits::WINDOWS)? {
        let Some(Said { what: window, spot }) = window(entry, found) else { continue };
        match read.iter().find(|other| other.overlaps(window)) {
            Some(other) => found.add(&spot, Problem::WindowsOverlap { found: window, other: *other }),
            None => read.push(window),
        }
    }
    Some(read)
}

fn window(entry: Entry<'_>, found: &mut Findings<'_>) -> Option<Said<Window>> {
    let Said { what: (from, to), spot } = entry.read(found, &form::span())?;
    let window = Window::new(from, to);
    if window.is_none() {
        found.add(&spot, Problem::WindowOrder { from, to });
    }
    Some(Said { what: window?, spot })
}

//! The head of a chart: what is planned and how well, and what the signs mean.

use super::labels::Labels;
use super::look;
use super::page::{EDGE, WIDTH};
use super::svg::{Anchor, Letters, Rect, Svg};
use crate::timetable::check::Verdict;

/// Pixels above the groups.
const ABOVE: f64 = 84.0;
/// Pixels of a line of groups.
const LINE: f64 = 20.0;
/// Pixels of one group, where no name is longer.
const EACH: f64 = 112.0;

/// Pixels of one group: with room for the longest name.
fn each(labels: &Labels) -> f64 {
    let longest = labels.groups.iter().map(|name| name.chars().count()).max().unwrap_or(0);
    EACH.max(44.0 + longest as f64 * 6.6)
}

/// Groups in a line; at least one.
fn in_a_line(labels: &Labels) -> usize {
    (((WIDTH - 2.0 * EDGE) / each(labels)) as usize).max(1)
}

/// Pixels of the head.
pub(super) fn height(labels: &Labels) -> f64 {
    ABOVE + LINE * labels.groups.len().div_ceil(in_a_line(labels)) as f64 + 12.0
}

/// Draws the head.
pub(super) fn draw(svg: &mut Svg, verdict: &Verdict, labels: &Labels) {
    svg.text((EDGE, 30.0), Letters::bold(20.0, Anchor::Start), &labels.title);
    svg.text((EDGE, 50.0), Letters::plain(13.0, Anchor::Start), &summary(verdict, labels));
    signs(svg, &labels.reading);
    for (group, name) in labels.groups.iter().enumerate() {
        let line = (group / in_a_line(labels)) as f64;
        let x = EDGE + (group % in_a_line(labels)) as f64 * each(labels);
        let y = ABOVE + LINE * line;
        svg.rect(Rect { x, y: y + 2.0, width: 24.0, height: 13.0 }, look::set(group, 0), "");
        svg.text((x + 30.0, y + 13.0), Letters::plain(12.0, Anchor::Start), name);
    }
}

fn summary(verdict: &Verdict, labels: &Labels) -> String {
    let parts = &verdict.parts;
    let rules = match verdict.breaches.len() {
        0 => "every rule is kept".to_owned(),
        count => format!("{count} breaches of {} s", verdict.breach_seconds()),
    };
    format!(
        "objective {} (smaller is better), {rules}, rests too long by {} s in all, waits between exercises {} s, \
         last set ends at {}",
        verdict.objective,
        parts.overrun,
        parts.changeover_wait,
        labels.time(parts.makespan)
    )
}

/// What each sign means, and how a set reads, in one line.
fn signs(svg: &mut Svg, reading: &str) {
    let all: [(String, &str); 7] = [
        (look::sample(0), "first exercise"),
        (look::sample(1), "second exercise"),
        (look::sample(2), "any further one"),
        (look::CHANGE.to_owned(), "change of load"),
        (look::WAIT.to_owned(), "wait between two exercises"),
        (look::OVERRUN.to_owned(), "rest beyond its longest"),
        (look::BUSY.to_owned(), "not to be used"),
    ];
    let mut x = EDGE;
    for (attributes, meaning) in all {
        svg.rect(Rect { x, y: 61.0, width: 24.0, height: 14.0 }, attributes, "");
        svg.text((x + 30.0, 72.5), Letters::plain(12.0, Anchor::Start), meaning);
        x += 56.0 + meaning.chars().count() as f64 * 6.6;
    }
    svg.text((x, 72.5), Letters::plain(12.0, Anchor::Start), reading);
}

//! The run sheet in rows: what stands in which order, and what goes first where there is room for less.
//!
//! The first need stands whole and the others are short. Read is from above, but what there is room for is another
//! order: who is next after the first matters more than how the first bar is loaded in full.

use super::super::lines::{self, Row, Said, Tone};
use super::say::{NeedLine, SheetFace};

/// What is said, and what is said before it where there is room for less: what has a smaller number.
struct Ranked {
    said: Said,
    rank: usize,
}

/// What hands do for the first need.
const HANDS: usize = 1;
/// Who comes next.
const NEXT: usize = 2;
/// The rest of what is said of the first.
const DETAIL: usize = 3;
/// The needs after the second.
const LATER: usize = 100;
/// How the first is loaded safely.
const NOTES: usize = 200;
/// Why the others are not earlier.
const WHY: usize = 300;

impl SheetFace {
    /// What is said below the first name in rows of so many letters. Where there is room for less, [`Row::ends`] says
    /// which of them stay.
    #[must_use]
    pub fn rows(&self, letters: usize) -> Vec<Row> {
        let said: Vec<_> =
            self.needs.iter().enumerate().flat_map(|(n, need)| ranked(n, need, letters)).collect();
        let rows: Vec<_> = said
            .iter()
            .map(|one| (one.rank, lines::rows(std::slice::from_ref(&one.said), letters)))
            .collect();
        let before =
            |rank| rows.iter().filter(|(other, _)| *other < rank).map(|(_, rows)| rows.len()).sum::<usize>();
        let placed = |(rank, own): &(usize, Vec<Row>)| {
            let before = before(*rank);
            own.iter().map(|row| Row { ends: row.ends + before, ..row.clone() }).collect::<Vec<_>>()
        };
        rows.iter().flat_map(placed).collect()
    }
}

/// What is said of the need at this place, in rows of so many letters.
fn ranked(n: usize, need: &NeedLine, letters: usize) -> Vec<Ranked> {
    let NeedLine { short, who, place, what, load, why, .. } = need;
    let all = if n == 0 {
        first(need, letters)
    } else {
        // Who, when and where belong together.
        let short = if short.is_empty() { String::new() } else { format!("{short} ") };
        let place = if place.is_empty() { String::new() } else { format!(" \u{b7} {place}") };
        let whole = format!("{short}{who}{place}");
        let head = if n == 1 { NEXT } else { LATER + n };
        vec![(said([&whole, what, load], Tone::Do), head), (said([why], Tone::Later), WHY + n)]
    };
    let all = all.into_iter().filter(|(said, _)| !said.texts.is_empty());
    all.map(|(said, rank)| Ranked { said, rank }).collect()
}

/// The whole of the first need.
fn first(need: &NeedLine, letters: usize) -> Vec<(Said, usize)> {
    let NeedLine { place, what, load, on_now, exercises, set, how, notes, why, who: _, count: _, short: _ } =
        need;
    let which = exercises.iter().chain([set]);
    let details = [said(apart(on_now, letters), Tone::Do), said(which, Tone::Know), said([how], Tone::Know)];
    let details = details.into_iter().filter(|said| !said.texts.is_empty());
    // What hands do, or else which set it is, is known before who comes next.
    let details = details.enumerate().map(|(n, said)| (said, if n == 0 { HANDS } else { DETAIL + n }));
    // How it is done safely is said last of a load, and read first here. The station itself says so, too.
    let last = [(said(notes.lines().rev(), Tone::Know), NOTES), (said([why], Tone::Know), DETAIL + 3)];
    [(said([place, load, what], Tone::Set), 0)].into_iter().chain(details).chain(last).collect()
}

/// What comes off and what goes on, each for itself where both are longer than a row.
fn apart(on_now: &str, letters: usize) -> Vec<&str> {
    if on_now.chars().count() <= letters { vec![on_now] } else { on_now.split(", ").collect() }
}

fn said<T: AsRef<str>>(texts: impl IntoIterator<Item = T>, tone: Tone) -> Said {
    let texts = texts.into_iter().map(|text| text.as_ref().to_owned()).filter(|text| !text.is_empty());
    Said { texts: texts.collect(), tone }
}

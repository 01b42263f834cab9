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

/// Behind the second need, before the third: the rest of what is said of the first.
const DETAIL: usize = 3;
/// The needs after the second.
const LATER: usize = 100;
/// Why they are not earlier.
const WHY: usize = 200;

impl SheetFace {
    /// What is said below the first name in rows of so many letters. Where there is room for less, [`Row::ends`] says
    /// which of them stay.
    #[must_use]
    pub fn rows(&self, letters: usize) -> Vec<Row> {
        let said: Vec<_> = self.needs.iter().enumerate().flat_map(|(n, need)| ranked(n, need)).collect();
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

/// What is said of the need at this place.
fn ranked(n: usize, need: &NeedLine) -> Vec<Ranked> {
    let NeedLine { short, who, place, what, load, on_now, exercise, set, how, notes, why, count: _ } = need;
    if n == 0 {
        let mut all = vec![(said([place, what, load], Tone::Set), 0)];
        let details = [
            said([on_now], Tone::Do),
            said([exercise, set], Tone::Know),
            said([how], Tone::Know),
            // How it is done safely is said last of a load, and read first here.
            said(notes.lines().rev(), Tone::Know),
            said([why], Tone::Know),
        ];
        let details = details.into_iter().filter(|said| !said.texts.is_empty());
        // What hands do, or else which set it is, is known before who comes next.
        all.extend(details.enumerate().map(|(n, said)| (said, if n == 0 { 1 } else { DETAIL + n })));
        return all.into_iter().map(|(said, rank)| Ranked { said, rank }).collect();
    }
    // Who, when and where belong together.
    let short = if short.is_empty() { String::new() } else { format!("{short} ") };
    let place = if place.is_empty() { String::new() } else { format!(" \u{b7} {place}") };
    let whole = format!("{short}{who}{place}");
    let head = if n == 1 { 2 } else { LATER + n };
    let all = [(said([&whole, what, load], Tone::Do), head), (said([why], Tone::Later), WHY + n)];
    all.into_iter()
        .filter(|(said, _)| !said.texts.is_empty())
        .map(|(said, rank)| Ranked { said, rank })
        .collect()
}

fn said<T: AsRef<str>>(texts: impl IntoIterator<Item = T>, tone: Tone) -> Said {
    let texts = texts.into_iter().map(|text| text.as_ref().to_owned()).filter(|text| !text.is_empty());
    Said { texts: texts.collect(), tone }
}

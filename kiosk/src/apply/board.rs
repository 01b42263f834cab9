//! Every group at a glance, on a wall.

use slint::{Global, SharedString};

use crate::face::{self, BlockIs, BoardFace, BoardLine, NewsLine, NextNeed, Pattern, SPAN};
use crate::ui::{self, KioskWindow, Wall};

use super::{as_wide, fill, fill_apart, phase, two_lines};

/// Puts a board on the screen.
pub(super) fn board(window: &KioskWindow, board: &BoardFace) {
    let wall = Wall::get(window);
    wall.set_floor((&board.floor).into());
    wall.set_page((&board.page).into());
    let (upper, lower) = in_two(&board.closing);
    wall.set_closing((&board.closing).into());
    wall.set_closing_upper(upper.into());
    wall.set_closing_lower(lower.into());
    wall.set_need_shown(board.need.is_some());
    wall.set_need(board.need.as_ref().map_or_else(Default::default, need));
    wall.set_news_shown(board.news.is_some());
    wall.set_news(board.news.as_ref().map_or_else(Default::default, news));
    wall.set_need_count(board.need.as_ref().map_or_else(Default::default, |need| (&need.count).into()));
    let counts = board.lines.iter().map(|line| SharedString::from(&line.count)).collect();
    fill_apart(&wall.get_counts(), counts, |m| wall.set_counts(m));
    fill(&wall.get_lines(), board.lines.iter().map(line).collect(), |m| wall.set_lines(m));
    // Pieces of all strips are in one list each, so that only those that differ are drawn again.
    let lines = || (0..).zip(&board.lines);
    let blocks = lines().flat_map(|(n, line)| line.ribbon.blocks.iter().map(move |part| block(n, *part)));
    fill(&wall.get_blocks(), blocks.collect(), |m| wall.set_blocks(m));
    let windows = lines().flat_map(|(n, line)| line.ribbon.windows.iter().map(move |part| open(n, *part)));
    fill(&wall.get_windows(), windows.collect(), |m| wall.set_windows(m));
    wall.set_now(share(u32::try_from(face::BEHIND).unwrap_or(0)));
}

fn need(need: &NextNeed) -> ui::NeedData {
    ui::NeedData {
        who: (&need.who).into(),
        place: (&need.place).into(),
        what: (&need.what).into(),
        wide: as_wide(&need.count).into(),
        phase: phase(need.phase),
    }
}

fn line(line: &BoardLine) -> ui::LineData {
    let way =
        if line.next.is_empty() { line.place.clone() } else { format!("{} → {}", line.place, line.next) };
    ui::LineData {
        first: line.first,
        who: (&line.who).into(),
        phase: phase(line.phase),
        word: (&line.word).into(),
        place: (&line.place).into(),
        way: way.into(),
        note: (&line.note).into(),
        load: (&line.load).into(),
        wide: as_wide(&line.count).into(),
        ribbon: (&line.ribbon.label).into(),
    }
}

fn news(line: &NewsLine) -> ui::NewsData {
    let text = if line.ago.is_empty() { line.text.clone() } else { format!("{}: {}", line.ago, line.text) };
    let (upper, lower) = in_two(&text);
    ui::NewsData { phase: phase(line.phase), upper: upper.into(), lower: lower.into(), text: text.into() }
}

/// A sentence in two lines.
fn in_two(text: &str) -> (String, String) {
    let lines = two_lines(text);
    lines.split_once('\n').map_or((lines.clone(), String::new()), |(a, b)| (a.to_owned(), b.to_owned()))
}

fn block(line: i32, block: face::Block) -> ui::BlockData {
    ui::BlockData {
        line,
        from: share(block.from),
        width: share(block.until) - share(block.from),
        pattern: match block.pattern {
            Pattern::Solid => ui::Pattern::Solid,
            Pattern::Hatched => ui::Pattern::Hatched,
            Pattern::Open => ui::Pattern::Open,
        },
        is: match block.is {
            BlockIs::Done => ui::BlockIs::Done,
            BlockIs::UnderWay => ui::BlockIs::UnderWay,
            BlockIs::Over => ui::BlockIs::Over,
            BlockIs::ToCome => ui::BlockIs::ToCome,
        },
        light: block.light,
        spotted: block.spotted,
    }
}

fn open(line: i32, window: face::Window) -> ui::WindowData {
    ui::WindowData {
        line,
        from: share(window.from),
        width: share(window.until) - share(window.from),
        earliest: window.earliest,
        latest: window.latest,
    }
}

/// A place on a strip as a part of its width.
#[expect(clippy::cast_precision_loss, reason = "a strip has a few hundred thousand parts")]
fn share(part: u32) -> f32 {
    part as f32 / SPAN as f32
}

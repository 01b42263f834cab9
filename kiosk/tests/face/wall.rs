//! What a wall says of groups and of what happened.

use turnabout_kiosk::face::{BoardFace, BoardLine, Body, PAGE_MS, PhaseKind};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{BoardView, ClockPart, HappenedPart, TOLD_FOR, View};

use crate::panels;
use crate::scenes::*;

fn at_real(real: u64, language: Language, view: BoardView) -> BoardFace {
    match (Sample { real, ..Sample::new("", View::Board(view)) }).face(language).body {
        Body::Board { board } => board,
        Body::Blank { .. } | Body::Stations { .. } => panic!("not a board"),
    }
}

fn wall(language: Language, view: BoardView) -> BoardFace {
    at_real(0, language, view)
}

/// Every page and every one of the news.
fn turns(language: Language, view: &BoardView) -> Vec<BoardFace> {
    (0..12).map(|turn| at_real(turn * PAGE_MS, language, view.clone())).collect()
}

fn line(language: Language, view: &BoardView, who: &str) -> BoardLine {
    let mut lines = turns(language, view).into_iter().flat_map(|board| board.lines);
    lines.find(|line| line.who == who).unwrap()
}

/// The news in their order.
fn told(language: Language, view: &BoardView) -> Vec<(String, String)> {
    let mut told: Vec<(String, String)> = Vec::new();
    for news in turns(language, view).into_iter().filter_map(|board| board.news) {
        if !told.contains(&(news.ago.clone(), news.text.clone())) {
            told.push((news.ago, news.text));
        }
    }
    told
}

#[test]
fn a_board_has_a_line_a_client_and_starts_each_group() {
    let lines: Vec<(bool, String, PhaseKind, String, String)> = wall(Language::En, board(2))
        .lines
        .into_iter()
        .map(|l| (l.first, l.who, l.phase, [l.place, l.next].join(" > "), l.count))
        .collect();
    let is = |first, who: &str, phase, place: &str, count: &str| {
        (first, who.to_owned(), phase, place.to_owned(), count.to_owned())
    };
    assert_eq!(
        lines,
        [
            is(true, "Chidi", PhaseKind::Ready, "Bench 2 > ", "+0:17"),
            is(false, "Dara", PhaseKind::Assumed, "Row 2 > ", "+0:12"),
            // Where Ayla goes from the bench.
            is(true, "Ayla", PhaseKind::Working, "Bench 1 > Row 1", "0:27"),
            is(false, "Bram", PhaseKind::Rest, "Row 1 > ", "in 0:34"),
        ]
    );
}

#[test]
fn a_long_board_turns_over_by_itself_and_keeps_groups_together() {
    // Ten pairs, on pages of at most five lines; a group that has finished makes room.
    let shown = |real: u64| {
        let board = at_real(real, Language::En, board(10));
        assert!(board.lines[0].first, "a group was torn apart: {board:?}");
        (board.page, board.lines.len())
    };
    for (real, page) in [
        (0, "1 / 5"),
        (PAGE_MS - 1, "1 / 5"),
        (PAGE_MS, "2 / 5"),
        (4 * PAGE_MS, "5 / 5"),
        (5 * PAGE_MS, "1 / 5"),
    ] {
        assert_eq!(shown(real), (page.to_owned(), 4), "{real} ms");
    }
    let whole = wall(Language::En, board(2));
    assert_eq!((whole.page.as_str(), whole.lines.len()), ("", 4), "what fits is one page");
    let five = wall(Language::En, five_board());
    assert_eq!((five.page.as_str(), five.lines.len()), ("", 5), "and so is this");
    // News take the place of a line.
    let busy = BoardView { happened: news(), ..five_board() };
    let pages: Vec<_> =
        turns(Language::En, &busy).into_iter().take(2).map(|b| (b.page, b.lines.len())).collect();
    assert_eq!(pages.iter().map(|(page, _)| page.as_str()).collect::<Vec<_>>(), ["1 / 2", "2 / 2"]);
    assert_eq!(pages.iter().map(|(_, lines)| lines).sum::<usize>(), 5);
}

#[test]
fn a_board_says_what_does_not_go_by_the_book() {
    let view = eventful_board();
    let line = |who: &str| line(Language::En, &view, who);
    let said = |who: &str| (line(who).phase, line(who).word, line(who).note);
    let is = |phase, word: &str, note: &str| (phase, word.to_owned(), note.to_owned());
    assert_eq!(said("Ayla"), is(PhaseKind::Working, "Work", ""));
    assert_eq!(said("Bram"), is(PhaseKind::Held, "Not here yet", ""));
    assert_eq!(said("Chidi"), is(PhaseKind::Stopped, "Stopped", ""));
    assert_eq!(said("Dara"), is(PhaseKind::Assumed, "Done?", ""));
    // Whoever has no station is told whose group it is.
    assert_eq!(said("Farid"), is(PhaseKind::Held, "Waiting, place 1", "Coach Zeno"));
    assert_eq!(said("Umar, Vesna"), is(PhaseKind::Gone, "Expected", "Coach Yara"));
    let news = told(Language::En, &view);
    let news: Vec<(&str, &str)> = news.iter().map(|(ago, text)| (ago.as_str(), text.as_str())).collect();
    assert_eq!(
        news,
        [
            ("", "Row 1: out of service, cable"),
            ("", "Bench 3: other use, about 12 min"),
            ("Just now", "Chidi: stopped"),
            ("2 min ago", "Zeno helped Ayla with the last repetitions"),
            ("5 min ago", "Row 1 out of service: cable"),
        ]
    );
}

#[test]
fn who_is_missing_is_named() {
    let warm = line(Language::En, &calm_board(), "Jonah, Vesna, Wanja, Yara");
    assert_eq!((warm.word.as_str(), warm.note.as_str()), ("Warming up", "Expected: Vesna, Wanja, Yara"));
    let expected = line(Language::De, &calm_board(), "Umar, Vesna, Wanja, Yara");
    assert_eq!((expected.word.as_str(), expected.note.as_str()), ("Erwartet", "Coach Zeno"));
}

#[test]
fn an_exercise_is_named_in_the_language_of_the_display() {
    let bench = Sample::new("", view(vec![bench_1(under_way(-13))]));
    for (language, press, row, swapped) in [
        (Language::En, "Bench press", "Cable row", "Bram: Chest-supported dumbbell row instead of Cable row"),
        (
            Language::De,
            "Bankdrücken",
            "Rudern am Kabelzug",
            "Bram: Kurzhantelrudern mit Brustauflage statt Rudern am Kabelzug",
        ),
    ] {
        let panel = panels(&bench.face(language))[0].clone();
        assert_eq!(panel.exercise, press);
        assert!(panel.then.contains(row), "{}", panel.then);
        let strip = line(language, &board(2), "Bram").ribbon.label;
        assert!(strip.contains(row), "{strip}");
        let happened = told(language, &BoardView { happened: news(), ..board(2) });
        assert_eq!(happened[1].1, swapped);
    }
}

#[test]
fn a_wall_tells_what_happened_for_ten_minutes() {
    let told_at = |secs: i64| {
        let happened = vec![HappenedPart { at: at(-secs), ..news()[0].clone() }];
        wall(Language::En, BoardView { happened, ..board(2) }).news.is_some()
    };
    let most = i64::from(TOLD_FOR.0);
    assert_eq!([told_at(0), told_at(most - 1), told_at(most)], [true, true, false]);
}

#[test]
fn last_rounds_are_announced_half_an_hour_before_the_floor_closes() {
    let said = |language, secs: i64| wall(language, closing(board(2), secs)).closing;
    // It is 18:50 at the floor.
    for (secs, en, de) in [
        (1_801, "", ""),
        (1_800, "We close at 19:20: last rounds", "Wir schließen um 19:20: letzte Runden"),
        (600, "We close at 19:00: last rounds", "Wir schließen um 19:00: letzte Runden"),
        (1, "We close at 18:50: last rounds", "Wir schließen um 18:50: letzte Runden"),
        (0, "", ""),
        (-5, "", ""),
    ] {
        assert_eq!(
            (said(Language::En, secs).as_str(), said(Language::De, secs).as_str()),
            (en, de),
            "{secs} s"
        );
    }
    assert_eq!(wall(Language::En, board(2)).closing, "", "a floor that never closes");
    // Floor time is no time of day: the same instant of it on another evening.
    let clock = ClockPart { floor: FloorMs(0), utc_ms: 1_795_625_400_000 };
    let other = BoardView { clock, ..closing(board(2), 600) };
    assert_eq!(wall(Language::En, other).closing, "We close at 19:16: last rounds");
}

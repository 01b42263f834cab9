//! What a wall says of groups and of what happened.

use turnabout_kiosk::face::{BoardFace, Body};
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{BoardView, HappenedPart, TOLD_FOR, View};

use crate::panels;
use crate::scenes::*;

fn wall(language: Language, view: BoardView) -> BoardFace {
    match Sample::new("", View::Board(view)).face(language).body {
        Body::Board { board } => board,
        Body::Blank { .. } | Body::Stations { .. } => panic!("not a board"),
    }
}

#[test]
fn an_exercise_is_named_in_the_language_of_the_display() {
    let bench = Sample::new("", view(vec![bench_1(under_way(-13))]));
    for (language, press, row, instead, swapped) in [
        (
            Language::En,
            "Bench press",
            "Cable row",
            "Face pull",
            "Bram: Chest-supported dumbbell row instead of Cable row",
        ),
        (
            Language::De,
            "Bankdrücken",
            "Rudern am Kabelzug",
            "Face Pull am Kabelzug",
            "Bram: Kurzhantelrudern mit Brustauflage statt Rudern am Kabelzug",
        ),
    ] {
        let panel = panels(&bench.face(language))[0].clone();
        assert_eq!(panel.exercise, press);
        assert!(panel.then.contains(row), "{}", panel.then);
        let lines = wall(language, eventful_board()).lines;
        let line = lines.iter().find(|line| line.exercise == instead).unwrap();
        assert!(line.note.contains(row), "{}", line.note);
        assert!(lines.iter().any(|line| line.exercise == press), "{lines:?}");
        let told = wall(language, BoardView { happened: news(), ..board(2) }).news;
        assert_eq!(told[1].text, swapped);
    }
}

#[test]
fn a_wall_tells_what_happened_for_ten_minutes() {
    let told_at = |secs: i64| {
        let happened = vec![HappenedPart { at: at(-secs), ..news()[0].clone() }];
        wall(Language::En, BoardView { happened, ..board(2) }).news.len()
    };
    let most = i64::from(TOLD_FOR.0);
    assert_eq!([told_at(0), told_at(most - 1), told_at(most)], [1, 1, 0]);
}

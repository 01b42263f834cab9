//! What is told of a coming set: the countdown goes to its start, with the reason why not earlier.

use turnabout_kiosk::face::{BoardFace, Body, Panel, PhaseKind, Tap};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{After, BoardView, Need, StationPart, StationState, View};

use crate::scenes::*;
use crate::{check, panel_at, panels};

fn shown(part: &StationPart, ms: i64, language: Language) -> Panel {
    let face = Sample::new("", view(vec![part.clone()])).face_at(FloorMs(NOW.0 + ms), language);
    panels(&face)[0].clone()
}

#[test]
fn the_countdown_goes_to_the_start_that_was_told_and_then_up() {
    // The rest ends in 34 s, and the client is next for the 16 s until the start.
    check(
        &told(resting(34), 50, StartReason::SpotterBusy),
        &[
            (0, PhaseKind::Rest, "0:50"),
            (33_999, PhaseKind::Rest, "0:17"),
            (34_000, PhaseKind::Coming, "0:16"),
            (49_999, PhaseKind::Coming, "0:01"),
            (50_000, PhaseKind::Ready, "+0:00"),
            (61_000, PhaseKind::Ready, "+0:11"),
        ],
    );
    // Nothing but the rest: GO is taken when get set and count-in end with it.
    check(
        &told(resting(34), 23, StartReason::Rest),
        &[
            (0, PhaseKind::Rest, "0:23"),
            (23_000, PhaseKind::Ready, "+0:00"),
            (34_000, PhaseKind::Ready, "+0:11"),
        ],
    );
    let over = coming(After::Changeover { since: at(-10), limit: at(20) }, -10, -10, &[]);
    check(
        &told(row_1(over), 30, StartReason::StationInUse),
        &[
            (0, PhaseKind::Changeover, "0:30"),
            (19_999, PhaseKind::Changeover, "0:11"),
            (20_000, PhaseKind::Coming, "0:10"),
            (30_000, PhaseKind::Ready, "+0:00"),
        ],
    );
    // A first set counts up too: its client was told when it is to be.
    check(
        &told(bench_1(coming(After::Nothing, -5, -5, &[])), 10, StartReason::Turns),
        &[(0, PhaseKind::Coming, "0:10"), (12_000, PhaseKind::Ready, "+0:02")],
    );
}

#[test]
fn what_is_told_about_only_is_drawn_in_steps_of_five_seconds() {
    check(
        &about(told(resting(34), 50, StartReason::SpotterBusy)),
        &[
            (0, PhaseKind::Rest, "~0:50"),
            (1, PhaseKind::Rest, "~0:50"),
            (5_000, PhaseKind::Rest, "~0:45"),
            (34_000, PhaseKind::Coming, "~0:20"),
            (49_999, PhaseKind::Coming, "~0:05"),
            (50_000, PhaseKind::Ready, "+0:00"),
        ],
    );
    let next = about(next_told(41, StartReason::StationInUse));
    assert_eq!(shown(&next, 0, Language::En).next, "Bram next in ~0:45");
    assert_eq!(shown(&next, 0, Language::De).next, "danach Bram in ~0:45");
}

#[test]
fn nobody_is_said_to_be_ready_before_go_is_taken_nor_while_something_is_missing() {
    check(
        &told(resting(34), 10, StartReason::Later),
        &[
            (0, PhaseKind::Rest, "0:23"),
            (10_000, PhaseKind::Rest, "0:13"),
            (23_000, PhaseKind::Ready, "+0:00"),
        ],
    );
    let held = bench_1(coming(rest(10), 10, -1, &[Need::Spotter]));
    check(
        &told(held, 20, StartReason::SpotterBusy),
        &[
            (9_999, PhaseKind::Rest, "0:11"),
            (10_000, PhaseKind::Held, "0:10"),
            (20_000, PhaseKind::Held, "+0:00"),
            (25_000, PhaseKind::Held, "+0:05"),
        ],
    );
}

#[test]
fn what_is_told_neither_bars_nor_allows_go() {
    let mut live = 0;
    for sample in promises() {
        let Some(View::Station(told)) = sample.view.clone() else { continue };
        let mut untold = told.clone();
        for turn in untold.stations.iter_mut().filter_map(|part| part.turn.as_mut()) {
            turn.promise = None;
        }
        for secs in -30..90 {
            let buttons = |stations| {
                let face = Sample::new("", view(stations)).face_at(at(secs), Language::En);
                let mut panels = panels(&face).to_vec();
                panels.sort_by_key(|panel| panel.id);
                panels.into_iter().map(|panel| panel.buttons).collect::<Vec<_>>()
            };
            let (with, without) = (buttons(told.stations.clone()), buttons(untold.stations.clone()));
            assert_eq!(with, without, "{} at {secs} s", sample.name);
            live += with.iter().flatten().filter(|b| b.tap == Tap::Go && b.enabled).count();
        }
    }
    assert!(live > 100, "GO is live before and after starts: {live}");
    let early = panel_at(&told(resting(-4), 21, StartReason::Turns), 0);
    assert_eq!((early.phase, early.count.as_str()), (PhaseKind::Coming, "0:21"));
    assert!(early.buttons.iter().any(|b| b.tap == Tap::Go && b.enabled && b.primary));
}

#[test]
fn why_not_earlier_is_said_until_the_start_in_every_language() {
    for (reason, en, de) in [
        (StartReason::Way, "Time to walk over.", "Zeit für den Weg."),
        (StartReason::Rest, "The rest ends then.", "Dann ist die Pause um."),
        (StartReason::PutOff, "More time, as asked.", "Mehr Zeit, wie gewünscht."),
        (StartReason::StationInUse, "The station is in use until then.", "So lange ist die Station belegt."),
        (
            StartReason::LoadChange { takes: Secs(16) },
            "Changing the load takes 16 s.",
            "Umladen dauert 16 s.",
        ),
        (
            StartReason::SpotterAway { until: at(754) },
            "The spotter is away until 12:34 min from now.",
            "Die Hilfestellung ist bis in 12:34 min weg.",
        ),
        (
            StartReason::OtherUse { until: at(42) },
            "Somebody else uses the station until 0:42 min from now.",
            "Die Station wird bis in 0:42 min anders genutzt.",
        ),
    ] {
        let part = told(resting(34), 50, reason);
        assert_eq!(
            (shown(&part, 0, Language::En).why.as_str(), shown(&part, 0, Language::De).why.as_str()),
            (en, de)
        );
    }
    for (reason, language) in start_reasons().into_iter().flat_map(|r| Language::ALL.map(|l| (r, l))) {
        let part = told(resting(34), 50, reason);
        let why = |ms| shown(&part, ms, language).why;
        // Nothing in the way is no reason to wait.
        assert_eq!(why(49_999).is_empty(), reason == StartReason::Ready, "{reason:?}");
        assert!(!why(0).contains('{') && !why(0).contains("start."), "{}", why(0));
        assert_eq!(why(50_000), "", "{reason:?}");
    }
    assert_eq!(panel_at(&resting(34), 0).why, "", "nothing was told");
}

#[test]
fn who_is_to_spot_is_named_until_somebody_says_so() {
    let part = bench_1(coming(rest(9), 9, 0, &[Need::Spotter]));
    let part = spotted_by(told(part, 28, StartReason::SpotterBusy), "Zeno");
    let panel = panel_at(&part, 0);
    assert_eq!((panel.needs.as_str(), panel.spotter.as_str()), ("spotter at the bar", "Zeno spots"));
    let mut there = part.clone();
    there.turn.as_mut().unwrap().spotter = Some("Edda".into());
    assert_eq!(panel_at(&there, 0).spotter, "Edda spots");
    let mut arms = part;
    arms.turn.as_mut().unwrap().arms = true;
    assert_eq!(panel_at(&arms, 0).spotter, "safety arms set");
}

#[test]
fn the_last_half_minute_of_a_wait_that_was_told_cues_the_client() {
    // Common practice, no source.
    let part = told(resting(10), 45, StartReason::Turns);
    for (ms, cue) in [
        (14_999, ""),
        (15_000, "get ready"),
        (34_999, "get ready"),
        (35_000, "to your place"),
        (44_999, "to your place"),
        (45_000, ""),
    ] {
        assert_eq!(panel_at(&part, ms).cue, cue, "{ms} ms");
    }
}

#[test]
fn whoever_is_next_is_told_from_when_and_why() {
    let part = next_told(40, StartReason::StationInUse);
    for (ms, next, why) in [
        (0, "Bram next in 0:40", "The station is in use until then."),
        (39_999, "Bram next in 0:01", "The station is in use until then."),
        (40_000, "Bram next", ""),
    ] {
        let panel = panel_at(&part, ms);
        assert_eq!((panel.next.as_str(), panel.next_why.as_str()), (next, why), "{ms} ms");
    }
    assert_eq!(shown(&part, 0, Language::De).next, "danach Bram in 0:40");
    let untold = panel_at(&bench_1(under_way(-13)), 0);
    assert_eq!((untold.next.as_str(), untold.next_why.as_str()), ("Bram next in 1:20", ""));
    // Somebody of the public is there first.
    let part = told(resting(10), 45, StartReason::OtherUse { until: at(45) });
    let used = StationPart { state: StationState::OtherUse, ..part };
    assert_eq!(panel_at(&used, 0).next, "Ayla next in 0:45");
}

fn wall(view: BoardView) -> BoardFace {
    match Sample::new("", View::Board(view)).face(Language::En).body {
        Body::Board { board } => board,
        Body::Blank { .. } | Body::Stations { .. } => panic!("not a board"),
    }
}

#[test]
fn a_board_says_in_how_long_and_where_and_what_is_next_comes_first() {
    let lines = wall(told_board()).lines;
    let said: Vec<_> =
        lines.iter().map(|l| (l.first, l.who.as_str(), l.place.as_str(), l.count.as_str())).collect();
    assert_eq!(
        said,
        [
            // Dara's set should be over.
            (true, "Dara", "Row 2", "+0:12"),
            (false, "Chidi", "Bench 2", "in ~0:20"),
            // Of a pause nobody knows the end: the rest goes on.
            (true, "Jonah", "Bench 5", "0:20"),
            (false, "Kaito", "Row 5", "0:37"),
        ]
    );
    let mut late = told_board();
    late.groups[1].clients[0].turn.as_mut().unwrap().promise.as_mut().unwrap().start = at(-3);
    let lines = wall(late).lines;
    let chidi = lines.iter().find(|line| line.who == "Chidi").unwrap();
    assert_eq!((chidi.phase, chidi.count.as_str()), (PhaseKind::Ready, "+0:03"));
}

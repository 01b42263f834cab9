//! The pacer: which part of which repetition its tempo is at, in which words, and how its level goes.
//!
//! That a tempo is written eccentric, pause, concentric, pause, whichever a repetition begins with, is the notation of
//! published trials (`6/0/X/0`, J Hum Kinet 2019, doi 10.2478/hukin-2019-0055). That a breath goes out with the effort is
//! common practice, no source.

use std::fmt::Write;

use proptest::prelude::*;
use turnabout_kiosk::face::{Beat, Going, Level, Motion, Move, Own, Panel, PhaseKind, Side, Step, beat};
use turnabout_protocol::tempo::{Part, Tempo};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::view::{HaltKind, PhaseWords, StartsWith, StationPart, TurnPhase};

use crate::scenes::*;
use crate::{panel_at, panels};

fn panel_in(part: &StationPart, secs: i64, language: Language) -> Panel {
    panels(&Sample::new("", view(vec![part.clone()])).face_at(at(secs), language))[0].clone()
}

fn level(beat: Beat) -> &'static str {
    match beat.level {
        Some(Level::Fills) => "fills",
        Some(Level::Empties) => "empties",
        Some(Level::Full) => "full",
        Some(Level::Empty) => "empty",
        None => "none",
    }
}

/// What the parts that begin within so many seconds say, a line each.
fn told(part: &StationPart, secs: i64, language: Language) -> String {
    let mut told = String::new();
    for begins in 0..secs {
        let panel = panel_in(part, begins, language);
        let Some(pacer) = &panel.pacer else {
            writeln!(told, "{begins}: {:?}", panel.phase).unwrap();
            continue;
        };
        if pacer.beat.starts == at(begins) {
            let (lasts, level) = (pacer.beat.ends.since(pacer.beat.starts).0 / 1_000, level(pacer.beat));
            let breath = if pacer.breath.is_empty() { "-" } else { &pacer.breath };
            writeln!(told, "{begins} +{lasts}: {} | {breath} | {level} | {}", pacer.word, panel.pace)
                .unwrap();
        }
    }
    told
}

#[test]
fn a_press_begins_by_lowering() {
    // 3-1-2-0: lowered for three seconds, held for one below, pressed for two, and down again at once.
    let english = "\
0 +3: Lower | breathe in | empties | pace: 1 of 10
3 +1: Hold | - | empty | pace: 1 of 10
4 +2: Press | breathe out | fills | pace: 1 of 10
6 +3: Lower | breathe in | empties | pace: 2 of 10
";
    let german = "\
0 +3: Senken | einatmen | empties | Takt: 1 von 10
3 +1: Halten | - | empty | Takt: 1 von 10
4 +2: Drücken | ausatmen | fills | Takt: 1 von 10
6 +3: Senken | einatmen | empties | Takt: 2 von 10
";
    assert_eq!(told(&press_at("3-1-2-0", 0), 7, Language::En), english);
    assert_eq!(told(&press_at("3-1-2-0", 0), 7, Language::De), german);
}

#[test]
fn a_row_begins_by_pulling() {
    // The same tempo: pulled for two seconds, let out for three, and held for one with the arms long, before the next
    // pull: the pause stays behind the phase that it is written after.
    let english = "\
0 +2: Pull | breathe out | fills | pace: 1 of 10
2 +3: Return | breathe in | empties | pace: 1 of 10
5 +1: Hold | - | empty | pace: 1 of 10
6 +2: Pull | breathe out | fills | pace: 2 of 10
";
    let german = "\
0 +2: Ziehen | ausatmen | fills | Takt: 1 von 10
2 +3: Zurück | einatmen | empties | Takt: 1 von 10
5 +1: Halten | - | empty | Takt: 1 von 10
6 +2: Ziehen | ausatmen | fills | Takt: 2 von 10
";
    assert_eq!(told(&row_at("3-1-2-0", 0), 7, Language::En), english);
    assert_eq!(told(&row_at("3-1-2-0", 0), 7, Language::De), german);
}

#[test]
fn a_pause_at_the_top_is_held_full_and_an_explosive_part_takes_its_second() {
    let told = |part| told(&part, 8, Language::En);
    assert_eq!(
        told(row_at("2-0-X-2", 0)),
        "\
0 +1: Pull | breathe out | fills | pace: 1 of 10
1 +2: Hold | - | full | pace: 1 of 10
3 +2: Return | breathe in | empties | pace: 1 of 10
5 +1: Pull | breathe out | fills | pace: 2 of 10
6 +2: Hold | - | full | pace: 2 of 10
"
    );
    // With one way alone nothing could fill again: it would have to jump.
    assert_eq!(
        told(press_at("3-0-0-2", 0)),
        "\
0 +3: Lower | breathe in | none | pace: 1 of 10
3 +2: Hold | - | none | pace: 1 of 10
5 +3: Lower | breathe in | none | pace: 2 of 10
"
    );
}

#[test]
fn each_side_has_its_own_repetitions_and_the_pace_says_which() {
    // Ten of three seconds are half a minute a side, a minute in all.
    let part = sided_at("2-0-X-0", 0);
    for (secs, en, de) in [
        (0, "pace: 1 of 10, side 1", "Takt: 1/10, Seite 1"),
        (29, "pace: 10 of 10, side 1", "Takt: 10/10, Seite 1"),
        (30, "pace: 1 of 10, side 2", "Takt: 1/10, Seite 2"),
        (59, "pace: 10 of 10, side 2", "Takt: 10/10, Seite 2"),
    ] {
        assert_eq!(panel_in(&part, secs, Language::En).pace, en);
        assert_eq!(panel_in(&part, secs, Language::De).pace, de);
    }
    let over = panel_in(&part, 60, Language::En);
    assert_eq!((over.phase, over.pace.as_str(), over.pacer), (PhaseKind::Assumed, "", None));
}

#[test]
fn where_nobody_has_said_the_words_they_are_plain_ones() {
    let part = in_words(press_at("2-1-2-0", 0), Some(even(None)));
    assert_eq!(
        told(&part, 5, Language::En),
        "\
0 +2: Return | breathe evenly | empties | pace: 1 of 10
2 +1: Hold | breathe evenly | empty | pace: 1 of 10
3 +2: Effort | breathe evenly | fills | pace: 1 of 10
"
    );
    let unsaid = panel_in(&in_words(part, None), 3, Language::De).pacer.unwrap();
    assert_eq!((unsaid.word.as_str(), unsaid.breath.as_str()), ("Kraft", ""));
}

#[test]
fn nothing_is_paced_before_and_after_a_set_in_a_hold_and_where_it_is_stopped() {
    let part = press_at("3-1-2-0", 0);
    for ms in [-1, 60_000] {
        let panel = panel_at(&part, ms);
        assert_eq!((panel.pacer, panel.pace_key, panel.pace.as_str()), (None, None, ""), "{ms} ms");
    }
    assert!(panel_at(&part, 59_999).pacer.is_some());
    let held = panel_at(&held_evenly(), 0);
    assert_eq!((held.phase, held.pacer, held.pace_key), (PhaseKind::Working, None, None));
    assert_eq!(held.breath, "breathe evenly");
    assert_eq!(panel_at(&halted(part, HaltKind::Stop), 5_000).pacer, None);
}

#[test]
fn one_tap_turns_it_off_for_that_set_alone() {
    let (bench, row) = (press_at("3-1-2-0", 5), row_at("3-1-2-0", 5));
    let mut own = Own::default();
    let mut sample = Sample::new("", view(vec![bench, row]));
    let paced = |sample: &Sample| {
        let face = sample.face(Language::En);
        let of = |key| panels(&face).iter().find(|panel| panel.key == key).unwrap().clone();
        let (bench, row) = (of("bench-1"), of("row-1"));
        ((bench.pacer.is_some(), bench.pace), (row.pacer.is_some(), row.pace))
    };
    let on = || (true, "pace: 1 of 10".to_owned());
    let off = || (false, String::new());
    let mut press = |sample: &mut Sample, name: &str, station: &str| {
        let face = sample.face(Language::En);
        let step = face.key(name, Some(station)).unwrap_or_else(|| panic!("{name} is not live")).step.clone();
        own.drawn(&face);
        assert_eq!(own.press(&step, 0), [], "it sends nothing");
        sample.unpaced = own.unpaced().clone();
    };
    assert_eq!(paced(&sample), (on(), on()));
    press(&mut sample, "pace-off", "bench-1");
    assert_eq!(paced(&sample), (off(), on()));
    press(&mut sample, "pace-off", "row-1");
    assert_eq!(paced(&sample), (off(), off()));
    press(&mut sample, "pace-on", "bench-1");
    assert_eq!(paced(&sample), (on(), off()));
    // The next set has its own, and what was said of one that is over is forgotten.
    let mut next = press_at("3-1-2-0", 5);
    next.turn.as_mut().unwrap().turn = turn_id(1, 3, 0);
    sample.view = Some(view(vec![next, row_1(coming(rest(9), 9, 9, &[]))]));
    assert_eq!(paced(&sample), (on(), off()));
    own.drawn(&sample.face(Language::En));
    assert!(own.unpaced().is_empty());
}

#[test]
fn what_is_said_of_plates_and_of_the_pacer_does_not_get_in_each_others_way() {
    let mut own = Own::default();
    own.press(&open_pad(&["10"]), 0);
    own.press(&Step::Pace { turn: turn_id(1, 2, 0), on: false }, 1);
    assert_eq!(own.pad(), padded(&[open_pad(&["10"])]).as_ref());
    own.press(&Step::Empty, 2);
    assert!(own.unpaced().contains(&turn_id(1, 2, 0)));
}

#[test]
fn a_level_moves_evenly_and_stands_where_floor_time_is_driven_by_hand() {
    let part = press_at("3-1-2-0", 0);
    let beat = |ms: i64| beat(part.turn.as_ref().unwrap(), FloorMs(NOW.0 + ms)).unwrap();
    let motion = |ms: i64, rate| beat(ms).motion(Going { now: FloorMs(NOW.0 + ms), rate }).unwrap();
    for (ms, at, to, left) in [(0, 1.0, 0.0, 3_000), (1_500, 0.5, 0.0, 1_500), (4_500, 0.25, 1.0, 1_500)] {
        assert_eq!(motion(ms, 1), Motion { at, to, left: Millis(left) }, "{ms}");
        assert_eq!(motion(ms, 0), Motion { at, to: at, left: Millis(0) }, "{ms} by hand");
        assert_eq!(motion(ms, 6), Motion { at, to, left: Millis(left / 6) }, "{ms}, six times as fast");
    }
    assert_eq!(motion(3_500, 1), Motion { at: 0.0, to: 0.0, left: Millis(500) }, "a pause stands still");
    // Six seconds are less than one of real time where time runs seven times as fast.
    assert_eq!(beat(0).motion(Going { now: NOW, rate: 7 }), None);
}

fn part() -> impl Strategy<Value = Part> {
    prop_oneof![4 => (0_u8..=5).prop_map(Part::Count), 1 => Just(Part::Explosive)]
}

fn tempo() -> impl Strategy<Value = Tempo> {
    let parts = (part(), part(), part(), part());
    let tempo = parts.prop_map(|(eccentric, after_eccentric, concentric, after_concentric)| Tempo {
        eccentric,
        after_eccentric,
        concentric,
        after_concentric,
    });
    tempo.prop_filter("a tempo takes time", |tempo| tempo.rep() > Secs(0))
}

/// How many seconds a part takes, as it is written.
fn secs(part: Part) -> i64 {
    match part {
        Part::Count(n) => n.into(),
        Part::Explosive => 1,
    }
}

proptest! {
    #[test]
    fn parts_follow_each_other_without_a_gap_and_their_level_never_jumps(
        tempo in tempo(),
        reps in 1_u8..=12,
        sides in 1_i64..=2,
        pulls in any::<bool>(),
        rate in 1_u32..=12,
    ) {
        let numbers = [tempo.eccentric, tempo.after_eccentric, tempo.concentric, tempo.after_concentric];
        let rep: i64 = numbers.into_iter().map(secs).sum();
        let (starts, ends) = (NOW, at(rep * i64::from(reps) * sides));
        let mut turn = bench(TurnPhase::UnderWay { went: at(-11), count_in: at(-3), starts, ends });
        (turn.tempo, turn.reps, turn.per_side) = (tempo, reps, sides == 2);
        turn.work = turnabout_protocol::work::Work::reps(reps);
        turn.starts_with = if pulls { StartsWith::Concentric } else { StartsWith::Eccentric };
        let both = secs(tempo.eccentric) > 0 && secs(tempo.concentric) > 0;
        let (mut now, mut filled): (FloorMs, Vec<FloorMs>) = (starts, Vec::new());
        let (mut before, mut reps_seen): (Option<Beat>, Vec<(Option<Side>, u8)>) = (None, Vec::new());
        while let Some(found) = beat(&turn, now) {
            prop_assert_eq!(found.starts, now);
            prop_assert!(found.ends > now && found.ends <= ends);
            prop_assert_eq!(beat(&turn, FloorMs(found.ends.0 - 1)), Some(found));
            prop_assert_eq!(found.level.is_some(), both);
            let fits = match found.does {
                Move::Eccentric => matches!(found.level, None | Some(Level::Empties)),
                Move::Concentric => matches!(found.level, None | Some(Level::Fills)),
                Move::Pause => matches!(found.level, None | Some(Level::Full | Level::Empty)),
            };
            prop_assert!(fits, "{:?}", found);
            if let (Some(level), Some(last)) = (found.level, before.and_then(|beat| beat.level)) {
                prop_assert_eq!(last.at(1.0), level.at(0.0), "{:?} then {:?}", before, found);
            }
            // Within a part it goes one way: up in effort, down in giving way.
            if let Some(level) = found.level {
                let along = [0.0, 0.3, 0.7, 1.0].map(|share| level.at(share));
                let one_way = match found.does {
                    Move::Concentric => along.is_sorted(),
                    Move::Eccentric => along.is_sorted_by(|a, b| a >= b),
                    Move::Pause => along.iter().all(|at| *at == along[0]),
                };
                prop_assert!(one_way, "{:?}", along);
            }
            let going = Going { now, rate };
            if found.does == Move::Concentric && found.motion(going).is_some() {
                filled.push(now);
            }
            if reps_seen.last() != Some(&(found.side, found.rep)) {
                reps_seen.push((found.side, found.rep));
            }
            before = Some(found);
            now = found.ends;
        }
        prop_assert_eq!(now, ends, "to the end of the set, and no further");
        let side = |side| (1..=reps).map(move |rep| (side, rep)).collect::<Vec<_>>();
        let expected = match sides {
            1 => side(None),
            _ => [side(Some(Side::First)), side(Some(Side::Second))].concat(),
        };
        prop_assert_eq!(reps_seen, expected);
        // It is bright once and dark once between two fillings: at most once a second of real time (WCAG 2.2, success
        // criterion 2.3.1, allows three).
        for two in filled.windows(2) {
            prop_assert!(two[1].since(two[0]).0 >= 1_000 * i64::from(rate), "{:?}", two);
        }
        prop_assert_eq!(filled.is_empty(), !both || rep < i64::from(rate));
    }

    #[test]
    fn a_set_whose_end_was_reckoned_otherwise_is_paced_to_the_earlier_of_both(
        words in any::<bool>(),
        secs in 1_i64..200,
    ) {
        // Ten repetitions of 2-0-2-0 are forty seconds.
        let mut turn = bench(under_way(0));
        turn.cues = words.then(|| cues(("a", "a"), ("b", "b")));
        let TurnPhase::UnderWay { ends, .. } = &mut turn.phase else { unreachable!() };
        *ends = at(secs);
        let last = beat(&turn, FloorMs(at(secs.min(40)).0 - 1));
        prop_assert_eq!(last.map(|beat| beat.ends), Some(at(secs.min(40))));
        prop_assert_eq!(beat(&turn, at(secs.min(40))), None);
    }
}

#[test]
fn the_words_of_an_exercise_are_said_as_they_are_written() {
    let phases = PhaseWords {
        eccentric: in_both("sit back", "zurücksetzen"),
        concentric: in_both("stand up", "aufstehen"),
    };
    let part = in_words(press_at("2-0-2-0", 0), Some(even(Some(phases))));
    let words = |secs, language| panel_in(&part, secs, language).pacer.unwrap().word;
    assert_eq!((words(0, Language::En), words(2, Language::En)), ("Sit back".into(), "Stand up".into()));
    assert_eq!((words(0, Language::De), words(2, Language::De)), ("Zurücksetzen".into(), "Aufstehen".into()));
}

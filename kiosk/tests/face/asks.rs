//! What is asked of the round before, and what is said while a rest ends.

use turnabout_kiosk::face::{Panel, PhaseKind, Tap};
use turnabout_protocol::command::{Act, CallKind, Effort};
use turnabout_protocol::ids::ClientId;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{TurnPhase, View};

use crate::scenes::*;
use crate::{button, panel_at, panels};

fn asked_for(panel: &Panel) -> Vec<(&str, usize)> {
    panel.efforts.iter().map(|ask| (ask.title.as_str(), ask.answers.len())).collect()
}

#[test]
fn after_a_pair_both_exercises_are_asked_about_and_each_answer_names_its_set() {
    let part = asked_both(bench_1(coming(rest(64), 64, 64, &[])), 64);
    let panel = panel_at(&part, 0);
    assert_eq!(asked_for(&panel), [("Bench press", 3), ("Cable row", 3)]);
    let ask = &panel.efforts[0];
    assert_eq!(
        (ask.question.as_str(), ask.unanswered.as_str()),
        ("Ayla: How heavy was it?", "No answer: the same load.")
    );
    let effort = |leg, effort| Act::Effort { turn: turn_id(1, 1, leg), effort };
    for (tap, act) in [
        (Tap::DoneLight, effort(0, Effort::Light)),
        (Tap::DoneRight, effort(0, Effort::Right)),
        (Tap::DoneHeavy, effort(0, Effort::Heavy)),
        (Tap::SecondLight, effort(1, Effort::Light)),
        (Tap::SecondRight, effort(1, Effort::Right)),
        (Tap::SecondHeavy, effort(1, Effort::Heavy)),
    ] {
        assert_eq!(button(&panel, tap).map(|b| (b.0, b.1)), Some((&act, true)), "{tap:?}");
    }
    assert!(matches!(button(&panel, Tap::NotYet), Some((Act::NotYet { .. }, true, _))), "and NOT YET stays");
    // One answer on its way does not keep the other.
    let mut sample = Sample::new("", view(vec![part]));
    sample.pending = vec![effort(0, Effort::Heavy)];
    let face = sample.face(Language::En);
    assert!(face.button(Tap::DoneLight, None).is_none());
    assert!(face.button(Tap::SecondLight, None).is_some());
}

#[test]
fn the_question_is_gone_twenty_seconds_before_the_next_set() {
    let part = asked_both(bench_1(coming(rest(64), 64, 64, &[])), 64);
    for (ms, asked) in [(0, 2), (43_999, 2), (44_000, 0), (64_000, 0), (100_000, 0)] {
        assert_eq!(panel_at(&part, ms).efforts.len(), asked, "{ms} ms");
    }
    let mut open = part;
    open.ask_efforts.iter_mut().for_each(|ask| ask.until = None);
    assert_eq!(panel_at(&open, 500_000).efforts.len(), 2, "where nobody knows when the next set is");
}

#[test]
fn the_older_question_waits_while_another_set_is_under_way() {
    let sample = several_stations().into_iter().find(|s| s.name == "two-effort").unwrap();
    let face = sample.face(Language::En);
    let asked = panels(&face).iter().find_map(|p| p.efforts.first()).unwrap();
    let effort = Act::Effort { turn: turn_id(2, 1, 0), effort: Effort::Right };
    assert_eq!((asked.question.as_str(), &asked.answers[1].act), ("Bram: How heavy was it?", &effort));
    let Some(View::Station(mut view)) = sample.view.clone() else { panic!("a station's view") };
    let turn = view.stations[0].turn.as_mut().unwrap();
    assert_eq!(turn.turn.client, ClientId(1));
    turn.phase = under_way(2);
    assert!(matches!(turn.phase, TurnPhase::UnderWay { .. }));
    let face = Sample::new("", View::Station(view)).face(Language::En);
    assert!(panels(&face).iter().all(|p| p.efforts.is_empty()));
}

#[test]
fn a_rest_cues_the_client_thirty_seconds_before_its_end_and_again_ten() {
    // Common practice, no source.
    let part = bench_1(coming(rest(60), 60, 47, &[]));
    for (ms, cue) in [
        (0, ""),
        (29_999, ""),
        (30_000, "get ready"),
        (49_999, "get ready"),
        (50_000, "to your place"),
        (59_999, "to your place"),
        (60_000, ""),
    ] {
        let panel = panel_at(&part, ms);
        assert_eq!(panel.cue, cue, "{ms} ms");
        assert!(button(&panel, Tap::NotYet).is_some_and(|(_, enabled, _)| enabled), "{ms} ms");
    }
    let over = panel_at(&part, 75_000);
    assert_eq!(
        (over.phase, over.word.as_str(), over.count.as_str()),
        (PhaseKind::Ready, "When you are ready", "+0:15")
    );
    assert!(button(&over, Tap::NotYet).is_some_and(|(_, enabled, _)| enabled));
}

#[test]
fn a_call_is_a_state_with_since_when_and_who_comes() {
    // It is 18:50 at the floor, and the call came 125 s before.
    let resting = || bench_1(coming(rest(64), 64, 64, &[]));
    let open = panel_at(&called(resting(), CallKind::CoachPlease, None), 0);
    assert_eq!(open.called, "coach called at 18:47");
    assert_eq!(button(&open, Tap::CoachPlease).map(|b| (b.1, b.2)), Some((false, "called at 18:47")));
    assert!(button(&open, Tap::HelpNow).is_some_and(|b| b.1), "help can still be called");
    let answered = panel_at(&called(resting(), CallKind::CoachPlease, Some("Zeno")), 0);
    assert_eq!(answered.called, "coach called at 18:47; Zeno is on the way");
    assert_eq!(button(&answered, Tap::CoachPlease).map(|b| b.2), Some("Zeno is on the way"));
    let help = panel_at(&called(resting(), CallKind::HelpNow, None), 0);
    assert_eq!(help.called, "help called at 18:47");
    let lines = answered.lines();
    assert!(lines.iter().any(|line| line.texts[0] == answered.called), "{lines:?}");
    assert_eq!(panel_at(&resting(), 0).called, "");
}

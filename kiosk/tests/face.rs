//! What a display shows, by the view and the present alone.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "face/asks.rs"]
mod asks;
#[path = "face/leaving.rs"]
mod leaving;
#[path = "face/lines.rs"]
mod lines;
#[path = "face/needs.rs"]
mod needs;
#[path = "face/offers.rs"]
mod offers;
#[path = "face/pacer.rs"]
mod pacer;
#[path = "face/pads.rs"]
mod pads;
#[path = "face/pins.rs"]
mod pins;
#[path = "face/plates.rs"]
mod plates;
#[path = "face/promises.rs"]
mod promises;
#[path = "face/proposals.rs"]
mod proposals;
#[path = "face/ribbons.rs"]
mod ribbons;
mod scenes;
#[path = "face/sheets.rs"]
mod sheets;
#[path = "face/sleeves.rs"]
mod sleeves;
#[path = "face/stops.rs"]
mod stops;
#[path = "face/vacant.rs"]
mod vacant;
#[path = "face/visits.rs"]
mod visits;
#[path = "face/wall.rs"]
mod wall;

use scenes::*;
use turnabout_kiosk::face::{Body, Face, Panel, PhaseKind, Tap};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, CallKind, Defect, Effort};
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{After, LapsePart, Need, OutPart, StationPart, StationState};

fn panels(face: &Face) -> &[Panel] {
    match &face.body {
        Body::Stations { panels } => panels,
        Body::Blank { .. } | Body::Board { .. } => panic!("not a station's face: {face:?}"),
    }
}

fn panel_at(part: &StationPart, ms: i64) -> Panel {
    let face = Sample::new("", view(vec![part.clone()])).face_at(FloorMs(NOW.0 + ms), Language::En);
    panels(&face)[0].clone()
}

fn check(part: &StationPart, rows: &[(i64, PhaseKind, &str)]) {
    for (ms, phase, count) in rows {
        let panel = panel_at(part, *ms);
        assert_eq!((panel.phase, panel.count.as_str()), (*phase, *count), "{ms} ms from now");
    }
}

#[test]
fn a_set_under_way_goes_through_its_phases_at_their_edges() {
    // GO at 0, the count-in at 8 s, the first repetition at 11 s, the prescribed end at 51 s.
    let part = bench_1(under_way(11));
    check(
        &part,
        &[
            (0, PhaseKind::GetSet, "11"),
            (7_999, PhaseKind::GetSet, "4"),
            (8_000, PhaseKind::CountIn, "3"),
            (9_000, PhaseKind::CountIn, "2"),
            (10_999, PhaseKind::CountIn, "1"),
            (11_000, PhaseKind::Working, "0:40"),
            (50_999, PhaseKind::Working, "0:01"),
            (51_000, PhaseKind::Assumed, "+0:00"),
            (62_000, PhaseKind::Assumed, "+0:11"),
        ],
    );
}

#[test]
fn the_pace_is_counted_from_the_tempo_and_says_that_it_is_the_pace() {
    // 2-0-2-0 is four seconds a repetition: arithmetic of the notation.
    let part = bench_1(under_way(0));
    for (ms, pace) in [
        (-1, ""),
        (0, "pace: 1 of 10"),
        (3_999, "pace: 1 of 10"),
        (4_000, "pace: 2 of 10"),
        (39_999, "pace: 10 of 10"),
        (40_000, ""),
    ] {
        assert_eq!(panel_at(&part, ms).pace, pace, "{ms} ms");
    }
}

#[test]
fn a_rest_ends_without_alarm_and_counts_up() {
    let part = bench_1(coming(rest(30), 30, 30, &[]));
    check(
        &part,
        &[
            (0, PhaseKind::Rest, "0:30"),
            (29_999, PhaseKind::Rest, "0:01"),
            (30_000, PhaseKind::Ready, "+0:00"),
            (150_000, PhaseKind::Ready, "+2:00"),
        ],
    );
}

#[test]
fn a_changeover_counts_to_its_limit_and_a_first_set_counts_nothing_up() {
    let over = coming(After::Changeover { since: at(-10), limit: at(20) }, 5, 5, &[]);
    check(
        &row_1(over),
        &[
            (0, PhaseKind::Changeover, "0:20"),
            (5_000, PhaseKind::Changeover, "0:15"),
            (19_999, PhaseKind::Changeover, "0:01"),
            (20_000, PhaseKind::Ready, "+0:00"),
        ],
    );
    let not_yet = coming(After::Changeover { since: at(-10), limit: at(20) }, 31, 31, &[]);
    check(&row_1(not_yet), &[(20_000, PhaseKind::Changeover, "0:11"), (31_000, PhaseKind::Ready, "+0:00")]);
    let load = coming(After::Changeover { since: at(-10), limit: at(20) }, -10, -10, &[Need::ConfirmLoad]);
    check(&row_1(load), &[(0, PhaseKind::GetReady, "0:20"), (20_000, PhaseKind::GetReady, "+0:00")]);
    check(
        &bench_1(coming(After::Nothing, 10, 10, &[])),
        &[(0, PhaseKind::Coming, "0:10"), (10_000, PhaseKind::Ready, "")],
    );
}

#[test]
fn who_is_still_at_the_exercise_before_is_announced_and_neither_goes_over_nor_rests() {
    let over = coming(After::Changeover { since: at(20), limit: at(40) }, 20, 20, &[]);
    check(
        &row_1(over),
        &[
            (0, PhaseKind::Coming, "0:20"),
            (19_999, PhaseKind::Coming, "0:01"),
            (20_000, PhaseKind::Changeover, "0:20"),
            (40_000, PhaseKind::Ready, "+0:00"),
        ],
    );
    let resting = coming(After::Rest { since: at(10), latest: at(90) }, 70, 70, &[]);
    check(
        &bench_1(resting),
        &[
            (9_999, PhaseKind::Coming, "1:01"),
            (10_000, PhaseKind::Rest, "1:00"),
            (70_000, PhaseKind::Ready, "+0:00"),
        ],
    );
}

#[test]
fn what_else_is_needed_holds_a_set_after_its_rest() {
    let part = bench_1(coming(rest(10), 10, 10, &[Need::ConfirmLoad, Need::Spotter, Need::Racked]));
    check(&part, &[(9_999, PhaseKind::Rest, "0:01"), (10_000, PhaseKind::Held, "+0:00")]);
    assert_eq!(panel_at(&part, 0).needs, "confirm load and collars · spotter at the bar");
    let ready = bench_1(coming(rest(10), 10, 10, &[Need::ConfirmLoad, Need::Spotter]));
    assert_eq!(panel_at(&ready, 10_000).needs, "spotter at the bar", "the button says the other");
}

#[test]
fn go_is_live_on_the_way_to_the_next_exercise() {
    let over = coming(After::Changeover { since: at(-2), limit: at(20) }, -2, -2, &[]);
    let panel = panel_at(&row_1(over), 0);
    assert_eq!((panel.phase, panel.count.as_str()), (PhaseKind::Changeover, "0:20"));
    assert!(panel.buttons.iter().any(|b| b.tap == Tap::Go && b.enabled && b.primary), "{panel:?}");
}

fn button(panel: &Panel, tap: Tap) -> Option<(&Act, bool, &str)> {
    panel.all_buttons().find(|b| b.tap == tap).map(|b| (&b.act, b.enabled, b.note.as_str()))
}

#[test]
fn go_is_live_from_go_from_and_names_its_set() {
    let go = Act::Go { turn: turn_id(1, 2, 0) };
    let part = bench_1(coming(rest(30), 30, 20, &[]));
    assert_eq!(button(&panel_at(&part, 19_999), Tap::Go), Some((&go, false, "in 0:01")));
    assert_eq!(button(&panel_at(&part, 20_000), Tap::Go), Some((&go, true, "")));
    let held = bench_1(coming(rest(30), 30, 20, &[Need::Spotter]));
    assert_eq!(button(&panel_at(&held, 40_000), Tap::Go), Some((&go, false, "spotter at the bar")));
    assert_eq!(button(&panel_at(&bench_1(under_way(5)), 0), Tap::Go), None);
}

#[test]
fn done_is_live_from_the_first_repetition_and_its_answer_is_the_tap() {
    let part = bench_1(under_way(5));
    let done = |effort| Act::Done { turn: turn_id(1, 2, 0), reps: None, effort: Some(effort), ending: None };
    for (tap, effort) in
        [(Tap::DoneLight, Effort::Light), (Tap::DoneRight, Effort::Right), (Tap::DoneHeavy, Effort::Heavy)]
    {
        let act = done(effort);
        assert_eq!(button(&panel_at(&part, 4_999), tap).map(|b| (b.0, b.1)), Some((&act, false)));
        assert_eq!(button(&panel_at(&part, 5_000), tap).map(|b| (b.0, b.1)), Some((&act, true)));
        assert_eq!(button(&panel_at(&part, 500_000), tap).map(|b| (b.0, b.1)), Some((&act, true)));
    }
}

#[test]
fn lighter_not_yet_and_calls_are_always_there_before_a_set() {
    let part = bench_1(coming(rest(30), 30, 30, &[Need::Spotter]));
    let turn = turn_id(1, 2, 0);
    for (tap, act) in [
        (Tap::Lighter, Act::Lighter { turn, revision: 7 }),
        (Tap::NotYet, Act::NotYet { turn }),
        (Tap::CoachPlease, Act::Call { station: StationId(1), call: CallKind::CoachPlease }),
        (Tap::HelpNow, Act::Call { station: StationId(1), call: CallKind::HelpNow }),
    ] {
        for ms in [0, 30_000, 300_000] {
            let panel = panel_at(&part, ms);
            assert_eq!(button(&panel, tap).map(|b| (b.0, b.1)), Some((&act, true)), "{tap:?} at {ms}");
        }
    }
    let plain = StationPart { gear: GearKind::Plain, ..part };
    assert_eq!(button(&panel_at(&plain, 0), Tap::Lighter), None, "there is nothing to lighten");
}

#[test]
fn a_stop_says_rack_or_do_not_start_and_leaves_done_and_calls() {
    for (name, order, taps) in [
        (
            "stopped-rack",
            "RACK THE BAR",
            vec![Tap::CoachPlease, Tap::HelpNow, Tap::DoneLight, Tap::DoneRight, Tap::DoneHeavy],
        ),
        ("stopped-wait", "DO NOT START", vec![Tap::CoachPlease, Tap::HelpNow]),
    ] {
        let sample = one_station().into_iter().find(|s| s.name == name).unwrap();
        let face = sample.face(Language::En);
        let panel = &panels(&face)[0];
        assert_eq!((panel.phase, panel.order.as_str()), (PhaseKind::Stopped, order));
        assert_eq!(panel.all_buttons().filter(|b| b.enabled).map(|b| b.tap).collect::<Vec<_>>(), taps);
    }
    let sample = one_station().into_iter().find(|s| s.name == "stopped-rack").unwrap();
    assert_eq!(panels(&sample.face(Language::En))[0].spotter, "Edda spots", "the spotter stays named");
}

#[test]
fn the_station_where_something_happens_next_is_large() {
    let first =
        |parts: Vec<StationPart>| panels(&Sample::new("", view(parts)).face(Language::En))[0].key.clone();
    for (case, bench, row, large) in [
        ("the set ends before the rest does", under_way(-30), coming(rest(15), 15, 15, &[]), "bench-1"),
        ("the rest ends before the set does", under_way(-13), coming(rest(15), 15, 15, &[]), "row-1"),
        ("a count-in is never pushed aside", under_way(2), coming(rest(-9), -9, -9, &[]), "bench-1"),
        (
            "what waits for a coach does not count",
            coming(rest(-9), -9, -9, &[Need::Spotter]),
            under_way(-3),
            "row-1",
        ),
    ] {
        assert_eq!(first(vec![bench_1(bench), row_1(row)]), large, "{case}");
    }
    let free = station(1, "Bench 1", GearKind::Bar, None);
    assert_eq!(first(vec![free, row_1(coming(rest(90), 90, 90, &[]))]), "row-1");
}

#[test]
fn a_tap_under_way_is_not_taken_twice() {
    let mut sample = Sample::new("", view(vec![bench_1(coming(rest(-1), -1, -1, &[]))]));
    assert!(sample.face(Language::En).button(Tap::Go, None).is_some());
    sample.pending = vec![Act::Go { turn: turn_id(1, 2, 0) }];
    assert!(sample.face(Language::En).button(Tap::Go, None).is_none());
    assert!(sample.face(Language::En).button(Tap::NotYet, None).is_some(), "another one is");
    sample.view = Some(view(vec![bench_1(under_way(-30))]));
    sample.pending =
        vec![Act::Done { turn: turn_id(1, 2, 0), reps: None, effort: Some(Effort::Light), ending: None }];
    assert!(sample.face(Language::En).button(Tap::DoneHeavy, None).is_none(), "one answer is enough");
}

#[test]
fn the_load_says_what_is_on_now_until_it_is_confirmed() {
    // Of gear whose plates nobody has counted the load alone is known.
    let mut part = bench_1(coming(After::Nothing, -5, -5, &[Need::ConfirmLoad]));
    part.turn.as_mut().unwrap().load = Some(card("82.5 kg", Some("40 kg"), false));
    let face = Sample::new("", view(vec![part])).face(Language::De);
    let load = &panels(&face)[0].load;
    assert_eq!(
        (load.number.as_str(), load.unit.as_str(), load.on_now.as_str()),
        ("82,5", "kg", "jetzt drauf 40 kg")
    );
    let panel = panel_at(&bench_1(under_way(-3)), 0);
    assert_eq!((panel.load.number.as_str(), panel.load.on_now.as_str()), ("42.5", ""));
}

#[test]
fn refusals_are_said_with_what_this_display_knows() {
    let sample = troubles().into_iter().find(|s| s.name == "refused").unwrap();
    assert_eq!(sample.face(Language::En).notice, "Somebody is still on Bench 1.");
}

#[test]
fn every_scene_has_words_in_every_language() {
    for sample in all() {
        for language in Language::ALL {
            let text = serde_json::to_string(&sample.face(language)).unwrap();
            // A missing message shows its id, an open place its braces.
            for gap in ["label.", "phase.", "need.", "act.", "refusal.", "fault.", "{at}", "{n}", "{load}"] {
                assert!(!text.contains(gap), "{} {}: {gap} in {text}", sample.name, language.tag());
            }
        }
    }
}

#[test]
fn a_face_survives_the_way_through_json() {
    for sample in all() {
        let face = sample.face(Language::De);
        let text = serde_json::to_string(&face).unwrap();
        assert_eq!(serde_json::from_str::<Face>(&text).unwrap(), face, "{}", sample.name);
    }
}

#[test]
fn a_station_that_cannot_be_used_says_why_and_who_goes_on_there() {
    let panel = |name: &str| {
        let sample = eventful_stations().into_iter().find(|sample| sample.name == name).unwrap();
        panels(&sample.face(Language::En))[0].clone()
    };
    let out = panel("out-of-service");
    assert_eq!((out.phase, out.order.as_str()), (PhaseKind::OutOfService, "Do not use: cable"));
    assert_eq!((out.who.as_str(), out.next.as_str(), out.since.as_str()), ("", "Bram next", "since 18:49"));
    assert!(out.buttons.iter().all(|button| matches!(button.tap, Tap::CoachPlease | Tap::HelpNow)));
    let other = panel("other-use");
    // It is 18:50 at the floor, and 700 s later is nearest to 19:02.
    assert_eq!(other.order, "until about 19:02");
    assert_eq!(button(&other, Tap::EndOtherUse).unwrap().0, &Act::EndOtherUse { station: StationId(1) });
    // In one tap a free station is in other use.
    let free = panel_at(&station(1, "Bench 1", GearKind::Bar, None), 0);
    let act = Act::OtherUse { station: StationId(1), minutes: 15 };
    assert_eq!(button(&free, Tap::OtherUse).unwrap(), (&act, true, "15 min"));
    // What is under way is racked before anything else is said.
    let out = Some(OutPart { defect: Defect::Cable, since: at(-1) });
    let racked = StationPart { state: StationState::OutOfService, out, ..row_1(under_way(-13)) };
    assert_eq!(panel_at(&racked, 0).who, "Bram");
}

#[test]
fn a_silent_group_is_asked_and_can_answer() {
    let part = StationPart {
        lapses: Some(LapsePart { group: GroupId(1), at: at(250) }),
        ..bench_1(coming(rest(-400), -400, -400, &[]))
    };
    let panel = panel_at(&part, 0);
    assert_eq!(panel.needs, "Still there? Free for others in 4:10.");
    assert_eq!(button(&panel, Tap::StillHere).unwrap().0, &Act::StillHere { group: GroupId(1) });
}

#[test]
fn a_set_says_how_much_of_what_and_who_stands_by() {
    let panel = |name: &str| {
        let sample = eventful_stations().into_iter().find(|sample| sample.name == name).unwrap();
        panels(&sample.face(Language::En))[0].clone()
    };
    let range = panel("range-per-side");
    assert_eq!((range.reps.as_str(), range.tempo.as_str()), ("8 to 10 reps", "each side  ·  tempo 2-0-2-0"));
    let hold = panel("hold");
    assert_eq!((hold.reps.as_str(), hold.tempo.as_str(), hold.pace.as_str()), ("hold 40 s", "", ""));
    assert_eq!(panel("settings").settings, "change hooks 7  ·  bench flat");
    assert_eq!(panel("arms").spotter, "safety arms set");
    assert_eq!(panel("lift-off").spotter, "Edda helps with the lift-off only");
    let arms = panel("arms-wanted");
    assert!(matches!(button(&arms, Tap::UseArms), Some((Act::UseArms { .. }, true, _))));
}

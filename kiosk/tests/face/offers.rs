//! What is offered beside the next step: taking back the last tap, a partner at the bar.

use turnabout_kiosk::face::{Button, LinkState, Notice, Tap};
use turnabout_protocol::command::{Act, CallKind, Effort};
use turnabout_protocol::ids::{ClientId, CommandId, StationId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::Need;
use uuid::Uuid;

use super::{button, panel_at, panels};
use crate::scenes::*;

fn tap_of(act: Act) -> Sample {
    Sample { last: tapped(act), ..Sample::new("", view(vec![bench_1(coming(rest(57), 57, 57, &[]))])) }
}

fn undo_at(sample: &Sample, ms: i64, language: Language) -> Option<Button> {
    sample.face_at(FloorMs(NOW.0 + ms), language).undo
}

#[test]
fn taking_back_is_offered_for_ten_seconds_of_floor_time_and_says_what() {
    // Taken down three seconds ago: the window of the protocol is ten.
    let sample = tap_of(done_right());
    let act = Act::Undo { command: CommandId(Uuid::from_u128(9)) };
    for (ms, label) in [
        // A clock that is behind offers no more than there is.
        (-4_000, Some("Undo: Done, right (10)")),
        (0, Some("Undo: Done, right (7)")),
        (1, Some("Undo: Done, right (7)")),
        (6_999, Some("Undo: Done, right (1)")),
        (7_000, None),
        (60_000, None),
    ] {
        let undo = undo_at(&sample, ms, Language::En);
        assert_eq!(undo.as_ref().map(|undo| undo.label.as_str()), label, "{ms} ms from now");
        assert!(undo.is_none_or(|undo| undo.enabled && undo.act == act && undo.note.is_empty()));
    }
    assert_eq!(Sample { last: None, ..sample }.face(Language::En).undo, None);
}

#[test]
fn what_is_taken_back_is_named_as_it_was_on_its_button() {
    let (turn, station) = (turn_id(1, 2, 0), StationId(1));
    for (act, en, de) in [
        (done_right(), "Done, right", "Fertig, richtig"),
        (Act::Done { turn, reps: None, effort: None, ending: None }, "Done", "Fertig"),
        (
            Act::Effort { turn, effort: Effort::Heavy },
            "How heavy it felt, heavy",
            "Wie schwer es war, schwer",
        ),
        (Act::Go { turn }, "Go", "Los"),
        (Act::ConfirmLoad { turn }, "Load and collars are right", "Last und Verschlüsse stimmen"),
        (Act::Call { station, call: CallKind::HelpNow }, "Help now", "Hilfe jetzt"),
        // By then the station shows who spots.
        (Act::SpotBy { turn, client: ClientId(5) }, "Edda spots", "Edda sichert"),
        (Act::SpotBy { turn: turn_id(2, 2, 0), client: ClientId(5) }, "A client spots", "Partner sichert"),
    ] {
        let label = |language| undo_at(&tap_of(act.clone()), 0, language).unwrap().label;
        assert_eq!(label(Language::En), format!("Undo: {en} (7)"));
        assert_eq!(label(Language::De), format!("Zurücknehmen: {de} (7)"));
    }
}

#[test]
fn without_a_link_taking_back_waits_for_one_as_long_as_there_is_time() {
    let mut sample = tap_of(done_right());
    sample.link = LinkState::Lost { since: at(-2) };
    let undo = undo_at(&sample, 0, Language::En).unwrap();
    assert_eq!((undo.label.as_str(), undo.enabled), ("Undo: Done, right (no link)", false));
    assert_eq!(sample.face(Language::En).button(Tap::Undo, None), None);
    assert_eq!(undo_at(&sample, 7_000, Language::En), None);
}

#[test]
fn taking_back_is_pressed_once_whatever_station_is_named() {
    let mut sample = tap_of(done_right());
    for station in [None, Some("bench-1"), Some("row-1")] {
        let face = sample.face(Language::En);
        assert_eq!(face.button(Tap::Undo, station), face.undo.as_ref());
    }
    sample.pending = vec![Act::Undo { command: CommandId(Uuid::from_u128(9)) }];
    let face = sample.face(Language::En);
    assert_eq!(face.undo.as_ref().unwrap().label, "Undo: Done, right (saving)");
    assert_eq!(face.button(Tap::Undo, None), None);
}

#[test]
fn that_something_rests_on_it_is_said_like_every_refusal() {
    let act = Act::Undo { command: CommandId(Uuid::from_u128(9)) };
    let outcome = Outcome::Refused { refusal: Refusal::LaterRestsOnIt };
    let sample = Sample { notice: Some(Notice::Answered { act, outcome }), ..tap_of(done_right()) };
    assert_eq!(sample.face(Language::En).notice, "Something later rests on that. Correct it instead.");
}

#[test]
fn each_partner_who_may_spot_has_a_button_while_a_spotter_is_missing() {
    let part = with_partners(&["Bram", "Chidi", "Wanja"], &[Need::ConfirmLoad, Need::Spotter]);
    let panel = panel_at(&part, 0);
    let turn = turn_id(1, 2, 0);
    for (tap, client, label) in [
        (Tap::SpotBy, 2, "Bram spots"),
        (Tap::SpotBySecond, 3, "Chidi spots"),
        (Tap::SpotByThird, 4, "Wanja spots"),
    ] {
        let act = Act::SpotBy { turn, client: ClientId(client) };
        assert_eq!(button(&panel, tap), Some((&act, true, "")));
        assert_eq!(panel.all_buttons().find(|b| b.tap == tap).unwrap().label, label);
    }
    let named = panel_at(&with_partners(&["Bram"], &[Need::ConfirmLoad]), 0);
    assert_eq!(button(&named, Tap::SpotBy), None, "nobody is missing");
    let mut lost = Sample::new("", view(vec![with_partners(&["Bram"], &[Need::Spotter])]));
    assert_eq!(panels(&lost.face(Language::De))[0].buttons[1].label, "Bram sichert");
    lost.link = LinkState::Lost { since: at(-2) };
    assert_eq!(lost.face(Language::En).button(Tap::SpotBy, None), None, "a floor that has moved on");
}

#[test]
fn a_partner_who_cannot_spot_after_all_is_named_in_the_refusal() {
    let part = with_partners(&["Bram"], &[Need::Spotter]);
    let act = Act::SpotBy { turn: turn_id(1, 2, 0), client: ClientId(2) };
    let outcome = Outcome::Refused { refusal: Refusal::SpotterLifts { client: ClientId(2) } };
    let notice = Some(Notice::Answered { act, outcome });
    let sample = Sample { notice, ..Sample::new("", view(vec![part])) };
    assert_eq!(sample.face(Language::En).notice, "Bram lifts and cannot spot.");
}

//! Who is needed next on the whole floor.

use turnabout_kiosk::face::{Body, NextNeed};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{
    After, Attendance, BoardView, HaltKind, HaltPart, Need, PromisePart, Stage, TurnPhase, View,
};

use crate::scenes::*;

fn need(language: Language, view: &BoardView) -> Option<NextNeed> {
    match Sample::new("", View::Board(view.clone())).face(language).body {
        Body::Board { board } => board.need,
        Body::Blank { .. } | Body::Stations { .. } => panic!("not a board"),
    }
}

/// Ayla at the bench and Bram at the row, one group alone.
fn pair_of(first: TurnPhase, second: TurnPhase) -> BoardView {
    let mut view = board(1);
    for (client, phase) in view.groups[0].clients.iter_mut().zip([first, second]) {
        client.turn.as_mut().unwrap().phase = phase;
    }
    view
}

/// Who, where, what for and in how long.
fn said(view: &BoardView) -> Option<[String; 4]> {
    need(Language::En, view).map(|need| [need.who, need.place, need.what, need.count])
}

fn is(said: [&str; 4]) -> Option<[String; 4]> {
    Some(said.map(str::to_owned))
}

#[test]
fn the_next_need_is_the_start_that_comes_next_and_what_it_still_wants() {
    let resting = |secs: i64, needs: &[Need]| coming(rest(secs), secs, secs, needs);
    for (needs, what) in [
        (vec![], "Start"),
        (vec![Need::ConfirmLoad], "Load"),
        // One thing at a time, and first what somebody has to come for.
        (vec![Need::ConfirmLoad, Need::Spotter], "Spot"),
        (vec![Need::TechniquePass, Need::ConfirmLoad], "Watch"),
        // That passes by itself until then.
        (vec![Need::StationFree, Need::Racked], "Start"),
    ] {
        let view = pair_of(resting(23, &needs), resting(58, &[]));
        assert_eq!(said(&view), is(["Ayla", "Bench 1", what, "0:23"]), "{needs:?}");
    }
    let view = pair_of(resting(70, &[Need::Spotter]), resting(58, &[]));
    assert_eq!(said(&view), is(["Bram", "Row 1", "Start", "0:58"]));
}

#[test]
fn whoever_is_told_to_spot_is_named() {
    let said = |language| need(language, &spot_board()).map(|need| (need.who, need.what)).unwrap();
    assert_eq!(said(Language::En), ("Ayla".into(), "Edda spots".into()));
    assert_eq!(said(Language::De), ("Ayla".into(), "Edda sichert".into()));
}

#[test]
fn a_start_that_was_told_holds_over_the_rest() {
    let mut view = pair_of(coming(rest(23), 23, 12, &[]), coming(rest(58), 58, 47, &[]));
    let told = |start, about| {
        Some(PromisePart { start: at(start), about, spotter: None, reason: StartReason::SpotterBusy })
    };
    view.groups[0].clients[0].turn.as_mut().unwrap().promise = told(90, true);
    assert_eq!(said(&view), is(["Bram", "Row 1", "Start", "0:58"]));
    view.groups[0].clients[1].turn.as_mut().unwrap().promise = told(93, false);
    assert_eq!(said(&view), is(["Ayla", "Bench 1", "Start", "~1:30"]));
}

#[test]
fn whoever_could_have_gone_long_ago_does_not_stand_before_all_others() {
    let since = |secs: i64| pair_of(coming(rest(-secs), -secs, -secs, &[]), coming(rest(30), 30, 30, &[]));
    assert_eq!(said(&since(60)), is(["Ayla", "Bench 1", "Start", "+1:00"]));
    assert_eq!(said(&since(61)), is(["Bram", "Row 1", "Start", "0:30"]));
    // Unless there is nobody else.
    let alone = pair_of(coming(rest(-90), -90, -90, &[]), under_way(-5));
    assert_eq!(said(&alone), is(["Ayla", "Bench 1", "Start", "+1:30"]));
    // Before a first set there is nothing to count.
    let first = pair_of(coming(After::Nothing, -5, -5, &[]), under_way(-5));
    assert_eq!(said(&first), is(["Ayla", "Bench 1", "Start", "now"]));
}

#[test]
fn nobody_is_needed_where_others_must_act_first() {
    let far = || coming(rest(200), 200, 200, &[]);
    let other = is(["Bram", "Row 1", "Start", "3:20"]);
    for need in [
        Need::Stations,
        Need::Resume,
        Need::Arrival,
        Need::Briefing,
        Need::Coach,
        Need::OtherUse,
        Need::Service,
        Need::Help,
    ] {
        assert_eq!(said(&pair_of(coming(rest(9), 9, 9, &[need]), far())), other, "{need:?}");
    }
    for need in [Need::StationFree, Need::Racked, Need::Pair] {
        assert_eq!(said(&pair_of(coming(rest(-9), -9, -9, &[need]), far())), other, "{need:?}");
    }
    let view = || pair_of(coming(rest(9), 9, 9, &[]), far());
    let stopped = Some(HaltPart { halt: HaltKind::Stop, since: at(-3) });
    let mut alone = view();
    alone.groups[0].clients[0].halt = stopped;
    assert_eq!(said(&alone), other);
    let mut gone = view();
    gone.groups[0].clients[0].attendance = Attendance::Left;
    assert_eq!(said(&gone), other);
    let mut all = view();
    all.groups[0].halt = stopped;
    assert_eq!(said(&all), None);
    let mut waits = view();
    waits.groups[0].stage = Stage::Waiting;
    assert_eq!(said(&waits), None);
    assert_eq!(said(&pair_of(under_way(-5), under_way(3))), None, "who is at it is not needed");
}

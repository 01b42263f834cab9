//! A stop is heard once, in whatever phase and however late it is learned of.

use turnabout_protocol::view::{After, HaltKind, Need, StationPart, StationState};

use crate::scenes::*;
use crate::*;

/// A station in each phase 5 s from now, as it is without a stop.
fn each_phase() -> Vec<(&'static str, StationPart)> {
    let way = After::Changeover { since: at(-5), limit: at(20) };
    vec![
        ("coming", bench_1(coming(After::Nothing, 95, 95, &[]))),
        ("rest", bench_1(coming(rest(60), 60, 60, &[]))),
        ("the last seconds of a rest", bench_1(coming(rest(7), 7, 7, &[]))),
        ("changeover", row_1(coming(way, 3, 3, &[Need::ConfirmLoad]))),
        ("ready", bench_1(coming(rest(-17), -17, -17, &[]))),
        ("held", bench_1(coming(rest(-17), -17, -17, &[Need::Racked]))),
        ("get set", bench_1(under_way(15))),
        ("count-in", bench_1(under_way(7))),
        ("go", bench_1(under_way(5))),
        ("work", bench_1(under_way(-13))),
        ("assumed", bench_1(under_way(-52))),
        ("reserved", StationPart { turn: None, ..bench_1(coming(rest(60), 60, 60, &[])) }),
    ]
}

#[test]
fn a_stop_is_heard_once_in_every_phase_and_nothing_after_it() {
    for (phase, part) in each_phase() {
        let mut listener = Listener::at(vec![part.clone()]);
        listener.listen(0..5_000, 100).told(vec![stopped(part, 5_000)]);
        listener.listen(5_000..60_000, 100);
        let stops: Vec<_> = listener.heard.iter().filter(|(_, cue)| *cue == Cue::Stop).collect();
        assert_eq!(stops, [&(5_000, Cue::Stop)], "{phase}");
        assert_eq!(listener.heard.last(), Some(&(5_000, Cue::Stop)), "{phase}");
    }
}

#[test]
fn a_stop_is_heard_however_late_it_is_learned_of() {
    let mut listener = Listener::at(vec![bench_1(under_way(-1))]);
    listener.listen(0..20_000, 100).told(vec![stopped(bench_1(under_way(-1)), 1_000)]);
    listener.listen(20_000..30_000, 100);
    assert_eq!(listener.heard, [(20_000, Cue::Stop)]);
}

#[test]
fn a_display_that_begins_in_the_middle_of_a_stop_does_not_sound_for_it_and_does_for_the_next() {
    let mut listener = Listener::at(vec![stopped(bench_1(under_way(-13)), -20_000)]);
    listener.listen(0..5_000, 100).told(vec![bench_1(coming(rest(-17), -17, -17, &[]))]);
    listener.listen(5_000..9_000, 100).told(vec![stopped(bench_1(coming(rest(-17), -17, -17, &[])), 9_000)]);
    listener.listen(9_000..20_000, 100);
    assert_eq!(listener.heard, [(9_000, Cue::Stop)]);
}

#[test]
fn a_pause_is_silent_and_the_stop_after_it_is_not() {
    let part = || bench_1(under_way(-13));
    let mut listener = Listener::at(vec![part()]);
    listener.listen(0..1_000, 100).told(vec![halted(part(), HaltKind::Pause)]);
    listener.listen(1_000..2_000, 100).told(vec![stopped(part(), 2_000)]);
    listener.listen(2_000..9_000, 100);
    assert_eq!(listener.heard, [(2_000, Cue::Stop)]);
}

#[test]
fn a_stop_of_the_floor_is_one_stop_and_that_of_another_group_another() {
    let bench = || bench_1(under_way(-13));
    let row = || row_1(coming(rest(60), 60, 60, &[]));
    let mut listener = Listener::at(vec![bench(), row()]);
    listener.listen(0..1_000, 100).told(vec![stopped(bench(), 1_000), row()]);
    // Told of the one first, of the other 0.1 s later, both of the same instant.
    listener.listen(1_000..1_100, 100).told(vec![stopped(bench(), 1_000), stopped(row(), 1_000)]);
    listener.listen(1_100..9_000, 100);
    assert_eq!(listener.heard, [(1_000, Cue::Stop)]);
    let mut listener = Listener::at(vec![bench(), row()]);
    listener.listen(0..1_000, 100).told(vec![stopped(bench(), 1_000), row()]);
    listener.listen(1_000..5_000, 100).told(vec![stopped(bench(), 1_000), stopped(row(), 5_000)]);
    listener.listen(5_000..9_000, 100);
    assert_eq!(listener.heard, [(1_000, Cue::Stop), (5_000, Cue::Stop)]);
}

#[test]
fn a_stop_comes_before_everything_else_of_its_instant() {
    let go = || bench_1(under_way(5));
    let row = || row_1(coming(rest(8), 8, 8, &[]));
    let mut listener = Listener::at(vec![go(), row()]);
    // In the same instant the bench says GO and the row 3, and 1 s later the row says 2.
    listener.listen(0..5_000, 100).told(vec![go(), stopped(row(), 5_000)]);
    listener.listen(5_000..9_000, 100);
    assert_eq!(listener.heard, [(2_000, THREE), (3_000, TWO), (4_000, ONE), (5_000, Cue::Stop)]);
}

#[test]
fn a_station_that_nobody_of_a_stopped_group_is_at_says_nothing() {
    let out = StationPart { state: StationState::OutOfService, ..row_1(coming(rest(20), 20, 20, &[])) };
    let mut listener = Listener::at(vec![out.clone()]);
    listener.listen(0..1_000, 100).told(vec![stopped(out, 1_000)]);
    assert_eq!(listener.listen(1_000..9_000, 100).heard, []);
}

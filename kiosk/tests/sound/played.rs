//! One station: what is heard of a set and of a rest, at which instants, and what is not.

use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{After, HaltKind, Need, StationPart, StationState, TurnPhase};
use turnabout_protocol::work::Work;

use crate::scenes::*;
use crate::*;

#[test]
fn a_count_in_is_three_two_one_go_and_the_set_is_silent() {
    // GO at 0, the count-in at 8 s, the first repetition at 11 s, the prescribed end at 51 s.
    let wanted = [(8_000, THREE), (9_000, TWO), (10_000, ONE), (11_000, Cue::Go)];
    assert_eq!(heard(vec![bench_1(under_way(11))], 60), wanted);
    let mut hold = bench_1(under_way(11));
    hold.turn.as_mut().unwrap().work = Work::Hold { secs: Secs(40) };
    assert_eq!(heard(vec![hold], 60), wanted);
}

#[test]
fn the_last_three_seconds_of_a_rest_are_heard_and_its_end_is_not() {
    let wanted = [(27_000, REST_THREE), (28_000, REST_TWO), (29_000, REST_ONE)];
    assert_eq!(heard(vec![bench_1(coming(rest(30), 30, 30, &[]))], 60), wanted);
    // Whatever is still needed then: the figure counts all the same.
    assert_eq!(heard(vec![bench_1(coming(rest(30), 30, 30, &[Need::ConfirmLoad]))], 60), wanted);
    // A start that was told is GO as well.
    let told = told(bench_1(coming(rest(10), 10, 10, &[])), 30, StartReason::StationInUse);
    assert_eq!(heard(vec![told], 60), wanted);
}

#[test]
fn nothing_is_heard_of_what_counts_to_nothing_in_particular() {
    let quiet = |part: StationPart| assert_eq!(heard(vec![part], 60), []);
    // About then only: the figure goes in steps of five seconds.
    quiet(about(told(bench_1(coming(rest(10), 10, 10, &[])), 30, StartReason::StationInUse)));
    // The way over has a limit, not a start.
    let way = After::Changeover { since: at(-5), limit: at(20) };
    quiet(row_1(coming(way, 20, 20, &[])));
    quiet(bench_1(coming(After::Nothing, 20, 20, &[])));
    quiet(halted(bench_1(coming(rest(20), 20, 20, &[Need::Resume])), HaltKind::Pause));
    quiet(StationPart { turn: None, state: StationState::Free, ..bench_1(under_way(0)) });
    quiet(left(bench_1(coming(rest(90), 90, 90, &[])), 20, None));
}

#[test]
fn it_is_said_ahead_that_something_comes_and_not_for_long() {
    // A device is to be opened before the first tone, and to be left alone else.
    let mut resting = Listener::at(vec![bench_1(coming(rest(30), 30, 30, &[]))]);
    let soon: Vec<i64> = (0..60).filter(|secs| resting.look(secs * 1_000).soon).collect();
    assert_eq!(soon, (22..30).collect::<Vec<_>>());
    let mut set = Listener::at(vec![bench_1(under_way(11))]);
    let soon: Vec<i64> = (0..60).filter(|secs| set.look(secs * 1_000).soon).collect();
    assert_eq!(soon, (3..11).collect::<Vec<_>>());
}

#[test]
fn whoever_begins_to_look_in_the_middle_hears_what_is_to_come_alone() {
    let part = || vec![bench_1(under_way(11))];
    for (from, wanted) in [
        (8_000, vec![(9_000, TWO), (10_000, ONE), (11_000, Cue::Go)]),
        (9_020, vec![(10_000, ONE), (11_000, Cue::Go)]),
        (11_000, vec![]),
        (11_020, vec![]),
    ] {
        assert_eq!(Listener::at(part()).listen(from..60_000, 20).heard, wanted, "from {from}");
    }
}

#[test]
fn what_is_late_is_left_out() {
    for (late, wanted) in [(0, true), (150, true), (151, false), (999, false)] {
        let mut listener = Listener::at(vec![bench_1(under_way(11))]);
        listener.look(7_999);
        let cue = listener.look(8_000 + late).cue;
        assert_eq!(cue, wanted.then_some(THREE), "{late} ms late");
        // What was left out is not made up for, and the next one is as ever.
        assert_eq!(listener.look(8_999).cue, None);
        assert_eq!(listener.look(9_000).cue, Some(TWO));
    }
}

#[test]
fn the_same_again_is_not_heard_again() {
    let mut listener = Listener::at(vec![bench_1(under_way(11))]);
    for ms in (0..20_000).step_by(20) {
        listener.look(ms);
        // Drawn again, told again by a server that was reached again, with another plan behind it.
        listener.epoch = Uuid::from_u128(u128::from(ms.unsigned_abs()));
        listener.told(vec![bench_1(under_way(11))]);
        listener.look(ms);
    }
    let wanted = [(8_000, THREE), (9_000, TWO), (10_000, ONE), (11_000, Cue::Go)];
    assert_eq!(listener.heard, wanted);
}

#[test]
fn a_rest_that_is_moved_in_its_last_seconds_does_not_stutter() {
    let mut listener = Listener::at(vec![bench_1(coming(rest(30), 30, 30, &[]))]);
    listener.listen(0..28_100, 20);
    // 0.4 s more: the figure says 3 again, and then 2.
    let mut part = bench_1(coming(rest(30), 30, 30, &[]));
    let later = FloorMs(NOW.0 + 30_400);
    part.turn.as_mut().unwrap().phase =
        TurnPhase::Coming { after: rest(30), ready: later, go_from: later, needs: Vec::new() };
    listener.told(vec![part]);
    listener.listen(28_100..60_000, 20);
    assert_eq!(listener.heard, [(27_000, REST_THREE), (28_000, REST_TWO), (29_400, REST_ONE)]);
    // By a NOT YET it is another end, which is heard like any other.
    let mut listener = Listener::at(vec![bench_1(coming(rest(30), 30, 30, &[]))]);
    listener.listen(0..28_100, 20).told(vec![bench_1(coming(rest(58), 58, 58, &[]))]);
    listener.listen(28_100..90_000, 20);
    let wanted = [
        (27_000, REST_THREE),
        (28_000, REST_TWO),
        (55_000, REST_THREE),
        (56_000, REST_TWO),
        (57_000, REST_ONE),
    ];
    assert_eq!(listener.heard, wanted);
}

#[test]
fn a_floor_time_that_jumps_repeats_nothing() {
    let mut listener = Listener::at(vec![bench_1(under_way(11))]);
    listener.listen(0..9_500, 20).listen(6_000..20_000, 20);
    assert_eq!(listener.heard, [(8_000, THREE), (9_000, TWO), (10_000, ONE), (11_000, Cue::Go)]);
    let mut listener = Listener::at(vec![bench_1(under_way(11))]);
    listener.listen(0..8_500, 20).listen(10_500..20_000, 20);
    assert_eq!(listener.heard, [(8_000, THREE), (11_000, Cue::Go)], "nor is anything made up for");
}

#[test]
fn another_evening_is_heard_from_its_beginning() {
    let mut listener = Listener::at(vec![bench_1(under_way(11))]);
    listener.listen(600_000..601_000, 20);
    // A server with an empty journal: its floor time is far behind.
    listener.epoch = Uuid::from_u128(2);
    listener.listen(0..20_000, 20);
    assert_eq!(listener.heard, [(8_000, THREE), (9_000, TWO), (10_000, ONE), (11_000, Cue::Go)]);
}

#[test]
fn whatever_language_the_face_is_in_is_the_same_to_the_ear() {
    let mut listener = Listener::at(vec![bench_1(under_way(11))]);
    for ms in (0..20_000).step_by(20) {
        let language = if ms % 40 == 0 { Language::De } else { Language::En };
        let face = listener.sample.face_at(FloorMs(NOW.0 + ms), language);
        let known = Known { view: listener.sample.view.clone().unwrap(), as_of: at(-3) };
        let going = Going { now: FloorMs(NOW.0 + ms), rate: 1 };
        let seen = Seen { known: &known, epoch: listener.epoch, face: &face, going };
        let cue = listener.ear.hear(&seen).cue;
        listener.heard.extend(cue.map(|cue| (ms, cue)));
    }
    assert_eq!(listener.heard, [(8_000, THREE), (9_000, TWO), (10_000, ONE), (11_000, Cue::Go)]);
}

#[test]
fn on_a_floor_that_runs_faster_only_a_stop_is_heard() {
    let mut fast = Listener::at(vec![bench_1(under_way(11))]);
    fast.rate = 10;
    fast.listen(0..11_500, 20).told(vec![stopped(bench_1(under_way(11)), 11_500)]);
    fast.listen(11_500..20_000, 20);
    assert_eq!(fast.heard, [(11_500, Cue::Stop)]);
}

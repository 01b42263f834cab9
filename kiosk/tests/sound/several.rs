//! Several stations at one display: what matters is heard, never two at once, and nothing that is covered.

use turnabout_protocol::text::Language;
use turnabout_protocol::view::{StationPart, StationView, TurnPhase, View};

use crate::scenes::*;
use crate::*;

/// A set under way at another station, the first repetition so many milliseconds from now.
fn row_in(ms: i64) -> StationPart {
    let starts = FloorMs(NOW.0 + ms);
    let before = |secs: i64| FloorMs(starts.0 - secs * 1_000);
    let phase = TurnPhase::UnderWay {
        went: before(11),
        count_in: before(3),
        starts,
        ends: FloorMs(starts.0 + 40_000),
    };
    row_1(phase)
}

#[test]
fn a_count_in_is_heard_over_a_rest_that_ends_meanwhile() {
    let wanted = [(8_000, THREE), (9_000, TWO), (10_000, ONE), (11_000, Cue::Go)];
    // The rest counts its last seconds at 8, 9 and 10 s as well.
    assert_eq!(heard(vec![bench_1(under_way(11)), row_1(coming(rest(11), 11, 11, &[]))], 60), wanted);
    // It began to count first, and what comes after the count-in is too near.
    let counted = heard(vec![bench_1(coming(rest(9), 9, 9, &[])), row_in(10_400)], 60);
    let wanted = [
        (6_000, REST_THREE),
        (7_000, REST_TWO),
        (7_400, THREE),
        (8_400, TWO),
        (9_400, ONE),
        (10_400, Cue::Go),
    ];
    assert_eq!(counted, wanted);
}

#[test]
fn of_two_count_ins_that_run_into_each_other_the_first_is_heard_to_its_end() {
    let wanted = [(8_000, THREE), (9_000, TWO), (10_000, ONE), (11_000, Cue::Go)];
    for (second, more) in [
        // At the same instants one sound is for both.
        (11_000, vec![]),
        (11_400, vec![]),
        // The last that is still to come has room again.
        (12_400, vec![(12_400, Cue::Go)]),
        (14_000, vec![(12_000, TWO), (13_000, ONE), (14_000, Cue::Go)]),
    ] {
        let counted = heard(vec![row_in(second), bench_1(under_way(11))], 60);
        let all: Vec<_> = wanted.into_iter().chain(more).collect();
        assert_eq!(counted, all, "the other begins at {second}");
    }
}

#[test]
fn nothing_is_heard_that_is_covered() {
    let parts = || vec![bench_1(under_way(11)), row_1(coming(rest(33), 33, 33, &[]))];
    // A call for help has the screen.
    let called = |stations| {
        View::Station(StationView { zone_offset: 0, clock: clock(), stations, help: Some(help()) })
    };
    let mut listener = Listener::of(Sample::new("", called(parts())));
    assert_eq!(listener.listen(0..60_000, 100).heard, []);
    // Once it is attended to, what is to come is heard.
    let mut listener = Listener::of(Sample::new("", called(parts())));
    listener.listen(0..9_500, 100).told(parts());
    listener.listen(9_500..20_000, 100);
    assert_eq!(listener.heard, [(10_000, ONE), (11_000, Cue::Go)]);
    // A stop is not kept back by it.
    let mut listener = Listener::of(Sample::new("", called(parts())));
    listener.listen(0..5_000, 100);
    let stopped = parts().into_iter().map(|part| stopped(part, 5_000)).collect();
    listener.sample.view = Some(called(stopped));
    listener.listen(5_000..60_000, 100);
    assert_eq!(listener.heard, [(5_000, Cue::Stop)]);
}

#[test]
fn plates_that_are_spoken_of_cover_the_large_station_alone() {
    let pads = pads().into_iter().filter(|sample| sample.face(Language::En).pad.is_some());
    let mut looked = 0;
    for sample in pads {
        // Whoever stands there rests for so long that nothing else changes.
        let Some(View::Station(mut view)) = sample.view.clone() else { panic!("{}", sample.name) };
        view.stations[0].turn.as_mut().unwrap().phase = coming(rest(30), 30, 30, &[]);
        view.stations.truncate(1);
        let with_pad = Sample { view: Some(View::Station(view.clone())), ..sample };
        assert!(with_pad.face(Language::En).pad.is_some(), "{}", with_pad.name);
        let mut covered = Listener::of(with_pad);
        assert_eq!(covered.listen(0..60_000, 100).heard, []);
        let row = row_1(coming(rest(20), 20, 20, &[]));
        covered.sample.view =
            Some(View::Station(StationView { stations: vec![view.stations[0].clone(), row], ..view }));
        covered.ear = Ear::default();
        covered.listen(0..60_000, 100);
        assert_eq!(covered.heard, [(17_000, REST_THREE), (18_000, REST_TWO), (19_000, REST_ONE)]);
        looked += 1;
    }
    assert!(looked > 0);
}

#[test]
fn a_board_and_a_display_that_knows_nothing_are_silent() {
    for sample in boards().into_iter().chain(troubles().into_iter().filter(|sample| sample.view.is_none())) {
        let name = sample.name;
        let mut listener = Listener::of(sample);
        assert_eq!(listener.listen(0..60_000, 250).heard, [], "{name}");
    }
}

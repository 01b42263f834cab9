//! What the estimator makes of single samples.

use turnabout_protocol::clock::{Estimator, MARK_EVERY, MOST_DRIFT, Sample};
use turnabout_protocol::units::FloorMs;

#[test]
fn offset_and_delay_follow_rfc_5905() {
    // RFC 5905 section 8. The first row is the verifier's example in its erratum 5020 (rejected in 2022);
    // the others are computed from the formula, the last with true offset 250, 10 up, 40 down.
    for ((t1, t2, t3, t4), offset, delay) in [
        ((0.0, 50.0, 50.0, 100.0), 0.0, 100.0),
        ((1000.0, 1065.0, 1067.0, 1032.0), 50.0, 30.0),
        ((1000.0, 1350.0, 1352.0, 1042.0), 330.0, 40.0),
        ((0.0, 260.0, 262.0, 52.0), 235.0, 50.0),
    ] {
        assert_eq!(Sample::from_stamps(t1, t2, t3, t4), Sample { offset, delay });
    }
}

fn sample(offset: f64, delay: f64) -> Sample {
    Sample { offset, delay }
}

#[test]
fn the_first_sample_is_taken_at_once_and_the_smallest_delay_is_believed() {
    let mut clock = Estimator::new();
    assert_eq!(clock.now(5.0), None);
    clock.take(sample(1_000.0, 80.0), 0.0);
    assert_eq!(clock.now(0.0), Some(FloorMs(1_000)));
    clock.take(sample(1_020.0, 10.0), 0.0);
    clock.take(sample(1_060.0, 90.0), 0.0);
    // 20 ms to catch up at 50 ms a second take 400 ms.
    assert_eq!(clock.now(200.0), Some(FloorMs(1_210)));
    assert_eq!(clock.now(400.0), Some(FloorMs(1_420)));
    assert_eq!(clock.now(4_000.0), Some(FloorMs(5_020)));
}

#[test]
fn a_correction_backwards_is_slewed_and_time_never_goes_back() {
    let mut clock = Estimator::new();
    clock.take(sample(500.0, 50.0), 0.0);
    let mut last = clock.now(0.0).unwrap();
    clock.take(sample(100.0, 1.0), 0.0);
    for own in 1..20_000 {
        let now = clock.now(f64::from(own)).unwrap();
        assert!(now >= last, "{now:?} after {last:?}");
        last = now;
    }
    assert_eq!(last, FloorMs(19_999 + 100));
}

#[test]
fn what_is_far_off_or_driven_by_hand_is_taken_at_once() {
    let mut clock = Estimator::new();
    clock.take(sample(0.0, 10.0), 0.0);
    clock.take(sample(90_000.0, 5.0), 0.0);
    assert_eq!(clock.now(0.0), Some(FloorMs(90_000)));
    clock.set(FloorMs(7), 50.0);
    assert_eq!(clock.now(50.0), Some(FloorMs(7)));
}

#[test]
fn an_old_best_leaves_the_window() {
    let mut clock = Estimator::new();
    clock.take(sample(0.0, 1.0), 0.0);
    for n in 1_u8..=32 {
        clock.take(sample(10.0, 2.0), f64::from(n) * 2_000.0);
    }
    // The first sample is gone, and 10 ms are followed within 200 ms.
    assert_eq!(clock.now(66_000.0), Some(FloorMs(66_010)));
}

#[test]
fn an_impossible_sample_is_dropped() {
    let mut clock = Estimator::new();
    clock.take(sample(5.0, -1.0), 0.0);
    clock.take(sample(f64::NAN, 1.0), 0.0);
    assert_eq!(clock.now(0.0), None);
}

#[test]
fn looking_ahead_says_what_will_be_said_and_changes_nothing() {
    let mut clock = Estimator::new();
    assert_eq!(clock.ahead(5.0), None);
    clock.take(sample(500.0, 50.0), 0.0);
    clock.now(0.0);
    clock.take(sample(470.0, 1.0), 0.0);
    for own in 0..2_000 {
        let own = f64::from(own);
        let ahead = clock.ahead(own);
        assert_eq!(clock.clone().now(own), ahead);
        // Looked at once or often, it is the same.
        let _ = clock.ahead(own + 1_000.0);
    }
    assert_eq!(clock.ahead(1_999.0), Some(FloorMs(2_469)));
}

#[test]
fn a_drift_is_followed_when_nothing_more_is_heard() {
    for drift in [-100e-6, 30e-6, 100e-6] {
        let mut clock = Estimator::new();
        let true_offset = |own: f64| 5_000.0 + drift * own;
        for n in 0..300 {
            let own = f64::from(n) * 2_000.0;
            clock.take(sample(true_offset(own), 40.0), own);
        }
        assert!((clock.drift().rate() - drift).abs() < 1e-6, "{drift}: {:?}", clock.drift());
        // Ten minutes without a link, in which a clock that is not corrected is 60 ms off.
        let own = 1_200_000.0;
        let off = clock.now(own).unwrap().0 - whole(own + true_offset(own));
        assert!(off.abs() <= 2, "{drift}: {off} ms");
    }
}

#[test]
fn what_a_restart_of_the_server_does_not_change_is_kept() {
    let mut clock = Estimator::new();
    for n in 0..300 {
        let own = f64::from(n) * 2_000.0;
        clock.take(sample(100e-6 * own, 40.0), own);
    }
    clock.forget();
    assert!((clock.drift().rate() - 100e-6).abs() < 1e-6);
    assert_eq!(clock.now(1_200_000.0), Some(FloorMs(1_200_119)), "it goes on at that rate");
}

#[test]
fn a_clock_that_stood_still_is_believed_anew_at_once() {
    // The best sample of the last minute would say otherwise for as long as it is kept.
    let mut clock = Estimator::new();
    clock.take(sample(0.0, 1.0), 0.0);
    clock.now(0.0);
    clock.take(sample(600_000.0, 80.0), 1_000.0);
    assert_eq!(clock.now(1_000.0), Some(FloorMs(601_000)));
    clock.take(sample(600_010.0, 70.0), 3_000.0);
    assert_eq!(clock.now(4_000.0), Some(FloorMs(604_010)));
}

#[test]
fn an_impossible_drift_is_not_believed() {
    let mut clock = Estimator::new();
    for n in 0..20 {
        let own = f64::from(n) * MARK_EVERY;
        clock.take(sample(0.002 * own, 40.0), own);
    }
    assert!(clock.drift().rate() <= MOST_DRIFT, "{:?}", clock.drift());
}

#[expect(clippy::cast_possible_truncation, reason = "a test's times are small")]
fn whole(ms: f64) -> i64 {
    ms.floor() as i64
}

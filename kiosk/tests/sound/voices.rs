//! One tone after the other: whatever is asked for, there is no click and nothing above the bound.

use proptest::prelude::*;
use turnabout_kiosk::sound::tone::PEAK_DBFS;
use turnabout_kiosk::sound::voice::Voice;
use turnabout_kiosk::sound::{Cue, Tone};

const RATE: u32 = 48_000;
const BLOCK: usize = 480;

fn steepest(samples: &[i16]) -> u16 {
    samples.windows(2).map(|two| two[1].abs_diff(two[0])).max().unwrap_or(0)
}

/// All that comes of cues, each after so many blocks.
fn played(cues: &[(usize, Cue)]) -> Vec<i16> {
    let mut voice = Voice::new(RATE);
    let mut all = Vec::new();
    let mut block = [0; BLOCK];
    for (blocks, cue) in cues {
        for _ in 0..*blocks {
            voice.fill(&mut block);
            all.extend(block);
        }
        voice.begin(*cue);
    }
    while !voice.is_silent() {
        voice.fill(&mut block);
        all.extend(block);
    }
    all
}

#[test]
fn a_cue_that_is_let_be_comes_out_as_it_is() {
    for cue in Cue::ALL {
        let all = played(&[(0, cue)]);
        let tone = Tone::of(cue).samples(RATE);
        assert!(all.starts_with(&tone) && all[tone.len()..].iter().all(|sample| *sample == 0), "{cue:?}");
        assert!(all.len() < tone.len() + BLOCK, "{cue:?}: it is silent when it is over");
    }
}

#[test]
fn a_stop_is_heard_within_a_fiftieth_of_a_second_of_whatever_sounds() {
    for cue in Cue::ALL {
        let all = played(&[(0, cue), (5, Cue::Stop)]);
        let stop = Tone::of(Cue::Stop).samples(RATE);
        let begins = all.windows(stop.len()).position(|samples| samples == stop).unwrap();
        assert!(begins >= 5 * BLOCK && begins - 5 * BLOCK <= 960, "{cue:?}: {begins}");
    }
}

#[test]
fn of_two_that_wait_the_later_is_heard() {
    let all = played(&[(0, Cue::ALL[0]), (2, Cue::ALL[3]), (0, Cue::Stop)]);
    assert!(all.ends_with(&[0]) && all.len() > Tone::of(Cue::Stop).samples(RATE).len());
    let last = played(&[(0, Cue::ALL[0]), (2, Cue::Stop)]);
    assert_eq!(all, last);
}

proptest! {
    #[test]
    fn whatever_is_asked_for_clicks_nowhere_and_is_never_too_loud(
        cues in prop::collection::vec((0_usize..40, prop::sample::select(Cue::ALL.to_vec())), 1..8),
    ) {
        let all = played(&cues);
        let bound = f64::from(i16::MAX) * 10_f64.powf(PEAK_DBFS / 20.0);
        let peak = all.iter().map(|sample| f64::from(sample.unsigned_abs())).fold(0.0, f64::max);
        prop_assert!(peak <= bound, "{} of {}", peak, bound);
        // No steeper than the steepest of the tones, and a little for the fade of one that gives way.
        let tones = cues.iter().map(|(_, cue)| steepest(&Tone::of(*cue).samples(RATE))).max().unwrap_or(0);
        prop_assert!(steepest(&all) <= tones + 64, "{} of {}", steepest(&all), tones);
    }
}

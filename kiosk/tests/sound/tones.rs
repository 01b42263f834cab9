//! What the tones are like, measured from their samples.

use std::f64::consts::TAU;

use turnabout_kiosk::sound::tone::PEAK_DBFS;
use turnabout_kiosk::sound::{Cue, Tone};

use crate::{ONE, REST_ONE, REST_THREE, REST_TWO, THREE, TWO};

const RATES: [u32; 3] = [44_100, 48_000, 96_000];

fn each() -> impl Iterator<Item = (Cue, Tone, u32, Vec<i16>)> {
    let at = |rate| Cue::ALL.into_iter().map(move |cue| (cue, rate));
    RATES.into_iter().flat_map(at).map(|(cue, rate)| {
        let tone = Tone::of(cue);
        (cue, tone, rate, tone.samples(rate))
    })
}

fn peak(samples: &[i16]) -> f64 {
    samples.iter().map(|sample| f64::from(sample.unsigned_abs())).fold(0.0, f64::max)
}

fn dbfs(level: f64) -> f64 {
    20.0 * (level / f64::from(i16::MAX)).log10()
}

fn millis(samples: usize, rate: u32) -> f64 {
    f64::from(u32::try_from(samples).unwrap()) * 1_000.0 / f64::from(rate)
}

/// How strong a frequency is in samples: one term of the discrete Fourier transform, as an amplitude of a steady sine.
fn strength(samples: &[i16], rate: u32, hertz: f64) -> f64 {
    let (mut re, mut im) = (0.0, 0.0);
    for (n, sample) in (0_u32..).zip(samples) {
        let at = TAU * hertz * f64::from(n) / f64::from(rate);
        re += f64::from(*sample) * at.cos();
        im += f64::from(*sample) * at.sin();
    }
    2.0 * f64::hypot(re, im) / f64::from(u32::try_from(samples.len()).unwrap())
}

/// The highest sample of each period of a tone: how it swells and fades.
fn envelope(samples: &[i16], rate: u32, tone: Tone) -> Vec<(f64, f64)> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred samples")]
    let period = (f64::from(rate) / tone.hertz).ceil() as usize;
    let chunks = samples.chunks(period).enumerate();
    chunks.map(|(n, chunk)| (millis(n * period + chunk.len() / 2, rate), peak(chunk))).collect()
}

#[test]
fn no_tone_is_louder_than_the_bound_and_none_is_lost_below_it() {
    for (cue, tone, rate, samples) in each() {
        let level = dbfs(peak(&samples));
        assert!(level <= PEAK_DBFS + 0.001, "{cue:?} at {rate}: {level} dBFS");
        assert!((level - tone.dbfs).abs() < 0.1, "{cue:?} at {rate}: {level} dBFS");
    }
    const { assert!(PEAK_DBFS <= -12.0) };
}

#[test]
fn a_tone_comes_from_nothing_ends_in_nothing_and_has_no_step() {
    for (cue, tone, rate, samples) in each() {
        assert_eq!((samples.first(), samples.last()), (Some(&0), Some(&0)), "{cue:?} at {rate}");
        // The steepest place of a sine of that peak, and one for rounding: a swell only makes it flatter.
        let steepest =
            f64::from(i16::MAX) * 10_f64.powf(tone.dbfs / 20.0) * TAU * tone.hertz / f64::from(rate);
        let steps = samples.windows(2).map(|two| f64::from(two[1]) - f64::from(two[0]));
        let largest = steps.map(f64::abs).fold(0.0, f64::max);
        assert!(largest <= steepest + 1.0, "{cue:?} at {rate}: a step of {largest}, {steepest} at the most");
        // At the edges it is far flatter than that.
        let edge = |samples: &[i16]| peak(samples) < peak(&[i16::MAX]) * 0.002;
        let two = rate as usize / 500;
        assert!(edge(&samples[..two]) && edge(&samples[samples.len() - two..]), "{cue:?} at {rate}");
    }
}

#[test]
fn every_onset_is_slower_than_what_startles_and_that_of_a_stop_far_slower() {
    for (cue, tone, rate, samples) in each() {
        let envelope = envelope(&samples, rate, tone);
        let top = peak(&samples);
        let reaches = |share: f64| envelope.iter().find(|(_, level)| *level >= share * top).unwrap().0;
        let rise = reaches(0.9) - reaches(0.1);
        // Fleshler 1965: 12 ms (from memory). A period of the tone is as fine as it can be measured.
        let least = if cue == Cue::Stop { 100.0 } else { 20.0 };
        assert!(rise >= least, "{cue:?} at {rate}: {rise} ms");
        // A raised cosine is at a tenth and at nine tenths 0.59 of its length apart: arithmetic.
        let wanted = tone.swells * (((-0.8_f64).acos() - 0.8_f64.acos()) / std::f64::consts::PI);
        assert!((rise - wanted).abs() <= 2.0 * 1_000.0 / tone.hertz, "{cue:?}: {rise} ms for {wanted}");
        let fading = envelope.iter().rev().find(|(_, level)| *level >= 0.9 * top).unwrap().0;
        assert!(millis(samples.len(), rate) - fading >= 20.0, "{cue:?} at {rate}: ends at {fading} ms");
    }
}

#[test]
fn a_tone_is_one_frequency_that_older_people_hear_and_small_loudspeakers_give() {
    for (cue, tone, rate, samples) in each() {
        assert!((400.0..=1_500.0).contains(&tone.hertz), "{cue:?}");
        let at = |hertz| strength(&samples, rate, hertz);
        let own = at(tone.hertz);
        // Nothing of it is at its harmonics, below it, or high up where a click would be.
        for other in [tone.hertz / 2.0, 2.0 * tone.hertz, 3.0 * tone.hertz, 5_000.0, 10_000.0] {
            assert!(at(other) < own / 100.0, "{cue:?} at {rate}: {other} Hz {} beside {own}", at(other));
        }
        // Where it stays it is as strong as it says, so nearly all of it is there.
        let stays = |ms: f64| {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a part of a second")]
            let n = (ms / 1_000.0 * f64::from(rate)) as usize;
            n
        };
        let steady = &samples[stays(tone.swells)..stays(tone.swells + tone.stays)];
        let steady = strength(steady, rate, tone.hertz);
        assert!((dbfs(steady) - tone.dbfs).abs() < 0.5, "{cue:?} at {rate}: {}", dbfs(steady));
    }
}

#[test]
fn what_means_something_else_sounds_otherwise() {
    let [count, go, rest, stop] = [THREE, Cue::Go, REST_THREE, Cue::Stop].map(Tone::of);
    assert_eq!([TWO, ONE].map(Tone::of), [count; 2], "three equal ones");
    assert_eq!([REST_TWO, REST_ONE].map(Tone::of), [rest; 2]);
    assert!(go.hertz > count.hertz && go.lasts() > 2.0 * count.lasts(), "GO is higher and longer");
    assert!(rest.dbfs < count.dbfs && rest.lasts() <= count.lasts(), "the end of a rest is softer");
    assert!(stop.lasts() > 2.0 * go.lasts() && stop.hertz < rest.hertz, "a stop is long and low");
    // A fourth apart and more, or a whole tone and twice as long: each from each by its pitch.
    let mut pitches = [count, go, rest, stop].map(|tone| tone.hertz);
    pitches.sort_by(f64::total_cmp);
    assert!(pitches.windows(2).all(|two| two[1] / two[0] > 1.18), "{pitches:?}");
}

#[test]
fn a_tone_is_over_before_the_next_of_its_count() {
    for cue in Cue::ALL.into_iter().filter(|cue| *cue != Cue::Stop) {
        assert!(Tone::of(cue).lasts() < 500.0, "{cue:?}");
    }
    // As long as it keeps others away.
    assert!(Tone::of(Cue::Stop).lasts() < 2_000.0);
}

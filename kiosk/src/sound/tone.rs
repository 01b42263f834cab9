//! What a cue sounds like, as samples: pure arithmetic.
//!
//! Every tone is one sine that swells and fades along a raised cosine, from nothing to nothing.
//! - **Pitch.** Older people hear high tones badly, and small loudspeakers give no low ones: all lie between 400 and
//!   1,500 Hz. ISO 7731 asks for parts below 1,500 Hz where listeners may hear badly, ISO 24501 keeps signals for older
//!   persons well below 2,500 Hz (both from memory). Notes a few steps apart are told from each other by most people
//!   (common practice, no source).
//! - **Onset.** What startles is loud and there at once: rats were startled by tones that had risen within 12 ms and by
//!   none that rose more slowly (Fleshler 1965, from memory). Short tones take about twice that, a stop ten times: it
//!   meets people under a bar.
//! - **Loudness** is set at the machine. No tone goes above [`PEAK_DBFS`], so that none is loud beside what else the machine
//!   plays, and what matters less is softer.

use std::f64::consts::{PI, TAU};

use super::Cue;

/// The highest peak of any tone, in decibels of the largest sample there is. Common practice, no source.
pub const PEAK_DBFS: f64 = -12.0;

/// The loudest sample there is.
const FULL: f64 = i16::MAX as f64;

/// A tone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tone {
    /// How often it swings, in hertz.
    pub hertz: f64,
    /// Its peak, in decibels of the largest sample there is.
    pub dbfs: f64,
    /// How long it swells from nothing, in milliseconds.
    pub swells: f64,
    /// How long it stays, in milliseconds.
    pub stays: f64,
    /// How long it fades to nothing, in milliseconds.
    pub fades: f64,
}

impl Tone {
    /// The tone of a cue: three short ones and a longer and higher one for a count-in, lower and softer ones as a rest
    /// ends, a low and long one for a stop.
    #[must_use]
    pub const fn of(cue: Cue) -> Self {
        match cue {
            Cue::RestEnds(_) => Self { hertz: 523.0, dbfs: -20.0, swells: 40.0, stays: 20.0, fades: 60.0 },
            Cue::CountIn(_) => Self { hertz: 659.0, dbfs: -16.0, swells: 40.0, stays: 60.0, fades: 60.0 },
            Cue::Go => Self { hertz: 880.0, dbfs: -14.0, swells: 40.0, stays: 260.0, fades: 160.0 },
            Cue::Stop => Self { hertz: 440.0, dbfs: PEAK_DBFS, swells: 200.0, stays: 800.0, fades: 300.0 },
        }
    }

    /// How long it sounds, in milliseconds.
    #[must_use]
    pub const fn lasts(self) -> f64 {
        self.swells + self.stays + self.fades
    }

    /// Its samples, so many a second.
    #[must_use]
    pub fn samples(self, rate: u32) -> Vec<i16> {
        let rate = f64::from(rate);
        let peak = FULL * 10_f64.powf(self.dbfs / 20.0);
        let sample = |n: u32| {
            let at = f64::from(n) / rate;
            let swing = (TAU * self.hertz * at).sin();
            #[expect(clippy::cast_possible_truncation, reason = "no larger than the peak, toward zero")]
            let sample = (peak * self.envelope(at * 1_000.0) * swing) as i16;
            sample
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "two seconds at most")]
        let last = (self.lasts() / 1_000.0 * rate).ceil() as u32;
        (0..=last).map(sample).collect()
    }

    /// How far it has swollen, from 0 to 1, so many milliseconds after it began.
    fn envelope(self, at: f64) -> f64 {
        raised_cosine(at / self.swells) * raised_cosine((self.lasts() - at) / self.fades)
    }
}

/// From 0 at 0 to 1 at 1 without a corner at either end.
pub(super) fn raised_cosine(share: f64) -> f64 {
    (1.0 - (PI * share.clamp(0.0, 1.0)).cos()) / 2.0
}

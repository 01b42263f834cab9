//! One tone after the other and never two at once: a new one waits until the one before has faded. Pure.

use super::Cue;
use super::tone::{Tone, raised_cosine};

/// How long a tone that gives way fades, in milliseconds: no click, and hardly a delay.
const GIVES_WAY: f64 = 15.0;

/// What sounds.
#[derive(Debug)]
pub struct Voice {
    rate: u32,
    samples: Vec<i16>,
    at: usize,
    next: Option<Cue>,
}

impl Voice {
    /// Silence, at so many samples a second.
    #[must_use]
    pub const fn new(rate: u32) -> Self {
        Self { rate, samples: Vec::new(), at: 0, next: None }
    }

    /// Begins a cue, now or as soon as what sounds has given way.
    pub fn begin(&mut self, cue: Cue) {
        if self.is_silent() {
            self.samples = Tone::of(cue).samples(self.rate);
            self.at = 0;
            return;
        }
        // A second one changes only what comes after the fade that is going on.
        if self.next.replace(cue).is_none() {
            self.fade();
        }
    }

    /// Whether nothing sounds and nothing waits.
    #[must_use]
    pub const fn is_silent(&self) -> bool {
        self.at >= self.samples.len() && self.next.is_none()
    }

    /// Fills a block with what comes next.
    pub fn fill(&mut self, block: &mut [i16]) {
        for sample in block {
            *sample = self.sample();
        }
    }

    fn sample(&mut self) -> i16 {
        if self.at >= self.samples.len()
            && let Some(cue) = self.next.take()
        {
            self.begin(cue);
        }
        let sample = self.samples.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        sample
    }

    /// Has what sounds end soon.
    fn fade(&mut self) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a part of a second")]
        let fade = (f64::from(self.rate) * GIVES_WAY / 1_000.0) as u32;
        let (mut left, mut faded) = (fade, Vec::new());
        while let (Some(sample), true) = (self.samples.get(self.at), left > 0) {
            left -= 1;
            #[expect(clippy::cast_possible_truncation, reason = "no larger than it was")]
            faded.push((f64::from(*sample) * raised_cosine(f64::from(left) / f64::from(fade))) as i16);
            self.at += 1;
        }
        (self.samples, self.at) = (faded, 0);
    }
}

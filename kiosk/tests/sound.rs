//! What is heard of a display: which cue at which instant, that each is seen as well, and what the tones are like. No device
//! and no feature is needed for any of it.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "sound/laws.rs"]
mod laws;
#[path = "sound/linked.rs"]
mod linked;
#[path = "sound/pair.rs"]
mod pair;
#[path = "sound/played.rs"]
mod played;
mod scenes;
#[path = "sound/several.rs"]
mod several;
#[path = "sound/stops.rs"]
mod stops;
#[path = "sound/tones.rs"]
mod tones;
#[path = "sound/twins.rs"]
mod twins;
#[path = "sound/voices.rs"]
mod voices;

use scenes::*;
use turnabout_kiosk::face::{Face, Going, Known};
use turnabout_kiosk::sound::{Cue, Digit, Ear, Heard, Seen};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{HaltKind, HaltPart, StationPart};
use uuid::Uuid;

const THREE: Cue = Cue::CountIn(Digit::Three);
const TWO: Cue = Cue::CountIn(Digit::Two);
const ONE: Cue = Cue::CountIn(Digit::One);
const REST_THREE: Cue = Cue::RestEnds(Digit::Three);
const REST_TWO: Cue = Cue::RestEnds(Digit::Two);
const REST_ONE: Cue = Cue::RestEnds(Digit::One);

/// A display that looks when it is told to, at a floor of which it is told everything.
struct Listener {
    ear: Ear,
    sample: Sample,
    epoch: Uuid,
    rate: u32,
    heard: Vec<(i64, Cue)>,
}

impl Listener {
    fn of(sample: Sample) -> Self {
        Self { ear: Ear::default(), sample, epoch: Uuid::from_u128(1), rate: 1, heard: Vec::new() }
    }

    /// At these stations.
    fn at(parts: Vec<StationPart>) -> Self {
        Self::of(Sample::new("", view(parts)))
    }

    /// From now on the server says this.
    fn told(&mut self, parts: Vec<StationPart>) {
        self.sample.view = Some(view(parts));
    }

    fn face(&self, ms: i64) -> Face {
        self.sample.face_at(FloorMs(NOW.0 + ms), Language::En)
    }

    /// Looks so many milliseconds from [`NOW`].
    fn look(&mut self, ms: i64) -> Heard {
        let face = self.face(ms);
        let Some(view) = self.sample.view.clone() else { return Heard::default() };
        let known = Known { view, as_of: at(-3) };
        let going = Going { now: FloorMs(NOW.0 + ms), rate: self.rate };
        let heard = self.ear.hear(&Seen { known: &known, epoch: self.epoch, face: &face, going });
        self.heard.extend(heard.cue.map(|cue| (ms, cue)));
        heard
    }

    /// Looks again and again, in milliseconds from [`NOW`], the last one left out.
    fn listen(&mut self, ms: std::ops::Range<i64>, every: usize) -> &mut Self {
        for ms in ms.step_by(every) {
            self.look(ms);
        }
        self
    }
}

/// What is heard at these stations in so many seconds. Every instant here lies on a tenth of one.
fn heard(parts: Vec<StationPart>, secs: i64) -> Vec<(i64, Cue)> {
    Listener::at(parts).listen(0..secs * 1_000, 100).heard.clone()
}

/// A stop of so many milliseconds from [`NOW`].
fn stopped(part: StationPart, ms: i64) -> StationPart {
    StationPart { halt: Some(HaltPart { halt: HaltKind::Stop, since: FloorMs(NOW.0 + ms) }), ..part }
}

//! How much was moved, and how fast: volume load and density.
//!
//! - **Volume load** is load times repetitions, summed over the working sets.
//! - **Density** is volume load for each minute, here from the first repetition of the first working set to the last
//!   repetition of the last one; the rest after that one is no part of it.
//!
//! Source: Weakley et al. 2017, Eur J Appl Physiol 117:1877-1889, who call kilograms of volume load a minute the
//! efficiency of a session. Studies differ in both: some count repetitions alone or add body mass, some take the time
//! under tension or the whole session with its warm-up. So figures compare within this floor, not with a study's.
//!
//! What counts here, our own choices:
//! - One set on each side counts both sides: each is moved for so many repetitions.
//! - Of a pair both dumbbells count, as the card reads: 2 x 14 kg.
//! - Repetitions with the spotter's help do not: the spotter lifted part of them. Those of a set that the gear ended
//!   do. Those of a set that was stopped count once somebody has said how many there were.
//! - Body mass never does: nobody asks for it. On a belt what hangs there counts.
//! - Light sets, pins of unknown mass, gear that carries part of the body, holds and sets without a load are left out,
//!   each said so ([`NotCounted`]).

use turnabout_protocol::command::Ending;
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{FloorMs, Mass, Millis};
use turnabout_protocol::view::NotCounted;
use turnabout_protocol::work::Work;

use super::loads::Direction;

/// A set that was done, as far as its volume load goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moved {
    /// A light set before the working sets.
    pub light: bool,
    /// The load; of dumbbells one of the pair.
    pub load: Option<Load>,
    /// Which way the gear is harder.
    pub direction: Direction,
    /// The load is one of a pair.
    pub pair: bool,
    /// Done once for each side; the repetitions are those of one.
    pub per_side: bool,
    /// What it asked for.
    pub work: Work,
    /// Repetitions done, those with help among them; nothing where nobody has said how many.
    pub reps: Option<u8>,
    /// How it ended.
    pub ending: Ending,
}

impl Moved {
    /// Load times repetitions of this set.
    ///
    /// # Errors
    /// Why it is left out.
    pub fn volume_load(&self) -> Result<Mass, NotCounted> {
        if self.light {
            return Err(NotCounted::Light);
        }
        let mass = match self.load {
            Some(Load::Pin { .. }) => return Err(NotCounted::Pin),
            Some(Load::Mass(_)) if self.direction == Direction::Assists => return Err(NotCounted::Assisted),
            Some(Load::Mass(mass)) if mass > Mass::ZERO => mass,
            Some(Load::Mass(_)) | None => return Err(NotCounted::NoLoad),
        };
        match self.work {
            Work::Reps { .. } => {}
            Work::Hold { .. } => return Err(NotCounted::Hold),
        }
        let reps = self.reps.ok_or(NotCounted::RepsUnknown)?;
        let each = |both: bool| if both { 2 } else { 1 };
        let times = i64::from(self.ending.alone(reps)) * each(self.pair) * each(self.per_side);
        // A thousand of the largest masses there are: far from the end of the integer.
        Ok(mass.times(times).unwrap_or(Mass::MAX))
    }
}

/// From the first repetition of the first set to the last repetition of the last: of each set when it started and
/// ended. Nothing of no sets.
#[must_use]
pub fn elapsed(sets: impl IntoIterator<Item = (FloorMs, FloorMs)>) -> Option<Millis> {
    let both = |(first, last): (FloorMs, FloorMs), (started, ended): (FloorMs, FloorMs)| {
        (first.min(started), last.max(ended))
    };
    sets.into_iter().reduce(both).map(|(first, last)| last.since(first))
}

/// Volume load a minute, to the nanogram, half up; nothing where no time went by.
#[must_use]
pub fn density(volume: Mass, elapsed: Millis) -> Option<Mass> {
    let millis = i128::from(elapsed.0);
    if millis <= 0 {
        return None;
    }
    let per_minute = (i128::from(volume.nanograms()) * 60_000 + millis / 2).div_euclid(millis);
    i64::try_from(per_minute).ok().map(Mass::from_nanograms)
}

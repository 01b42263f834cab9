//! One end of a bar as a picture: the plates of a side from the inside out, each with the number stamped on it, as high
//! beside each other as they are in truth; which go on, and which come off before.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::{BarPart, LoadCard, PlatePart};
use turnabout_protocol::units::{Mass, MassUnit};

use super::words::stamped;

/// What is done with a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Does {
    /// It is on and stays on.
    Stays,
    /// It goes on.
    Comes,
    /// It comes off first.
    Goes,
}

/// The colour of a plate, as a second cue beside its number: never without it, since the same colour means another mass
/// in another sport.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Paint {
    /// 25 kg and 2.5 kg.
    Red,
    /// 20 kg and 2 kg.
    Blue,
    /// 15 kg and 1.5 kg.
    Yellow,
    /// 10 kg and 1 kg.
    Green,
    /// 5 kg and 0.5 kg.
    White,
    /// Any other, and all that are stamped in pounds.
    Plain,
}

/// A plate of the picture.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Disc {
    /// The number stamped on it.
    pub number: String,
    /// Its height, in thousandths of that of a full plate of 450 mm.
    pub height: u16,
    /// Its colour.
    pub paint: Paint,
    /// What is done with it.
    pub does: Does,
}

/// A full plate.
const FULL: u16 = 1_000;
/// No plate is drawn lower than that: its number has to be read.
const LOWEST: u16 = 420;

/// The plates of each side of a bar, from the inside out, and behind them those that come off first, from the outside
/// in; none where there is nothing to put on, where nobody knows what is on, or where the load is confirmed.
pub(super) fn sleeve(card: &LoadCard) -> Vec<Disc> {
    let Some(bar) = card.bar.as_ref().filter(|_| !card.confirmed) else { return Vec::new() };
    let disc = |plate: &PlatePart, does| Disc {
        number: stamped(plate.mass, card.unit),
        height: height(plate),
        paint: paint(plate.mass, card.unit),
        does,
    };
    let coming = coming(bar);
    let on =
        bar.side.iter().enumerate().map(|(n, plate)| {
            disc(plate, if n >= bar.side.len() - coming { Does::Comes } else { Does::Stays })
        });
    on.chain(bar.strip.iter().map(|plate| disc(plate, Does::Goes))).collect()
}

/// How many plates of a side go on: the outermost. Where nobody knows what is on, all of them.
fn coming(bar: &BarPart) -> usize {
    if bar.known { bar.add.len().min(bar.side.len()) } else { bar.side.len() }
}

/// Discs of 10 kg and more are 450 mm high (IWF Technical and Competition Rules and Regulations, 3.3); the station's file
/// says which are. Of others no rule says how high they are: discs of one thickness have their mass in their area, so
/// their height goes with its root. Common practice, no source.
fn height(plate: &PlatePart) -> u16 {
    if plate.full {
        return FULL;
    }
    const TEN: i64 = Mass::from_grams(10_000).nanograms();
    let share = i128::from(plate.mass.nanograms().max(0)) * 1_000_000 / i128::from(TEN);
    let share = share.isqrt();
    u16::try_from(share).unwrap_or(FULL).clamp(LOWEST, FULL)
}

/// IWF Technical and Competition Rules and Regulations, 3.3.
fn paint(mass: Mass, unit: MassUnit) -> Paint {
    if unit != MassUnit::Kg {
        return Paint::Plain;
    }
    let painted = [
        (Paint::Red, [25_000, 2_500]),
        (Paint::Blue, [20_000, 2_000]),
        (Paint::Yellow, [15_000, 1_500]),
        (Paint::Green, [10_000, 1_000]),
        (Paint::White, [5_000, 500]),
    ];
    let is = |grams: &[i64; 2]| grams.iter().any(|grams| Mass::from_grams(*grams) == mass);
    painted.iter().find(|(_, grams)| is(grams)).map_or(Paint::Plain, |(paint, _)| *paint)
}

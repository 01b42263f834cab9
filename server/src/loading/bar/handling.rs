//! From what is on now to what is wanted: which plates are handled, and how long hands take.

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::Secs;

use super::bars::{BarNo, BarSet};
use super::plates::Plate;
use super::side::Loaded;

/// Seconds that hands take. All of them common practice, no source; the floor's own times can stand in later.
pub mod seconds {
    /// One plate on or off.
    pub const PLATE: u32 = 3;
    /// One collar or clip on or off.
    pub const COLLAR: u32 = 2;
    /// From one end of the bar to the other.
    pub const WALK: u32 = 3;
    /// One bar put away and another one fetched, by one person.
    pub const BAR_ALONE: u32 = 20;
    /// The same by two people, one at each end.
    pub const BAR_TOGETHER: u32 = 12;
}

/// How much there is to handle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Effort {
    /// Plates taken off and put on, both sides together. A bar or a collar is no plate.
    pub moves: u32,
    /// Seconds of one person, who goes from side to side.
    pub alone: Secs,
    /// Seconds of two people, one at each side.
    pub together: Secs,
}

/// The way from one state of a bar to another. Both sides are changed alike.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Change {
    /// What is known of the bar before.
    pub before: Before,
    /// The bar that it is afterwards.
    pub bar: BarNo,
    /// What comes off each side, from the outside in.
    pub strip: Vec<Plate>,
    /// What goes on each side, from the inside out.
    pub add: Vec<Plate>,
    /// Whether collars come off before and go on afterwards.
    pub collars: Collars,
}

/// What is known of the bar before a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Before {
    /// Nothing: look, strip whatever is there, and see that it is the right bar.
    Unknown,
    /// This bar.
    Bar(BarNo),
}

/// Which collars are handled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Collars {
    /// Both come off first.
    pub off: bool,
    /// Both go on last.
    pub on: bool,
}

impl Change {
    /// From what is on now, where it is known, to what is wanted. What both have in common from the inside
    /// stays, if the bar stays.
    #[must_use]
    pub fn between(set: &BarSet, now: Option<&Loaded>, wanted: &Loaded) -> Self {
        let takes_plates = |bar| set.bar(bar).is_some_and(super::bars::Bar::takes_plates);
        let new = wanted.side.plates();
        let Some(now) = now else {
            let collars = Collars { off: false, on: takes_plates(wanted.bar) };
            let (strip, add) = (Vec::new(), new.to_vec());
            return Self { before: Before::Unknown, bar: wanted.bar, strip, add, collars };
        };
        let same_bar = now.bar == wanted.bar;
        let stay = if same_bar { now.side.in_common(&wanted.side) } else { 0 };
        let strip: Vec<Plate> = now.side.plates()[stay..].iter().rev().copied().collect();
        let add = new[stay..].to_vec();
        let anything = !(same_bar && strip.is_empty() && add.is_empty());
        let collars =
            Collars { off: anything && takes_plates(now.bar), on: anything && takes_plates(wanted.bar) };
        Self { before: Before::Bar(now.bar), bar: wanted.bar, strip, add, collars }
    }

    /// Whether another bar has to be fetched; unknown where the bar before is.
    #[must_use]
    pub fn other_bar(&self) -> Option<bool> {
        match self.before {
            Before::Unknown => None,
            Before::Bar(before) => Some(before != self.bar),
        }
    }

    /// How much there is to handle. Where nobody knows what is on, what it takes to strip that comes on top.
    #[must_use]
    pub fn effort(&self) -> Effort {
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let plates = count(self.strip.len() + self.add.len());
        let collars = u32::from(self.collars.off) + u32::from(self.collars.on);
        let swaps = u32::from(self.other_bar() == Some(true));
        let one_side = plates.saturating_mul(seconds::PLATE) + collars * seconds::COLLAR;
        // Alone: each pair is one way along the bar, since the next begins at the side where this one ended.
        let walks = (plates + collars).saturating_mul(seconds::WALK);
        Effort {
            moves: plates.saturating_mul(2),
            alone: Secs(2 * one_side + walks + swaps * seconds::BAR_ALONE),
            together: Secs(one_side + swaps * seconds::BAR_TOGETHER),
        }
    }
}

impl std::ops::Add for Effort {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            moves: self.moves + other.moves,
            alone: Secs(self.alone.0 + other.alone.0),
            together: Secs(self.together.0 + other.together.0),
        }
    }
}

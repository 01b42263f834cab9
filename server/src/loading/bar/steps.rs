//! A change in the order in which hands go: both sides in turn, because a bar with one side loaded tips.

use serde::{Deserialize, Serialize};

use super::bars::BarNo;
use super::handling::{Before, Change};
use super::plates::Plate;

/// An end of the bar, as seen by whoever stands before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// The left one.
    Left,
    /// The right one.
    Right,
}

/// One thing that hands do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// Take whatever is there off, both sides in turn, and see that it is this bar.
    StripWhatIsThere(BarNo),
    /// Take the collar off.
    CollarOff(End),
    /// Take the outermost plate off.
    Strip(End, Plate),
    /// Put the bar away and take this one.
    TakeBar(BarNo),
    /// Put a plate on.
    Add(End, Plate),
    /// Put the collar on.
    CollarOn(End),
}

/// What is done at both ends.
#[derive(Clone, Copy)]
enum Both {
    CollarOff,
    Strip(Plate),
    Add(Plate),
    CollarOn,
}

impl Both {
    const fn at(self, end: End) -> Step {
        match self {
            Self::CollarOff => Step::CollarOff(end),
            Self::Strip(plate) => Step::Strip(end, plate),
            Self::Add(plate) => Step::Add(end, plate),
            Self::CollarOn => Step::CollarOn(end),
        }
    }
}

impl Change {
    /// The steps of one person, in order. What is done at one end is done at the other next, and whoever is
    /// there goes on there: so both sides never differ by more than one plate or one collar, and every pair
    /// takes one way along the bar. Two people do each pair at once.
    #[must_use]
    pub fn steps(&self) -> Vec<Step> {
        let mut steps = Vec::with_capacity(2 * (self.strip.len() + self.add.len()) + 5);
        let mut at = End::Left;
        let mut both = |steps: &mut Vec<Step>, what: Both| {
            let other = match at {
                End::Left => End::Right,
                End::Right => End::Left,
            };
            steps.extend([what.at(at), what.at(other)]);
            at = other;
        };
        if self.collars.off {
            both(&mut steps, Both::CollarOff);
        }
        for plate in &self.strip {
            both(&mut steps, Both::Strip(*plate));
        }
        match self.before {
            Before::Unknown => steps.push(Step::StripWhatIsThere(self.bar)),
            Before::Bar(before) if before != self.bar => steps.push(Step::TakeBar(self.bar)),
            Before::Bar(_) => {}
        }
        for plate in &self.add {
            both(&mut steps, Both::Add(*plate));
        }
        if self.collars.on {
            both(&mut steps, Both::CollarOn);
        }
        steps
    }
}

//! What a set asks for, before any gear is looked at.

use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::next::{NextReason, PerMille, Rule};
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::work::Work;

use super::Set;
use crate::training::loads::NANOGRAM;

/// The target of the published table: rating 8, two in reserve.
pub(crate) const TABLE_TARGET: u8 = 2;
/// The table's lowest rating, 5 to 6, is four to six in reserve; nothing is published for lighter sets.
const TABLE_MOST: u8 = 6;
/// A fall after a set that was not made, and each way after "heavy" and "light". Our own rule; five percent is
/// where the ranges for a missed try meet, 2.5 to 5 % for the upper body and 5 to 10 % for the lower (NSCA testing
/// protocol, Essentials of Strength Training and Conditioning ch. 18), and inside the 2 to 10 % of ACSM 2009.
const FIVE_PERCENT: PerMille = PerMille(50);

/// How far: whichever is more.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Amount {
    /// Of the load now.
    pub(crate) share: PerMille,
    /// Steps of the published table.
    pub(crate) steps: u8,
}

impl Amount {
    /// So much of a load, at least something: the gear has no smaller step.
    pub(crate) fn of(self, load: Mass, unit: MassUnit) -> Mass {
        let steps = table_step(unit).times(i64::from(self.steps)).unwrap_or(Mass::MAX);
        self.share.of(load).max(steps).max(NANOGRAM)
    }

    fn or(self, other: Self) -> Self {
        Self { share: self.share.max(other.share), steps: self.steps.max(other.steps) }
    }
}

/// One step of the published table: 2.5 kg. On gear stamped in pounds 5 lb, a little less, since 2.5 kg is no
/// step there; that is derived.
const fn table_step(unit: MassUnit) -> Mass {
    match unit {
        MassUnit::Kg => Mass::from_grams(2_500),
        MassUnit::Lb => Mass::from_nanograms(5 * MassUnit::Lb.nanograms()),
    }
}

/// What a set asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wish {
    /// Harder, by so much.
    Rise(Amount),
    /// The same.
    Stay,
    /// Easier, by so much.
    Fall(Amount),
}

/// What a set asks for, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Verdict {
    pub(crate) wish: Wish,
    pub(crate) reason: NextReason,
    pub(crate) rule: Rule,
}

/// What the set asks for.
pub(crate) fn judge(set: &Set, unit: MassUnit) -> Verdict {
    let answer = answered(set, unit);
    let down = |least: Amount, reason| {
        let by = match answer.wish {
            Wish::Fall(more) => least.or(more),
            Wish::Rise(_) | Wish::Stay => least,
        };
        Verdict { wish: Wish::Fall(by), reason, rule: Rule::Outcome }
    };
    let five = Amount { share: FIVE_PERCENT, steps: 0 };
    match set.ending {
        Ending::EquipmentFault => {
            Verdict { wish: Wish::Stay, reason: NextReason::GearFailed, rule: Rule::Outcome }
        }
        Ending::Failed => down(five, NextReason::NotMade),
        Ending::Helped { reps } => down(five, NextReason::Helped { reps }),
        // Common practice, no source: the least there is, and a coach looks.
        Ending::FormBroken => down(Amount::default(), NextReason::FormBroke),
        // Who was stopped did what there was time for.
        Ending::Complete | Ending::Short | Ending::Stopped => answer.unless_too_few(set),
    }
}

impl Verdict {
    /// Fewer repetitions than asked for are never followed by a rise, however light they felt.
    fn unless_too_few(self, set: &Set) -> Self {
        match (self.wish, set.work.is_met_by(set.alone())) {
            (Wish::Rise(_), false) => {
                let least = match set.work {
                    Work::Reps { least, .. } => least,
                    Work::Hold { .. } => 1,
                };
                Self { wish: Wish::Stay, reason: NextReason::TooFewReps { least }, rule: self.rule }
            }
            (Wish::Rise(_) | Wish::Stay | Wish::Fall(_), _) => self,
        }
    }
}

fn answered(set: &Set, unit: MassUnit) -> Verdict {
    let by = Amount { share: FIVE_PERCENT, steps: 0 };
    let (wish, reason) = match set.effort {
        None => (Wish::Stay, NextReason::NoAnswer),
        Some(Effort::Right) => (Wish::Stay, NextReason::AsItShould),
        Some(Effort::Light) => (Wish::Rise(by), NextReason::FeltLight),
        Some(Effort::Heavy) => (Wish::Fall(by), NextReason::FeltHeavy),
        Some(Effort::Rir { reps }) => return in_reserve(reps, set.reserve.unwrap_or(TABLE_TARGET), unit),
    };
    Verdict { wish, reason, rule: Rule::ThreeWords }
}

/// The published step after each answer, for target rating 8 in accessory lifts: rating 5 to 6 up 5 kg, 7 up
/// 2.5 kg, 8 the same, 9 down 2.5 kg, 10 down 5 kg (J Hum Kinet 2024;91:87-103, doi 10.5114/jhk/185637, table 1D;
/// verified). For another target the table is shifted by the difference; that, answers above six in reserve and
/// steps in pounds are derived.
fn in_reserve(reps: u8, wanted: u8, unit: MassUnit) -> Verdict {
    let by = Amount { share: PerMille(0), steps: reps.abs_diff(wanted).min(2) };
    let (wish, reason) = match reps.cmp(&wanted) {
        std::cmp::Ordering::Greater => (Wish::Rise(by), NextReason::MoreInReserve { reps, wanted }),
        std::cmp::Ordering::Equal => (Wish::Stay, NextReason::AsItShould),
        std::cmp::Ordering::Less => (Wish::Fall(by), NextReason::LessInReserve { reps, wanted }),
    };
    let published = wanted == TABLE_TARGET && reps <= TABLE_MOST && unit == MassUnit::Kg;
    let rule = if published { Rule::AnswerTable } else { Rule::DerivedTable };
    Verdict { wish, reason, rule }
}

//! The next load with its reason: what is proposed, why, by which rule, and what the coach made of it.
//!
//! No sentence crosses the wire: a reason is a closed enum with arguments, said under `next.` of the catalogues,
//! its rule under `rule.`, its change under `change.`, a question under `question.` (see [`crate::text`]). Which
//! load is proposed when, and the source of each rule, stands where the rules are: the server's training room.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::load::Load;
use crate::text::{Language, say};
use crate::units::{Mass, MassUnit};
use crate::work::Work;

/// A share in thousandths, 0 to 1000: 100 is 10 %. Whole, so that a floor's settings stay exact.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct PerMille(pub u16);

impl PerMille {
    /// The whole.
    pub const WHOLE: Self = Self(1_000);

    /// This share of a mass, rounded down to a whole nanogram.
    #[must_use]
    pub fn of(self, mass: Mass) -> Mass {
        let share = (i128::from(mass.nanograms()) * i128::from(self.0)).div_euclid(1_000);
        Mass::from_nanograms(i64::try_from(share).unwrap_or(i64::MAX))
    }

    /// This share of the number of a pin, rounded down to a pin: as if each weighed the same.
    #[must_use]
    pub fn of_pins(self, pin: u16) -> u16 {
        let share = u32::from(pin) * u32::from(self.0.min(Self::WHOLE.0)) / u32::from(Self::WHOLE.0);
        u16::try_from(share).unwrap_or(pin)
    }

    /// As it is read: `10 %`, `2.5 %`.
    #[must_use]
    pub fn percent(self, language: Language) -> String {
        let (whole, tenth) = (self.0 / 10, self.0 % 10);
        match (tenth, language) {
            (0, _) => format!("{whole} %"),
            (_, Language::En) => format!("{whole}.{tenth} %"),
            (_, Language::De) => format!("{whole},{tenth} %"),
        }
    }
}

/// What a station is set to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "by", rename_all = "snake_case", deny_unknown_fields)]
pub enum SetTo {
    /// A load, or an assisting one where the gear assists.
    Mass {
        /// The whole of it.
        load: Mass,
    },
    /// A pin of a stack whose labels are no masses, counted from 1 at the lightest.
    Pin {
        /// Which one.
        pin: u16,
    },
}

impl SetTo {
    /// The same as a load.
    #[must_use]
    pub const fn load(self) -> Load {
        match self {
            Self::Mass { load } => Load::Mass(load),
            Self::Pin { pin } => Load::Pin { pin },
        }
    }
}

impl From<Load> for SetTo {
    fn from(load: Load) -> Self {
        match load {
            Load::Mass(load) => Self::Mass { load },
            Load::Pin { pin } => Self::Pin { pin },
        }
    }
}

/// A load for a coming set, and why. Nothing happens by it until somebody takes it: unanswered, the load stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Proposal {
    /// What to set; the gear can be set to exactly that.
    pub set: SetTo,
    /// What to do with it.
    pub work: Work,
    /// What that is beside the set before.
    pub change: Change,
    /// Why.
    pub reason: NextReason,
    /// By which rule.
    pub rule: Rule,
}

/// What a proposal is beside the set before. On assisting gear harder is less mass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Change {
    /// There was no set before.
    First,
    /// Harder.
    Harder,
    /// The same load and the same repetitions.
    Same,
    /// The same load, one repetition more.
    MoreReps,
    /// Easier.
    Easier,
}

/// Why a load is proposed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case", deny_unknown_fields)]
pub enum NextReason {
    /// The plan says so.
    AsPlanned,
    /// A share of the client's one-repetition maximum.
    ShareOfMax {
        /// Which share.
        share: PerMille,
    },
    /// So many repetitions with so many in reserve.
    ForReserve {
        /// Repetitions.
        reps: u8,
        /// To stay in reserve.
        wanted: u8,
    },
    /// What the client did here last time.
    AsLastTime,
    /// The client has never done it here: the lightest first.
    NeverHere,
    /// The client was here long ago.
    LongAway {
        /// Days since.
        days: u16,
    },
    /// Twice running at least so many repetitions over the goal in the last set.
    OverTheGoal {
        /// So many over.
        reps: u8,
    },
    /// It was as it should be.
    AsItShould,
    /// Nobody said how it felt.
    NoAnswer,
    /// It felt too light.
    FeltLight,
    /// It felt too heavy.
    FeltHeavy,
    /// More was left than wanted.
    MoreInReserve {
        /// Left.
        reps: u8,
        /// Wanted.
        wanted: u8,
    },
    /// Less was left than wanted.
    LessInReserve {
        /// Left.
        reps: u8,
        /// Wanted.
        wanted: u8,
    },
    /// Fewer repetitions than the set asked for: not the time for more.
    TooFewReps {
        /// The least it asked for.
        least: u8,
    },
    /// The set was not made.
    NotMade,
    /// The spotter helped.
    Helped {
        /// With so many repetitions.
        reps: u8,
    },
    /// The form broke.
    FormBroke,
    /// The gear failed, which says nothing about the client.
    GearFailed,
    /// The next step is more than goes at once.
    StepTooBig {
        /// The next step.
        above: Mass,
        /// The most that goes at once, of the load now.
        share: PerMille,
    },
    /// There is nothing harder on this gear.
    NothingHarder,
    /// There is nothing easier on this gear.
    NothingEasier,
    /// More would be a maximal attempt.
    NearMax,
    /// The load cannot be put on this gear (any more).
    NotOnGear {
        /// That load.
        load: Load,
    },
    /// What a set was like, and how long somebody was away, is for the coach: displays that everybody can read are
    /// told this in its place.
    ForCoach,
}

/// The rule a proposal comes from; where each is published, or that it is not, stands with the rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// The coach's plan.
    Plan,
    /// The published table of loads and repetitions.
    PercentTable,
    /// That table, for repetitions and those in reserve together: derived.
    DerivedGrid,
    /// The published table of steps after each answer, for two in reserve.
    AnswerTable,
    /// That table shifted to another target: derived.
    DerivedTable,
    /// This floor's own rule for light, right and heavy.
    ThreeWords,
    /// This floor's own rule for sets that went wrong.
    Outcome,
    /// This floor's own rule for finding a first load.
    FindIt,
    /// The published 2-for-2 rule, with a published band for the step.
    TwoForTwo,
    /// Common practice without a source.
    Practice,
}

/// What is asked once more before a typed load is taken. A question, never a refusal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case", deny_unknown_fields)]
pub enum LoadQuestion {
    /// It is much harder than what the client did there last.
    FarFromLast {
        /// As typed.
        load: Load,
        /// What was done there last.
        below: Load,
    },
}

/// What a coach made of a proposal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "said", rename_all = "snake_case", deny_unknown_fields)]
pub enum CoachSaid {
    /// As proposed.
    Accept,
    /// Harder than proposed.
    Harder {
        /// By so many steps of the gear, from 1.
        steps: u8,
    },
    /// Easier than proposed.
    Easier {
        /// By so many steps of the gear, from 1.
        steps: u8,
    },
}

/// A proposal with what became of it: both are kept, so that an override can be read later.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Settled {
    /// What was proposed.
    pub proposed: Proposal,
    /// What the coach said; absent where nobody did, and then the load stays as it was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub said: Option<CoachSaid>,
    /// What is set.
    pub set: SetTo,
    /// What is done with it.
    pub work: Work,
}

impl NextReason {
    /// The reason as displays may have it that everybody can read: of how a set felt or went nothing.
    #[must_use]
    pub const fn in_public(self) -> Self {
        match self {
            Self::AsPlanned
            | Self::ShareOfMax { .. }
            | Self::ForReserve { .. }
            | Self::AsLastTime
            | Self::NeverHere
            | Self::GearFailed
            | Self::StepTooBig { .. }
            | Self::NothingHarder
            | Self::NothingEasier
            | Self::NotOnGear { .. }
            | Self::ForCoach => self,
            Self::LongAway { .. }
            | Self::OverTheGoal { .. }
            | Self::AsItShould
            | Self::NoAnswer
            | Self::FeltLight
            | Self::FeltHeavy
            | Self::MoreInReserve { .. }
            | Self::LessInReserve { .. }
            | Self::TooFewReps { .. }
            | Self::NotMade
            | Self::Helped { .. }
            | Self::FormBroke
            | Self::NearMax => Self::ForCoach,
        }
    }

    /// The reason in a sentence, masses in the unit the gear is stamped in.
    #[must_use]
    pub fn sentence(&self, language: Language, unit: MassUnit) -> String {
        capital(&say(language, "next", self, |name, value| argument(language, unit, name, value)))
    }
}

impl LoadQuestion {
    /// The question in a sentence, masses in the unit the gear is stamped in.
    #[must_use]
    pub fn sentence(&self, language: Language, unit: MassUnit) -> String {
        capital(&say(language, "question", self, |name, value| argument(language, unit, name, value)))
    }
}

/// A pin may come first in a sentence.
fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// How an argument of a reason or question reads, by its name: loads, shares, and plain numbers.
#[must_use]
pub fn argument(language: Language, unit: MassUnit, name: &str, value: &Value) -> String {
    let load = || serde_json::from_value::<Load>(value.clone()).ok();
    match (name, value.as_i64()) {
        ("load" | "above" | "below", _) => {
            load().map_or_else(|| value.to_string(), |load| load.read(language, unit))
        }
        ("share", Some(share)) => PerMille(u16::try_from(share).unwrap_or(u16::MAX)).percent(language),
        (_, _) => value.to_string(),
    }
}

//! What people say in a tap: closed lists, so that every display says them in its own language.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::{CallId, ClientId, CoachId, GroupId, StationId, TurnId};

/// How heavy a set felt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "felt", rename_all = "snake_case", deny_unknown_fields)]
pub enum Effort {
    /// Too light.
    Light,
    /// As it should be.
    Right,
    /// Too heavy.
    Heavy,
    /// Repetitions in reserve, 0 to 10.
    Rir {
        /// How many more would have been possible.
        reps: u8,
    },
}

impl Effort {
    /// The most repetitions in reserve that can be answered: RIR = 10 - RPE on a scale that ends at 10
    /// (Zourdos et al. 2016, J Strength Cond Res 30(1):267-275).
    pub const MAX_RIR: u8 = 10;
}

/// Whom a stop is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "scope", rename_all = "snake_case", deny_unknown_fields)]
pub enum Scope {
    /// One client.
    Client {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
    },
    /// One group.
    Group {
        /// Which one.
        group: GroupId,
    },
    /// Everybody on the floor.
    Floor,
}

/// How urgent a call is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CallKind {
    /// A coach, please, when there is a moment.
    CoachPlease,
    /// Somebody needs help now.
    HelpNow,
}

/// How a set ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "end", rename_all = "snake_case", deny_unknown_fields)]
pub enum Ending {
    /// All repetitions, alone.
    Complete,
    /// Fewer than the target, ended by choice.
    Short,
    /// The spotter helped with the last repetitions.
    Helped {
        /// With how many.
        reps: u8,
    },
    /// The weight could not be moved any further.
    Failed,
    /// Ended because the form broke.
    FormBroken,
    /// Ended by the equipment; never counts against the client.
    EquipmentFault,
    /// Racked at once because the group, the client or the floor was stopped; says nothing about the client.
    Stopped,
}

impl Ending {
    /// Repetitions done without help, of so many that were done at all: those with the spotter's help are the
    /// spotter's in part. Whatever else ended a set takes none away.
    #[must_use]
    pub const fn alone(self, reps: u8) -> u8 {
        match self {
            Self::Helped { reps: helped } => reps.saturating_sub(helped),
            Self::Complete
            | Self::Short
            | Self::Failed
            | Self::FormBroken
            | Self::EquipmentFault
            | Self::Stopped => reps,
        }
    }
}

/// Why a coach departs from what was planned. Kept in the journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Reason {
    /// The client asked for it.
    ClientAsked,
    /// It is safer.
    Safety,
    /// Time is short.
    ShortOfTime,
    /// Something is wrong with the gear.
    Equipment,
    /// The coach sees it so.
    CoachDecides,
}

/// What is wrong with a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Defect {
    /// A cable or pulley.
    Cable,
    /// A pin or selector.
    Pin,
    /// A bar or its sleeves.
    Bar,
    /// Plates or collars.
    Plates,
    /// A bench, seat or pad.
    Bench,
    /// Uprights, hooks or safety arms.
    Frame,
    /// It is being cleaned or the floor is wet.
    Cleaning,
    /// Something else; a note may say what.
    Other,
}

/// How much is skipped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SkipScope {
    /// This set.
    Set,
    /// This set and every later one of its exercise in this block.
    Exercise,
    /// What is left of this round.
    Round,
}

/// What is left on a bar when a group gives its stations back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BarLeft {
    /// Nothing but the bar and its collars.
    Stripped,
    /// The plates stay on, as agreed with whoever comes next.
    AsItIs,
}

/// What a coach decides about a client whose health screening is missing, old, or asks for a follow-up. Of the
/// screening itself nothing but its date and result is ever kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ScreeningDecision {
    /// Trains, as the coach answers for by name.
    Train,
    /// Is referred to a professional and does not train today.
    Refer,
    /// Does not train today.
    NotToday,
}

/// Who stands at a bar, or what does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum Spotter {
    /// A coach.
    Coach {
        /// Which one.
        coach: CoachId,
    },
    /// A coach's assistant.
    Assistant {
        /// The coach who is helped.
        coach: CoachId,
    },
    /// A client of the same group whom a coach has passed as spotter for the exercise.
    Client {
        /// Which one.
        client: ClientId,
    },
    /// Safety arms, set by the client, where the floor accepts them.
    Arms,
}

/// What a note is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "about", rename_all = "snake_case", deny_unknown_fields)]
pub enum NoteAbout {
    /// An incident at a station, to be kept and printed.
    Incident {
        /// Where.
        station: StationId,
        /// The call it belongs to, where there was one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        call: Option<CallId>,
    },
    /// A group; for coaches only.
    Group {
        /// Which one.
        group: GroupId,
    },
    /// A client of a group; for coaches only.
    Client {
        /// The group.
        group: GroupId,
        /// The client.
        client: ClientId,
    },
    /// A set that is under way or over.
    Set {
        /// Which one.
        turn: TurnId,
    },
    /// What is wrong at a station.
    Station {
        /// Which one.
        station: StationId,
    },
}

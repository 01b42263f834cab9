//! What a display can ask of the floor.
//!
//! A command names its exact target, never "the next", so that a late or doubled tap hits what was meant or
//! nothing. Which device and role it comes from is said once a connection, in `hello`.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::{CallId, CommandId, GroupId, StationId, TurnId};
use crate::units::FloorMs;

/// One tap.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Command {
    /// Made at random by the device. The same id again has no second effect and gets the same answer.
    pub id: CommandId,
    /// When the tap happened, by the display's floor time. Taken for done, reps, effort and calls if it
    /// lies within the turn and at most 120 s back; everything else happens when the floor hears of it.
    pub at: FloorMs,
    /// What is asked.
    pub act: Act,
}

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "do", rename_all = "snake_case", deny_unknown_fields)]
pub enum Act {
    /// Reserve the stations of a whole block: all of them or none.
    TakeStations {
        /// The group.
        group: GroupId,
        /// Place of the block in the session, from 0.
        block: u8,
        /// One station for each exercise, in the block's order.
        stations: Vec<StationId>,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// The coach has seen the technique set and lets the client work.
    PassTechnique {
        /// The technique set, round 0.
        turn: TurnId,
    },
    /// The load is as on the card, the same on both sides, collars on.
    ConfirmLoad {
        /// The set for which it was loaded.
        turn: TurnId,
    },
    /// The coach is at the bar and spots this set.
    Spot {
        /// The set.
        turn: TurnId,
    },
    /// Get set: the count-in begins.
    Go {
        /// The set.
        turn: TurnId,
    },
    /// Thirty seconds more. Never refused while the client is to go.
    NotYet {
        /// The set that is to wait.
        turn: TurnId,
    },
    /// The set is over and the weight is racked.
    Done {
        /// The set.
        turn: TurnId,
        /// Repetitions really done, where they differ from the target or are known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reps: Option<u8>,
        /// How it felt: the effort answer is the done tap.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        effort: Option<Effort>,
    },
    /// How a set felt, after it was said to be done.
    Effort {
        /// The set.
        turn: TurnId,
        /// The answer.
        effort: Effort,
    },
    /// The repetitions of a set, after it was said to be done.
    Reps {
        /// The set.
        turn: TurnId,
        /// How many.
        reps: u8,
    },
    /// One step lighter, from this set on. Always the client's right.
    Lighter {
        /// The set, not yet begun.
        turn: TurnId,
        /// The group's revision that the display showed.
        revision: u32,
    },
    /// Hold a group: no set starts until it is resumed. Rest goes on.
    Pause {
        /// The group.
        group: GroupId,
    },
    /// Stop: rack what is under way, start nothing.
    Stop {
        /// One group or everybody.
        scope: Scope,
    },
    /// Let a paused or stopped group go on. Always one group at a time.
    Resume {
        /// The group.
        group: GroupId,
    },
    /// Ask for a coach at a station.
    Call {
        /// The station.
        station: StationId,
        /// How urgent.
        call: CallKind,
    },
    /// A coach has taken care of a call.
    Attend {
        /// The call.
        call: CallId,
    },
    /// Wiped down: the group's stations are free again.
    FreeStations {
        /// The group.
        group: GroupId,
        /// Place of the block in the session, from 0.
        block: u8,
    },
}

impl Act {
    /// Whether a tap may come late: a display keeps it while the server cannot be reached, and sends it
    /// again with the same id.
    ///
    /// Only what states a fact about the past may: that a set is over, its repetitions, how it felt, and a
    /// call. Whatever starts, claims or changes something would hit a floor that has moved on.
    #[must_use]
    pub const fn may_come_late(&self) -> bool {
        match self {
            Self::Done { .. } | Self::Reps { .. } | Self::Effort { .. } | Self::Call { .. } => true,
            Self::TakeStations { .. }
            | Self::PassTechnique { .. }
            | Self::ConfirmLoad { .. }
            | Self::Spot { .. }
            | Self::Go { .. }
            | Self::NotYet { .. }
            | Self::Lighter { .. }
            | Self::Pause { .. }
            | Self::Stop { .. }
            | Self::Resume { .. }
            | Self::Attend { .. }
            | Self::FreeStations { .. } => false,
        }
    }
}

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

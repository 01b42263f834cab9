//! What a display can ask of the floor.
//!
//! A command names its exact target, never "the next", so that a late or doubled tap hits what was meant or
//! nothing. Which device and role it comes from is said once a connection, in `hello`.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use crate::act::Act;
use crate::ids::CommandId;
pub use crate::said::{
    BarLeft, CallKind, Defect, Effort, Ending, NoteAbout, Reason, Scope, ScreeningDecision, SkipScope,
    Spotter,
};
use crate::units::{FloorMs, Millis};

/// How long after it was recorded a tap can be taken back, by the display that made it.
pub const TAKE_BACK_WINDOW: Millis = Millis::secs(10);

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
            | Self::AskStations { .. }
            | Self::WithdrawAsk { .. }
            | Self::GiveLeave { .. }
            | Self::SwapStation { .. }
            | Self::OtherUse { .. }
            | Self::EndOtherUse { .. }
            | Self::OutOfService { .. }
            | Self::BackInService { .. }
            | Self::SetSetting { .. }
            | Self::Arrive { .. }
            | Self::WarmedUp { .. }
            | Self::Brief { .. }
            | Self::Screen { .. }
            | Self::Leave { .. }
            | Self::MakeUp { .. }
            | Self::SetRounds { .. }
            | Self::DropBlock { .. }
            | Self::EndSession { .. }
            | Self::StillHere { .. }
            | Self::PassTechnique { .. }
            | Self::ConfirmLoad { .. }
            | Self::Spot { .. }
            | Self::SpotBy { .. }
            | Self::UseArms { .. }
            | Self::PassSpotter { .. }
            | Self::Away { .. }
            | Self::Back { .. }
            | Self::HandOver { .. }
            | Self::AcceptGroup { .. }
            | Self::DeclineGroup { .. }
            | Self::Go { .. }
            | Self::MoreRest { .. }
            | Self::LessRest { .. }
            | Self::TreatAsRest { .. }
            | Self::NotYet { .. }
            | Self::Skip { .. }
            | Self::SwapExercise { .. }
            | Self::TechniqueAgain { .. }
            | Self::Correct { .. }
            | Self::Lighter { .. }
            | Self::SetLoad { .. }
            | Self::SettleLoad { .. }
            | Self::PlatesOn { .. }
            | Self::PlatesMissing { .. }
            | Self::Pause { .. }
            | Self::Stop { .. }
            | Self::Resume { .. }
            | Self::Answer { .. }
            | Self::Attend { .. }
            | Self::FreeStations { .. }
            | Self::Note { .. }
            | Self::EraseNote { .. }
            | Self::Undo { .. } => false,
        }
    }

    /// Whether a display may offer to take such a tap back, within [`TAKE_BACK_WINDOW`] of its record.
    ///
    /// The floor takes back what it knows the opposite of and what nobody has acted on by then; anything
    /// else is said anew. That a kind is taken back does not promise that this tap is: something later may
    /// rest on it, and the floor then refuses with the reason. The floor's own table of what undoes what is
    /// held against this list by a test.
    #[must_use]
    pub const fn taken_back(&self) -> bool {
        match self {
            Self::TakeStations { .. }
            | Self::AskStations { .. }
            | Self::OtherUse { .. }
            | Self::EndOtherUse { .. }
            | Self::OutOfService { .. }
            | Self::BackInService { .. }
            | Self::SetSetting { .. }
            | Self::Arrive { .. }
            | Self::Leave { .. }
            | Self::MakeUp { .. }
            | Self::SetRounds { .. }
            | Self::PassTechnique { .. }
            | Self::ConfirmLoad { .. }
            | Self::Spot { .. }
            | Self::SpotBy { .. }
            | Self::UseArms { .. }
            | Self::Away { .. }
            | Self::Back { .. }
            | Self::HandOver { .. }
            | Self::Go { .. }
            | Self::MoreRest { .. }
            | Self::NotYet { .. }
            | Self::Done { .. }
            | Self::Correct { .. }
            | Self::Effort { .. }
            | Self::Reps { .. }
            | Self::Pause { .. }
            | Self::Call { .. } => true,
            Self::WithdrawAsk { .. }
            | Self::GiveLeave { .. }
            | Self::SwapStation { .. }
            | Self::WarmedUp { .. }
            | Self::Brief { .. }
            | Self::Screen { .. }
            | Self::DropBlock { .. }
            | Self::EndSession { .. }
            | Self::StillHere { .. }
            | Self::PassSpotter { .. }
            | Self::AcceptGroup { .. }
            | Self::DeclineGroup { .. }
            | Self::LessRest { .. }
            | Self::TreatAsRest { .. }
            | Self::Skip { .. }
            | Self::SwapExercise { .. }
            | Self::TechniqueAgain { .. }
            | Self::Lighter { .. }
            | Self::SetLoad { .. }
            | Self::SettleLoad { .. }
            | Self::PlatesOn { .. }
            | Self::PlatesMissing { .. }
            | Self::Stop { .. }
            | Self::Resume { .. }
            | Self::Answer { .. }
            | Self::Attend { .. }
            | Self::FreeStations { .. }
            | Self::Note { .. }
            | Self::EraseNote { .. }
            | Self::Undo { .. } => false,
        }
    }
}

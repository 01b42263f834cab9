//! What one display must show: complete, small, and cut to what its role may see.
//!
//! A view holds instants, not countdowns, and says nothing that time alone changes: a display derives
//! get-set, count-in, working, rest and overtime from the instants and its own floor time, so that it goes
//! on being right when the network is not.

mod admission;
mod board;
mod briefing_sheet;
mod choice;
mod clock;
mod coach;
mod common;
mod cues;
mod happening;
mod note;
mod promise;
mod proposal;
mod ribbon;
mod session_sheet;
mod sets;
mod station;
mod station_more;
mod summary;
mod turn;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use admission::{AdmissionPart, LongerPart, TooLargePart};
pub use board::{BoardGroup, BoardView};
pub use briefing_sheet::{BriefingBlock, BriefingExercise, BriefingInstead, BriefingSheet};
pub use choice::{
    BarChoice, ExerciseChoice, ExerciseName, FitOffer, FitPart, LegChoices, PlaceChoice, PlateChoice,
    SettingChoice, StationPlates, StationSettings,
};
pub use clock::ClockPart;
pub use coach::{
    BlockPart, CoachClient, CoachGroup, CoachLine, CoachView, DEED_TOLD_FOR, Deed, DeedPart, ExpectedTap,
    LastPart, OfferPart, WaitPart,
};
pub use common::{
    Attendance, CallPart, ClientPart, Emergency, HaltKind, HaltPart, HelpPart, OtherUsePart, OutPart, Stage,
};
pub use cues::{Breathing, CuesPart, PhaseWords};
pub use happening::{HappenedPart, Happening, TOLD_FOR};
pub use note::{ErasedPart, NotePart, NoteSheet, NoteText, NotesPart};
pub use promise::{CoachTask, PromisePart, RunRow, StartPart};
pub use proposal::ProposalPart;
pub use ribbon::{RestWindow, RibbonIs, RibbonSet};
pub use session_sheet::{
    SessionSheet, SheetBlock, SheetClient, SheetElsewhere, SheetExercise, SheetOver, SheetSet, SheetSetting,
    SheetSettings,
};
pub use sets::{SaidPart, SetPart, SetsPart};
pub use station::{
    AskEffort, ClaimPart, LapsePart, NextPart, PartnerPart, StationLine, StationPart, StationState,
    StationView,
};
pub use station_more::{FinishedPart, FreePart, JobsPart, LeavingPart, LoadNextTime};
pub use summary::{
    ClientSummary, NextTimePart, NotCounted, RestKept, RestPart, SheetNote, SummarySet, SummarySheet,
    VolumePart,
};
pub use turn::{After, Need, SetName, SettingPart, StartsWith, ThenPart, TurnPart, TurnPhase};

/// Everything one display shows.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum View {
    /// The face of one to four stations.
    Station(StationView),
    /// Every group at a glance.
    Board(BoardView),
    /// One coach's page.
    Coach(CoachView),
}

/// Whether a count is left out because there is nothing to count.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks with a reference")]
pub(crate) const fn is_zero(count: &u8) -> bool {
    *count == 0
}

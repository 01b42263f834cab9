//! What one display must show: complete, small, and cut to what its role may see.
//!
//! A view holds instants, not countdowns, and says nothing that time alone changes: a display derives
//! get-set, count-in, working, rest and overtime from the instants and its own floor time, so that it goes
//! on being right when the network is not.

mod board;
mod coach;
mod common;
mod station;
mod turn;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use board::{BoardGroup, BoardView};
pub use coach::{BlockPart, CoachClient, CoachGroup, CoachLine, CoachView, ExpectedTap, LastPart};
pub use common::{CallPart, ClientPart, Emergency, HaltKind, HaltPart, HelpPart, Stage};
pub use station::{AskEffort, ClaimPart, NextPart, StationLine, StationPart, StationState, StationView};
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

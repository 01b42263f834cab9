//! What happened: results, never the seeds or inputs that led to them.

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{CallKind, Effort};
use turnabout_protocol::ids::{CallId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass, Millis};

use super::config::{Floor, Programme};

/// One entry of the journal.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// Its place, from 1 without a gap.
    pub sequence: u64,
    /// When the floor took it down; never goes back.
    pub recorded: FloorMs,
    /// When it happened, as the one who did it says.
    pub at: FloorMs,
    /// Who did it.
    pub by: Actor,
    /// What happened.
    pub event: Event,
}

/// What happened.
///
/// A kind never changes its meaning: a new one gets a new name, an old shape is lifted by an upcaster.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Event {
    /// The floor is as its file says.
    FloorSet(Box<Floor>),
    /// The evening is as the programme says.
    ProgrammeSet(Box<Programme>),
    /// Floor time `at` is this instant of UTC, and clocks at the floor are so far from it from then on.
    ClockMapped {
        /// Milliseconds since 1970-01-01T00:00:00Z.
        utc_ms: i64,
        /// Seconds east of UTC.
        offset_secs: i32,
    },
    /// The server was down and runs again.
    Resumed {
        /// For how long it was down.
        down: Millis,
    },
    /// A group reserved the stations of a block, all of them.
    StationsTaken {
        /// The group.
        group: GroupId,
        /// Its block.
        block: u8,
        /// One station for each exercise.
        stations: Vec<StationId>,
    },
    /// The coach passed a technique set.
    TechniquePassed {
        /// The technique set.
        turn: TurnId,
    },
    /// Load, equal sides and collars were confirmed.
    LoadConfirmed {
        /// For which set.
        turn: TurnId,
        /// On which station.
        station: StationId,
        /// What is on it.
        load: Mass,
    },
    /// A coach is at the bar.
    SpotterNamed {
        /// For which set.
        turn: TurnId,
        /// Who.
        coach: CoachId,
    },
    /// GO.
    TurnWent {
        /// The set.
        turn: TurnId,
        /// Where.
        station: StationId,
        /// When the 3-2-1 begins.
        count_in: FloorMs,
        /// When the first repetition starts.
        starts: FloorMs,
        /// When it is prescribed to end.
        ends: FloorMs,
        /// Target repetitions.
        reps: u8,
        /// The load.
        load: Option<Mass>,
        /// Who spots it.
        spotter: Option<CoachId>,
    },
    /// A set that had not started was taken back.
    TurnCalledOff {
        /// The set.
        turn: TurnId,
    },
    /// NOT YET.
    StartPutOff {
        /// The set.
        turn: TurnId,
        /// When the client will be told to be ready.
        ready: FloorMs,
    },
    /// A set came to its prescribed end and nobody has said anything.
    TurnAssumed {
        /// The set.
        turn: TurnId,
    },
    /// A set is over and racked.
    TurnDone {
        /// The set.
        turn: TurnId,
        /// When it ended.
        ended: FloorMs,
        /// Repetitions done.
        reps: u8,
        /// How it felt.
        effort: Option<Effort>,
    },
    /// How a set felt, said later.
    EffortGiven {
        /// The set.
        turn: TurnId,
        /// The answer.
        effort: Effort,
    },
    /// The repetitions of a set, said later.
    RepsCorrected {
        /// The set.
        turn: TurnId,
        /// How many.
        reps: u8,
    },
    /// A lighter load from a set on.
    LoadLightened {
        /// The set; a technique set lightens technique sets only.
        turn: TurnId,
        /// The load from now on.
        load: Mass,
    },
    /// All sets of a block are done.
    SetsFinished {
        /// The group.
        group: GroupId,
        /// Its block.
        block: u8,
    },
    /// A group's stations are free again; it goes on to its next block or is finished.
    StationsFreed {
        /// The group.
        group: GroupId,
        /// Its block.
        block: u8,
    },
    /// A group is held; what is under way goes on.
    GroupPaused {
        /// The group.
        group: GroupId,
    },
    /// A group is stopped; what is under way is racked.
    GroupStopped {
        /// The group.
        group: GroupId,
    },
    /// A coach let a group go on.
    GroupResumed {
        /// The group.
        group: GroupId,
    },
    /// Somebody at a station asked for a coach.
    CallMade {
        /// The call.
        call: CallId,
        /// Where.
        station: StationId,
        /// How urgent.
        urgency: CallKind,
    },
    /// A coach took care of a call.
    CallAttended {
        /// The call.
        call: CallId,
    },
}

impl Event {
    /// Every name there is in the journal.
    pub const KINDS: [&'static str; 23] = [
        "floor_set",
        "programme_set",
        "clock_mapped",
        "resumed",
        "stations_taken",
        "technique_passed",
        "load_confirmed",
        "spotter_named",
        "turn_went",
        "turn_called_off",
        "start_put_off",
        "turn_assumed",
        "turn_done",
        "effort_given",
        "reps_corrected",
        "load_lightened",
        "sets_finished",
        "stations_freed",
        "group_paused",
        "group_stopped",
        "group_resumed",
        "call_made",
        "call_attended",
    ];

    /// Its name in the journal.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::FloorSet(_) => "floor_set",
            Self::ProgrammeSet(_) => "programme_set",
            Self::ClockMapped { .. } => "clock_mapped",
            Self::Resumed { .. } => "resumed",
            Self::StationsTaken { .. } => "stations_taken",
            Self::TechniquePassed { .. } => "technique_passed",
            Self::LoadConfirmed { .. } => "load_confirmed",
            Self::SpotterNamed { .. } => "spotter_named",
            Self::TurnWent { .. } => "turn_went",
            Self::TurnCalledOff { .. } => "turn_called_off",
            Self::StartPutOff { .. } => "start_put_off",
            Self::TurnAssumed { .. } => "turn_assumed",
            Self::TurnDone { .. } => "turn_done",
            Self::EffortGiven { .. } => "effort_given",
            Self::RepsCorrected { .. } => "reps_corrected",
            Self::LoadLightened { .. } => "load_lightened",
            Self::SetsFinished { .. } => "sets_finished",
            Self::StationsFreed { .. } => "stations_freed",
            Self::GroupPaused { .. } => "group_paused",
            Self::GroupStopped { .. } => "group_stopped",
            Self::GroupResumed { .. } => "group_resumed",
            Self::CallMade { .. } => "call_made",
            Self::CallAttended { .. } => "call_attended",
        }
    }
}

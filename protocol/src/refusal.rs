//! What the floor answers to a command: closed enums with arguments, so that every display can say it in its
//! own language.
//!
//! Arguments hold ids and instants, never names: a display puts in the names it may know
//! (see [`crate::text`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::{GroupId, StationId, TurnId};
use crate::role::Actor;
use crate::units::{FloorMs, Mass};

/// The floor's answer to one command.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "outcome", rename_all = "snake_case", deny_unknown_fields)]
pub enum Outcome {
    /// It happened and is on disk.
    Accepted {
        /// When the floor took it down.
        recorded: FloorMs,
    },
    /// Somebody had done the same before: nothing more happened, and that is no error.
    Already {
        /// Who.
        by: Actor,
        /// When.
        when: FloorMs,
    },
    /// Nothing happened.
    Refused {
        /// Why, and so what would make it acceptable.
        refusal: Refusal,
    },
}

/// Why a command had no effect.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case", deny_unknown_fields)]
pub enum Refusal {
    /// This role may not do that.
    RoleMayNot,
    /// The target belongs to stations or groups that this display does not serve.
    NotHere,
    /// No such station on this floor.
    UnknownStation,
    /// No such group.
    UnknownGroup,
    /// No such set in the group's block.
    UnknownTurn,
    /// No such call.
    UnknownCall,
    /// The display showed an older state of the group.
    StaleRevision {
        /// The group's revision now.
        revision: u32,
    },
    /// The group is not waiting for stations.
    NotWaiting,
    /// Not one station for each exercise.
    StationCount {
        /// How many exercises the block has.
        wanted: u8,
    },
    /// The exercise cannot be done at that station.
    StationUnfit {
        /// The station.
        station: StationId,
    },
    /// Another group has reserved it.
    StationTaken {
        /// The station.
        station: StationId,
        /// Who has it.
        group: GroupId,
    },
    /// The group has reserved no stations.
    NotReserved,
    /// Another set of the same client comes first.
    NotNext {
        /// The one that comes first.
        turn: TurnId,
    },
    /// The set is over.
    Over,
    /// The set is under way.
    UnderWay,
    /// The set has not begun.
    NotBegun,
    /// Somebody is on the station.
    StationBusy {
        /// The station.
        station: StationId,
        /// Whose set.
        turn: TurnId,
    },
    /// The rest is shorter than its minimum until then.
    RestNotOver {
        /// When the set may start.
        until: FloorMs,
    },
    /// The technique set of this exercise has not been done.
    TechniqueNotDone,
    /// The coach has not passed the technique set.
    TechniqueNotPassed,
    /// The set is not a technique set.
    NoTechniqueSet,
    /// Load, equal sides and collars have not been confirmed since the last change.
    LoadNotConfirmed,
    /// Nothing on this station needs confirming.
    NothingToConfirm,
    /// The set needs a spotter at the bar.
    NeedsSpotter,
    /// The set is not spotted.
    NotSpotted,
    /// The coach is spotting another bar until it is racked.
    SpotterBusy {
        /// The set that is being spotted.
        turn: TurnId,
    },
    /// The same client's set before was only assumed to be over: its bar must be said to be racked.
    NotRacked {
        /// That set.
        turn: TurnId,
    },
    /// There is no lighter load on this gear.
    AtLightest {
        /// The lightest.
        load: Mass,
    },
    /// The exercise has no load to lighten.
    NoLoad,
    /// The group is paused.
    Paused,
    /// The group is stopped; a coach resumes it.
    Stopped,
    /// The group is neither paused nor stopped.
    NotHalted,
    /// Sets are still to be done on these stations.
    SetsLeft,
    /// So many repetitions cannot be.
    RepsRange {
        /// The most that can be said.
        most: u8,
    },
    /// So many repetitions in reserve cannot be.
    EffortRange {
        /// The most that can be said.
        most: u8,
    },
    /// The tap is older than twelve hours.
    TooOld,
    /// The tap's time lies in the future.
    InFuture,
    /// The same command id came before with other content.
    ReusedId,
    /// Too much at once: try again in a moment.
    Busy,
    /// The server cannot write at the moment; it resumes by itself.
    NotSaving {
        /// What is wrong with writing.
        writing: WriteTrouble,
    },
    /// A fault of the server; nothing happened.
    Internal,
}

/// What keeps the server from writing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WriteTrouble {
    /// The disk is full.
    DiskFull,
    /// The disk answers with errors.
    DiskFault,
}

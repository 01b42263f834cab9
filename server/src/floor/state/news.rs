//! What has happened lately, for the wall: numbers only, and few of them.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{Defect, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

/// Kept at most: what a wall shows, and as much again where the latest is taken back.
pub const MOST_NEWS: usize = 10;

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct NewsItem {
    /// When it was taken down.
    pub at: FloorMs,
    /// What.
    pub news: News,
}

/// What happened that others on the floor wonder about.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum News {
    /// A client came when the others of the group had begun.
    CameLate(ClientId),
    /// A client who had left is there again.
    CameBack(ClientId),
    /// A client has left.
    Left(ClientId),
    /// Somebody of the public uses a station.
    OtherUseBegan(StationId),
    /// That is over.
    OtherUseEnded(StationId),
    /// A station must not be used.
    OutOfService(StationId, Defect),
    /// It may be used again.
    BackInService(StationId),
    /// Plates are missing there.
    PlatesMissing(StationId),
    /// Some that were missing are back.
    PlatesBack(StationId),
    /// Another coach is responsible.
    HandedOver {
        /// For which group.
        group: GroupId,
        /// Who was.
        from: CoachId,
        /// Who is.
        to: CoachId,
    },
    /// A spotter helped with the last repetitions.
    SpotterHelped {
        /// Of which set.
        turn: TurnId,
        /// Who.
        spotter: Option<Spotter>,
    },
    /// A client does another exercise instead.
    ExerciseSwapped {
        /// Who.
        client: ClientId,
        /// What was to be done.
        from: ExerciseId,
        /// What is done.
        to: ExerciseId,
    },
    /// A group goes on at another station.
    StationSwapped {
        /// Who.
        group: GroupId,
        /// Where it was.
        from: StationId,
        /// Where it is.
        to: StationId,
    },
    /// Groups were stopped, all at once and by one.
    Stopped {
        /// Which.
        groups: BTreeSet<GroupId>,
        /// By whom.
        by: Actor,
    },
    /// One client was stopped.
    ClientStopped(ClientId),
    /// A group goes on.
    Resumed(GroupId),
    /// One client goes on.
    ClientResumed(ClientId),
    /// Nobody of a group answered: its stations are free.
    StationsGivenAway(GroupId),
    /// A group went before others who wait.
    WentBefore(GroupId),
}

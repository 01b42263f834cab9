//! What has happened on the floor lately, for whoever looks at the wall and wonders.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::said::Defect;
use crate::units::{FloorMs, Secs};
use crate::words::Words;

/// How long a wall tells of something: who looks later than ten minutes has either seen it or no use for it, and
/// a wall full of old news is not read.
pub const TOLD_FOR: Secs = Secs(600);

/// Something that happened lately.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HappenedPart {
    /// When the floor took it down.
    pub at: FloorMs,
    /// What.
    pub what: Happening,
}

/// What happened, with the names as a display shows them, exercises in every language. Nothing here is anybody's
/// fault or effort: who did not come, what a set felt like and what a screening says is nobody's business but the
/// coach's.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "happened", rename_all = "snake_case", deny_unknown_fields)]
pub enum Happening {
    /// A client came when the others of the group had begun.
    CameLate {
        /// The client.
        client: String,
    },
    /// A client who had left is there again.
    CameBack {
        /// The client.
        client: String,
    },
    /// A client has left; the group goes on.
    Left {
        /// The client.
        client: String,
    },
    /// Somebody of the public uses a station.
    OtherUseBegan {
        /// The station.
        station: String,
    },
    /// The public's use of a station is over.
    OtherUseEnded {
        /// The station.
        station: String,
    },
    /// A station must not be used.
    OutOfService {
        /// The station.
        station: String,
        /// What is wrong.
        defect: Defect,
    },
    /// A station may be used again.
    BackInService {
        /// The station.
        station: String,
    },
    /// Plates of a station are missing: loads may be others.
    PlatesMissing {
        /// The station.
        station: String,
    },
    /// Plates that were missing are back.
    PlatesBack {
        /// The station.
        station: String,
    },
    /// Another coach is responsible for a group.
    HandedOver {
        /// The clients of the group.
        group: String,
        /// Who was responsible.
        from: String,
        /// Who is.
        to: String,
    },
    /// A spotter helped with the last repetitions of a set.
    SpotterHelped {
        /// Who lifted.
        client: String,
        /// Who helped; absent where nobody was named.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        spotter: Option<String>,
    },
    /// A client does another exercise instead.
    ExerciseSwapped {
        /// The client.
        client: String,
        /// What was to be done.
        from: Words,
        /// What is done.
        to: Words,
    },
    /// A group goes on at another station.
    StationSwapped {
        /// The clients of the group.
        group: String,
        /// Where it was.
        from: String,
        /// Where it is.
        to: String,
    },
    /// A client or a group is stopped.
    Stopped {
        /// Who.
        who: String,
    },
    /// Every group is stopped.
    FloorStopped,
    /// A client or a group goes on.
    Resumed {
        /// Who.
        who: String,
    },
    /// Nobody of a group answered: its stations are free.
    StationsGivenAway {
        /// The clients of the group.
        group: String,
    },
    /// A group went before others who wait, because its coach decided so.
    WentBefore {
        /// The clients of the group.
        group: String,
    },
}

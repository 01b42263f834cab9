//! Why a coming set is to start when people are told that it does.
//!
//! No sentence crosses the wire: a reason is a closed enum with arguments, said under `start.` of the catalogues (see
//! [`crate::text`]). It is the one thing that truly binds, and it names nobody: whoever spots stands beside it, and whose
//! set comes before at a station is seen there.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::{FloorMs, Secs};

/// Why a set does not start earlier.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case", deny_unknown_fields)]
pub enum StartReason {
    /// Nothing stands in its way.
    Ready,
    /// The client walks over from the exercise before.
    Way,
    /// The client rests.
    Rest,
    /// The client asked for more time.
    PutOff,
    /// Another set is done at the station before.
    StationInUse,
    /// The load is changed.
    LoadChange {
        /// How long that takes.
        takes: Secs,
    },
    /// Whoever spots is at another bar before.
    SpotterBusy,
    /// Whoever spots is away.
    SpotterAway {
        /// Until about then.
        until: FloorMs,
    },
    /// Somebody of the public uses the station, or it cannot be used for another reason.
    OtherUse {
        /// Until about then.
        until: FloorMs,
    },
    /// Others of the group come first.
    Turns,
    /// A later start leaves everybody the rest that they should have.
    Later,
}

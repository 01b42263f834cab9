//! What people have been told of coming sets.

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{StationId, TurnId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::units::FloorMs;

/// What has been told of a client's coming set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Promise {
    /// Which set: always the client's next.
    pub turn: TurnId,
    /// Where.
    pub station: StationId,
    /// Who spots it; nobody where none is needed.
    pub spotter: Option<Spotter>,
    /// From when the client may go: GO is for somebody to say.
    pub start: FloorMs,
    /// Whether that is about then only. Else it was told to the second; what journals say nothing of was.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub about: bool,
    /// Why not earlier.
    pub reason: StartReason,
}

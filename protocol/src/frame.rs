//! The frames of the socket: JSON text, one object a frame, told apart by `frame`.
//!
//! A display opens with `hello`; the server answers `welcome` and then sends the display's view whenever its
//! content changes. See [`limits`] for sizes and counts.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::command::Command;
use crate::ids::{CommandId, DeviceId};
use crate::refusal::Outcome;
use crate::role::{Role, Topic};
use crate::units::FloorMs;
use crate::view::View;

/// The version of this wire format. Both sides must have the same.
pub const PROTOCOL: u32 = 2;

/// Bounds of the wire, each with its reason.
pub mod limits {
    /// Bytes of a frame to the server: every command fits several times.
    pub const FRAME_TO_SERVER: usize = 4 * 1024;
    /// Bytes of a frame to a display. The largest is the page of a coach: with twelve groups of four on thirty
    /// stations, every name as long as a name may be, a set under way wherever one can be, a call from every
    /// station and all choices it takes 255,986 (the board of that floor 96,096, four stations 11,415). A test on
    /// the server builds that floor.
    pub const FRAME_TO_DISPLAY: usize = 256 * 1024;
    /// Commands of one socket without an answer: more than one person can tap before the first answer.
    pub const UNANSWERED: usize = 8;
    /// Time questions of the burst after connecting.
    pub const TIME_BURST: usize = 16;
    /// Milliseconds of real time between time questions after the burst.
    pub const TIME_EVERY_MS: u64 = 2_000;
}

/// What a display sends.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "frame", rename_all = "snake_case", deny_unknown_fields)]
pub enum ToServer {
    /// The first frame: who speaks, and what to watch.
    Hello {
        /// [`PROTOCOL`] of the display.
        protocol: u32,
        /// The device.
        device: DeviceId,
        /// The part it plays.
        role: Role,
        /// What it watches.
        topic: Topic,
    },
    /// A tap.
    Command(Command),
    /// A question for the time (RFC 5905, section 8).
    Time {
        /// The display's own clock when it asked, in milliseconds of floor rate.
        t1: i64,
    },
}

/// What the server sends.
#[expect(clippy::large_enum_variant, reason = "nearly every frame is a view, and none is kept in bulk")]
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "frame", rename_all = "snake_case", deny_unknown_fields)]
pub enum ToDisplay {
    /// The answer to a `hello` that is in order.
    Welcome {
        /// [`PROTOCOL`] of the server.
        protocol: u32,
        /// Made anew at every start of the server: a display drops clock samples of an older one.
        epoch: Uuid,
        /// Floor milliseconds a real millisecond: 1; 10 in a fast demo; 0 where a test drives the clock.
        rate: u32,
        /// Floor time now.
        now: FloorMs,
    },
    /// What to show from now on.
    View {
        /// What was asked for.
        topic: Topic,
        /// Newer replaces older; a new epoch always replaces.
        revision: Revision,
        /// Floor time at which this was known to be so.
        as_of: FloorMs,
        /// The content.
        view: View,
    },
    /// The answer to a command.
    Answer {
        /// The command.
        id: CommandId,
        /// What became of it.
        answer: Outcome,
    },
    /// The answer to a question for the time.
    Time {
        /// As asked.
        t1: i64,
        /// Floor time when the question arrived.
        t2: FloorMs,
        /// Floor time when this answer left.
        t3: FloorMs,
    },
    /// Floor time was moved by hand (rate 0 only): taken at once.
    Clock {
        /// Floor time now.
        now: FloorMs,
    },
    /// A frame could not be taken. Nothing happened because of it.
    Fault {
        /// Why.
        fault: Fault,
    },
}

/// Which state of the floor a view shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Revision {
    /// The server's start.
    pub epoch: Uuid,
    /// The last journal entry it includes.
    pub sequence: u64,
    /// The number of the timetable it includes, from 0 at each start.
    pub plan: u64,
}

impl Revision {
    /// Whether a display that shows `self` must take `other` instead.
    #[must_use]
    pub fn gives_way_to(&self, other: &Self) -> bool {
        self.epoch != other.epoch || (other.sequence, other.plan) > (self.sequence, self.plan)
    }
}

/// Why a frame could not be taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "fault", rename_all = "snake_case", deny_unknown_fields)]
pub enum Fault {
    /// Not JSON text of a known shape. The socket lives on.
    Malformed {
        /// Line of the frame, from 1.
        line: u32,
        /// Column in that line, from 1.
        column: u32,
    },
    /// Not text. The socket lives on.
    NotText,
    /// Longer than [`limits::FRAME_TO_SERVER`]. The socket is closed (1009).
    Oversize,
    /// Another version of the wire format. The socket is closed (1008).
    Version {
        /// The server's.
        supported: u32,
        /// The display's.
        found: u32,
    },
    /// The first frame must be `hello`. The socket is closed (1008).
    HelloFirst,
    /// `hello` came a second time. The socket lives on.
    HelloTwice,
    /// No `hello` in time. The socket is closed (1008).
    HelloLate,
    /// No such station or coach on this floor. The socket is closed (1008).
    UnknownTopic,
    /// That role may not watch that. The socket is closed (1008).
    TopicNotAllowed,
    /// Frames come faster than anybody taps. The socket is closed (1008).
    Flood,
    /// The server has as many sockets as it takes. The socket is closed (1008).
    Full,
}

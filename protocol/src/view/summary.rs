//! What the clients of a group have done this evening, on sheets of paper. An answer over HTTP, no view.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{NotePart, SetName};
use crate::card::GearKind;
use crate::command::{Effort, Ending};
use crate::ids::{ClientId, GroupId, TurnId};
use crate::load::Load;
use crate::next::Proposal;
use crate::units::{MassUnit, Secs};
use crate::words::Words;
use crate::work::Work;

/// The evening of a group, one client after the other.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SummarySheet {
    /// The floor's name.
    pub floor: String,
    /// The group.
    pub group: GroupId,
    /// The coach who is responsible, by name.
    pub coach: String,
    /// Its clients, in the order in which they go.
    pub clients: Vec<ClientSummary>,
}

/// The evening of one client.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClientSummary {
    /// The client.
    pub client: ClientId,
    /// The client's name.
    pub name: String,
    /// What was done, the earliest first.
    pub sets: Vec<SummarySet>,
    /// How much was moved, and how fast.
    pub volume: VolumePart,
    /// What the floor would propose the next time at the same stations; only where it knows something.
    pub next: Vec<NextTimePart>,
    /// Notes about the client, the client's sets and the group: on the coach's copy alone.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<SheetNote>,
}

/// A note on a sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetNote {
    /// The note, whole.
    pub note: NotePart,
    /// When it was written, as RFC 3339 with the offset of clocks at the floor.
    pub written: String,
}

/// A set that was done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SummarySet {
    /// The set.
    pub turn: TurnId,
    /// Which one of its block.
    pub set: SetName,
    /// The exercise's name.
    pub exercise: Words,
    /// Where it was done; absent where the floor has no such station any more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station: Option<String>,
    /// What its load was set on: of dumbbells the load is one of a pair.
    pub gear: GearKind,
    /// The unit stamped there.
    pub unit: MassUnit,
    /// What it asked for.
    pub work: Work,
    /// Done once for each side: the repetitions are those of one.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub per_side: bool,
    /// When the first repetition started, as RFC 3339 with the offset of clocks at the floor.
    pub started: String,
    /// When it ended.
    pub ended: String,
    /// Repetitions done, those with help among them; absent where nobody has said how many there were of a set that
    /// was stopped.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reps: Option<u8>,
    /// The load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<Load>,
    /// How it felt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub effort: Option<Effort>,
    /// How it ended.
    pub ending: Ending,
    /// The rest before it; absent where none was due.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest: Option<RestPart>,
    /// Why it is not among the volume load; absent where it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_counted: Option<NotCounted>,
}

/// A rest before a working round, from the end of the last set to the first repetition.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RestPart {
    /// How long it was, to the second.
    pub length: Secs,
    /// Its longest on purpose, where it went beyond the block's longest and the client or a coach had put the set
    /// off beyond that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub put_off: Option<Secs>,
    /// Whether it was as the block asks, or as was said instead.
    pub kept: RestKept,
}

/// Whether a rest was as its block asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum RestKept {
    /// No shorter than the shortest, no longer than the longest or than it was put off.
    Kept,
    /// Longer than the longest, and than it was put off.
    Over {
        /// By so much.
        by: Secs,
    },
    /// Shorter than the shortest, which a coach has said.
    Short {
        /// By so much.
        by: Secs,
    },
}

/// Why a set is not among the volume load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NotCounted {
    /// A light set before the working sets.
    Light,
    /// The load was a pin, and nobody knows what that weighs.
    Pin,
    /// The gear carried part of the body: more of it is less work.
    Assisted,
    /// A position was held: there are no repetitions to multiply by.
    Hold,
    /// No load was set, or none on top of the body.
    NoLoad,
    /// The set was stopped, and nobody has said how many repetitions there were.
    RepsUnknown,
}

/// How much a client moved this evening, and how fast. Numbers are decimal, with a point and no more than two
/// decimals, because nanograms of some tonnes are more than a page's numbers hold.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VolumePart {
    /// Load times repetitions, summed over the sets that count; absent where none does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<String>,
    /// The same for each minute from the first repetition of the first working set to the last of the last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub per_minute: Option<String>,
    /// In which unit.
    pub unit: MassUnit,
    /// That time; absent where no working set was done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elapsed: Option<Secs>,
    /// Working sets that count.
    pub counted: u16,
    /// Working sets that do not.
    pub left_out: u16,
}

/// What would be proposed for an exercise at the same station the next time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NextTimePart {
    /// The exercise's name.
    pub exercise: Words,
    /// The station's name.
    pub station: String,
    /// What sets the load there.
    pub gear: GearKind,
    /// The unit stamped there.
    pub unit: MassUnit,
    /// The load, the work it is meant for, and why.
    pub proposal: Proposal,
}

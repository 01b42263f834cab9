//! Notes: what coaches wrote down about their groups and about stations. For coaches alone.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Emergency;
use crate::command::NoteAbout;
use crate::ids::NoteId;
use crate::role::Actor;
use crate::units::FloorMs;
use crate::words::Words;

/// A note.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NotePart {
    /// The note.
    pub note: NoteId,
    /// What it is about.
    pub about: NoteAbout,
    /// Who wrote it.
    pub by: Actor,
    /// When it was written.
    pub at: FloorMs,
    /// What it says.
    pub text: NoteText,
}

/// What a note says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum NoteText {
    /// All of it.
    Whole {
        /// The text.
        text: String,
    },
    /// Its beginning: a view carries no more, the sheet of the note has all of it.
    Begins {
        /// The first characters.
        text: String,
    },
    /// It was erased; that there was a note stays.
    Erased {
        /// Who erased it and when; absent where that was done in the journal itself.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        erased: Option<ErasedPart>,
    },
}

/// Who erased a text, and when.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ErasedPart {
    /// Who.
    pub by: Actor,
    /// When.
    pub at: FloorMs,
}

/// The notes of the evening that concern a coach, whole, the latest first. An answer over HTTP, no view.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NotesPart {
    /// The notes.
    pub notes: Vec<NotePart>,
}

/// One note on a sheet of paper: everything in words and clock times. An answer over HTTP, no view.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NoteSheet {
    /// The floor's name.
    pub floor: String,
    /// What to do in an emergency there.
    pub emergency: Emergency,
    /// The note, whole.
    pub note: NotePart,
    /// When it was written, as RFC 3339 with the offset of clocks at the floor.
    pub written: String,
    /// Who wrote it: a coach, or the coach whose assistant did.
    pub author: String,
    /// The station, where it is about one or about a set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station: Option<String>,
    /// The clients it is about; empty for a station and an incident.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub clients: Vec<String>,
    /// The exercise, where it is about a set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exercise: Option<Words>,
}

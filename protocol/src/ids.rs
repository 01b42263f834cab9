//! What things are called on the wire and in the journal: small numbers, never names.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

macro_rules! number_id {
    ($(#[$doc:meta])* $name:ident($inner:ty)) => {
        $(#[$doc])*
        #[derive(
            Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
        )]
        #[serde(transparent)]
        pub struct $name(pub $inner);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    };
}

number_id! {
    /// A station of the floor: a place where one person works at a time.
    StationId(u16)
}
number_id! {
    /// A coach of the floor.
    CoachId(u16)
}
number_id! {
    /// A client. Display names live in an erasable table; everything else knows this number only.
    ClientId(u32)
}
number_id! {
    /// A group of clients coached together.
    GroupId(u32)
}
number_id! {
    /// An exercise of the floor's catalogue.
    ExerciseId(u16)
}
number_id! {
    /// A call for help from a station, numbered through the life of the journal.
    CallId(u32)
}

number_id! {
    /// A note somebody wrote, numbered through the life of the journal. Its text can be erased.
    NoteId(u32)
}

/// One client's set of one exercise in one round: what occupies a station.
///
/// Commands always name the turn they mean, never "the next one", so that a late or doubled tap cannot hit
/// another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TurnId {
    /// The group.
    pub group: GroupId,
    /// The client.
    pub client: ClientId,
    /// Place of the block in the session, from 0.
    pub block: u8,
    /// 0 is the round of technique sets; working rounds count from 1.
    pub round: u8,
    /// Place of the exercise in the block, from 0.
    pub leg: u8,
}

/// The name of a station, coach or exercise in files, addresses and topics: 1 to 32 of `a-z`, `0-9`, `-`,
/// beginning with a letter.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "String", into = "String")]
#[schemars(with = "String")]
pub struct Key(String);

/// Why a text is not a [`Key`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("1 to 32 of a-z, 0-9 and -, beginning with a letter")]
pub struct KeyError;

impl Key {
    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for Key {
    type Err = KeyError;
    fn from_str(text: &str) -> Result<Self, KeyError> {
        let fits = (1..=32).contains(&text.len())
            && text.starts_with(|c: char| c.is_ascii_lowercase())
            && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        if fits { Ok(Self(text.to_owned())) } else { Err(KeyError) }
    }
}

impl TryFrom<String> for Key {
    type Error = KeyError;
    fn try_from(text: String) -> Result<Self, KeyError> {
        text.parse()
    }
}

impl From<Key> for String {
    fn from(key: Key) -> Self {
        key.0
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A kiosk, phone or browser. Made at random by the device and kept by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct DeviceId(pub Uuid);

/// One tap. Made at random by the device; sending it again with the same id has no second effect.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct CommandId(pub Uuid);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_short_and_plain() {
        for good in ["a", "bench-1", "row-2x"] {
            assert_eq!(good.parse::<Key>().map(String::from).as_deref(), Ok(good));
        }
        for bad in ["", "1bench", "-a", "Bench", "bench 1", "b\u{e9}nch", &"a".repeat(33), "a,b", "a/b"] {
            assert_eq!(bad.parse::<Key>(), Err(KeyError), "{bad:?}");
        }
    }
}

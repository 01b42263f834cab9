//! Who is speaking, and what a display can be set to watch.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::{CoachId, Key, StationId};

/// The most stations one kiosk serves: more than four faces cannot be read from metres away.
pub const MAX_STATIONS_A_KIOSK: usize = 4;

/// The part a device plays, as it says in its `hello`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum Role {
    /// A display at one to four stations, used by clients.
    Station {
        /// The stations it stands at, by the keys of the floor file.
        stations: Vec<Key>,
    },
    /// A wall display for everyone.
    Board,
    /// A coach's own page.
    Coach {
        /// The coach, by the key of the floor file.
        coach: Key,
    },
    /// Somebody who helps a coach: may spot, not pass technique or raise loads.
    Assistant {
        /// The coach who is helped.
        coach: Key,
    },
    /// The manager's page.
    Manager,
}

/// Who did something, as the journal keeps it: numbers only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum Actor {
    /// The floor itself, at a time that had come.
    Floor,
    /// Somebody at the display of a station.
    Station {
        /// The first station of that display.
        station: StationId,
    },
    /// A coach.
    Coach {
        /// Which one.
        coach: CoachId,
    },
    /// A coach's assistant.
    Assistant {
        /// The coach who is helped.
        coach: CoachId,
    },
    /// A wall display.
    Board,
    /// The manager.
    Manager,
}

/// What one display watches: exactly one of these, so that no screen is ever torn.
///
/// Written `station/bench-1,row-1`, `board`, `coach/ayla`, `manager`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "String", into = "String")]
#[schemars(with = "String")]
pub enum Topic {
    /// The face of one to four stations.
    Station(Vec<Key>),
    /// Every group at a glance.
    Board,
    /// One coach's page.
    Coach(Key),
    /// The manager's page.
    Manager,
}

/// Why a text is not a [`Topic`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("a topic is station/KEY[,KEY,KEY,KEY], board, coach/KEY or manager; no station twice")]
pub struct TopicError;

impl FromStr for Topic {
    type Err = TopicError;

    fn from_str(text: &str) -> Result<Self, TopicError> {
        let key = |s: &str| s.parse::<Key>().map_err(|_| TopicError);
        match text.split_once('/') {
            None if text == "board" => Ok(Self::Board),
            None if text == "manager" => Ok(Self::Manager),
            Some(("coach", coach)) => Ok(Self::Coach(key(coach)?)),
            Some(("station", list)) => {
                let keys = list.split(',').map(key).collect::<Result<Vec<_>, _>>()?;
                let mut distinct = keys.clone();
                distinct.sort();
                distinct.dedup();
                if keys.len() > MAX_STATIONS_A_KIOSK || distinct.len() != keys.len() {
                    return Err(TopicError);
                }
                Ok(Self::Station(keys))
            }
            None | Some(_) => Err(TopicError),
        }
    }
}

impl fmt::Display for Topic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Board => f.write_str("board"),
            Self::Manager => f.write_str("manager"),
            Self::Coach(key) => write!(f, "coach/{key}"),
            Self::Station(keys) => {
                let keys: Vec<&str> = keys.iter().map(Key::as_str).collect();
                write!(f, "station/{}", keys.join(","))
            }
        }
    }
}

impl TryFrom<String> for Topic {
    type Error = TopicError;
    fn try_from(text: String) -> Result<Self, TopicError> {
        text.parse()
    }
}

impl From<Topic> for String {
    fn from(topic: Topic) -> Self {
        topic.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn topics_are_written_as_they_are_read() {
        for text in
            ["board", "manager", "coach/ayla", "station/bench-1", "station/bench-1,row-1,rack-1,rack-2"]
        {
            assert_eq!(text.parse::<Topic>().unwrap().to_string(), text);
        }
    }

    #[test]
    fn what_is_not_a_topic_is_refused() {
        for text in
            ["", "boards", "station", "station/", "station/a,a", "station/a,b,c,d,e", "coach/A", "x/y"]
        {
            assert_eq!(text.parse::<Topic>(), Err(TopicError), "{text:?}");
        }
    }
}

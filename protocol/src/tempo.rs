//! The tempo of a repetition, and how long a set of that tempo lasts.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::Secs;

/// One part of a tempo: a count of seconds, or `X`, as fast as control allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// So many seconds, 0 to 30.
    Count(u8),
    /// Explosive. It has no prescribed length; see [`Part::nominal`].
    Explosive,
}

impl Part {
    /// The most seconds one part may take.
    pub const MAX: u8 = 30;
    /// What an explosive part counts for where a length is needed. One second is this project's stated
    /// choice: published trials write `6/0/X/0` without saying how long X takes (hukin-2019-0055).
    pub const EXPLOSIVE_NOMINAL: Secs = Secs(1);

    /// How long the part is taken to last.
    #[must_use]
    pub const fn nominal(self) -> Secs {
        match self {
            Self::Count(s) => Secs(s as u32),
            Self::Explosive => Self::EXPLOSIVE_NOMINAL,
        }
    }
}

/// Eccentric, pause, concentric, pause: always in this order, whichever phase an exercise starts with.
/// Written `2-0-2-0` or `3-1-X-0`, in files and on the wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Tempo {
    /// Lengthening under load: lowering a press, letting a row back out.
    pub eccentric: Part,
    /// The hold after it.
    pub after_eccentric: Part,
    /// Shortening under load: pressing, pulling.
    pub concentric: Part,
    /// The hold after it.
    pub after_concentric: Part,
}

impl Tempo {
    /// How long one repetition is taken to last.
    #[must_use]
    pub const fn rep(self) -> Secs {
        Secs(
            self.eccentric.nominal().0
                + self.after_eccentric.nominal().0
                + self.concentric.nominal().0
                + self.after_concentric.nominal().0,
        )
    }

    /// How long `reps` repetitions are taken to last.
    #[must_use]
    pub const fn set(self, reps: u8) -> Secs {
        Secs(self.rep().0 * reps as u32)
    }
}

/// Why a written tempo could not be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TempoError {
    /// Not four parts with hyphens between them.
    #[error("a tempo has four parts, eccentric-pause-concentric-pause: `2-0-2-0`")]
    Parts,
    /// A part that is neither seconds nor X.
    #[error("each part of a tempo is 0 to 30 seconds, or X")]
    Part,
    /// No part takes any time.
    #[error("a tempo must take time: at least one part above 0")]
    Nothing,
}

impl FromStr for Tempo {
    type Err = TempoError;

    fn from_str(text: &str) -> Result<Self, TempoError> {
        let parts: Vec<&str> = text.split('-').collect();
        let [e, p1, c, p2] = parts.as_slice() else {
            return Err(TempoError::Parts);
        };
        let part = |s: &str| match s {
            "X" | "x" => Ok(Part::Explosive),
            s if (1..=2).contains(&s.len()) && s.bytes().all(|b| b.is_ascii_digit()) => match s.parse() {
                Ok(n) if n <= Part::MAX => Ok(Part::Count(n)),
                _ => Err(TempoError::Part),
            },
            _ => Err(TempoError::Part),
        };
        let tempo = Self {
            eccentric: part(e)?,
            after_eccentric: part(p1)?,
            concentric: part(c)?,
            after_concentric: part(p2)?,
        };
        if tempo.rep() == Secs(0) { Err(TempoError::Nothing) } else { Ok(tempo) }
    }
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Count(n) => write!(f, "{n}"),
            Self::Explosive => f.write_str("X"),
        }
    }
}

impl fmt::Display for Tempo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}-{}-{}", self.eccentric, self.after_eccentric, self.concentric, self.after_concentric)
    }
}

impl TryFrom<String> for Tempo {
    type Error = TempoError;
    fn try_from(text: String) -> Result<Self, TempoError> {
        text.parse()
    }
}

impl From<Tempo> for String {
    fn from(tempo: Tempo) -> Self {
        tempo.to_string()
    }
}

impl JsonSchema for Tempo {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Tempo".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "Eccentric-pause-concentric-pause, each 0 to 30 seconds or X (explosive).",
            "pattern": "^([0-9]|[12][0-9]|30|X)(-([0-9]|[12][0-9]|30|X)){3}$"
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn set_lengths_follow_the_tempo() {
        // Arithmetic of the notation; 2-0-2-0 is the roughly 2 s down, 2 s up of common practice, no source.
        for (tempo, reps, secs) in [
            ("2-0-2-0", 10, 40),
            ("3-1-1-0", 10, 50),
            ("2-0-2-0", 8, 32),
            ("4-0-1-1", 6, 36),
            ("6-0-X-0", 1, 7),
        ] {
            assert_eq!(tempo.parse::<Tempo>().unwrap().set(reps), Secs(secs), "{tempo} x {reps}");
        }
    }

    #[test]
    fn it_is_written_as_it_was_read() {
        for text in ["2-0-2-0", "3-1-X-0", "30-0-0-1"] {
            assert_eq!(text.parse::<Tempo>().unwrap().to_string(), text);
        }
    }

    #[test]
    fn what_is_not_a_tempo_is_refused() {
        for (text, error) in [
            ("2-0-2", TempoError::Parts),
            ("2-0-2-0-1", TempoError::Parts),
            ("", TempoError::Parts),
            ("2-0--0", TempoError::Part),
            ("2-0-31-0", TempoError::Part),
            ("2-0-+2-0", TempoError::Part),
            ("2-0-y-0", TempoError::Part),
            ("0-0-0-0", TempoError::Nothing),
        ] {
            assert_eq!(text.parse::<Tempo>(), Err(error), "{text}");
        }
    }
}

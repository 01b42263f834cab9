//! Durations as people write them.

use turnabout_protocol::units::Secs;

/// Why a written duration could not be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DurationError {
    /// Not a whole number followed by `s` or `min`.
    #[error("a duration is whole seconds or minutes with their unit: `90 s`, `2 min`, `1 min 30 s`")]
    Form,
    /// More digits than any duration here needs.
    #[error("at most {MOST_DIGITS} digits")]
    TooLong,
}

/// Digits of each number: eleven days of seconds.
const MOST_DIGITS: usize = 6;

/// Reads `90 s`, `2 min` or `1 min 30 s`; the blanks are optional.
///
/// # Errors
/// Says what about the text is no duration.
pub fn parse_duration(text: &str) -> Result<Secs, DurationError> {
    let text = text.trim();
    let (minutes, seconds) = match text.split_once("min") {
        Some((minutes, "")) => (Some(minutes), None),
        Some((minutes, rest)) => (Some(minutes), Some(rest)),
        None => (None, Some(text)),
    };
    let minutes = minutes.map_or(Ok(0), number)?;
    let seconds = seconds.map_or(Ok(0), |s| number(s.strip_suffix('s').ok_or(DurationError::Form)?))?;
    Ok(Secs(minutes * 60 + seconds))
}

fn number(text: &str) -> Result<u32, DurationError> {
    let text = text.trim();
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(DurationError::Form);
    }
    if text.len() > MOST_DIGITS {
        return Err(DurationError::TooLong);
    }
    text.parse().map_err(|_| DurationError::TooLong)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn durations_read_as_people_write_them() {
        for (text, secs) in
            [("60 s", 60), ("90s", 90), ("2 min", 120), ("1 min 30 s", 90), (" 0 s ", 0), ("2min5s", 125)]
        {
            assert_eq!(parse_duration(text), Ok(Secs(secs)), "{text:?}");
        }
    }

    #[test]
    fn what_is_not_a_duration_is_refused() {
        for text in ["", "60", "s", "min", "1.5 min", "-1 s", "1 h", "30 s 1 min", "1 min 2 min", "2 minutes"]
        {
            assert_eq!(parse_duration(text), Err(DurationError::Form), "{text:?}");
        }
        assert_eq!(parse_duration("9999999 s"), Err(DurationError::TooLong));
    }
}

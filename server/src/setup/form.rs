//! The forms a single value can have: what is allowed, and how it is read.

use toml::de::DeValue;
use turnabout_protocol::ids::Key;
use turnabout_protocol::next::PerMille;
use turnabout_protocol::tempo::Tempo;
use turnabout_protocol::units::{Mass, Secs, Stamped};
use turnabout_protocol::work::Work;

use super::allowed::Allowed;
use super::duration::parse_duration;
use super::percent::parse_percent;
use crate::floor::config::Day;
use crate::floor::local_time::Minute;
use crate::loading::gear::Ratio;
use crate::training::block::limits as block_limits;

/// A form. `read` gives nothing where the value does not have it; `allowed` then says what would.
pub(super) struct Form<F> {
    pub(super) allowed: Allowed,
    pub(super) read: F,
}

/// Characters of a wrong value that are shown.
const SHOWN: usize = 40;

/// Text for a display: one line, nothing invisible.
pub(super) fn text(most: usize) -> Form<impl Fn(&DeValue<'_>) -> Option<String>> {
    let read = move |value: &DeValue<'_>| {
        let text = value.as_str()?.trim();
        let fits = text.chars().count() <= most && text.chars().any(is_seen) && !text.chars().any(is_hidden);
        fits.then(|| text.to_owned())
    };
    Form { allowed: Allowed::Text { most }, read }
}

/// What no name may have: control characters, breaks of the line, marks that turn the direction of what follows
/// or that nobody sees. The two joiners stay, since some scripts need them within a word.
fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{e0000}'..='\u{e007f}')
}

/// What can be seen by itself.
fn is_seen(c: char) -> bool {
    !c.is_whitespace() && !matches!(c, '\u{200c}' | '\u{200d}')
}

/// A key.
pub(super) fn key() -> Form<impl Fn(&DeValue<'_>) -> Option<Key>> {
    Form { allowed: Allowed::Key, read: |value: &DeValue<'_>| value.as_str()?.parse().ok() }
}

/// The name of a time zone, whether there is one or not.
pub(super) fn zone() -> Form<impl Fn(&DeValue<'_>) -> Option<String>> {
    Form { allowed: Allowed::Zone, read: |value: &DeValue<'_>| value.as_str().map(str::to_owned) }
}

/// A whole number.
pub(super) fn whole<T>(least: T, most: T) -> Form<impl Fn(&DeValue<'_>) -> Option<T>>
where
    T: Copy + Into<i64> + TryFrom<i64>,
{
    let (least, most): (i64, i64) = (least.into(), most.into());
    let read = move |value: &DeValue<'_>| {
        let integer = value.as_integer()?;
        let number = i64::from_str_radix(integer.as_str(), integer.radix()).ok()?;
        (least..=most).contains(&number).then(|| T::try_from(number).ok())?
    };
    Form { allowed: Allowed::Whole { least, most }, read }
}

/// A mass, zero or not.
pub(super) fn mass(zero: bool) -> Form<impl Fn(&DeValue<'_>) -> Option<Stamped>> {
    let read = move |value: &DeValue<'_>| {
        let stamped: Stamped = value.as_str()?.parse().ok()?;
        (zero || stamped.mass > Mass::ZERO).then_some(stamped)
    };
    Form { allowed: Allowed::Mass { zero }, read }
}

/// A share, from nothing up.
pub(super) fn percent(most: PerMille) -> Form<impl Fn(&DeValue<'_>) -> Option<PerMille>> {
    let read = move |value: &DeValue<'_>| parse_percent(value.as_str()?).filter(|share| *share <= most);
    Form { allowed: Allowed::Percent { most }, read }
}

/// What pulleys make of a stack.
pub(super) fn ratio() -> Form<impl Fn(&DeValue<'_>) -> Option<Ratio>> {
    let read = |value: &DeValue<'_>| {
        let (stack, hand) = value.as_str()?.split_once(':')?;
        Ratio::new(stack.trim().parse().ok()?, hand.trim().parse().ok()?)
    };
    Form { allowed: Allowed::Ratio, read }
}

/// A duration of so many seconds.
pub(super) fn duration(least: u32, most: u32) -> Form<impl Fn(&DeValue<'_>) -> Option<Secs>> {
    let read = move |value: &DeValue<'_>| {
        let duration = parse_duration(value.as_str()?).ok()?;
        (least..=most).contains(&duration.0).then_some(duration)
    };
    Form { allowed: Allowed::Duration { least, most }, read }
}

/// A tempo.
pub(super) fn tempo() -> Form<impl Fn(&DeValue<'_>) -> Option<Tempo>> {
    Form { allowed: Allowed::Tempo, read: |value: &DeValue<'_>| value.as_str()?.parse().ok() }
}

/// true or false.
pub(super) fn flag() -> Form<impl Fn(&DeValue<'_>) -> Option<bool>> {
    Form { allowed: Allowed::Flag, read: |value: &DeValue<'_>| value.as_bool() }
}

/// A day of the calendar: TOML has them without quotation marks.
pub(super) fn day() -> Form<impl Fn(&DeValue<'_>) -> Option<Day>> {
    let read = |value: &DeValue<'_>| match value.as_datetime()? {
        toml::value::Datetime { date: Some(date), time: None, offset: None } => {
            Some(Day { year: date.year, month: date.month, day: date.day })
        }
        _ => None,
    };
    Form { allowed: Allowed::Day, read }
}

/// Two times of day with a hyphen between, in any order.
pub(super) fn span() -> Form<impl Fn(&DeValue<'_>) -> Option<(Minute, Minute)>> {
    let read = |value: &DeValue<'_>| {
        let (from, to) = value.as_str()?.split_once('-')?;
        Some((from.trim().parse().ok()?, to.trim().parse().ok()?))
    };
    Form { allowed: Allowed::Window, read }
}

/// A time of day, with or without quotation marks.
pub(super) fn time_of_day() -> Form<impl Fn(&DeValue<'_>) -> Option<Minute>> {
    let read = |value: &DeValue<'_>| match value {
        DeValue::String(text) => text.parse().ok(),
        DeValue::Datetime(toml::value::Datetime { date: None, time: Some(time), offset: None }) => {
            let whole = time.second.unwrap_or(0) == 0 && time.nanosecond.unwrap_or(0) == 0;
            whole.then(|| Minute::new(u16::from(time.hour) * 60 + u16::from(time.minute)))?
        }
        DeValue::Datetime(_)
        | DeValue::Integer(_)
        | DeValue::Float(_)
        | DeValue::Boolean(_)
        | DeValue::Array(_)
        | DeValue::Table(_) => None,
    };
    Form { allowed: Allowed::TimeOfDay, read }
}

/// What stands on a label: a word or a whole number.
pub(super) fn label(most: usize) -> Form<impl Fn(&DeValue<'_>) -> Option<String>> {
    let Form { read: as_text, .. } = text(most);
    let read = move |value: &DeValue<'_>| match value {
        DeValue::Integer(number) if number.radix() == 10 && number.as_str().len() <= most => {
            Some(number.as_str().to_owned())
        }
        DeValue::String(_)
        | DeValue::Integer(_)
        | DeValue::Float(_)
        | DeValue::Boolean(_)
        | DeValue::Datetime(_)
        | DeValue::Array(_)
        | DeValue::Table(_) => as_text(value),
    };
    Form { allowed: Allowed::Label { most }, read }
}

/// What a set asks for: repetitions, a range of them in either order, or a time.
pub(super) fn work() -> Form<impl Fn(&DeValue<'_>) -> Option<Work>> {
    let reps = |number: &str| {
        let digits = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
        let reps: u8 = digits.then(|| number.parse().ok())??;
        (1..=block_limits::REPS).contains(&reps).then_some(reps)
    };
    let read = move |value: &DeValue<'_>| {
        if let Some(number) = value.as_integer() {
            return (number.radix() == 10).then(|| reps(number.as_str()).map(Work::reps))?;
        }
        let text = value.as_str()?;
        if let Some((least, most)) = text.split_once(['-', '\u{2013}']) {
            return Some(Work::Reps { least: reps(least.trim())?, most: reps(most.trim())? });
        }
        let secs = parse_duration(text).ok()?;
        (1..=block_limits::HOLD_SECS).contains(&secs.0).then_some(Work::Hold { secs })
    };
    Form { allowed: Allowed::Work, read }
}

/// One of these words.
pub(super) fn one_of<T: Copy>(
    words: &'static [(&'static str, T)],
) -> Form<impl Fn(&DeValue<'_>) -> Option<T>> {
    let read = move |value: &DeValue<'_>| {
        let said = value.as_str()?;
        words.iter().find(|(word, _)| *word == said).map(|(_, meaning)| *meaning)
    };
    Form { allowed: Allowed::OneOf(words.iter().map(|(word, _)| *word).collect()), read }
}

/// Metres with or without decimals, in whole centimetres: the floor's state holds no fractions.
pub(super) fn metres(most: f64) -> Form<impl Fn(&DeValue<'_>) -> Option<i32>> {
    let read = move |value: &DeValue<'_>| {
        let text = match value {
            DeValue::Integer(integer) if integer.radix() == 10 => integer.as_str(),
            DeValue::Float(float) => float.as_str(),
            DeValue::Integer(_)
            | DeValue::String(_)
            | DeValue::Boolean(_)
            | DeValue::Datetime(_)
            | DeValue::Array(_)
            | DeValue::Table(_) => return None,
        };
        let metres: f64 = text.parse().ok()?;
        #[expect(clippy::cast_possible_truncation, reason = "below a thousand metres")]
        (metres.abs() <= most).then(|| (metres * 100.0).round() as i32)
    };
    Form { allowed: Allowed::Metres { most }, read }
}

/// Text in quotation marks, with what is invisible written out.
pub(super) fn quoted(text: &str) -> String {
    format!("{:?}", shortened(text))
}

/// So much of a text as a message can hold.
pub(super) fn shortened(text: &str) -> String {
    let mut shown: String = text.chars().take(SHOWN).collect();
    if shown.len() < text.len() {
        shown.push('\u{2026}');
    }
    shown
}

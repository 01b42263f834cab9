//! Gear, loads, days and hours in the sentences of a message.

use std::fmt;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::written::Written;
use crate::floor::config::Day;
use crate::floor::hours::Window;

/// Gear as files call it.
pub(super) const fn word(gear: GearKind) -> &'static str {
    match gear {
        GearKind::Bar => "bar",
        GearKind::Stack => "stack",
        GearKind::Dumbbells => "dumbbells",
        GearKind::Belt => "belt",
        GearKind::Plain => "plain",
    }
}

/// Gear in a sentence.
pub(super) const fn in_words(gear: GearKind) -> &'static str {
    match gear {
        GearKind::Bar => "a bar",
        GearKind::Stack => "a stack",
        GearKind::Dumbbells => "a rack of dumbbells",
        GearKind::Belt => "a belt with plates",
        GearKind::Plain => "nothing to set",
    }
}

/// Gear as something that is needed.
pub(super) const fn needs(gear: GearKind) -> &'static str {
    match gear {
        GearKind::Bar | GearKind::Stack | GearKind::Dumbbells | GearKind::Belt => in_words(gear),
        GearKind::Plain => "a place with nothing to set",
    }
}

/// A mass in kilograms.
pub(super) struct Kg(pub(super) Mass);

impl fmt::Display for Kg {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        Stamped { mass: self.0, unit: MassUnit::Kg }.fmt(f)
    }
}

/// Some loads in a sentence.
pub(super) struct AllOf<'s>(pub(super) &'s [Written]);

impl fmt::Display for AllOf<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, load) in self.0.iter().enumerate() {
            let between = match n {
                0 => "",
                n if n + 1 == self.0.len() => " and ",
                _ => ", ",
            };
            write!(f, "{between}{load}")?;
        }
        Ok(())
    }
}

/// One of some names in a sentence.
pub(super) struct AnyOf<'s, T>(pub(super) &'s [T]);

impl<T: fmt::Display> fmt::Display for AnyOf<'_, T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            return f.write_str("none");
        }
        for (n, name) in self.0.iter().enumerate() {
            write!(f, "{}\"{name}\"", if n == 0 { "" } else { " or " })?;
        }
        Ok(())
    }
}

/// The loads on either side of one that cannot be set.
pub(super) struct Nearest<'s>(pub(super) Option<&'s Written>, pub(super) Option<&'s Written>);

impl fmt::Display for Nearest<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.0, self.1) {
            (Some(below), Some(above)) => write!(f, "the nearest are {below} and {above}"),
            (Some(below), None) => write!(f, "{below} is the heaviest"),
            (None, Some(above)) => write!(f, "{above} is the lightest"),
            (None, None) => f.write_str("there is none"),
        }
    }
}

/// A day as files write it.
pub(super) struct Iso(pub(super) Day);

impl fmt::Display for Iso {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.0.year, self.0.month, self.0.day)
    }
}

/// When a floor is open on a day.
pub(super) struct OpenOn<'w>(pub(super) &'w [Window]);

impl fmt::Display for OpenOn<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            return f.write_str("it never is");
        }
        for (n, window) in self.0.iter().enumerate() {
            write!(f, "{}{window}", if n == 0 { "" } else { " and " })?;
        }
        Ok(())
    }
}

//! What people are told of a coming set: why not earlier, who spots it, and who comes next and when.

use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{Need, NextPart, StartPart, StationPart, TurnPart, TurnPhase};

use super::words::{left, roughly, start_reason, with};

/// Why a set does not start earlier, until it may.
pub(super) fn why(language: Language, turn: &TurnPart, now: FloorMs) -> String {
    let told = turn.promise.as_ref().filter(|_| matches!(turn.phase, TurnPhase::Coming { .. }));
    told.map_or_else(String::new, |told| until(language, told.start, told.reason, now))
}

/// A reason stands as long as its start is to come. That nothing stands in the way is no reason to wait.
fn until(language: Language, from: FloorMs, reason: StartReason, now: FloorMs) -> String {
    if now >= from || reason == StartReason::Ready {
        return String::new();
    }
    start_reason(language, reason, now)
}

/// Who spots a set: whoever said so, or else who is told to.
pub(super) fn spotter(turn: &TurnPart, language: Language) -> String {
    let missing = matches!(&turn.phase, TurnPhase::Coming { needs, .. } if needs.contains(&Need::Spotter));
    if turn.arms {
        return message(language, "label.arms").to_owned();
    }
    let told = turn.promise.as_ref().and_then(|told| told.spotter.as_ref());
    match (&turn.spotter, told) {
        (Some(name), _) if turn.lift_off => with(language, "label.spots_lift_off", &[("name", name)]),
        (Some(name), _) | (None, Some(name)) => with(language, "label.spots", &[("name", name)]),
        (None, None) if turn.spotted && !missing => message(language, "label.spotter_wanted").to_owned(),
        (None, None) => String::new(),
    }
}

/// Who comes next at a station, and when.
pub(super) fn next(language: Language, part: &StationPart, now: FloorMs) -> String {
    let from = |next: &NextPart| next.promise.map_or((next.ready, false), |told| (told.start, told.about));
    part.next.as_ref().map_or_else(String::new, |next| who(language, &next.client, Some(from(next)), now))
}

/// Who goes on at a station once it can be used again, and when, if that is known.
pub(super) fn goes_on(language: Language, part: &StationPart, now: FloorMs) -> String {
    let told = |turn: &TurnPart| turn.promise.as_ref().map(|told| (told.start, told.about));
    part.turn.as_ref().map_or_else(String::new, |turn| who(language, &turn.client, told(turn), now))
}

/// Somebody with when, and whether that is about then only.
fn who(language: Language, name: &str, from: Option<(FloorMs, bool)>, now: FloorMs) -> String {
    let wait = from.map(|(from, is_about)| (from.since(now), is_about)).filter(|(wait, _)| wait.0 > 0);
    match wait {
        Some((wait, is_about)) => {
            let at = if is_about { roughly(wait) } else { left(wait) };
            with(language, "label.next_in", &[("name", name), ("at", &at)])
        }
        None => with(language, "label.next", &[("name", name)]),
    }
}

/// Why whoever comes next does not go earlier.
pub(super) fn next_why(language: Language, part: &StationPart, now: FloorMs) -> String {
    let told = part.next.as_ref().and_then(|next| next.promise);
    told.map_or_else(String::new, |StartPart { start, reason, .. }| until(language, start, reason, now))
}

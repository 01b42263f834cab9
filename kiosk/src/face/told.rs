//! What people are told of a coming set: why not earlier, who spots it and does what else for it, and who comes next and
//! when.

use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{JobsPart, Need, NextPart, StartPart, StationPart, TurnPart, TurnPhase};

use super::phase::PhaseKind;
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

/// Who of the group does what for a coming set.
pub(super) fn jobs(language: Language, turn: &TurnPart, jobs: &JobsPart) -> String {
    let (lifts, loads) = (&*turn.client, &*jobs.loads);
    match &jobs.spots {
        Some(spots) => with(language, "label.jobs", &[("lifts", lifts), ("spots", spots), ("loads", loads)]),
        None => with(language, "label.jobs_unspotted", &[("lifts", lifts), ("loads", loads)]),
    }
}

/// Who comes next at a station in a phase, and when.
pub(super) fn next_at(language: Language, part: &StationPart, kind: PhaseKind, now: FloorMs) -> String {
    match kind {
        // The set to come is that of whoever goes on once it can be used again: when, if that is told.
        PhaseKind::OtherUse | PhaseKind::OutOfService => comes(language, part, false, now),
        PhaseKind::Leaving => comes(language, part, true, now),
        PhaseKind::Free => {
            let then = part.free.as_ref().and_then(|free| free.then.as_ref());
            then.map_or_else(String::new, |name| with(language, "label.next", &[("name", name)]))
        }
        PhaseKind::Reserved
        | PhaseKind::Held
        | PhaseKind::GetReady
        | PhaseKind::Coming
        | PhaseKind::Rest
        | PhaseKind::Changeover
        | PhaseKind::Ready
        | PhaseKind::GetSet
        | PhaseKind::CountIn
        | PhaseKind::Working
        | PhaseKind::Assumed
        | PhaseKind::WipeDown
        | PhaseKind::Paused
        | PhaseKind::Stopped
        | PhaseKind::Gone => next(language, part, now),
    }
}

fn next(language: Language, part: &StationPart, now: FloorMs) -> String {
    let from = |next: &NextPart| next.promise.map_or((next.ready, false), |told| (told.start, told.about));
    part.next.as_ref().map_or_else(String::new, |next| who(language, &next.client, Some(from(next)), now))
}

/// Who has the set to come, and when it is told or else, `if_ready`, when GO is asked for.
fn comes(language: Language, part: &StationPart, if_ready: bool, now: FloorMs) -> String {
    let from = |turn: &TurnPart| {
        let told = turn.promise.as_ref().map(|told| (told.start, told.about));
        let ready = match turn.phase {
            TurnPhase::Coming { ready, .. } if if_ready => Some((ready, false)),
            TurnPhase::Coming { .. } | TurnPhase::UnderWay { .. } => None,
        };
        told.or(ready)
    };
    part.turn.as_ref().map_or_else(String::new, |turn| who(language, &turn.client, from(turn), now))
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

//! What a station says where nobody's set is to come: until when it is free, whose it is, what keeps everybody off, and
//! what comes after the last set.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{LoadNextTime, StationPart};

use super::day::Day;
use super::load::many;
use super::phase::PhaseKind;
use super::words::with;

/// What there is to do or to know at once; nothing where the word of the phase says it all.
pub(super) fn order(
    language: Language,
    part: &StationPart,
    kind: PhaseKind,
    (day, now): (Day, FloorMs),
) -> String {
    let said = match kind {
        PhaseKind::Free => Some(free(language, part, day)),
        PhaseKind::Reserved => {
            part.coach.as_ref().map(|coach| with(language, "label.reserved_by", &[("name", coach)]))
        }
        PhaseKind::OtherUse => part.other_use.map(|other| {
            if other.until > now {
                with(language, "label.other_use_until", &[("at", &day.about(other.until))])
            } else {
                message(language, "label.other_use_over").to_owned()
            }
        }),
        PhaseKind::OutOfService => part.out.map(|out| {
            let defect = say(language, "defect", &out.defect, |_, value| value.to_string());
            with(language, "label.out", &[("defect", &defect)])
        }),
        PhaseKind::WipeDown if part.gear == GearKind::Bar => {
            Some(message(language, "label.strip_or_leave").to_owned())
        }
        PhaseKind::WipeDown
        | PhaseKind::Held
        | PhaseKind::GetReady
        | PhaseKind::Coming
        | PhaseKind::Rest
        | PhaseKind::Changeover
        | PhaseKind::Leaving
        | PhaseKind::Ready
        | PhaseKind::GetSet
        | PhaseKind::CountIn
        | PhaseKind::Working
        | PhaseKind::Assumed
        | PhaseKind::Paused
        | PhaseKind::Stopped
        | PhaseKind::Gone => None,
    };
    said.unwrap_or_default()
}

/// For everyone, and until when: until somebody else has it, or the floor closes.
fn free(language: Language, part: &StationPart, day: Day) -> String {
    let until = part.free.as_ref().and_then(|free| Some((free.until?, free.then.is_some())));
    match until {
        Some((until, true)) => with(language, "label.free_until", &[("at", &day.about(until))]),
        Some((until, false)) => with(language, "label.free_closes", &[("at", &day.about(until))]),
        None => message(language, "label.free_all").to_owned(),
    }
}

/// Since when it must not be used.
pub(super) fn since(language: Language, part: &StationPart, kind: PhaseKind, day: Day) -> String {
    let out = part.out.filter(|_| kind == PhaseKind::OutOfService);
    out.map_or_else(String::new, |out| with(language, "label.since", &[("at", &day.minute(out.since))]))
}

/// Thanks to whoever did sets here, while it is wiped down.
pub(super) fn thanks(language: Language, part: &StationPart, kind: PhaseKind) -> String {
    if kind != PhaseKind::WipeDown {
        return String::new();
    }
    match part.finished.as_ref().map(|finished| finished.clients.join(", ")) {
        Some(names) if !names.is_empty() => with(language, "label.thanks_to", &[("names", &names)]),
        Some(_) | None => message(language, "label.thanks").to_owned(),
    }
}

/// What would be proposed here the next time, with the exercise where there are several.
pub(super) fn next_time(language: Language, part: &StationPart) -> String {
    let loads = part.finished.as_ref().map_or(&[][..], |finished| &finished.next_time);
    let [first, ..] = loads else { return String::new() };
    let is_one = loads.iter().all(|load| load.exercise == first.exercise);
    let said = |next: &LoadNextTime| {
        let load = many(next.load.read(language, next.unit), part.gear);
        let exercise = if is_one { "" } else { next.exercise.of(language) };
        [next.client.as_str(), exercise, &load].join(" ").replace("  ", " ")
    };
    let loads = loads.iter().map(said).collect::<Vec<_>>().join(", ");
    with(language, "label.next_time", &[("loads", &loads)])
}

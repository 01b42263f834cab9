//! What became of a call from a station: since when it is open, and who is on the way.

use turnabout_protocol::command::CallKind;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{CallPart, StationPart};

use super::day::Day;
use super::words::with;

/// The open call of a kind from a station.
pub(super) fn open(part: &StationPart, kind: CallKind) -> Option<&CallPart> {
    part.calls.iter().find(|open| open.kind == kind && open.station == part.station)
}

/// What stands on its button: who comes, or else since when it is open.
pub(super) fn note(language: Language, call: &CallPart, day: Day) -> String {
    call.answered.as_ref().map_or_else(
        || with(language, "label.called_at", &[("at", &day.minute(call.since))]),
        |name| with(language, "label.on_the_way", &[("name", name)]),
    )
}

/// The same in a line: of the most urgent call.
pub(super) fn line(language: Language, part: &StationPart, day: Day) -> String {
    let call = [CallKind::HelpNow, CallKind::CoachPlease].into_iter().find_map(|kind| open(part, kind));
    call.map_or_else(String::new, |call| {
        let id = match call.kind {
            CallKind::CoachPlease => "label.coach_called",
            CallKind::HelpNow => "label.help_called",
        };
        let called = with(language, id, &[("at", &day.minute(call.since))]);
        match &call.answered {
            Some(name) => format!("{called}; {}", with(language, "label.on_the_way", &[("name", name)])),
            None => called,
        }
    })
}

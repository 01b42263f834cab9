//! What has to be done at a station at once, and what a set still needs.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{HaltKind, Need, StationPart, TurnPhase};

use super::day::Day;
use super::panel::is_under_way;
use super::phase::{Phase, PhaseKind};
use super::vacant;
use super::words::{left, need, with};

/// What has to be done at once.
pub(super) fn order(
    language: Language,
    part: &StationPart,
    phase: Phase,
    (day, now): (Day, FloorMs),
) -> String {
    let id = match phase.kind {
        PhaseKind::Stopped if !is_under_way(part) => "label.do_not_start",
        PhaseKind::Stopped => match part.gear {
            GearKind::Bar => "label.rack_the_bar",
            GearKind::Stack => "label.let_the_stack_down",
            GearKind::Dumbbells => "label.put_them_down",
            GearKind::Belt | GearKind::Plain => "label.set_it_down",
        },
        PhaseKind::OtherUse
        | PhaseKind::OutOfService
        | PhaseKind::Free
        | PhaseKind::Reserved
        | PhaseKind::WipeDown => return vacant::order(language, part, phase.kind, (day, now)),
        PhaseKind::Leaving => {
            let to = part.leaving.as_ref().map_or("", |leaving| &leaving.to);
            return with(language, "label.to_station", &[("station", to)]);
        }
        PhaseKind::Held
        | PhaseKind::GetReady
        | PhaseKind::Coming
        | PhaseKind::Rest
        | PhaseKind::Changeover
        | PhaseKind::Ready
        | PhaseKind::GetSet
        | PhaseKind::CountIn
        | PhaseKind::Working
        | PhaseKind::Assumed
        | PhaseKind::Gone
        | PhaseKind::Paused => return still_there(language, part, now),
    };
    message(language, id).to_owned()
}

/// Nothing has been heard for long: whether anybody is still there, and until when the answer matters.
fn still_there(language: Language, part: &StationPart, now: FloorMs) -> String {
    let Some(lapse) = part.lapses else { return String::new() };
    let at = lapse.at.since(now);
    let id = if at.0 > 0 { "label.still_there" } else { "label.still_there_over" };
    with(language, id, &[("at", &left(at))])
}

/// What stands between two needs.
pub(super) const NEEDS_BETWEEN: &str = " · ";

/// How many needs are named at once: the first are done first, and more would not be read.
const NEEDS_SHOWN: usize = 2;

/// What a set still needs. Where somebody puts the load on, the card and the button say that, and the rest is said here.
pub(super) fn needs(language: Language, part: &StationPart, kind: PhaseKind, now: FloorMs) -> String {
    let still_there = still_there(language, part, now);
    if !still_there.is_empty() {
        return still_there;
    }
    match (part.turn.as_ref().map(|t| &t.phase), part.halt.map(|h| h.halt)) {
        (Some(TurnPhase::UnderWay { .. }), Some(HaltKind::Pause)) => {
            format!("{}: {}", message(language, "halt.pause"), need(language, Need::Resume))
        }
        (Some(TurnPhase::Coming { needs, .. }), None | Some(HaltKind::Pause | HaltKind::Stop)) => {
            let open = needs.iter().filter(|n| kind != PhaseKind::GetReady || **n != Need::ConfirmLoad);
            let said: Vec<String> = open.take(NEEDS_SHOWN).map(|n| need(language, *n)).collect();
            said.join(NEEDS_BETWEEN)
        }
        (Some(TurnPhase::UnderWay { .. }), None | Some(HaltKind::Stop)) | (None, _) => String::new(),
    }
}

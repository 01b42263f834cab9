//! Who has just done a set at a station and is on the way to the next exercise elsewhere: where to, and by when.
//!
//! Whoever racks a weight looks at the station that is left, so it says where to go. But that station belongs to whoever
//! comes next, and a face that is hidden is a set that begins late. So whoever leaves has the face only while
//! - the way may still take (`limit`): at most the changeover of the block, half a minute as a rule;
//! - no set is under way there, none is held or stopped, and nobody stands there who could go, or who waits for a spotter
//!   or the coach;
//! - whoever comes next has more time than the last half minute of a rest, in which a display calls people, and than the
//!   change of the load takes.
//!
//! At all other times the same is a line on the face of whoever comes next.

use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{LeavingPart, Need, StationPart, TurnPart, TurnPhase};

use super::phase::{CUE, Phase, PhaseKind, Tally};
use super::words::{left, with};

/// The phase of a station that is being left, where that has the face; `next` is what the station would say else.
pub(super) fn phase(part: &StationPart, next: Phase, now: FloorMs) -> Option<Phase> {
    let limit = part.leaving.as_ref()?.limit;
    if now >= limit || !can_wait(part, next, now) {
        return None;
    }
    let tally = Some(Tally::Down(limit.since(now)));
    Some(Phase { kind: PhaseKind::Leaving, tally, due: next.due })
}

/// Whether whoever comes next, if anybody, has time.
fn can_wait(part: &StationPart, next: Phase, now: FloorMs) -> bool {
    match next.kind {
        PhaseKind::Reserved => true,
        PhaseKind::Coming | PhaseKind::Rest => part.turn.as_ref().is_some_and(|turn| {
            let time = match next.tally {
                Some(Tally::Down(left) | Tally::About(left)) => left,
                Some(Tally::Up(_)) | None => Millis(0),
            };
            !can_go(turn, now) && time > CUE + change(turn)
        }),
        PhaseKind::Free
        | PhaseKind::Held
        | PhaseKind::GetReady
        | PhaseKind::Changeover
        | PhaseKind::Leaving
        | PhaseKind::Ready
        | PhaseKind::GetSet
        | PhaseKind::CountIn
        | PhaseKind::Working
        | PhaseKind::Assumed
        | PhaseKind::WipeDown
        | PhaseKind::Paused
        | PhaseKind::Stopped
        | PhaseKind::OtherUse
        | PhaseKind::OutOfService
        | PhaseKind::Gone => false,
    }
}

fn can_go(turn: &TurnPart, now: FloorMs) -> bool {
    matches!(&turn.phase, TurnPhase::Coming { go_from, needs, .. } if needs.is_empty() && now >= *go_from)
}

/// How long one alone needs to put the load on.
fn change(turn: &TurnPart) -> Millis {
    let is_open =
        matches!(&turn.phase, TurnPhase::Coming { needs, .. } if needs.contains(&Need::ConfirmLoad));
    let bar = turn.load.as_ref().and_then(|load| load.bar.as_ref()).filter(|_| is_open);
    bar.map_or(Millis(0), |bar| bar.alone.millis())
}

/// Who is still on the station that somebody goes to.
pub(super) fn held_by(language: Language, leaving: &LeavingPart) -> String {
    leaving.held_by.as_ref().map_or_else(String::new, |name| {
        with(language, "label.held_by", &[("name", name), ("station", &leaving.to)])
    })
}

/// The same as one line, for the face of whoever comes next.
pub(super) fn line(language: Language, part: &StationPart, now: FloorMs) -> String {
    let Some(leaving) = part.leaving.as_ref().filter(|leaving| now < leaving.limit) else {
        return String::new();
    };
    let at = left(leaving.limit.since(now));
    let places = [("name", &*leaving.client), ("station", &*leaving.to), ("at", &*at)];
    with(language, "label.leaving", &places)
}

//! The buttons that are live at a station, each with the exact command it sends.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::said::BarLeft;
use turnabout_protocol::text::{message, say};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{HaltKind, Need, StationPart, StationState, TurnPart, TurnPhase};

use super::Scene;
use super::called;
use super::day::Day;
use super::phase::{PhaseKind, is_barred};
use super::tap::Tap;
use super::words::{about, left, need, with};

/// One button.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Button {
    /// Which.
    pub tap: Tap,
    /// What stands on it.
    pub label: String,
    /// Why it cannot be pressed, or what it adds.
    pub note: String,
    /// What it sends.
    pub act: Act,
    /// Whether it can be pressed.
    pub enabled: bool,
    /// From when it can be pressed, where only time is missing.
    pub from: Option<FloorMs>,
    /// The expected one: drawn large.
    pub primary: bool,
}

/// The buttons of a station in a phase, the most likely first; calls last.
pub(super) fn buttons(
    scene: &Scene<'_>,
    part: &StationPart,
    (kind, day): (PhaseKind, Day),
    now: FloorMs,
) -> Vec<Button> {
    let mut buttons = Vec::new();
    if let Some(lapse) = part.lapses {
        buttons.push(button(scene, Tap::StillHere, Act::StillHere { group: lapse.group }));
    }
    let turn = part.turn.as_ref().filter(|_| !is_barred(part));
    match (turn, part.halt.map(|h| h.halt)) {
        // Under the name of whoever leaves nothing is said of whoever comes next.
        _ if kind == PhaseKind::Leaving => {}
        (Some(turn), None | Some(HaltKind::Pause)) => coming(scene, part, turn, now, &mut buttons),
        (None, None | Some(HaltKind::Pause)) => {
            buttons.extend(wipe_down(scene, part));
            buttons.extend(other_use(scene, part));
        }
        // Stopped: nothing starts, and only calls and DONE are left.
        (_, Some(HaltKind::Stop)) => {}
    }
    buttons.push(call(scene, part, CallKind::CoachPlease, day));
    buttons.push(call(scene, part, CallKind::HelpNow, day));
    buttons
}

fn coming(scene: &Scene<'_>, part: &StationPart, turn: &TurnPart, now: FloorMs, into: &mut Vec<Button>) {
    let TurnPhase::Coming { go_from, needs, .. } = &turn.phase else {
        return;
    };
    // What the plates do not make cannot be confirmed: another load is set first.
    let unbuilt = turn.load.as_ref().is_some_and(|load| load.unbuilt.is_some());
    let confirm = needs.contains(&Need::ConfirmLoad) && !unbuilt;
    if confirm {
        let act = Act::ConfirmLoad { turn: turn.turn };
        let mut confirm = Button { primary: true, ..button(scene, Tap::ConfirmLoad, act) };
        // Only a bar has sides and collars.
        let right = if part.gear == GearKind::Bar { "label.bar_right" } else { "label.load_right" };
        message(scene.language, right).clone_into(&mut confirm.label);
        into.push(confirm);
    }
    let mut go = Button { primary: !confirm, ..button(scene, Tap::Go, Act::Go { turn: turn.turn }) };
    if let Some(first) = needs.first() {
        go.enabled = false;
        go.note = need(scene.language, *first);
    } else if part.halt.is_some() {
        go.enabled = false;
        go.note = need(scene.language, Need::Resume);
    } else if now < *go_from {
        go.enabled = false;
        go.from = Some(*go_from);
        go.note = format!("{} {}", message(scene.language, "label.in"), left(go_from.since(now)));
    }
    into.push(go);
    if needs.contains(&Need::Spotter) {
        into.extend(partners(scene, part, turn.turn));
    }
    if part.arms && needs.contains(&Need::Spotter) {
        into.push(button(scene, Tap::UseArms, Act::UseArms { turn: turn.turn }));
    }
    if part.gear != GearKind::Plain {
        into.push(button(scene, Tap::Lighter, Act::Lighter { turn: turn.turn, revision: turn.revision }));
    }
    let mut not_yet = button(scene, Tap::NotYet, Act::NotYet { turn: turn.turn });
    if not_yet.note.is_empty() {
        "+0:30".clone_into(&mut not_yet.note);
    }
    into.push(not_yet);
}

/// Whoever of the group may spot says so, and no other name is on a button.
fn partners(scene: &Scene<'_>, part: &StationPart, turn: TurnId) -> impl Iterator<Item = Button> {
    Tap::PARTNERS.into_iter().zip(&part.partners).map(move |(tap, partner)| {
        let label = with(scene.language, "label.spots", &[("name", &partner.name)]);
        Button { label, ..button(scene, tap, Act::SpotBy { turn, client: partner.client }) }
    })
}

/// How long somebody of the public is said to take in one tap. Common practice, no source; a coach can say
/// otherwise.
const OTHER_USE_MINUTES: u8 = 15;

/// In one tap somebody of the public is on a free station, or off it again.
fn other_use(scene: &Scene<'_>, part: &StationPart) -> Option<Button> {
    let station = part.station;
    match part.state {
        StationState::OtherUse => Some(button(scene, Tap::EndOtherUse, Act::EndOtherUse { station })),
        StationState::Free => {
            let act = Act::OtherUse { station, minutes: OTHER_USE_MINUTES };
            let mut other = button(scene, Tap::OtherUse, act);
            if other.note.is_empty() {
                other.note = about(scene.language, Millis::secs(i64::from(OTHER_USE_MINUTES) * 60));
            }
            Some(other)
        }
        StationState::Reserved
        | StationState::InUse
        | StationState::WipeDown
        | StationState::OutOfService => None,
    }
}

/// A bar is stripped, or left as agreed: that is for whoever frees the stations to say.
fn wipe_down(scene: &Scene<'_>, part: &StationPart) -> Vec<Button> {
    let Some(claim) = part.claim.filter(|_| part.state == StationState::WipeDown) else { return Vec::new() };
    let free = |tap, bar| {
        let act = Act::FreeStations { group: claim.group, block: claim.block, bar };
        Button { primary: tap == Tap::Free, ..button(scene, tap, act) }
    };
    let said = |label, tap, bar| {
        let label = message(scene.language, label).to_owned();
        Button { label, ..free(tap, bar) }
    };
    if part.gear != GearKind::Bar {
        return vec![said("label.wiped", Tap::Free, None)];
    }
    vec![
        said("label.bar_stripped", Tap::Free, Some(BarLeft::Stripped)),
        said("label.bar_left", Tap::FreeAsItIs, Some(BarLeft::AsItIs)),
    ]
}

fn call(scene: &Scene<'_>, part: &StationPart, kind: CallKind, day: Day) -> Button {
    let tap = match kind {
        CallKind::CoachPlease => Tap::CoachPlease,
        CallKind::HelpNow => Tap::HelpNow,
    };
    let mut call = button(scene, tap, Act::Call { station: part.station, call: kind });
    call.label = say(scene.language, "call", &kind, |_, value| value.to_string());
    if let Some(open) = called::open(part, kind) {
        call.enabled = false;
        call.note = called::note(scene.language, open, day);
    }
    call
}

/// A button that can be pressed unless the same tap is under way or the link it needs is down.
pub(super) fn button(scene: &Scene<'_>, tap: Tap, act: Act) -> Button {
    let label = say(scene.language, "act", &act, |_, value| value.to_string());
    let (enabled, note) = if scene.pending.contains(&act) {
        (false, message(scene.language, "label.saving"))
    } else if !scene.link.is_up() && !act.may_come_late() {
        (false, message(scene.language, "label.no_link"))
    } else {
        (true, "")
    };
    Button { tap, label, note: note.to_owned(), act, enabled, from: None, primary: false }
}

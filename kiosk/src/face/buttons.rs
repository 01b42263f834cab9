//! The buttons that are live at a station, each with the exact command it sends.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, CallKind, Effort};
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::text::{message, say};
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::view::{HaltKind, Need, StationPart, StationState, TurnPart, TurnPhase};

use super::Scene;
use super::phase::is_barred;
use super::words::{about, capital, left, need, with};

/// What a finger or a script can press.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tap {
    /// GO.
    Go,
    /// Done, and it was too light.
    DoneLight,
    /// Done, and it was right.
    DoneRight,
    /// Done, and it was too heavy.
    DoneHeavy,
    /// One step lighter.
    Lighter,
    /// Thirty seconds more.
    NotYet,
    /// A coach when there is a moment.
    CoachPlease,
    /// Help.
    HelpNow,
    /// Load and collars are right.
    ConfirmLoad,
    /// Wiped down.
    Free,
    /// The group is still there.
    StillHere,
    /// Somebody of the public is on the station.
    OtherUse,
    /// Nobody of the public is any more.
    EndOtherUse,
    /// The safety arms are set.
    UseArms,
    /// A partner spots: the first who can.
    SpotBy,
    /// The second who can.
    SpotBySecond,
    /// The third, and a group has no more than that beside the lifter.
    SpotByThird,
    /// The last tap is taken back.
    Undo,
}

impl Tap {
    /// Every tap.
    pub const ALL: [Self; 18] = [
        Self::Go,
        Self::DoneLight,
        Self::DoneRight,
        Self::DoneHeavy,
        Self::Lighter,
        Self::NotYet,
        Self::CoachPlease,
        Self::HelpNow,
        Self::ConfirmLoad,
        Self::Free,
        Self::StillHere,
        Self::OtherUse,
        Self::EndOtherUse,
        Self::UseArms,
        Self::SpotBy,
        Self::SpotBySecond,
        Self::SpotByThird,
        Self::Undo,
    ];

    /// Of partners, in the order of the view.
    const PARTNERS: [Self; 3] = [Self::SpotBy, Self::SpotBySecond, Self::SpotByThird];

    /// Its name, the same as in a script.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Go => "go",
            Self::DoneLight => "done_light",
            Self::DoneRight => "done_right",
            Self::DoneHeavy => "done_heavy",
            Self::Lighter => "lighter",
            Self::NotYet => "not_yet",
            Self::CoachPlease => "coach_please",
            Self::HelpNow => "help_now",
            Self::ConfirmLoad => "confirm_load",
            Self::Free => "free",
            Self::StillHere => "still_here",
            Self::OtherUse => "other_use",
            Self::EndOtherUse => "end_other_use",
            Self::UseArms => "use_arms",
            Self::SpotBy => "spot_by",
            Self::SpotBySecond => "spot_by_second",
            Self::SpotByThird => "spot_by_third",
            Self::Undo => "undo",
        }
    }

    /// The tap of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|tap| tap.name() == name)
    }
}

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

/// A question with three answers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ask {
    /// The set it is about, as a text to compare.
    pub turn: String,
    /// What stands on the button that opens it.
    pub label: String,
    /// Why it cannot be opened.
    pub note: String,
    /// Whether it can be opened.
    pub enabled: bool,
    /// How heavy was it?
    pub question: String,
    /// Light, right, heavy.
    pub answers: Vec<Button>,
    /// What stands on the button that closes it.
    pub back: String,
}

/// The buttons of a station, the most likely first; calls last.
pub(super) fn buttons(scene: &Scene<'_>, part: &StationPart, now: FloorMs) -> Vec<Button> {
    let mut buttons = Vec::new();
    if let Some(lapse) = part.lapses {
        buttons.push(button(scene, Tap::StillHere, Act::StillHere { group: lapse.group }));
    }
    let turn = part.turn.as_ref().filter(|_| !is_barred(part));
    match (turn, part.halt.map(|h| h.halt)) {
        (Some(turn), None | Some(HaltKind::Pause)) => coming(scene, part, turn, now, &mut buttons),
        (None, None | Some(HaltKind::Pause)) => {
            buttons.extend(wipe_down(scene, part));
            buttons.extend(other_use(scene, part));
        }
        // Stopped: nothing starts, and only calls and DONE are left.
        (_, Some(HaltKind::Stop)) => {}
    }
    buttons.push(call(scene, part, CallKind::CoachPlease));
    buttons.push(call(scene, part, CallKind::HelpNow));
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
        into.push(Button { primary: true, ..button(scene, Tap::ConfirmLoad, act) });
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

fn wipe_down(scene: &Scene<'_>, part: &StationPart) -> Option<Button> {
    let claim = part.claim.filter(|_| part.state == StationState::WipeDown)?;
    let act = Act::FreeStations { group: claim.group, block: claim.block, bar: None };
    Some(Button { primary: true, ..button(scene, Tap::Free, act) })
}

fn call(scene: &Scene<'_>, part: &StationPart, kind: CallKind) -> Button {
    let tap = match kind {
        CallKind::CoachPlease => Tap::CoachPlease,
        CallKind::HelpNow => Tap::HelpNow,
    };
    let mut call = button(scene, tap, Act::Call { station: part.station, call: kind });
    call.label = say(scene.language, "call", &kind, |_, value| value.to_string());
    if part.calls.iter().any(|open| open.kind == kind && open.station == part.station) {
        call.enabled = false;
        message(scene.language, "label.call_heard").clone_into(&mut call.note);
    }
    call
}

/// DONE, while a set is under way. It opens the effort answers, which complete it.
pub(super) fn done(scene: &Scene<'_>, part: &StationPart, now: FloorMs) -> Option<Ask> {
    let turn = part.turn.as_ref()?;
    let TurnPhase::UnderWay { starts, .. } = turn.phase else {
        return None;
    };
    let act = |effort| Act::Done { turn: turn.turn, reps: None, effort: Some(effort), ending: None };
    let mut ask = ask(scene, turn.turn, &turn.client, act, |pending| is_done(pending, turn.turn));
    // GO and DONE share a place: a double tap on GO must not reach DONE. Whoever is stopped may rack at once.
    let stopped = part.halt.is_some_and(|h| h.halt == HaltKind::Stop);
    if now < starts && !stopped {
        ask.enabled = false;
        for answer in &mut ask.answers {
            answer.enabled = false;
            answer.from = Some(starts);
        }
    }
    Some(ask)
}

/// How long before the client's next set the question is gone: by then the load is being put on.
const EFFORT_GONE: Secs = Secs(20);

/// The open effort answer of a set before, unless the one under way is about to ask its own. Whoever does not answer
/// goes on with the same load.
pub(super) fn effort(scene: &Scene<'_>, part: &StationPart, now: FloorMs) -> Option<Ask> {
    let is_asked = |until: FloorMs| until.since(now) > EFFORT_GONE.millis();
    let open = part.ask_efforts.iter().find(|open| open.until.is_none_or(is_asked))?;
    if part.turn.as_ref().is_some_and(|turn| matches!(turn.phase, TurnPhase::UnderWay { .. })) {
        return None;
    }
    let act = |effort| Act::Effort { turn: open.turn, effort };
    let same = |pending: &Act| matches!(pending, Act::Effort { turn, .. } if *turn == open.turn);
    let mut ask = ask(scene, open.turn, &open.client, act, same);
    // It is about what is past: the large button stays that of the set to come.
    for answer in &mut ask.answers {
        answer.primary = false;
    }
    Some(ask)
}

fn is_done(pending: &Act, set: TurnId) -> bool {
    matches!(pending, Act::Done { turn, .. } if *turn == set)
}

fn ask(
    scene: &Scene<'_>,
    turn: TurnId,
    who: &str,
    act: impl Fn(Effort) -> Act,
    same: impl Fn(&Act) -> bool,
) -> Ask {
    let waits = scene.pending.iter().any(same);
    let answers =
        [(Tap::DoneLight, Effort::Light), (Tap::DoneRight, Effort::Right), (Tap::DoneHeavy, Effort::Heavy)];
    let answers: Vec<Button> = answers
        .into_iter()
        .map(|(tap, effort)| {
            let label = capital(&say(scene.language, "effort", &effort, |_, value| value.to_string()));
            let plain = button(scene, tap, act(effort));
            Button { label, primary: true, enabled: plain.enabled && !waits, ..plain }
        })
        .collect();
    let TurnId { group, client, block, round, leg } = turn;
    Ask {
        turn: format!("{group}-{client}-{block}-{round}-{leg}"),
        label: message(scene.language, "act.done").to_owned(),
        note: if waits { message(scene.language, "label.saving").to_owned() } else { String::new() },
        enabled: !waits,
        question: format!("{who}: {}", message(scene.language, "label.asking")),
        answers,
        back: message(scene.language, "label.back").to_owned(),
    }
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

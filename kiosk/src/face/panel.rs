//! One station in words, and which of several is shown large.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{HaltKind, Need, SettingPart, StationPart, StationView, TurnPart, TurnPhase};
use turnabout_protocol::work::Work;

use super::Scene;
use super::buttons::{self, Ask, Button};
use super::load::{Load, load};
use super::pad::{self, Key};
use super::phase::{Phase, PhaseKind, of_station};
use super::plates;
use super::proposal::proposal;
use super::told;
use super::words::{about, capital, left, need, tally, with};

/// One station in words. An empty text is not drawn.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Panel {
    /// The station.
    pub id: StationId,
    /// The station's key.
    pub key: String,
    /// The station's name.
    pub station: String,
    /// What is going on.
    pub phase: PhaseKind,
    /// The same as a word.
    pub word: String,
    /// The client.
    pub who: String,
    /// The exercise.
    pub exercise: String,
    /// Which set of how many.
    pub set: String,
    /// The load.
    pub load: Load,
    /// The target repetitions.
    pub reps: String,
    /// The tempo.
    pub tempo: String,
    /// The number pair: minutes and seconds left, or past zero with a plus.
    pub count: String,
    /// The repetition of the pace. Says that it is the pace.
    pub pace: String,
    /// That the rest is about to end.
    pub cue: String,
    /// Why the set does not start earlier.
    pub why: String,
    /// What has to be done at once, in place of everything else: rack the bar, do not start.
    pub order: String,
    /// What is still needed before the set.
    pub needs: String,
    /// Who spots.
    pub spotter: String,
    /// What is proposed for the set, or why its load is what it is.
    pub proposal: String,
    /// Which plates are missing here.
    pub missing: String,
    /// Where the client goes after this set.
    pub then: String,
    /// Who comes next here, and when.
    pub next: String,
    /// Why not earlier.
    pub next_why: String,
    /// How the station is to be set for the client, what is to be changed first.
    pub settings: String,
    /// The buttons of this station, the most likely first.
    pub buttons: Vec<Button>,
    /// Done, with the answers that complete it; while a set is under way.
    pub done: Option<Ask>,
    /// The open effort answer of a set before.
    pub effort: Option<Ask>,
    /// Opens what can be said of the plates.
    pub not_as_shown: Option<Key>,
}

impl Panel {
    /// Every button, the answers to DONE before those to an older question.
    pub fn all_buttons(&self) -> impl Iterator<Item = &Button> {
        let asks = self.done.iter().chain(&self.effort);
        self.buttons.iter().chain(asks.flat_map(|ask| &ask.answers))
    }
}

/// All stations of a view, the one where something happens next first.
pub(super) fn panels(scene: &Scene<'_>, view: &StationView, now: FloorMs) -> Vec<Panel> {
    let mut parts: Vec<(&StationPart, Phase)> =
        view.stations.iter().map(|part| (part, of_station(part, now))).collect();
    // Nothing takes the place of a station whose plates are being spoken of.
    let focus = pad::station(scene, view).or(scene.focus);
    // A stable sort: of stations with the same claim to the large place the first stays.
    parts.sort_by_key(|(part, phase)| {
        let chosen = focus == Some(part.station);
        let gripping = matches!(phase.kind, PhaseKind::GetSet | PhaseKind::CountIn)
            || (phase.kind == PhaseKind::Stopped && is_under_way(part));
        (!chosen, !gripping, phase.due.is_none(), phase.due)
    });
    parts.into_iter().map(|(part, phase)| panel(scene, part, phase, now)).collect()
}

pub(super) fn is_under_way(part: &StationPart) -> bool {
    part.turn.as_ref().is_some_and(|turn| matches!(turn.phase, TurnPhase::UnderWay { .. }))
}

fn panel(scene: &Scene<'_>, part: &StationPart, phase: Phase, now: FloorMs) -> Panel {
    let language = scene.language;
    let barred = matches!(phase.kind, PhaseKind::OtherUse | PhaseKind::OutOfService);
    let turn = part.turn.as_ref().filter(|_| !barred);
    let text = |of: fn(&TurnPart, Language) -> String| turn.map_or_else(String::new, |t| of(t, language));
    let load = turn.and_then(|t| t.load.as_ref()).map_or_else(Load::default, |card| load(language, card));
    // While there is something to change, how that is done safely matters more than that the rest is nearly over.
    let is_told = turn.is_some_and(|turn| turn.promise.is_some());
    let is_cue = phase.is_cue(is_told) && (load.notes.is_empty() || load.on_now.is_empty());
    Panel {
        id: part.station,
        key: part.key.to_string(),
        station: part.name.clone(),
        phase: phase.kind,
        word: capital(message(language, phase.kind.word())),
        who: turn.map_or_else(String::new, |t| t.client.clone()),
        exercise: turn.map_or_else(String::new, |t| t.exercise.of(language).to_owned()),
        set: text(|t, language| say(language, "set", &t.set, |_, v| v.to_string())),
        load,
        reps: text(|t, language| work(language, t.work)),
        tempo: text(tempo),
        count: tally(phase),
        pace: match (phase.pace, turn) {
            (Some(n), Some(TurnPart { work: Work::Reps { .. }, reps, .. })) => {
                with(language, "label.pace", &[("n", &n.to_string()), ("of", &reps.to_string())])
            }
            // A hold has no repetitions to count.
            (Some(_) | None, _) => String::new(),
        },
        cue: if is_cue { message(language, "label.cue").into() } else { String::new() },
        why: turn.map_or_else(String::new, |turn| told::why(language, turn, now)),
        order: order(language, part, phase, now),
        needs: needs(language, part, now),
        spotter: text(told::spotter),
        proposal: text(|t, language| proposal(language, t)),
        missing: turn
            .and(part.plates.as_ref())
            .map_or_else(String::new, |rack| plates::missing(language, rack)),
        then: text(then),
        next: if barred { told::goes_on(language, part, now) } else { told::next(language, part, now) },
        next_why: if barred { String::new() } else { told::next_why(language, part, now) },
        settings: text(settings),
        buttons: buttons::buttons(scene, part, now),
        done: buttons::done(scene, part, now),
        effort: buttons::effort(scene, part, now),
        not_as_shown: pad::opener(scene, part),
    }
}

/// What is asked for: repetitions, a range of them, or a time.
pub(super) fn work(language: Language, work: Work) -> String {
    let reps = message(language, "label.reps");
    match work {
        Work::Reps { least, most } if least == most => format!("{most} {reps}"),
        Work::Reps { least, most } => {
            let (least, most) = (least.to_string(), most.to_string());
            let range = with(language, "label.range", &[("least", &least), ("most", &most)]);
            format!("{range} {reps}")
        }
        Work::Hold { secs } => with(language, "label.hold_secs", &[("n", &secs.0.to_string())]),
    }
}

/// The tempo, where there are repetitions, and whether each side has its turn.
fn tempo(turn: &TurnPart, language: Language) -> String {
    let side = turn.per_side.then(|| message(language, "label.per_side").to_owned());
    let tempo = match turn.work {
        Work::Reps { .. } => Some(format!("{} {}", message(language, "label.tempo"), turn.tempo)),
        Work::Hold { .. } => None,
    };
    side.into_iter().chain(tempo).collect::<Vec<_>>().join("  ·  ")
}

/// What is to be changed first comes first and says so. Under way nothing is set any more.
fn settings(turn: &TurnPart, language: Language) -> String {
    if turn.settings.is_empty() || matches!(turn.phase, TurnPhase::UnderWay { .. }) {
        return String::new();
    }
    let one = |setting: &SettingPart| {
        let change = if setting.change { message(language, "label.setting_change") } else { "" };
        [change, &setting.name, &setting.value].map(str::trim).join(" ").trim().to_owned()
    };
    turn.settings.iter().map(one).collect::<Vec<_>>().join("  ·  ")
}

/// What has to be done at once.
fn order(language: Language, part: &StationPart, phase: Phase, now: FloorMs) -> String {
    if let Some(barred) = barred(language, part, phase, now) {
        return barred;
    }
    let id = match phase.kind {
        PhaseKind::Stopped if !is_under_way(part) => "label.do_not_start",
        PhaseKind::Stopped => match part.gear {
            GearKind::Bar => "label.rack_the_bar",
            GearKind::Stack => "label.let_the_stack_down",
            GearKind::Dumbbells => "label.put_them_down",
            GearKind::Belt | GearKind::Plain => "label.set_it_down",
        },
        PhaseKind::WipeDown => match part.gear {
            GearKind::Bar => "label.wipe_down_bar",
            GearKind::Stack | GearKind::Dumbbells | GearKind::Belt | GearKind::Plain => "label.wipe_down",
        },
        PhaseKind::Free
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
        | PhaseKind::OtherUse
        | PhaseKind::OutOfService
        | PhaseKind::Gone
        | PhaseKind::Paused => return still_there(language, part, now),
    };
    message(language, id).to_owned()
}

/// What keeps everybody off: somebody of the public, or a defect.
fn barred(language: Language, part: &StationPart, phase: Phase, now: FloorMs) -> Option<String> {
    if phase.kind == PhaseKind::OtherUse {
        let left = part.other_use?.until.since(now);
        let id = if left.0 > 0 { "label.other_use_until" } else { "label.other_use_over" };
        return Some(with(language, id, &[("at", &about(language, left))]));
    }
    let out = part.out.filter(|_| phase.kind == PhaseKind::OutOfService)?;
    let defect = say(language, "defect", &out.defect, |_, value| value.to_string());
    Some(with(language, "label.out", &[("defect", &defect)]))
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

fn needs(language: Language, part: &StationPart, now: FloorMs) -> String {
    let still_there = still_there(language, part, now);
    if !still_there.is_empty() {
        return still_there;
    }
    match (part.turn.as_ref().map(|t| &t.phase), part.halt.map(|h| h.halt)) {
        (Some(TurnPhase::UnderWay { .. }), Some(HaltKind::Pause)) => {
            format!("{}: {}", message(language, "halt.pause"), need(language, Need::Resume))
        }
        (Some(TurnPhase::Coming { needs, .. }), None | Some(HaltKind::Pause | HaltKind::Stop)) => {
            let said: Vec<String> = needs.iter().take(NEEDS_SHOWN).map(|n| need(language, *n)).collect();
            said.join(NEEDS_BETWEEN)
        }
        (Some(TurnPhase::UnderWay { .. }), None | Some(HaltKind::Stop)) | (None, _) => String::new(),
    }
}

fn then(turn: &TurnPart, language: Language) -> String {
    turn.then.as_ref().map_or_else(String::new, |then| {
        with(language, "label.then", &[("exercise", then.exercise.of(language)), ("station", &then.station)])
    })
}

//! One station in words, and which of several is shown large.

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{SettingPart, StationPart, StationView, TurnPart, TurnPhase};
use turnabout_protocol::work::Work;

use super::asks::{self, Ask};
use super::buttons::{self, Button};
use super::day::Day;
use super::load::{Load, load};
use super::pacer::{self, Beat, Pacer};
use super::pad::{self, Key};
use super::phase::{Cue, Phase, PhaseKind, Tally, of_station};
use super::proposal::proposal;
use super::words::{capital, tally, with};
use super::{Scene, called, leaving, orders, plates, told, vacant};

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
    /// Where the tempo of the set under way is; nothing where somebody has turned that off.
    pub pacer: Option<Pacer>,
    /// How to breathe in a hold.
    pub breath: String,
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
    /// Where the client goes now, who has just done a set here.
    pub to: String,
    /// Who is still on the station that the client goes to.
    pub held_by: String,
    /// Who is on the way elsewhere from here, where to and how long that may take; said on the face of whoever comes next.
    pub leaving: String,
    /// Who of the group does what for the coming set.
    pub jobs: String,
    /// Since when a call from here is open, and who is on the way.
    pub called: String,
    /// Since when the station must not be used.
    pub since: String,
    /// Thanks to whoever did sets here.
    pub thanks: String,
    /// What would be proposed here the next time.
    pub next_time: String,
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
    /// All open effort answers of the round before, beside each other.
    pub efforts: Vec<Ask>,
    /// Opens what can be said of the plates.
    pub not_as_shown: Option<Key>,
    /// Turns the pacer off or on, while there is one.
    pub pace_key: Option<Key>,
}

impl Panel {
    /// Every button, the answers to DONE before those to an older question.
    pub fn all_buttons(&self) -> impl Iterator<Item = &Button> {
        let asks = self.done.iter().chain(&self.efforts);
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
    let day = Day::new(view.clock, view.zone_offset);
    parts.into_iter().map(|(part, phase)| panel(scene, part, phase, (day, now))).collect()
}

pub(super) fn is_under_way(part: &StationPart) -> bool {
    part.turn.as_ref().is_some_and(|turn| matches!(turn.phase, TurnPhase::UnderWay { .. }))
}

fn panel(scene: &Scene<'_>, part: &StationPart, phase: Phase, (day, now): (Day, FloorMs)) -> Panel {
    let (language, kind) = (scene.language, phase.kind);
    let barred = matches!(kind, PhaseKind::OtherUse | PhaseKind::OutOfService);
    let left = part.leaving.as_ref().filter(|_| kind == PhaseKind::Leaving);
    let turn = part.turn.as_ref().filter(|_| !barred && left.is_none());
    let text = |of: fn(&TurnPart, Language) -> String| turn.map_or_else(String::new, |t| of(t, language));
    let load = turn.and_then(|t| t.load.as_ref()).map_or_else(Load::default, |card| load(language, card));
    let jobs =
        turn.zip(part.jobs.as_ref()).map_or_else(String::new, |(t, jobs)| told::jobs(language, t, jobs));
    let working = turn.filter(|_| kind == PhaseKind::Working);
    let beat = working.and_then(|turn| Some((turn, pacer::beat(turn, now)?)));
    let paced = beat.filter(|(turn, _)| !scene.unpaced.contains(&turn.turn));
    let said = |of: fn(Language, &TurnPart, Beat) -> String| {
        paced.map_or_else(String::new, |(turn, beat)| of(language, turn, beat))
    };
    let exercise = turn.map(|t| &t.exercise).or_else(|| left.map(|left| &left.exercise));
    Panel {
        id: part.station,
        key: part.key.to_string(),
        station: part.name.clone(),
        phase: kind,
        word: capital(message(language, kind.word())),
        who: left.map(|left| &left.client).or_else(|| turn.map(|t| &t.client)).cloned().unwrap_or_default(),
        exercise: exercise.map_or_else(String::new, |exercise| exercise.of(language).to_owned()),
        set: text(|t, language| say(language, "set", &t.set, |_, v| v.to_string())),
        cue: cue(language, phase, turn, &load),
        count: count(phase, &load),
        load,
        reps: text(|t, language| work(language, t.work)),
        tempo: text(tempo),
        pace: said(pacer::pace),
        pacer: paced.map(|(turn, beat)| pacer::pacer(language, turn, beat)),
        breath: turn.map_or_else(String::new, |turn| pacer::held_breath(language, turn, kind)),
        why: turn.map_or_else(String::new, |turn| told::why(language, turn, now)),
        order: orders::order(language, part, phase, (day, now)),
        needs: if left.is_some() { String::new() } else { orders::needs(language, part, kind, now) },
        spotter: if jobs.is_empty() { text(told::spotter) } else { String::new() },
        proposal: text(|t, language| proposal(language, t)),
        missing: turn
            .and(part.plates.as_ref())
            .map_or_else(String::new, |rack| plates::missing(language, rack)),
        then: text(then),
        to: left.map_or_else(String::new, |left| left.to.clone()),
        held_by: left.map_or_else(String::new, |left| leaving::held_by(language, left)),
        leaving: if left.is_some() { String::new() } else { leaving::line(language, part, now) },
        jobs,
        called: called::line(language, part, day),
        since: vacant::since(language, part, kind, day),
        thanks: vacant::thanks(language, part, kind),
        next_time: vacant::next_time(language, part),
        next: told::next_at(language, part, kind, now),
        next_why: if barred || left.is_some() { String::new() } else { told::next_why(language, part, now) },
        settings: turn.map_or_else(String::new, |turn| settings(language, turn, kind)),
        buttons: buttons::buttons(scene, part, (kind, day), now),
        done: asks::done(scene, part, now),
        efforts: asks::efforts(scene, part, now),
        not_as_shown: if left.is_some() { None } else { pad::opener(scene, part) },
        pace_key: beat.map(|(turn, _)| pacer::key(scene, turn)),
    }
}

/// The number pair. While plates are put on, how long ago that should have been is no help: they are drawn there.
fn count(phase: Phase, load: &Load) -> String {
    let late = phase.kind == PhaseKind::GetReady && matches!(phase.tally, Some(Tally::Up(_)));
    if late && !load.sleeve.is_empty() { String::new() } else { tally(phase) }
}

/// That the rest is about to end. While there is something to change, how that is done safely matters more.
fn cue(language: Language, phase: Phase, turn: Option<&TurnPart>, load: &Load) -> String {
    let is_told = turn.is_some_and(|turn| turn.promise.is_some());
    let cue = phase.cue(is_told).filter(|_| load.notes.is_empty() || load.on_now.is_empty());
    cue.map_or_else(String::new, |cue| {
        let id = match cue {
            Cue::Soon => "label.cue",
            Cue::Now => "label.cue_now",
        };
        message(language, id).to_owned()
    })
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

/// What is to be changed first comes first and says so; while the station is made ready, nothing else is said. Under way
/// nothing is set any more.
fn settings(language: Language, turn: &TurnPart, kind: PhaseKind) -> String {
    if matches!(turn.phase, TurnPhase::UnderWay { .. }) {
        return String::new();
    }
    let one = |setting: &SettingPart| {
        let change = if setting.change { message(language, "label.setting_change") } else { "" };
        [change, &setting.name, &setting.value].map(str::trim).join(" ").trim().to_owned()
    };
    let shown = turn.settings.iter().filter(|setting| setting.change || kind != PhaseKind::GetReady);
    shown.map(one).collect::<Vec<_>>().join("  ·  ")
}

fn then(turn: &TurnPart, language: Language) -> String {
    turn.then.as_ref().map_or_else(String::new, |then| {
        with(language, "label.then", &[("exercise", then.exercise.of(language)), ("station", &then.station)])
    })
}

//! The pacer of a set under way: where its tempo is now, in the exercise's own words.
//!
//! It is time alone and counts nothing: repetitions follow each other from the set's start on, as long as the tempo says,
//! whatever the client does. How long a set lasts is reckoned by the server in the same way, without a change of sides.

use serde::{Deserialize, Serialize};
use turnabout_protocol::tempo::Tempo;
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::view::{Breathing, CuesPart, PhaseWords, StartsWith, TurnPart, TurnPhase};
use turnabout_protocol::work::Work;

use super::Scene;
use super::pad::{self, Key, Step};
use super::phase::PhaseKind;
use super::words::{capital, with};

/// What is done in a part of a repetition.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Move {
    /// Giving way: a press is lowered, a row let back out.
    Eccentric,
    /// Nothing moves.
    Pause,
    /// The effort.
    Concentric,
}

/// Of a set that is done once for each side, which one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Whichever the client begins with.
    First,
    /// The other.
    Second,
}

/// How full the level is during a part: effort fills it, giving way empties it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// From empty to full.
    Fills,
    /// From full to empty.
    Empties,
    /// Full, and nothing moves.
    Full,
    /// Empty, and nothing moves.
    Empty,
}

impl Level {
    /// How full it is after a share of the part, each from 0 to 1.
    #[must_use]
    pub const fn at(self, share: f32) -> f32 {
        match self {
            Self::Fills => share,
            Self::Empties => 1.0 - share,
            Self::Full => 1.0,
            Self::Empty => 0.0,
        }
    }
}

/// A part of a repetition: one of the four numbers of a tempo that is not 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Beat {
    /// Which repetition, from 1; of its side, where there are two.
    pub rep: u8,
    /// Which side, where there are two.
    pub side: Option<Side>,
    /// What is done.
    pub does: Move,
    /// When the part begins.
    pub starts: FloorMs,
    /// When the next one begins, or the set is over.
    pub ends: FloorMs,
    /// How long the whole repetition lasts.
    pub rep_lasts: Secs,
    /// How full the level is. A repetition without effort or without a way back has none: it would have to jump.
    pub level: Option<Level>,
}

/// How floor time goes by at a display.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Going {
    /// Floor time now.
    pub now: FloorMs,
    /// How many floor milliseconds go by in one of real time; 0 while a test drives the clock.
    pub rate: u32,
}

/// How the level is drawn from now on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// How full it is now, from 0 to 1.
    pub at: f32,
    /// How full it is in the end.
    pub to: f32,
    /// How long it takes until then, in real time.
    pub left: Millis,
}

/// The least that a repetition may last in real time for its level to be drawn: each makes it bright once and dark once,
/// and that is to happen once a second at most. Stricter than WCAG 2.2, success criterion 2.3.1, which allows three
/// flashes a second. On a floor that runs ten times as fast only the words are left.
pub const LEAST_REP: Millis = Millis::secs(1);

impl Beat {
    /// How its level is drawn; nothing where it has none or would flash.
    #[must_use]
    pub fn motion(&self, going: Going) -> Option<Motion> {
        let level = self.level?;
        let rate = i64::from(going.rate);
        if self.rep_lasts.millis().0 < LEAST_REP.0.saturating_mul(rate) {
            return None;
        }
        let at = level.at(share(going.now.since(self.starts), self.ends.since(self.starts)));
        Some(match self.ends.since(going.now).0.max(0).checked_div(rate) {
            Some(left) => Motion { at, to: level.at(1.0), left: Millis(left) },
            None => Motion { at, to: at, left: Millis(0) },
        })
    }
}

/// The part of a whole, from 0 to 1.
fn share(part: Millis, whole: Millis) -> f32 {
    #[expect(clippy::cast_precision_loss, reason = "half a minute in milliseconds")]
    let share = part.0 as f32 / whole.0.max(1) as f32;
    share.clamp(0.0, 1.0)
}

/// The pacer in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pacer {
    /// Where the tempo is.
    pub beat: Beat,
    /// What to do now.
    pub word: String,
    /// How to breathe; empty in a pause.
    pub breath: String,
}

/// Where the tempo of a set is; nothing for a hold, and before and after its repetitions.
#[must_use]
pub fn beat(turn: &TurnPart, now: FloorMs) -> Option<Beat> {
    let (TurnPhase::UnderWay { starts, ends, .. }, Work::Reps { .. }) = (&turn.phase, turn.work) else {
        return None;
    };
    let rep_lasts = turn.tempo.rep();
    if now < *starts || now >= *ends {
        return None;
    }
    let nth = now.since(*starts).0.checked_div(rep_lasts.millis().0)?;
    let reps = i64::from(turn.reps.max(1));
    let side = turn.per_side.then_some(if nth < reps { Side::First } else { Side::Second });
    if nth >= if turn.per_side { 2 * reps } else { reps } {
        return None;
    }
    let mut begins = *starts + Millis(nth * rep_lasts.millis().0);
    for (does, lasts, level) in parts(turn.tempo, turn.starts_with) {
        let over = begins + lasts;
        if now < over {
            let rep = u8::try_from(nth % reps + 1).unwrap_or(u8::MAX);
            let level = has_level(turn.tempo).then_some(level);
            return Some(Beat { rep, side, does, starts: begins, ends: over.min(*ends), rep_lasts, level });
        }
        begins = over;
    }
    None
}

/// The four parts of a repetition from the one that the exercise starts with. A pause comes after its own phase, wherever
/// that is.
fn parts(tempo: Tempo, starts_with: StartsWith) -> [(Move, Secs, Level); 4] {
    let mut parts = [
        (Move::Eccentric, tempo.eccentric.nominal(), Level::Empties),
        (Move::Pause, tempo.after_eccentric.nominal(), Level::Empty),
        (Move::Concentric, tempo.concentric.nominal(), Level::Fills),
        (Move::Pause, tempo.after_concentric.nominal(), Level::Full),
    ];
    match starts_with {
        StartsWith::Eccentric => {}
        StartsWith::Concentric => parts.rotate_left(2),
    }
    parts
}

fn has_level(tempo: Tempo) -> bool {
    tempo.eccentric.nominal() > Secs(0) && tempo.concentric.nominal() > Secs(0)
}

/// The pacer of a set that is at a part of its tempo.
pub(super) fn pacer(language: Language, turn: &TurnPart, beat: Beat) -> Pacer {
    let word = word(language, turn.cues.as_ref().and_then(|cues| cues.phases.as_ref()), beat.does);
    let breath = turn.cues.as_ref().and_then(|cues| breath(cues, beat.does));
    let breath = breath.map_or_else(String::new, |id| message(language, id).to_owned());
    Pacer { beat, word: capital(word), breath }
}

/// What to do: in the words of the exercise, or else in plain ones.
fn word(language: Language, phases: Option<&PhaseWords>, does: Move) -> &str {
    match (does, phases) {
        (Move::Eccentric, Some(phases)) => phases.eccentric.of(language),
        (Move::Concentric, Some(phases)) => phases.concentric.of(language),
        (Move::Eccentric, None) => message(language, "label.pacer_return"),
        (Move::Concentric, None) => message(language, "label.pacer_effort"),
        (Move::Pause, _) => message(language, "label.pacer_hold"),
    }
}

/// How to breathe, as the id of a text: out with the effort and in on the way back (common practice, no source).
fn breath(cues: &CuesPart, does: Move) -> Option<&'static str> {
    match (cues.breathing, does) {
        (Breathing::Even, _) => Some("label.breathe_evenly"),
        (Breathing::OutWithEffort, Move::Concentric) => Some("label.breathe_out"),
        (Breathing::OutWithEffort, Move::Eccentric) => Some("label.breathe_in"),
        (Breathing::OutWithEffort, Move::Pause) => None,
    }
}

/// How to breathe in a hold, which has no pacer.
pub(super) fn held_breath(language: Language, turn: &TurnPart, kind: PhaseKind) -> String {
    let even = turn.cues.as_ref().is_some_and(|cues| cues.breathing == Breathing::Even);
    let holds = kind == PhaseKind::Working && matches!(turn.work, Work::Hold { .. });
    if even && holds { message(language, "label.breathe_evenly").to_owned() } else { String::new() }
}

/// The repetition that the pace is at. Says that it is the pace, and on which side.
pub(super) fn pace(language: Language, turn: &TurnPart, beat: Beat) -> String {
    let (n, of) = (beat.rep.to_string(), turn.reps.to_string());
    let counted = [("n", n.as_str()), ("of", of.as_str())];
    match beat.side {
        None => with(language, "label.pace", &counted),
        Some(Side::First) => with(language, "label.pace_first_side", &counted),
        Some(Side::Second) => with(language, "label.pace_second_side", &counted),
    }
}

/// Turns the pacer of a set off, or on again.
pub(super) fn key(scene: &Scene<'_>, turn: &TurnPart) -> Key {
    let on = scene.unpaced.contains(&turn.turn);
    let (name, label) = if on { ("pace-on", "label.pace_on") } else { ("pace-off", "label.pace_off") };
    pad::key(scene, name, label, Step::Pace { turn: turn.turn, on })
}

//! How heavy a set was: asked by DONE, and again after a round as long as nobody has said so.

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{Act, Effort};
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::text::{message, say};
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{AskEffort, HaltKind, StationPart, TurnPhase};

use super::Scene;
use super::buttons::{Button, button};
use super::tap::Tap;
use super::words::capital;

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
    /// Of what it is asked; empty where nothing else can be meant.
    pub title: String,
    /// What holds if nobody answers; empty where it has to be answered.
    pub unanswered: String,
    /// Light, right, heavy.
    pub answers: Vec<Button>,
    /// What stands on the button that closes it.
    pub back: String,
}

/// The taps of a question by itself, and of the first of two.
const ANSWERS: [Tap; 3] = [Tap::DoneLight, Tap::DoneRight, Tap::DoneHeavy];
/// Those of the second.
const SECOND_ANSWERS: [Tap; 3] = [Tap::SecondLight, Tap::SecondRight, Tap::SecondHeavy];

/// DONE, while a set is under way. It opens the effort answers, which complete it.
pub(super) fn done(scene: &Scene<'_>, part: &StationPart, now: FloorMs) -> Option<Ask> {
    let turn = part.turn.as_ref()?;
    let TurnPhase::UnderWay { starts, .. } = turn.phase else {
        return None;
    };
    let act = |effort| Act::Done { turn: turn.turn, reps: None, effort: Some(effort), ending: None };
    let mut ask = ask(scene, turn.turn, &turn.client, ANSWERS, act, |pending| is_done(pending, turn.turn));
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

/// How many sets are asked about beside each other: the two of a pair. Of a longer chain the next is asked about once one
/// is answered.
const BESIDE: usize = 2;

/// The open effort answers of the round before, of each exercise, unless the set under way is about to ask its own.
/// Whoever does not answer goes on with the same load.
pub(super) fn efforts(scene: &Scene<'_>, part: &StationPart, now: FloorMs) -> Vec<Ask> {
    if part.turn.as_ref().is_some_and(|turn| matches!(turn.phase, TurnPhase::UnderWay { .. })) {
        return Vec::new();
    }
    let is_asked = |until: FloorMs| until.since(now) > EFFORT_GONE.millis();
    let open = part.ask_efforts.iter().filter(|open| open.until.is_none_or(is_asked));
    open.take(BESIDE).zip([ANSWERS, SECOND_ANSWERS]).map(|(open, taps)| effort(scene, open, taps)).collect()
}

fn effort(scene: &Scene<'_>, open: &AskEffort, taps: [Tap; 3]) -> Ask {
    let act = |effort| Act::Effort { turn: open.turn, effort };
    let same = |pending: &Act| matches!(pending, Act::Effort { turn, .. } if *turn == open.turn);
    let mut ask = ask(scene, open.turn, &open.client, taps, act, same);
    open.exercise.of(scene.language).clone_into(&mut ask.title);
    message(scene.language, "label.unanswered").clone_into(&mut ask.unanswered);
    // It is about what is past: the large button stays that of the set to come.
    for answer in &mut ask.answers {
        answer.primary = false;
    }
    ask
}

fn is_done(pending: &Act, set: TurnId) -> bool {
    matches!(pending, Act::Done { turn, .. } if *turn == set)
}

fn ask(
    scene: &Scene<'_>,
    turn: TurnId,
    who: &str,
    taps: [Tap; 3],
    act: impl Fn(Effort) -> Act,
    same: impl Fn(&Act) -> bool,
) -> Ask {
    let waits = scene.pending.iter().any(same);
    let answers: Vec<Button> = taps
        .into_iter()
        .zip([Effort::Light, Effort::Right, Effort::Heavy])
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
        title: String::new(),
        unanswered: String::new(),
        answers,
        back: message(scene.language, "label.back").to_owned(),
    }
}

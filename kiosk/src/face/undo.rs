//! Taking back the last tap of this display, while the floor takes it back.

use turnabout_protocol::command::{Act, Effort, TAKE_BACK_WINDOW};
use turnabout_protocol::ids::CommandId;
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::text::say;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::View;

use super::Scene;
use super::buttons::{Button, button};
use super::tap::Tap;
use super::words::with;

/// The last tap of this display that was answered, where it is of a kind that can be taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LastTap {
    /// Which.
    pub command: CommandId,
    /// What was asked.
    pub act: Act,
    /// When the floor took it down: the window counts from there.
    pub recorded: FloorMs,
}

impl LastTap {
    /// Of a tap and its answer; nothing where there is nothing to take back.
    #[must_use]
    pub fn answered(command: CommandId, act: &Act, outcome: &Outcome) -> Option<Self> {
        match outcome {
            Outcome::Accepted { recorded } if act.taken_back() => {
                Some(Self { command, act: act.clone(), recorded: *recorded })
            }
            Outcome::Accepted { .. } | Outcome::Already { .. } | Outcome::Refused { .. } => None,
        }
    }
}

/// The button that takes it back; nothing once that is too late. Without a link it waits for one as long as there
/// is time.
pub(super) fn undo(scene: &Scene<'_>) -> Option<Button> {
    let (last, now) = (scene.last?, scene.now?);
    let left = (last.recorded + TAKE_BACK_WINDOW).since(now).min(TAKE_BACK_WINDOW);
    if left <= Millis::default() {
        return None;
    }
    let mut undo = button(scene, Tap::Undo, Act::Undo { command: last.command });
    // There is one line: what keeps it from being pressed stands where the seconds are.
    let note = std::mem::take(&mut undo.note);
    let n = if undo.enabled { left.ceil_secs().to_string() } else { note };
    undo.label = with(scene.language, "label.undo", &[("what", &what(scene, &last.act)), ("n", &n)]);
    Some(undo)
}

/// A tap in words, as it was on its button.
fn what(scene: &Scene<'_>, act: &Act) -> String {
    let plain = |family: &str| say(scene.language, family, act, |_, value| value.to_string());
    let felt = |effort: &Effort| say(scene.language, "effort", effort, |_, value| value.to_string());
    if let Act::Call { call, .. } = act {
        return say(scene.language, "call", call, |_, value| value.to_string());
    }
    if let Some(name) = named(scene, act) {
        return with(scene.language, "label.spots", &[("name", name)]);
    }
    if let Act::Done { effort: Some(effort), .. } | Act::Effort { effort, .. } = act {
        return format!("{}, {}", plain("act"), felt(effort));
    }
    plain("act")
}

/// Who was named to spot, as the station shows it now.
fn named<'s>(scene: &Scene<'s>, act: &Act) -> Option<&'s str> {
    let (Act::SpotBy { turn, .. }, View::Station(view)) = (act, &scene.known?.view) else { return None };
    let mut turns = view.stations.iter().filter_map(|part| part.turn.as_ref());
    turns.find(|part| part.turn == *turn)?.spotter.as_deref()
}

//! What frames every face: the state of the link, what became of a tap, and help.

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::Act;
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::text::{message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{HelpPart, View};

use super::day::Day;
use super::words::{capital, left, m_ss, refusal, with};
use super::{LinkState, Notice, Scene};

/// Help is needed: where, and what the floor's notes say.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HelpPanel {
    /// HELP NOW.
    pub title: String,
    /// The station it is needed at.
    pub place: String,
    /// How long ago it was called.
    pub since: String,
    /// The number to call.
    pub number: String,
    /// The address to give.
    pub address: String,
    /// Where the defibrillator is, with its heading.
    pub defibrillator: String,
    /// Where the first-aid kit is, with its heading.
    pub first_aid: String,
}

/// Why nothing is shown yet.
pub(super) fn waiting(scene: &Scene<'_>) -> String {
    match scene.link {
        LinkState::Refused { fault } => say(scene.language, "fault", fault, |_, value| value.to_string()),
        LinkState::NotLetIn => message(scene.language, "label.not_let_in").to_owned(),
        LinkState::Connecting | LinkState::Up | LinkState::Lost { .. } => {
            message(scene.language, "label.connecting").to_owned()
        }
    }
}

/// How old what is shown is, while the link is not up.
pub(super) fn link_line(scene: &Scene<'_>) -> String {
    let (Some(known), Some(now)) = (scene.known, scene.now) else {
        return String::new();
    };
    let ago =
        |since: FloorMs| with(scene.language, "label.ago", &[("at", &m_ss(now.since(since).floor_secs()))]);
    // By the floor's clock: this display's own may be wrong.
    let as_of = |at: FloorMs| {
        let at = Day::of(&known.view)
            .map_or_else(|| ago(at), |day| with(scene.language, "label.as_of", &[("at", &day.second(at))]));
        with(scene.language, "label.lost", &[("at", &at)])
    };
    match scene.link {
        // Whoever is not let in has nothing to show.
        LinkState::Up | LinkState::NotLetIn => String::new(),
        LinkState::Connecting => as_of(known.as_of),
        LinkState::Lost { since } => as_of(*since),
        LinkState::Refused { fault } => {
            let why = say(scene.language, "fault", fault, |_, value| value.to_string());
            format!("{why} {}", capital(&ago(known.as_of)))
        }
    }
}

/// What became of the last tap, in words; nothing where the new face says it all.
pub(super) fn notice_line(scene: &Scene<'_>) -> String {
    let say_act = |act: &Act| say(scene.language, "act", act, |_, value| value.to_string());
    match scene.notice {
        None => String::new(),
        Some(Notice::NotSent { act }) => {
            format!("{}: {}", say_act(act), message(scene.language, "label.undone"))
        }
        Some(Notice::Fault { fault }) => say(scene.language, "fault", fault, |_, value| value.to_string()),
        Some(Notice::Answered { act, outcome }) => match outcome {
            Outcome::Accepted { .. } if matches!(act, Act::Call { .. }) => {
                message(scene.language, "label.call_heard").to_owned()
            }
            Outcome::Accepted { .. } => String::new(),
            Outcome::Already { .. } => message(scene.language, "label.already").to_owned(),
            Outcome::Refused { refusal: why } => {
                refusal(scene.language, why, scene.known.map(|k| &k.view), scene.now)
            }
        },
    }
}

/// The help that is needed somewhere.
pub(super) fn help(scene: &Scene<'_>) -> Option<HelpPanel> {
    let part: &HelpPart = match &scene.known?.view {
        View::Station(view) => view.help.as_ref()?,
        View::Board(view) => view.help.as_ref()?,
        View::Coach(view) => view.help.as_ref()?,
    };
    let titled = |label: &str, text: &str| format!("{}: {text}", message(scene.language, label));
    let since = scene.now.map(|now| left(now.since(part.call.since))).unwrap_or_default();
    Some(HelpPanel {
        title: message(scene.language, "call.help_now").to_uppercase(),
        place: part.call.place.clone(),
        since,
        number: part.emergency.number.clone(),
        address: part.emergency.address.clone(),
        defibrillator: titled("label.defibrillator", &part.emergency.defibrillator),
        first_aid: titled("label.first_aid", &part.emergency.first_aid),
    })
}

//! Who is needed next on the whole floor, where, in how long and what for.

use serde::{Deserialize, Serialize};
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{
    Attendance, BoardGroup, BoardView, ClientPart, Need, Stage, TurnPart, TurnPhase,
};

use super::phase::{PhaseKind, of_turn};
use super::words::{capital, tally, with};

/// The next need.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NextNeed {
    /// Whose set it is.
    pub who: String,
    /// At which station.
    pub place: String,
    /// What for: to spot, to watch, to load, or to start.
    pub what: String,
    /// In how long, or since when.
    pub count: String,
    /// Where that set stands.
    pub phase: PhaseKind,
}

/// Whoever could have gone so long ago does not stand before everybody else any more. Common practice, no source.
const OVERDUE: Millis = Millis::secs(60);

/// What somebody is needed for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Task {
    Spot,
    Watch,
    Load,
    Start,
}

/// Of all sets to come the one whose start is next, or came last; of several at once the first of the programme.
pub(super) fn next(
    language: Language,
    view: &BoardView,
    now: FloorMs,
    place: &impl Fn(&TurnPart) -> String,
) -> Option<NextNeed> {
    let goes_on =
        |group: &&BoardGroup| group.halt.is_none() && matches!(group.stage, Stage::Technique | Stage::Rounds);
    let clients = view.groups.iter().filter(goes_on).flat_map(|group| &group.clients);
    let (turn, _, task) = clients
        .filter_map(|client| needed(client, now))
        .min_by_key(|(_, at, _)| (now.since(*at) > OVERDUE, *at))?;
    let phase = of_turn(turn, None, now);
    let count = tally(phase);
    Some(NextNeed {
        who: turn.client.clone(),
        place: place(turn),
        what: capital(&what(language, turn, task)),
        count: if count.is_empty() { message(language, "label.now").to_owned() } else { count },
        phase: phase.kind,
    })
}

/// The set to come of a client, when it is to start, and what for somebody is needed. Nothing where others have to act
/// first, and nobody knows when.
fn needed(client: &ClientPart, now: FloorMs) -> Option<(&TurnPart, FloorMs, Task)> {
    if client.attendance != Attendance::Here || client.halt.is_some() {
        return None;
    }
    let turn = client.turn.as_ref().filter(|turn| turn.station.is_some())?;
    let TurnPhase::Coming { ready, go_from, needs, .. } = &turn.phase else { return None };
    let at = turn.promise.as_ref().map_or(*ready, |told| told.start).max(*go_from);
    let mut task = Task::Start;
    for need in needs {
        task = match need {
            Need::Spotter => Task::Spot,
            Need::TechniquePass if task != Task::Spot => Task::Watch,
            Need::ConfirmLoad if task == Task::Start => Task::Load,
            Need::TechniquePass | Need::ConfirmLoad => task,
            // That passes of itself; once the start has come nobody knows when.
            Need::StationFree | Need::Racked | Need::Pair if at > now => task,
            Need::StationFree
            | Need::Racked
            | Need::Pair
            | Need::Stations
            | Need::Resume
            | Need::Arrival
            | Need::Briefing
            | Need::Coach
            | Need::OtherUse
            | Need::Service
            | Need::Help => return None,
        };
    }
    Some((turn, at, task))
}

/// What for, in words; who is to spot by name, where that has been told.
fn what(language: Language, turn: &TurnPart, task: Task) -> String {
    let told = turn.promise.as_ref().and_then(|told| told.spotter.as_ref());
    let id = match (task, told) {
        (Task::Spot, Some(name)) => return with(language, "label.spots", &[("name", name)]),
        (Task::Spot, None) => "label.wall_spot",
        (Task::Watch, _) => "label.wall_watch",
        (Task::Load, _) => "label.wall_load",
        (Task::Start, _) => "label.wall_start",
    };
    message(language, id).to_owned()
}

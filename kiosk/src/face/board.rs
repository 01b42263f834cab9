//! Every group at a glance, a line for each client; what does not fit is turned over by itself.

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{BoardGroup, BoardView, ClientPart, Stage};

use super::Scene;
use super::phase::{PhaseKind, of_turn};
use super::words::{capital, mass, tally};

/// The board in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BoardFace {
    /// The floor's name.
    pub floor: String,
    /// Which page of how many, where there are several.
    pub page: String,
    /// The lines of this page; those of a group stand together.
    pub lines: Vec<BoardLine>,
}

/// How long a page stays: ten lines are read in it without hurry.
pub const PAGE_MS: u64 = 10_000;

/// Lines of a page. More would be too small for a wall: ten leave capitals of 45 px on a screen of 1080.
const PAGE_LINES: usize = 10;

/// One client, or one group where its clients have nothing more to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BoardLine {
    /// Whether a group begins here.
    pub first: bool,
    /// The client, or all clients of the group.
    pub who: String,
    /// What is going on.
    pub phase: PhaseKind,
    /// The same as a word.
    pub word: String,
    /// The station's name.
    pub place: String,
    /// The exercise.
    pub exercise: String,
    /// The load, where it may be shown.
    pub load: String,
    /// The number pair.
    pub count: String,
}

/// The board's page of the moment, in the order of the programme.
pub(super) fn board(scene: &Scene<'_>, view: &BoardView, now: FloorMs) -> BoardFace {
    let place = |station: Option<StationId>| {
        let line = view.stations.iter().find(|line| Some(line.station) == station);
        line.map_or_else(String::new, |line| line.name.clone())
    };
    let groups: Vec<_> =
        view.groups.iter().map(|group| group_lines(scene.language, group, now, &place)).collect();
    let mut pages = pages(&groups);
    let shown = usize::try_from(scene.real / PAGE_MS).unwrap_or(0) % pages.len();
    let page = if pages.len() > 1 { format!("{} / {}", shown + 1, pages.len()) } else { String::new() };
    BoardFace { floor: view.floor.clone(), page, lines: pages.swap_remove(shown) }
}

/// At least one page, all about as long. A group stays together: it has at most four clients.
fn pages(groups: &[Vec<BoardLine>]) -> Vec<Vec<BoardLine>> {
    let fewest = split(groups, PAGE_LINES);
    let even = groups.iter().map(Vec::len).sum::<usize>().div_ceil(fewest.len());
    // The shortest pages of which no more are needed.
    let shorter = (even..PAGE_LINES).map(|most| split(groups, most)).find(|p| p.len() == fewest.len());
    shorter.unwrap_or(fewest)
}

/// Pages of at most so many lines.
fn split(groups: &[Vec<BoardLine>], most: usize) -> Vec<Vec<BoardLine>> {
    let mut pages = vec![Vec::new()];
    let mut length = 0;
    for lines in groups {
        if length > 0 && length + lines.len() > most {
            pages.push(Vec::new());
            length = 0;
        }
        length += lines.len();
        pages.last_mut().expect("there is always a page").extend(lines.iter().cloned());
    }
    pages
}

fn group_lines(
    language: Language,
    group: &BoardGroup,
    now: FloorMs,
    place: &impl Fn(Option<StationId>) -> String,
) -> Vec<BoardLine> {
    let mut lines: Vec<BoardLine> =
        group.clients.iter().filter_map(|client| client_line(language, group, client, now, place)).collect();
    if lines.is_empty() {
        let names: Vec<&str> = group.clients.iter().map(|client| client.name.as_str()).collect();
        lines.push(BoardLine {
            first: true,
            who: names.join(", "),
            phase: stage_kind(group.stage),
            word: capital(&say(language, "stage", &group.stage, |_, value| value.to_string())),
            place: String::new(),
            exercise: String::new(),
            load: String::new(),
            count: String::new(),
        });
    }
    for (n, line) in lines.iter_mut().enumerate() {
        line.first = n == 0;
    }
    lines
}

const fn stage_kind(stage: Stage) -> PhaseKind {
    match stage {
        Stage::Expected
        | Stage::WarmUp
        | Stage::Briefing
        | Stage::Waiting
        | Stage::Technique
        | Stage::Rounds => PhaseKind::Held,
        Stage::WipeDown => PhaseKind::WipeDown,
        Stage::Gone | Stage::Finished => PhaseKind::Free,
    }
}

fn client_line(
    language: Language,
    group: &BoardGroup,
    client: &ClientPart,
    now: FloorMs,
    place: &impl Fn(Option<StationId>) -> String,
) -> Option<BoardLine> {
    let turn = client.turn.as_ref()?;
    let phase = of_turn(turn, group.halt.map(|h| h.halt), now);
    // A group without stations waits, whatever its first set would be.
    let (kind, word) = if group.stage == Stage::Waiting {
        (PhaseKind::Held, say(language, "stage", &group.stage, |_, value| value.to_string()))
    } else {
        (phase.kind, message(language, phase.kind.word()).to_owned())
    };
    Some(BoardLine {
        first: false,
        who: client.name.clone(),
        phase: kind,
        word: capital(&word),
        place: place(turn.station),
        exercise: turn.exercise.clone(),
        load: turn.load.as_ref().map_or_else(String::new, |card| mass(language, card.total, card.unit)),
        count: tally(phase),
    })
}

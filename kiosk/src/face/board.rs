//! Every group at a glance, a line for each client; what does not fit is turned over by itself.

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{
    Attendance, BoardGroup, BoardView, ClientPart, HaltKind, Stage, TurnPart, TurnPhase,
};
use turnabout_protocol::words::Words;

use super::Scene;
use super::load;
use super::news::{self, NewsLine};
use super::phase::{Phase, PhaseKind, Tally, of_turn};
use super::told;
use super::words::{capital, tally, with};

/// The board in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BoardFace {
    /// The floor's name.
    pub floor: String,
    /// Which page of how many, where there are several.
    pub page: String,
    /// The lines of this page; those of a group stand together.
    pub lines: Vec<BoardLine>,
    /// What else there is to know: stations that cannot be used, then what has just happened.
    pub news: Vec<NewsLine>,
}

/// How long a page stays: eight lines are read in it without hurry.
pub const PAGE_MS: u64 = 10_000;

/// Lines of a page. More would be too small for a wall: eight leave capitals of 45 px on a screen of 1080, and
/// room for what has happened.
const PAGE_LINES: usize = 8;

/// One client, or one group where its clients have nothing to do yet or any more.
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
    /// Whether the line is about the group as a whole.
    pub whole: bool,
    /// More on that: whose group it is, who is missing, what is done instead of what.
    pub note: String,
    /// The station's name.
    pub place: String,
    /// The exercise.
    pub exercise: String,
    /// The load, where it may be shown.
    pub load: String,
    /// In how long the set is to come, or the number pair of another phase.
    pub count: String,
    /// Why not earlier: shown where there is room for it.
    pub why: String,
}

/// A line, and the instant at which something happens next in it: the start that was told of a coming set, or else
/// when its client is ready, or the end of the set under way. Of what waits for somebody there is none.
struct Row {
    line: BoardLine,
    next: Option<FloorMs>,
}

/// The key of an order in which what has no instant comes last.
fn soonest(next: Option<FloorMs>) -> (bool, Option<FloorMs>) {
    (next.is_none(), next)
}

/// The board's page of the moment: clients in the order of what happens next, each beside the others of the group,
/// and groups by the first of theirs. At a tie the order of the programme stays.
pub(super) fn board(scene: &Scene<'_>, view: &BoardView, now: FloorMs) -> BoardFace {
    let place = |station: Option<StationId>| {
        let line = view.stations.iter().find(|line| Some(line.station) == station);
        line.map_or_else(String::new, |line| line.name.clone())
    };
    // Who has finished makes room for the others, and is named once there are none.
    let finished = |group: &&BoardGroup| group.stage == Stage::Finished;
    let all = view.groups.iter().all(|group| finished(&group));
    let shown = view.groups.iter().filter(|group| all || !finished(group));
    let mut groups: Vec<_> = shown.map(|group| group_rows(scene.language, group, now, &place)).collect();
    groups.sort_by_key(|rows| soonest(rows.iter().filter_map(|row| row.next).min()));
    let lines = |rows: Vec<Row>| rows.into_iter().map(|row| row.line).collect::<Vec<_>>();
    let groups: Vec<_> = groups.into_iter().map(lines).collect();
    let mut pages = pages(&groups);
    let shown = usize::try_from(scene.real / PAGE_MS).unwrap_or(0) % pages.len();
    let page = if pages.len() > 1 { format!("{} / {}", shown + 1, pages.len()) } else { String::new() };
    BoardFace {
        floor: view.floor.clone(),
        page,
        lines: pages.swap_remove(shown),
        news: news::lines(scene.language, view, now),
    }
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

fn group_rows(
    language: Language,
    group: &BoardGroup,
    now: FloorMs,
    place: &impl Fn(Option<StationId>) -> String,
) -> Vec<Row> {
    let mut rows: Vec<Row> = match group.stage {
        // What they will do is not worth a line each before they have begun.
        Stage::Expected | Stage::Gone | Stage::WarmUp | Stage::Briefing | Stage::Finished => Vec::new(),
        Stage::Waiting | Stage::Technique | Stage::Rounds | Stage::WipeDown => group
            .clients
            .iter()
            .filter_map(|client| client_row(language, group, client, now, place))
            .collect(),
    };
    if rows.iter().all(|row| row.line.phase == PhaseKind::Gone) {
        rows = vec![Row { line: whole(language, group), next: None }];
    }
    rows.sort_by_key(|row| soonest(row.next));
    if let Some(Row { line, .. }) = rows.first_mut() {
        line.first = true;
        line.note = joined(&[line.note.clone(), group_note(language, group)]);
    }
    rows
}

/// A whole group in one line.
fn whole(language: Language, group: &BoardGroup) -> BoardLine {
    let names: Vec<&str> = group.clients.iter().map(|client| client.name.as_str()).collect();
    let missing: Vec<String> = group
        .clients
        .iter()
        .filter(|client| group.stage != Stage::Expected && group.stage != Stage::Finished && !is_here(client))
        .map(|client| format!("{} {}", client.name, attendance(language, client)))
        .collect();
    BoardLine {
        first: true,
        whole: true,
        who: names.join(", "),
        phase: stage_kind(group.stage),
        word: capital(&stage(language, group.stage)),
        note: missing.join(", "),
        place: String::new(),
        exercise: String::new(),
        load: String::new(),
        count: String::new(),
        why: String::new(),
    }
}

fn is_here(client: &ClientPart) -> bool {
    client.attendance == Attendance::Here
}

fn attendance(language: Language, client: &ClientPart) -> String {
    say(language, "attendance", &client.attendance, |_, value| value.to_string())
}

fn stage(language: Language, stage: Stage) -> String {
    say(language, "stage", &stage, |_, value| value.to_string())
}

/// Whose group it is.
fn group_note(language: Language, group: &BoardGroup) -> String {
    if group.stage == Stage::Finished {
        return String::new();
    }
    with(language, "label.coached_by", &[("name", &group.coach)])
}

/// That a group waits, and its place in the wait list.
fn waiting(language: Language, group: &BoardGroup) -> String {
    let place = group.place.map(|n| with(language, "label.wait_place", &[("n", &n.to_string())]));
    place.unwrap_or_else(|| stage(language, group.stage))
}

fn joined(parts: &[String]) -> String {
    parts.iter().filter(|part| !part.is_empty()).cloned().collect::<Vec<_>>().join("  ·  ")
}

const fn stage_kind(stage: Stage) -> PhaseKind {
    match stage {
        Stage::Expected => PhaseKind::Gone,
        Stage::WarmUp | Stage::Briefing => PhaseKind::Coming,
        Stage::Waiting | Stage::Technique | Stage::Rounds => PhaseKind::Held,
        Stage::WipeDown => PhaseKind::WipeDown,
        Stage::Gone | Stage::Finished => PhaseKind::Free,
    }
}

fn client_row(
    language: Language,
    group: &BoardGroup,
    client: &ClientPart,
    now: FloorMs,
    place: &impl Fn(Option<StationId>) -> String,
) -> Option<Row> {
    let line = BoardLine {
        first: false,
        whole: false,
        who: client.name.clone(),
        phase: PhaseKind::Gone,
        word: capital(&attendance(language, client)),
        note: String::new(),
        place: String::new(),
        exercise: String::new(),
        load: String::new(),
        count: String::new(),
        why: String::new(),
    };
    match client.attendance {
        Attendance::Left => return Some(Row { line, next: None }),
        Attendance::Expected | Attendance::Late => {
            return Some(Row { line: BoardLine { phase: PhaseKind::Held, ..line }, next: None });
        }
        Attendance::Here => {}
    }
    let turn = client.turn.as_ref()?;
    let halt = group.halt.filter(|halt| halt.halt == HaltKind::Stop).or(client.halt).or(group.halt);
    let phase = of_turn(turn, halt.map(|h| h.halt), now);
    // A group without stations waits, whatever its first set would be.
    let (kind, word) = if group.stage == Stage::Waiting {
        (PhaseKind::Held, waiting(language, group))
    } else {
        (phase.kind, message(language, phase.kind.word()).to_owned())
    };
    let instead = |exercise: &Words| with(language, "label.swapped", &[("exercise", exercise.of(language))]);
    let line = BoardLine {
        phase: kind,
        word: capital(&word),
        note: client.in_place_of.as_ref().map_or_else(String::new, instead),
        place: place(turn.station),
        exercise: turn.exercise.of(language).to_owned(),
        load: turn.load.as_ref().map_or_else(String::new, |card| load::short(language, card)),
        count: count(language, turn, phase),
        why: told::why(language, turn, now),
        ..line
    };
    Some(Row { line, next: next(group, turn, phase) })
}

/// When something happens next with a set. Nothing is waited for at a station that nobody has, nor while stopped.
fn next(group: &BoardGroup, turn: &TurnPart, phase: Phase) -> Option<FloorMs> {
    if group.stage == Stage::Waiting || turn.station.is_none() || phase.kind == PhaseKind::Stopped {
        return None;
    }
    Some(match &turn.phase {
        TurnPhase::UnderWay { ends, .. } => *ends,
        TurnPhase::Coming { ready, go_from, .. } => {
            turn.promise.as_ref().map_or(*ready, |told| told.start.max(*go_from))
        }
    })
}

/// The number pair; of a set to come that it is in so long. The way to another station is no wait: GO is live on it.
fn count(language: Language, turn: &TurnPart, phase: Phase) -> String {
    let to_come = matches!(turn.phase, TurnPhase::Coming { .. })
        && matches!(phase.tally, Some(Tally::Down(_) | Tally::About(_)));
    let waits = turn.promise.is_some() || matches!(phase.kind, PhaseKind::Rest | PhaseKind::Coming);
    let count = tally(phase);
    if to_come && waits { format!("{} {count}", message(language, "label.in")) } else { count }
}

//! Every group at a glance, a line for each client, under the next need of all; what does not fit is turned over by
//! itself.

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{
    Attendance, BoardGroup, BoardView, ClientPart, HaltKind, Stage, TurnPart, TurnPhase,
};

use super::need::{self, NextNeed};
use super::news::{self, NewsLine};
use super::phase::{Phase, PhaseKind, Tally, of_turn};
use super::ribbon::{Ribbon, ribbon};
use super::words::{capital, tally, with};
use super::{Scene, closing, load};

/// The board in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BoardFace {
    /// The floor's name.
    pub floor: String,
    /// Which page of how many, where there are several.
    pub page: String,
    /// Who is needed next, where and what for.
    pub need: Option<NextNeed>,
    /// The lines of this page; those of a group stand together.
    pub lines: Vec<BoardLine>,
    /// What else there is to know, one thing at a time: a station that cannot be used, or what has just happened.
    pub news: Option<NewsLine>,
    /// That the floor closes soon.
    pub closing: String,
}

/// How long a page stays, and each of the news: five lines are read in it without hurry.
pub const PAGE_MS: u64 = 10_000;

/// Lines of a page. More would be too small for a wall: five leave capitals of 57 px on a screen of 1080, which are
/// read from six metres on one of 43 inches. News take the place of one.
const PAGE_LINES: usize = 5;

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
    /// The station's name.
    pub place: String,
    /// The station to which the client goes after the set under way.
    pub next: String,
    /// What there is to say of who has no station: whose group it is, or who is missing.
    pub note: String,
    /// The load, where it may be shown.
    pub load: String,
    /// In how long the set is to come, or the number pair of another phase.
    pub count: String,
    /// The client's time.
    pub ribbon: Ribbon,
}

impl BoardLine {
    /// Who, and what is going on.
    fn new(who: &str, phase: PhaseKind, word: &str) -> Self {
        Self {
            first: false,
            who: who.to_owned(),
            phase,
            word: capital(word),
            place: String::new(),
            next: String::new(),
            note: String::new(),
            load: String::new(),
            count: String::new(),
            ribbon: Ribbon::default(),
        }
    }
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
    let wall = Wall { language: scene.language, view, now };
    // Who has finished makes room for the others, and is named once there are none.
    let finished = |group: &&BoardGroup| group.stage == Stage::Finished;
    let all = view.groups.iter().all(|group| finished(&group));
    let shown = view.groups.iter().filter(|group| all || !finished(group));
    let mut groups: Vec<_> = shown.map(|group| wall.group_rows(group)).collect();
    groups.sort_by_key(|rows| soonest(rows.iter().filter_map(|row| row.next).min()));
    let lines = |rows: Vec<Row>| rows.into_iter().map(|row| row.line).collect::<Vec<_>>();
    let groups: Vec<_> = groups.into_iter().map(lines).collect();
    let turned = usize::try_from(scene.real / PAGE_MS).unwrap_or(0);
    let mut news = news::lines(scene.language, view, now);
    let news = (!news.is_empty()).then(|| news.swap_remove(turned % news.len()));
    let mut pages = pages(&groups, PAGE_LINES - usize::from(news.is_some()));
    let shown = turned % pages.len();
    BoardFace {
        floor: view.floor.clone(),
        page: if pages.len() > 1 { format!("{} / {}", shown + 1, pages.len()) } else { String::new() },
        need: need::next(scene.language, view, now, &|turn| wall.place(turn.station)),
        lines: pages.swap_remove(shown),
        news,
        closing: closing::last_rounds(scene.language, view, now),
    }
}

/// At least one page, all about as long, of at most so many lines. A group stays together: it has at most four clients.
fn pages(groups: &[Vec<BoardLine>], most: usize) -> Vec<Vec<BoardLine>> {
    let fewest = split(groups, most);
    let even = groups.iter().map(Vec::len).sum::<usize>().div_ceil(fewest.len());
    // The shortest pages of which no more are needed.
    let shorter = (even..most).map(|most| split(groups, most)).find(|p| p.len() == fewest.len());
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

/// What a wall is told, and in which language it says that.
#[derive(Clone, Copy)]
struct Wall<'a> {
    language: Language,
    view: &'a BoardView,
    now: FloorMs,
}

impl Wall<'_> {
    /// A station's name.
    fn place(self, station: Option<StationId>) -> String {
        let line = self.view.stations.iter().find(|line| Some(line.station) == station);
        line.map_or_else(String::new, |line| line.name.clone())
    }

    fn group_rows(self, group: &BoardGroup) -> Vec<Row> {
        let mut rows: Vec<Row> = match group.stage {
            // What they will do is not worth a line each before they have begun.
            Stage::Expected | Stage::Gone | Stage::WarmUp | Stage::Briefing | Stage::Finished => Vec::new(),
            Stage::Waiting | Stage::Technique | Stage::Rounds | Stage::WipeDown => {
                group.clients.iter().filter_map(|client| self.client_row(group, client)).collect()
            }
        };
        if rows.iter().all(|row| row.line.phase == PhaseKind::Gone) {
            rows = vec![Row { line: whole(self.language, group), next: None }];
        }
        rows.sort_by_key(|row| soonest(row.next));
        if let Some(Row { line, .. }) = rows.first_mut() {
            line.first = true;
            if line.place.is_empty() && line.note.is_empty() {
                line.note = group_note(self.language, group);
            }
        }
        rows
    }

    fn client_row(self, group: &BoardGroup, client: &ClientPart) -> Option<Row> {
        let (language, now) = (self.language, self.now);
        let absent = |phase| BoardLine::new(&client.name, phase, &attendance(language, client.attendance));
        match client.attendance {
            Attendance::Left => return Some(Row { line: absent(PhaseKind::Gone), next: None }),
            Attendance::Expected | Attendance::Late => {
                return Some(Row { line: absent(PhaseKind::Held), next: None });
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
            (phase.kind, message(language, word(phase.kind)).to_owned())
        };
        let under_way = matches!(turn.phase, TurnPhase::UnderWay { .. });
        let then = turn.then.as_ref().filter(|_| under_way);
        let line = BoardLine {
            place: self.place(turn.station),
            next: then.map_or_else(String::new, |then| then.station.clone()),
            load: turn.load.as_ref().map_or_else(String::new, |card| load::short(language, card)),
            count: count(language, turn, phase),
            ribbon: ribbon(language, self.view, client, now),
            ..BoardLine::new(&client.name, kind, &word)
        };
        Some(Row { line, next: next(group, turn, phase) })
    }
}

/// A whole group in one line.
fn whole(language: Language, group: &BoardGroup) -> BoardLine {
    let names = |clients: &[&ClientPart]| {
        clients.iter().map(|client| client.name.as_str()).collect::<Vec<_>>().join(", ")
    };
    let all: Vec<&ClientPart> = group.clients.iter().collect();
    let begun = group.stage != Stage::Expected && group.stage != Stage::Finished;
    let missing = [Attendance::Expected, Attendance::Late, Attendance::Left].into_iter().filter_map(|is| {
        let who: Vec<&ClientPart> =
            all.iter().copied().filter(|client| begun && client.attendance == is).collect();
        (!who.is_empty()).then(|| format!("{}: {}", capital(&attendance(language, is)), names(&who)))
    });
    BoardLine {
        first: true,
        note: missing.collect::<Vec<_>>().join("  ·  "),
        ..BoardLine::new(&names(&all), stage_kind(group.stage), &stage(language, group.stage))
    }
}

fn attendance(language: Language, is: Attendance) -> String {
    say(language, "attendance", &is, |_, value| value.to_string())
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

const fn stage_kind(stage: Stage) -> PhaseKind {
    match stage {
        Stage::Expected => PhaseKind::Gone,
        Stage::WarmUp | Stage::Briefing => PhaseKind::Coming,
        Stage::Waiting | Stage::Technique | Stage::Rounds => PhaseKind::Held,
        Stage::WipeDown => PhaseKind::WipeDown,
        Stage::Gone | Stage::Finished => PhaseKind::Free,
    }
}

/// The id of the word of a phase. That somebody may go is said to them at their station, and of them on a wall.
const fn word(kind: PhaseKind) -> &'static str {
    match kind {
        PhaseKind::Ready => "label.wall_ready",
        PhaseKind::Free
        | PhaseKind::Reserved
        | PhaseKind::Leaving
        | PhaseKind::Held
        | PhaseKind::GetReady
        | PhaseKind::Coming
        | PhaseKind::Rest
        | PhaseKind::Changeover
        | PhaseKind::GetSet
        | PhaseKind::CountIn
        | PhaseKind::Working
        | PhaseKind::Assumed
        | PhaseKind::WipeDown
        | PhaseKind::Paused
        | PhaseKind::Stopped
        | PhaseKind::OtherUse
        | PhaseKind::OutOfService
        | PhaseKind::Gone => kind.word(),
    }
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

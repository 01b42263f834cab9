//! The run sheet in words, which are those of the coach's page; of plates and pins they are those of a station.

use serde::{Deserialize, Serialize};
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{CoachTask, View};

use super::super::Scene;
use super::super::load::{Load, load, many, short as load_short};
use super::super::pad::{Key, Step, key};
use super::super::panel::work;
use super::super::words::{left, m_ss, roughly, start_reason, with};
use super::{Absent, Need, Proposed, Sheet, What, Why};

/// More than a screen has room for.
const MOST: usize = 16;

/// What is told about only is said in steps of so many seconds, as on the coach's page: it moves by that or more.
const STEP: i64 = 5;

/// The run sheet in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SheetFace {
    /// Whose it is.
    pub coach: String,
    /// How long it stays.
    pub stays: String,
    /// Who needs the coach, in order of time.
    pub needs: Vec<NeedLine>,
    /// That nobody does; empty where somebody does.
    pub nobody: String,
    /// What can be done with it, in the row of the buttons.
    pub row: Vec<Key>,
}

/// Somebody who needs the coach, in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NeedLine {
    /// The client or the clients, or the place that a call comes from.
    pub who: String,
    /// In how long, or since when; empty where no set waits for it yet.
    pub count: String,
    /// The same without words.
    pub short: String,
    /// Where; empty for a call, and for what is done anywhere.
    pub place: String,
    /// What for.
    pub what: String,
    /// With which load, or which is proposed.
    pub load: String,
    /// What to change to make it, or what can be made instead.
    pub on_now: String,
    /// Which exercises.
    pub exercises: Vec<String>,
    /// Which set of how many.
    pub set: String,
    /// How the load is set.
    pub how: String,
    /// How it is changed safely and how long that takes, in lines, while there is something to change.
    pub notes: String,
    /// Why then.
    pub why: String,
}

/// The sheet in words, which stays for so many milliseconds more.
pub(in super::super) fn sheet(scene: &Scene<'_>, sheet: &Sheet, stays: u64, now: FloorMs) -> SheetFace {
    let language = scene.language;
    let secs = i64::try_from(stays.div_ceil(1_000)).unwrap_or(i64::MAX);
    let needs: Vec<_> = sheet
        .at(now)
        .into_iter()
        .take(MOST)
        .map(|need| line(language, need, shows_load(scene, need), now))
        .collect();
    let nobody = if needs.is_empty() { message(language, "label.sheet_nobody") } else { "" }.to_owned();
    SheetFace {
        coach: sheet.coach.clone(),
        stays: with(language, "label.sheet_stays", &[("at", &m_ss(secs))]),
        needs,
        nobody,
        row: vec![
            key(scene, "close", "label.sheet_close", Step::Close),
            key(scene, "stay", "label.sheet_stay", Step::Stay),
        ],
    }
}

/// Whether a display may say how heavy that is: a wall says of nobody's set more than its own lines do, from which the server
/// leaves out the load of whoever does not want it shown there.
fn shows_load(scene: &Scene<'_>, need: &Need) -> bool {
    let Some(View::Board(board)) = scene.known.map(|known| &known.view) else { return true };
    let mut clients = board.groups.iter().flat_map(|group| &group.clients);
    clients
        .any(|client| client.name == need.who && client.turn.as_ref().is_some_and(|turn| turn.load.is_some()))
}

fn line(language: Language, need: &Need, loaded: bool, now: FloorMs) -> NeedLine {
    let card = need.load.as_deref().filter(|_| loaded);
    let set = card.map_or_else(Load::default, |card| load(language, card));
    let amount = match need.what {
        What::Decide(Some(_)) if !loaded => String::new(),
        What::Decide(Some(proposed)) => proposal(language, proposed),
        _ => card.map_or_else(String::new, |card| load_short(language, card)),
    };
    NeedLine {
        who: need.who.clone(),
        count: need.start.map_or_else(String::new, |start| count(language, need, start, now)),
        short: need.start.map_or_else(String::new, |start| short(need, start, now)),
        place: need.place.clone(),
        what: what(language, &need.what),
        load: amount,
        exercises: need.exercises.iter().map(|exercise| exercise.of(language).to_owned()).collect(),
        set: need
            .set
            .map_or_else(String::new, |set| say(language, "set", &set, |_, value| value.to_string())),
        how: set.how,
        notes: if set.on_now.is_empty() { String::new() } else { set.notes },
        on_now: set.on_now,
        why: need.why.as_ref().map_or_else(String::new, |why| because(language, why, now)),
    }
}

fn what(language: Language, what: &What) -> String {
    let id = match what {
        What::Call(kind) => return say(language, "call", kind, |_, value| value.to_string()),
        What::Stand { task, planned } => {
            let task = message(
                language,
                match task {
                    CoachTask::Spot => "label.page_spot",
                    CoachTask::Watch => "label.page_watch",
                },
            );
            let planned = if *planned {
                format!(", {}", message(language, "label.page_planned"))
            } else {
                String::new()
            };
            return format!("{task}{planned}");
        }
        What::Resume => "label.page_need_resume",
        What::Confirm => "label.page_need_confirm",
        What::Decide(_) => "label.page_need_decide",
        What::Go => "label.page_need_go",
        What::Done => "label.page_need_done",
        What::Pass => "label.page_need_pass",
        What::Brief => "label.page_need_brief",
        What::Free => "label.page_need_free",
        What::Heard => "label.page_need_heard",
        What::Stations => "label.page_need_stations",
    };
    message(language, id).to_owned()
}

/// What is proposed, and what is set.
fn proposal(language: Language, Proposed { load, unit, gear, reps, now }: Proposed) -> String {
    let load = many(load.read(language, unit), gear);
    let reps = reps.map(|reps| work(language, reps));
    let now =
        now.map(|now| with(language, "label.page_now", &[("load", &many(now.read(language, unit), gear))]));
    [Some(load), reps, now].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// In how long, or since when, with the words of the coach's page.
fn count(language: Language, need: &Need, start: FloorMs, now: FloorMs) -> String {
    if now >= start {
        let since = m_ss(now.since(start).floor_secs());
        return match need.what {
            What::Call(_) => format!("{} {since}", message(language, "label.page_waiting_since")),
            _ => format!("{} +{since}", message(language, "label.now")),
        };
    }
    let secs = start.since(now).ceil_secs();
    let (id, secs) = if need.about {
        ("label.page_in_about", (secs + STEP - 1).div_euclid(STEP) * STEP)
    } else {
        ("label.page_in", secs)
    };
    format!("{} {}", message(language, id), m_ss(secs))
}

/// As every display counts.
fn short(need: &Need, start: FloorMs, now: FloorMs) -> String {
    match start.since(now) {
        wait if wait.0 <= 0 => format!("+{}", m_ss(now.since(start).floor_secs())),
        wait if need.about => roughly(wait),
        wait => left(wait),
    }
}

fn because(language: Language, why: &Why, now: FloorMs) -> String {
    let say_id = |id: &str| message(language, id).to_owned();
    match why {
        Why::Told(reason) => start_reason(language, *reason, now),
        Why::Absent(absent) => away(language, absent, now),
        Why::NoSpotter(Some(absent)) => {
            with(language, "label.page_no_spotter", &[("why", &away(language, absent, now))])
        }
        Why::NoSpotter(None) => say_id("label.spotter_wanted"),
        Why::WillSpot(name) => with(language, "label.page_will_spot", &[("name", name)]),
        Why::FreedThen => say_id("label.page_freed_then"),
        Why::GoneThen => say_id("label.page_gone_then"),
        Why::Awaited(names) => with(language, "label.page_waits_for_stations", &[("client", names)]),
    }
}

fn away(language: Language, absent: &Absent, now: FloorMs) -> String {
    match absent {
        Absent::Busy(Some(place)) => with(language, "label.page_you_until", &[("place", place)]),
        Absent::Busy(None) => message(language, "label.page_you_busy").to_owned(),
        Absent::Away(until) => {
            let until = with(language, "label.from_now", &[("at", &left(until.since(now)))]);
            with(language, "label.page_you_away", &[("until", &until)])
        }
    }
}

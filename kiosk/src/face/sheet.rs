//! A coach's run sheet on a display of the floor: who needs that coach next, where, from when, why then, with which load.
//!
//! Everybody who passes can read it, so a [`Sheet`] has places for that and for nothing else: notes, health and
//! screening have nowhere to stand in it. Its words are those of the coach's own page.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::LoadCard;
use turnabout_protocol::command::CallKind;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::{Language, message, say};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{
    CallPart, CoachClient, CoachLine, CoachTask, CoachView, RunRow, SetName, TurnPart, TurnPhase,
};

use super::Scene;
use super::lines::{Said, Tone};
use super::load;
use super::pad::{Key, Step, key};
use super::words::{left, m_ss, roughly, start_reason, with};

/// More than a screen has room for.
const MOST: usize = 8;

/// What is told about only is said in steps of so many seconds, as on the coach's page: it moves by that or more.
const STEP: i64 = 5;

/// What a floor's display may show of a coach's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    coach: String,
    /// In order of time.
    needs: Vec<Need>,
}

/// Somebody who needs the coach.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Need {
    place: String,
    start: FloorMs,
    what: What,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum What {
    /// Somebody at the place calls.
    Call(CallKind),
    /// To stand at a set.
    Set { client: String, task: CoachTask, about: bool, told: bool, load: Option<Box<LoadCard>>, why: Why },
}

/// Why a set is not earlier.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Why {
    /// As everybody is told.
    Told(StartReason),
    /// The coach is busy before, at this place where that is known.
    Busy(Option<String>),
    /// The coach is away until about then.
    Away(FloorMs),
}

impl Sheet {
    /// The part of a coach's page that a floor may see.
    #[must_use]
    pub fn of(view: &CoachView) -> Self {
        let me = view.coaches.iter().find(|line| line.coach == view.me);
        let name = me.map_or_else(String::new, |line| line.name.clone());
        // What another coach has gone to is nobody else's, and help is shown larger than any sheet.
        let help = view.help.as_ref().map(|help| help.call.call);
        let mine = |call: &&CallPart| {
            Some(call.call) != help && call.answered.as_ref().is_none_or(|answered| *answered == name)
        };
        let called = |call: &CallPart| Need {
            place: call.place.clone(),
            start: call.since,
            what: What::Call(call.kind),
        };
        let set = |row: &RunRow| Need {
            place: place(view, Some(row.station)).unwrap_or_default(),
            start: row.start,
            what: What::Set {
                client: row.client.clone(),
                task: row.task,
                about: row.about,
                told: row.told,
                load: row.load.clone().map(Box::new),
                why: why(view, me, row),
            },
        };
        let calls = view.calls.iter().filter(mine).map(called);
        let mut needs: Vec<Need> = calls.chain(view.run_sheet.iter().map(set)).collect();
        needs.sort_by_key(|need| need.start);
        Self { coach: name, needs }
    }
}

fn place(view: &CoachView, station: Option<StationId>) -> Option<String> {
    view.stations.iter().find(|line| Some(line.station) == station).map(|line| line.name.clone())
}

/// Why, as the coach's own page has it: of the spotter it says "you".
fn why(view: &CoachView, me: Option<&CoachLine>, row: &RunRow) -> Why {
    match row.reason {
        StartReason::SpotterAway { until } => Why::Away(until),
        StartReason::SpotterBusy => {
            // The plan may lead over another bar before that start.
            let before = view.run_sheet.iter().filter(|other| other.start < row.start);
            let before = before.max_by_key(|other| other.start).map(|other| other.station);
            let at = before.or_else(|| at_my_bar(view, me).or_else(|| watched(view))?.station);
            Why::Busy(place(view, at))
        }
        reason @ (StartReason::Ready
        | StartReason::Way
        | StartReason::Rest
        | StartReason::PutOff
        | StartReason::StationInUse
        | StartReason::LoadChange { .. }
        | StartReason::OtherUse { .. }
        | StartReason::Turns
        | StartReason::Later) => Why::Told(reason),
    }
}

fn turns(clients: &[CoachClient]) -> impl Iterator<Item = &TurnPart> {
    clients.iter().filter_map(|client| client.turn.as_ref())
}

/// The set that the coach spots, or stands at until it begins.
fn at_my_bar<'v>(view: &'v CoachView, me: Option<&CoachLine>) -> Option<&'v TurnPart> {
    let me = me?;
    let all = || view.groups.iter().flat_map(|group| turns(&group.clients));
    let stands = |turn: &&TurnPart| {
        matches!(turn.phase, TurnPhase::Coming { .. }) && turn.spotter.as_ref() == Some(&me.name)
    };
    all().find(|turn| me.spotting == Some(turn.turn)).or_else(|| all().find(stands))
}

/// The light set of the coach's own clients that is under way: it is watched.
fn watched(view: &CoachView) -> Option<&TurnPart> {
    let mine = view.groups.iter().filter(|group| group.coach == view.me);
    mine.flat_map(|group| turns(&group.clients)).find(|turn| {
        matches!(turn.phase, TurnPhase::UnderWay { .. }) && matches!(turn.set, SetName::Technique)
    })
}

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
    /// The client, or the place that a call comes from.
    pub who: String,
    /// In how long, or since when.
    pub count: String,
    /// The same without words.
    pub short: String,
    /// Where; empty for a call.
    pub place: String,
    /// What for.
    pub what: String,
    /// With which load.
    pub load: String,
    /// Why not earlier.
    pub why: String,
}

impl SheetFace {
    /// What is said below the first of them in lines, what matters more first.
    #[must_use]
    pub fn lines(&self) -> Vec<Said> {
        let said = |texts: Vec<String>, tone| Said {
            texts: texts.into_iter().filter(|text| !text.is_empty()).collect(),
            tone,
        };
        let lines = self.needs.iter().enumerate().flat_map(|(n, need)| {
            let NeedLine { who, short, place, what, load, why, count: _ } = need.clone();
            if n == 0 {
                return [said(vec![place, what, load], Tone::Set), said(vec![why], Tone::Know)];
            }
            // Who, when and where belong together.
            let place = if place.is_empty() { place } else { format!(" \u{b7} {place}") };
            let whole = format!("{short} {who}{place}");
            [said(vec![whole, what, load], Tone::Do), said(vec![why], Tone::Later)]
        });
        lines.filter(|line| !line.texts.is_empty()).collect()
    }
}

/// The sheet in words, which stays for so many milliseconds more.
pub(super) fn sheet(scene: &Scene<'_>, sheet: &Sheet, stays: u64, now: FloorMs) -> SheetFace {
    let language = scene.language;
    let secs = i64::try_from(stays.div_ceil(1_000)).unwrap_or(i64::MAX);
    let needs = sheet.needs.iter().take(MOST).map(|need| line(language, need, now)).collect();
    let nobody = if sheet.needs.is_empty() { message(language, "label.sheet_nobody") } else { "" }.to_owned();
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

fn line(language: Language, need: &Need, now: FloorMs) -> NeedLine {
    let say_id = |id: &str| message(language, id).to_owned();
    match &need.what {
        What::Call(kind) => {
            let since = m_ss(now.since(need.start).floor_secs());
            NeedLine {
                who: need.place.clone(),
                count: format!("{} {since}", say_id("label.page_waiting_since")),
                short: format!("+{since}"),
                place: String::new(),
                what: say(language, "call", kind, |_, value| value.to_string()),
                load: String::new(),
                why: String::new(),
            }
        }
        What::Set { client, task, about, told, load, why } => {
            let task = say_id(match task {
                CoachTask::Spot => "label.page_spot",
                CoachTask::Watch => "label.page_watch",
            });
            let planned = if *told { String::new() } else { format!(", {}", say_id("label.page_planned")) };
            NeedLine {
                who: client.clone(),
                count: count(language, need.start, *about, now),
                short: short(need.start, *about, now),
                place: need.place.clone(),
                what: format!("{task}{planned}"),
                load: load.as_ref().map_or_else(String::new, |card| load::short(language, card)),
                why: because(language, why, now),
            }
        }
    }
}

/// In how long, or since when, with the words of the coach's page.
fn count(language: Language, start: FloorMs, about: bool, now: FloorMs) -> String {
    if now >= start {
        let since = m_ss(now.since(start).floor_secs());
        return format!("{} +{since}", message(language, "label.now"));
    }
    let secs = start.since(now).ceil_secs();
    let (id, secs) = if about {
        ("label.page_in_about", (secs + STEP - 1).div_euclid(STEP) * STEP)
    } else {
        ("label.page_in", secs)
    };
    format!("{} {}", message(language, id), m_ss(secs))
}

/// As every display counts.
fn short(start: FloorMs, about: bool, now: FloorMs) -> String {
    match start.since(now) {
        wait if wait.0 <= 0 => format!("+{}", m_ss(now.since(start).floor_secs())),
        wait if about => roughly(wait),
        wait => left(wait),
    }
}

fn because(language: Language, why: &Why, now: FloorMs) -> String {
    match why {
        Why::Told(reason) => start_reason(language, *reason, now),
        Why::Busy(Some(place)) => with(language, "label.page_you_until", &[("place", place)]),
        Why::Busy(None) => message(language, "label.page_you_busy").to_owned(),
        Why::Away(until) => {
            let until = with(language, "label.from_now", &[("at", &left(until.since(now)))]);
            with(language, "label.page_you_away", &[("until", &until)])
        }
    }
}

//! A client's time as a strip that moves toward a fixed line, which is now: sets as blocks, the way over as a narrow gap,
//! a rest as open space with two ticks. The same picture as on the pages (`server/src/web/assets/ribbon.js`).

use serde::{Deserialize, Serialize};
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{BoardView, ClientPart, RestWindow, RibbonIs, RibbonSet};

use super::day::Day;
use super::words::with;

/// What is to be seen before the line, in floor milliseconds.
pub const BEHIND: i64 = 60_000;
/// What is to be seen after it.
pub const AHEAD: i64 = 300_000;
/// The whole strip: a place on it is so many of these parts from its left edge.
pub const SPAN: i64 = BEHIND + AHEAD;
/// The strip moves in steps of so much, in floor milliseconds: only the pace of a set moves smoothly.
pub const STEP: i64 = 2_000;

/// A strip.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ribbon {
    /// The same in words: the sets to come and when they are to start.
    pub label: String,
    /// The sets in sight, in the order of time; none lies on another.
    pub blocks: Vec<Block>,
    /// The rests in sight.
    pub windows: Vec<Window>,
}

/// One set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Block {
    /// Where it begins, in parts of [`SPAN`].
    pub from: u32,
    /// Where it is over, in parts of [`SPAN`].
    pub until: u32,
    /// Which exercise it is of.
    pub pattern: Pattern,
    /// A light set: half as high.
    pub light: bool,
    /// Where it stands.
    pub is: BlockIs,
    /// Somebody must spot or watch it: a mark above it.
    pub spotted: bool,
}

/// How the exercises of a block are told apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pattern {
    /// The first.
    Solid,
    /// The second.
    Hatched,
    /// Every further one.
    Open,
}

/// Where a set on a strip stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BlockIs {
    /// Somebody said that it is over.
    Done,
    /// It is under way.
    UnderWay,
    /// It should be over, and nobody has said so.
    Over,
    /// It has not begun.
    ToCome,
}

/// What a rest allows: the first repetition comes between two ticks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Window {
    /// Where what is seen of it begins, in parts of [`SPAN`].
    pub from: u32,
    /// Where what is seen of it ends, in parts of [`SPAN`].
    pub until: u32,
    /// Its earliest end is in sight: there is a tick at `from`.
    pub earliest: bool,
    /// Its latest end is in sight: there is a tick at `until`.
    pub latest: bool,
}

/// What there is to draw of sets, at the floor time at which the strip moved last.
#[must_use]
pub fn pieces(sets: &[RibbonSet], now: FloorMs) -> (Vec<Block>, Vec<Window>) {
    let now = now.0.div_euclid(STEP).saturating_mul(STEP);
    let left = now.saturating_sub(BEHIND);
    let mut blocks: Vec<Block> = Vec::new();
    let mut windows = Vec::new();
    for set in sets {
        windows.extend(set.window.filter(|_| set.is == RibbonIs::ToCome).and_then(|w| window(w, left)));
        // Nothing ends a set but somebody's word.
        let late = set.is == RibbonIs::UnderWay && now >= set.until.0;
        let until = if late { now } else { set.until.0 };
        let Some((from, until)) = in_sight(set.from.0, until, left) else { continue };
        // Whoever is late begins once the set before is over, whatever was planned.
        let from = blocks.last().map_or(from, |before| from.max(before.until));
        if from < until {
            let (pattern, is) = (pattern(set.leg), stands(set.is, late));
            blocks.push(Block { from, until, pattern, light: set.round == 0, is, spotted: set.spotted });
        }
    }
    (blocks, windows)
}

/// The part of a stretch of time that lies on a strip whose left edge is the instant `left`; nothing where none does.
fn in_sight(from: i64, until: i64, left: i64) -> Option<(u32, u32)> {
    let seen = until > left && from < left.saturating_add(SPAN);
    let part = |at: i64| u32::try_from(at.saturating_sub(left).clamp(0, SPAN)).ok();
    Some((part(from)?, part(until)?)).filter(|(from, until)| seen && from <= until)
}

fn window(window: RestWindow, left: i64) -> Option<Window> {
    let (from, until) = in_sight(window.from.0, window.until.0, left)?;
    let latest = window.until.0 <= left.saturating_add(SPAN);
    Some(Window { from, until, earliest: window.from.0 >= left, latest })
}

const fn pattern(leg: u8) -> Pattern {
    match leg {
        0 => Pattern::Solid,
        1 => Pattern::Hatched,
        2.. => Pattern::Open,
    }
}

const fn stands(is: RibbonIs, late: bool) -> BlockIs {
    match is {
        RibbonIs::Done => BlockIs::Done,
        RibbonIs::UnderWay if late => BlockIs::Over,
        RibbonIs::UnderWay => BlockIs::UnderWay,
        RibbonIs::ToCome => BlockIs::ToCome,
    }
}

/// The strip of a client; one with nothing in sight is not drawn.
pub(super) fn ribbon(language: Language, view: &BoardView, client: &ClientPart, now: FloorMs) -> Ribbon {
    let (blocks, windows) = pieces(&client.ribbon, now);
    if blocks.is_empty() && windows.is_empty() {
        return Ribbon::default();
    }
    let coming = client.ribbon.iter().filter(|set| set.is == RibbonIs::ToCome);
    let said: Vec<String> = coming.map(|set| start(language, view, client, *set)).collect();
    let said =
        if said.is_empty() { message(language, "label.ribbon_nothing").into() } else { said.join(", ") };
    Ribbon { label: format!("{}: {said}", client.name), blocks, windows }
}

/// Which exercise is to start when.
fn start(language: Language, view: &BoardView, client: &ClientPart, set: RibbonSet) -> String {
    let known = client.turn.as_ref().filter(|turn| turn.turn.leg == set.leg);
    let number = || with(language, "label.ribbon_exercise", &[("n", &(u16::from(set.leg) + 1).to_string())]);
    let exercise = known.map_or_else(number, |turn| turn.exercise.of(language).to_owned());
    let at = Day::new(view.clock, view.zone_offset).second(set.from);
    with(language, "label.ribbon_set", &[("exercise", &exercise), ("at", &at)])
}

//! Not as shown: what is really on a bar, or which plates are missing, said in taps.
//!
//! What is tapped stays with the display until somebody says that it is right. It is closed by saying so, by going
//! back, by half a minute without a touch, and by everything that must not be covered.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{StationId, TurnId};
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::view::{
    BarChoice, HaltKind, PlateChoice, StationPart, StationPlates, StationView, TurnPart, TurnPhase,
};

use super::Scene;
use super::panel::is_under_way;
use super::phase::is_barred;
use super::plates;
use super::words::{mass, stamped, with};

/// How long nobody touches it before it closes by itself, in milliseconds: whoever walked off to count plates is
/// back by then, and whoever does not come back has left it open.
const IDLE_MS: u64 = 30_000;

/// Kinds of plates that can be said to be missing at once: each is a command of its own, and a server takes eight
/// without an answer from one display.
const MOST_KINDS_MISSING: usize = 6;

/// What somebody is saying of the plates at a station and has not sent yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pad {
    station: StationId,
    says: Says,
    /// Real milliseconds at which it was touched last.
    touched: u64,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Says {
    /// What is on each side of the bar, from the inside out.
    On {
        side: Vec<PlatePart>,
        /// Its place among the station's bars, from 0.
        bar: u8,
    },
    /// How many of a kind are missing in all, of those where that is another number than the server's.
    Missing(BTreeMap<PlatePart, u8>),
}

/// What a key does. It carries all that it needs, as it was drawn.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "step", rename_all = "snake_case")]
pub enum Step {
    /// Opens it with what is known to be on each side, from the inside out.
    Open {
        /// The station.
        station: StationId,
        /// The plates.
        side: Vec<PlatePart>,
        /// Which bar of the choice, from 0.
        bar: u8,
    },
    /// Another bar of the choice is there.
    Bar {
        /// Which, from 0.
        bar: u8,
    },
    /// One more on each side, outside all others.
    Put {
        /// Which.
        plate: PlatePart,
        /// As many as there are pairs.
        most: u8,
    },
    /// The outermost of each side comes off.
    TakeOff,
    /// All of it comes off.
    Empty,
    /// On to what is missing.
    Missing,
    /// So many of a kind are missing.
    Miss {
        /// Which.
        plate: PlatePart,
        /// How many in all; nothing for as many as the server knows.
        count: Option<u8>,
    },
    /// That is right: it is sent.
    Say,
    /// Nothing is sent.
    Back,
    /// The pacer of a set is turned on or off at this display.
    Pace {
        /// The set.
        turn: TurnId,
        /// On.
        on: bool,
    },
    /// A coach types a digit.
    Digit {
        /// From 0 to 9.
        digit: u8,
    },
    /// The last digit was wrong.
    Rub,
    /// Whoever has the run sheets is asked.
    Show,
    /// The run sheet stays a minute longer.
    Stay,
    /// The coach is done here.
    Close,
}

impl Step {
    /// It is one of a coach who has come for a run sheet.
    #[must_use]
    pub const fn is_of_a_visit(&self) -> bool {
        matches!(self, Self::Digit { .. } | Self::Rub | Self::Show | Self::Stay | Self::Close)
    }
}

/// A key. Unlike a button it sends nothing by itself, but the one that says that it is right.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Key {
    /// Its name, the same as in a script.
    pub name: String,
    /// What stands on it.
    pub label: String,
    /// What it adds, or why it cannot be pressed.
    pub note: String,
    /// Whether it can be pressed.
    pub enabled: bool,
    /// The expected one.
    pub primary: bool,
    /// What it does.
    pub step: Step,
}

/// The open pad in words, in place of the station it is about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PadFace {
    /// What is asked.
    pub title: String,
    /// What has been said so far.
    pub said: String,
    /// A key for each kind of plates, the heaviest first.
    pub plates: Vec<Key>,
    /// What else can be done, in the row of the buttons.
    pub row: Vec<Key>,
}

impl Pad {
    /// What a key makes of the pad, and what is to be sent.
    #[must_use]
    pub fn after(pad: Option<Self>, step: &Step, real: u64) -> (Option<Self>, Vec<Act>) {
        if let Step::Open { station, side, bar } = step {
            let says = Says::On { side: side.clone(), bar: *bar };
            return (Some(Self { station: *station, says, touched: real }), Vec::new());
        }
        let Some(mut pad) = pad else { return (None, Vec::new()) };
        pad.touched = real;
        match (step, &mut pad.says) {
            (Step::Say, _) => return (None, pad.acts()),
            (Step::Back, _) => return (None, Vec::new()),
            (Step::Put { plate, most }, Says::On { side, .. }) => {
                // A finger that comes twice before the key is drawn anew puts no more on than there are.
                if side.iter().filter(|other| *other == plate).count() < usize::from(*most) {
                    side.push(*plate);
                }
            }
            (Step::Bar { bar }, Says::On { bar: there, .. }) => *there = *bar,
            (Step::TakeOff, Says::On { side, .. }) => drop(side.pop()),
            (Step::Empty, Says::On { side, .. }) => side.clear(),
            (Step::Missing, Says::On { .. }) => pad.says = Says::Missing(BTreeMap::new()),
            (Step::Miss { plate, count: Some(count) }, Says::Missing(missing)) => {
                missing.insert(*plate, *count);
            }
            (Step::Miss { plate, count: None }, Says::Missing(missing)) => drop(missing.remove(plate)),
            // Drawn before the pad went on to what is missing, or not of it.
            (
                Step::Put { .. } | Step::Bar { .. } | Step::TakeOff | Step::Empty | Step::Missing,
                Says::Missing(_),
            )
            | (Step::Miss { .. }, Says::On { .. })
            | (
                Step::Open { .. }
                | Step::Pace { .. }
                | Step::Digit { .. }
                | Step::Rub
                | Step::Show
                | Step::Stay
                | Step::Close,
                _,
            ) => {}
        }
        (Some(pad), Vec::new())
    }

    fn acts(self) -> Vec<Act> {
        let station = self.station;
        match self.says {
            Says::On { side, bar } => vec![Act::PlatesOn { station, side, bar }],
            Says::Missing(missing) => {
                let act = |(plate, count)| Act::PlatesMissing { station, plate, count };
                missing.into_iter().map(act).collect()
            }
        }
    }
}

/// The station that must be large: the one that the open pad is about.
pub(super) fn station(scene: &Scene<'_>, view: &StationView) -> Option<StationId> {
    Some(open(scene, view)?.0.station)
}

/// The pad in words; nothing where it is not open any more.
pub(super) fn pad(scene: &Scene<'_>, view: &StationView) -> Option<PadFace> {
    let (pad, part, rack) = open(scene, view)?;
    Some(match &pad.says {
        Says::On { side, bar } => on(scene, part, rack, (side, *bar)),
        Says::Missing(missing) => missing_ones(scene, rack, missing),
    })
}

/// The pad, unless its time is over or something must be seen that it would cover: a call for help, RACK THE BAR at
/// any station of this display, a stop at this one. Nobody answers for the plates under a lifter.
fn open<'s>(
    scene: &Scene<'s>,
    view: &'s StationView,
) -> Option<(&'s Pad, &'s StationPart, &'s StationPlates)> {
    let pad = scene.pad.filter(|pad| scene.real < pad.touched.saturating_add(IDLE_MS))?;
    let stopped = |part: &StationPart| part.halt.is_some_and(|halt| halt.halt == HaltKind::Stop);
    let racks = view.stations.iter().any(|part| stopped(part) && is_under_way(part));
    let part = view.stations.iter().find(|part| part.station == pad.station)?;
    let rack = offered(part)?;
    (view.help.is_none() && !racks).then_some((pad, part, rack))
}

/// The plates of a station where they can be spoken of.
fn offered(part: &StationPart) -> Option<&StationPlates> {
    let stopped = part.halt.is_some_and(|halt| halt.halt == HaltKind::Stop);
    let coming = part.turn.as_ref().is_some_and(|turn| matches!(turn.phase, TurnPhase::Coming { .. }));
    part.plates.as_ref().filter(|_| coming && !stopped && !is_barred(part))
}

/// What opens it, at a station with a bar.
pub(super) fn opener(scene: &Scene<'_>, part: &StationPart) -> Option<Key> {
    let rack = offered(part).filter(|rack| !rack.kinds.is_empty())?;
    let side = part.turn.as_ref().and_then(known).unwrap_or_else(|| heaviest_inside(&rack.kinds));
    let step = Step::Open { station: part.station, side, bar: rack.bar };
    let mut key = key(scene, "not-as-shown", "label.not_as_shown", step);
    if !scene.link.is_up() {
        key.enabled = false;
        message(scene.language, "label.no_link").clone_into(&mut key.note);
    }
    Some(key)
}

/// What is on each side now, in its order: what stays for the coming set, and what comes off for it.
fn known(turn: &TurnPart) -> Option<Vec<PlatePart>> {
    let bar = turn.load.as_ref()?.bar.as_ref().filter(|bar| bar.known)?;
    let stays = bar.side.len().saturating_sub(bar.add.len());
    Some(bar.side.iter().take(stays).chain(bar.strip.iter().rev()).copied().collect())
}

fn heaviest_inside(kinds: &[PlateChoice]) -> Vec<PlatePart> {
    kinds.iter().flat_map(|kind| std::iter::repeat_n(kind.plate, kind.on.into())).collect()
}

fn on(
    scene: &Scene<'_>,
    part: &StationPart,
    rack: &StationPlates,
    (side, bar): (&[PlatePart], u8),
) -> PadFace {
    let language = scene.language;
    let plate = |(n, kind): (usize, &PlateChoice)| {
        let on_side = side.iter().filter(|plate| **plate == kind.plate).count();
        let most = kind.count / 2;
        let step = Step::Put { plate: kind.plate, most };
        let enabled = on_side < usize::from(most);
        let note = with(language, "label.pad_each", &[("n", &on_side.to_string())]);
        let note = if on_side == 0 { String::new() } else { note };
        let none = || message(language, "label.pad_no_more").to_owned();
        let note = if enabled || on_side > 0 { note } else { none() };
        Key { enabled, note, ..plate_key(scene, rack, n, kind.plate, step) }
    };
    let anything = !side.is_empty();
    let row = [
        Key { enabled: anything, ..key(scene, "take-off", "label.pad_take_off", Step::TakeOff) },
        Key { enabled: anything, ..key(scene, "empty", "label.pad_empty", Step::Empty) },
    ];
    let others = [
        key(scene, "missing", "label.pad_missing", Step::Missing),
        key(scene, "back", "label.back", Step::Back),
        Key { primary: true, ..key(scene, "say", "label.pad_say", Step::Say) },
    ];
    PadFace {
        title: message(language, "label.pad_on").to_owned(),
        said: said(scene, part, rack, (side, bar)),
        plates: rack.kinds.iter().enumerate().map(plate).collect(),
        row: row.into_iter().chain(other_bar(scene, rack, bar)).chain(others).collect(),
    }
}

/// What has been said so far: which bar, where there is a choice, and how heavy it is with these plates, where there
/// is none.
fn said(
    scene: &Scene<'_>,
    part: &StationPart,
    rack: &StationPlates,
    (side, bar): (&[PlatePart], u8),
) -> String {
    let language = scene.language;
    let plates = plates::on_side(language, side, rack.unit);
    if let Some(bar) = rack.bars.get(usize::from(bar)) {
        return format!("{}: {plates}", bar_name(language, bar, rack.unit));
    }
    let total = part.turn.as_ref().and_then(|turn| total(turn, side));
    total.map_or(plates.clone(), |total| format!("{plates}  =  {}", mass(language, total, rack.unit)))
}

fn bar_name(language: Language, bar: &BarChoice, unit: MassUnit) -> String {
    let heavy = with(language, "label.other_bar", &[("bar", &mass(language, bar.mass, unit))]);
    bar.name.as_ref().map_or(heavy, |name| name.of(language).to_owned())
}

/// Goes on to the next bar of the choice, where there is one.
fn other_bar(scene: &Scene<'_>, rack: &StationPlates, bar: u8) -> Option<Key> {
    let bars = u8::try_from(rack.bars.len()).ok().filter(|bars| *bars > 1)?;
    let next = bar.checked_add(1).filter(|next| *next < bars).unwrap_or(0);
    Some(key(scene, "bar", "label.pad_bar", Step::Bar { bar: next }))
}

/// How heavy the usual bar is with these plates on each side, where the display knows its mass.
fn total(turn: &TurnPart, side: &[PlatePart]) -> Option<Mass> {
    let bar = turn.load.as_ref()?.bar.as_ref().filter(|bar| !bar.other_bar)?;
    let empty = bar.bar + bar.collar + bar.collar;
    Some(side.iter().fold(empty, |total, plate| total + plate.mass + plate.mass))
}

fn missing_ones(scene: &Scene<'_>, rack: &StationPlates, missing: &BTreeMap<PlatePart, u8>) -> PadFace {
    let language = scene.language;
    let full = missing.len() >= MOST_KINDS_MISSING;
    let plate = |(n, kind): (usize, &PlateChoice)| {
        let said = missing.get(&kind.plate).copied();
        let now = said.unwrap_or(kind.missing);
        // One more pair; after all of them, all are there again.
        let next = if now >= kind.count { 0 } else { now.saturating_add(2).min(kind.count) };
        let step = Step::Miss { plate: kind.plate, count: Some(next).filter(|next| *next != kind.missing) };
        let (n_missing, of) = (now.to_string(), kind.count.to_string());
        let note = with(language, "label.pad_missing_of", &[("n", &n_missing), ("of", &of)]);
        let note = if now == 0 { with(language, "label.pad_there", &[("n", &of)]) } else { note };
        let enabled = kind.count > 0 && (said.is_some() || !full);
        Key { enabled, note, ..plate_key(scene, rack, n, kind.plate, step) }
    };
    PadFace {
        title: message(language, "label.pad_missing_which").to_owned(),
        said: message(language, "label.pad_missing_how").to_owned(),
        plates: rack.kinds.iter().enumerate().map(plate).collect(),
        row: vec![
            key(scene, "back", "label.back", Step::Back),
            Key {
                primary: true,
                enabled: !missing.is_empty(),
                ..key(scene, "say", "label.pad_say", Step::Say)
            },
        ],
    }
}

fn plate_key(scene: &Scene<'_>, rack: &StationPlates, n: usize, plate: PlatePart, step: Step) -> Key {
    let label = stamped(plate.mass, rack.unit);
    // Two kinds of the same mass differ in how wide they are.
    let twin = rack.kinds.iter().any(|kind| kind.plate.mass == plate.mass && kind.plate != plate);
    let width = if plate.full { "label.pad_wide" } else { "label.pad_small" };
    let label = if twin { format!("{label} {}", message(scene.language, width)) } else { label };
    Key { name: format!("plate-{}", n + 1), label, ..key(scene, "", "", step) }
}

/// A key that can be pressed, with a label by its id.
pub(super) fn key(scene: &Scene<'_>, name: &str, label: &str, step: Step) -> Key {
    Key {
        name: name.to_owned(),
        label: message(scene.language, label).to_owned(),
        note: String::new(),
        enabled: true,
        primary: false,
        step,
    }
}

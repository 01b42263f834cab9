//! Confirming a load, setting another one, and what is really on a bar.

use std::borrow::Cow;

use turnabout_protocol::card::{GearKind, PlatePart, UnbuiltPart};
use turnabout_protocol::ids::{StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::LoadQuestion;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;

use super::start::not_begun;
use super::target;
use super::{Speaker, Verdict};
use crate::floor::event::Event;
use crate::floor::gear_now::{self, Rack};
use crate::floor::history;
use crate::floor::state::{State, StationNow};
use crate::loading::bar::BarNo;
use crate::loading::gear::Gear;
use crate::training::scale::{Footing, Scale};

/// Load as on the card, the same on both sides, collars on.
pub(super) fn confirm(state: &State, speaker: &Speaker, turn: TurnId) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    not_begun(&target, turn)?;
    let card = target.hand.card(turn).filter(|card| card.gear == GearKind::Bar);
    let card = card.ok_or(Refusal::NothingToConfirm)?;
    let now = state.stations.get(&target.station).ok_or(Refusal::UnknownStation)?;
    let station = target.station;
    // Whoever uses or mends it may still change what is on it.
    if let Some(out) = now.out {
        return Err(Refusal::NotInService { station, defect: out.defect });
    }
    if let Some(other) = now.other_use {
        return Err(Refusal::InOtherUse { station, until: other.until });
    }
    // Nobody changes plates under a lifter.
    if let Some(on) = now.on {
        return Err(Refusal::StationBusy { station, turn: on });
    }
    if let Some(confirmed) = now.confirmed.filter(|_| card.confirmed) {
        return Ok(Verdict::Already(confirmed));
    }
    let total = card.total.mass().ok_or(Refusal::NothingToConfirm)?;
    let starts = target.hand.starts(turn);
    let unfit = |error| {
        let UnbuiltPart { below, above, at: _ } = gear_now::nearest(error);
        Refusal::LoadUnfit { below: below.map(Load::Mass), above: above.map(Load::Mass) }
    };
    let found = Rack::of(state, station).map(|rack| rack.card(total, starts)).transpose().map_err(unfit)?;
    let plates = found.map(|found| found.loaded);
    let event = Event::LoadConfirmed { turn, station, load: total, plates };
    Ok(Verdict::Accepted(vec![event]))
}

/// One step lighter from this set on. Always the client's right.
pub(super) fn lighter(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    revision: u32,
) -> Result<Verdict, Refusal> {
    let (load, gear) = coming(state, speaker, turn, revision)?;
    let load = gear.lighter_than(load).ok_or(Refusal::AtLightest { load })?;
    Ok(Verdict::Accepted(vec![Event::LoadLightened { turn, load }]))
}

/// A load that a coach has typed.
#[derive(Clone, Copy)]
pub(super) struct Typed {
    pub load: Load,
    /// It is meant.
    pub sure: bool,
}

impl Typed {
    /// Far above the last load of the client there it is asked about once: a slip of a finger puts a zero too many
    /// on a bar.
    pub(super) fn not_far_above(self, state: &State, last: Option<Load>, gear: &Gear) -> Result<(), Refusal> {
        let Some(last) = last.filter(|_| !self.sure) else { return Ok(()) };
        let footing = Footing { scale: gear.scale(), policy: &state.floor.policy.loads, one_rm: None };
        match footing.ask_again(self.load, last) {
            Some(LoadQuestion::FarFromLast { load: _, below }) => Err(Refusal::FarAboveLast { last: below }),
            None => Ok(()),
        }
    }
}

/// Another load from this set on, as heavy as the coach says, if the plates that are there make it.
pub(super) fn set(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    typed: Typed,
    revision: u32,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let (_, gear) = coming(state, speaker, turn, revision)?;
    let load = typed.load;
    held(&gear, load)?;
    typed.not_far_above(state, last_there(state, speaker, turn, now), &gear)?;
    Ok(Verdict::Accepted(vec![Event::LoadSet { turn, load }]))
}

/// Whether exactly this load can be put on, or why not.
pub(super) fn held(gear: &Gear, load: Load) -> Result<(), Refusal> {
    if gear.can_hold(load) { Ok(()) } else { Err(unfit(gear, load)) }
}

/// Why a load cannot be put on: it is a pin where gear takes a mass, or the other way, or the nearest are others.
pub(super) fn unfit(gear: &Gear, load: Load) -> Refusal {
    match (gear.scale(), load) {
        (Scale::Loads(_), Load::Pin { .. }) => Refusal::TakesMass,
        (Scale::Pins(pins), Load::Mass(_) | Load::Pin { .. }) => Refusal::TakesPin { most: pins.count },
        (Scale::Loads(_), Load::Mass(mass)) => Refusal::LoadUnfit {
            below: gear.nearest_at_most(mass).map(Load::Mass),
            above: gear.nearest_at_least(mass).map(Load::Mass),
        },
    }
}

/// What the client lifted last at that station, in a working set of the same exercise. A light set is asked about
/// by nobody: it is lighter than what comes.
fn last_there(state: &State, speaker: &Speaker, turn: TurnId, now: FloorMs) -> Option<Load> {
    let target = target::turn(state, speaker, turn).ok().filter(|_| turn.round > 0)?;
    let exercise = target.hand.exercise(turn)?.id;
    history::last_load(state, turn.client, target.station, exercise, now)
}

/// The load of a set that has not begun, of a group as the display showed it, and what it is set on tonight.
fn coming<'s>(
    state: &'s State,
    speaker: &Speaker,
    turn: TurnId,
    revision: u32,
) -> Result<(Load, Cow<'s, Gear>), Refusal> {
    let target = target::turn(state, speaker, turn)?;
    not_begun(&target, turn)?;
    if target.hand.group.revision != revision {
        return Err(Refusal::StaleRevision { revision: target.hand.group.revision });
    }
    let load = target.hand.load(turn).ok_or(Refusal::NoLoad)?;
    let gear =
        gear_now::gear(state, target.station, target.hand.starts(turn)).ok_or(Refusal::UnknownStation)?;
    Ok((load, gear))
}

/// What is really on each side of a bar. Nobody sees that under a lifter, and nobody answers for it yet.
pub(super) fn plates_on(
    state: &State,
    speaker: &Speaker,
    station: StationId,
    side: &[PlatePart],
    bar: u8,
) -> Result<Verdict, Refusal> {
    let now = served(state, speaker, station)?;
    if let Some(turn) = now.on {
        return Err(Refusal::StationBusy { station, turn });
    }
    let rack = rack(state, station)?;
    let (bar, bars) = (BarNo(bar), rack.set().bars());
    let count = u8::try_from(bars.len()).unwrap_or(u8::MAX);
    let one = rack.set().bar(bar).ok_or(Refusal::NoSuchBar { count })?;
    if !one.takes_plates() && !side.is_empty() {
        return Err(Refusal::NoSuchPlates { there: 0 });
    }
    for plate in side {
        let there = rack.count(gear_now::plate(*plate));
        let on_side = side.iter().filter(|other| *other == plate).count();
        if on_side > usize::from(there / 2) {
            return Err(Refusal::NoSuchPlates { there });
        }
    }
    let plates = gear_now::loaded(bar, side);
    let load = rack.set().total(&plates).ok_or(Refusal::NoSuchPlates { there: 0 })?;
    Ok(Verdict::Accepted(vec![Event::PlatesSeen { station, plates, load }]))
}

/// So many plates of one kind are missing in all.
pub(super) fn plates_missing(
    state: &State,
    speaker: &Speaker,
    station: StationId,
    plate: PlatePart,
    count: u8,
) -> Result<Verdict, Refusal> {
    served(state, speaker, station)?;
    let rack = rack(state, station)?;
    let plate = gear_now::plate(plate);
    let there = rack.count(plate);
    if there == 0 || count > there {
        return Err(Refusal::NoSuchPlates { there });
    }
    match gear_now::missing(state, station).iter().find(|missing| missing.plate == plate) {
        Some(missing) if missing.count == count => Ok(Verdict::Already(missing.said)),
        None if count == 0 => Err(Refusal::NoPlatesMissing),
        Some(_) | None => Ok(Verdict::Accepted(vec![Event::PlatesMissing { station, plate, count }])),
    }
}

/// A station that this display serves.
fn served<'s>(state: &'s State, speaker: &Speaker, station: StationId) -> Result<&'s StationNow, Refusal> {
    let now = state.stations.get(&station).ok_or(Refusal::UnknownStation)?;
    target::here(speaker, &[station])?;
    Ok(now)
}

/// Its plates.
fn rack(state: &State, station: StationId) -> Result<Rack<'_>, Refusal> {
    Rack::of(state, station).ok_or(Refusal::NoSuchPlates { there: 0 })
}

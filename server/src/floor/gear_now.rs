//! The plates of a station tonight: which are there, and which of them make a load.

use std::borrow::Cow;

use turnabout_protocol::card::{BarPart, PlatePart, UnbuiltPart};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::units::Mass;

use super::state::{State, StationNow};
use crate::loading::bar::{
    BarCard, BarNo, BarSet, Change, Diameter, Finder, Free, LoadError, Loaded, Plate, Side, Starts,
};
use crate::loading::gear::Gear;

/// The usual bar of a station's choice: the first.
const BAR: BarNo = BarNo(0);

/// The gear of a station without the plates that are missing.
#[must_use]
pub fn gear(state: &State, station: StationId) -> Option<Cow<'_, Gear>> {
    let gear = &state.floor.stations.get(&station)?.gear;
    let missing = &state.stations.get(&station)?.missing;
    let (Gear::Bar(bar), false) = (gear, missing.is_empty()) else { return Some(Cow::Borrowed(gear)) };
    let mut bar = bar.clone();
    for plates in &mut bar.plates {
        let kind = Plate { mass: plates.mass, diameter: plates.diameter() };
        let of_it = missing.iter().filter(|missing| missing.plate == kind);
        plates.count = of_it.fold(plates.count, |left, missing| left.saturating_sub(missing.count));
    }
    Some(Cow::Owned(Gear::Bar(bar)))
}

/// Bars and plates of a station as its floor's file says, missing ones included; nothing where no bar is.
#[must_use]
pub fn bars(state: &State, station: StationId) -> Option<BarSet> {
    match &state.floor.stations.get(&station)?.gear {
        Gear::Bar(bar) => bar.set(),
        Gear::Stack(_) | Gear::Dumbbells(_) | Gear::Plain => None,
    }
}

/// How a load is made on the bar of a station with the plates that are there, and what to change; nothing where
/// no bar is. What weighs as much already stays as somebody has put it on.
///
/// # Errors
/// Why those plates do not make it, and what is nearest.
pub fn card(state: &State, station: StationId, total: Mass) -> Option<Result<BarCard, LoadError>> {
    let set = bars(state, station)?;
    let now = state.stations.get(&station)?;
    let on = now.plates.as_ref();
    if let Some(on) = on.filter(|on| set.total(on) == Some(total)) {
        let change = Change::between(&set, Some(on), on);
        return Some(Ok(BarCard { loaded: on.clone(), total, instead_of: None, change }));
    }
    Some(Finder::new(&set, &free(&set, now), Starts::Racked).find(total, BAR, on))
}

/// The plates that are there.
fn free(set: &BarSet, now: &StationNow) -> Free {
    let all = Free::all(set.inventory());
    now.missing
        .iter()
        .fold(all, |free, missing| free.without_plates(set.inventory(), missing.plate, missing.count))
}

/// The empty bar.
#[must_use]
pub fn stripped() -> Loaded {
    Loaded { bar: BAR, side: Side::default() }
}

/// These plates on each side, from the inside out.
#[must_use]
pub fn loaded(side: &[PlatePart]) -> Loaded {
    Loaded { bar: BAR, side: Side::new(side.iter().copied().map(plate).collect()) }
}

/// What a display calls a plate.
#[must_use]
pub const fn plate(part: PlatePart) -> Plate {
    Plate { mass: part.mass, diameter: if part.full { Diameter::Full } else { Diameter::Small } }
}

/// The card's part for displays: how to make it, or what is nearest where it cannot be made.
#[must_use]
pub fn parts(state: &State, station: StationId, total: Mass) -> (Option<BarPart>, Option<UnbuiltPart>) {
    let (Some(found), Some(set)) = (card(state, station, total), bars(state, station)) else {
        return (None, None);
    };
    match found {
        Ok(card) => (bar_part(state, station, &set, &card), None),
        Err(error) => (None, Some(nearest(error))),
    }
}

/// The loads next to one that cannot be made.
#[must_use]
pub fn nearest(error: LoadError) -> UnbuiltPart {
    match error {
        LoadError::NotBuilt(not) => UnbuiltPart {
            below: not.nearest.below.map(|standing| standing.total),
            above: not.nearest.above.map(|standing| standing.total),
        },
        LoadError::Target { .. } | LoadError::Bar { .. } => UnbuiltPart { below: None, above: None },
    }
}

fn bar_part(state: &State, station: StationId, set: &BarSet, card: &BarCard) -> Option<BarPart> {
    let bar = set.bar(card.loaded.bar)?;
    let known = state.stations.get(&station)?.plates.is_some();
    let effort = card.change.effort();
    let shown =
        |plates: &[Plate]| plates.iter().map(|p| PlatePart { mass: p.mass, full: p.is_full() }).collect();
    Some(BarPart {
        bar: bar.mass,
        other_bar: card.loaded.bar != BAR,
        collar: bar.collar(),
        side: shown(card.loaded.side.plates()),
        known,
        strip: shown(&card.change.strip),
        add: shown(&card.change.add),
        alone: effort.alone,
        together: effort.together,
    })
}

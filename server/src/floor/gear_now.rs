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

/// A station with a bar, prepared for questions about its plates.
#[derive(Debug)]
pub struct Rack<'s> {
    set: BarSet,
    now: &'s StationNow,
}

impl<'s> Rack<'s> {
    /// Of this station; nothing where no bar is.
    #[must_use]
    pub fn of(state: &'s State, station: StationId) -> Option<Self> {
        let set = match &state.floor.stations.get(&station)?.gear {
            Gear::Bar(bar) => bar.set(),
            Gear::Stack(_) | Gear::Dumbbells(_) | Gear::Plain => None,
        };
        Some(Self { set: set?, now: state.stations.get(&station)? })
    }

    /// Its bars and plates as the floor's file says, missing ones included.
    #[must_use]
    pub const fn set(&self) -> &BarSet {
        &self.set
    }

    /// How many plates of a kind belong to it, missing ones included.
    #[must_use]
    pub fn count(&self, plate: Plate) -> u8 {
        let kind = self.set.inventory().kinds().iter().find(|kind| kind.plate == plate);
        kind.map_or(0, |kind| kind.count)
    }

    /// How a load is made with the plates that are there, and what to change. What weighs as much already stays
    /// as somebody has put it on.
    ///
    /// # Errors
    /// Why those plates do not make it, and what is nearest.
    pub fn card(&self, total: Mass) -> Result<BarCard, LoadError> {
        let on = self.now.plates.as_ref();
        if let Some(on) = on.filter(|on| self.set.total(on) == Some(total)) {
            let change = Change::between(&self.set, Some(on), on);
            return Ok(BarCard { loaded: on.clone(), total, instead_of: None, change });
        }
        Finder::new(&self.set, &self.free(), Starts::Racked).find(total, BAR, on)
    }

    /// The same for displays: how to make it, or what is nearest where it cannot be made.
    #[must_use]
    pub fn parts(&self, total: Mass) -> (Option<BarPart>, Option<UnbuiltPart>) {
        match self.card(total) {
            Ok(card) => (self.bar_part(&card), None),
            Err(error) => (None, Some(nearest(error))),
        }
    }

    fn bar_part(&self, card: &BarCard) -> Option<BarPart> {
        let bar = self.set.bar(card.loaded.bar)?;
        let effort = card.change.effort();
        let shown = |plates: &[Plate]| plates.iter().copied().map(part).collect();
        Some(BarPart {
            bar: bar.mass,
            other_bar: card.loaded.bar != BAR || card.change.other_bar() == Some(true),
            collar: bar.collar(),
            side: shown(card.loaded.side.plates()),
            known: self.now.plates.is_some(),
            strip: shown(&card.change.strip),
            add: shown(&card.change.add),
            alone: effort.alone,
            together: effort.together,
        })
    }

    /// The plates that are there.
    fn free(&self) -> Free {
        let inventory = self.set.inventory();
        let missing = self.now.missing.iter();
        missing.fold(Free::all(inventory), |free, missing| {
            free.without_plates(inventory, missing.plate, missing.count)
        })
    }
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

/// A plate as a display calls it.
#[must_use]
pub fn part(plate: Plate) -> PlatePart {
    PlatePart { mass: plate.mass, full: plate.is_full() }
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

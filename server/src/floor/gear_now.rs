//! The plates of a station tonight: which are free for it, and which of them make a load.

use std::borrow::Cow;

use turnabout_protocol::card::{BarPart, PlatePart, UnbuiltPart};
use turnabout_protocol::ids::{ExerciseId, Key, StationId};
use turnabout_protocol::units::Mass;

use super::config::Floor;
use super::pairs_now;
use super::state::{Missing, State, StationNow};
use crate::loading::bar::{
    BarCard, BarNo, BarSet, Change, Diameter, Finder, Free, LoadError, Loaded, Plate, Side, Starts,
};
use crate::loading::gear::{Dumbbells, Gear};

/// The usual bar of a station's choice: the first.
const BAR: BarNo = BarNo(0);

/// The gear of a station as it is at this moment, for lifts that begin so: without the plates that are missing or on
/// other bars of its tree, and without the pairs that are out at other stations of its rack.
#[must_use]
pub fn gear(state: &State, station: StationId, starts: Starts) -> Option<Cow<'_, Gear>> {
    let gear = tonight(state, station)?;
    Some(match gear.starting(starts) {
        Cow::Owned(asked) => Cow::Owned(asked),
        Cow::Borrowed(_) => gear,
    })
}

/// The gear of a station without what is missing, for lifts of an exercise: what can be had there tonight, though
/// another bar of its tree or another hand may have it now.
#[must_use]
pub fn there(state: &State, station: StationId, exercise: ExerciseId) -> Option<Cow<'_, Gear>> {
    let planned = as_planned(&state.floor, station, exercise)?;
    let gone = missing(state, station);
    let (Gear::Bar(bar), false) = (planned.as_ref(), gone.is_empty()) else { return Some(planned) };
    let gone: Vec<(Plate, u8)> = gone.iter().map(|missing| (missing.plate, missing.count)).collect();
    Some(Cow::Owned(Gear::Bar(bar.without(&gone))))
}

/// The gear of a station as its file says, for lifts of an exercise.
#[must_use]
pub fn as_planned(floor: &Floor, station: StationId, exercise: ExerciseId) -> Option<Cow<'_, Gear>> {
    let starts = floor.exercises.get(&exercise).map(Starts::of).unwrap_or_default();
    Some(floor.stations.get(&station)?.gear.starting(starts))
}

fn tonight(state: &State, station: StationId) -> Option<Cow<'_, Gear>> {
    let gear = &state.floor.stations.get(&station)?.gear;
    let bar = match gear {
        Gear::Bar(bar) => bar,
        Gear::Dumbbells(_) => {
            let owned = |free: Cow<'_, Dumbbells>| Cow::Owned(Gear::Dumbbells(free.into_owned()));
            return Some(pairs_now::free(state, station).map_or(Cow::Borrowed(gear), owned));
        }
        Gear::Stack(_) | Gear::Numbered(_) | Gear::Belt(_) | Gear::Plain => {
            return Some(Cow::Borrowed(gear));
        }
    };
    let mut gone = missing(state, station).iter().map(|missing| (missing.plate, missing.count)).peekable();
    let mut elsewhere = elsewhere(state, station).peekable();
    if gone.peek().is_none() && elsewhere.peek().is_none() {
        return Some(Cow::Borrowed(gear));
    }
    let on_others = elsewhere.flat_map(|(_, side)| side.plates()).map(|plate| (*plate, 2));
    let gone: Vec<(Plate, u8)> = gone.chain(on_others).collect();
    Some(Cow::Owned(Gear::Bar(bar.without(&gone))))
}

/// The tree that the plates of a station hang on, where it shares them.
#[must_use]
pub fn tree(floor: &Floor, station: StationId) -> Option<&Key> {
    match &floor.stations.get(&station)?.gear {
        Gear::Bar(bar) => bar.tree.as_ref(),
        Gear::Stack(_) | Gear::Numbered(_) | Gear::Dumbbells(_) | Gear::Belt(_) | Gear::Plain => None,
    }
}

/// Plates that are missing at a station, or of the tree that it shares.
#[must_use]
pub fn missing(state: &State, station: StationId) -> &[Missing] {
    match tree(&state.floor, station) {
        Some(tree) => state.trees.get(tree).map_or(&[], Vec::as_slice),
        None => state.stations.get(&station).map_or(&[], |now| now.missing.as_slice()),
    }
}

/// The other stations of a station's tree with what is on each side of their bars, as far as anybody has said.
fn elsewhere(state: &State, station: StationId) -> impl Iterator<Item = (StationId, &Side)> {
    let tree = tree(&state.floor, station);
    let others = state.stations.iter().filter(move |(id, _)| tree.is_some() && **id != station);
    let others = others.filter(move |(id, _)| self::tree(&state.floor, **id) == tree);
    let sides = others.filter_map(|(id, now)| Some((*id, &now.plates.as_ref()?.side)));
    sides.filter(|(_, side)| !side.plates().is_empty())
}

/// A station with a bar, prepared for questions about its plates.
#[derive(Debug)]
pub struct Rack<'s> {
    set: BarSet,
    state: &'s State,
    station: StationId,
    now: &'s StationNow,
}

impl<'s> Rack<'s> {
    /// Of this station; nothing where no bar is.
    #[must_use]
    pub fn of(state: &'s State, station: StationId) -> Option<Self> {
        let set = match &state.floor.stations.get(&station)?.gear {
            Gear::Bar(bar) => bar.set(),
            Gear::Stack(_) | Gear::Numbered(_) | Gear::Dumbbells(_) | Gear::Belt(_) | Gear::Plain => None,
        };
        Some(Self { set: set?, state, station, now: state.stations.get(&station)? })
    }

    /// Its bars and plates as the floor's file says, missing ones included.
    #[must_use]
    pub const fn set(&self) -> &BarSet {
        &self.set
    }

    /// How many plates of a kind belong to it or to its tree, missing ones included.
    #[must_use]
    pub fn count(&self, plate: Plate) -> u8 {
        let kind = self.set.inventory().kinds().iter().find(|kind| kind.plate == plate);
        kind.map_or(0, |kind| kind.count)
    }

    /// How a load is made with the plates that are free, and what to change. What weighs as much already stays
    /// as somebody has put it on.
    ///
    /// # Errors
    /// Why those plates do not make it, and what is nearest.
    pub fn card(&self, total: Mass, starts: Starts) -> Result<BarCard, LoadError> {
        let on = self.now.plates.as_ref();
        if let Some(on) = on.filter(|on| self.set.total(on) == Some(total) && begins(on, starts)) {
            let change = Change::between(&self.set, Some(on), on);
            return Ok(BarCard { loaded: on.clone(), total, instead_of: None, change });
        }
        Finder::new(&self.set, &self.free(), starts).find(total, BAR, on)
    }

    /// The same for displays: how to make it, or what is nearest where it cannot be made.
    #[must_use]
    pub fn parts(&self, total: Mass, starts: Starts) -> (Option<BarPart>, Option<UnbuiltPart>) {
        match self.card(total, starts) {
            Ok(card) => (self.bar_part(&card), None),
            Err(error) => (None, Some(UnbuiltPart { at: self.holders(total, starts), ..nearest(error) })),
        }
    }

    /// Prepared for what is written down for later: with all plates that are there, on whichever bar they are now.
    #[must_use]
    pub fn for_later(&self, starts: Starts) -> Finder {
        Finder::new(&self.set, &self.there(), starts)
    }

    /// How a load is made from an empty bar, where nobody knows what will be on it; or what is nearest.
    #[must_use]
    pub fn later(&self, finder: &Finder, total: Mass) -> (Option<BarPart>, Option<UnbuiltPart>) {
        match finder.find(total, BAR, Some(&stripped())) {
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

    /// The plates that are free: there, and on no other bar of the tree.
    fn free(&self) -> Free {
        let inventory = self.set.inventory();
        let others = elsewhere(self.state, self.station);
        others.fold(self.there(), |free, (_, side)| free.without(inventory, side))
    }

    /// The plates that are there, on whichever bar.
    fn there(&self) -> Free {
        let inventory = self.set.inventory();
        let missing = missing(self.state, self.station).iter();
        missing.fold(Free::all(inventory), |free, missing| {
            free.without_plates(inventory, missing.plate, missing.count)
        })
    }

    /// The stations of the tree on whose bars the plates are that this load wants for; none where it could not be
    /// made with them either.
    fn holders(&self, total: Mass, starts: Starts) -> Vec<String> {
        let others: Vec<_> = elsewhere(self.state, self.station).collect();
        if others.is_empty() {
            return Vec::new();
        }
        let whole = Finder::new(&self.set, &self.there(), starts);
        let Ok(card) = whole.find(total, BAR, self.now.plates.as_ref()) else { return Vec::new() };
        let free = self.free();
        let wants = |plate: &Plate| {
            let needed = 2 * card.loaded.side.plates().iter().filter(|other| *other == plate).count();
            needed > usize::from(free.of(self.set.inventory(), *plate))
        };
        let holds = others.into_iter().filter(|(_, side)| side.plates().iter().any(wants));
        let names = holds.filter_map(|(id, _)| Some(self.state.floor.stations.get(&id)?.name.clone()));
        names.collect()
    }
}

/// Whether a lift can begin so with these plates on.
#[must_use]
pub fn begins(on: &Loaded, starts: Starts) -> bool {
    match starts {
        Starts::Racked => true,
        Starts::FromTheFloor => on.side.plates().first().is_some_and(|innermost| innermost.is_full()),
    }
}

/// The empty bar.
#[must_use]
pub fn stripped() -> Loaded {
    Loaded { bar: BAR, side: Side::default() }
}

/// These plates on each side of a bar, from the inside out.
#[must_use]
pub fn loaded(bar: BarNo, side: &[PlatePart]) -> Loaded {
    Loaded { bar, side: Side::new(side.iter().copied().map(plate).collect()) }
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
            at: Vec::new(),
        },
        LoadError::Target { .. } | LoadError::Bar { .. } => UnbuiltPart::default(),
    }
}

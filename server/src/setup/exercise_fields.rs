//! One table of `[[exercise]]`: what it says, on top of what the catalogue says of that key.
//!
//! The catalogue itself and every floor file are read by this; only stations are a floor's alone.

use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::Key;
use turnabout_protocol::view::StartsWith;
use turnabout_protocol::words::Words;

use super::about_fields;
use super::allowed::Allowed;
use super::exercise_words::{self as words, GEAR, IMPLEMENT, MOVEMENT, SPOT, STARTS_WITH};
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::problem::{Problem, Thing};
use super::spot::{Said, Spot};
use super::text_fields;
use super::wants::Wants;
use crate::floor::config::limits;
use crate::training::about::{About, Implement};
use crate::training::catalogue::{Catalogue, Entry};
use crate::training::exercise::SpotRule;
use crate::training::movement::Movement;

/// What a table says. A field that could not be read, or is missing and was taken down, is absent.
pub(super) struct Draft {
    key: Said<Key>,
    name: Option<Words>,
    /// What sets the load, and where that is said: at the key where the catalogue says it.
    pub(super) gear: Option<Said<GearKind>>,
    starts_with: Option<StartsWith>,
    spot: Option<SpotRule>,
    movement: Movement,
    from_the_floor: bool,
    handle: Option<Key>,
    about: About,
    /// The exercise named as its opposite.
    pub(super) opposing: Option<Said<Key>>,
    /// What the table itself wants, not the catalogue.
    pub(super) wants: Wants,
}

impl Draft {
    /// The key, and the exercise if it is whole.
    pub(super) fn entry(self) -> (Said<Key>, Option<Entry>) {
        let entry = self.name.zip(self.gear).zip(self.starts_with).zip(self.spot);
        let key = self.key;
        let (movement, handle, about) = (self.movement, self.handle, Arc::new(self.about));
        let entry = entry.map(|(((name, gear), starts_with), spot)| Entry {
            key: key.what.clone(),
            name,
            gear: gear.what,
            starts_with,
            spot,
            movement,
            from_the_floor: self.from_the_floor,
            handle,
            about,
        });
        (key, entry)
    }
}

/// What is known of an exercise before its table is read on.
enum Before<'c> {
    /// The catalogue has it.
    Known(&'c Entry),
    /// It is new, so the table must say what it is.
    New,
    /// Nobody can tell: the key is wrong, and that was taken down.
    Unsure,
}

impl<'c> Before<'c> {
    fn of(
        key: Option<&Said<Key>>,
        table: &Fields<'_>,
        found: &mut Findings<'_>,
        catalogue: &'c Catalogue,
    ) -> Self {
        let Some(key) = key else { return Self::Unsure };
        if let Some(entry) = catalogue.get(&key.what) {
            return Self::Known(entry);
        }
        // A catalogue that is being read itself has no other to name anything of.
        let defines = ["name", "gear", "implement", "starts_with", "spot"].iter().any(|name| table.has(name));
        if defines || catalogue.entries().next().is_none() {
            return Self::New;
        }
        let words = catalogue.entries().map(|entry| entry.key.as_str());
        found.unknown(&key.spot, Thing::Catalogue, key.what.as_str(), words);
        Self::Unsure
    }

    const fn entry(&self) -> Option<&'c Entry> {
        match self {
            Self::Known(entry) => Some(entry),
            Self::New | Self::Unsure => None,
        }
    }

    /// Takes down that a field is missing, where it must be there.
    fn demand(&self, table: &Fields<'_>, found: &mut Findings<'_>, name: &str, allowed: Allowed) {
        if matches!(self, Self::New) && !table.has(name) {
            table.missing(found, name, Problem::Missing(allowed));
        }
    }
}

/// Reads everything but stations; the caller reads these, if any, and finishes the table. Absent without a
/// key, but then too every other mistake of the table has been taken down.
pub(super) fn draft(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    catalogue: &Catalogue,
) -> Option<Draft> {
    let key = table.said(found, "key", &form::key());
    let before = Before::of(key.as_ref(), table, found, catalogue);
    let entry = before.entry();
    let name = text_fields::optional(table, found, "name", limits::NAME);
    before.demand(table, found, "name", Allowed::Words { most: limits::NAME });
    let name = name.or_else(|| entry.map(|entry| entry.name.clone()));
    let (gear, implement) = gear(table, found, &before, key.as_ref());
    let movement = table.optional(found, "movement", &form::one_of(MOVEMENT));
    let form = form::one_of(STARTS_WITH);
    let starts_with = table.optional(found, "starts_with", &form).map(|said| said.what);
    before.demand(table, found, "starts_with", form.allowed);
    let starts_with = starts_with.or_else(|| entry.map(|entry| entry.starts_with));
    let (spot, movement) = spot(table, found, &before, movement.as_ref());
    let from_the_floor = from_the_floor(table, found, entry, gear.as_ref());
    let own_handle = table.optional(found, "handle", &form::key());
    let handle = own_handle.as_ref().map(|said| said.what.clone());
    let handle = handle.or_else(|| entry.and_then(|entry| entry.handle.clone()));
    let nothing = About::default();
    let said_before = entry.map_or(&nothing, |entry| &entry.about);
    let about_fields::Read { about, opposing, settings } = about_fields::about(table, found, said_before);
    let about = About { implement, ..about };
    let wants = Wants::beyond(entry, settings.unwrap_or_default(), own_handle);
    let key = key?;
    Some(Draft {
        key,
        name,
        gear,
        starts_with,
        spot,
        movement,
        from_the_floor,
        handle,
        about,
        opposing,
        wants,
    })
}

/// Whether it is pulled from the floor. Only a bar is; where a floor does the exercise with other gear, what the
/// catalogue says of a bar says nothing.
fn from_the_floor(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    entry: Option<&Entry>,
    gear: Option<&Said<GearKind>>,
) -> bool {
    let said = table.optional(found, "from_the_floor", &form::flag());
    let bar = gear.is_none_or(|gear| gear.what == GearKind::Bar);
    if let Some(said) = said {
        if said.what && !bar {
            found.add(&said.spot, GearProblem::FromTheFloorWithoutBar);
        }
        return said.what;
    }
    bar && entry.is_some_and(|entry| entry.from_the_floor)
}

/// What sets the load and what is held: each follows from the other or from the catalogue, and the two must
/// agree.
fn gear(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    before: &Before<'_>,
    key: Option<&Said<Key>>,
) -> (Option<Said<GearKind>>, Option<Implement>) {
    let form = form::one_of(GEAR);
    let gear = table.optional(found, "gear", &form);
    let implement = table.optional(found, "implement", &form::one_of(IMPLEMENT));
    if let (Some(gear), Some(implement)) = (&gear, &implement)
        && !implement.what.suits(gear.what)
    {
        let found_word = words::word(IMPLEMENT, implement.what);
        let suits = IMPLEMENT.iter().filter(|(_, one)| one.suits(gear.what)).map(|(word, _)| *word);
        let allowed = Allowed::OneOf(suits.collect());
        let gear = words::word(GEAR, gear.what);
        found.add(&implement.spot, Problem::OtherImplement { found: found_word, gear, allowed });
    }
    if let Some(implement) = implement {
        let gear = gear.unwrap_or(Said { what: implement.what.gear(), spot: implement.spot });
        return (Some(gear), Some(implement.what));
    }
    let known = before.entry().and_then(|entry| entry.about.implement);
    if let Some(gear) = gear {
        let implement = known.filter(|implement| implement.suits(gear.what));
        return (Some(gear), implement);
    }
    if table.has("gear") || table.has("implement") {
        return (None, None);
    }
    before.demand(table, found, "gear", form.allowed);
    let gear = before.entry().zip(key).map(|(entry, key)| Said { what: entry.gear, spot: key.spot.clone() });
    (gear, known)
}

/// The spot rule and the movement, which must suit each other.
fn spot(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    before: &Before<'_>,
    movement: Option<&Said<Movement>>,
) -> (Option<SpotRule>, Movement) {
    let form = form::one_of(SPOT);
    let spot = table.optional(found, "spot", &form);
    before.demand(table, found, "spot", form.allowed);
    let entry = before.entry();
    let places: [Option<&Spot>; 2] = [spot.as_ref().map(|said| &said.spot), movement.map(|said| &said.spot)];
    let rule = spot.as_ref().map(|said| said.what).or_else(|| entry.map(|entry| entry.spot));
    let moves = movement.map(|said| said.what).or_else(|| entry.map(|entry| entry.movement));
    let moves = moves.unwrap_or_default();
    if let (Some(rule), Some(place)) = (rule, places.into_iter().flatten().next())
        && !moves.may_be(rule)
    {
        let suits = SPOT.iter().filter(|(_, rule)| moves.may_be(*rule)).map(|(word, _)| *word);
        let problem = Problem::OtherSpot {
            found: words::word(SPOT, rule),
            movement: words::word(MOVEMENT, moves),
            allowed: Allowed::OneOf(suits.collect()),
        };
        found.add(place, problem);
    }
    (rule, moves)
}

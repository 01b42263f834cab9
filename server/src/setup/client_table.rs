//! Who trains: `[[client]]` of a programme file.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{ClientId, ExerciseId};
use turnabout_protocol::units::MassUnit;

use super::earlier_table::earlier;
use super::fields::Fields;
use super::findings::Findings;
use super::fit::Fit;
use super::form;
use super::limits;
use super::max_table::{Maxima, maxima};
use super::times_problem::TimesProblem;
use crate::floor::config::{Client, Day, Floor, Names, Person, Screening, ScreeningResult};

/// The result of a screening as files call it.
const RESULT: &[(&str, ScreeningResult)] =
    &[("cleared", ScreeningResult::Cleared), ("follow-up-needed", ScreeningResult::FollowUpNeeded)];

/// The unit in which a client counts.
const UNIT: &[(&str, MassUnit)] = &[("kg", MassUnit::Kg), ("lb", MassUnit::Lb)];

/// The clients of a programme file.
pub(super) struct People {
    pub(super) clients: BTreeMap<ClientId, Client>,
    pub(super) names: Names,
    /// Whether every client's number could be read.
    pub(super) complete: bool,
    /// The clients of whose maxima some could not be read.
    unsure: BTreeSet<ClientId>,
}

impl People {
    /// Whether a client's maximum of an exercise is there, or may be where the file could not be read.
    pub(super) fn may_have_max(&self, client: ClientId, exercise: ExerciseId) -> bool {
        let known = self.clients.get(&client).map(|client| client.max.contains_key(&exercise));
        !self.complete || self.unsure.contains(&client) || known.unwrap_or(true)
    }
}

/// Reads every client; `day` is the programme's, `fit` that of the floor.
pub(super) fn clients(
    top: &mut Fields<'_>,
    found: &mut Findings<'_>,
    day: Option<Day>,
    floor: Option<&Floor>,
    fit: &Fit,
) -> People {
    let mut people =
        People { clients: BTreeMap::new(), names: Names::new(), complete: true, unsure: BTreeSet::new() };
    let mut seen = BTreeMap::new();
    let mut taken = BTreeMap::new();
    for mut table in top.sections(found, "client", "client", 0, limits::CLIENTS) {
        let number = table.said(found, "number", &number());
        let name = table.display_name(found, &mut taken);
        let show_load = table.optional(found, "show_load", &form::flag());
        let regular = table.optional(found, "regular", &form::flag());
        let screening = table.optional_table(found, "screening").and_then(|t| screening(t, found, day));
        let unit = table.optional(found, "unit", &form::one_of(UNIT)).map(|said| said.what);
        let Maxima { known: max, whole } = maxima(&mut table, found, floor, fit);
        let earlier = earlier(&mut table, found, day, floor, fit);
        table.finish(found);
        people.complete &= number.is_some();
        let Some(number) = number else { continue };
        found.once(&mut seen, &number);
        let id = ClientId(number.what);
        let show_load = show_load.is_none_or(|said| said.what);
        let regular = regular.is_some_and(|said| said.what);
        people.clients.insert(id, Client { show_load, regular, screening, unit, max, earlier });
        if !whole {
            people.unsure.insert(id);
        }
        people.names.extend(name.map(|name| (Person::Client(id), name)));
    }
    people
}

fn screening(mut table: Fields<'_>, found: &mut Findings<'_>, day: Option<Day>) -> Option<Screening> {
    let on = table.said(found, "on", &form::day());
    let result = table.required(found, "result", &form::one_of(RESULT));
    table.finish(found);
    let on = on?;
    if let Some(day) = day.filter(|day| on.what > *day) {
        found.add(&on.spot, TimesProblem::ScreeningAhead { on: on.what, day });
    }
    Some(Screening { on: on.what, result: result? })
}

/// The number of a client or group.
pub(super) fn number() -> form::Form<impl Fn(&toml::de::DeValue<'_>) -> Option<u32>> {
    form::whole(1, limits::NUMBER)
}

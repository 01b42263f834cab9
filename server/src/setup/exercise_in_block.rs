//! One exercise of a block: `[[group.block.exercise]]`.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, Key};
use turnabout_protocol::work::Work;

use super::block_problem::BlockProblem;
use super::client_table::People;
use super::fields::Fields;
use super::findings::Findings;
use super::fit::Fit;
use super::form;
use super::limits::RESERVE;
use super::load_check::{self, Told};
use super::load_problem::LoadProblem;
use super::load_rule::{self, Load};
use super::own_table::{self, Own};
use super::prescribed::{One, Whole, is_held};
use super::problem::{Problem, Thing};
use super::rounds::{self, Rounds};
use super::spot::{Said, Spot};
use super::spotters::Spotters;
use super::written::Written;
use crate::floor::config::Floor;
use crate::training::block::{Leg, limits};
use crate::training::exercise::Exercise;

/// What is around an exercise.
#[derive(Clone, Copy)]
pub(super) struct Around<'a> {
    /// Nothing where the floor file has mistakes.
    pub(super) floor: Option<&'a Floor>,
    pub(super) fit: &'a Fit,
    /// The clients of the group.
    pub(super) clients: &'a [ClientId],
    pub(super) people: &'a People,
    pub(super) spotters: &'a Spotters,
    /// Rounds of the block, if they could be read.
    pub(super) rounds: Option<u8>,
}

/// An exercise of a block as far as it could be read.
pub(super) struct Read<'a> {
    pub(super) exercise: Option<&'a Exercise>,
    /// Where the exercise is named.
    pub(super) spot: Spot,
    pub(super) in_place: Option<Said<bool>>,
    /// All its loads that are said outright, technique sets too.
    pub(super) loads: BTreeMap<turnabout_protocol::load::Load, Written>,
    pub(super) leg: Option<Leg>,
}

impl Read<'_> {
    pub(super) fn is_in_place(&self) -> bool {
        self.in_place.as_ref().is_some_and(|said| said.what)
    }
}

/// Reads an exercise.
pub(super) fn exercise<'a>(mut table: Fields<'_>, found: &mut Findings<'_>, around: &Around<'a>) -> Read<'a> {
    let named = table.said(found, "use", &form::key());
    let exercise = named.as_ref().and_then(|key| find(around.floor?, found, key));
    let in_place = table.optional(found, "in_place", &form::flag());
    let per_side = table.optional(found, "per_side", &form::flag()).is_some_and(|said| said.what);
    let whole = whole(&mut table, found, around, exercise);
    let own = own_table::own(&mut table, found, around, exercise);
    demand_all(&table, found, around, exercise, &whole, &own);
    let clients: Vec<(ClientId, One<'_>)> =
        around.clients.iter().map(|id| (*id, One::of(&whole, own.get(id)))).collect();
    let loads = loads(found, around, exercise, &clients);
    table.finish(found);
    if let Some(exercise) = exercise {
        if exercise.gear != GearKind::Plain {
            around.fit.check_together(found, &table.spot, exercise, &loads);
        }
        if let Some(named) = named.as_ref().filter(|_| exercise.spotted())
            && !around.spotters.could_spot(around.floor, exercise)
        {
            found.add(&named.spot, BlockProblem::NobodyToSpot { exercise: exercise.key.clone() });
        }
    }
    let sets = clients.iter().map(|(id, one)| Some((*id, one.prescription()?)));
    let sets: Option<BTreeMap<_, _>> = sets.collect();
    let leg = exercise.zip(sets).map(|(exercise, sets)| Leg {
        exercise: exercise.id,
        in_place: in_place.as_ref().is_some_and(|said| said.what),
        per_side,
        sets,
    });
    let spot = named.map_or_else(|| table.spot.clone(), |key| key.spot);
    Read { exercise, spot, in_place, loads, leg }
}

fn whole(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    around: &Around<'_>,
    exercise: Option<&Exercise>,
) -> Whole {
    let reps = read_work(table, found, around.rounds);
    let tempo = table.optional(found, "tempo", &form::tempo()).map(|said| said.what);
    let load = read_loads(table, found, around, exercise);
    let reserve = table.optional(found, "reserve", &form::whole(0, RESERVE)).map(|said| said.what);
    let mut technique_reps = None;
    let mut technique_load = None;
    let mut ramp = None;
    if let Some(mut technique) = table.optional_table(found, "technique") {
        let reps = technique.optional(found, "reps", &form::whole(1, limits::REPS));
        technique_reps = reps.map(|said| said.what);
        technique_load = read_load(&mut technique, found, around.fit, exercise, "load");
        ramp = technique.optional(found, "ramp", &form::flag());
        technique.finish(found);
    }
    let has_reserve = table.has("reserve");
    Whole { reps, load, tempo, reserve, has_reserve, technique_reps, technique_load, ramp }
}

/// Takes down what neither the exercise nor every client's own says. What is there but could not be read has
/// its own mistake.
fn demand_all(
    table: &Fields<'_>,
    found: &mut Findings<'_>,
    around: &Around<'_>,
    exercise: Option<&Exercise>,
    whole: &Whole,
    own: &BTreeMap<ClientId, Own>,
) {
    // Where the clients could not be read, whoever has something of their own may be all of them.
    let owns = |has: &dyn Fn(&Own) -> bool| match around.clients {
        [] => own.values().any(has),
        clients => clients.iter().all(|id| own.get(id).is_some_and(has)),
    };
    if whole.reps.is_none() && !table.has("reps") && !owns(&|own| own.reps.is_some()) {
        table.missing(found, "reps", Problem::Missing(form::work().allowed));
    }
    let all_reps = || whole.reps.iter().chain(own.values().filter_map(|own| own.reps.as_ref()));
    let only_holds = all_reps().next().is_some() && all_reps().all(is_held);
    if !only_holds && whole.tempo.is_none() && !table.has("tempo") && !owns(&|own| own.tempo.is_some()) {
        table.missing(found, "tempo", Problem::Missing(form::tempo().allowed));
    }
    if let Some(gear @ (GearKind::Bar | GearKind::Stack | GearKind::Dumbbells | GearKind::Belt)) =
        exercise.map(|exercise| exercise.gear)
        && whole.load.is_none()
        && !table.has("load")
        && !owns(&|own| own.load.is_some())
    {
        table.missing(found, "load", Problem::LoadMissing(gear));
    }
}

/// Every load that the file says outright. What does not go with a client's sets is taken down.
fn loads(
    found: &mut Findings<'_>,
    around: &Around<'_>,
    exercise: Option<&Exercise>,
    clients: &[(ClientId, One<'_>)],
) -> BTreeMap<turnabout_protocol::load::Load, Written> {
    let mut loads = BTreeMap::new();
    let mut told = Told::default();
    let helps = exercise.is_some_and(|exercise| around.fit.helps(exercise));
    for (client, one) in clients {
        let working = one.load.iter().flat_map(|load| load.iter()).filter_map(|said| said.what.fixed());
        let technique = one.technique_load.map(|said| said.what);
        loads.extend(working.chain(technique).map(|load| (load.load(), load)));
        load_check::check_technique(found, helps, *client, one);
        load_check::check_ramp(found, &mut told, helps, exercise, one);
        load_check::check(found, &mut told, around, exercise, *client, one);
    }
    loads
}

/// The exercise of a key of the floor; takes down a key of none.
pub(super) fn find<'f>(floor: &'f Floor, found: &mut Findings<'_>, key: &Said<Key>) -> Option<&'f Exercise> {
    let exercise = floor.exercises.values().find(|exercise| exercise.key == key.what);
    if exercise.is_none() {
        let keys = floor.exercises.values().map(|exercise| exercise.key.as_str());
        found.unknown(&key.spot, Thing::Exercise, key.what.as_str(), keys);
    }
    exercise
}

/// Repetitions, ranges of them or times, for all rounds or by round.
pub(super) fn read_work(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    of_block: Option<u8>,
) -> Option<Rounds<Work>> {
    let work = rounds::rounds(table, found, "reps", &form::work(), of_block)?;
    for said in work.iter() {
        if let Work::Reps { least, most } = said.what
            && least > most
        {
            found.add(&said.spot, BlockProblem::RangeOrder { least, most });
        }
    }
    Some(work)
}

/// Loads for all rounds or by round. What is said outright a station must be able to be set to.
pub(super) fn read_loads(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    around: &Around<'_>,
    exercise: Option<&Exercise>,
) -> Option<Rounds<Load>> {
    let form = load_rule::form(may_be_zero(exercise));
    let loads = rounds::rounds(table, found, "load", &form, around.rounds)?;
    for load in loads.iter() {
        if loads.is_list() && !load.what.by_round() {
            found.add(&load.spot, LoadProblem::OnlyForAll(load.what));
        }
        check_load(found, around.fit, exercise, &load.spot, load.what.fixed());
    }
    Some(loads)
}

/// Whether no load at all is a load too: body mass alone.
fn may_be_zero(exercise: Option<&Exercise>) -> bool {
    exercise.is_some_and(|exercise| exercise.gear == GearKind::Belt)
}

/// One load, which a station must be able to be set to.
pub(super) fn read_load(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    fit: &Fit,
    exercise: Option<&Exercise>,
    name: &'static str,
) -> Option<Said<Written>> {
    let load = table.optional(found, name, &load_rule::written(may_be_zero(exercise)))?;
    check_load(found, fit, exercise, &load.spot, Some(load.what));
    Some(load)
}

/// Takes down a load of an exercise that has none to set, and one said outright that no station can be set to.
fn check_load(
    found: &mut Findings<'_>,
    fit: &Fit,
    exercise: Option<&Exercise>,
    spot: &Spot,
    said: Option<Written>,
) {
    match exercise.map(|exercise| (exercise, exercise.gear)) {
        Some((_, GearKind::Plain)) => found.add(spot, Problem::LoadOnPlain),
        Some((exercise, GearKind::Bar | GearKind::Stack | GearKind::Dumbbells | GearKind::Belt)) => {
            if let Some(load) = said {
                fit.check(found, spot, load, exercise);
            }
        }
        None => {}
    }
}

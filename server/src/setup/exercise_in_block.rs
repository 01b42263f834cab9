//! One exercise of a block: `[[group.block.exercise]]`.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, Key};
use turnabout_protocol::tempo::{Part, Tempo};
use turnabout_protocol::units::{Mass, Stamped};
use turnabout_protocol::work::Work;

use super::block_problem::BlockProblem;
use super::fields::Fields;
use super::findings::Findings;
use super::fit::Fit;
use super::form;
use super::limits::RESERVE;
use super::own_table::{self, Own};
use super::problem::{Problem, Thing};
use super::rounds::{self, Rounds};
use super::spot::{Said, Spot};
use super::spotters::Spotters;
use crate::floor::config::Floor;
use crate::training::block::{Leg, Prescription, Target, Technique, limits};
use crate::training::exercise::Exercise;

/// Repetitions of a technique set where the file says nothing: 3 to 4 are common practice, no source.
const TECHNIQUE_REPS: u8 = 4;

/// Of a hold only the technique set has a pace: a second up, a second down.
const HOLD_TEMPO: Tempo = Tempo {
    eccentric: Part::Count(1),
    after_eccentric: Part::Count(0),
    concentric: Part::Count(1),
    after_concentric: Part::Count(0),
};

/// What is around an exercise.
#[derive(Clone, Copy)]
pub(super) struct Around<'a> {
    /// Nothing where the floor file has mistakes.
    pub(super) floor: Option<&'a Floor>,
    pub(super) fit: &'a Fit,
    /// The clients of the group.
    pub(super) clients: &'a [ClientId],
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
    /// All its loads, technique sets too.
    pub(super) loads: BTreeMap<Mass, Stamped>,
    pub(super) leg: Option<Leg>,
}

impl Read<'_> {
    pub(super) fn is_in_place(&self) -> bool {
        self.in_place.as_ref().is_some_and(|said| said.what)
    }
}

/// What all clients of the group do, unless they have something of their own.
struct Whole {
    reps: Option<Rounds<Work>>,
    load: Option<Rounds<Stamped>>,
    tempo: Option<Tempo>,
    reserve: Option<u8>,
    technique_reps: Option<u8>,
    technique_load: Option<Said<Stamped>>,
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
    let loads = loads(found, around, exercise, &whole, &own);
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
    let sets = around.clients.iter().map(|id| Some((*id, prescription(&whole, own.get(id))?)));
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
    if let Some(mut technique) = table.optional_table(found, "technique") {
        let reps = technique.optional(found, "reps", &form::whole(1, limits::REPS));
        technique_reps = reps.map(|said| said.what);
        technique_load = read_load(&mut technique, found, around.fit, exercise, "load");
        technique.finish(found);
    }
    Whole { reps, load, tempo, reserve, technique_reps, technique_load }
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
    if let Some(gear @ (GearKind::Bar | GearKind::Stack | GearKind::Dumbbells)) =
        exercise.map(|exercise| exercise.gear)
        && whole.load.is_none()
        && !table.has("load")
        && !owns(&|own| own.load.is_some())
    {
        table.missing(found, "load", Problem::LoadMissing(gear));
    }
}

/// Every load that is lifted. A technique set is light: no heavier than the client's first working set, and where
/// the load helps, with no less help.
fn loads(
    found: &mut Findings<'_>,
    around: &Around<'_>,
    exercise: Option<&Exercise>,
    whole: &Whole,
    own: &BTreeMap<ClientId, Own>,
) -> BTreeMap<Mass, Stamped> {
    let mut loads = BTreeMap::new();
    let helps = exercise.is_some_and(|exercise| around.fit.helps(exercise));
    for client in around.clients {
        let own = own.get(client);
        let own_load = own.and_then(|own| own.load.as_ref());
        let load = own_load.or(whole.load.as_ref());
        let own_technique = own.and_then(|own| own.technique_load.as_ref());
        let technique = own_technique.or(whole.technique_load.as_ref());
        loads.extend(load.iter().flat_map(|l| l.iter()).chain(technique).map(|l| (l.what.mass, l.what)));
        let (Some(first), Some(technique)) = (load.and_then(|load| load.at(0)), technique) else { continue };
        let (lighter, heavier) = if helps { (first, technique) } else { (technique, first) };
        if lighter.what.mass > heavier.what.mass {
            // Told where the smaller scope is: a client's own figure before everyone's.
            let own_first = own_load.and_then(|load| load.at(0));
            let said = own_technique.or(own_first).unwrap_or(technique);
            let (technique, load) = (technique.what, first.what);
            found.add(&said.spot, Problem::TechniqueHeavier { technique, client: client.0, load, helps });
        }
    }
    loads
}

/// What one client does: the own figures, or else everyone's.
fn prescription(whole: &Whole, own: Option<&Own>) -> Option<Prescription> {
    let reps = own.and_then(|own| own.reps.as_ref()).or(whole.reps.as_ref())?;
    let load = own.and_then(|own| own.load.as_ref()).or(whole.load.as_ref());
    let technique_load = own.and_then(|own| own.technique_load.as_ref()).or(whole.technique_load.as_ref());
    let named = reps.len().max(load.map_or(1, Rounds::len));
    let target = |round| {
        let load = load.and_then(|load| load.at(round)).map(|load| load.what.mass);
        Some(Target::plain(reps.at(round)?.what, load))
    };
    Some(Prescription {
        tempo: own
            .and_then(|own| own.tempo)
            .or(whole.tempo)
            .or_else(|| is_held(reps).then_some(HOLD_TEMPO))?,
        technique: Technique {
            reps: own.and_then(|own| own.technique_reps).or(whole.technique_reps).unwrap_or(TECHNIQUE_REPS),
            load: technique_load.map(|load| load.what.mass),
            ramp: false,
        },
        rounds: (0..named).map(target).collect::<Option<_>>()?,
        reserve: own.and_then(|own| own.reserve).or(whole.reserve),
    })
}

/// Whether every round is held for a time.
fn is_held(reps: &Rounds<Work>) -> bool {
    reps.iter().all(|said| matches!(said.what, Work::Hold { .. }))
}

fn find<'f>(floor: &'f Floor, found: &mut Findings<'_>, key: &Said<Key>) -> Option<&'f Exercise> {
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

/// Loads for all rounds or by round, each of which a station must be able to be set to.
pub(super) fn read_loads(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    around: &Around<'_>,
    exercise: Option<&Exercise>,
) -> Option<Rounds<Stamped>> {
    let loads = rounds::rounds(table, found, "load", &form::mass(false), around.rounds)?;
    for load in loads.iter() {
        check_load(found, around.fit, exercise, load);
    }
    Some(loads)
}

/// One load, which a station must be able to be set to.
pub(super) fn read_load(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    fit: &Fit,
    exercise: Option<&Exercise>,
    name: &'static str,
) -> Option<Said<Stamped>> {
    let load = table.optional(found, name, &form::mass(false))?;
    check_load(found, fit, exercise, &load);
    Some(load)
}

fn check_load(found: &mut Findings<'_>, fit: &Fit, exercise: Option<&Exercise>, load: &Said<Stamped>) {
    match exercise.map(|exercise| (exercise, exercise.gear)) {
        Some((_, GearKind::Plain)) => found.add(&load.spot, Problem::LoadOnPlain),
        Some((exercise, GearKind::Bar | GearKind::Stack | GearKind::Dumbbells)) => {
            fit.check(found, load, exercise);
        }
        None => {}
    }
}

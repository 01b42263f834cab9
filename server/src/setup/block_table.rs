//! One block of a group: `[[group.block]]` with its exercises.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, Key};
use turnabout_protocol::units::{Secs, Stamped};
use turnabout_protocol::work::Work;

use super::fields::Fields;
use super::findings::Findings;
use super::fit::Fit;
use super::form;
use super::problem::{Problem, Thing};
use super::programme_file::number;
use super::spot::Said;
use crate::floor::config::Floor;
use crate::training::block::{Block, Leg, Prescription, Target, Technique, limits};
use crate::training::exercise::Exercise;

/// Repetitions of a technique set where the file says nothing: 3 to 4 are common practice, no source.
const TECHNIQUE_REPS: u8 = 4;

/// Reads a block for these clients.
pub(super) fn block(
    mut table: Fields<'_>,
    found: &mut Findings<'_>,
    floor: Option<&Floor>,
    fit: &Fit,
    clients: &[ClientId],
) -> Option<Block> {
    let rounds = table.required(found, "rounds", &form::whole(1, limits::ROUNDS));
    let rest = read_rest(&mut table, found);
    let exercises = table.sections(found, "exercise", "group.block.exercise", 1, limits::LEGS);
    let changeover_form = form::duration(0, limits::CHANGEOVER_SECS);
    // With one exercise there is nowhere to go over to.
    let changeover = if exercises.len() > 1 {
        table.required(found, "changeover", &changeover_form)
    } else {
        Some(table.optional(found, "changeover", &changeover_form).map_or(Secs(0), |said| said.what))
    };
    table.finish(found);
    let legs = exercises.into_iter().filter_map(|t| exercise(t, found, floor, fit, clients)).collect();
    let (rest_min, rest_max) = rest?;
    Some(Block { legs, rounds: rounds?, rest_min, rest_max, changeover: changeover? })
}

fn read_rest(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<(Secs, Secs)> {
    let mut ends = table.list(found, "rest", 2, 2).into_iter();
    let mut next = || ends.next()?.read(found, &form::duration(0, limits::REST_SECS));
    let (least, most) = (next(), next());
    let (least, most) = (least?.what, most?);
    if most.what < least {
        found.add(&most.spot, Problem::RestOrder { least: least.0, most: most.what.0 });
    }
    Some((least, most.what))
}

/// What one client does differently.
struct Own {
    reps: Option<u8>,
    load: Option<Said<Stamped>>,
    technique_load: Option<Said<Stamped>>,
}

fn exercise(
    mut table: Fields<'_>,
    found: &mut Findings<'_>,
    floor: Option<&Floor>,
    fit: &Fit,
    clients: &[ClientId],
) -> Option<Leg> {
    let exercise = table.said(found, "use", &form::key()).and_then(|key| find(floor?, found, &key));
    let reps = table.required(found, "reps", &form::whole(1, limits::REPS));
    let tempo = table.required(found, "tempo", &form::tempo());
    let load = read_load(&mut table, found, fit, exercise, "load");
    let technique = table.optional_table(found, "technique").map(|t| read_technique(t, found, fit, exercise));
    let own = read_own(&mut table, found, fit, exercise, clients);
    let (technique_reps, technique_load) = technique.unwrap_or((TECHNIQUE_REPS, None));

    let mut sets = BTreeMap::new();
    let mut loads = BTreeMap::new();
    let mut missing = false;
    for client in clients {
        let own = own.get(client);
        let own_load = own.and_then(|own| own.load.as_ref());
        let load = own_load.or(load.as_ref());
        let own_technique = own.and_then(|own| own.technique_load.as_ref());
        let technique_load = own_technique.or(technique_load.as_ref());
        missing |= load.is_none();
        loads.extend([load, technique_load].into_iter().flatten().map(|load| (load.what.mass, load.what)));
        check_technique(found, *client, own_load, load, technique_load, own_technique.is_some());
        let reps = own.and_then(|own| own.reps).or(reps);
        sets.insert(*client, (reps, load.map(|l| l.what.mass), technique_load.map(|l| l.what.mass)));
    }
    // A load that is there but could not be read has its own mistake.
    if let Some(gear @ (GearKind::Bar | GearKind::Stack)) = exercise.map(|exercise| exercise.gear)
        && missing
        && !table.has("load")
    {
        table.missing(found, "load", Problem::LoadMissing(gear));
    }
    table.finish(found);
    if let Some(exercise) = exercise.filter(|exercise| exercise.gear != GearKind::Plain) {
        fit.check_together(found, &table.spot, exercise, &loads);
    }
    let sets = sets.into_iter().map(|(client, (reps, load, technique_load))| {
        let technique = Technique { reps: technique_reps, load: technique_load };
        let target = Target { work: Work::reps(reps?), load };
        Some((client, Prescription { tempo: tempo?, technique, rounds: vec![target], reserve: None }))
    });
    let sets = sets.collect::<Option<_>>()?;
    Some(Leg { exercise: exercise?.id, in_place: false, per_side: false, sets })
}

fn find<'f>(floor: &'f Floor, found: &mut Findings<'_>, key: &Said<Key>) -> Option<&'f Exercise> {
    let exercise = floor.exercises.values().find(|exercise| exercise.key == key.what);
    if exercise.is_none() {
        let keys = floor.exercises.values().map(|exercise| exercise.key.as_str());
        found.unknown(&key.spot, Thing::Exercise, key.what.as_str(), keys);
    }
    exercise
}

fn read_load(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    fit: &Fit,
    exercise: Option<&Exercise>,
    name: &'static str,
) -> Option<Said<Stamped>> {
    let load = table.optional(found, name, &form::mass(false))?;
    match exercise.map(|exercise| (exercise, exercise.gear)) {
        Some((_, GearKind::Plain)) => found.add(&load.spot, Problem::LoadOnPlain),
        Some((exercise, GearKind::Bar | GearKind::Stack)) => fit.check(found, &load, exercise),
        None => {}
    }
    Some(load)
}

fn read_technique(
    mut table: Fields<'_>,
    found: &mut Findings<'_>,
    fit: &Fit,
    exercise: Option<&Exercise>,
) -> (u8, Option<Said<Stamped>>) {
    let reps = table.optional(found, "reps", &form::whole(1, limits::REPS));
    let load = read_load(&mut table, found, fit, exercise, "load");
    table.finish(found);
    (reps.map_or(TECHNIQUE_REPS, |said| said.what), load)
}

fn read_own(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    fit: &Fit,
    exercise: Option<&Exercise>,
    clients: &[ClientId],
) -> BTreeMap<ClientId, Own> {
    let mut seen = BTreeMap::new();
    let mut all = BTreeMap::new();
    for mut own in table.tables(found, "own", 0, limits::CLIENTS) {
        let client = own.said(found, "client", &number());
        let reps = own.optional(found, "reps", &form::whole(1, limits::REPS)).map(|said| said.what);
        let load = read_load(&mut own, found, fit, exercise, "load");
        let technique_load = read_load(&mut own, found, fit, exercise, "technique_load");
        own.finish(found);
        let Some(client) = client else { continue };
        if !found.once(&mut seen, &client) {
            continue;
        }
        let id = ClientId(client.what);
        // A list of clients that could not be read has its own mistake.
        if !clients.is_empty() && !clients.contains(&id) {
            found.add(&client.spot, Problem::NotInGroup { client: id.0 });
        }
        all.insert(id, Own { reps, load, technique_load });
    }
    all
}

/// The technique set is light. Told where the smaller scope is: a client's own figure before everyone's.
fn check_technique(
    found: &mut Findings<'_>,
    client: ClientId,
    own_load: Option<&Said<Stamped>>,
    load: Option<&Said<Stamped>>,
    technique: Option<&Said<Stamped>>,
    own_technique: bool,
) {
    let (Some(load), Some(technique)) = (load, technique) else { return };
    if technique.what.mass <= load.what.mass {
        return;
    }
    let spot = if own_technique { &technique.spot } else { &own_load.unwrap_or(technique).spot };
    let (technique, load) = (technique.what, load.what);
    found.add(spot, Problem::TechniqueHeavier { technique, client: client.0, load });
}

//! What there is to say to a group before the first set, from what the catalogue knows of the exercises.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{ExerciseId, GroupId};
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{BriefingBlock, BriefingExercise, BriefingInstead, BriefingSheet};
use turnabout_protocol::words::Words;

use super::{Context, part};
use crate::floor::config::GroupPlan;
use crate::floor::state::{GroupNow, State};
use crate::training::about::breathe;
use crate::training::block::{Block, Leg};
use crate::training::exercise::Exercise;
use crate::training::muscle::Muscle;

/// The briefing of a group from the block in hand on; nothing for an unknown group. What some clients do instead of an
/// exercise stands beside it, with whom it is for.
#[must_use]
pub fn sheet(state: &State, context: &Context<'_>, group: GroupId) -> Option<BriefingSheet> {
    let (plan, now) = state.group(group)?;
    let blocks = plan.blocks.iter().zip(0_u8..now.blocks).skip(usize::from(now.block));
    let blocks = blocks.map(|(block, place)| BriefingBlock {
        n: place.saturating_add(1),
        of: now.blocks,
        rounds: now.rounds_of(plan, place),
        rest_min: block.rest_min,
        rest_max: block.rest_max,
        opposing: opposing(state, block),
        exercises: block.legs.iter().filter_map(|leg| exercise(state, leg, leg.exercise)).collect(),
        // What was agreed on holds for the block in hand.
        instead: if place == now.block { instead(state, context, (plan, now), block) } else { Vec::new() },
    });
    Some(BriefingSheet {
        floor: state.floor.name.clone(),
        group,
        clients: plan.clients.iter().map(|client| part::client_name(context, *client)).collect(),
        blocks: blocks.collect(),
    })
}

/// Whether a block is a pair of exercises of which one undoes the other.
fn opposing(state: &State, block: &Block) -> bool {
    let exercise = |leg: &Leg| state.floor.exercises.get(&leg.exercise);
    let [Some(one), Some(other)] = block.legs.iter().map(exercise).collect::<Vec<_>>()[..] else {
        return false;
    };
    one.movement.opposite() == Some(other.movement) || one.about.opposing.as_ref() == Some(&other.key)
}

/// What clients do instead, exercise by exercise of the block in hand; those who do the same stand together.
fn instead(
    state: &State,
    context: &Context<'_>,
    (plan, now): (&GroupPlan, &GroupNow),
    block: &Block,
) -> Vec<BriefingInstead> {
    let mut all = Vec::new();
    for (place, leg) in block.legs.iter().enumerate() {
        let mut whom: BTreeMap<ExerciseId, Vec<String>> = BTreeMap::new();
        for client in &plan.clients {
            let other = now.clients.get(client).and_then(|client| client.legs.get(place)?.instead);
            if let Some(other) = other {
                whom.entry(other).or_default().push(part::client_name(context, *client));
            }
        }
        all.extend(whom.into_iter().filter_map(|(other, clients)| {
            let of = part::exercise_name(state, leg.exercise);
            Some(BriefingInstead { clients, of, exercise: exercise(state, leg, other)? })
        }));
    }
    all
}

/// An exercise as it is done in the place of `leg`.
fn exercise(state: &State, leg: &Leg, id: ExerciseId) -> Option<BriefingExercise> {
    let exercise: &Exercise = state.floor.exercises.get(&id)?;
    let about = &exercise.about;
    let breathing = |language| breathe(about.breathing, language).to_owned();
    Some(BriefingExercise {
        exercise: exercise.name.clone(),
        spotted: exercise.spotted(),
        per_side: leg.per_side,
        prime_movers: names(&about.muscles.prime_movers),
        synergists: names(&about.muscles.synergists),
        stabilisers: names(&about.muscles.stabilisers),
        antagonists: names(&about.muscles.antagonists),
        set_up: about.set_up.clone(),
        breathing: Words { en: breathing(Language::En), de: breathing(Language::De) },
        cautions: about.cautions.clone(),
    })
}

fn names(muscles: &BTreeSet<Muscle>) -> Vec<Words> {
    let name = |muscle: &Muscle, language| muscle.name(language).to_owned();
    muscles
        .iter()
        .map(|muscle| Words { en: name(muscle, Language::En), de: name(muscle, Language::De) })
        .collect()
}

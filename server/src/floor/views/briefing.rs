//! What there is to say to a group before the first set, from what the catalogue knows of the exercises.

use std::collections::BTreeSet;

use turnabout_protocol::ids::GroupId;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{BriefingBlock, BriefingExercise, BriefingSheet};
use turnabout_protocol::words::Words;

use super::{Context, part};
use crate::floor::state::State;
use crate::training::block::{Block, Leg};
use crate::training::exercise::Exercise;
use crate::training::muscle::Muscle;

/// The briefing of a group from the block in hand on; nothing for an unknown group. Another exercise that one client
/// does instead is not in it: that client is told apart.
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
        exercises: block.legs.iter().filter_map(|leg| exercise(state, leg)).collect(),
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

fn exercise(state: &State, leg: &Leg) -> Option<BriefingExercise> {
    let exercise: &Exercise = state.floor.exercises.get(&leg.exercise)?;
    let about = &exercise.about;
    let breathing = |language| about.breathing.text(language).to_owned();
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

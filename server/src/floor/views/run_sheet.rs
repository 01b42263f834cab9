//! A coach's run sheet as the page shows it.

use turnabout_protocol::ids::CoachId;
use turnabout_protocol::view::{CoachTask, RunRow};

use super::{Context, card, part};
use crate::floor::in_hand::InHand;
use crate::floor::run_sheet::{self, Line};
use crate::floor::state::State;

pub(super) fn rows(state: &State, context: &Context<'_>, me: CoachId) -> Vec<RunRow> {
    run_sheet::of(state, &context.plan.turns, me)
        .into_iter()
        .filter_map(|line| row(state, context, line))
        .collect()
}

fn row(state: &State, context: &Context<'_>, Line { turn: planned, told, about }: Line) -> Option<RunRow> {
    let turn = planned.turn;
    let hand = InHand::of(state, turn.group)?;
    let exercise = hand.exercise(turn)?;
    let mut load = hand.card(turn);
    // The plates of a set that is not the next are cut when it is.
    if let Some(load) = load.as_mut().filter(|_| hand.next(turn.client) == Some(turn)) {
        card::fill(&hand, turn, Some(planned.station), load);
    }
    let watches = turn.round == 0 && !hand.technique_passed(turn);
    Some(RunRow {
        turn,
        client: part::client_name(context, turn.client),
        station: planned.station,
        exercise: exercise.name.clone(),
        set: part::set_name(&hand, turn),
        task: if watches { CoachTask::Watch } else { CoachTask::Spot },
        start: planned.start,
        reason: planned.reason,
        told,
        about,
        load,
    })
}

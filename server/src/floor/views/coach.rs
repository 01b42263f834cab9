//! One coach's page: every group, one's own first, with the taps that are expected.

use turnabout_protocol::command::{CallKind, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{BlockPart, CoachClient, CoachGroup, CoachLine, CoachView, LastPart};

use super::Context;
use super::{part, taps};
use crate::floor::config::GroupPlan;
use crate::floor::decide;
use crate::floor::in_hand::InHand;
use crate::floor::state::{GroupNow, State};

pub(super) fn view(state: &State, context: &Context<'_>, me: CoachId) -> Option<CoachView> {
    state.floor.coaches.get(&me)?;
    let mut groups: Vec<CoachGroup> = state
        .programme
        .groups
        .iter()
        .filter_map(|(id, plan)| Some(group(state, context, me, (*id, plan, state.groups.get(id)?))))
        .collect();
    groups.sort_by_key(|group| (group.coach != me, group.group));
    let mut calls: Vec<_> = state.calls.iter().map(|(id, call)| part::call(state, *id, call)).collect();
    calls.sort_by_key(|call| (call.kind != CallKind::HelpNow, call.since));
    Some(CoachView {
        zone_offset: context.zone_offset,
        floor: state.floor.name.clone(),
        me,
        coaches: coaches(state, context),
        stations: part::station_lines(state),
        groups,
        calls,
        help: part::help(state),
    })
}

fn coaches(state: &State, context: &Context<'_>) -> Vec<CoachLine> {
    let line = |(id, coach): (&CoachId, &crate::floor::config::Coach)| CoachLine {
        coach: *id,
        key: coach.key.clone(),
        name: part::coach_name(context, *id),
        spotting: state.spotted_by(Spotter::Coach { coach: *id }, FloorMs::default()),
    };
    state.floor.coaches.iter().map(line).collect()
}

fn group(
    state: &State,
    context: &Context<'_>,
    me: CoachId,
    (id, plan, now): (GroupId, &GroupPlan, &GroupNow),
) -> CoachGroup {
    let hand = InHand::of(state, id);
    CoachGroup {
        group: id,
        revision: now.revision,
        coach: now.coach,
        stage: now.stage(plan),
        block: block(state, plan, now),
        stations: now.claim.as_ref().map(|claim| claim.stations.clone()).unwrap_or_default(),
        suited: hand.as_ref().map(suited).unwrap_or_default(),
        clients: plan.clients.iter().map(|client| self::client(context, hand.as_ref(), *client)).collect(),
        halt: part::halt(now),
        taps: hand.map(|hand| taps::expected(&hand, me)).unwrap_or_default(),
    }
}

/// Where each exercise of the block in hand can be done.
fn suited(hand: &InHand<'_>) -> Vec<Vec<StationId>> {
    hand.block.legs.iter().map(|leg| decide::suited(hand.state, leg).collect()).collect()
}

/// The block in hand; after the session the last one, so that the page can say what it was.
fn block(state: &State, plan: &GroupPlan, now: &GroupNow) -> BlockPart {
    let of = u8::try_from(plan.blocks.len()).unwrap_or(u8::MAX);
    let n = now.block.saturating_add(1).min(of);
    let block = now.block_of(plan).or(plan.blocks.last());
    let name = |leg: &crate::training::block::Leg| {
        state.floor.exercises.get(&leg.exercise).map(|e| e.name.en.clone()).unwrap_or_default()
    };
    BlockPart {
        n,
        of,
        exercises: block.map(|b| b.legs.iter().map(name).collect()).unwrap_or_default(),
        rounds: block.map(|_| now.rounds_of(plan, n.saturating_sub(1))).unwrap_or_default(),
        rest_min: block.map(|b| b.rest_min).unwrap_or_default(),
        rest_max: block.map(|b| b.rest_max).unwrap_or_default(),
    }
}

fn client(context: &Context<'_>, hand: Option<&InHand<'_>>, id: ClientId) -> CoachClient {
    let last = hand.and_then(|hand| {
        let (turn, record) = hand.last_done(id)?;
        let exercise = part::exercise_name(hand.state, record.exercise);
        let (reps, effort, ending) = (record.said.reps, record.said.effort, record.said.ending);
        Some(LastPart { turn, exercise, ended: record.ended, reps, effort, ending })
    });
    let turn = hand.and_then(|hand| part::turn_of(hand, context, id));
    CoachClient { client: id, name: part::client_name(context, id), turn, last }
}

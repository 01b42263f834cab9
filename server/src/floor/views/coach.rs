//! One coach's page: every group, one's own first, with the taps that are expected.

use turnabout_protocol::command::{CallKind, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{
    BlockPart, CoachClient, CoachGroup, CoachLine, CoachView, LastPart, OfferPart, WaitPart,
};

use super::Context;
use super::{admission, choice, deeds, fit, notes, part, proposal, ribbon, run_sheet, taps};
use crate::floor::config::GroupPlan;
use crate::floor::decide;
use crate::floor::in_hand::InHand;
use crate::floor::next_load::Ladders;
use crate::floor::screening;
use crate::floor::state::{GroupNow, State};

pub(super) fn view(state: &State, context: &Context<'_>, me: CoachId) -> Option<CoachView> {
    state.floor.coaches.get(&me)?;
    let mut ladders = Ladders::default();
    let mut groups: Vec<CoachGroup> = state
        .programme
        .groups
        .iter()
        .filter_map(|(id, plan)| {
            Some(group(state, context, (me, &mut ladders), (*id, plan, state.groups.get(id)?)))
        })
        .collect();
    groups.sort_by_key(|group| (group.coach != me, group.group));
    let mut calls: Vec<_> =
        state.calls.iter().map(|(id, call)| part::call(context, state, *id, call)).collect();
    calls.sort_by_key(|call| (call.kind != CallKind::HelpNow, call.since));
    let (notes, older_notes) = notes::latest(state, context, me);
    Some(CoachView {
        zone_offset: context.zone_offset,
        floor: state.floor.name.clone(),
        me,
        coaches: coaches(state, context),
        stations: part::station_lines(state),
        calls,
        run_sheet: run_sheet::rows(state, context, me),
        settings: choice::settings(state, me),
        plates: choice::plates(state, me),
        exercises: choice::named(state, &groups),
        places: choice::places(state, &groups),
        groups,
        notes,
        older_notes,
        help: part::help(state, context),
    })
}

fn coaches(state: &State, context: &Context<'_>) -> Vec<CoachLine> {
    let line = |(id, coach): (&CoachId, &crate::floor::config::Coach)| CoachLine {
        coach: *id,
        key: coach.key.clone(),
        name: part::coach_name(context, *id),
        spotting: state.spotted_by(Spotter::Coach { coach: *id }, FloorMs::default()),
        away: state.coaches.get(id).and_then(|now| now.away).map(|away| away.until),
    };
    state.floor.coaches.iter().map(line).collect()
}

fn group(
    state: &State,
    context: &Context<'_>,
    (me, ladders): (CoachId, &mut Ladders),
    (id, plan, now): (GroupId, &GroupPlan, &GroupNow),
) -> CoachGroup {
    let hand = InHand::of(state, id);
    let own = hand.as_ref().filter(|_| now.coach == me);
    let mut proposals =
        |client| own.map(|hand| proposal::of_client(hand, client, ladders)).unwrap_or_default();
    let clients: Vec<CoachClient> = plan
        .clients
        .iter()
        .map(|client| CoachClient {
            proposals: proposals(*client),
            ribbon: hand.as_ref().map(|hand| ribbon::of_client(hand, context, *client)).unwrap_or_default(),
            ..self::client(context, now, hand.as_ref(), *client)
        })
        .collect();
    CoachGroup {
        group: id,
        revision: now.revision,
        coach: now.coach,
        stage: now.stage(plan),
        block: block(state, plan, now),
        stations: now.claim.as_ref().map(|claim| claim.stations.clone()).unwrap_or_default(),
        suited: hand.as_ref().map(suited).unwrap_or_default(),
        ahead: now.ahead.as_ref().map(|claim| claim.stations.clone()).unwrap_or_default(),
        waits: waits(state, id),
        offer: now.offer.map(|offer| OfferPart { to: offer.to, asks: offer.asks }),
        lapses: state.lapses_at(id),
        no_show: now.no_show,
        fit: hand.as_ref().and_then(fit::fit),
        choices: own.map(choice::choices).unwrap_or_default(),
        too_large: own.and_then(admission::too_large),
        admissions: own.map(|hand| admission::parts(context, hand)).unwrap_or_default(),
        done: deeds::done(state, me, id, now),
        halt: part::halt(now),
        taps: hand.map(|hand| taps::expected(&hand, me, &clients)).unwrap_or_default(),
        clients,
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
    let name = |leg: &crate::training::block::Leg| part::exercise_name(state, leg.exercise);
    BlockPart {
        n,
        of,
        exercises: block.map(|b| b.legs.iter().map(name).collect()).unwrap_or_default(),
        rounds: block.map(|_| now.rounds_of(plan, n.saturating_sub(1))).unwrap_or_default(),
        rest_min: block.map(|b| b.rest_min).unwrap_or_default(),
        rest_max: block.map(|b| b.rest_max).unwrap_or_default(),
    }
}

/// The place of a group in the wait list, and for which block.
fn waits(state: &State, group: GroupId) -> Option<WaitPart> {
    let ask = state.line.iter().find(|ask| ask.group == group)?;
    Some(WaitPart { place: part::place(state, group)?, block: ask.block })
}

fn client(context: &Context<'_>, group: &GroupNow, hand: Option<&InHand<'_>>, id: ClientId) -> CoachClient {
    let now = group.clients.get(&id);
    let last = hand.and_then(|hand| last(hand, id));
    let turn = hand.and_then(|hand| Some(part::with_plates(hand, part::turn_of(hand, context, id)?)));
    let shown = hand.zip(turn.as_ref().map(|turn| turn.turn));
    CoachClient {
        client: id,
        name: part::client_name(context, id),
        attendance: part::attendance(group, id),
        warmed_up: now.is_some_and(|now| now.before.warmed_up.is_some()),
        briefed: now.is_some_and(|now| now.before.briefed.is_some()),
        screening_open: hand.is_some_and(|hand| screening::is_open(hand, id)),
        owed: hand.map_or(0, |hand| decide::owed(hand, id).saturating_sub(now.map_or(0, |now| now.extra))),
        halt: now.and_then(|now| part::halt_part(now.halt)),
        spots: now.map(|now| now.spots.keys().copied().collect()).unwrap_or_default(),
        exercise: shown.and_then(|(hand, turn)| hand.exercise(turn)).map(|exercise| exercise.id),
        in_place_of: shown.and_then(|(hand, turn)| part::in_place_of(hand, turn)),
        turn,
        last,
        proposals: Vec::new(),
        ribbon: Vec::new(),
    }
}

fn last(hand: &InHand<'_>, client: ClientId) -> Option<LastPart> {
    let (turn, record) = hand.last_done(client)?;
    let exercise = part::exercise_name(hand.state, record.exercise);
    let (reps, load) = (record.reps.now(), record.load.now());
    let (effort, ending) = (record.effort.now(), record.ending.now());
    Some(LastPart { turn, exercise, load, ended: record.ended, reps, effort, ending })
}

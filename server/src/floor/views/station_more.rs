//! What a station says beside whose set it is: until when it is free, who is on the way elsewhere, who does what, which
//! effort answers are open, and what comes after the last set.

use turnabout_protocol::card::LoadCard;
use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{ClientId, StationId, TurnId};
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{
    After, AskEffort, FinishedPart, FreePart, JobsPart, LeavingPart, LoadNextTime, Need, StationState,
    TurnPart, TurnPhase,
};

use super::{Context, part, sets};
use crate::floor::in_hand::InHand;
use crate::floor::next_time;
use crate::floor::promises;
use crate::floor::state::{ClientNow, SetRecord, State, StationNow};

/// Until when a station is for everyone: until the first of the groups without stations would begin here by what is
/// proposed to it first, or until the floor closes.
pub(super) fn free(
    state: &State,
    context: &Context<'_>,
    id: StationId,
    now: &StationNow,
) -> Option<FreePart> {
    if state.station_state(id, now) != StationState::Free {
        return None;
    }
    // Of each group only the best proposal, which stands first: the others are what a coach could do instead.
    let planned = context.plan.admissions.chunk_by(|one, next| one.group == next.group);
    let best = planned.filter_map(|of_group| of_group.first());
    let next = best.filter(|best| best.stations.contains(&id)).min_by_key(|best| best.from);
    let closes = part::closes(state);
    let plan = next.and_then(|next| {
        let client = state.programme.groups.get(&next.group)?.clients.first()?;
        Some((whole_minute(next.from), part::client_name(context, *client)))
    });
    match (plan, closes) {
        (Some((from, then)), closes) if closes.is_none_or(|closes| from < closes) => {
            Some(FreePart { until: Some(from), then: Some(then) })
        }
        (_, closes) => Some(FreePart { until: closes, then: None }),
    }
}

/// What is planned moves by seconds with every plan; a minute is told, and no frame is sent for less.
fn whole_minute(at: FloorMs) -> FloorMs {
    let minute = Secs(60).millis().0;
    FloorMs(at.0.div_euclid(minute) * minute)
}

/// Who has done a set here last and goes on elsewhere without a rest.
pub(super) fn leaving(hands: &[InHand<'_>], context: &Context<'_>, id: StationId) -> Option<LeavingPart> {
    let of = |hand: &InHand<'_>| {
        let client = |client: &ClientId| leaves(hand, context, id, *client);
        hand.plan.clients.iter().filter_map(client).max_by_key(|(since, _)| *since)
    };
    hands.iter().filter_map(of).max_by_key(|(since, _)| *since).map(|(_, part)| part)
}

fn leaves(
    hand: &InHand<'_>,
    context: &Context<'_>,
    id: StationId,
    client: ClientId,
) -> Option<(FloorMs, LeavingPart)> {
    hand.client(client).filter(|now| now.is_here() && now.current.is_none() && now.halt.is_none())?;
    let (_, record) = hand.last_done(client).filter(|(_, record)| record.station == id)?;
    let turn = hand.next(client)?;
    let After::Changeover { since, limit } = hand.coming(client)?.after else { return None };
    let (station, at) = hand.station_now(turn).filter(|_| hand.station(turn) != Some(record.station))?;
    let held_by = at.on.filter(|on| on.group == hand.id && on.client != client);
    Some((
        since,
        LeavingPart {
            client: part::client_name(context, client),
            to: station.name.clone(),
            exercise: hand.exercise(turn)?.name.clone(),
            limit,
            held_by: held_by.map(|on| part::client_name(context, on.client)),
        },
    ))
}

/// Who of the group does what for a coming set whose plates are to be changed. Only where somebody who rests has hands
/// free: else the lifter loads, and nothing is said.
pub(super) fn jobs(hand: &InHand<'_>, context: &Context<'_>, turn: &TurnPart) -> Option<JobsPart> {
    let TurnPhase::Coming { needs, .. } = &turn.phase else { return None };
    if !needs.contains(&Need::ConfirmLoad) || !turn.load.as_ref().is_some_and(is_to_be_changed) {
        return None;
    }
    let said = hand.client(turn.turn.client).and_then(|now| now.spotter.map(|at| at.who));
    let told = promises::of(hand.state, turn.turn).and_then(|told| told.spotter);
    let spotter = said.or(told).filter(|_| turn.spotted);
    let free = |client: &ClientId| {
        let now = hand.client(*client)?;
        let spots = spotter == Some(Spotter::Client { client: *client });
        let is_free = now.is_here() && now.current.is_none() && now.halt.is_none();
        let coming = hand.coming(*client);
        let walks = coming.is_some_and(|coming| matches!(coming.after, After::Changeover { .. }));
        (*client != turn.turn.client && is_free && !spots && !walks)
            .then(|| (coming.map_or(FloorMs(i64::MAX), |coming| coming.go), *client))
    };
    // Whoever has the most time; of equals the first of the group.
    let (_, loads) = hand
        .plan
        .clients
        .iter()
        .filter_map(free)
        .reduce(|best, one| if one.0 > best.0 { one } else { best })?;
    Some(JobsPart {
        spots: spotter.and_then(|who| part::spotter_name(context, who)),
        loads: part::client_name(context, loads),
    })
}

/// Whether plates come off or go on. A pin is set by whoever sits there.
fn is_to_be_changed(load: &LoadCard) -> bool {
    load.bar.as_ref().is_some_and(|bar| !bar.known || !bar.strip.is_empty() || !bar.add.is_empty())
}

/// The sets of the last round of one client, after the whole of it, whose efforts nobody has answered: of the client who
/// was the last to end such a round with a set at this station. Gone as soon as the client begins another set.
pub(super) fn open_efforts(hands: &[InHand<'_>], context: &Context<'_>, id: StationId) -> Vec<AskEffort> {
    let of = |hand: &InHand<'_>| {
        let client = |(client, now): (&ClientId, &ClientNow)| round_to_ask(hand, id, *client, now);
        hand.group.clients.iter().filter_map(client).max_by_key(|(ended, _)| *ended)
    };
    let latest = hands.iter().filter_map(|hand| of(hand).map(|(ended, turns)| (ended, turns, hand)));
    let Some((_, turns, hand)) = latest.max_by_key(|(ended, ..)| *ended) else { return Vec::new() };
    let ask = |turn: TurnId| {
        let next = hand.next(turn.client);
        let until = next.and_then(|next| promises::of(hand.state, next)).map(|told| told.start);
        Some(AskEffort {
            turn,
            client: part::client_name(context, turn.client),
            exercise: hand.exercise(turn)?.name.clone(),
            until: until.or_else(|| Some(hand.coming(turn.client)?.go)),
        })
    };
    turns.into_iter().filter_map(ask).collect()
}

/// The unanswered sets of a client's round that is over, and when it was.
fn round_to_ask(
    hand: &InHand<'_>,
    id: StationId,
    client: ClientId,
    now: &ClientNow,
) -> Option<(FloorMs, Vec<TurnId>)> {
    let (last, record) = hand.last_done(client)?;
    let walks = || hand.coming(client).is_some_and(|next| matches!(next.after, After::Changeover { .. }));
    if now.current.is_some() || last.round == 0 || walks() {
        return None;
    }
    let done = |leg: u8| {
        let turn = TurnId { leg, ..last };
        Some((turn, now.sets.get(hand.place(turn)?)?.done()?))
    };
    let round: Vec<(TurnId, &SetRecord)> = (0..=last.leg).filter_map(done).collect();
    if !round.iter().any(|(_, set)| set.station == id) {
        return None;
    }
    let open: Vec<TurnId> =
        round.iter().filter(|(_, set)| set.effort.now().is_none()).map(|(turn, _)| *turn).collect();
    (!open.is_empty()).then_some((record.ended, open))
}

/// What there is to say once the sets here are done.
pub(super) fn finished(
    hands: &[InHand<'_>],
    context: &Context<'_>,
    id: StationId,
    now: &StationNow,
) -> Option<FinishedPart> {
    let hand = hands.first()?;
    let state = hand.state;
    if state.station_state(id, now) != StationState::WipeDown {
        return None;
    }
    let working = |client: ClientId| -> Vec<&SetRecord> {
        let done = sets::done(state, hand.id, client).unwrap_or_default();
        done.into_iter().filter(|(turn, _)| turn.round > 0).map(|(_, record)| record).collect()
    };
    let was_here = |client: &&ClientId| working(**client).iter().any(|record| record.station == id);
    let clients: Vec<ClientId> = hand.plan.clients.iter().filter(was_here).copied().collect();
    let shown = |client: &&ClientId| state.programme.clients.get(client).is_some_and(|one| one.show_load);
    let unit = state.floor.stations.get(&id)?.gear.unit();
    let next_time = clients.iter().filter(shown).flat_map(|client| {
        let next = next_time::of(state, *client, &working(*client), state.recorded);
        let here = next.into_iter().filter(|next| next.station == id);
        here.map(|next| LoadNextTime {
            client: part::client_name(context, *client),
            exercise: part::exercise_name(state, next.exercise),
            load: next.proposal.set.load(),
            unit,
        })
        .collect::<Vec<_>>()
    });
    Some(FinishedPart {
        next_time: next_time.collect(),
        clients: clients.iter().map(|client| part::client_name(context, *client)).collect(),
    })
}

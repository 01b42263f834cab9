//! What a group's clients have done this evening, for sheets of paper: the client's copy, or the coach's.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, TurnId};
use turnabout_protocol::units::{Mass, MassUnit, Secs};
use turnabout_protocol::view::{ClientSummary, NextTimePart, RestPart, SummarySet, SummarySheet, VolumePart};

use super::{Context, notes, part, sets};
use crate::floor::config::{GroupPlan, Station};
use crate::floor::next_time::{self, NextTime};
use crate::floor::rests;
use crate::floor::state::{GroupNow, SetRecord, State};
use crate::loading::gear::Gear;
use crate::training::loads::Direction;
use crate::training::volume::{self, Moved};

/// Whose copy of a summary it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// It can be handed to the clients: nothing that was written for coaches.
    Clients,
    /// With the notes that concern the coach who asks.
    Coach,
}

/// The evening of a group; nothing for an unknown group. On neither copy is anything of a screening: paper lies about.
#[must_use]
pub fn sheet(
    state: &State,
    context: &Context<'_>,
    me: CoachId,
    group: GroupId,
    whose: Whose,
) -> Option<SummarySheet> {
    let (plan, now) = state.group(group)?;
    let client = |client: &ClientId| {
        let done = sets::done(state, group, *client)?;
        let notes = match whose {
            Whose::Clients => Vec::new(),
            Whose::Coach => notes::about(state, context, me, (group, *client)),
        };
        let name = part::client_name(context, *client);
        Some(ClientSummary { notes, ..summary(state, (plan, now), (*client, name), &done) })
    };
    Some(SummarySheet {
        floor: state.floor.name.clone(),
        group,
        coach: part::coach_name(context, now.coach),
        clients: plan.clients.iter().filter_map(client).collect(),
    })
}

fn summary(
    state: &State,
    (plan, now): (&GroupPlan, &GroupNow),
    (client, name): (ClientId, String),
    done: &[(TurnId, &SetRecord)],
) -> ClientSummary {
    let rests = rests::kept(plan, done);
    let set = |(turn, record): &(TurnId, &SetRecord)| {
        let rest = rests.get(turn).copied();
        set(state, (plan, now), (*turn, record), rest)
    };
    let working: Vec<&SetRecord> =
        done.iter().filter(|(turn, _)| turn.round > 0).map(|(_, record)| *record).collect();
    let next = next_time::of(state, client, &working, state.recorded);
    ClientSummary {
        client,
        name,
        sets: done.iter().map(set).collect(),
        volume: volume_part(state, plan, client, done),
        next: next.iter().filter_map(|next| next_part(state, next)).collect(),
        notes: Vec::new(),
    }
}

fn set(
    state: &State,
    (plan, now): (&GroupPlan, &GroupNow),
    (turn, record): (TurnId, &SetRecord),
    rest: Option<RestPart>,
) -> SummarySet {
    let station = state.floor.stations.get(&record.station);
    let moved = moved(state, plan, turn, record);
    SummarySet {
        turn,
        set: sets::set_name((plan, now), turn, record),
        exercise: part::exercise_name(state, record.exercise),
        station: station.map(|station| station.name.clone()),
        gear: station.map_or(GearKind::Plain, |station| station.gear.kind()),
        unit: unit(station),
        work: record.work,
        per_side: moved.per_side,
        started: state.clock.rfc3339(record.started),
        ended: state.clock.rfc3339(record.ended),
        reps: record.reps.now(),
        load: record.load.now(),
        effort: record.effort.now(),
        ending: record.ending.now(),
        rest,
        not_counted: moved.volume_load().err(),
    }
}

fn unit(station: Option<&Station>) -> MassUnit {
    station.map_or(MassUnit::Kg, |station| station.gear.unit())
}

fn moved(state: &State, plan: &GroupPlan, turn: TurnId, record: &SetRecord) -> Moved {
    let gear = state.floor.stations.get(&record.station).map(|station| &station.gear);
    let leg =
        plan.blocks.get(usize::from(turn.block)).and_then(|block| block.legs.get(usize::from(turn.leg)));
    Moved {
        light: turn.round == 0,
        load: record.load.now(),
        direction: gear.map_or(Direction::Resists, Gear::direction),
        pair: gear.is_some_and(|gear| gear.kind() == GearKind::Dumbbells),
        per_side: leg.is_some_and(|leg| leg.per_side),
        work: record.work,
        reps: record.reps.now(),
        ending: record.ending.now(),
    }
}

/// In the client's own unit, or else in that of the first set that counts.
fn volume_part(
    state: &State,
    plan: &GroupPlan,
    client: ClientId,
    done: &[(TurnId, &SetRecord)],
) -> VolumePart {
    let working = || done.iter().filter(|(turn, _)| turn.round > 0);
    let counts = working().filter_map(|(turn, record)| {
        let mass = moved(state, plan, *turn, record).volume_load().ok()?;
        Some((mass, unit(state.floor.stations.get(&record.station))))
    });
    let counts: Vec<(Mass, MassUnit)> = counts.collect();
    let own = state.programme.clients.get(&client).and_then(|client| client.unit);
    let unit = own.or(counts.first().map(|(_, unit)| *unit)).unwrap_or_default();
    let total = counts.iter().map(|(mass, _)| *mass).reduce(|sum, mass| sum + mass);
    let elapsed = volume::elapsed(working().map(|(_, record)| (record.started, record.ended)));
    let per_minute = total.zip(elapsed).and_then(|(total, elapsed)| volume::density(total, elapsed));
    let count = |count: usize| u16::try_from(count).unwrap_or(u16::MAX);
    VolumePart {
        load: total.map(|total| total.in_unit(unit)),
        per_minute: per_minute.map(|mass| mass.in_unit(unit)),
        unit,
        elapsed: elapsed.map(|elapsed| Secs(u32::try_from(elapsed.floor_secs()).unwrap_or_default())),
        counted: count(counts.len()),
        left_out: count(working().count() - counts.len()),
    }
}

fn next_part(state: &State, next: &NextTime) -> Option<NextTimePart> {
    let station = state.floor.stations.get(&next.station)?;
    Some(NextTimePart {
        exercise: part::exercise_name(state, next.exercise),
        station: station.name.clone(),
        gear: station.gear.kind(),
        unit: station.gear.unit(),
        proposal: next.proposal,
    })
}

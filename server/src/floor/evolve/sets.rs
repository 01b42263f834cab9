//! Sets: begun, ended, left out, done otherwise.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Effort, Ending, Reason};
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::Settled;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::work::Work;

use super::people::spotter_named;
use super::{client, edited, give_up_unused, hold, leg};
use crate::floor::in_hand::InHand;
use crate::floor::state::{
    Answer, AtBar, ClientNow, LegNow, SetOver, SetRecord, SettledLoad, Stamp, State, UnderWay,
};
use crate::training::loads::Direction;

pub(super) fn went(state: &mut State, under_way: UnderWay) {
    let turn = under_way.turn;
    let gear = state.floor.stations.get(&under_way.station).map(|s| s.gear.kind());
    let kept = state.settings.get(&turn.client).and_then(|kept| kept.get(&under_way.station));
    if let Some(station) = state.stations.get_mut(&under_way.station) {
        station.on = Some(turn);
        station.set_to.extend(kept.into_iter().flatten());
        // A pin is set, a pair taken and a belt hung by the one who trains; a bar only by confirmation.
        if matches!(gear, Some(GearKind::Stack | GearKind::Dumbbells | GearKind::Belt)) {
            station.load = under_way.load;
        }
    }
    if let Some(who) = under_way.spotter {
        spotter_named(state, turn, AtBar { who, lift_off: under_way.lift_off, said: under_way.went });
    }
    if let Some(client) = client(state, turn.group, turn.client) {
        client.current = Some(under_way);
        client.spotter = None;
        fresh(client);
    }
}

/// What was said of the way to a set is over with it.
fn fresh(client: &mut ClientNow) {
    client.put_off = None;
    client.rest_cut = None;
    client.as_rest = None;
    client.down = Millis::default();
}

pub(super) fn called_off(state: &mut State, turn: TurnId) {
    let Some(client) = client(state, turn.group, turn.client) else { return };
    let Some(current) = client.current.take() else { return };
    // Whoever spots is still at the bar.
    client.spotter = current.spotter.map(|who| AtBar { who, lift_off: current.lift_off, said: current.went });
    if let Some(station) = state.stations.get_mut(&current.station) {
        station.vacate();
    }
}

/// How a set ended.
#[derive(Clone, Copy)]
pub(super) struct End {
    pub at: FloorMs,
    pub reps: Option<u8>,
    pub effort: Option<Effort>,
    pub ending: Ending,
}

pub(super) fn done(state: &mut State, turn: TurnId, end: End, stamp: Stamp) {
    let hand = InHand::of(state, turn.group);
    let in_order = hand.is_none_or(|hand| !hand.is_again(turn));
    let exercise = hand.and_then(|hand| hand.exercise(turn)).map(|e| e.id);
    let work = hand.and_then(|hand| hand.work(turn));
    let ramp = hand.is_some_and(|hand| hand.is_ramp(turn));
    let Some(client) = client(state, turn.group, turn.client) else { return };
    let Some(current) = client.current.take() else { return };
    let record = SetRecord {
        exercise: exercise.unwrap_or(ExerciseId(0)),
        station: current.station,
        work: work.unwrap_or(Work::reps(current.reps)),
        started: current.starts,
        ended: end.at,
        reps: Answer::new(end.reps, stamp),
        load: Answer::new(current.load, stamp),
        effort: Answer::new(end.effort, stamp),
        ending: Answer::new(end.ending, stamp),
        spotter: current.spotter,
        short_rest: current.short_rest,
        put_off: current.put_off,
        ramp,
        done: stamp,
    };
    client.last = Some(current);
    if in_order {
        client.sets.push(SetOver::Done(Box::new(record)));
    } else {
        client.again.push((turn, record));
        if let Some(leg) = client.legs.get_mut(usize::from(turn.leg)) {
            if leg.again {
                leg.again = false;
            } else {
                leg.ramped = true;
            }
        }
    }
    // What was said of the coming set meanwhile, a longer rest or a shorter one, still holds.
    client.down = Millis::default();
    if let Some(station) = state.stations.get_mut(&current.station) {
        station.vacate();
    }
    settle(state, turn.group, turn.client);
}

/// A light set was seen, done or while it is done. One that is done once more is so until it is over.
pub(super) fn technique_passed(state: &mut State, turn: TurnId, stamp: Stamp) {
    let Some(client) = client(state, turn.group, turn.client) else { return };
    let under_way = client.current.is_some_and(|u| u.turn == turn);
    if let Some(leg) = client.legs.get_mut(usize::from(turn.leg)) {
        leg.passed = Some(stamp);
        leg.again &= under_way;
    }
}

/// A set that was said to be over goes on as if nobody had.
pub(super) fn reopened(state: &mut State, turn: TurnId) {
    let Some(group) = state.groups.get_mut(&turn.group) else { return };
    group.wipe_down = None;
    let Some(client) = group.clients.get_mut(&turn.client) else { return };
    let Some(current) = client.last.take() else { return };
    if client.again.last().is_some_and(|(last, record)| *last == turn && record.started == current.starts) {
        client.again.pop();
        if let Some(leg) = client.legs.get_mut(usize::from(turn.leg)) {
            if leg.ramped && current.load == leg.ramp {
                leg.ramped = false;
            } else {
                leg.again = true;
            }
        }
    } else {
        // Sets left out by themselves after it come back with it.
        while client.sets.pop().is_some_and(|set| set.done().is_none()) {}
    }
    client.current = Some(current);
    let gear = state.floor.stations.get(&current.station).map(|s| s.gear.kind());
    if let Some(station) = state.stations.get_mut(&current.station) {
        station.on = Some(turn);
        // A bar was confirmed when the set began; a pin never is.
        if gear == Some(GearKind::Bar) && current.load.is_some() {
            station.confirmed.get_or_insert(current.went);
        }
    }
}

pub(super) fn skipped(state: &mut State, turn: TurnId, count: u8, said: Stamp, reason: Reason) {
    not_that_one(state, turn);
    if is_ramp(state, turn) {
        if let Some(leg) = leg(state, turn) {
            leg.ramped = true;
        }
        return;
    }
    let place = InHand::of(state, turn.group).and_then(|hand| hand.place(turn)).unwrap_or_default();
    let end = place + usize::from(count);
    loop {
        // Sets of an exercise that is left out anyway count among them.
        settle(state, turn.group, turn.client);
        match client(state, turn.group, turn.client) {
            Some(client) if client.sets.len() < end => client.sets.push(SetOver::Skipped { said, reason }),
            Some(_) | None => return,
        }
    }
}

/// What was prepared for the coming set was for one that is left out.
pub(super) fn not_that_one(state: &mut State, turn: TurnId) {
    if let Some(client) = client(state, turn.group, turn.client) {
        client.spotter = None;
        fresh(client);
    }
}

pub(super) fn missed(state: &mut State, group: GroupId, id: ClientId, until: u8) {
    loop {
        settle(state, group, id);
        let next = InHand::of(state, group).and_then(|hand| hand.turn(id, hand.client(id)?.sets.len()));
        let Some(client) = client(state, group, id) else { return };
        if next.is_none_or(|turn| turn.round >= until) {
            client.late = false;
            return;
        }
        client.sets.push(SetOver::Missed);
    }
}

/// Sets of an exercise that is left out are over as soon as it is their turn.
pub(super) fn settle(state: &mut State, group: GroupId, id: ClientId) {
    loop {
        let next = InHand::of(state, group).and_then(|hand| {
            let now = hand.client(id).filter(|now| now.current.is_none())?;
            hand.turn(id, now.sets.len())
        });
        let Some(client) = client(state, group, id) else { return };
        let dropped = next.and_then(|turn| client.legs.get(usize::from(turn.leg))?.dropped);
        let Some((said, reason)) = dropped else { return };
        client.sets.push(SetOver::Skipped { said, reason });
    }
}

/// Another exercise instead.
#[derive(Clone, Copy)]
pub(super) struct Other {
    pub exercise: ExerciseId,
    pub station: Option<StationId>,
    pub load: Option<Load>,
    pub technique_load: Option<Load>,
}

pub(super) fn swapped(state: &mut State, (group, id): (GroupId, ClientId), place: u8, other: Other) {
    if let Some(station) = other.station {
        hold(state, group, station);
    }
    let coming = InHand::of(state, group).and_then(|hand| hand.next(id)).is_some_and(|t| t.leg == place);
    if let Some(client) = client(state, group, id) {
        let begun = client.sets.len() > usize::from(place);
        if coming {
            client.spotter = None;
        }
        if let Some(leg) = client.legs.get_mut(usize::from(place)) {
            leg.instead = Some(other.exercise);
            leg.elsewhere = other.station;
            leg.loads.fill(other.load);
            leg.technique_load = other.technique_load;
            leg.ramp = None;
            leg.first = None;
            leg.works.clear();
            leg.settled = None;
            leg.passed = None;
            leg.again = begun;
            leg.dropped = None;
        }
    }
    give_up_unused(state, group);
    edited(state, group);
}

/// From a set on nothing is harder than this.
pub(super) fn lightened(state: &mut State, turn: TurnId, load: Load) {
    let ramp = is_ramp(state, turn);
    let at = InHand::of(state, turn.group).and_then(|hand| hand.station(turn));
    let direction = at.and_then(|at| state.floor.stations.get(&at)).map(|station| station.gear.direction());
    let harder = |later: Load| match direction.unwrap_or_default() {
        Direction::Resists => later > load,
        Direction::Assists => later < load,
    };
    if let Some(leg) = leg(state, turn) {
        if turn.round == 0 {
            light_set(leg, ramp, load);
        } else {
            let from = usize::from(turn.round - 1).min(leg.loads.len().saturating_sub(1));
            for later in leg.loads.iter_mut().skip(from) {
                *later = later.map(|later| if harder(later) { load } else { later });
            }
        }
    }
    edited(state, turn.group);
}

fn is_ramp(state: &State, turn: TurnId) -> bool {
    InHand::of(state, turn.group).is_some_and(|hand| hand.is_ramp(turn))
}

/// Another load of the light set that comes next.
const fn light_set(leg: &mut LegNow, ramp: bool, load: Load) {
    if ramp {
        leg.ramp = Some(load);
    } else {
        leg.technique_load = Some(load);
    }
}

/// From a set on this load, in every round that was to be as heavy as it.
pub(super) fn load_set(state: &mut State, turn: TurnId, load: Load) {
    let ramp = is_ramp(state, turn);
    if let Some(leg) = leg(state, turn) {
        if turn.round == 0 {
            light_set(leg, ramp, load);
        } else {
            let from = usize::from(turn.round - 1).min(leg.loads.len().saturating_sub(1));
            let was = leg.loads.get(from).copied().flatten();
            for later in leg.loads.iter_mut().skip(from).filter(|later| **later == was) {
                *later = Some(load);
            }
        }
    }
    edited(state, turn.group);
}

/// What a coach made of a proposal: the load from that set on, and what is done with it, in every round that was to
/// be the same.
pub(super) fn load_settled(state: &mut State, turn: TurnId, settled: Settled, said: Stamp) {
    let Some(hand) = InHand::of(state, turn.group) else { return };
    let asked = |round| hand.work(TurnId { round, ..turn });
    let was = asked(turn.round);
    let first = hand.leg_now(turn).and_then(|leg| leg.settled).filter(|first| first.round == turn.round);
    let before = first.map(|first| first.before).or(was).unwrap_or(settled.work);
    let like: Vec<u8> = (turn.round..=hand.rounds()).filter(|round| asked(*round) == was).collect();
    load_set(state, turn, settled.set.load());
    let Some(leg) = leg(state, turn) else { return };
    leg.works.extend(like.into_iter().map(|round| (round, settled.work)));
    leg.settled = Some(SettledLoad { round: turn.round, settled, before, said });
}

/// The record of a set, of the block in hand or of an earlier one.
pub(super) fn record(state: &mut State, turn: TurnId) -> Option<&mut SetRecord> {
    let in_hand = InHand::of(state, turn.group).and_then(|hand| hand.place(turn));
    let group = state.groups.get_mut(&turn.group)?;
    let (sets, again, place) = if turn.block == group.block {
        let client = group.clients.get_mut(&turn.client)?;
        (&mut client.sets, &mut client.again, in_hand?)
    } else {
        let past = group.past.iter_mut().find(|past| past.block == turn.block)?;
        let place = past.place(turn)?;
        let client = past.clients.get_mut(&turn.client)?;
        (&mut client.sets, &mut client.again, place)
    };
    let beside = again.iter_mut().rev().find(|(id, _)| *id == turn).map(|(_, record)| record);
    beside.or_else(|| sets.get_mut(place).and_then(SetOver::done_mut))
}

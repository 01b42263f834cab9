//! The sets of the evening that a client has done, for a coach who corrects one of them.

use turnabout_protocol::ids::{ClientId, GroupId, TurnId};
use turnabout_protocol::units::MassUnit;
use turnabout_protocol::view::{SaidPart, SetName, SetPart, SetsPart};

use super::part;
use crate::floor::config::GroupPlan;
use crate::floor::in_hand::InHand;
use crate::floor::state::{GroupNow, PastBlock, Said, SetOver, SetRecord, State};

/// What a client has done this evening, the latest first; nothing where the group has no such client. Sets left
/// out or missed are not among it: there is nothing to correct. Of a light set that was done more than once the
/// last is, as that is the one that a correction reaches.
#[must_use]
pub fn sets(state: &State, group: GroupId, client: ClientId) -> Option<SetsPart> {
    let (plan, now) = state.group(group)?;
    let in_hand = in_hand(state, now, group, client)?;
    let past = now.past.iter().flat_map(|past| of_past(past, group, client));
    let part = |turn: TurnId| Some(set_part(state, (plan, now), turn, state.record(turn)?));
    let mut sets: Vec<SetPart> = past.chain(in_hand).filter_map(part).collect();
    sets.sort_by_key(|set| std::cmp::Reverse((set.ended, set.turn)));
    Some(SetsPart { sets })
}

/// The sets of the block in hand; nothing for an unknown client.
fn in_hand(state: &State, now: &GroupNow, group: GroupId, client: ClientId) -> Option<Vec<TurnId>> {
    let sets = &now.clients.get(&client)?.sets;
    let turns = |hand: InHand<'_>| {
        let turn = |(place, set): (usize, &SetOver)| set.done().and_then(|_| hand.turn(client, place));
        sets.iter().enumerate().filter_map(turn).collect()
    };
    Some(InHand::of(state, group).map(turns).unwrap_or_default())
}

fn of_past(past: &PastBlock, group: GroupId, client: ClientId) -> impl Iterator<Item = TurnId> {
    let sets = past.clients.get(&client).map(|client| client.sets.as_slice()).unwrap_or_default();
    let done = sets.iter().enumerate().filter(|(_, set)| set.done().is_some());
    done.filter_map(move |(place, _)| past.turn(group, client, place))
}

fn set_part(
    state: &State,
    (plan, now): (&GroupPlan, &GroupNow),
    turn: TurnId,
    record: &SetRecord,
) -> SetPart {
    let station = state.floor.stations.get(&record.station);
    SetPart {
        turn,
        set: match turn.round {
            0 => SetName::Technique,
            n => SetName::Working { n, of: now.rounds_of(plan, turn.block).max(n) },
        },
        exercise: part::exercise_name(state, record.exercise),
        station: station.map(|station| station.name.clone()),
        unit: station.map_or(MassUnit::Kg, |station| station.gear.unit()),
        ended: record.ended,
        said: said(&record.said),
        first: record.first.as_ref().map(said),
    }
}

const fn said(said: &Said) -> SaidPart {
    let Said { reps, load, effort, ending, stamp } = *said;
    SaidPart { reps, load, effort, ending, by: stamp.by, at: stamp.when }
}

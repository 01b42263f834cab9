//! What would be proposed for a client's exercises the next time, from what was done this evening.

use turnabout_protocol::ids::{ClientId, ExerciseId, StationId};
use turnabout_protocol::next::Proposal;
use turnabout_protocol::units::FloorMs;

use super::gear_now;
use super::history;
use super::state::{SetRecord, State};
use crate::loading::gear::Ladder;
use crate::training::rule::LoadRule;
use crate::training::scale::Footing;
use crate::training::session::History;

/// What would be proposed for an exercise at a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NextTime {
    /// The exercise.
    pub exercise: ExerciseId,
    /// The station: loads compare nowhere else.
    pub station: StationId,
    /// The load, the work of the last set, and why.
    pub proposal: Proposal,
}

/// For each exercise at each station where the client did working sets this evening, in the order of the last ones,
/// what the rule "as last time" would propose if the client came again within the floor's usual time, with the gear as
/// the floor's file says: plates that are missing tonight may be back. Nothing where a set had no load, the gear ended
/// the last one, or the rule leads to nothing.
///
/// `working` are the client's working sets of the evening, the earliest first.
#[must_use]
pub fn of(state: &State, client: ClientId, working: &[&SetRecord], now: FloorMs) -> Vec<NextTime> {
    let mut places: Vec<(StationId, ExerciseId)> = Vec::new();
    for record in working {
        let place = (record.station, record.exercise);
        places.retain(|other| *other != place);
        places.push(place);
    }
    places.into_iter().filter_map(|place| at(state, client, place, working, now)).collect()
}

fn at(
    state: &State,
    client: ClientId,
    (station, exercise): (StationId, ExerciseId),
    working: &[&SetRecord],
    now: FloorMs,
) -> Option<NextTime> {
    let here = working.iter().filter(|set| (set.station, set.exercise) == (station, exercise));
    let last = here.rev().find_map(|set| history::last_set(set))?;
    let before = history::last_times(state, client, station, exercise, now).map(|history| history.last);
    let gear = gear_now::as_planned(&state.floor, station, exercise)?;
    let ladder = Ladder::of(gear.as_ref());
    let scale = ladder.scale();
    if !scale.is_of(last.load) {
        return None;
    }
    let one_rm = state.programme.clients.get(&client)?.max.get(&exercise).copied();
    let footing = Footing { scale, policy: &state.floor.policy.loads, one_rm };
    let lately = History { last, before, days: 0 };
    let proposal = footing.first(LoadRule::AsLastTime, last.goal, Some(&lately)).ok()?;
    Some(NextTime { exercise, station, proposal })
}

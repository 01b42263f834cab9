//! Coaches as the planner sees them: when they are free, where they are, and when they cannot spot.

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{CoachId, StationId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Secs};

use super::axis::{Axis, HORIZON, merged};
use super::ground::Ground;
use super::length;
use super::who::Places;
use crate::floor::in_hand::InHand;
use crate::floor::state::{State, UnderWay};
use crate::timetable::instance::{Coach, Window};

/// Nobody knows how long a call for help takes; so long is planned, again and again. No source.
pub(super) const CALL: Secs = Secs(120);

/// The coaches, by position.
pub(super) fn coaches(ground: Ground<'_>, places: &Places) -> Vec<Coach> {
    let Ground { state, now, axis, .. } = ground;
    let made = |id: &CoachId| {
        let occupied = state.under_way().filter_map(|set| until(ground, set, *id));
        let (free_at, station) = occupied.max().map_or((now, None), |(free, station)| (free, Some(station)));
        let at = station.or_else(|| at_bar(state, *id));
        Coach {
            free_at: axis.up(free_at),
            at: at.and_then(|station| places.station(station)),
            busy: busy(state, *id, now, axis),
        }
    };
    places.coaches.iter().map(made).collect()
}

/// Until when a set under way keeps a coach, and where: one that is spotted, or a light one that is watched.
fn until(ground: Ground<'_>, set: &UnderWay, coach: CoachId) -> Option<(FloorMs, StationId)> {
    let Ground { state, now, .. } = ground;
    let over = length::over(ground, set);
    let spots = set.spotter == Some(Spotter::Coach { coach });
    let group = state.groups.get(&set.turn.group)?;
    let hand = InHand::of(state, set.turn.group)?;
    let watches = set.turn.round == 0 && group.coach == coach && !hand.technique_passed(set.turn);
    let free = match (spots, watches) {
        (true, false) if set.lift_off => set.starts.max(now),
        (_, true) | (true, false) => over,
        (false, false) => return None,
    };
    Some((free, set.station))
}

/// The station at which a coach stands for a set that has not begun.
fn at_bar(state: &State, coach: CoachId) -> Option<StationId> {
    let hands = state.groups.keys().filter_map(|id| InHand::of(state, *id));
    let mut stands = hands.flat_map(|hand| {
        let here =
            hand.group.clients.iter().filter(move |(_, client)| {
                client.spotter.is_some_and(|at| at.who == Spotter::Coach { coach })
            });
        here.filter_map(move |(client, _)| hand.station(hand.next(*client)?))
    });
    stands.next()
}

/// When a coach cannot spot: away, gone to a call, before the shift and after it. Whoever is still there when the shift
/// is over is there: somebody has to be, until the groups are handed over.
fn busy(state: &State, id: CoachId, now: FloorMs, axis: Axis) -> Vec<Window> {
    let mut windows = Vec::new();
    if let Some(away) = state.coaches.get(&id).and_then(|coach| coach.away) {
        windows.extend(axis.window(now, away.until.max(now)));
    }
    if state.on_call(Actor::Coach { coach: id }).is_some() {
        windows.extend(axis.window(now, now + CALL));
    }
    if let Some(shift) = state.floor.coaches.get(&id).and_then(|coach| coach.shift) {
        let at = |minute| state.clock.today_at(now, minute);
        let (from, to, last) = (at(shift.from), at(shift.to), now + HORIZON);
        windows.extend(axis.window(now, from.min(last)).filter(|_| from > now));
        windows.extend(axis.window(to, last).filter(|_| to > now));
    }
    merged(windows)
}

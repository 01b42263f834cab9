//! Who may have which station, and who is responsible for whom, said once more.

use turnabout_protocol::ids::{CoachId, GroupId, StationId};
use turnabout_protocol::role::Actor;
use turnabout_server::floor::config::Sharing;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::{Claim, GroupNow, State, UnderWay};

use crate::clock::NOW;

/// Whether a group that has no turns at a station may get them: it is fit for use, and free, or shared with
/// one other group at most, who agrees where it has to.
pub(crate) fn may_have(before: &State, group: GroupId, station: StationId) -> bool {
    let now = &before.stations[&station];
    let fit = now.out.is_none() && now.other_use.is_none();
    let shared = match before.floor.stations[&station].sharing {
        Sharing::Open => true,
        Sharing::Ask => now.leave.is_some_and(|leave| leave.group == group),
        Sharing::Never => false,
    };
    fit && (now.claim.is_none() || (shared && now.work_in.is_none() && now.claim != Some(group)))
}

/// Whether a group has turns at a station.
pub(crate) fn has(state: &State, group: GroupId, station: StationId) -> bool {
    let now = &state.stations[&station];
    [now.claim, now.work_in].contains(&Some(group))
}

/// Whether every group has just the stations that it says it has, one for every exercise of its block and, got
/// ahead, of the next; and no station has two groups that is not shared.
pub(crate) fn are_whole(state: &State) -> bool {
    let shared = |(id, now): (&StationId, &turnabout_server::floor::state::StationNow)| {
        now.work_in.is_none()
            || (now.claim.is_some()
                && now.claim != now.work_in
                && state.floor.stations[id].sharing != Sharing::Never)
    };
    state.stations.iter().all(shared) && state.groups.iter().all(|(id, group)| is_whole(state, *id, group))
}

fn is_whole(state: &State, id: GroupId, group: &GroupNow) -> bool {
    let legs = |ahead: u8| {
        let block =
            InHand::of(state, id).and_then(|hand| hand.plan.blocks.get(usize::from(group.block + ahead)));
        block.map_or(0, |block| block.legs.len())
    };
    let all =
        |claim: &Option<Claim>, ahead| claim.as_ref().is_none_or(|claim| claim.stations.len() == legs(ahead));
    let mut said: Vec<StationId> =
        [&group.claim, &group.ahead].into_iter().flatten().flat_map(|claim| claim.stations.clone()).collect();
    said.sort_unstable();
    said.dedup();
    let held: Vec<StationId> =
        state.stations.keys().copied().filter(|station| has(state, id, *station)).collect();
    all(&group.claim, 0) && all(&group.ahead, 1) && held == said
}

/// Whether a group may go over to another coach: in no spotted set, to one who is there, and by whoever was
/// asked, or taken over from one who is not there.
pub(crate) fn may_change_hands(before: &State, id: GroupId, to: CoachId, by: Actor) -> bool {
    let group = &before.groups[&id];
    let lifts = before.under_way().any(|set| set.turn.group == id && set.spotter.is_some());
    let asked = group.offer.is_some_and(|offer| offer.to == to && by == (Actor::Coach { coach: offer.asks }));
    let taken_over = by == (Actor::Coach { coach: to }) && is_away(before, group.coach);
    !lifts && !is_away(before, to) && (asked || taken_over)
}

pub(crate) fn is_away(state: &State, coach: CoachId) -> bool {
    state.coaches[&coach].away.is_some()
}

/// Whether a set binds its spotter now. One who was to be there for the lift-off alone is free from the first
/// repetition on.
pub(crate) fn binds(set: &UnderWay) -> bool {
    !(set.lift_off && set.starts <= NOW)
}

//! The wait list by its promise, tried out: every way in which stations may become free later, and every way
//! of giving them out. A floor of four stations has few of either.

use turnabout_protocol::command::CallKind;
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_server::floor::state::State;

use crate::claims;

/// The stations that suit each exercise of a group's block.
type Wants = Vec<Vec<StationId>>;

/// Whether anybody can have a station for themselves.
pub(crate) fn is_free(state: &State, station: StationId) -> bool {
    let now = &state.stations[&station];
    let help = state.calls.values().any(|c| c.station == station && c.kind == CallKind::HelpNow);
    now.claim.is_none() && now.other_use.is_none() && now.out.is_none() && !help
}

/// Whether some earlier groups together are worse off in some future if this one has these stations that it does
/// not have. Any of them together: the others may have been served by then, and be done.
pub(crate) fn harms_earlier(state: &State, group: GroupId, stations: &[StationId]) -> bool {
    let earlier = state.line.iter().take_while(|ask| ask.group != group);
    let earlier: Vec<Wants> = earlier.map(|ask| wants(state, ask.group, ask.block)).collect();
    let all: Vec<StationId> = state.stations.keys().copied().collect();
    let (free, taken): (Vec<_>, Vec<_>) = all.into_iter().partition(|station| is_free(state, *station));
    some_of(&earlier).any(|waiting| {
        let wanted: Vec<&[StationId]> = waiting.iter().flatten().map(Vec::as_slice).collect();
        some_of(&taken).any(|later| {
            let without: Vec<_> = [free.as_slice(), &later].concat();
            let with: Vec<_> = without.iter().copied().filter(|s| !stations.contains(s)).collect();
            serves(&wanted, &without) && !serves(&wanted, &with)
        })
    })
}

/// Whether somebody in line could have stations now and would harm nobody.
pub(crate) fn somebody_waits_in_vain(state: &State) -> bool {
    state.line.iter().any(|ask| {
        let wants = wants(state, ask.group, ask.block);
        // Who asks for the next block may keep the stations of the one in hand, where they are fit for use.
        let has = |station: &StationId| claims::has(state, ask.group, *station);
        let fit = |station: &StationId| {
            let now = &state.stations[station];
            now.out.is_none() && now.other_use.is_none()
        };
        let could = |station: &StationId| is_free(state, *station) || (has(station) && fit(station));
        let could: Vec<StationId> = state.stations.keys().copied().filter(could).collect();
        let harmless = |stations: &Vec<StationId>| {
            let more: Vec<StationId> = stations.iter().copied().filter(|station| !has(station)).collect();
            !harms_earlier(state, ask.group, &more)
        };
        ways(&wants, &could).iter().any(harmless)
    })
}

fn wants(state: &State, group: GroupId, block: u8) -> Wants {
    let legs = &state.programme.groups[&group].blocks[usize::from(block)].legs;
    legs.iter().map(|leg| state.floor.exercises[&leg.exercise].stations.iter().copied().collect()).collect()
}

/// Every choice out of these, from none to all.
fn some_of<T: Clone>(all: &[T]) -> impl Iterator<Item = Vec<T>> {
    (0_u32..1 << all.len()).map(|set| {
        let chosen = all.iter().enumerate().filter(|(place, _)| set & (1 << place) != 0);
        chosen.map(|(_, one)| one.clone()).collect()
    })
}

/// Every way of giving each exercise a station of its own.
fn ways(wants: &Wants, stations: &[StationId]) -> Vec<Vec<StationId>> {
    wants.iter().fold(vec![Vec::new()], |ways, suited| {
        let with = |way: &Vec<StationId>| {
            let more = suited.iter().filter(|s| stations.contains(s) && !way.contains(s));
            more.map(|station| [way.as_slice(), &[*station]].concat()).collect::<Vec<_>>()
        };
        ways.iter().flat_map(with).collect()
    })
}

fn serves(wanted: &[&[StationId]], stations: &[StationId]) -> bool {
    let Some((first, others)) = wanted.split_first() else { return true };
    first.iter().filter(|station| stations.contains(station)).any(|station| {
        let left: Vec<_> = stations.iter().copied().filter(|other| other != station).collect();
        serves(others, &left)
    })
}

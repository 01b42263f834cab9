//! How a group could come to stations: the state's side of it.

use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;

use super::carries::carries;
use super::limits::TIMED;
use crate::floor::admission::{allows, may_hold};
use crate::floor::decide::suited;
use crate::floor::in_hand::InHand;
use crate::floor::outlook::{Outlook, stations};
use crate::floor::state::StationNow;

/// A station for each exercise, and how the group would come to them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Way {
    /// One for each exercise.
    pub(super) stations: Vec<StationId>,
    /// With whom it would take turns.
    pub(super) works_in: Option<GroupId>,
    /// The stations that have to come free first, each with a group that has it.
    pub(super) after: Vec<(StationId, GroupId)>,
    /// Whether some station cannot be had now.
    pub(super) later: bool,
}

/// How one station could be had.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Entry {
    /// It is free.
    Free,
    /// Another group has it and shares it.
    Shared(GroupId),
    /// It has to come free.
    Later,
}

/// The ways of a group, at most [`TIMED`]; those that need nobody to go first come first.
pub(super) fn ways(hand: &InHand<'_>, now: FloorMs, outlook: &Outlook) -> Vec<Way> {
    let runs = runs(hand);
    let each = each(runs.len());
    let mut ways = vec![Way::default()];
    let mut run = 0;
    for (place, leg) in hand.block.legs.iter().enumerate() {
        if place > 0 && leg.in_place {
            for way in &mut ways {
                way.stations.extend(way.stations.last().copied());
            }
            continue;
        }
        let entries = runs.get(run).map_or(&[][..], |entries| entries.get(..each).unwrap_or(entries));
        run += 1;
        ways = ways.iter().flat_map(|way| entries.iter().filter_map(|entry| way.and(hand, *entry))).collect();
    }
    ways.retain(|way| {
        let allowed = || way.later || allows(hand.state, hand.id, hand.block, &way.stations, now).is_ok();
        allowed() && way.works_in.is_none_or(|with| carries(outlook, hand.id, with, &way.stations))
    });
    ways.sort_by_key(|way| (way.later, way.works_in));
    ways.truncate(TIMED);
    ways
}

impl Way {
    /// The same with one station more, where that goes: none twice, and turns taken with one group at most.
    fn and(&self, hand: &InHand<'_>, (station, entry): (StationId, Entry)) -> Option<Self> {
        if self.stations.contains(&station) {
            return None;
        }
        let mut way = self.clone();
        way.stations.push(station);
        match entry {
            Entry::Free => {}
            Entry::Shared(with) => {
                if way.works_in.is_some_and(|other| other != with) {
                    return None;
                }
                way.works_in = Some(with);
            }
            Entry::Later => {
                way.later = true;
                let groups = hand.state.stations.get(&station).into_iter().flat_map(StationNow::groups);
                way.after.extend(groups.map(|group| (station, group)));
            }
        }
        // Who waits for a station of a group has nobody to take turns with by then.
        let waited = |with: &GroupId| way.after.iter().any(|(_, group)| group == with);
        (!way.works_in.as_ref().is_some_and(waited)).then_some(way)
    }
}

/// How many stations of each exercise are combined, so that no more than [`TIMED`] ways or little more come of it.
const fn each(runs: usize) -> usize {
    match runs {
        0 | 1 => TIMED,
        2 => 8,
        3 => 4,
        _ => 2,
    }
}

/// For each exercise that needs a station of its own how it could be had, the soonest first.
fn runs(hand: &InHand<'_>) -> Vec<Vec<(StationId, Entry)>> {
    let mut runs: Vec<Vec<StationId>> = Vec::new();
    for leg in &hand.block.legs {
        let suited: Vec<StationId> = suited(hand.state, leg).collect();
        match runs.last_mut().filter(|_| leg.in_place) {
            Some(run) => run.retain(|station| suited.contains(station)),
            None => runs.push(suited),
        }
    }
    let entries = |run: Vec<StationId>| {
        let mut entries: Vec<(StationId, Entry)> = run
            .into_iter()
            .flat_map(|id| entries(hand, id).into_iter().map(move |entry| (id, entry)))
            .collect();
        entries.sort_by_key(|(id, entry)| (*entry, *id));
        entries
    };
    runs.into_iter().map(entries).collect()
}

/// How a station could be had; in no way where nobody knows when it can be.
fn entries(hand: &InHand<'_>, station: StationId) -> Vec<Entry> {
    if stations::is_barred(hand.state, station) {
        return Vec::new();
    }
    let claim = hand.state.stations.get(&station).and_then(|now| now.claim);
    match (may_hold(hand.state, hand.id, station), claim.filter(|holder| *holder != hand.id)) {
        (Ok(()), None) => vec![Entry::Free],
        (Ok(()), Some(holder)) => vec![Entry::Shared(holder), Entry::Later],
        (Err(Refusal::UnknownStation | Refusal::NotInService { .. }), _) => Vec::new(),
        (Err(_), _) => vec![Entry::Later],
    }
}

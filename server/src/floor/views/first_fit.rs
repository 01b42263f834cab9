//! The stations that are proposed to a group that waits.

use std::collections::BTreeSet;

use turnabout_protocol::ids::StationId;

use crate::floor::decide::suited;
use crate::floor::in_hand::InHand;

/// For each exercise the first station that is free and suits, no station twice; nothing if there are not
/// enough. An exercise that can be done in several places gives way to one that cannot.
pub(super) fn first_fit(hand: &InHand<'_>) -> Option<Vec<StationId>> {
    let free = |id: &StationId| hand.state.stations.get(id).is_some_and(|now| now.claim.is_none());
    let legs = hand.block.legs.iter();
    let suited: Vec<Vec<_>> = legs.map(|leg| suited(hand.state, leg).filter(free).collect()).collect();
    let mut chosen = vec![None; suited.len()];
    let found = (0..suited.len()).all(|leg| find(&suited, leg, &mut chosen, &mut BTreeSet::new()));
    if found { chosen.into_iter().collect() } else { None }
}

/// Finds a station for one exercise: one that no other has, or else one whose exercise finds another.
/// `asked` are the stations that were tried already, so that it ends.
fn find(
    suited: &[Vec<StationId>],
    leg: usize,
    chosen: &mut [Option<StationId>],
    asked: &mut BTreeSet<StationId>,
) -> bool {
    let stations = suited.get(leg).map(Vec::as_slice).unwrap_or_default();
    let mut found = stations.iter().copied().find(|station| !chosen.contains(&Some(*station)));
    if found.is_none() {
        found = stations.iter().copied().find(|station| {
            let other = chosen.iter().position(|chosen| *chosen == Some(*station));
            asked.insert(*station) && other.is_some_and(|other| find(suited, other, chosen, asked))
        });
    }
    if let Some(place) = chosen.get_mut(leg).filter(|_| found.is_some()) {
        *place = found;
    }
    found.is_some()
}

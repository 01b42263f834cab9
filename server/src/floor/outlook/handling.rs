//! How long hands take to set a load.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::Secs;

use super::cuts::{Cuts, kind};
use super::prices;
use crate::floor::in_hand::InHand;
use crate::timetable::instance::{Load, StationKind};

/// How long it takes to set the load of a coming set from what is at its station now, as a plan takes it to.
pub(in crate::floor) fn change(hand: &InHand<'_>, turn: TurnId, cuts: &mut Cuts) -> Secs {
    let gear = || Some(&hand.state.floor.stations.get(&hand.station(turn)?)?.gear);
    let Some((station, gear)) = hand.station(turn).zip(gear()) else { return Secs(0) };
    let to = hand.load(turn).and_then(|load| cuts.wanted(hand.state, station, hand.starts(turn), load));
    let on = cuts.on(hand.state, station);
    takes((prices::PLATE, prices::COLLAR, prices::PIN), kind(gear), on.as_ref(), to.as_ref())
}

/// How long it takes from one load to another, where a plate, the collars and a pin take so long; an unknown bar counts
/// as empty.
pub(super) fn takes(
    (plate, collar, pin): (Secs, Secs, Secs),
    kind: StationKind,
    on: Option<&Load>,
    to: Option<&Load>,
) -> Secs {
    let Some(to) = to else { return Secs(0) };
    match (kind, to) {
        (StationKind::Bar, Load::Plates(to)) => {
            let on: &[u32] = match on {
                Some(Load::Plates(on)) => on,
                Some(Load::Label(_)) | None => &[],
            };
            let common = on.iter().zip(to).take_while(|(a, b)| a == b).count();
            let moved = u32::try_from(on.len() + to.len() - 2 * common).unwrap_or(u32::MAX);
            if moved == 0 { Secs(0) } else { Secs(collar.0 + plate.0.saturating_mul(moved)) }
        }
        (StationKind::Stack, Load::Label(_)) if on != Some(to) => pin,
        (StationKind::Bar | StationKind::Stack | StationKind::Plain, _) => Secs(0),
    }
}

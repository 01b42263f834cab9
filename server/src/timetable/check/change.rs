//! What it takes to change the load of a station.

use super::super::instance::{Instance, Load, StationKind};
use super::slots::secs;

/// What a change of load takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Change {
    /// Seconds.
    pub secs: i64,
    /// Plates or pins moved, on both sides.
    pub pieces: i64,
}

/// From what is on a station to what is wanted there. A wanted load of nothing leaves it as it is.
#[must_use]
pub fn change(instance: &Instance, station: usize, from: Option<&Load>, to: Option<&Load>) -> Change {
    let Some(to) = to else { return Change::default() };
    match instance.stations[station].kind {
        StationKind::Plain => Change::default(),
        StationKind::Stack if from == Some(to) => Change::default(),
        StationKind::Stack => Change { secs: secs(instance.pin), pieces: 1 },
        StationKind::Bar => match differing(plates(from), plates(Some(to))) {
            0 => Change::default(),
            plates => {
                Change { secs: secs(instance.collar) + plates * secs(instance.plate), pieces: 2 * plates }
            }
        },
    }
}

/// The plates of one side; a bar of which nothing is known counts as empty.
fn plates(load: Option<&Load>) -> &[u32] {
    match load {
        Some(Load::Plates(plates)) => plates,
        Some(Load::Label(_)) | None => &[],
    }
}

/// The plates of one side outside the common inner part.
fn differing(from: &[u32], to: &[u32]) -> i64 {
    let common = from.iter().zip(to).take_while(|(on, wanted)| on == wanted).count();
    i64::try_from(from.len() + to.len() - 2 * common).unwrap_or(i64::MAX)
}

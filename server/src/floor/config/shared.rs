//! Gear that several stations share.

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::MassUnit;

use crate::loading::gear::{Pairs, Plates};

/// A tree of plates that the bars of several stations are loaded from. What is on one of them is not free for the
/// others.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Tree {
    /// Its name on displays.
    pub name: String,
    /// The unit that all of its plates are stamped in.
    pub unit: MassUnit,
    /// Its plates, the heaviest first, no mass twice in the same diameter. The bar of each of its stations names
    /// them too, so that a station's gear alone tells which loads can ever be put on there.
    pub plates: Vec<Plates>,
}

/// A rack of dumbbells that several stations share. A pair that is out at one of them is not free at the others.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Rack {
    /// Its name on displays.
    pub name: String,
    /// The unit that all of them are stamped in.
    pub unit: MassUnit,
    /// Its pairs in ascending order, no mass twice. Each of its stations names them too, as with a tree.
    pub pairs: Vec<Pairs>,
}

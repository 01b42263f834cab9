//! How to set a load.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::load::Load;
use crate::units::{Mass, MassUnit, Secs};

/// What kind of gear sets the load at a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum GearKind {
    /// A bar with plates and collars.
    Bar,
    /// A stack with a pin.
    Stack,
    /// Dumbbells that are taken from a rack in pairs.
    Dumbbells,
    /// Plates that hang on a belt: body mass with added load.
    Belt,
    /// Nothing to set: body mass, a mat.
    Plain,
}

/// The load of one set, and whether it still has to be put on.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadCard {
    /// The whole of it: bar, collars and plates of both sides, or the label at the pin, which may be a mere
    /// number, or one dumbbell of the pair, or what hangs on the belt, which may be nothing.
    pub total: Load,
    /// The unit in which plates and pins are stamped; of numbered pins it says nothing.
    pub unit: MassUnit,
    /// What it is set on.
    pub gear: GearKind,
    /// What is on the gear now; absent where nobody has said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on_now: Option<Load>,
    /// Whether load, equal sides and collars were confirmed for this load since the last change.
    pub confirmed: bool,
    /// Which plates make it and what to change; absent for other gear, and where the plates do not make it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bar: Option<BarPart>,
    /// It cannot be set now: the plates that are free do not make it, or the pair is out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unbuilt: Option<UnbuiltPart>,
    /// The plates that hang on the belt, the heaviest first; none for body mass alone. Absent for other gear.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub belt: Option<Vec<Mass>>,
    /// The name of the rack that the pair comes from, where stations share it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rack: Option<String>,
    /// Where the pin goes and what reaches the hand; absent for other gear, and where its labels do not make it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stack: Option<StackPart>,
    /// The total in the client's own unit, where the gear is stamped in another. Plates and labels are always read
    /// as stamped.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about: Option<AboutPart>,
}

impl LoadCard {
    /// A load of which no more is known than how heavy it is and what it is set on.
    #[must_use]
    pub fn new(gear: GearKind, total: impl Into<Load>, unit: MassUnit) -> Self {
        Self {
            total: total.into(),
            unit,
            gear,
            on_now: None,
            confirmed: false,
            bar: None,
            unbuilt: None,
            belt: None,
            rack: None,
            stack: None,
            about: None,
        }
    }
}

/// About so much in another unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AboutPart {
    /// As people say it: rounded, so that it is told as "about".
    pub mass: Mass,
    /// The unit it is rounded in and read in.
    pub unit: MassUnit,
}

/// One plate: what is stamped on it, and how wide it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlatePart {
    /// What is stamped on it.
    pub mass: Mass,
    /// Whether it is of full diameter, so that a bar lies at its height on the floor.
    pub full: bool,
}

/// Which plates make a load on a bar, and what to change. Both sides are alike, and are loaded and stripped in
/// turn: a bar with one side loaded tips.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BarPart {
    /// The bar alone.
    pub bar: Mass,
    /// It has to be named: it is not the station's usual bar, or not the one that is there now.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub other_bar: bool,
    /// One collar; zero where collars do not count.
    pub collar: Mass,
    /// The plates of each side from the inside out.
    pub side: Vec<PlatePart>,
    /// Whether it is known what is on the bar now. If not, all of it comes off first.
    pub known: bool,
    /// What comes off each side, from the outside in.
    pub strip: Vec<PlatePart>,
    /// What then goes on each side, from the inside out.
    pub add: Vec<PlatePart>,
    /// How long one person takes for both sides.
    pub alone: Secs,
    /// How long two people take, one at each side.
    pub together: Secs,
}

/// Where the pin of a stack goes for a load, and what the hand feels of it.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StackPart {
    /// Where it goes.
    pub pin: PinPart,
    /// Where it is; absent where nobody has said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub now: Option<PinPart>,
    /// What reaches the hand, where the pulleys make something else of it. Without friction and rounded, so it is
    /// told as "about".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_hand: Option<Mass>,
    /// It carries part of the body: more of it is easier.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub assists: bool,
    /// How many labels there are, the lightest at the top.
    pub of: u16,
}

/// One way to set a stack.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PinPart {
    /// The label at the pin.
    pub label: Load,
    /// Which label that is, from 1 for the one at the top.
    pub at: u16,
    /// Small weights on top, the heaviest first; none where the label is all of it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub on_top: Vec<OnTopPart>,
}

/// Small weights of one mass on top of a stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OnTopPart {
    /// One of them.
    pub mass: Mass,
    /// How many.
    pub count: u8,
}

/// The nearest loads that can be set instead, and where what is wanted for is.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UnbuiltPart {
    /// The heaviest that is lighter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub below: Option<Mass>,
    /// The lightest that is heavier.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub above: Option<Mass>,
    /// The names of other stations that have what would make it: plates of a shared tree on their bars, pairs of a
    /// shared rack.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub at: Vec<String>,
}

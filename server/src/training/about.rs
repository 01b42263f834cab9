//! What a coach and a display can say about an exercise. The floor decides nothing by it.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::Key;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{Breathing, PhaseWords};
use turnabout_protocol::words::Words;

use super::muscle::Muscles;

/// What there is to say about an exercise; nothing at all where a floor file that defines its own says
/// nothing.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct About {
    /// What is held or sat on, where it is said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub implement: Option<Implement>,
    /// Which muscles do what.
    pub muscles: Muscles,
    /// What the two moving phases of a repetition are called in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub phases: Option<PhaseWords>,
    /// How to breathe.
    pub breathing: Breathing,
    /// How to get ready, in order.
    pub set_up: Vec<Words>,
    /// What to take care of.
    pub cautions: Vec<Words>,
    /// What is set at the station for each client, by name: `seat`, `pulley`.
    pub settings: BTreeSet<Key>,
    /// The exercise that it makes a pair with.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opposing: Option<Key>,
}

/// What is held or sat on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Implement {
    /// A bar with plates.
    Barbell,
    /// A cable with a stack.
    Cable,
    /// Dumbbells, of a rack or of any place.
    Dumbbells,
    /// A machine with a stack.
    Machine,
    /// The body alone.
    BodyMass,
}

impl Implement {
    /// The gear that usually sets its load. Dumbbells are taken as they are: there is nothing to set, unless a
    /// floor says which pairs it has.
    #[must_use]
    pub const fn gear(self) -> GearKind {
        match self {
            Self::Barbell => GearKind::Bar,
            Self::Cable | Self::Machine => GearKind::Stack,
            Self::Dumbbells | Self::BodyMass => GearKind::Plain,
        }
    }

    /// Whether such gear can set its load: dumbbells may come from a rack, and a stack may carry part of the body
    /// or be added to it, as plates on a belt are.
    #[must_use]
    pub const fn suits(self, gear: GearKind) -> bool {
        match gear {
            GearKind::Bar => matches!(self, Self::Barbell),
            GearKind::Stack => matches!(self, Self::Cable | Self::Machine | Self::BodyMass),
            GearKind::Dumbbells => matches!(self, Self::Dumbbells),
            GearKind::Belt => matches!(self, Self::BodyMass),
            GearKind::Plain => matches!(self, Self::Dumbbells | Self::BodyMass),
        }
    }
}

/// What to tell a client of how to breathe.
#[must_use]
pub const fn breathe(how: Breathing, language: Language) -> &'static str {
    match (how, language) {
        (Breathing::OutWithEffort, Language::En) => "Breathe out with the effort, in on the way back.",
        (Breathing::OutWithEffort, Language::De) => "Mit der Anstrengung ausatmen, auf dem Rückweg einatmen.",
        (Breathing::Even, Language::En) => "Breathe evenly.",
        (Breathing::Even, Language::De) => "Gleichmäßig atmen.",
    }
}

//! The load of a set or of a station: a mass, or a pin of a stack whose labels are mere numbers.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::text::{Language, message};
use crate::units::{Mass, MassUnit};

/// What a station is set to for a set.
///
/// What a pin weighs nobody knows, so no mass is ever made of one, and whatever adds masses up leaves pins out.
/// On the wire a mass stays the integer that it is by itself, and a pin is `{"pin": 7}`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(untagged, deny_unknown_fields)]
pub enum Load {
    /// So much.
    Mass(Mass),
    /// A pin of a stack whose labels are no masses.
    Pin {
        /// Which one, as labelled: from 1.
        pin: u16,
    },
}

impl Load {
    /// The mass; nothing of a pin.
    #[must_use]
    pub const fn mass(self) -> Option<Mass> {
        match self {
            Self::Mass(mass) => Some(mass),
            Self::Pin { .. } => None,
        }
    }

    /// The pin; nothing of a mass.
    #[must_use]
    pub const fn pin(self) -> Option<u16> {
        match self {
            Self::Mass(_) => None,
            Self::Pin { pin } => Some(pin),
        }
    }

    /// Whether both are masses, or both pins: nothing else can be compared.
    #[must_use]
    pub const fn is_like(self, other: Self) -> bool {
        matches!((self, other), (Self::Mass(_), Self::Mass(_)) | (Self::Pin { .. }, Self::Pin { .. }))
    }

    /// As it is read, masses in the unit the gear is stamped in: `82.5 kg`, `pin 7`.
    #[must_use]
    pub fn read(self, language: Language, unit: MassUnit) -> String {
        match self {
            Self::Mass(mass) => {
                let plain = mass.in_unit(unit);
                let number = match language {
                    Language::En => plain,
                    Language::De => plain.replace('.', ","),
                };
                format!("{number} {}", unit.symbol())
            }
            Self::Pin { pin } => message(language, "label.numbered_pin").replace("{pin}", &pin.to_string()),
        }
    }
}

impl From<Mass> for Load {
    fn from(mass: Mass) -> Self {
        Self::Mass(mass)
    }
}

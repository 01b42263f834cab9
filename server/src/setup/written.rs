//! A load as a file says it outright: a mass with its unit, or a pin.

use std::fmt;

use turnabout_protocol::load::Load;
use turnabout_protocol::units::{MassUnit, Stamped};

use super::limits;

/// A load as a file says it outright.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Written {
    /// With its unit.
    Mass(Stamped),
    /// Of a stack whose labels are mere numbers; 1 to [`limits::LABELS`].
    Pin(u16),
}

impl Written {
    /// Reads `82.5 kg` or `pin 7`.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let Some(number) = text.trim().strip_prefix("pin") else { return text.parse().ok().map(Self::Mass) };
        let digits = number.strip_prefix(' ')?.trim();
        let pin = digits.bytes().all(|b| b.is_ascii_digit()).then(|| digits.parse().ok())??;
        (1..=limits::LABELS).contains(&pin).then_some(Self::Pin(pin))
    }

    /// A load of gear that is stamped in this unit.
    pub(super) const fn of(load: Load, unit: MassUnit) -> Self {
        match load {
            Load::Mass(mass) => Self::Mass(Stamped { mass, unit }),
            Load::Pin { pin } => Self::Pin(pin),
        }
    }

    /// What a station is set to.
    pub(super) const fn load(self) -> Load {
        match self {
            Self::Mass(stamped) => Load::Mass(stamped.mass),
            Self::Pin(pin) => Load::Pin { pin },
        }
    }
}

impl fmt::Display for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mass(stamped) => stamped.fmt(f),
            Self::Pin(pin) => write!(f, "pin {pin}"),
        }
    }
}

//! What may help against a mistake.

use std::io::ErrorKind;

use turnabout_protocol::card::GearKind;

use super::allowed::Allowed;
use super::problem::Problem;
use super::slip::{Slip, slip};
use crate::floor::local_time::Minute;

impl Problem {
    /// What may help, where something is likely to.
    #[must_use]
    pub fn hint(&self) -> Option<String> {
        let hint = match self {
            Self::NotUtf8 { .. } | Self::Utf16 => "save the file as UTF-8",
            Self::Unreadable(kind) => return unreadable(*kind),
            Self::TooLarge => {
                "a floor or an evening as large as this server runs fits: look for what is there twice"
            }
            Self::TooDeep => "the files here need five",
            Self::UnknownField { meant: Some(meant), .. } => return Some(format!("did you mean {meant}?")),
            Self::Unknown { meant: Some(meant), .. }
            | Self::NoSuchSetting { meant: Some(meant), .. }
            | Self::NoSuchHandle { meant: Some(meant), .. } => {
                return Some(format!("did you mean {meant:?}?"));
            }
            Self::Value { found, allowed } => return slip(found, allowed).map(|slip| slip.to_string()),
            Self::Again { .. } => "choose another, or take one of the two away",
            Self::WindowOrder { from, to } => return after_midnight(*from, *to),
            Self::WindowsOverlap { .. } => "make one of the two",
            Self::KeepsAll { .. } => "take the exercise away, or keep fewer, or give the rule hours",
            Self::NoSuchSetting { meant: None, .. } => {
                "write it among the settings of a [[station]] by its name"
            }
            Self::NoSuchHandle { meant: None, .. } => "count it in [floor.handles]",
            Self::NoArms => "write arms = true at the stations that have them",
            Self::Times(problem) => return problem.hint().map(str::to_owned),
            Self::Block(problem) => return problem.hint(),
            Self::Load(problem) => return problem.hint(),
            Self::Earlier(problem) => return problem.hint().map(str::to_owned),
            Self::Gear(problem) => return problem.hint().map(str::to_owned),
            Self::NeverOpen => "leave floor.hours out where the floor never closes",
            Self::TwoGears { .. } => "make two stations of them",
            Self::NoStation(_) | Self::NoStationFor(_) => {
                "give a [[station]] that gear, or take the exercise away"
            }
            Self::OtherSpot { movement: "explosive" | "floor-pull", .. } => {
                "nobody stands where such a bar may come down"
            }
            Self::TooManyLoads => "name only the plates that are kept at this station",
            Self::NoCommonStation { .. } => "a whole group does an exercise at one station",
            Self::CannotHold { gear: GearKind::Bar, below: None, above: Some(_), .. } => {
                "the bar with its collars weighs that by itself"
            }
            Self::LoadOnPlain => "take the load away, or give the exercise other gear",
            Self::LoadMissing(_) => "write it with its unit, such as load = \"60 kg\"",
            Self::Missing(Allowed::Sections { name, .. }) => {
                return Some(Slip::Sections(name).to_string());
            }
            Self::Missing(Allowed::Heading(heading)) => {
                return Some(format!("write [{heading}] before its fields"));
            }
            Self::Syntax(_)
            | Self::NoDocument
            | Self::UnknownField { meant: None, .. }
            | Self::Missing(_)
            | Self::Unknown { meant: None, .. }
            | Self::MixedUnits { .. }
            | Self::Steps { .. }
            | Self::TooHeavy { .. }
            | Self::NumbersUsedUp
            | Self::RestOrder { .. }
            | Self::OtherImplement { .. }
            | Self::OtherSpot { .. }
            | Self::OtherGear { .. }
            | Self::CannotHold { .. }
            | Self::KeepsTooMany { .. }
            | Self::ArmsWithoutBar(_)
            | Self::TooManyFields { .. }
            | Self::TechniqueHeavier { .. }
            | Self::TwoGroups { .. }
            | Self::NotInGroup { .. } => return None,
        };
        Some(hint.to_owned())
    }
}

/// What to do about a file that cannot be read.
fn unreadable(kind: ErrorKind) -> Option<String> {
    let hint = match kind {
        ErrorKind::NotFound => "look for a slip in the path; it goes from the folder where this is run",
        ErrorKind::IsADirectory => "name the file in that folder",
        ErrorKind::PermissionDenied => "let the user who runs this read it",
        _ => return None,
    };
    Some(hint.to_owned())
}

/// Hours that seem to go on after midnight.
fn after_midnight(from: Minute, to: Minute) -> Option<String> {
    let end = Minute::END;
    if to >= from {
        None
    } else if to == Minute::START {
        Some(format!("midnight at the end of a day is {end}: \"{from}-{end}\""))
    } else {
        Some(format!("past midnight: \"{from}-{end}\" here, and \"{}-{to}\" on the day after", Minute::START))
    }
}

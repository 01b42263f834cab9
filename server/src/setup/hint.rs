//! What may help against a mistake.

use std::io::ErrorKind;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::next::PerMille;

use super::allowed::Allowed;
use super::load_rule;
use super::percent::parse_percent;
use super::problem::Problem;
use super::suggest;
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
            Self::Value { found, allowed } => return value_hint(found, allowed),
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
            Self::Missing(Allowed::Sections { name, .. }) => return Some(sections(name)),
            Self::Missing(Allowed::Heading(heading)) => {
                return Some(format!("write [{heading}] before its fields"));
            }
            Self::Syntax(_)
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

fn sections(name: &str) -> String {
    format!("write [[{name}]], with two brackets, before each of them")
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

/// The most frequent slips: a number without its unit, quotation marks too many or too few.
fn value_hint(found: &str, allowed: &Allowed) -> Option<String> {
    let bare = found.trim_matches('"');
    let in_marks = bare != found;
    let number = !bare.is_empty() && bare.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    match allowed {
        Allowed::Mass { .. } | Allowed::Load if number => {
            Some(format!("write it with its unit: \"{bare} kg\""))
        }
        Allowed::Load if parse_percent(bare).is_some_and(|share| share >= PerMille::WHOLE) => {
            Some("the whole maximum is a maximal attempt, and no load is worked out for one".to_owned())
        }
        Allowed::Load => suggest::meant(bare, load_rule::WORDS.iter().map(|(word, _)| *word))
            .map(|word| format!("did you mean \"{word}\"?")),
        Allowed::Percent { .. } if number => Some(format!("write it with its sign: \"{bare} %\"")),
        Allowed::Duration { .. } if number => Some(format!("write it with its unit: \"{bare} s\"")),
        Allowed::Whole { .. } | Allowed::Metres { .. } | Allowed::Work if number && in_marks => {
            Some(without_marks(bare))
        }
        Allowed::Flag if in_marks && matches!(bare, "true" | "false") => Some(without_marks(bare)),
        Allowed::Day if in_marks && bare.parse::<jiff::civil::Date>().is_ok() => Some(without_marks(bare)),
        Allowed::Text { .. } | Allowed::Zone if number || matches!(found, "true" | "false") => {
            Some(format!("write it in quotation marks: \"{bare}\""))
        }
        Allowed::Tempo if number && bare.len() == 4 && !bare.contains('.') => {
            let parts: Vec<String> = bare.chars().map(String::from).collect();
            Some(format!("write it with its dashes: \"{}\"", parts.join("-")))
        }
        Allowed::TimeOfDay if in_marks => format!("0{bare}")
            .parse::<Minute>()
            .ok()
            .map(|minute| format!("write hours and minutes with two digits: \"{minute}\"")),
        Allowed::Key if in_marks => key_like(bare).map(|key| format!("such as \"{key}\"")),
        Allowed::OneOf(words) => {
            suggest::meant(bare, words.iter().copied()).map(|word| format!("did you mean \"{word}\"?"))
        }
        Allowed::Sections { name, .. } if found == "a table" => Some(sections(name)),
        _ => None,
    }
}

fn without_marks(bare: &str) -> String {
    format!("write it without quotation marks: {bare}")
}

/// The key that looks most like what was found.
fn key_like(found: &str) -> Option<String> {
    let words = found.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let key = words.collect::<Vec<_>>().join("-").to_ascii_lowercase();
    key.parse::<turnabout_protocol::ids::Key>().is_ok().then_some(key)
}

//! Problems of fields, and what a page says of those that are about something else.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::entry::{Fits, FoundThere, Help, ValueWrong, Wrong};
use turnabout_protocol::tempo::Part;

use super::{block, earlier, load, nearest, said, times};
use crate::setup::allowed::Allowed;
use crate::setup::block_problem::BlockProblem;
use crate::setup::found::Found;
use crate::setup::limits::LABELS;
use crate::setup::percent::parse_percent;
use crate::setup::problem::{Problem, Thing};
use crate::setup::slip::{Slip, slip};
use crate::setup::spot::First;
use crate::setup::written::Written;
use crate::training::block::limits;

/// What is wrong; nothing where only a file can come to it.
pub(super) fn wrong(problem: &Problem) -> Option<Wrong> {
    Some(Wrong::Value(match problem {
        Problem::TooLarge => ValueWrong::TooLarge,
        Problem::TooDeep => ValueWrong::TooDeep,
        Problem::NoDocument => ValueWrong::NoDocument,
        Problem::UnknownField { .. } => ValueWrong::UnknownField,
        Problem::Missing(allowed) => ValueWrong::Missing { allowed: fits(allowed)? },
        Problem::Value { found, allowed } => value(found, fits(allowed)?)?,
        Problem::Again { found, first } => {
            ValueWrong::Again { again: found.clone(), first: field(first)?.to_owned() }
        }
        Problem::Unknown { thing, found, meant: _ } => unknown(*thing, found)?,
        Problem::RestOrder { least, most } => ValueWrong::RestOrder { least: *least, most: *most },
        Problem::TooManyFields { most } => ValueWrong::TooManyMaxima { most: *most },
        Problem::CannotHold { load, exercise, gear: _, below, above } => ValueWrong::CannotHold {
            load: said(load),
            exercise: exercise.clone(),
            nearest: nearest(below.as_ref(), above.as_ref()),
        },
        Problem::NoCommonStation { exercise, loads } => ValueWrong::NoCommonStation {
            exercise: exercise.clone(),
            loads: loads.iter().map(said).collect(),
        },
        Problem::LoadMissing(gear) => ValueWrong::LoadMissing { gear: *gear },
        Problem::LoadOnPlain => ValueWrong::LoadOnPlain,
        Problem::TechniqueHeavier { technique, client, load, helps } => {
            let (technique, client, load) = (said(technique), *client, said(load));
            if *helps {
                ValueWrong::TechniqueHelpsLess { technique, client, load }
            } else {
                ValueWrong::TechniqueHeavier { technique, client, load }
            }
        }
        Problem::TwoGroups { client, group } => ValueWrong::TwoGroups { client: *client, group: *group },
        Problem::NotInGroup { client } => ValueWrong::NotInGroup { client: *client },
        Problem::Block(problem) => return Some(Wrong::Block(block::wrong(problem))),
        Problem::Load(problem) => return Some(Wrong::Load(load::wrong(problem))),
        Problem::Earlier(problem) => return Some(Wrong::Earlier(earlier::wrong(problem)?)),
        Problem::Times(problem) => return Some(Wrong::Times(times::wrong(problem)?)),
        // About the bytes of a file: a page sends JSON.
        Problem::Unreadable(_) | Problem::NotUtf8 { .. } | Problem::Utf16 | Problem::Syntax(_)
        // About a floor file: an entry names what it has, and says nothing of gear, stations, hours and policies.
        | Problem::MixedUnits { .. }
        | Problem::TwoGears { .. }
        | Problem::Steps { .. }
        | Problem::TooHeavy { .. }
        | Problem::TooManyLoads
        | Problem::Gear(_)
        | Problem::NumbersUsedUp
        | Problem::KeepsTooMany { .. }
        | Problem::KeepsAll { .. }
        | Problem::NoSuchSetting { .. }
        | Problem::NoSuchHandle { .. }
        | Problem::NoArms
        | Problem::ArmsWithoutBar(_)
        | Problem::WindowOrder { .. }
        | Problem::WindowsOverlap { .. }
        | Problem::NeverOpen
        | Problem::NoStation(_)
        | Problem::NoStationFor(_)
        | Problem::OtherImplement { .. }
        | Problem::OtherSpot { .. }
        | Problem::OtherGear { .. } => return None,
    }))
}

/// Something that cannot stand there; what is empty is missing.
fn value(found: &Found, allowed: Fits) -> Option<ValueWrong> {
    let found = match found {
        Found::Text(text) if text.trim().is_empty() => return Some(ValueWrong::Missing { allowed }),
        Found::Text(text) => FoundThere::Text { text: text.clone() },
        Found::Number(text) => FoundThere::Number { text: text.clone() },
        Found::Flag(true) => FoundThere::Yes,
        Found::Flag(false) => FoundThere::No,
        Found::DayOrTime => FoundThere::DayOrTime,
        Found::List(count) => FoundThere::Entries { count: *count },
        Found::Table => FoundThere::Fields,
        // JSON has none.
        Found::Based { .. } => return None,
    };
    Some(ValueWrong::Value { found, allowed })
}

fn unknown(thing: Thing, found: &Found) -> Option<ValueWrong> {
    let named = match found {
        Found::Text(text) | Found::Number(text) => text.clone(),
        Found::Based { .. } | Found::Flag(_) | Found::DayOrTime | Found::List(_) | Found::Table => {
            return None;
        }
    };
    Some(match thing {
        Thing::Coach => ValueWrong::NoCoach { named },
        Thing::Exercise => ValueWrong::NoExercise { named },
        Thing::StationOfFloor => ValueWrong::NoStation { named },
        Thing::Client => ValueWrong::NoClient { named },
        // What only floor files name.
        Thing::Station
        | Thing::Tree
        | Thing::Rack
        | Thing::Catalogue
        | Thing::Opposing
        | Thing::Handle
        | Thing::Zone => return None,
    })
}

/// The field where the first of two stands; what was entered has no lines.
pub(super) const fn field(first: &First) -> Option<&str> {
    match first {
        First::Field(field) => Some(field.as_str()),
        First::Line(_) => None,
    }
}

/// What may stand in a field of a programme; nothing for what only floor files have.
fn fits(allowed: &Allowed) -> Option<Fits> {
    Some(match allowed {
        Allowed::Text { most } => Fits::Text { most: *most },
        Allowed::Key => Fits::Key,
        Allowed::Whole { least, most } => Fits::Whole { least: *least, most: *most },
        Allowed::Mass { zero: false } => Fits::Mass,
        Allowed::Written { zero: false } => Fits::Written { pins: LABELS },
        Allowed::Written { zero: true } => Fits::WrittenOrNone { pins: LABELS },
        Allowed::Load => Fits::Load { pins: LABELS },
        Allowed::Duration { least, most } => Fits::Duration { least: *least, most: *most },
        Allowed::Tempo => Fits::Tempo { most: Part::MAX },
        Allowed::OneOf(words) => {
            Fits::OneOf { choices: words.iter().map(|word| (*word).to_owned()).collect() }
        }
        Allowed::Day => Fits::Day,
        Allowed::TimeOfDay => Fits::TimeOfDay,
        Allowed::Work => Fits::Work { reps: limits::REPS, secs: limits::HOLD_SECS },
        Allowed::Flag => Fits::Flag,
        Allowed::Table => Fits::Fields,
        Allowed::Sections { name: _, least, most } | Allowed::List { least, most } if least == most => {
            Fits::Exactly { count: *least }
        }
        Allowed::Sections { name: _, least, most } | Allowed::List { least, most } => {
            Fits::Entries { least: *least, most: *most }
        }
        Allowed::Words { .. }
        | Allowed::Zone
        | Allowed::Mass { zero: true }
        | Allowed::Percent { .. }
        | Allowed::Label { .. }
        | Allowed::Ratio
        | Allowed::Window
        | Allowed::Metres { .. }
        | Allowed::Heading(_) => return None,
    })
}

/// What may help, where that depends on what was found. What always helps is in the page's words for the problem.
pub(super) fn help(problem: &Problem) -> Option<Help> {
    match problem {
        Problem::UnknownField { meant, allowed: _ } => {
            meant.map(|meant| Help::Meant { word: meant.to_owned() })
        }
        Problem::Unknown { meant, thing: _, found: _ } => meant.clone().map(|word| Help::Meant { word }),
        Problem::Value { found, allowed } => {
            slip(found, allowed).and_then(of_slip).or_else(|| point(found, allowed))
        }
        Problem::Block(BlockProblem::RangeOrder { least, most }) => {
            Some(Help::Enter { word: format!("{most}-{least}") })
        }
        Problem::CannotHold { gear: GearKind::Bar, below: None, above: Some(_), load: _, exercise: _ } => {
            Some(Help::BarAlone)
        }
        Problem::Unreadable(_)
        | Problem::TooLarge
        | Problem::NotUtf8 { .. }
        | Problem::Utf16
        | Problem::TooDeep
        | Problem::NoDocument
        | Problem::Syntax(_)
        | Problem::Missing(_)
        | Problem::Again { .. }
        | Problem::MixedUnits { .. }
        | Problem::TwoGears { .. }
        | Problem::Steps { .. }
        | Problem::TooHeavy { .. }
        | Problem::TooManyLoads
        | Problem::Gear(_)
        | Problem::NumbersUsedUp
        | Problem::RestOrder { .. }
        | Problem::KeepsTooMany { .. }
        | Problem::KeepsAll { .. }
        | Problem::NoSuchSetting { .. }
        | Problem::NoSuchHandle { .. }
        | Problem::NoArms
        | Problem::ArmsWithoutBar(_)
        | Problem::TooManyFields { .. }
        | Problem::Load(_)
        | Problem::Earlier(_)
        | Problem::Times(_)
        | Problem::Block(_)
        | Problem::WindowOrder { .. }
        | Problem::WindowsOverlap { .. }
        | Problem::NeverOpen
        | Problem::NoStation(_)
        | Problem::NoStationFor(_)
        | Problem::OtherImplement { .. }
        | Problem::OtherSpot { .. }
        | Problem::OtherGear { .. }
        | Problem::CannotHold { .. }
        | Problem::NoCommonStation { .. }
        | Problem::LoadMissing(_)
        | Problem::LoadOnPlain
        | Problem::TechniqueHeavier { .. }
        | Problem::TwoGroups { .. }
        | Problem::NotInGroup { .. } => None,
    }
}

fn of_slip(slip: Slip) -> Option<Help> {
    Some(match slip {
        Slip::Unit { meant, sign: _ } | Slip::Dashes(meant) => Help::Enter { word: meant },
        Slip::Digits(time) => Help::Enter { word: said(&time) },
        Slip::WholeMaximum => Help::WholeMaximum,
        Slip::Word(word) => Help::Meant { word },
        Slip::Key(word) => Help::SuchAs { word },
        // Quotation marks and brackets are of files.
        Slip::Marked(_) | Slip::Unmarked(_) | Slip::Sections(_) => return None,
    })
}

/// A load with a decimal comma, which the reader of files does not take: with a point it would.
fn point(found: &Found, allowed: &Allowed) -> Option<Help> {
    let Found::Text(text) = found else { return None };
    let with_point = text.contains(',').then(|| text.replace(',', "."))?;
    let reads = match allowed {
        Allowed::Load => Written::parse(&with_point).is_some() || parse_percent(&with_point).is_some(),
        Allowed::Mass { .. } | Allowed::Written { .. } => Written::parse(&with_point).is_some(),
        Allowed::Text { .. }
        | Allowed::Words { .. }
        | Allowed::Key
        | Allowed::Zone
        | Allowed::Whole { .. }
        | Allowed::Percent { .. }
        | Allowed::Duration { .. }
        | Allowed::Tempo
        | Allowed::OneOf(_)
        | Allowed::Day
        | Allowed::TimeOfDay
        | Allowed::Label { .. }
        | Allowed::Work
        | Allowed::Ratio
        | Allowed::Window
        | Allowed::Flag
        | Allowed::Metres { .. }
        | Allowed::Table
        | Allowed::Heading(_)
        | Allowed::Sections { .. }
        | Allowed::List { .. } => false,
    };
    reads.then_some(Help::Point { word: with_point })
}

//! What can be wrong with a file: what was found, what is allowed, and what may help.

use std::fmt;
use std::io;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::Key;
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::allowed::Allowed;
use super::limits;
use crate::floor::hours::Window;
use crate::floor::local_time::Minute;
use crate::loading::gear::MOST_LOADS;

/// What is wrong at one place. Its text says what was found and what is allowed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Problem {
    /// The file cannot be read.
    #[error("cannot be read: {0}")]
    Unreadable(io::ErrorKind),
    /// The file is larger than [`limits::FILE_BYTES`].
    #[error("found more than {max} bytes, allowed at most {max}", max = limits::FILE_BYTES)]
    TooLarge,
    /// The file is not text.
    #[error("found a byte that is not text (byte {byte} of the file), allowed UTF-8")]
    NotUtf8 {
        /// Which byte of the file, from 1.
        byte: usize,
    },
    /// Not TOML.
    #[error("not TOML: {0}")]
    Syntax(String),
    /// A field that is not known here.
    #[error("found a field that is not known, allowed {}", allowed.join(", "))]
    UnknownField {
        /// The fields that are.
        allowed: Vec<&'static str>,
        /// The one that may be meant.
        meant: Option<&'static str>,
    },
    /// A field is not there.
    #[error("found nothing, allowed {0}")]
    Missing(Allowed),
    /// A value that cannot stand there.
    #[error("found {found}, allowed {allowed}")]
    Value {
        /// The value, shortened.
        found: String,
        /// What can.
        allowed: Allowed,
    },
    /// A key or number that must be unique comes again.
    #[error("found {found} again, allowed once; it stands in line {line} too")]
    Again {
        /// The key or number.
        found: String,
        /// The line of the first.
        line: usize,
    },
    /// A name for something that does not exist.
    #[error("found {found}, allowed {thing}")]
    Unknown {
        /// What it should name.
        thing: Thing,
        /// The name, as it stands there.
        found: String,
        /// The one that may be meant.
        meant: Option<String>,
    },
    /// Kilograms and pounds at one station.
    #[error("found {}, allowed {}: kilograms and pounds are never mixed at one station", found.symbol(), first.symbol())]
    MixedUnits {
        /// The unit here.
        found: MassUnit,
        /// The unit of what stands before.
        first: MassUnit,
    },
    /// A bar and a stack at one station.
    #[error("found a bar and a stack, allowed one of them")]
    TwoGears,
    /// The last label of a stack is not reached by its steps.
    #[error("found {last}, allowed {first} or whole steps of {step} above it, at most {most} labels", most = limits::LABELS)]
    Steps {
        /// The first label.
        first: Stamped,
        /// The step.
        step: Stamped,
        /// The last label.
        last: Stamped,
    },
    /// Everything on the bar at once is more than can be stated.
    #[error("found plates of {total} in all, allowed {most} with the bar", total = Kg(*total), most = Kg(Mass::MAX))]
    TooHeavy {
        /// Everything at once.
        total: Mass,
    },
    /// Plates that make more loads than are looked at.
    #[error("found plates that make {MOST_LOADS} loads or more, allowed fewer")]
    TooManyLoads,
    /// More keys have come and gone than there are numbers.
    #[error("found a new key, allowed none: all 65535 numbers have been given")]
    NumbersUsedUp,
    /// The longest rest is below the shortest.
    #[error("found {most} s as the longest rest, allowed {least} s (the shortest) or more")]
    RestOrder {
        /// The shortest, in seconds.
        least: u32,
        /// The longest, in seconds.
        most: u32,
    },
    /// Hours that end before they begin, or at once.
    #[error("found {from}-{to}, allowed an end after {from}, at most 24:00")]
    WindowOrder {
        /// The begin.
        from: Minute,
        /// The end.
        to: Minute,
    },
    /// Hours of one day that overlap.
    #[error("found {found}, allowed hours that do not overlap {other}")]
    WindowsOverlap {
        /// These.
        found: Window,
        /// Those that stand before.
        other: Window,
    },
    /// Opening hours without any hour.
    #[error("found no opening hours in the whole week, allowed some")]
    NeverOpen,
    /// No station of the floor has the gear of an exercise.
    #[error("found {:?}, allowed the gear of a station: no station has {}", word(*.0), in_words(*.0))]
    NoStation(GearKind),
    /// A station where an exercise can be done has other gear.
    #[error("found \"{station}\", which has {}, allowed a station with {}", in_words(*there), in_words(*gear))]
    OtherGear {
        /// The station.
        station: Key,
        /// Its gear.
        there: GearKind,
        /// The gear of the exercise.
        gear: GearKind,
    },
    /// No station of an exercise can be set to a load.
    #[error("found {load}, allowed what a station for {exercise} can be set to: {}", Nearest(below.as_ref(), above.as_ref()))]
    CannotHold {
        /// The load.
        load: Stamped,
        /// The exercise.
        exercise: Key,
        /// The next lighter that can be set.
        below: Option<Stamped>,
        /// The next heavier that can be set.
        above: Option<Stamped>,
    },
    /// Every load of an exercise can be set somewhere, but no station can be set to all of them.
    #[error(
        "found {} for {exercise}, allowed loads that one station for it can be set to, each exactly",
        AllOf(loads)
    )]
    NoCommonStation {
        /// The exercise.
        exercise: Key,
        /// The loads of all clients, technique sets too, in ascending order.
        loads: Vec<Stamped>,
    },
    /// An exercise with a bar or stack has no load.
    #[error("found nothing, allowed a load: this exercise uses {}", in_words(*.0))]
    LoadMissing(GearKind),
    /// An exercise without anything to set has a load.
    #[error("found a load, allowed none: this exercise has nothing to set")]
    LoadOnPlain,
    /// The technique set is heavier than the work.
    #[error("found {technique} for the technique set, allowed at most the load of client {client}, {load}")]
    TechniqueHeavier {
        /// The load of the technique set.
        technique: Stamped,
        /// The client.
        client: u32,
        /// The client's load.
        load: Stamped,
    },
    /// A client belongs to another group already.
    #[error("found client {client}, who is in group {group} already, allowed one group a client")]
    TwoGroups {
        /// The client.
        client: u32,
        /// The group named first.
        group: u32,
    },
    /// Something of one's own for a client who is not in the group.
    #[error("found client {client}, allowed the clients of this group")]
    NotInGroup {
        /// The client.
        client: u32,
    },
}

/// What a name or number in a programme stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thing {
    /// A station of the floor.
    Station,
    /// A coach of the floor.
    Coach,
    /// An exercise of the floor.
    Exercise,
    /// A client of the programme.
    Client,
    /// A time zone.
    Zone,
}

impl fmt::Display for Thing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Station => "the key of a [[station]] of this file",
            Self::Coach => "the key of a coach in the floor file",
            Self::Exercise => "the key of an exercise in the floor file",
            Self::Client => "the number of a [[client]] of this file",
            Self::Zone => "an IANA time zone such as \"Europe/Berlin\"",
        })
    }
}

impl Problem {
    /// What may help, where something is likely to.
    #[must_use]
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::NotUtf8 { .. } => Some("save the file as UTF-8".to_owned()),
            Self::UnknownField { meant: Some(meant), .. } => Some(format!("did you mean {meant}?")),
            Self::Unknown { meant: Some(meant), .. } => Some(format!("did you mean {meant:?}?")),
            Self::Value { found, allowed } => value_hint(found, allowed),
            Self::Again { .. } => Some("choose another, or take one of the two away".to_owned()),
            Self::TwoGears => Some("make two stations of them".to_owned()),
            Self::WindowOrder { from, to } => after_midnight(*from, *to),
            Self::WindowsOverlap { .. } => Some("make one of the two".to_owned()),
            Self::NeverOpen => Some("leave floor.hours out where the floor never closes".to_owned()),
            Self::NoStation(_) => Some("give a [[station]] that gear, or take the exercise away".to_owned()),
            Self::TooManyLoads => Some("name only the plates that are kept at this station".to_owned()),
            Self::NoCommonStation { .. } => Some("a whole group does an exercise at one station".to_owned()),
            Self::LoadOnPlain => Some("take the load away, or give the exercise other gear".to_owned()),
            Self::LoadMissing(_) => Some("write it with its unit, such as load = \"60 kg\"".to_owned()),
            Self::Unreadable(_)
            | Self::TooLarge
            | Self::Syntax(_)
            | Self::UnknownField { meant: None, .. }
            | Self::Missing(_)
            | Self::Unknown { meant: None, .. }
            | Self::MixedUnits { .. }
            | Self::Steps { .. }
            | Self::TooHeavy { .. }
            | Self::NumbersUsedUp
            | Self::RestOrder { .. }
            | Self::OtherGear { .. }
            | Self::CannotHold { .. }
            | Self::TechniqueHeavier { .. }
            | Self::TwoGroups { .. }
            | Self::NotInGroup { .. } => None,
        }
    }
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

/// The most frequent slip: a number without its unit or its quotation marks.
fn value_hint(found: &str, allowed: &Allowed) -> Option<String> {
    let number = found.trim_matches('"');
    let plain = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    match allowed {
        Allowed::Mass { .. } if plain => Some(format!("write it with its unit: \"{number} kg\"")),
        Allowed::Duration { .. } if plain => Some(format!("write it with its unit: \"{number} s\"")),
        Allowed::Whole { .. } | Allowed::Metres { .. } if plain && found != number => {
            Some(format!("write it without quotation marks: {number}"))
        }
        _ => None,
    }
}

/// Gear as files call it.
const fn word(gear: GearKind) -> &'static str {
    match gear {
        GearKind::Bar => "bar",
        GearKind::Stack => "stack",
        GearKind::Plain => "plain",
    }
}

/// Gear in a sentence.
const fn in_words(gear: GearKind) -> &'static str {
    match gear {
        GearKind::Bar => "a bar",
        GearKind::Stack => "a stack",
        GearKind::Plain => "nothing to set",
    }
}

/// A mass in kilograms.
struct Kg(Mass);

impl fmt::Display for Kg {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        Stamped { mass: self.0, unit: MassUnit::Kg }.fmt(f)
    }
}

/// Some loads in a sentence.
struct AllOf<'s>(&'s [Stamped]);

impl fmt::Display for AllOf<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, load) in self.0.iter().enumerate() {
            let between = match n {
                0 => "",
                n if n + 1 == self.0.len() => " and ",
                _ => ", ",
            };
            write!(f, "{between}{load}")?;
        }
        Ok(())
    }
}

/// The loads on either side of one that cannot be set.
struct Nearest<'s>(Option<&'s Stamped>, Option<&'s Stamped>);

impl fmt::Display for Nearest<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.0, self.1) {
            (Some(below), Some(above)) => write!(f, "the nearest are {below} and {above}"),
            (Some(below), None) => write!(f, "{below} is the heaviest"),
            (None, Some(above)) => write!(f, "{above} is the lightest"),
            (None, None) => f.write_str("there is none"),
        }
    }
}

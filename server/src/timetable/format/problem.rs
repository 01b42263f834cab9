//! What can be wrong in an instance or a timetable: what is wanted and what was found.

use std::fmt;

use super::{FORMAT, limits};
use crate::timetable::check::Misfit;
use crate::timetable::instance::StationKind;

/// What is wrong at one place. Its text says what is wanted and what was found.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Problem {
    /// More text than is looked at.
    #[error("at most {} bytes are read, not {found}", limits::BYTES)]
    TooLong {
        /// Its bytes.
        found: usize,
    },
    /// Not JSON.
    #[error("not JSON: {0}")]
    NotJson(String),
    /// Another format, or an older one.
    #[error("{FORMAT:?} is wanted, not {found}")]
    Format {
        /// What stands there, shortened.
        found: String,
    },
    /// Something else than an object.
    #[error("an object is wanted, not {found}")]
    Object {
        /// What stands there, shortened.
        found: String,
    },
    /// A field is not there.
    #[error("field {0} is missing")]
    Missing(&'static str),
    /// A field that the format does not know.
    #[error("unknown field {name}; there are {} and names that begin with x_", .allowed.join(", "))]
    Unknown {
        /// Its name, shortened.
        name: String,
        /// Those that are known here.
        allowed: Vec<&'static str>,
    },
    /// Something else than a list.
    #[error("a list is wanted, not {found}")]
    List {
        /// What stands there, shortened.
        found: String,
    },
    /// A list that is too short or too long, such as a ragged row of walks.
    #[error("a list of {wanted} is wanted, not of {found}")]
    Length {
        /// How many there must be.
        wanted: usize,
        /// How many there are.
        found: usize,
    },
    /// A list without anything.
    #[error("at least one is wanted")]
    Empty,
    /// More than is read.
    #[error("at most {} {what} are read, not {found}", what.most())]
    TooMany {
        /// Of what.
        what: Many,
        /// How many there are.
        found: usize,
    },
    /// No whole number, or one that is too small.
    #[error("an integer >= {least}{} is wanted, not {found}", null_too(*.or_null))]
    Whole {
        /// The least.
        least: u32,
        /// Whether null may stand there as well.
        or_null: bool,
        /// What stands there, shortened.
        found: String,
    },
    /// A whole number that is too large.
    #[error("an integer <= {most} is wanted, not {found}")]
    TooLarge {
        /// The most.
        most: u32,
        /// What stands there.
        found: u64,
    },
    /// No whole number in a range.
    #[error("{}{} is wanted, not {found}", range(*.least, *.most), null_too(*.or_null))]
    Range {
        /// The least.
        least: usize,
        /// One above the most.
        most: usize,
        /// Whether null may stand there as well.
        or_null: bool,
        /// What stands there, shortened.
        found: String,
    },
    /// No text.
    #[error("a string is wanted, not {found}")]
    Text {
        /// What stands there, shortened.
        found: String,
    },
    /// None of the words that are allowed.
    #[error("{} is wanted, not {found}", .allowed.join(" or "))]
    Word {
        /// The words.
        allowed: &'static [&'static str],
        /// What stands there, shortened.
        found: String,
    },
    /// Neither true nor false.
    #[error("true or false is wanted, not {found}")]
    Flag {
        /// What stands there, shortened.
        found: String,
    },
    /// A window that ends before it begins.
    #[error("from < to is wanted, not from {from} to {to}")]
    Window {
        /// Where it begins.
        from: u32,
        /// Where it ends.
        to: u32,
    },
    /// Steps of a price or numbers of rounds that do not ascend.
    #[error("an ascending number is wanted, not {found} after {before}")]
    Ascending {
        /// The one before.
        before: u32,
        /// What stands there.
        found: u32,
    },
    /// A longest rest that is shorter than the shortest one.
    #[error("the longest rest, {most} s, is shorter than the shortest, {least} s")]
    RestWindow {
        /// The shortest rest in force here.
        least: u32,
        /// The longest rest in force here.
        most: u32,
    },
    /// A walk that is longer than a way around.
    #[error("{direct} s is longer than the way over station {over}, {around} s")]
    Detour {
        /// The walk that stands there.
        direct: u32,
        /// Over which station it is shorter.
        over: usize,
        /// How long that takes.
        around: u32,
    },
    /// Neither plates nor a label.
    #[error("a list of grams (integers >= 1), an integer of grams or null is wanted, not {found}")]
    Load {
        /// What stands there, shortened.
        found: String,
    },
    /// A load that cannot be set at a station where it may be wanted.
    #[error("station {station} is a {}: {} is wanted, not {found}", kind(*.is), wanted_load(*.is))]
    LoadOfOtherKind {
        /// Which station.
        station: usize,
        /// What is set there.
        is: StationKind,
        /// What stands there, shortened.
        found: String,
    },
    /// No time of being spotted.
    #[error("true, false or [from, to] with 0 <= from < to <= {length} is wanted, not {found}")]
    Spot {
        /// How long the turn takes.
        length: u32,
        /// What stands there, shortened.
        found: String,
    },
    /// Two groups hold one station, or one holds it twice.
    #[error("station {station} is held by group {by} too")]
    HeldTwice {
        /// Which station.
        station: usize,
        /// By whom it is held as well.
        by: usize,
    },
    /// A member under way without a remaining round.
    #[error("there is no round that could be under way")]
    NoRoundUnderWay,
    /// A start told for a leg that is done or skipped.
    #[error("null is wanted: the leg is done or skipped")]
    ToldForNothing,
    /// A round without a turn left.
    #[error("a round without a turn left: leave it out")]
    NothingLeft,
    /// The leg that was done last is none.
    #[error("the leg done last cannot be null")]
    DoneLegSkipped,
    /// Members who train together at stations of their own.
    #[error("true, but the members' fixed stations differ")]
    TogetherDiffers,
    /// Members who train together, and no station that suits all of them.
    #[error("true, but station {station}, fixed for member {member}, does not suit leg {leg} of the others")]
    TogetherNowhere {
        /// Whose station is fixed.
        member: usize,
        /// Which leg.
        leg: usize,
        /// At which station.
        station: usize,
    },
    /// A member who comes twice in an order.
    #[error("member {0} is listed twice")]
    OrderTwice(usize),
    /// A member in an order who has not begun.
    #[error("member {0} has not begun")]
    OrderNotBegun(usize),
    /// Everything in a row would take longer than a plan may.
    #[error(
        "all turns one after the other may end at {found} s with every walk and change; at most {} s are planned",
        limits::HORIZON
    )]
    Horizon {
        /// When they might end.
        found: u64,
    },
    /// A timetable that is none of this instance.
    #[error(transparent)]
    Misfit(Misfit),
}

fn null_too(or_null: bool) -> &'static str {
    if or_null { " or null" } else { "" }
}

fn range(least: usize, most: usize) -> String {
    match most.checked_sub(1) {
        Some(last) if last >= least => format!("an integer {least}..{last}"),
        Some(_) | None => "nothing (there is none to name)".to_owned(),
    }
}

const fn kind(kind: StationKind) -> &'static str {
    match kind {
        StationKind::Bar => "bar",
        StationKind::Stack => "stack",
        StationKind::Plain => "plain station",
    }
}

const fn wanted_load(kind: StationKind) -> &'static str {
    match kind {
        StationKind::Bar => "a list of grams or null",
        StationKind::Stack => "an integer of grams or null",
        StationKind::Plain => "anything",
    }
}

/// What there can be too many of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Many {
    /// Stations.
    Stations,
    /// Coaches.
    Coaches,
    /// Groups.
    Groups,
    /// Members of a group.
    Members,
    /// Legs of a group.
    Legs,
    /// Stations of one list of those that suit, or are held.
    Suiting,
    /// Rounds of a member.
    Rounds,
    /// Turns in all.
    Turns,
    /// Busy windows.
    Windows,
    /// Steps of a price.
    Steps,
    /// Plates of one side.
    Plates,
    /// Breaches of a timetable.
    Breaches,
}

impl Many {
    /// The most that are read.
    #[must_use]
    pub const fn most(self) -> usize {
        match self {
            Self::Stations | Self::Suiting => limits::STATIONS,
            Self::Coaches => limits::COACHES,
            Self::Groups => limits::GROUPS,
            Self::Members => limits::MEMBERS,
            Self::Legs => limits::LEGS,
            Self::Rounds => limits::ROUNDS,
            Self::Turns => limits::TURNS,
            Self::Windows => limits::WINDOWS,
            Self::Steps => limits::STEPS,
            Self::Plates => limits::PLATES,
            Self::Breaches => limits::BREACHES,
        }
    }
}

impl fmt::Display for Many {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Stations | Self::Suiting => "stations",
            Self::Coaches => "coaches",
            Self::Groups => "groups",
            Self::Members => "members",
            Self::Legs => "legs",
            Self::Rounds => "rounds",
            Self::Turns => "turns",
            Self::Windows => "windows",
            Self::Steps => "steps",
            Self::Plates => "plates",
            Self::Breaches => "breaches",
        })
    }
}

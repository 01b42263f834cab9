//! What can be wrong with a file: what was found, what is allowed, and what may help.

use std::fmt;
use std::io;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::Key;
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::allowed::Allowed;
use super::block_problem::BlockProblem;
use super::earlier_problem::EarlierProblem;
use super::found::Found;
use super::gear_problem::GearProblem;
use super::limits;
use super::load_problem::LoadProblem;
use super::spot::First;
use super::times_problem::TimesProblem;
use super::words::{AllOf, AnyOf, Kg, Nearest, in_words, needs, word};
use super::written::Written;
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
    /// The file is text of two bytes a character.
    #[error("found text of two bytes a character (UTF-16), allowed UTF-8")]
    Utf16,
    /// Tables or lists in each other, or a name of many parts.
    #[error("found more than {most} levels, one in the other, allowed {most}", most = limits::LEVELS)]
    TooDeep,
    /// What a page sent is no programme at all.
    #[error("not TOML: the whole is an object with client and group")]
    NoDocument,
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
        /// The value.
        found: Found,
        /// What can.
        allowed: Allowed,
    },
    /// A key or number that must be unique comes again.
    #[error("found {found} again, allowed once; it stands {first} too")]
    Again {
        /// The key or number.
        found: String,
        /// Where the first stands.
        first: First,
    },
    /// A name for something that does not exist.
    #[error("found {found}, allowed {thing}")]
    Unknown {
        /// What it should name.
        thing: Thing,
        /// The name.
        found: Found,
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
    /// A bar and a stack, or the like, at one station.
    #[error("found {} and {}, allowed one of them", in_words(*first), in_words(*second))]
    TwoGears {
        /// The first.
        first: GearKind,
        /// The other.
        second: GearKind,
    },
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
    /// Something about what sets the load.
    #[error(transparent)]
    Gear(#[from] GearProblem),
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
    /// More stations are kept for members than there are.
    #[error("found {keep}, allowed at most {of}: so many stations are named")]
    KeepsTooMany {
        /// Stations that are kept.
        keep: u8,
        /// Stations that are named.
        of: usize,
    },
    /// All stations of an exercise are kept for members whenever the floor is open.
    #[error(
        "found all {of} stations kept whenever the floor is open, allowed fewer, or some hours only: no group could ever have one for {exercise}"
    )]
    KeepsAll {
        /// Stations that are kept.
        of: usize,
        /// The exercise.
        exercise: Key,
    },
    /// A setting that no station has where the exercise is done.
    #[error("found \"{found}\", allowed {}: what the stations of this exercise have", AnyOf(allowed))]
    NoSuchSetting {
        /// The setting.
        found: Key,
        /// What is set there.
        allowed: Vec<String>,
        /// The one that may be meant.
        meant: Option<String>,
    },
    /// A handle that a floor which counts its handles does not count.
    #[error("found \"{found}\", allowed {}: what floor.handles counts", AnyOf(allowed))]
    NoSuchHandle {
        /// The handle.
        found: Key,
        /// Those that are counted.
        allowed: Vec<Key>,
        /// The one that may be meant.
        meant: Option<String>,
    },
    /// Safety arms are accepted, and no station has any.
    #[error("found true, allowed false: no station has safety arms")]
    NoArms,
    /// Safety arms where there is no bar to catch.
    #[error("found safety arms at a station with {}, allowed at one with a bar", in_words(*.0))]
    ArmsWithoutBar(GearKind),
    /// More fields than a table of the file's own keys may have.
    #[error("found more than {most} fields, allowed {most}")]
    TooManyFields {
        /// How many it may have.
        most: usize,
    },
    /// Something about how a load is found.
    #[error(transparent)]
    Load(#[from] LoadProblem),
    /// Something about what was done before the journal.
    #[error(transparent)]
    Earlier(#[from] EarlierProblem),
    /// Something about times and days.
    #[error(transparent)]
    Times(#[from] TimesProblem),
    /// Something about a block as a whole.
    #[error(transparent)]
    Block(#[from] BlockProblem),
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
    /// No station of the floor has the gear of an exercise of the catalogue.
    #[error("found an exercise that needs {}, allowed one for the gear of a station: no station has {}", needs(*.0), in_words(*.0))]
    NoStationFor(GearKind),
    /// What is held in an exercise does not go with what sets its load.
    #[error("found \"{found}\", allowed {allowed} with the gear \"{gear}\"")]
    OtherImplement {
        /// What is held.
        found: &'static str,
        /// What sets the load.
        gear: &'static str,
        /// What goes with it.
        allowed: Allowed,
    },
    /// A spot rule that the movement of an exercise cannot have.
    #[error("found the spot rule \"{found}\" for the movement \"{movement}\", allowed {allowed}")]
    OtherSpot {
        /// The spot rule.
        found: &'static str,
        /// The movement.
        movement: &'static str,
        /// The spot rules it can have.
        allowed: Allowed,
    },
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
        load: Written,
        /// The exercise.
        exercise: Key,
        /// The gear of the exercise.
        gear: GearKind,
        /// The next lighter that can be set.
        below: Option<Written>,
        /// The next heavier that can be set.
        above: Option<Written>,
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
        loads: Vec<Written>,
    },
    /// An exercise with a bar or stack has no load.
    #[error("found nothing, allowed a load: this exercise uses {}", in_words(*.0))]
    LoadMissing(GearKind),
    /// An exercise without anything to set has a load.
    #[error("found a load, allowed none: this exercise has nothing to set")]
    LoadOnPlain,
    /// The technique set is heavier than the work, or has less help.
    #[error(
        "found {technique} for the technique set, allowed at {} the load of client {client}, {load}",
        if *helps { "least" } else { "most" }
    )]
    TechniqueHeavier {
        /// The load of the technique set.
        technique: Written,
        /// The client.
        client: u32,
        /// The client's load.
        load: Written,
        /// Whether more of it is easier there.
        helps: bool,
    },
    /// A client belongs to another group already.
    #[error(
        "found client {client}, who is in group {group} already, allowed one group a client, or groups whose times are apart"
    )]
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
    /// A station of the same file.
    Station,
    /// A station of the floor file, in a programme.
    StationOfFloor,
    /// A tree of plates of the floor.
    Tree,
    /// A rack of dumbbells of the floor.
    Rack,
    /// A coach of the floor.
    Coach,
    /// An exercise of the floor.
    Exercise,
    /// An exercise of the catalogue that needs no more words.
    Catalogue,
    /// The exercise that makes a pair with another.
    Opposing,
    /// A client of the programme.
    Client,
    /// A handle that an exercise of the floor wants.
    Handle,
    /// A time zone.
    Zone,
}

impl fmt::Display for Thing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Station => "the key of a [[station]] of this file",
            Self::StationOfFloor => "the key of a station in the floor file",
            Self::Tree => "the key of a [[tree]] of this file",
            Self::Rack => "the key of a [[rack]] of this file",
            Self::Coach => "the key of a coach in the floor file",
            Self::Exercise => "the key of an exercise in the floor file",
            Self::Catalogue => {
                "the key of an exercise of the catalogue, or a new one with name, gear, starts_with and spot"
            }
            Self::Opposing => "the key of an exercise of the catalogue or of this file",
            Self::Handle => "the handle of an [[exercise]] of this file or of the catalogue's that it names",
            Self::Client => "the number of a [[client]] of this file",
            Self::Zone => "an IANA time zone such as \"Europe/Berlin\"",
        })
    }
}

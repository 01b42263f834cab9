//! The files a floor is set up from: the floor file and the programme file.
//!
//! Both are TOML, written by hand. A file is read whole or not at all: as long as it is TOML, every mistake in
//! it is found in one go and told with its place, what stands there and what may stand there. The numbers
//! that the journal uses are given here, from the keys that people write.
//!
//! [`parse_floor`] and [`parse_programme`] are pure; [`read_pair`] only adds the disk, and [`report`] the picture
//! for a terminal. [`catalogue`] is the exercises that every floor can choose from, read by the same reader.
//! `server/examples/` holds a file of each kind with explanations.

mod about_fields;
mod allowed;
mod bar_table;
mod belt_table;
mod block_problem;
mod block_table;
mod catalogue;
mod check;
mod client_table;
mod coach_table;
mod document;
mod drop_set;
mod dumbbell_table;
mod duration;
mod earlier_problem;
mod earlier_table;
mod entered;
mod excerpt;
mod exercise_fields;
mod exercise_in_block;
mod exercise_table;
mod exercise_words;
mod fields;
mod findings;
mod fit;
mod floor_file;
mod form;
mod found;
mod gear_problem;
mod gear_table;
mod hint;
mod hours_table;
mod lines;
mod load_check;
mod load_problem;
mod load_rule;
mod loads_table;
mod max_table;
mod members;
mod mistake;
mod numbered_table;
mod numbers;
mod on_page;
mod own_table;
mod percent;
mod places;
mod plates_table;
mod policy_table;
mod prescribed;
mod problem;
mod programme_file;
mod rack_table;
pub mod report;
mod rounds;
pub mod rows;
mod session_times;
mod shared;
mod slip;
mod source;
mod spot;
mod spotters;
mod stack_table;
mod station_table;
mod suggest;
mod text_fields;
mod times_problem;
mod tree_table;
mod wants;
mod words;
mod written;

pub use allowed::Allowed;
pub use block_problem::BlockProblem;
pub use catalogue::{catalogue, parse_catalogue};
pub use check::{FilePair, read_pair};
pub use duration::{DurationError, parse_duration};
pub use earlier_problem::EarlierProblem;
pub use entered::{check_entered, document_of, parse_entered};
pub use floor_file::{FloorFile, parse_floor};
pub use found::Found;
pub use gear_problem::GearProblem;
pub use load_problem::{LoadProblem, NoRamp};
pub use load_rule::Load;
pub use mistake::{Mistake, Mistakes};
pub use problem::{Problem, Thing};
pub use programme_file::{ProgrammeFile, check_programme_alone, parse_programme};
pub use spot::{First, Place};
pub(crate) use suggest::meant;
pub use times_problem::TimesProblem;

/// Bounds of a file, each with its reason.
pub mod limits {
    /// Bytes of one file: the largest floor and evening of [`crate::floor::config::limits`] fit.
    pub const FILE_BYTES: u64 = 1024 * 1024;
    /// Tables and lists in each other: what the TOML reader takes; these files need five.
    pub const LEVELS: usize = 80;
    /// Mistakes told of one file: nobody mends more before trying again.
    pub const MISTAKES: usize = 100;
    /// Kinds of plates at one station: more than any set that is sold.
    pub const PLATE_KINDS: usize = 16;
    /// Plates of one mass at one station.
    pub const PLATES: u8 = 100;
    /// Millimetres of one sleeve: the longest bars have about 450.
    pub const SLEEVE_MM: u16 = 1_000;
    /// Millimetres of one plate: the thickest of rubber have about 100.
    pub const THICKNESS_MM: u16 = 150;
    /// Labels of one stack: the longest have about forty.
    pub const LABELS: u16 = 200;
    /// Kinds of small weights for one stack: nobody keeps more beside it.
    pub const ADD_ON_KINDS: usize = 4;
    /// Small weights of one kind for one stack.
    pub const ADD_ONS: u8 = 8;
    /// Masses of one rack of dumbbells: the longest racks have about forty.
    pub const RACK: usize = 100;
    /// Pairs of dumbbells of one mass.
    pub const PAIRS: u8 = 20;
    /// Metres from the corner of the floor to a station, either way.
    pub const METRES: f64 = 1_000.0;
    /// Seconds of get-set: longer, and the client stands under a load doing nothing.
    pub const GET_SET_SECS: u32 = 60;
    /// Seconds of wiping down before stations are free again.
    pub const WIPE_DOWN_SECS: u32 = 1_800;
    /// Opening hours of one day: nobody closes more often.
    pub const WINDOWS: usize = 6;
    /// Characters of one point of an exercise's set-up or of one caution: read at a glance from two metres.
    pub const SENTENCE: usize = 120;
    /// Points of a set-up: more is a lesson.
    pub const SET_UP_POINTS: usize = 8;
    /// Cautions of one exercise: more are not read.
    pub const CAUTIONS: usize = 4;
    /// Characters of a phase's word: it stands large in the pacer.
    pub const PHASE: usize = 12;
    /// Muscles in one part.
    pub const MUSCLES: usize = 16;
    /// Settings of a station that one exercise wants.
    pub const SETTINGS: usize = 8;
    /// Seconds until somebody is warned or stations lapse: two hours, longer than any session.
    pub const WAIT_SECS: u32 = 7_200;
    /// Characters of a label at a machine.
    pub const LABEL: usize = 12;
    /// Repetitions in reserve: more cannot be told. Common practice, no source.
    pub const RESERVE: u8 = 10;
    /// Earlier sets of one client: two each of a hundred exercises, more than anybody does.
    pub const EARLIER: usize = 200;
    /// Handles of one kind.
    pub const HANDLES_OF_A_KIND: u8 = 100;
    /// The highest number of a client or group: six digits can still be read off a display.
    pub const NUMBER: u32 = 999_999;
    /// Clients of one evening: every group full.
    pub const CLIENTS: usize = crate::floor::config::limits::GROUPS * crate::training::block::limits::CLIENTS;
}

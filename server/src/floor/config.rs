//! What a floor is and who trains on it, as its files say. Journaled, so that replay needs nothing else.
//!
//! People appear as numbers only; their names live in an erasable table.

mod shared;

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, Key, NoteId, StationId};
use turnabout_protocol::units::{Mass, MassUnit, Secs};
use turnabout_protocol::view::Emergency;

pub use self::shared::{Rack, Tree};
use super::hours::Hours;
use super::local_time::Minute;
use crate::loading::gear::Gear;
use crate::training::block::Block;
use crate::training::exercise::Exercise;
use crate::training::next::policy::Policy as LoadPolicy;
use crate::training::session::LastSet;

/// Bounds of a floor, each far above any real one.
pub mod limits {
    /// Stations of one floor.
    pub const STATIONS: usize = 500;
    /// Trees of plates of one floor: one for five stations.
    pub const TREES: usize = 100;
    /// Shared racks of dumbbells of one floor: one for five stations.
    pub const RACKS: usize = 100;
    /// Coaches of one floor.
    pub const COACHES: usize = 100;
    /// Exercises of one catalogue.
    pub const EXERCISES: usize = 500;
    /// Groups of one evening.
    pub const GROUPS: usize = 200;
    /// Characters of any name shown on a display: more cannot be read from metres away.
    pub const NAME: usize = 40;
    /// Characters of one emergency note.
    pub const NOTE: usize = 200;
    /// Settings of one station: more are not on any machine.
    pub const SETTINGS: usize = 8;
    /// Values of one setting: twice the holes of the longest rail.
    pub const VALUES: usize = 60;
    /// Kinds of handles of one floor.
    pub const HANDLES: usize = 50;
    /// Rules for members' stations of one floor.
    pub const MEMBER_RULES: usize = 20;
    /// Minutes of an absence or of other use.
    pub const MINUTES: u8 = 120;
}

/// One gym's training area.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Floor {
    /// Its name on displays.
    pub name: String,
    /// Its time zone, an IANA name.
    pub zone: String,
    /// What to do in an emergency.
    pub emergency: Emergency,
    /// Times that are the floor's own choice.
    pub settings: Settings,
    /// When it is open. Rows from before there were such hours read as always open, and a floor that always
    /// is writes none.
    #[serde(default, skip_serializing_if = "Hours::is_always")]
    pub hours: Hours,
    /// Its stations, by number.
    pub stations: BTreeMap<StationId, Station>,
    /// Plates that the bars of several stations share, by key. Rows from before there were such say nothing.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub trees: BTreeMap<Key, Tree>,
    /// Dumbbells that several stations share, by the rack's key. Rows from before there were such say nothing.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub racks: BTreeMap<Key, Rack>,
    /// Its coaches, by number.
    pub coaches: BTreeMap<CoachId, Coach>,
    /// Handles that cables share, and how many there are of each.
    #[serde(default)]
    pub handles: BTreeMap<Key, u8>,
    /// What the floor's manager has decided for everyone.
    #[serde(default)]
    pub policy: Policy,
    /// What is trained here, by number.
    pub exercises: BTreeMap<ExerciseId, Exercise>,
}

/// Times that are a floor's own choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// From GO to the count-in of a spotted set.
    pub get_set_spotted: Secs,
    /// From GO to the count-in of any other set.
    pub get_set: Secs,
    /// After the last set, until stations that nobody freed are free again.
    pub wipe_down: Secs,
    /// With nothing heard of a group that holds stations or waits for them, until its coach is warned.
    pub idle: Secs,
    /// From that warning until its stations are free again.
    pub lapse: Secs,
    /// From the planned start of a group of whom nobody has come, until its coach is warned.
    pub late: Secs,
    /// From that warning until the group counts as not coming.
    pub no_show: Secs,
}

impl Settings {
    /// The 3-2-1 before the first repetition.
    pub const COUNT_IN: Secs = Secs(3);
    /// What one NOT YET adds.
    pub const NOT_YET: Secs = Secs(30);
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            get_set_spotted: Secs(10),
            get_set: Secs(8),
            wipe_down: Secs(120),
            idle: Secs(600),
            lapse: Secs(300),
            late: Secs(600),
            no_show: Secs(600),
        }
    }
}

/// A place where one person works at a time.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Station {
    /// Its name in files and addresses.
    pub key: Key,
    /// Its name on displays.
    pub name: String,
    /// Where it stands, in centimetres east and north of a corner of the floor.
    pub at_cm: [i32; 2],
    /// What sets the load.
    pub gear: Gear,
    /// Whether another group may work in while it is reserved.
    #[serde(default)]
    pub sharing: Sharing,
    /// What can be set for a client: a seat, a notch.
    #[serde(default)]
    pub settings: Vec<Setting>,
    /// Whether it has safety arms.
    #[serde(default)]
    pub arms: bool,
}

/// Whether a second group may take turns on a reserved station.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sharing {
    /// It may.
    Open,
    /// It may if the group that has reserved it agrees.
    Ask,
    /// It may not.
    #[default]
    Never,
}

/// Something that is set at a station for each client.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Setting {
    /// Its name on displays.
    pub name: String,
    /// What it can be set to, as labelled there, in order.
    pub values: Vec<String>,
}

/// What the floor's manager has decided for everyone.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Policy {
    /// Stations kept for members.
    pub members: Vec<KeptForMembers>,
    /// The most stations that the groups of one coach may hold; absent: any number.
    pub stations_a_coach: Option<u16>,
    /// The most clients on the floor that one coach may have; absent: any number.
    pub clients_a_coach: Option<u16>,
    /// Whether safety arms may stand in for a spotter.
    pub arms_accepted: bool,
    /// What holds for clients whose screening is not in order.
    pub screening: ScreeningPolicy,
    /// What holds for next loads. Rows from before there were any read as the usual settings.
    #[serde(default, skip_serializing_if = "LoadPolicy::is_usual")]
    pub loads: LoadPolicy,
}

/// So many of some stations are not reserved at certain hours.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct KeptForMembers {
    /// Of these stations ...
    pub stations: BTreeSet<StationId>,
    /// ... so many stay unreserved ...
    pub keep: u8,
    /// ... at these hours.
    pub hours: Hours,
}

/// What holds for clients whose screening is missing, older than twelve months, or asks for a follow-up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ScreeningPolicy {
    /// The floor does not ask for a screening.
    #[default]
    NotAsked,
    /// A coach decides by name.
    CoachDecides,
    /// They do not train.
    Required,
}

/// A coach. The name is in the table of names.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Coach {
    /// The name in files and addresses. Kept for ever, so better not a person's own.
    pub key: Key,
    /// When the coach works; absent: whenever the floor is open.
    #[serde(default)]
    pub shift: Option<Shift>,
}

/// When a coach works, every day alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Shift {
    /// From this minute of the day ...
    pub from: Minute,
    /// ... to this one, later than the first.
    pub to: Minute,
}

/// Who trains what this evening.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Programme {
    /// The day it is for. Another day is another evening: every group starts anew.
    pub day: Option<Day>,
    /// The clients, by number.
    pub clients: BTreeMap<ClientId, Client>,
    /// The groups, by number.
    pub groups: BTreeMap<GroupId, GroupPlan>,
}

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Day {
    /// The year.
    pub year: u16,
    /// The month, 1 to 12.
    pub month: u8,
    /// The day of the month, from 1.
    pub day: u8,
}

/// A client. The name is in the table of names.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Client {
    /// Whether public displays may show the load.
    pub show_load: bool,
    /// Knows the exercises: needs no briefing.
    #[serde(default)]
    pub regular: bool,
    /// The health screening, of which only date and result are known.
    #[serde(default)]
    pub screening: Option<Screening>,
    /// The unit in which the client counts, where that is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<MassUnit>,
    /// The one-repetition maximum of each exercise of which it is known or was estimated.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub max: BTreeMap<ExerciseId, Mass>,
    /// What was done before the journal knows of anything, as somebody has written it down elsewhere.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub earlier: Vec<Earlier>,
}

/// The last set of one exercise that a client did at one station, on a day before the journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Earlier {
    /// Where: loads compare nowhere else.
    pub station: StationId,
    /// What.
    pub exercise: ExerciseId,
    /// When.
    pub day: Day,
    /// The set.
    pub set: LastSet,
}

/// A health screening: when, and with which result. Nothing else of it is ever kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Screening {
    /// The day of it.
    pub on: Day,
    /// Its result.
    pub result: ScreeningResult,
}

/// The result of a health screening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ScreeningResult {
    /// Nothing stands against training.
    Cleared,
    /// It asks for a follow-up.
    FollowUpNeeded,
}

/// A group and its session.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct GroupPlan {
    /// The coach who is responsible.
    pub coach: CoachId,
    /// Its clients, 1 to 4, in the order in which they go.
    pub clients: Vec<ClientId>,
    /// Its session.
    pub blocks: Vec<Block>,
    /// When it is to start, as a minute of the evening's day.
    #[serde(default)]
    pub starts: Option<Minute>,
    /// By when it must end, as a minute of the evening's day.
    #[serde(default)]
    pub ends: Option<Minute>,
}

/// A person with a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Person {
    /// A client.
    Client(ClientId),
    /// A coach.
    Coach(CoachId),
}

/// The names of people, from the erasable table; who is not in it is shown by number.
pub type Names = BTreeMap<Person, String>;

/// The texts of notes, from the erasable table; a note that is not in it was erased.
pub type Notes = BTreeMap<NoteId, String>;

impl Floor {
    /// A floor before its file has been read: no stations, nobody.
    #[must_use]
    pub fn unknown() -> Self {
        Self {
            name: String::new(),
            zone: "UTC".to_owned(),
            emergency: Emergency {
                number: String::new(),
                address: String::new(),
                defibrillator: String::new(),
                first_aid: String::new(),
            },
            settings: Settings::default(),
            hours: Hours::default(),
            stations: BTreeMap::new(),
            trees: BTreeMap::new(),
            racks: BTreeMap::new(),
            coaches: BTreeMap::new(),
            handles: BTreeMap::new(),
            policy: Policy::default(),
            exercises: BTreeMap::new(),
        }
    }

    /// The station of this key.
    #[must_use]
    pub fn station(&self, key: &Key) -> Option<StationId> {
        self.stations.iter().find(|(_, s)| s.key == *key).map(|(id, _)| *id)
    }

    /// The coach of this key.
    #[must_use]
    pub fn coach(&self, key: &Key) -> Option<CoachId> {
        self.coaches.iter().find(|(_, c)| c.key == *key).map(|(id, _)| *id)
    }
}

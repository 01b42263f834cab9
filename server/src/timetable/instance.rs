//! The planning problem: stations, coaches, groups and what is left to do, as format 2 of the instance files states
//! it. What a group's own changeover limit adds is the only thing that the files cannot say.
//!
//! Everything is named by its position in its list. All times are whole seconds on one axis, which begins with the
//! evening's first journal entry on a floor and anywhere the author likes in a file.

use turnabout_protocol::units::Secs;

/// An instant of the plan: whole seconds on the instance's axis.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct At(pub u32);

/// A span of time in which a station or a coach cannot be used: from `from` up to, not including, `to`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// Its first second.
    pub from: At,
    /// The first second after it; later than `from`.
    pub to: At,
}

/// A price that rises in steps: `(from, per second)`, ascending, so that each second beyond `from` costs that much up
/// to the next step. `[(0, 30), (15, 100)]`: 30 a second up to 15 s, 100 for each second beyond.
pub type Price = Vec<(Secs, u32)>;

/// What a second of each kind of trouble costs. The smaller the sum, the better the timetable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Weights {
    /// A rest beyond the longest one.
    pub overrun: Price,
    /// A second of waiting between two exercises beyond the walk.
    pub changeover_wait: u32,
    /// A second of a member's time from release to the last exercise.
    pub flow: u32,
    /// A second of the whole, from zero to the end of the last turn of all.
    pub makespan: u32,
    /// A plate or pin moved.
    pub handling: u32,
    /// A second of waiting beyond the limit that could not be kept because it had begun before now.
    pub late: u32,
    /// Waiting at the door, from release to the first start.
    pub door: Price,
    /// A second of finishing after one is due.
    pub tardy: u32,
    /// A second of a start that differs by more than 5 s from what was told.
    pub told: u32,
    /// Whether a next exercise may wait on purpose, as the job shops of the literature allow (`x_free_start`).
    pub free_start: bool,
}

/// The whole problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instance {
    /// Its name, which a timetable repeats.
    pub name: String,
    /// No turn starts before this.
    pub now: At,
    /// The prices.
    pub weights: Weights,
    /// How long one plate takes, on both sides in parallel.
    pub plate: Secs,
    /// How long the collars take at a change of plates.
    pub collar: Secs,
    /// How long it takes to move a pin.
    pub pin: Secs,
    /// The longest wait between two exercises beyond the walk; nothing: no limit.
    pub changeover_wait_max: Option<Secs>,
    /// The stations.
    pub stations: Vec<Station>,
    /// How long a client walks from one station to another: `walk[from][to]`.
    pub walk: Vec<Vec<Secs>>,
    /// The same for a coach.
    pub coach_walk: Vec<Vec<Secs>>,
    /// The coaches.
    pub coaches: Vec<Coach>,
    /// The groups.
    pub groups: Vec<Group>,
}

/// What is set at a station, and so what a change of it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StationKind {
    /// A bar with plates.
    Bar,
    /// A stack with a pin.
    Stack,
    /// Nothing to set.
    Plain,
}

/// A load of a bar or a stack.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Load {
    /// The plates of one side from the inside out, in grams.
    Plates(Vec<u32>),
    /// The label of a stack, in grams; where labels are mere numbers that number. Only whether it is another one counts.
    Label(u32),
}

/// A place that one client at a time uses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Station {
    /// What is set there.
    pub kind: StationKind,
    /// From when it is free.
    pub free_at: At,
    /// What is on it now; nothing: unknown, which counts as empty on a bar.
    pub load: Option<Load>,
    /// When it cannot be used: neither a turn nor a change overlaps these.
    pub busy: Vec<Window>,
    /// Whether a second group may take turns here while the first is not done.
    pub work_in: bool,
}

/// Somebody who spots.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Coach {
    /// From when they are free.
    pub free_at: At,
    /// Where they are; nothing: nobody knows, and the first walk is free.
    pub at: Option<usize>,
    /// When they cannot spot.
    pub busy: Vec<Window>,
}

/// One to four clients coached together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// The coach who spots them, where a round does not name another.
    pub coach: usize,
    /// Whether all members use the same stations.
    pub together: bool,
    /// For each leg, the stations that suit. At least one leg, at least one station each.
    pub eligible: Vec<Vec<usize>>,
    /// The shortest rest.
    pub rest_min: Secs,
    /// The longest rest that is good; nothing: no limit.
    pub rest_max: Option<Secs>,
    /// Members who have begun, next to start first.
    pub order: Vec<usize>,
    /// Stations that are this group's until its last turn there.
    pub holds: Vec<usize>,
    /// This group's own limit on the wait between two exercises, in place of the instance's. Files cannot say it.
    pub changeover_wait_max: Option<Option<Secs>>,
    /// The members, at least one.
    pub members: Vec<Member>,
}

/// One client of a group.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// No turn of theirs starts before this.
    pub release: At,
    /// When they would like to have finished.
    pub due: Option<At>,
    /// The station of each leg, where that is settled.
    pub stations: Option<Vec<usize>>,
    /// When their last whole round ended, if they have done one.
    pub last_round_end: Option<At>,
    /// Where they are inside a round, if they have begun one and not ended it.
    pub under_way: Option<UnderWay>,
    /// What is left, the round under way first.
    pub rounds: Vec<Round>,
}

impl Member {
    /// Whether they have begun: some of the order is then settled.
    #[must_use]
    pub const fn has_begun(&self) -> bool {
        self.last_round_end.is_some() || self.under_way.is_some()
    }
}

/// A member between two legs of a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnderWay {
    /// How many legs of the first remaining round are done, at least one.
    pub legs_done: usize,
    /// When the last of them ended.
    pub last_end: At,
}

/// One remaining round of one member.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Round {
    /// Its number in the block. Ascending; a gap is a round that the member misses.
    pub number: u32,
    /// Who spots in this round, where it is not the group's coach.
    pub coach: Option<usize>,
    /// The shortest rest before it, in place of the group's.
    pub rest_min: Option<Secs>,
    /// The longest good rest before it, in place of the group's; `Some(None)`: no limit.
    pub rest_max: Option<Option<Secs>>,
    /// It starts no earlier than this.
    pub not_before: Option<At>,
    /// What the member has been told of the start of each leg.
    pub told: Vec<Option<At>>,
    /// One turn for each leg of the group; nothing: this leg is skipped.
    pub legs: Vec<Option<Turn>>,
}

/// One client's set of one leg in one round.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Turn {
    /// How long it takes, at least a second.
    pub length: Secs,
    /// The load wanted; nothing: what is there stays.
    pub load: Option<Load>,
    /// When the coach is needed, in seconds after its start; nothing: not at all.
    pub spot: Option<Spot>,
}

/// The part of a turn that the coach is needed for, in seconds after its start.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// From here.
    pub from: Secs,
    /// Up to here, no later than the turn's end.
    pub to: Secs,
}

//! An answer to an instance: stations for every member and a start for every remaining turn.

use super::instance::At;

/// A timetable of one instance.
///
/// A group, a member, a round, a leg and a station are named by their position in the instance's lists, a round by
/// its position among the member's remaining rounds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timetable {
    /// The name of the instance it answers.
    pub instance: String,
    /// The station of each leg, by group and member: `stations[group][member][leg]`.
    pub stations: Vec<Vec<Vec<usize>>>,
    /// Every remaining round of every member, in no order that counts.
    pub turns: Vec<RoundStarts>,
    /// The rules that it cannot keep and by how much, one entry for each rule, round and leg. Empty where all are kept.
    pub breaches: Vec<Breach>,
}

/// When one round of one member goes, leg by leg.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoundStarts {
    /// The group's position.
    pub group: usize,
    /// The member's position in the group.
    pub member: usize,
    /// The round's position among those that the instance lists for this member.
    pub round: usize,
    /// A start for each leg; nothing for a leg that is skipped or was done before.
    pub starts: Vec<Option<At>>,
}

/// A rule that a timetable cannot keep, with the largest violation at this place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Breach {
    /// The rule's number, 1 to 7.
    pub rule: u8,
    /// The group's position.
    pub group: usize,
    /// The member's position in the group.
    pub member: usize,
    /// The round's position among the member's.
    pub round: usize,
    /// The leg's position in the group.
    pub leg: usize,
    /// How many seconds it is broken by.
    pub seconds: u32,
}

//! What can be wrong with a block of a programme as a whole: its exercises together, its rounds, its people.

use std::fmt;

use turnabout_protocol::ids::{ClientId, Key};
use turnabout_protocol::units::Secs;

use crate::floor::hours::Window;
use crate::floor::outlook::too_large::{OnTwo, TooLarge};

/// What is wrong with a block. Its text says what was found and what is allowed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum BlockProblem {
    /// The higher end of a range stands first.
    #[error("found {least}-{most}, allowed a range with its lower end first")]
    RangeOrder {
        /// What stands first.
        least: u8,
        /// What stands second.
        most: u8,
    },
    /// A list by round that has not one entry for each.
    #[error("found a list of {found}, allowed one for all rounds or a list of {rounds}, one for each round")]
    RoundsLength {
        /// Its entries.
        found: usize,
        /// The rounds of the block.
        rounds: u8,
    },
    /// The first exercise of a block in place of one before.
    #[error(
        "found true for the first exercise of a block, allowed from the second on: it has the station of the one before"
    )]
    FirstInPlace,
    /// An exercise in place that cannot be done where the one before is done.
    #[error("found {exercise} in place, allowed an exercise that can be done where {before} is done")]
    NowhereInPlace {
        /// The exercise.
        exercise: Key,
        /// The one before.
        before: Key,
    },
    /// Not enough stations suit the exercises of a block, however they are given out.
    #[error(
        "found exercises that need {needs} stations at once, allowed what the floor has: not so many suit them"
    )]
    TooFewStations {
        /// Stations that the block needs.
        needs: usize,
    },
    /// A block needs more stations than a policy lets any coach hold.
    #[error(
        "found exercises that need {needs} stations at once, allowed {most}: stations_a_coach in the floor file"
    )]
    MoreThanACoach {
        /// Stations that the block needs.
        needs: usize,
        /// What the policy says.
        most: u16,
    },
    /// A group is larger than a policy lets any coach have clients.
    #[error("found {clients} clients, allowed {most}: clients_a_coach in the floor file")]
    GroupTooLarge {
        /// Clients of the group.
        clients: usize,
        /// What the policy says.
        most: u16,
    },
    /// Of some stations a block needs more than are not kept for members whenever the floor is open.
    #[error(
        "found exercises that need {needs} of {of} stations of which {keep} are kept for members whenever the floor is open, allowed {left}: floor.policy.members in the floor file"
    )]
    KeptForMembers {
        /// Stations that the block needs of them.
        needs: usize,
        /// Stations that are left.
        left: usize,
        /// What the policy keeps.
        keep: u8,
        /// Of how many.
        of: usize,
    },
    /// A group that is larger than its rests allow on one pair of stations. No mistake: a floor may want it so.
    #[error(
        "group {group}, block {block}: on one pair of stations somebody rests at least {} s longer than the {} s allowed, whatever the order; {}",
        too_large.overrun.0, most.0, OnTwoPairs(too_large.split.as_ref())
    )]
    RestsTooLong {
        /// The group's number.
        group: u32,
        /// The block's place, from 1.
        block: usize,
        /// The longest rest of the block.
        most: Secs,
        /// By how much, and who could go together.
        too_large: TooLarge,
    },
    /// More handles than there are.
    #[error(
        "found exercises that want {needs} of the handle {handle}, allowed {count}: handles in the floor file"
    )]
    TooFewHandles {
        /// The handle.
        handle: Key,
        /// How many the block needs.
        needs: usize,
        /// How many there are.
        count: u8,
    },
    /// A spotted exercise at a time when nobody could spot.
    #[error(
        "found {exercise}, which is spotted, allowed what needs no spotter: nobody could be at the bar then"
    )]
    NobodyToSpot {
        /// The exercise.
        exercise: Key,
    },
    /// The coach of a group is not there while it trains.
    #[error("found {coach}, who is there {shift}, allowed a coach who is there {session}")]
    CoachAbsent {
        /// The coach.
        coach: Key,
        /// When that coach works.
        shift: Window,
        /// When the group trains, as far as it says.
        session: Window,
    },
}

impl BlockProblem {
    /// What may help, where something is likely to.
    pub(super) fn hint(&self) -> Option<String> {
        let hint = match self {
            Self::RangeOrder { least, most } => return Some(format!("write it as \"{most}-{least}\"")),
            Self::TooFewStations { .. } => "let one be done in place, or at other stations of the floor file",
            Self::MoreThanACoach { .. } => "take an exercise out, or let the floor file allow more",
            Self::KeptForMembers { .. } => {
                "take other exercises, or let the floor file keep fewer, or at some hours only"
            }
            Self::GroupTooLarge { .. } => "make two groups of them, or let the floor file allow more",
            Self::TooFewHandles { .. } => "take another exercise, or count the handles anew",
            Self::NobodyToSpot { .. } => {
                "have two in the group, safety arms that are accepted, or a coach there"
            }
            Self::RoundsLength { .. }
            | Self::RestsTooLong { .. }
            | Self::FirstInPlace
            | Self::NowhereInPlace { .. }
            | Self::CoachAbsent { .. } => return None,
        };
        Some(hint.to_owned())
    }
}

/// Who could go together on two pairs of stations, in words.
struct OnTwoPairs<'s>(Option<&'s OnTwo>);

impl fmt::Display for OnTwoPairs<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Some(OnTwo { clients: [one, other], overrun }) = self.0 else {
            return f.write_str("two pairs would not do better");
        };
        let told = |clients: &[ClientId]| {
            let numbers: Vec<String> = clients.iter().map(ToString::to_string).collect();
            numbers.join(" and ")
        };
        write!(f, "on two pairs, {} on one and {} on the other, ", told(one), told(other))?;
        match overrun.0 {
            0 => f.write_str("every rest can be kept"),
            secs => write!(f, "at least {secs} s longer"),
        }
    }
}

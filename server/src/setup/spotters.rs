//! Whether anybody could stand at a bar for a group.

use super::session_times::Session;
use crate::floor::config::{Coach, Floor};
use crate::floor::hours::Window;
use crate::training::exercise::Exercise;

/// Who could spot in a group's session.
pub(super) enum Spotters {
    /// Somebody: a coach who is there, or another client of the group whom the coach has passed.
    People,
    /// Nobody; safety arms could stand in where the floor accepts them.
    NobodyBut {
        /// Whether it does.
        arms: bool,
    },
}

impl Spotters {
    /// Who could spot a group of so many clients. A floor that could not be read may have anybody.
    pub(super) fn of(floor: Option<&Floor>, session: Session, clients: usize) -> Self {
        let Some(floor) = floor else { return Self::People };
        let there = |coach: &Coach| session.known().is_none_or(|session| is_there(coach, session));
        // Clients that could not be read have their own mistake.
        if clients != 1 || floor.coaches.values().any(there) {
            return Self::People;
        }
        Self::NobodyBut { arms: floor.policy.arms_accepted }
    }

    /// Whether somebody or something could keep the bar of this exercise off the lifter.
    pub(super) fn could_spot(&self, floor: Option<&Floor>, exercise: &Exercise) -> bool {
        match self {
            Self::People => true,
            Self::NobodyBut { arms: false } => false,
            Self::NobodyBut { arms: true } => {
                let mut stations = exercise.stations.iter();
                floor.is_none_or(|f| stations.any(|id| f.stations.get(id).is_some_and(|s| s.arms)))
            }
        }
    }
}

/// Whether some of a session lies in a coach's shift.
pub(super) fn is_there(coach: &Coach, session: Window) -> bool {
    coach.shift.is_none_or(|shift| shift.from < session.to() && session.from() < shift.to)
}

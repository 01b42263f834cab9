//! What the search changes: stations for every member, one sequence of all rounds, earliest starts.

use super::problem::Problem;

/// An order of the whole floor. Times follow from it: [`Decoder`](super::decode::Decoder) works them out.
#[derive(Debug, PartialEq, Eq, Hash)]
pub struct Order {
    /// The station of each leg of each member: `member * width + leg`.
    pub stations: Vec<u16>,
    /// Every remaining round once, a member's rounds in their order. Who comes earlier in here comes earlier at every
    /// station and coach that two rounds share.
    pub sequence: Vec<u32>,
    /// No start of that round before this instant, by round. Without it a sequence could not wait out a time in which
    /// a station cannot be used.
    pub delays: Vec<i32>,
}

impl Clone for Order {
    fn clone(&self) -> Self {
        let Self { stations, sequence, delays } = self;
        Self { stations: stations.clone(), sequence: sequence.clone(), delays: delays.clone() }
    }

    /// In place: a search takes over thousands of orders a second, and a derived `Clone` would allocate each of them anew.
    fn clone_from(&mut self, source: &Self) {
        let Self { stations, sequence, delays } = source;
        self.stations.clone_from(stations);
        self.sequence.clone_from(sequence);
        self.delays.clone_from(delays);
    }
}

impl Order {
    /// The station of a leg of a member.
    #[inline]
    #[must_use]
    pub fn station(&self, problem: &Problem, member: u16, leg: u8) -> u16 {
        self.stations[usize::from(member) * problem.width + usize::from(leg)]
    }
}

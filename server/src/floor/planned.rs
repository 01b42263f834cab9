//! What a plan says of the floor beyond what people have been told. No floor state: it is made anew with every plan and
//! handed to the views.

use super::outlook::admission::Admission;
use super::ribbon::PlannedSet;
use super::run_sheet::PlannedTurn;

/// What is planned and may still become something else.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Planned {
    /// The coming turns that a coach is needed for, in order of time.
    pub turns: Vec<PlannedTurn>,
    /// The coming sets of everybody who has stations, in order of time.
    pub sets: Vec<PlannedSet>,
    /// What stations groups without any could have, by group, the best first.
    pub admissions: Vec<Admission>,
}

/// Where nobody plans.
pub static NOTHING: Planned = Planned { turns: Vec::new(), sets: Vec::new(), admissions: Vec::new() };

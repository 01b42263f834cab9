//! A floor run by eye.

use crate::timetable::answer::Timetable;
use crate::timetable::build::by_eye;
use crate::timetable::decode::Decoder;
use crate::timetable::instance::Instance;
use crate::timetable::plan::timetable_of;
use crate::timetable::problem::Problem;

/// The most clients at a pair of stations where an experienced coach seats them.
pub const CAP: usize = 3;

/// Whoever is ready first goes first, at the earliest second that station and coach allow, with real lengths.
///
/// By eye nobody sees that a client will have to wait between two exercises, so the limit of that wait holds nobody
/// back here, and what is beyond it is priced like any other wait. That a set does not fit before a station or a coach
/// goes away is seen, a little better than anybody could.
pub(super) fn run(real: &Instance, cap: usize) -> Timetable {
    let mut unlimited = real.clone();
    unlimited.changeover_wait_max = None;
    for group in &mut unlimited.groups {
        group.changeover_wait_max = None;
    }
    let problem = Problem::new(&unlimited);
    let mut decoder = Decoder::new(&problem);
    let order = by_eye(&problem, &mut decoder, cap);
    timetable_of(real, &problem, &order, |op| decoder.start(op))
}

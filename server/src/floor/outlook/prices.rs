//! What a second of each kind of trouble costs, and how long hands take. Chosen by planning many evenings with them:
//! a straight price of overrun makes plans that let people stand at a free station, and one without a price for
//! waiting at the door parks whole groups there.

use turnabout_protocol::units::Secs;

use crate::timetable::instance::Weights;

/// One plate on or off, both sides in parallel. Common practice, no source; so are the two below.
pub(super) const PLATE: Secs = Secs(4);
/// Collars off and on at a change of plates.
pub(super) const COLLAR: Secs = Secs(4);
/// Moving a pin.
pub(super) const PIN: Secs = Secs(3);
/// The longest wait between two exercises beyond the walk, where a block says nothing else.
pub(super) const CHANGEOVER_WAIT: Secs = Secs(15);

pub(super) fn weights() -> Weights {
    Weights {
        overrun: vec![(Secs(0), 30), (Secs(15), 100), (Secs(45), 300)],
        changeover_wait: 60,
        flow: 10,
        makespan: 10,
        handling: 1,
        late: 1_000,
        door: vec![(Secs(300), 20)],
        tardy: 20,
        told: 20,
        free_start: false,
    }
}

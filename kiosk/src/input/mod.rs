//! What hands do at a display, decided purely: which touch counts, what four keys reach, and when the screen is being
//! wiped.
//!
//! No clock and no window: every time is an argument, in milliseconds of the display's own time. [`choices`] lists what
//! can be pressed on what is drawn, once for fingers and keys; [`Hands`] takes touches and keys and says what is meant.

mod choices;
mod hands;
mod mark;
mod row;
mod says;
mod touch;
mod wipe;

pub use choices::{Choice, Does, Page, Seen, choices, setup_choices};
pub use hands::{Drawn, HELD_MS, Hands, PAGE_MS};
pub use mark::{FourKey, MARK_MS, Mark};
pub use row::{Control, Row, calls, pages, row};
pub use says::Says;
pub use touch::{APART_MS, LONGEST_MS, MOST_PLACES, SETTLED_MS, SHORTEST_MS, Touch, WET_MS};
pub use wipe::{WIPE_MS, Wipe};

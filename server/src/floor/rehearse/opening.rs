//! A floor and a programme as a server begins with them.

use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use crate::floor::changes;
use crate::floor::config::{Day, Floor, Programme};
use crate::floor::event::{Entry, Event};
use crate::floor::evolve::evolve;
use crate::floor::hours::Hours;
use crate::floor::local_time::{Minute, days_from_civil};
use crate::floor::state::State;

/// Milliseconds of a day and of a minute.
const DAY: i64 = 86_400_000;
const MINUTE: i64 = 60_000;

/// A floor that is about to open; floor time is zero.
#[derive(Clone, Debug)]
pub struct Opening {
    /// The first entries of its journal.
    pub entries: Vec<Entry>,
    /// What they lead to.
    pub state: State,
    /// When the first session is to start, where the programme has a day: floor time begins then.
    pub first: Option<Minute>,
}

impl Opening {
    /// Of a floor and its programme, by the events with which a server starts. Where nobody knows when it is, what goes
    /// by the time of day is left aside: opening hours and shifts.
    #[must_use]
    pub fn of(mut floor: Floor, programme: Programme) -> Self {
        let first = programme.groups.values().filter_map(|plan| plan.starts).min();
        let clock = programme.day.zip(first);
        if clock.is_none() {
            floor.hours = Hours::default();
            floor.coaches.values_mut().for_each(|coach| coach.shift = None);
        }
        let first = clock.map(|(_, first)| first);
        let mut opening = Self { entries: Vec::new(), state: State::new(), first };
        if let Some((day, first)) = clock {
            opening.happen(at_the_floor(day, first));
        }
        // Nothing is in use yet that these could take away.
        let set = changes::set_floor(&opening.state, floor).ok().flatten();
        set.into_iter().for_each(|event| opening.happen(event));
        let set = changes::set_programme(&opening.state, programme).ok().flatten();
        set.into_iter().for_each(|event| opening.happen(event));
        opening
    }

    fn happen(&mut self, event: Event) {
        let (at, sequence) = (FloorMs(0), self.state.sequence + 1);
        let entry = Entry { sequence, recorded: at, at, by: Actor::Floor, event };
        evolve(&mut self.state, &entry);
        self.entries.push(entry);
    }
}

/// Floor time begins with the first session. Clocks at the floor count as UTC, for nothing is asked of them but the time
/// of day.
fn at_the_floor(day: Day, first: Minute) -> Event {
    let utc_ms = days_from_civil(day) * DAY + i64::from(first.minutes()) * MINUTE;
    Event::ClockMapped { utc_ms, offset_secs: 0 }
}

//! One state for all that nobody can tell apart: instants relative to now and no older than they matter,
//! and nothing that only displays and reports read.
//!
//! Every struct is taken apart field by field, so that a new field does not compile before somebody has said
//! here what it does.

use std::hash::{Hash, Hasher};

use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_server::floor::state::{
    AtBar, CallNow, Claim, ClientNow, ClockMapping, GroupNow, Halt, LegNow, SetRecord, Stamp, State,
    StationNow, UnderWay,
};

use crate::clock::NOW;
use crate::floor::LONG_OVER;

/// Who did something and when is said in answers and reports; nothing is decided by it. That the floor
/// itself did not is looked at before.
const STAMP: Stamp = Stamp { by: Actor::Manager, when: NOW };

/// The same floor as if `now` were [`NOW`].
pub(crate) fn canonical(state: &mut State, now: FloorMs) {
    let passed = now.since(NOW);
    let State { sequence, recorded, floor: _, programme, clock, stations, groups, calls, last_call } = state;
    // Only count and date entries.
    (*sequence, *recorded) = (0, NOW);
    // Only displays and reports read the wall clock.
    *clock = ClockMapping::default();
    for StationNow { claim: _, on: _, load: _, confirmed } in stations.values_mut() {
        stamp(confirmed.as_mut());
    }
    for (id, now) in groups.iter_mut() {
        let block = programme.groups.get(id).and_then(|plan| plan.blocks.get(usize::from(now.block)));
        let rest = block.map_or(Secs(0), |block| block.rest_min);
        let legs = block.map_or(1, |block| block.legs.len());
        group(now, legs, rest.millis(), passed);
    }
    // Numbers of calls grow for ever; only which are open matters, and at most one is in the model.
    *last_call = u32::try_from(calls.len()).unwrap();
    let open = std::mem::take(calls).into_values();
    *calls = (1..).map(turnabout_protocol::ids::CallId).zip(open).collect();
    for CallNow { station: _, kind: _, made } in calls.values_mut() {
        *made = STAMP;
    }
}

fn group(now: &mut GroupNow, legs: usize, rest: Millis, passed: Millis) {
    let GroupNow { revision, block: _, claim, wipe_down, halt, clients } = now;
    // Every tap of the model names the revision of the moment, or a later one.
    *revision = 0;
    if let Some(Claim { stations: _, taken }) = claim {
        *taken = STAMP;
    }
    *wipe_down = wipe_down.map(|since| since - passed);
    if let Some(Halt { kind: _, since }) = halt {
        *since = STAMP;
    }
    for now in clients.values_mut() {
        client(now, legs, rest, passed);
    }
}

fn client(now: &mut ClientNow, legs: usize, rest: Millis, passed: Millis) {
    let ClientNow { sets, current, legs: of_legs, put_off, spotter, down } = now;
    let count = sets.len();
    for (place, record) in sets.iter_mut().enumerate() {
        // A rest is measured from the last set before a working round; of all others only the number counts.
        let rest_follows = place + 1 == count && count % legs == 0 && count / legs > 1;
        let matters = rest_follows && current.is_none_or(|u| u.starts - passed > NOW);
        self::record(record, rest, matters, passed);
        if place + 1 < count {
            // Said at the end or later; only the last set is asked about in the model.
            (record.reps, record.effort) = (0, None);
        }
    }
    if let Some(set) = current {
        under_way(set, passed);
    }
    for LegNow { load: _, technique_load: _, passed } in of_legs {
        stamp(passed.as_mut());
    }
    // NOT YET moves what displays say, never what is accepted; the same holds for changeover limits.
    (*put_off, *down) = (None, Millis(0));
    if let Some(AtBar { coach: _, said }) = spotter {
        *said = STAMP;
    }
}

/// A rest that is over is over, however long it has been.
fn record(record: &mut SetRecord, rest: Millis, matters: bool, passed: Millis) {
    let SetRecord { started, ended, reps: _, load, effort: _, done } = record;
    let oldest = NOW - rest;
    *ended = if matters { (*ended - passed).max(oldest) } else { oldest };
    (*started, *load, *done) = (*ended, None, STAMP);
}

fn under_way(set: &mut UnderWay, passed: Millis) {
    let UnderWay {
        turn: _,
        station: _,
        went,
        count_in,
        starts,
        ends,
        reps: _,
        load: _,
        spotter: _,
        assumed: _,
    } = set;
    *went = STAMP;
    // Past the first repetition only that it is past matters; a done tap happens now.
    *starts = (*starts - passed).max(NOW);
    *count_in = *starts;
    *ends = (*ends - passed).max(NOW - LONG_OVER);
}

fn stamp(stamp: Option<&mut Stamp>) {
    if let Some(stamp) = stamp {
        *stamp = STAMP;
    }
}

/// Hashes what can differ between two canonical states of one evening: floor and programme do not change.
pub(crate) fn hash(state: &State, hasher: &mut impl Hasher) {
    let State {
        sequence: _,
        recorded: _,
        floor: _,
        programme: _,
        clock: _,
        stations,
        groups,
        calls,
        last_call,
    } = state;
    (stations, groups, calls, last_call).hash(hasher);
}

//! One state for all that nobody can tell apart: instants relative to now and no older than they matter,
//! and nothing that only displays, reports and taking back read.
//!
//! Every struct is taken apart field by field, so that a new field does not compile before somebody has said
//! here what it does.

use std::hash::{Hash, Hasher};

use turnabout_protocol::ids::{CallId, ClientId, GroupId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::{
    Answer, Ask, AtBar, Away, Before, CallNow, Claim, ClientNow, ClockMapping, CoachNow, GroupNow, Halt,
    Leave, LegNow, Missing, Offer, OtherUse, OutOfService, Presence, RestCut, SetOver, SetRecord, Stamp,
    State, StationNow, UnderWay,
};

use crate::clock::NOW;
use crate::floor::{FAR, LONG_OVER};

/// Who did something and when is said in answers and reports; nothing is decided by it. That the floor
/// itself did not say GO is looked at before.
const STAMP: Stamp = Stamp { by: Actor::Manager, when: NOW };

/// Before everything that happens now.
const BEFORE: FloorMs = FloorMs(NOW.0 - 1);

/// How instants are moved, and how old they can be and still matter.
#[derive(Clone, Copy)]
struct Ages {
    passed: Millis,
    /// How long a group may be silent: the latest instant at which anything happened to it counts so long.
    /// Nothing where a floor never gives anybody up within an evening.
    silence: Millis,
    /// How long after its warning a silent group is given up.
    lapse: Millis,
    /// The shortest rest of the group's block.
    rest: Millis,
}

impl Ages {
    /// An instant of which only what happened lately counts.
    fn moved(self, at: FloorMs, counts: Millis) -> FloorMs {
        (at - self.passed).max(NOW - counts)
    }

    fn heard(self, at: FloorMs) -> FloorMs {
        self.moved(at, self.silence)
    }
}

/// The same floor as if `now` were [`NOW`].
pub(crate) fn canonical(state: &mut State, now: FloorMs) {
    let passed = now.since(NOW);
    let idle = state.floor.settings.idle.millis();
    let lapse = state.floor.settings.lapse.millis();
    let silence = if idle < FAR { idle } else { Millis(0) };
    let last_rests: Vec<_> = state.groups.keys().map(|id| rests_from(state, *id, now)).collect();
    let State {
        sequence,
        recorded,
        floor: _,
        programme,
        // Nobody enters another programme in the model.
        source: _,
        // An evening of the model is not planned, so nothing asks when it began.
        began: _,
        clock,
        stations,
        // No station of the model shares its plates.
        trees: _,
        groups,
        coaches,
        line,
        // What is told comes from a plan, and the model has none.
        promises: _,
        // Kept from evening to evening, and set by no tap of the model.
        settings: _,
        // Of earlier evenings; the model plays one.
        visits: _,
        paces: _,
        calls,
        last_call,
        notes,
        last_note,
        news,
    } = state;
    // What is told of the evening is for those who read a board.
    news.clear();
    // Only counts and dates entries.
    (*sequence, *recorded) = (0, NOW);
    // Only opening hours and planned starts are told by the wall clock, and evenings of the model have none.
    *clock = ClockMapping::default();
    stations.values_mut().for_each(|now| station(now, passed));
    for ((id, now), rests) in groups.iter_mut().zip(last_rests) {
        let block = programme.groups.get(id).and_then(|plan| plan.blocks.get(usize::from(now.block)));
        let rest = block.map_or(Millis(0), |block| block.rest_min.millis());
        group(now, &rests, Ages { passed, silence, lapse, rest });
    }
    for CoachNow { away } in coaches.values_mut() {
        if let Some(Away { until, said }) = away {
            (*until, *said) = (*until - passed, STAMP);
        }
    }
    for Ask { group: _, block: _, asked } in line {
        *asked = STAMP;
    }
    // Numbers grow for ever; only which calls are open matters, and at most one is in the model.
    *last_call = u32::try_from(calls.len()).unwrap();
    let open = std::mem::take(calls).into_values();
    *calls = (1..).map(CallId).zip(open).collect();
    for CallNow { station: _, kind: _, made, answered } in calls.values_mut() {
        *made = STAMP;
        // A coach who is on the way spots nobody.
        *answered = answered.map(|answered| Stamp { when: NOW, ..answered });
    }
    notes.clear();
    *last_note = 0;
}

/// For each client the place of the set from which the rest before the coming round counts. A set of the round under
/// way is one, too: the rest counts from it where what is left of the round is left out.
fn rests_from(state: &State, id: GroupId, now: FloorMs) -> Vec<Option<usize>> {
    let Some(hand) = InHand::of(state, id) else { return Vec::new() };
    let legs = hand.block.legs.len();
    let of = |(client, of): (&ClientId, &ClientNow)| {
        // Once a set has begun, the rest before it is past, and the next one counts from its own end.
        let counting_in = of.current.filter(|set| set.starts > now).map(|set| set.turn);
        let coming = counting_in.or_else(|| hand.next(*client).filter(|_| of.current.is_none()))?;
        let before = usize::from(coming.round) * legs + usize::from(coming.leg);
        let worked = |place: &usize| *place >= legs && *place < before;
        let mut done = (0..of.sets.len()).rev().filter(|place| of.sets[*place].done().is_some());
        done.find(worked)
    };
    hand.group.clients.iter().map(of).collect()
}

fn station(now: &mut StationNow, passed: Millis) {
    let StationNow {
        claim: _,
        work_in: _,
        leave,
        on: _,
        load: _,
        plates: _,
        missing,
        confirmed,
        set_to: _,
        other_use,
        out,
    } = now;
    stamp(confirmed.as_mut());
    if let Some(Leave { group: _, said }) = leave {
        *said = STAMP;
    }
    if let Some(OtherUse { until, said }) = other_use {
        (*until, *said) = (*until - passed, STAMP);
    }
    for Missing { plate: _, count: _, said } in missing {
        *said = STAMP;
    }
    if let Some(OutOfService { defect: _, said }) = out {
        *said = STAMP;
    }
}

fn group(now: &mut GroupNow, rests: &[Option<usize>], ages: Ages) {
    let GroupNow {
        coach: _,
        offer,
        handed,
        revision,
        block: _,
        blocks: _,
        rounds: _,
        claim,
        ahead,
        wipe_down,
        halt,
        heard,
        warned,
        no_show: _,
        // Only a planned start moves by it.
        down,
        clients,
        past,
    } = now;
    if let Some(Offer { to: _, asks: _, said }) = offer {
        *said = STAMP;
    }
    // Whoever agrees twice is told so, and nothing comes of it.
    *handed = None;
    // Every tap of the model names the revision of the moment, or a later one.
    *revision = 0;
    for Claim { stations: _, taken, loads: _ } in [claim, ahead].into_iter().flatten() {
        *taken = Stamp { when: ages.heard(taken.when), ..STAMP };
    }
    // While somebody needs help nothing is given back, however long that takes.
    *wipe_down = wipe_down.map(|since| (since - ages.passed).max(NOW - LONG_OVER));
    halted(halt);
    *heard = ages.heard(*heard);
    *warned = warned.map(|warned| ages.moved(warned, ages.lapse));
    *down = Millis(0);
    // Only corrections read what was done in earlier blocks.
    past.clear();
    for (place, now) in clients.values_mut().enumerate() {
        client(now, rests.get(place).copied().flatten(), ages);
    }
}

fn client(now: &mut ClientNow, rest_from: Option<usize>, ages: Ages) {
    let ClientNow {
        presence,
        before: Before { warmed_up, briefed, screening },
        spots,
        halt,
        sets,
        again,
        current,
        last,
        legs,
        extra: _,
        late: _,
        put_off,
        rest_cut,
        as_rest,
        spotter,
        down,
    } = now;
    match presence {
        Presence::Expected => {}
        Presence::Here(stamp) | Presence::Left(stamp) => {
            *stamp = Stamp { when: ages.heard(stamp.when), ..STAMP };
        }
    }
    spots.values_mut().for_each(|passed| *passed = STAMP);
    stamp(warmed_up.as_mut());
    stamp(briefed.as_mut());
    stamp(as_rest.as_mut());
    stamp(screening.as_mut().map(|(_, stamp)| stamp));
    halted(halt);
    let count = sets.len();
    for (place, set) in sets.iter_mut().enumerate() {
        let last = place + 1 == count;
        // Of a group that can be given up the last set of each client is the last that was heard.
        let counts = rest_from == Some(place) || (last && ages.silence > Millis(0));
        set_over(set, counts, last, ages);
    }
    for (_, record) in again {
        self::record(record, true, false, ages);
    }
    if let Some(set) = current {
        under_way(set, ages);
    }
    // Only taking back reads it.
    *last = None;
    for leg in legs {
        let LegNow {
            instead: _,
            elsewhere: _,
            loads: _,
            technique_load: _,
            ramp: _,
            ramped: _,
            first: _,
            works: _,
            settled,
            passed,
            again: _,
            dropped,
        } = leg;
        stamp(settled.as_mut().map(|settled| &mut settled.said));
        stamp(passed.as_mut());
        stamp(dropped.as_mut().map(|(stamp, _)| stamp));
    }
    // NOT YET moves what displays say and from when on silence counts, never what is accepted.
    *put_off = put_off.map(|until| ages.heard(until)).filter(|_| ages.silence > Millis(0));
    if let Some(RestCut { least: _, reason: _, said }) = rest_cut {
        *said = STAMP;
    }
    if let Some(AtBar { who: _, lift_off: _, said }) = spotter {
        *said = STAMP;
    }
    // Changeover limits are said, not kept.
    *down = Millis(0);
}

fn set_over(set: &mut SetOver, counts: bool, last: bool, ages: Ages) {
    match set {
        SetOver::Done(record) => self::record(record, counts, last, ages),
        SetOver::Skipped { said, reason: _ } => *said = STAMP,
        SetOver::Missed => {}
    }
}

/// A rest that is over is over, however long it has been. `counts`: whether the instant may still matter;
/// `last`: whether people may still say something of the set.
fn record(record: &mut SetRecord, counts: bool, last: bool, ages: Ages) {
    let SetRecord {
        exercise: _,
        station: _,
        work: _,
        started,
        ended,
        reps,
        load,
        effort,
        ending,
        spotter,
        short_rest,
        put_off,
        ramp,
        done,
    } = record;
    // Silence counts from the end of a rest.
    let oldest = ages.rest + ages.silence;
    *ended = if counts { ages.moved(*ended, oldest) } else { BEFORE - oldest };
    (*started, *spotter, *short_rest, *done) = (*ended, None, None, STAMP);
    // Only sheets of paper read them.
    (*put_off, *ramp) = (None, false);
    *load = Answer::new(None, STAMP);
    *ending = Answer::new(ending.now(), STAMP);
    // Said at the end or later; only the last set is asked about in the model.
    *reps = Answer::new(if last { reps.now() } else { Some(0) }, STAMP);
    *effort = Answer::new(effort.now().filter(|_| last), STAMP);
}

fn under_way(set: &mut UnderWay, ages: Ages) {
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
        lift_off,
        short_rest: _,
        put_off,
        assumed: _,
        stopped: _,
    } = set;
    *went = STAMP;
    // Past the first repetition only that it is past matters; a done tap happens now.
    *starts = ages.moved(*starts, Millis(0));
    // Until then it can be called off, and what was put off is so again.
    *put_off = put_off.filter(|_| *starts > NOW && ages.silence > Millis(0)).map(|until| ages.heard(until));
    if *lift_off && *starts <= NOW {
        // Whoever was let off may have gone to another bar since: that one began later.
        (*starts, went.when) = (BEFORE, BEFORE);
    }
    *count_in = *starts;
    *ends = ages.moved(*ends, LONG_OVER.max(ages.silence));
}

fn halted(halt: &mut Option<Halt>) {
    if let Some(Halt { kind: _, since }) = halt {
        *since = STAMP;
    }
}

fn stamp(stamp: Option<&mut Stamp>) {
    if let Some(stamp) = stamp {
        *stamp = STAMP;
    }
}

/// Hashes what can differ between two canonical states of one evening.
pub(crate) fn hash(state: &State, hasher: &mut impl Hasher) {
    let State {
        sequence: _,
        recorded: _,
        // Floor and programme do not change within an evening of the model.
        floor: _,
        programme: _,
        source: _,
        began: _,
        clock: _,
        stations,
        trees: _,
        groups,
        coaches,
        line,
        promises: _,
        settings,
        visits: _,
        paces: _,
        calls,
        last_call,
        notes: _,
        last_note: _,
        news: _,
    } = state;
    (stations, groups, coaches, line, settings, calls, last_call).hash(hasher);
}

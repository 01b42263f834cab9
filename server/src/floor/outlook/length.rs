//! How long a turn takes: from GO to the moment at which the next client can have the station.
//!
//! **The end of a turn is the tap that says that it is over.** It is made when the weight is racked, and from then on
//! the station, whoever spots and the client are free: the floor gives the station to the next at once, and counts the
//! rest from there. So what is planned after GO is lead, work and [`RACKED`]; of a set that is over nothing is to come
//! any more, and a rest is shorter only by the lead of the set after it. What clients are measured by ([`pace`]) is
//! their work alone, without [`RACKED`].

use turnabout_protocol::ids::{ClientId, TurnId};
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::work::Work;

use crate::floor::config::{Floor, Settings};
use crate::floor::in_hand::InHand;
use crate::floor::pace::{self, Pace};
use crate::floor::state::{State, UnderWay};
use crate::training::block::{Leg, Prescription, working_time};

/// From the last repetition until the weight is racked and somebody has said so. Common practice, no source.
pub const RACKED: Secs = Secs(4);
/// A set that is overdue ends this long from now, again and again.
pub const OVERDUE: Secs = Secs(3);

/// The planned length of a set: getting in and lifting off, which on a floor is get set and the 3-2-1; its work, at the
/// client's own [`pace`] once that is known; and [`RACKED`].
pub(super) fn of(hand: &InHand<'_>, turn: TurnId) -> Secs {
    let set = hand.prescribed(turn).zip(hand.work(turn)).zip(hand.leg(turn));
    let working = set.map_or(Millis::default(), |((prescribed, set), leg)| {
        let exercise = hand.exercise(turn).map_or(leg.exercise, |exercise| exercise.id);
        work(leg, prescribed, set, || pace::of(hand.state, turn.client, exercise))
    });
    whole(hand.lead(turn) + working + RACKED.millis())
}

/// The same of a working round of a plan that nobody has begun; `pace` is the client's in this exercise. Nothing where
/// the client has no such set or the floor no such exercise.
pub(super) fn planned(
    floor: &Floor,
    leg: &Leg,
    (client, round): (ClientId, u8),
    pace: impl FnOnce() -> Option<Pace>,
) -> Option<Secs> {
    let prescribed = leg.sets.get(&client)?;
    let working = work(leg, prescribed, prescribed.target(round)?.work, pace);
    Some(whole(lead(floor, leg)? + working + RACKED.millis()))
}

/// From GO to the first repetition of a set of a plan: get set, then 3-2-1.
pub(super) fn lead(floor: &Floor, leg: &Leg) -> Option<Millis> {
    let spotted = floor.exercises.get(&leg.exercise)?.spotted();
    let get_set = if spotted { floor.settings.get_set_spotted } else { floor.settings.get_set };
    Some(get_set.millis() + Settings::COUNT_IN.millis())
}

/// How long the work of a set takes. A hold lasts as long as the clock says, whatever the pace.
fn work(leg: &Leg, prescribed: &Prescription, work: Work, pace: impl FnOnce() -> Option<Pace>) -> Millis {
    let rule = working_time(prescribed.tempo, work, leg.per_side);
    match work {
        Work::Reps { .. } => pace().map_or(rule, |pace| pace.of(rule)),
        Work::Hold { .. } => rule,
    }
}

/// When a set under way should be racked: its work takes as long as was planned before GO.
pub(in crate::floor) fn racked(state: &State, set: &UnderWay) -> FloorMs {
    let rule = set.ends.since(set.starts);
    let hand = InHand::of(state, set.turn.group);
    let reps = hand.filter(|hand| matches!(hand.work(set.turn), Some(Work::Reps { .. })));
    let exercise = reps.and_then(|hand| Some(hand.exercise(set.turn)?.id));
    let pace = exercise.and_then(|exercise| pace::of(state, set.turn.client, exercise));
    set.starts + pace.map_or(rule, |pace| pace.of(rule)) + RACKED
}

/// When the station of a set under way can be had: when it should be [`racked`], or, where that is past, [`OVERDUE`]
/// from now.
pub(super) fn over(state: &State, set: &UnderWay, now: FloorMs) -> FloorMs {
    let racked = racked(state, set);
    if racked > now { racked } else { now + OVERDUE }
}

/// When the client of a set under way can have left its station; the same of a set that is over.
pub(super) fn left(state: &State, turn: TurnId, now: FloorMs) -> Option<FloorMs> {
    let current = state.groups.get(&turn.group)?.clients.get(&turn.client)?.current;
    current.filter(|current| current.turn == turn).map(|current| over(state, &current, now))
}

/// A span in whole seconds, rounded up; at least one.
pub(super) fn whole(span: Millis) -> Secs {
    Secs(u32::try_from(span.ceil_secs().clamp(1, 86_400)).unwrap_or(1))
}

/// A rest as the plan sees it, where turns begin with GO: shorter by what comes between that and the first repetition.
pub(super) fn rest(rest: Secs, lead: Millis) -> Secs {
    Secs(rest.0.saturating_sub(u32::try_from(lead.ceil_secs()).unwrap_or_default()))
}

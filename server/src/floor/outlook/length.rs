//! How long a turn takes: from GO to the moment at which the next client can have the station.
//!
//! **The end of a turn is the tap that says that it is over.** It is made when the weight is racked, and from then on
//! the station, whoever spots and the client are free: the floor gives the station to the next at once, and counts the
//! rest from there. So what is planned after GO is lead, work and [`RACKED`]; of a set that is over nothing is to come
//! any more, and a rest is shorter only by the lead of the set after it. What clients are measured by ([`pace`]) is
//! their work alone, without [`RACKED`].
//!
//! How long work and racking take is asked of [`Lengths`] alone, so that a rehearsal can plan with what nobody can know.

use std::fmt::Debug;

use turnabout_protocol::ids::{ClientId, TurnId};
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::work::Work;

use super::ground::Ground;
use crate::floor::config::{Floor, Settings};
use crate::floor::in_hand::InHand;
use crate::floor::pace::{self, Pace};
use crate::floor::state::UnderWay;
use crate::training::block::{Leg, working_time};

/// From the last repetition until the weight is racked and somebody has said so. Common practice, no source.
pub const RACKED: Secs = Secs(4);
/// A set that is overdue ends this long from now, again and again.
pub const OVERDUE: Secs = Secs(3);

/// A set as far as its length goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SetWork {
    /// Which.
    pub turn: TurnId,
    /// Of light sets beside the order, which all have the name of the one in order: its number, from 1. 0 is in order.
    pub beside: usize,
    /// How long the work is prescribed to last.
    pub rule: Millis,
}

/// What is known ahead of how long sets last.
pub trait Lengths: Debug + Send + Sync {
    /// From the first repetition of a set until the weight is racked and somebody has said so.
    fn lasts(&self, hand: &InHand<'_>, set: SetWork) -> Millis;
}

/// What a floor knows: the prescription, each client's own [`pace`] once there is one, and [`RACKED`].
#[derive(Clone, Copy, Debug, Default)]
pub struct Learned;

impl Lengths for Learned {
    fn lasts(&self, hand: &InHand<'_>, SetWork { turn, rule, .. }: SetWork) -> Millis {
        let pace = || pace::of(hand.state, turn.client, hand.exercise(turn)?.id);
        hand.work(turn).map_or(rule, |work| at_pace(work, rule, pace)) + RACKED.millis()
    }
}

/// A set under way, as it was said to begin.
pub(in crate::floor) fn begun(hand: &InHand<'_>, set: &UnderWay) -> SetWork {
    let beside = if hand.is_again(set.turn) { next_beside(hand, set.turn) } else { 0 };
    SetWork { turn: set.turn, beside, rule: set.ends.since(set.starts) }
}

/// The number of the next light set beside the order that has this name.
pub(super) fn next_beside(hand: &InHand<'_>, turn: TurnId) -> usize {
    let done = hand.client(turn.client).map_or(&[][..], |client| &client.again);
    1 + done.iter().filter(|(other, _)| *other == turn).count()
}

/// The planned length of a set: getting in and lifting off, which on a floor is get set and the 3-2-1; then what it
/// [lasts](Lengths). `beside` as in [`SetWork`].
pub(super) fn of(ground: Ground<'_>, hand: &InHand<'_>, turn: TurnId, beside: usize) -> Secs {
    let set = hand.prescribed(turn).zip(hand.work(turn)).zip(hand.leg(turn));
    let rule = set.map_or(Millis::default(), |((prescribed, work), leg)| {
        working_time(prescribed.tempo, work, leg.per_side)
    });
    whole(hand.lead(turn) + ground.lengths.lasts(hand, SetWork { turn, beside, rule }))
}

/// The planned length of a working round of a plan that nobody has begun; `pace` is the client's in this exercise.
/// Nothing where the client has no such set or the floor no such exercise.
pub(super) fn planned(
    floor: &Floor,
    leg: &Leg,
    (client, round): (ClientId, u8),
    pace: impl FnOnce() -> Option<Pace>,
) -> Option<Secs> {
    let prescribed = leg.sets.get(&client)?;
    let work = prescribed.target(round)?.work;
    let rule = working_time(prescribed.tempo, work, leg.per_side);
    Some(whole(lead(floor, leg)? + at_pace(work, rule, pace) + RACKED.millis()))
}

/// From GO to the first repetition of a set of a plan: get set, then 3-2-1.
pub(super) fn lead(floor: &Floor, leg: &Leg) -> Option<Millis> {
    let spotted = floor.exercises.get(&leg.exercise)?.spotted();
    let get_set = if spotted { floor.settings.get_set_spotted } else { floor.settings.get_set };
    Some(get_set.millis() + Settings::COUNT_IN.millis())
}

/// How long the work of a set takes. A hold lasts as long as the clock says, whatever the pace.
fn at_pace(work: Work, rule: Millis, pace: impl FnOnce() -> Option<Pace>) -> Millis {
    match work {
        Work::Reps { .. } => pace().map_or(rule, |pace| pace.of(rule)),
        Work::Hold { .. } => rule,
    }
}

/// When a set under way should be racked: its work takes as long as was planned before GO.
pub(super) fn racked(ground: Ground<'_>, set: &UnderWay) -> FloorMs {
    match InHand::of(ground.state, set.turn.group) {
        Some(hand) => set.starts + ground.lengths.lasts(&hand, begun(&hand, set)),
        None => set.ends + RACKED,
    }
}

/// When the station of a set under way can be had: when it should be [`racked`], or, where that is past, [`OVERDUE`]
/// from now.
pub(super) fn over(ground: Ground<'_>, set: &UnderWay) -> FloorMs {
    let (racked, now) = (racked(ground, set), ground.now);
    if racked > now { racked } else { now + OVERDUE }
}

/// When the client of a set under way can have left its station; the same of a set that is over.
pub(super) fn left(ground: Ground<'_>, turn: TurnId) -> Option<FloorMs> {
    let current = ground.state.groups.get(&turn.group)?.clients.get(&turn.client)?.current;
    current.filter(|current| current.turn == turn).map(|current| over(ground, &current))
}

/// A span in whole seconds, rounded up; at least one.
pub(super) fn whole(span: Millis) -> Secs {
    Secs(u32::try_from(span.ceil_secs().clamp(1, 86_400)).unwrap_or(1))
}

/// A rest as the plan sees it, where turns begin with GO: shorter by what comes between that and the first repetition.
pub(super) fn rest(rest: Secs, lead: Millis) -> Secs {
    Secs(rest.0.saturating_sub(u32::try_from(lead.ceil_secs()).unwrap_or_default()))
}

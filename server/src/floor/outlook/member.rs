//! A client as the planner sees them: what is left, since when they wait, and where they stand.

use turnabout_protocol::ids::{ClientId, StationId, TurnId};
use turnabout_protocol::units::{FloorMs, Secs};

use super::axis::Axis;
use super::cuts::Cuts;
use super::ground::Ground;
use super::group::{Planned, ahead};
use super::length;
use super::rounds::{self, Left};
use super::stations;
use super::turns::{self, Coming, coach_at};
use super::who::{MemberWho, Places, RoundKey};
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, Presence, SetOver};
use crate::timetable::instance::{At, Member, Round, UnderWay};

/// A client who has something left to do.
#[derive(Clone, Debug)]
pub(super) struct Trainee<'s> {
    pub(super) client: ClientId,
    pub(super) now: &'s ClientNow,
    /// What is left; never empty.
    pub(super) left: Vec<Left>,
    /// The set that comes next.
    pub(super) next: TurnId,
    /// Where each exercise is done, once the group has its stations.
    pub(super) stations: Option<Vec<StationId>>,
}

/// The clients of a group who are there, may go on, and have something left to do.
pub(super) fn trainees<'s>(hand: &InHand<'s>, has_stations: bool) -> Vec<Trainee<'s>> {
    let trainee = |client: &ClientId| {
        let now = hand.client(*client).filter(|c| c.is_here() && c.halt.is_none())?;
        let left = rounds::left(hand, *client);
        let next = hand.next(*client).filter(|_| !left.is_empty())?;
        let at = |leg| hand.station(TurnId { leg, ..next });
        let stations =
            if has_stations { Some((0..hand.legs()).map(at).collect::<Option<_>>()?) } else { None };
        Some(Trainee { client: *client, now, left, next, stations })
    };
    hand.plan.clients.iter().filter_map(trainee).collect()
}

impl Trainee<'_> {
    /// The set that the client did last or is doing, and when it is or can be over.
    fn last(&self, hand: &InHand<'_>, ground: Ground<'_>) -> Option<(TurnId, FloorMs)> {
        match self.now.current {
            Some(current) => Some((current.turn, length::over(ground, &current))),
            None => hand.last_done(self.client).map(|(turn, record)| (turn, record.ended)),
        }
    }

    /// How many rounds of the client come before this one: light sets nearer to the working load are one too.
    fn number(&self, key: RoundKey) -> u32 {
        let ramp = self.now.legs.iter().any(|leg| leg.ramp.is_some());
        match key {
            RoundKey::Technique => 0,
            RoundKey::Ramp => 1,
            RoundKey::Working(round) => u32::from(round) + u32::from(ramp),
        }
    }

    /// The number of the round that the client began last, and when.
    pub(super) fn last_begun(&self, hand: &InHand<'_>) -> Option<(u32, FloorMs)> {
        let current = self.now.current.map(|current| (current.turn, current.starts));
        let done = hand.last_done(self.client).map(|(turn, record)| (turn, record.started));
        let (turn, started) = current.or(done)?;
        let legs = hand.block.legs.len();
        let nearer = |turn: TurnId| {
            let leg = self.now.legs.get(usize::from(turn.leg));
            hand.is_again(turn) && leg.is_some_and(|leg| leg.ramp.is_some() && !leg.again)
        };
        let ramped = self.now.legs.iter().any(|leg| leg.ramped)
            || self.now.current.is_some_and(|current| nearer(current.turn));
        let lights = self.now.again.iter().filter(|(turn, _)| turn.round == 0).map(|(_, record)| record);
        if turn.round == 0 && ramped {
            let first = lights.map(|record| record.started).min();
            return Some((self.number(RoundKey::Ramp), first.map_or(started, |first| first.min(started))));
        }
        let of_round = self.now.sets.iter().skip(usize::from(turn.round) * legs).take(legs);
        let first = of_round.filter_map(SetOver::done).map(|record| record.started).min();
        let key = if turn.round == 0 { RoundKey::Technique } else { RoundKey::Working(turn.round) };
        Some((self.number(key), first.map_or(started, |first| first.min(started))))
    }
}

/// The client as the planner sees them. `usual` are the group's rests.
pub(super) fn made(
    planned: &Planned<'_>,
    trainee: &Trainee<'_>,
    usual: (Secs, Secs),
    ground: Ground<'_>,
    places: &Places,
    cuts: &mut Cuts,
) -> (Member, MemberWho) {
    let Ground { now, axis, .. } = ground;
    let hand = &planned.hand;
    let last = if planned.has_stations { trainee.last(hand, ground) } else { None };
    let first = trainee.left.first();
    let under_way = last.zip(first).and_then(|((_, ended), left)| {
        let last_end = ready_since(trainee, hand, left, ended, now)?;
        Some(UnderWay { legs_done: left.last_done()?.0 + 1, last_end: axis.up(last_end) })
    });
    let last_round_end = last.filter(|_| under_way.is_none()).map(|(_, ended)| axis.up(ended));
    let numbers = numbers(trainee);
    let mut made = Vec::new();
    for (place, (left, number)) in trainee.left.iter().zip(numbers).enumerate() {
        let before = place.checked_sub(1).and_then(|place| trainee.left.get(place)).map(|left| left.key);
        let light = left.key.is_light() || before.is_some_and(RoundKey::is_light);
        let mut round = Round { number, ..round(planned, (trainee, left, place), ground, places, cuts) };
        rest(&mut round, hand, left, Some(usual).filter(|_| !light));
        if place == 0 && under_way.is_none() {
            first_rest(&mut round, trainee, hand, last, (now, axis));
        }
        made.push(round);
    }
    let release = match trainee.now.presence {
        Presence::Here(stamp) => stamp.when.max(planned.since),
        Presence::Expected | Presence::Left(_) => planned.since,
    };
    let is_last = hand.group.block.saturating_add(1) >= hand.group.blocks;
    let stations = trainee.stations.as_ref();
    let member = Member {
        release: axis.up(release),
        due: hand.state.ends_at(hand.id).filter(|_| is_last).map(|ends| axis.up(ends)),
        stations: stations.map(|all| all.iter().filter_map(|id| places.station(*id)).collect()),
        last_round_end,
        under_way,
        rounds: made,
    };
    let who = MemberWho {
        client: trainee.client,
        rounds: trainee.left.iter().map(|left| left.key).collect(),
        first_leg: first.and_then(Left::first).map(|(leg, _)| leg).unwrap_or_default(),
        next: trainee.next,
    };
    (member, who)
}

/// Numbers one after the other, with a gap where rounds are missed.
fn numbers(trainee: &Trainee<'_>) -> Vec<u32> {
    let first = trainee.left.first().map_or(0, |left| trainee.number(left.key));
    let mut number = first;
    let mut next = |left: &Left| {
        number += if left.after_gap { 2 } else { 1 };
        number
    };
    trainee.left.iter().map(&mut next).collect()
}

/// Since when a client between two exercises could have gone on: what the server was down does not count, nor what was
/// put off, nor the way that counts as a rest. Nothing where the client is not between two.
fn ready_since(
    trainee: &Trainee<'_>,
    hand: &InHand<'_>,
    left: &Left,
    ended: FloorMs,
    now: FloorMs,
) -> Option<FloorMs> {
    let ((_, done), (_, next)) = (left.last_done()?, left.first()?);
    let (from, to) = (hand.station(done)?, hand.station(next)?);
    let walk = stations::walk(&hand.state.floor, from, to).millis();
    let mut since = ended + trainee.now.down;
    if trainee.now.as_rest.is_some() {
        since = since.max(now - walk);
    }
    if let Some(put_off) = trainee.now.put_off {
        since = since.max(put_off - hand.lead(next) - walk);
    }
    Some(since)
}

/// A round without its rest and its number.
fn round(
    planned: &Planned<'_>,
    (trainee, left, place): (&Trainee<'_>, &Left, usize),
    ground: Ground<'_>,
    places: &Places,
    cuts: &mut Cuts,
) -> Round {
    let (hand, is_first) = (&planned.hand, place == 0);
    let working = trainee.left.iter().position(|left| !left.key.is_light());
    let is_coming =
        working.and_then(|place| trainee.left.get(place)).is_some_and(|first| first.key == left.key);
    let is_begun = left.last_done().is_some();
    let first_leg = left.first().map(|(leg, _)| leg).unwrap_or_default();
    let at_bar = |leg: usize| trainee.now.spotter.filter(|_| is_first && leg == first_leg);
    let legs = left.legs.iter().enumerate().map(|(leg, of)| {
        let turn = of.open().or(of.done().filter(|_| planned.has_stations))?;
        let own = trainee.stations.as_ref().and_then(|all| all.get(leg)).copied();
        let station = own.or_else(|| planned.eligible.get(leg)?.first().copied())?;
        let light_before = is_coming && of.open().is_some() && turns::light_first(hand, turn, is_begun);
        let coming = Coming { turn, key: left.key, station, light_before, at_bar: at_bar(leg) };
        Some(turns::made(ground, hand, coming, cuts))
    });
    let legs = legs.collect();
    let other = coach_at(trainee.now.spotter).filter(|coach| is_first && *coach != hand.group.coach);
    Round {
        number: 0,
        coach: other.and_then(|coach| places.coach(coach)),
        rest_min: None,
        rest_max: None,
        not_before: None,
        told: vec![None; left.legs.len()],
        legs,
    }
}

/// So long after a light set the next set should begin: later it says little about the load, and the client is cold.
/// Common practice, no source.
const LIGHT_LASTS: Secs = Secs(300);

/// The rest before a round: as in the block, or after a light set any that is no longer than that one is good for.
fn rest(round: &mut Round, hand: &InHand<'_>, left: &Left, usual: Option<(Secs, Secs)>) {
    let Some((least, most)) = usual else {
        (round.rest_min, round.rest_max) = (Some(Secs(0)), Some(Some(LIGHT_LASTS)));
        return;
    };
    let lead = left.first().map(|(_, turn)| hand.lead(turn)).unwrap_or_default();
    let own = (length::rest(hand.block.rest_min, lead), length::rest(hand.block.rest_max, lead));
    round.rest_min = Some(own.0).filter(|own| *own != least);
    round.rest_max = Some(Some(own.1)).filter(|_| own.1 != most);
}

/// The rest that is running: perhaps shortened by the coach, or put off; after a light set that came between, the
/// one from before still holds.
fn first_rest(
    round: &mut Round,
    trainee: &Trainee<'_>,
    hand: &InHand<'_>,
    last: Option<(TurnId, FloorMs)>,
    (now, axis): (FloorMs, Axis),
) {
    let lead = hand.lead(trainee.next);
    let after_light = last.is_some_and(|(turn, _)| turn.round == 0);
    if after_light {
        (round.rest_min, round.rest_max) = (Some(Secs(0)), Some(Some(LIGHT_LASTS)));
    } else if let Some(cut) = trainee.now.rest_cut {
        round.rest_min = Some(length::rest(cut.least, lead));
    }
    let coming = hand.coming(trainee.client);
    let earliest = coming.filter(|_| after_light).map(|coming| coming.earliest);
    let from = [earliest, trainee.now.put_off].into_iter().flatten().map(|at| at - lead).max();
    round.not_before = from.and_then(|from| ahead(axis, from, now));
    // A rest that was put off is as long as it was asked to be.
    let asked = round.not_before.zip(last).map(|(from, (_, ended))| since(from, axis.up(ended)));
    let most = round.rest_max.unwrap_or(Some(length::rest(hand.block.rest_max, lead)));
    if let Some((_, asked)) = most.zip(asked).filter(|(most, asked)| asked > most) {
        round.rest_max = Some(Some(asked));
    }
}

fn since(at: At, earlier: At) -> Secs {
    Secs(at.0.saturating_sub(earlier.0))
}

//! Which rounds are left of a client's block, leg by leg.

use turnabout_protocol::ids::{ClientId, TurnId};

use super::who::RoundKey;
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, LegNow, SetOver};

/// A round with a set that has not begun.
#[derive(Clone, Debug)]
pub(super) struct Left {
    pub(super) key: RoundKey,
    /// The client misses rounds before it.
    pub(super) after_gap: bool,
    /// One for each exercise of the block.
    pub(super) legs: Vec<LegLeft>,
}

/// What is left of one exercise in one round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LegLeft {
    /// A set that has not begun.
    Open(TurnId),
    /// A set that is done or under way; only in the first round that is left, and only before what is open.
    Done(TurnId),
    /// Nothing: it is or will be left out.
    Out,
}

impl LegLeft {
    pub(super) const fn open(self) -> Option<TurnId> {
        match self {
            Self::Open(turn) => Some(turn),
            Self::Done(_) | Self::Out => None,
        }
    }

    pub(super) const fn done(self) -> Option<TurnId> {
        match self {
            Self::Done(turn) => Some(turn),
            Self::Open(_) | Self::Out => None,
        }
    }
}

impl Left {
    /// The first set that has not begun, with its exercise.
    pub(super) fn first(&self) -> Option<(usize, TurnId)> {
        self.legs.iter().enumerate().find_map(|(leg, left)| Some((leg, left.open()?)))
    }

    /// The last set that is done.
    pub(super) fn last_done(&self) -> Option<(usize, TurnId)> {
        self.legs.iter().enumerate().rev().find_map(|(leg, left)| Some((leg, left.done()?)))
    }

    /// Nothing is done of a round of which nothing is open, and nothing after what is open.
    fn tidied(mut self, is_first: bool) -> Option<Self> {
        let (first, _) = self.first()?;
        for (leg, left) in self.legs.iter_mut().enumerate() {
            if left.done().is_some() && (leg > first || !is_first) {
                *left = LegLeft::Out;
            }
        }
        Some(self)
    }
}

/// What is left of a client's block in hand, in order.
pub(super) fn left(hand: &InHand<'_>, client: ClientId) -> Vec<Left> {
    let Some(now) = hand.client(client).filter(|_| !hand.block.legs.is_empty()) else { return Vec::new() };
    let place = begun(hand, now);
    let joins = if now.late { hand.round_of_others(client).unwrap_or(1).max(1) } else { 1 };
    let first = u8::try_from(place / hand.block.legs.len()).unwrap_or(u8::MAX);
    let mut all = Vec::new();
    for round in first..=hand.rounds_for(client) {
        if round >= 1 && round < joins {
            continue;
        }
        if round >= 1 && !all.iter().any(|left: &Left| !left.key.is_light()) {
            all.extend(
                ramp(hand, client, now).filter(|_| place <= usize::from(round) * hand.block.legs.len()),
            );
        }
        let key = if round == 0 { RoundKey::Technique } else { RoundKey::Working(round) };
        let legs = (0..hand.legs()).map(|leg| of_leg(hand, now, turn(hand, client, round, leg), place));
        all.push(Left { key, after_gap: round == joins && joins > 1, legs: legs.collect() });
    }
    let mut tidy: Vec<Left> = Vec::new();
    for left in all {
        let is_first = tidy.is_empty();
        tidy.extend(left.tidied(is_first));
    }
    tidy
}

fn turn(hand: &InHand<'_>, client: ClientId, round: u8, leg: u8) -> TurnId {
    TurnId { group: hand.id, client, block: hand.group.block, round, leg }
}

/// How many of a client's sets in order have begun or are over.
fn begun(hand: &InHand<'_>, now: &ClientNow) -> usize {
    now.sets.len() + usize::from(now.current.is_some_and(|u| !hand.is_again(u.turn)))
}

fn of_leg(hand: &InHand<'_>, now: &ClientNow, turn: TurnId, begun: usize) -> LegLeft {
    let place = usize::from(turn.round) * hand.block.legs.len() + usize::from(turn.leg);
    let dropped = now.legs.get(usize::from(turn.leg)).is_some_and(|leg| leg.dropped.is_some());
    if place >= begun {
        return if dropped { LegLeft::Out } else { LegLeft::Open(turn) };
    }
    // A place that has begun and is not over is the set under way.
    let done = now.sets.get(place).is_none_or(|set| matches!(set, SetOver::Done(_)));
    if done { LegLeft::Done(turn) } else { LegLeft::Out }
}

/// The light sets that lead up to the first working sets, while one is due.
fn ramp(hand: &InHand<'_>, client: ClientId, now: &ClientNow) -> Option<Left> {
    let leg = |(leg, of): (u8, &LegNow)| {
        let turn = turn(hand, client, 0, leg);
        let under_way = now.current.is_some_and(|u| u.turn == turn && hand.is_again(turn) && !of.again);
        let done = of.ramped && now.again.iter().any(|(again, _)| *again == turn);
        match of.ramp {
            Some(_) if under_way || done => LegLeft::Done(turn),
            Some(_) if !of.ramped && of.dropped.is_none() => LegLeft::Open(turn),
            Some(_) | None => LegLeft::Out,
        }
    };
    let legs: Vec<LegLeft> = (0..).zip(&now.legs).map(leg).collect();
    let whole = legs.len() == hand.block.legs.len();
    let due = whole && legs.iter().any(|left| left.open().is_some());
    due.then_some(Left { key: RoundKey::Ramp, after_gap: false, legs })
}

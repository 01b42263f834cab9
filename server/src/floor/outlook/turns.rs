//! One turn as the planner sees it: how long, with which load, and when somebody spots.

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{CoachId, StationId, TurnId};
use turnabout_protocol::units::Secs;

use super::cuts::Cuts;
use super::ground::Ground;
use super::length;
use super::who::RoundKey;
use crate::floor::in_hand::InHand;
use crate::floor::state::{AtBar, LegNow};
use crate::timetable::instance::{Spot, Turn};
use crate::training::exercise::Exercise;

/// A set that has not begun, and what of it the state does not say by itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct Coming {
    pub(super) turn: TurnId,
    pub(super) key: RoundKey,
    /// Where it is done; of a group that waits, a station that suits.
    pub(super) station: StationId,
    /// A light set of the same exercise comes right before it.
    pub(super) light_before: bool,
    /// Who is at the bar for it.
    pub(super) at_bar: Option<AtBar>,
}

/// The turn.
pub(super) fn made(ground: Ground<'_>, hand: &InHand<'_>, coming: Coming, cuts: &mut Cuts) -> Turn {
    let turn = coming.turn;
    let own = length::of(ground, hand, turn, beside(hand, coming));
    let light = TurnId { round: 0, ..turn };
    let before = if coming.light_before {
        length::of(ground, hand, light, length::next_beside(hand, light))
    } else {
        Secs(0)
    };
    let length = Secs(own.0.saturating_add(before.0));
    let load = match (coming.key, hand.leg_now(turn)) {
        (RoundKey::Ramp, Some(leg)) => leg.ramp,
        (RoundKey::Technique, Some(leg)) => leg.technique_load,
        (RoundKey::Ramp | RoundKey::Technique | RoundKey::Working(_), _) => hand.load(turn),
    };
    let load = load.and_then(|load| cuts.wanted(hand.state, coming.station, hand.starts(turn), load));
    Turn { length, load, spot: spot(hand, coming, length) }
}

/// The number of a light set beside the order.
fn beside(hand: &InHand<'_>, coming: Coming) -> usize {
    match coming.key {
        RoundKey::Ramp => length::next_beside(hand, coming.turn),
        RoundKey::Technique | RoundKey::Working(_) => 0,
    }
}

/// When a coach is needed: at light sets to watch them, at spotted ones to spot, each from the first second to the last.
/// At the bar for which somebody else has been named, no coach; where only for the lift-off, up to the first repetition.
fn spot(hand: &InHand<'_>, coming: Coming, length: Secs) -> Option<Spot> {
    let whole = Some(Spot { from: Secs(0), to: length });
    let turn = coming.turn;
    let watched = coming.key == RoundKey::Technique && !hand.technique_passed(turn);
    if watched || coming.light_before {
        return whole;
    }
    if !hand.exercise(turn).is_some_and(Exercise::spotted) {
        return None;
    }
    match coming.at_bar {
        Some(AtBar { who: Spotter::Coach { .. }, lift_off: true, .. }) => {
            let to = length::whole(hand.lead(turn)).min(length);
            Some(Spot { from: Secs(0), to })
        }
        None | Some(AtBar { who: Spotter::Coach { .. }, .. }) => whole,
        Some(AtBar { who: Spotter::Assistant { .. } | Spotter::Client { .. } | Spotter::Arms, .. }) => None,
    }
}

/// The coach who is at the bar.
pub(super) const fn coach_at(at_bar: Option<AtBar>) -> Option<CoachId> {
    match at_bar {
        Some(AtBar { who: Spotter::Coach { coach }, .. }) => Some(coach),
        Some(_) | None => None,
    }
}

/// Whether a light set of this exercise, asked for once more or left over, comes right before the coming working set.
pub(super) fn light_first(hand: &InHand<'_>, turn: TurnId, is_begun: bool) -> bool {
    let light = TurnId { round: 0, ..turn };
    let under_way = hand.client(turn.client).and_then(|c| c.current).is_some_and(|u| u.turn == light);
    let due = |leg: &LegNow| leg.again || (is_begun && leg.ramp_due().is_some());
    turn.round > 0 && !under_way && hand.leg_now(turn).is_some_and(due)
}

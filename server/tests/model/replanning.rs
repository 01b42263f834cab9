//! What people may tap that changes the plan while it is carried out: stations shared, swapped and asked for
//! ahead, sets left out, coaches who go and groups that change hands.

use turnabout_protocol::command::{Act, Reason, SkipScope};
use turnabout_protocol::ids::GroupId;
use turnabout_server::floor::config::Sharing;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::State;
use turnabout_server::training::exercise::Exercise;

use crate::asks::{Ask, Doing, Who, ask, at_station, each_waiting, first_coach, take};
use crate::floor::COACHES;

/// For every group that waits, at every station where leave is asked for.
pub(crate) fn leave(state: &State, asks: &mut Vec<Ask>) {
    let shared = state.floor.stations.iter().filter(|(_, station)| station.sharing == Sharing::Ask);
    for (station, _) in shared {
        each_waiting(state, asks, |hand, asks| {
            ask(asks, first_coach(), Act::GiveLeave { station: *station, group: hand.id });
        });
    }
}

/// The stations of the next block, waited for or taken.
pub(crate) fn ahead(group: GroupId, hand: InHand<'_>, asks: &mut Vec<Ask>) {
    let block = hand.group.block + 1;
    let Some(legs) = hand.plan.blocks.get(usize::from(block)).filter(|_| hand.group.claim.is_some()) else {
        return;
    };
    ask(asks, first_coach(), Act::AskStations { group, block, revision: hand.group.revision });
    take(hand, (block, legs), None, asks);
}

pub(crate) fn swap(group: GroupId, hand: InHand<'_>, asks: &mut Vec<Ask>) {
    let revision = hand.group.revision;
    for (leg, exercise) in (0..).zip(hand.block.legs.iter().map(|leg| leg.exercise)) {
        for to in &hand.state.floor.exercises[&exercise].stations {
            ask(asks, first_coach(), Act::SwapStation { group, leg, to: *to, revision });
        }
    }
}

/// A set by the client; a light set, what is left of the round and the exercise by the coach.
pub(crate) fn skip(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    let reason = Reason::CoachDecides;
    at_station(doing, doing.next, asks, |turn| Act::Skip { turn, skip: SkipScope::Set, reason });
    let Some(turn) = doing.next else { return };
    let whole = if turn.round == 0 { SkipScope::Set } else { SkipScope::Round };
    for skip in [whole, SkipScope::Exercise] {
        ask(asks, first_coach(), Act::Skip { turn, skip, reason });
    }
}

/// Offered by the one who has it, asked for by the other; agreed to by either, declined by one.
pub(crate) fn hand_over(group: GroupId, hand: InHand<'_>, asks: &mut Vec<Ask>) {
    let from = hand.group.coach;
    let Some(to) = COACHES.into_iter().find(|coach| *coach != from) else { return };
    for coach in COACHES {
        ask(asks, Who::Coach(coach), Act::HandOver { groups: vec![group], from, to });
        ask(asks, Who::Coach(coach), Act::AcceptGroup { group, from });
    }
    ask(asks, first_coach(), Act::DeclineGroup { group });
}

pub(crate) fn away(state: &State, asks: &mut Vec<Ask>) {
    for coach in COACHES.into_iter().filter(|coach| state.floor.coaches.contains_key(coach)) {
        ask(asks, Who::Coach(coach), Act::Away { coach, minutes: 1 });
        ask(asks, Who::Coach(coach), Act::Back { coach });
    }
}

/// Until the bar has been lifted off, by each coach.
pub(crate) fn lift_off(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    let Some(turn) = doing.next.filter(|turn| doing.hand.exercise(*turn).is_some_and(Exercise::spotted))
    else {
        return;
    };
    for coach in COACHES {
        ask(asks, Who::Coach(coach), Act::Spot { turn, lift_off: true });
    }
}

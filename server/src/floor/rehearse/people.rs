//! What people would tap next, as far as can be seen now.

mod cap;
mod starts;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::agenda::Want;
use super::hands::Hands;
use super::moment::Moment;
use crate::floor::decide::Speaker;
use crate::floor::in_hand::InHand;
use crate::floor::state::State;
use crate::floor::views::taps;

/// Who goes next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Goes {
    /// Whoever is ready first.
    First,
    /// Whoever is ready first, with so many at a pair of stations: see [`cap`].
    Capped(usize),
    /// Whoever has been told to; nobody begins of whom nothing has been told.
    Told,
}

/// Everything that somebody wants to tap.
pub(super) fn wants(state: &State, hands: &mut Hands, goes: Goes) -> Vec<Want> {
    let mut wants = Vec::new();
    let groups: Vec<InHand<'_>> = state.groups.keys().filter_map(|id| InHand::of(state, *id)).collect();
    for hand in &groups {
        expected(hand, hands, &mut wants);
        under_way(hand, hands, &mut wants);
    }
    starts::wants(state, &groups, hands, goes, &mut wants);
    wants
}

/// What coaches do to keep a group going, sets aside.
fn expected(hand: &InHand<'_>, hands: &Hands, wants: &mut Vec<Want>) {
    let by = coach(hand.group.coach);
    // Loads are seen to with each set, so what they are made of is not asked for here.
    for tap in taps::expected(hand, hand.group.coach, &[]) {
        let frees = matches!(tap.act, Act::FreeStations { .. });
        let organises = matches!(
            tap.act,
            Act::Arrive { .. }
                | Act::Brief { .. }
                | Act::TakeStations { .. }
                | Act::AskStations { .. }
                | Act::SwapStation { .. }
                | Act::StillHere { .. }
                | Act::Resume { .. }
        );
        if !organises && !frees {
            continue;
        }
        let comes = matches!(tap.act, Act::Arrive { .. });
        let starts = hand.state.starts_at(hand.id).filter(|_| comes);
        let moment = if frees { Moment::Free } else { Moment::Expected };
        let takes = hands.moment(moment, of_group(hand.id, hand.group.block));
        wants.push(Want {
            by: by.clone(),
            act: tap.act,
            from: starts.unwrap_or_default().max(tap.from),
            takes,
        });
    }
}

/// What is said of sets under way: a light set was seen, a set is over.
fn under_way(hand: &InHand<'_>, hands: &Hands, wants: &mut Vec<Want>) {
    for (client, now) in &hand.group.clients {
        if let Some(set) = &now.current {
            let (turn, ended) = (set.turn, hands.ends(hand, set));
            if turn.round == 0 && !hand.technique_passed(turn) {
                wants.push(passes(hand, hands, turn, ended));
            }
            let by = if set.spotter.is_some() { coach(hand.group.coach) } else { kiosk(set.station) };
            let takes = hands.moment(Moment::Done, turn);
            let act = Act::Done { turn, reps: None, effort: None, ending: None };
            wants.push(Want { by, act, from: ended, takes });
        } else {
            let next = hand.next(*client).filter(|turn| now.is_here() && turn.round > 0);
            let waits = next.filter(|turn| !hand.technique_passed(*turn));
            wants.extend(
                waits.map(|turn| passes(hand, hands, TurnId { round: 0, ..turn }, FloorMs::default())),
            );
        }
    }
}

fn passes(hand: &InHand<'_>, hands: &Hands, light: TurnId, from: FloorMs) -> Want {
    let takes = hands.moment(Moment::Pass, light);
    Want { by: coach(hand.group.coach), act: Act::PassTechnique { turn: light }, from, takes }
}

/// What is drawn for a group as a whole is drawn for nobody of it.
const fn of_group(group: GroupId, block: u8) -> TurnId {
    TurnId { group, client: ClientId(0), block, round: 0, leg: 0 }
}

const fn coach(coach: CoachId) -> Speaker {
    Speaker { actor: Actor::Coach { coach }, stations: Vec::new() }
}

fn kiosk(station: StationId) -> Speaker {
    Speaker { actor: Actor::Station { station }, stations: vec![station] }
}

//! What people would tap next, as far as can be seen now.

mod starts;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::agenda::Want;
use super::hands::Hands;
use crate::floor::decide::Speaker;
use crate::floor::in_hand::InHand;
use crate::floor::state::State;
use crate::floor::views::taps;

/// How long people take over a tap, in seconds: from, to. All without a source.
mod takes {
    /// Reading what is expected, and tapping it.
    pub(super) const EXPECTED: (i64, i64) = (1, 4);
    /// Wiping down, and giving the stations back.
    pub(super) const FREE: (i64, i64) = (20, 40);
    /// A light set has been seen.
    pub(super) const PASS: (i64, i64) = (0, 1);
    /// From the last repetition to the tap that says so: the weight is racked first.
    pub(super) const DONE: (i64, i64) = (2, 5);
    /// The load is on.
    pub(super) const CONFIRM: (i64, i64) = (0, 2);
    /// Everything is ready.
    pub(super) const GO: (i64, i64) = (0, 2);
}

/// Kinds of taps that take a moment of their own.
#[derive(Clone, Copy)]
enum Kind {
    Expected = 1,
    Free,
    Pass,
    Done,
    Confirm,
    Go,
}

/// Everything that somebody wants to tap; by the plan nobody begins of whom nothing has been told.
pub(super) fn wants(state: &State, hands: &mut Hands, planned: bool) -> Vec<Want> {
    let mut wants = Vec::new();
    let groups: Vec<InHand<'_>> = state.groups.keys().filter_map(|id| InHand::of(state, *id)).collect();
    for hand in &groups {
        expected(hand, hands, &mut wants);
        under_way(hand, hands, &mut wants);
    }
    starts::wants(state, &groups, hands, planned, &mut wants);
    wants
}

/// What coaches do to keep a group going, sets aside.
fn expected(hand: &InHand<'_>, hands: &Hands, wants: &mut Vec<Want>) {
    let by = coach(hand.group.coach);
    for tap in taps::expected(hand, hand.group.coach) {
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
        let (kind, within) =
            if frees { (Kind::Free, takes::FREE) } else { (Kind::Expected, takes::EXPECTED) };
        let takes = hands.moment(kind as u64, of_group(hand.id, hand.group.block), within);
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
            let (turn, ended) = (set.turn, hands.ends(hand.state, set));
            if turn.round == 0 && !hand.technique_passed(turn) {
                wants.push(passes(hand, hands, turn, ended));
            }
            let by = if set.spotter.is_some() { coach(hand.group.coach) } else { kiosk(set.station) };
            let takes = hands.moment(Kind::Done as u64, turn, takes::DONE);
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
    let takes = hands.moment(Kind::Pass as u64, light, takes::PASS);
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

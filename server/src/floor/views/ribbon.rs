//! A client's time as a strip: the latest sets, the one under way, and those to come as far as they are planned.

use turnabout_protocol::ids::{ClientId, TurnId};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{After, RestWindow, RibbonIs, RibbonSet};

use super::Context;
use crate::floor::in_hand::InHand;
use crate::floor::promises;
use crate::floor::run_sheet::is_open;
use crate::floor::state::{SetOver, SetRecord};
use crate::training::exercise::Exercise;

/// Sets that are over, on a strip: two rounds of a pair. A strip shows the last minute or so of them.
const DONE: usize = 4;

/// One block of the strip.
#[derive(Clone, Copy)]
struct Piece {
    turn: TurnId,
    is: RibbonIs,
    from: FloorMs,
    until: FloorMs,
}

pub(super) fn of_client(hand: &InHand<'_>, context: &Context<'_>, client: ClientId) -> Vec<RibbonSet> {
    let mut pieces = done(hand, client);
    pieces.sort_by_key(|piece| piece.from);
    pieces.drain(..pieces.len().saturating_sub(DONE));
    let current = hand.client(client).and_then(|now| now.current);
    pieces.extend(current.map(|set| Piece {
        turn: set.turn,
        is: RibbonIs::UnderWay,
        from: set.starts,
        until: set.ends,
    }));
    pieces.extend(to_come(hand, context, client));
    let before = std::iter::once(None).chain(pieces.iter().copied().map(Some));
    before.zip(&pieces).map(|(before, piece)| drawn(hand, before, piece)).collect()
}

/// What was done, in the order of the block and beside it.
fn done(hand: &InHand<'_>, client: ClientId) -> Vec<Piece> {
    let Some(now) = hand.client(client) else { return Vec::new() };
    let piece = |turn: TurnId, record: &SetRecord| Piece {
        turn,
        is: RibbonIs::Done,
        from: record.started,
        until: record.ended,
    };
    let in_order =
        now.sets.iter().enumerate().filter_map(|(place, over): (usize, &SetOver)| {
            Some(piece(hand.turn(client, place)?, over.done()?))
        });
    let beside = now.again.iter().map(|(turn, record)| piece(*turn, record));
    in_order.chain(beside).collect()
}

/// What is planned. What has been told of a start holds over the plan.
fn to_come(hand: &InHand<'_>, context: &Context<'_>, client: ClientId) -> Vec<Piece> {
    let own = context.plan.sets.iter().filter(|set| set.turn.group == hand.id && set.turn.client == client);
    own.filter(|set| is_open(hand.state, set.turn))
        .map(|set| {
            let start = promises::of(hand.state, set.turn).map_or(set.start, |told| told.start);
            let from = start + hand.lead(set.turn);
            Piece { turn: set.turn, is: RibbonIs::ToCome, from, until: start + set.until.since(set.start) }
        })
        .collect()
}

fn drawn(hand: &InHand<'_>, before: Option<Piece>, piece: &Piece) -> RibbonSet {
    let Piece { turn, is, from, until } = *piece;
    RibbonSet {
        leg: turn.leg,
        round: turn.round,
        is,
        from,
        until,
        spotted: turn.round == 0 || hand.exercise(turn).is_some_and(Exercise::spotted),
        window: window(hand, before, piece),
    }
}

/// What the rest before a set allows: of the very next one as the floor counts it, of others as the block says.
fn window(hand: &InHand<'_>, before: Option<Piece>, piece: &Piece) -> Option<RestWindow> {
    let turn = piece.turn;
    if piece.is == RibbonIs::ToCome && hand.next(turn.client) == Some(turn) {
        let coming = hand.coming(turn.client)?;
        return match coming.after {
            After::Rest { latest, .. } => Some(RestWindow { from: coming.earliest, until: latest }),
            After::Nothing | After::Changeover { .. } => None,
        };
    }
    let ended = before.filter(|before| before.turn.round > 0 && before.turn.round < turn.round)?.until;
    Some(RestWindow { from: ended + hand.block.rest_min, until: ended + hand.block.rest_max })
}

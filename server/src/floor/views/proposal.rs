//! The load that is proposed for a coming set.

use turnabout_protocol::ids::{ClientId, TurnId};
use turnabout_protocol::next::{Change, NextReason, Proposal, Rule};
use turnabout_protocol::view::ProposalPart;

use super::part;
use crate::floor::in_hand::InHand;
use crate::floor::next_load::{self, Ladders};

/// Told of one client at once: a paired set has two, and of a longer circuit the next are told when they come
/// nearer. A coach reads no more between two sets, and a frame has to end somewhere.
pub const MOST_PROPOSALS: usize = 2;

/// What is proposed for the next working set of each exercise of a client, the one that comes first first.
pub(super) fn of_client(hand: &InHand<'_>, client: ClientId, ladders: &mut Ladders) -> Vec<ProposalPart> {
    let mut parts: Vec<ProposalPart> =
        (0..hand.legs()).filter_map(|leg| of_leg(hand, client, leg, ladders)).collect();
    parts.sort_by_key(|part| (part.turn.round, part.turn.leg));
    parts.truncate(MOST_PROPOSALS);
    parts
}

/// What is proposed for a set that has not begun, as a display may say it that everybody can read.
pub(super) fn in_public(hand: &InHand<'_>, turn: TurnId, ladders: &mut Ladders) -> Option<ProposalPart> {
    let part = of_leg(hand, turn.client, turn.leg, ladders).filter(|part| part.turn == turn)?;
    let reason = part.proposal.reason.in_public();
    // The rule tells as much.
    let rule = if reason == NextReason::ForCoach { Rule::Plan } else { part.proposal.rule };
    Some(ProposalPart { proposal: Proposal { reason, rule, ..part.proposal }, ..part })
}

fn of_leg(hand: &InHand<'_>, client: ClientId, leg: u8, ladders: &mut Ladders) -> Option<ProposalPart> {
    let next = next_load::of_leg(hand, client, leg, ladders)?;
    let (turn, proposal) = (next.turn, next.proposal);
    // While nobody has answered, and where all is as it should be, there is nothing to say.
    let nothing = matches!(proposal.reason, NextReason::NoAnswer | NextReason::AsItShould);
    let silent = proposal.change == Change::Same && nothing;
    let scale = ladders.of(hand, turn).filter(|_| !silent)?.scale();
    let load = proposal.set.load();
    Some(ProposalPart {
        turn,
        exercise: part::exercise_name(hand.state, hand.exercise(turn)?.id),
        unit: scale.unit(),
        proposal,
        load: hand.load(turn),
        work: hand.work(turn)?,
        easier: scale.next_easier(load),
        harder: scale.next_harder(load),
        said: next.said,
    })
}

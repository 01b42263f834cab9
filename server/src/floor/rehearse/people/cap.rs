//! By eye with only so many clients at a pair of stations at once: what an experienced coach does.
//!
//! A client who has not begun a block stands back while so many others are in the middle of one at any of its stations,
//! whichever groups they are of: from a client's first set of the block, a light one too, to the end of the last. Nobody
//! who has begun ever stands back, so everybody's turn comes.
//!
//! A timetable run by eye ([`by_eye`](crate::timetable::build::by_eye)) has the same cap when it gives groups their
//! stations, and there a larger group goes alone, all of it. A group of a floor has its stations already, so here it is
//! clients who stand back, those of a larger group too. A whole group that stands back is silent meanwhile. When the
//! floor asks after it its coach says that it is still here, as of any group: it neither lapses nor counts as not coming.

use turnabout_protocol::ids::{ClientId, StationId, TurnId};

use crate::floor::in_hand::InHand;
use crate::floor::state::ClientNow;

/// Whether a client stands back, with so many at a pair of stations at most.
pub(super) fn stands_back(groups: &[InHand<'_>], hand: &InHand<'_>, client: ClientId, most: usize) -> bool {
    if hand.client(client).is_none_or(has_begun) {
        return false;
    }
    stations(hand, client).any(|station| at(groups, station) >= most)
}

/// How many clients who can go on are in the middle of a block at a station.
fn at(groups: &[InHand<'_>], station: StationId) -> usize {
    let clients = groups.iter().flat_map(|hand| hand.group.clients.iter().map(move |of| (hand, of)));
    let there = |(hand, (client, now)): &(&InHand<'_>, (&ClientId, &ClientNow))| {
        let goes_on = now.is_here() && now.halt.is_none();
        let is_through = now.current.is_none() && hand.next(**client).is_none();
        goes_on && has_begun(now) && !is_through && stations(hand, **client).any(|own| own == station)
    };
    clients.filter(there).count()
}

/// Whether a client has begun the block in hand.
fn has_begun(now: &ClientNow) -> bool {
    now.current.is_some() || now.last_done().is_some()
}

/// Where a client does the exercises of the block in hand.
fn stations<'h>(hand: &'h InHand<'_>, client: ClientId) -> impl Iterator<Item = StationId> + 'h {
    let turn = move |leg| TurnId { group: hand.id, client, block: hand.group.block, round: 1, leg };
    (0..hand.legs()).filter_map(move |leg| hand.station(turn(leg)))
}

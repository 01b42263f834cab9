//! What others than the page's coach have just done for a group: why a button of that page is another one now.
//!
//! All of it is read off the stamps that the state has anyway, so that what is taken back is not told either. A view
//! says nothing that time alone changes: it leaves out what was long ago at the last entry, and the page looks at the
//! clock for the rest.

use turnabout_protocol::ids::{ClientId, CoachId, GroupId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::view::{DEED_TOLD_FOR, Deed, DeedPart};

use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, GroupNow, Presence, Stamp, State};

/// The last thing that others did about each client, and about the group, the latest first.
pub(super) fn done(state: &State, me: CoachId, id: GroupId, group: &GroupNow) -> Vec<DeedPart> {
    let hand = InHand::of(state, id);
    let clients = group.clients.iter().map(|(client, now)| (Some(*client), of_client(now, hand, *client)));
    let mut done: Vec<DeedPart> = clients
        .chain([(None, of_group(group, me))])
        .filter_map(|(client, deeds)| {
            let (deed, stamp) = deeds.into_iter().max_by_key(|(_, stamp)| stamp.when)?;
            Some(DeedPart { deed, by: stamp.by, at: stamp.when, client })
        })
        // What the coach did last about a client explains the button better than what others did before.
        .filter(|part| part.by != Actor::Coach { coach: me } && part.by != Actor::Floor)
        .filter(|part| state.recorded.since(part.at) < DEED_TOLD_FOR)
        .collect();
    done.sort_by_key(|part| std::cmp::Reverse(part.at));
    done
}

fn of_group(group: &GroupNow, me: CoachId) -> Vec<(Deed, Stamp)> {
    let taken = group.claim.as_ref().map(|claim| (Deed::StationsTaken, claim.taken));
    // Whoever has got the group sees that it is there.
    let handed = group.handed.filter(|_| group.coach != me).map(|handed| {
        let has_it = Stamp { by: Actor::Coach { coach: group.coach }, ..handed.agreed };
        (Deed::HandedOver, has_it)
    });
    taken.into_iter().chain(handed).collect()
}

fn of_client(now: &ClientNow, hand: Option<InHand<'_>>, client: ClientId) -> Vec<(Deed, Stamp)> {
    let came = match now.presence {
        Presence::Here(stamp) => Some((Deed::Arrived, stamp)),
        Presence::Expected | Presence::Left(_) => None,
    };
    let briefed = now.before.briefed.map(|stamp| (Deed::Briefed, stamp));
    let passed = now.legs.iter().filter_map(|leg| leg.passed).map(|stamp| (Deed::Passed, stamp));
    let spotter = now.spotter.map(|at| (Deed::SpotterNamed, at.said));
    let went = now.current.map(|under_way| (Deed::Went, under_way.went));
    let done = now.last_done().map(|(_, record)| (Deed::Done, record.done));
    let at_station = hand.map(|hand| at_station(&hand, client)).unwrap_or_default();
    let once = came.into_iter().chain(briefed).chain(spotter).chain(went).chain(done);
    once.chain(passed).chain(at_station).collect()
}

/// What was said at the station where the client is, or comes next.
fn at_station(hand: &InHand<'_>, client: ClientId) -> Vec<(Deed, Stamp)> {
    let current = hand.client(client).and_then(|now| now.current).map(|under_way| under_way.turn);
    let Some(turn) = current.or_else(|| hand.next(client)) else { return Vec::new() };
    let Some(station) = hand.station(turn) else { return Vec::new() };
    // Of those who share a station it is about the one whose turn it is.
    let first = current.is_some() || hand.queue(station).first().is_some_and(|(first, _)| *first == turn);
    if !first {
        return Vec::new();
    }
    let calls = hand.state.calls.values().filter(|call| call.station == station);
    let confirmed = hand.state.stations.get(&station).and_then(|now| now.confirmed);
    let confirmed = confirmed.filter(|_| current.is_none()).map(|stamp| (Deed::LoadConfirmed, stamp));
    calls.map(|call| (Deed::Called, call.made)).chain(confirmed).collect()
}

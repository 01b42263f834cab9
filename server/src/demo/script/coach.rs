//! The moments of the mishaps that a coach brings about, and how they end.

use std::collections::BTreeSet;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, Defect, Scope};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{
    After, Attendance, CoachClient, CoachGroup, CoachView, SetName, Stage, StationState, TurnPart, TurnPhase,
};

use super::{Mishap, Script, offer};
use crate::demo::agenda::{Offer, Rank};

/// A torn cable is mended after so long.
const MENDED_AFTER: Millis = Millis::secs(4 * 60);
/// Nobody thinks of anything else in the first moments of a rest.
const BREATH: Millis = Millis::secs(8);

/// What a coach keeps in mind of the mishaps.
#[derive(Clone, Debug, Default)]
pub(super) struct Memory {
    /// Who comes late.
    late: Option<(GroupId, ClientId)>,
    /// Stations with a pin, as they were seen; as many as the floor has.
    cables: BTreeSet<StationId>,
    /// The one that must be mended.
    broken: Option<StationId>,
}

impl Memory {
    pub(super) fn answered(&mut self, act: &Act, taken_down: bool) {
        if let Act::OutOfService { station, .. } = act {
            self.broken = Some(*station).filter(|_| taken_down);
        }
        if let Act::BackInService { station } = act {
            // Refused, because somebody else has put it back: there is nothing left to mend.
            self.broken = self.broken.filter(|broken| broken != station);
        }
    }

    fn look(&mut self, view: &CoachView) {
        let turns = view.groups.iter().flat_map(|group| &group.clients).filter_map(|c| c.turn.as_ref());
        let cable =
            |turn: &TurnPart| turn.load.as_ref().filter(|l| l.gear == GearKind::Stack).and(turn.station);
        self.cables.extend(turns.filter_map(cable));
    }
}

impl Script {
    /// Changes what a coach means to do into what happens: who is late does not come yet, and a mishap whose
    /// moment it is comes on top where the coach is `free` to do anything but one set.
    pub(in crate::demo) fn coach(&mut self, view: &CoachView, free: bool, offers: &mut Vec<Offer>) {
        self.coach.look(view);
        self.arrivals(view, offers);
        if !free {
            return;
        }
        let moments = [
            (Mishap::SwapExercise, swap_exercise as fn(&Scene<'_>) -> Option<Offer>),
            (Mishap::HandOver, hand_over),
            (Mishap::BrokenCable, broken_cable),
            (Mishap::Stop, stop),
        ];
        let scene = Scene { view, me: view.me, cables: &self.coach.cables };
        let now = moments.iter().filter(|(mishap, _)| self.awaits(*mishap));
        offers.extend(now.filter_map(|(_, moment)| moment(&scene)));
        offers.extend(self.coach.broken.and_then(|broken| mended(view, broken)));
    }

    /// One client of the first group that comes stays away until the others are in their second round.
    fn arrivals(&mut self, view: &CoachView, offers: &mut Vec<Offer>) {
        let begun = |id: GroupId| view.groups.iter().any(|g| g.group == id && later(g));
        for offer in offers.iter_mut() {
            let Act::Arrive { group, clients } = &mut offer.act else { continue };
            if clients.len() < 2 {
                continue;
            }
            if self.awaits(Mishap::LateClient) {
                self.pending.retain(|other| *other != Mishap::LateClient);
                self.coach.late = clients.last().map(|last| (*group, *last));
            }
            clients.retain(|client| self.coach.late != Some((*group, *client)));
        }
        offers.retain_mut(|offer| match &offer.act {
            Act::Arrive { group, clients } if self.coach.late == clients.first().map(|c| (*group, *c)) => {
                offer.takes = (Millis::secs(10), Millis::secs(40));
                begun(*group)
            }
            _ => true,
        });
    }
}

/// What a coach sees and remembers.
struct Scene<'v> {
    view: &'v CoachView,
    me: CoachId,
    cables: &'v BTreeSet<StationId>,
}

impl Scene<'_> {
    /// The own groups that do their rounds and are not held.
    fn own(&self) -> impl Iterator<Item = &CoachGroup> {
        let own = self.view.groups.iter().filter(|group| group.coach == self.me);
        own.filter(|group| group.stage == Stage::Rounds && group.halt.is_none())
    }
}

/// Whether somebody of the group is in a later round than the first.
fn later(group: &CoachGroup) -> bool {
    group.clients.iter().filter_map(|client| client.turn.as_ref()).any(is_later)
}

fn is_later(turn: &TurnPart) -> bool {
    matches!(turn.set, SetName::Working { n, .. } if n >= 2)
}

/// Since when a client rests before a later round.
fn rests(client: &CoachClient) -> Option<FloorMs> {
    let turn = client.turn.as_ref().filter(|turn| is_later(turn))?;
    match turn.phase {
        TurnPhase::Coming { after: After::Rest { since, .. }, .. } => Some(since),
        TurnPhase::Coming { after: After::Nothing | After::Changeover { .. }, .. }
        | TurnPhase::UnderWay { .. } => None,
    }
}

fn under_way(client: &CoachClient) -> bool {
    matches!(client.turn.as_ref().map(|turn| &turn.phase), Some(TurnPhase::UnderWay { .. }))
}

/// The exercise that a client has just done can be done otherwise where one stands, with the same load.
fn swap_exercise(scene: &Scene<'_>) -> Option<Offer> {
    scene.own().find_map(|group| {
        let swap = |client: &CoachClient| {
            let since = rests(client)?;
            let last = client.last.as_ref()?;
            let leg = last.turn.leg;
            let usual = *group.stations.get(usize::from(leg))?;
            let choices = &group.choices.iter().find(|choices| choices.leg == leg)?.exercises;
            let other = choices.iter().find(|c| c.places.iter().any(|place| place.station == usual))?;
            let act = Act::SwapExercise {
                group: group.group,
                client: client.client,
                leg,
                exercise: other.exercise,
                station: None,
                load: Some(last.load?),
                revision: group.revision,
            };
            let offer = offer(act, since + BREATH, (3, 10), Rank::Soon);
            Some(Offer { place: Some(usual), ..offer })
        };
        group.clients.iter().find_map(swap)
    })
}

/// Everybody of the smallest own group is there and nobody lifts, and another coach has no bar in hand.
fn hand_over(scene: &Scene<'_>) -> Option<Offer> {
    let own = scene.view.groups.iter().filter(|group| group.coach == scene.me);
    let smallest = own.min_by_key(|group| group.clients.len())?.group;
    let group = scene.own().find(|group| group.group == smallest && group.offer.is_none())?;
    let here = |client: &CoachClient| client.attendance == Attendance::Here && !under_way(client);
    let since = group.clients.iter().find_map(rests).filter(|_| group.clients.iter().all(here))?;
    let mut others = scene.view.coaches.iter().filter(|line| line.coach != scene.me);
    let to = others.find(|line| line.spotting.is_none() && line.away.is_none())?.coach;
    let act = Act::HandOver { groups: vec![group.group], from: scene.me, to };
    Some(offer(act, since + BREATH, (3, 8), Rank::Soon))
}

/// Nobody is on the cable, somebody rests before using it again, and the group can go on elsewhere.
fn broken_cable(scene: &Scene<'_>) -> Option<Offer> {
    let idle = |station: StationId| {
        let mut lines = scene.view.stations.iter();
        lines.any(|line| line.station == station && line.state == StationState::Reserved)
    };
    scene.own().find_map(|group| {
        let since = group.clients.iter().find_map(rests)?;
        let elsewhere = group.choices.iter().filter(|choices| !choices.stations.is_empty());
        let mut used = elsewhere.filter_map(|choices| group.stations.get(usize::from(choices.leg)));
        let station = *used.find(|station| scene.cables.contains(station) && idle(**station))?;
        let act = Act::OutOfService { station, defect: Defect::Cable };
        let offer = offer(act, since + BREATH, (2, 6), Rank::AtTheBar);
        Some(Offer { place: Some(station), ..offer })
    })
}

/// Somebody lifts without a spotter.
fn stop(scene: &Scene<'_>) -> Option<Offer> {
    scene.own().find_map(|group| {
        let turns = group.clients.iter().filter_map(|client| client.turn.as_ref());
        let mut lifts =
            turns.filter(|turn| is_later(turn) && !turn.spotted).filter_map(|turn| match turn.phase {
                TurnPhase::UnderWay { starts, .. } => Some(starts),
                TurnPhase::Coming { .. } => None,
            });
        let starts = lifts.next()?;
        let act = Act::Stop { scope: Scope::Group { group: group.group } };
        Some(offer(act, starts + Millis::secs(5), (1, 3), Rank::AtTheBar))
    })
}

/// The cable has been replaced.
fn mended(view: &CoachView, broken: StationId) -> Option<Offer> {
    let out = view.stations.iter().find(|line| line.station == broken)?.out?;
    let act = Act::BackInService { station: broken };
    let offer = offer(act, out.since + MENDED_AFTER, (5, 20), Rank::Soon);
    Some(Offer { place: Some(broken), ..offer })
}

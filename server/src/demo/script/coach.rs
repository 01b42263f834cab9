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
    /// The mishaps whose moment it is, and the ends of those that have one.
    pub(in crate::demo) fn coach(&mut self, view: &CoachView) -> Vec<Offer> {
        self.coach.look(view);
        let moments = [
            (Mishap::SwapExercise, swap_exercise as fn(&Scene<'_>) -> Option<Offer>),
            (Mishap::HandOver, hand_over),
            (Mishap::BrokenCable, broken_cable),
            (Mishap::Stop, stop),
        ];
        let scene = Scene { view, me: view.me, cables: &self.coach.cables };
        let now = moments.iter().filter(|(mishap, _)| self.awaits(*mishap));
        let now = now.filter_map(|(_, moment)| moment(&scene));
        now.chain(self.coach.broken.and_then(|broken| mended(view, broken))).collect()
    }

    /// One client of the largest group stays away until the others are in their second round.
    pub(in crate::demo) fn arrivals(&mut self, view: &CoachView, offers: &mut Vec<Offer>) {
        if self.awaits(Mishap::LateClient) {
            let coming = offers.iter().filter_map(|offer| match &offer.act {
                Act::Arrive { group, clients } if clients.len() > 1 => {
                    Some((clients.len(), *group, *clients.last()?))
                }
                _ => None,
            });
            if let Some((_, group, last)) = coming.max() {
                self.pending.retain(|other| *other != Mishap::LateClient);
                self.coach.late = Some((group, last));
            }
        }
        let Some((late_group, late)) = self.coach.late else { return };
        let others = |group: &CoachGroup| {
            let mut others = group.clients.iter().filter(|client| client.client != late);
            others.all(|client| client.turn.as_ref().is_none_or(is_later))
        };
        let begun = view.groups.iter().any(|group| group.group == late_group && others(group));
        offers.retain_mut(|offer| match &mut offer.act {
            Act::Arrive { group, clients } if *group == late_group && !begun => {
                clients.retain(|client| *client != late);
                !clients.is_empty()
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
    /// The own groups that train and are not held.
    fn own(&self) -> impl Iterator<Item = &CoachGroup> {
        let own = self.view.groups.iter().filter(|group| group.coach == self.me);
        own.filter(|group| trains(group.stage) && group.halt.is_none())
    }
}

/// Whether a group has sets to do. One with a client who comes late does its light sets again.
const fn trains(stage: Stage) -> bool {
    match stage {
        Stage::Technique | Stage::Rounds => true,
        Stage::Expected
        | Stage::Gone
        | Stage::WarmUp
        | Stage::Briefing
        | Stage::Waiting
        | Stage::WipeDown
        | Stage::Finished => false,
    }
}

fn is_later(turn: &TurnPart) -> bool {
    matches!(turn.set, SetName::Working { n, .. } if n >= 2)
}

/// Whether another round comes after this one.
fn is_not_last(turn: &TurnPart) -> bool {
    matches!(turn.set, SetName::Working { n, of } if n < of)
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

fn is_under_way(turn: &TurnPart) -> bool {
    matches!(turn.phase, TurnPhase::UnderWay { .. })
}

/// The exercise that a client did last can be done otherwise where one stands, with the same load, and the
/// client is not at it yet again.
fn swap_exercise(scene: &Scene<'_>) -> Option<Offer> {
    scene.own().find_map(|group| {
        let swap = |client: &CoachClient| {
            let last = client.last.as_ref().filter(|last| last.turn.round > 0)?;
            let leg = last.turn.leg;
            let next = client.turn.as_ref().filter(|turn| is_later(turn) && turn.turn.leg != leg)?;
            let usual = *group.stations.get(usize::from(leg))?;
            let choices = &group.choices.iter().find(|choices| choices.leg == leg)?.exercises;
            let other = choices.iter().find(|c| c.places.contains(&usual))?;
            let act = Act::SwapExercise {
                group: group.group,
                client: next.turn.client,
                leg,
                exercise: other.exercise,
                station: None,
                load: Some(last.load?),
                sure: false,
                revision: group.revision,
            };
            Some(offer(act, last.ended + BREATH, (1, 4), Rank::Soon))
        };
        group.clients.iter().find_map(swap)
    })
}

/// Everybody of the smallest own group is there, nobody has a bar in hand, and another coach has no more
/// to look after.
fn hand_over(scene: &Scene<'_>) -> Option<Offer> {
    let own = scene.view.groups.iter().filter(|group| group.coach == scene.me);
    let smallest = own.min_by_key(|group| group.clients.len())?.group;
    let group = scene.own().find(|g| g.group == smallest && g.offer.is_none())?;
    let settled = |client: &CoachClient| {
        let spotted = client.turn.as_ref().is_some_and(|turn| turn.spotted && is_under_way(turn));
        client.attendance == Attendance::Here && !spotted
    };
    let load = |coach: CoachId| -> usize {
        let groups = scene.view.groups.iter().filter(|g| g.coach == coach && !g.stations.is_empty());
        groups.map(|group| group.clients.len()).sum()
    };
    let others = scene.view.coaches.iter().filter(|line| line.coach != scene.me && line.away.is_none());
    let to = others.min_by_key(|line| load(line.coach)).filter(|to| load(to.coach) <= load(scene.me))?.coach;
    let act = Act::HandOver { groups: vec![group.group], from: scene.me, to };
    let mut turns = group.clients.iter().filter_map(|client| client.turn.as_ref());
    let moment = group.clients.iter().all(settled) && turns.any(is_not_last);
    moment.then(|| offer(act, FloorMs::default(), (1, 4), Rank::Soon))
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

/// One of the group lifts, without a spotter, and there is more to do afterwards.
fn stop(scene: &Scene<'_>) -> Option<Offer> {
    scene.own().find_map(|group| {
        let turns = group.clients.iter().filter_map(|client| client.turn.as_ref());
        let mut lifts = turns.filter(|turn| is_under_way(turn));
        let (Some(turn), None) = (lifts.next(), lifts.next()) else { return None };
        let TurnPhase::UnderWay { starts, .. } = turn.phase else { return None };
        let act = Act::Stop { scope: Scope::Group { group: group.group } };
        let alone = is_not_last(turn) && !turn.spotted;
        alone.then(|| offer(act, starts + Millis::secs(5), (1, 3), Rank::AtTheBar))
    })
}

/// The cable has been replaced.
fn mended(view: &CoachView, broken: StationId) -> Option<Offer> {
    let out = view.stations.iter().find(|line| line.station == broken)?.out?;
    let act = Act::BackInService { station: broken };
    let offer = offer(act, out.since + MENDED_AFTER, (5, 20), Rank::Soon);
    Some(Offer { place: Some(broken), ..offer })
}

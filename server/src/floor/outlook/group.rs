//! Which groups are planned, and a group as the planner sees it.

use turnabout_protocol::ids::{CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::units::{FloorMs, Secs};

use super::axis::Axis;
use super::cuts::Cuts;
use super::ground::Ground;
use super::length;
use super::limits::{GROUPS, WAITING};
use super::member::{self, Trainee};
use super::stations;
use super::turns::coach_at;
use super::who::{GroupWho, Places};
use crate::floor::config::Sharing;
use crate::floor::decide::suited;
use crate::floor::in_hand::InHand;
use crate::floor::state::{Ask, State};
use crate::timetable::instance::{At, Group};

/// A group that is planned, in the floor's own words.
#[derive(Clone, Debug)]
pub(super) struct Planned<'s> {
    pub(super) hand: InHand<'s>,
    /// Whether it has its stations.
    pub(super) has_stations: bool,
    /// Since when it could have begun, as far as its stations go.
    pub(super) since: FloorMs,
    /// The stations of each exercise: the one it has, or all that suit.
    pub(super) eligible: Vec<Vec<StationId>>,
    /// Who has something left to do, in the order in which they go.
    pub(super) members: Vec<Trainee<'s>>,
}

impl Planned<'_> {
    /// Every station that it may need.
    pub(super) fn stations(&self) -> impl Iterator<Item = StationId> {
        let own = self.members.iter().filter_map(|member| member.stations.as_ref()).flatten();
        self.eligible.iter().flatten().chain(own).copied()
    }

    /// Its coach, and any other who stands at a bar for it.
    pub(super) fn coaches(&self) -> impl Iterator<Item = CoachId> {
        let others = self.members.iter().filter_map(|member| coach_at(member.now.spotter));
        others.chain([self.hand.group.coach])
    }
}

/// The groups that are planned: those that have their stations, then those that wait, in their order, and after them
/// those that wait by `more`.
pub(super) fn planned<'s>(state: &'s State, more: &[Ask]) -> Vec<Planned<'s>> {
    let with = state.groups.keys().filter_map(|id| with_stations(state, *id));
    let waiting = state.line.iter().chain(more).filter_map(|ask| waiting(state, ask)).take(WAITING);
    with.chain(waiting).take(GROUPS).collect()
}

fn with_stations(state: &State, id: GroupId) -> Option<Planned<'_>> {
    let hand = InHand::of(state, id).filter(|hand| hand.group.wipe_down.is_none())?;
    let claim = hand.group.claim.as_ref()?;
    let eligible = claim.stations.iter().map(|station| vec![*station]).collect();
    let members = member::trainees(&hand, true);
    let planned = Planned { hand, has_stations: true, since: claim.taken.when, eligible, members };
    let known = planned.stations().all(|station| state.floor.stations.contains_key(&station));
    (known && !planned.members.is_empty()).then_some(planned)
}

/// A group that waits, as it is planned.
pub(super) fn in_line(state: &State, group: GroupId) -> Option<Planned<'_>> {
    waiting(state, state.line.iter().find(|ask| ask.group == group)?)
}

fn waiting<'s>(state: &'s State, ask: &Ask) -> Option<Planned<'s>> {
    let hand = InHand::of(state, ask.group)?;
    if hand.group.claim.is_some() || hand.group.block != ask.block {
        return None;
    }
    let mut eligible: Vec<Vec<StationId>> = Vec::new();
    for leg in &hand.block.legs {
        let all: Vec<StationId> = suited(state, leg).collect();
        // Where some can be used, those that cannot are not waited for.
        let fit: Vec<StationId> = all.iter().copied().filter(|id| !stations::is_barred(state, *id)).collect();
        let choice = if fit.is_empty() { all } else { fit };
        // In place: one station for both, which a list for each could not say.
        let own = match eligible.last_mut().filter(|_| leg.in_place) {
            Some(before) => {
                before.retain(|station| choice.contains(station));
                before.truncate(1);
                before.clone()
            }
            None => choice,
        };
        eligible.push(own);
    }
    let members = member::trainees(&hand, false);
    let suits = !members.is_empty() && eligible.iter().all(|choice| !choice.is_empty());
    let planned = Planned { hand, has_stations: false, since: ask.asked.when, eligible, members };
    suits.then_some(planned)
}

/// The group as the planner sees it, and who is who in it.
pub(super) fn made(
    planned: &Planned<'_>,
    ground: Ground<'_>,
    places: &Places,
    cuts: &mut Cuts,
) -> (Group, GroupWho) {
    let Planned { hand, has_stations, eligible, members, .. } = planned;
    let (mut rows, mut whos) = (Vec::new(), Vec::new());
    let usual = usual_rest(planned);
    for trainee in members {
        let (row, who) = member::made(planned, trainee, usual, ground, places, cuts);
        rows.push(row);
        whos.push(who);
    }
    let own: Vec<_> = rows.iter().filter_map(|row| row.stations.as_ref()).collect();
    let group = Group {
        coach: places.coach(hand.group.coach).unwrap_or_default(),
        together: own.windows(2).all(|pair| pair[0] == pair[1]),
        eligible: eligible
            .iter()
            .map(|choice| choice.iter().filter_map(|id| places.station(*id)).collect())
            .collect(),
        rest_min: usual.0,
        rest_max: Some(usual.1),
        order: if *has_stations { order(planned, ground.now) } else { Vec::new() },
        holds: holds(ground.state, hand.id, places),
        changeover_wait_max: Some(Some(wait(planned))),
        members: rows,
    };
    let who =
        GroupWho { group: hand.id, block: hand.group.block, has_stations: *has_stations, members: whos };
    (group, who)
}

/// The shortest and the longest rest before the block's first exercise, as the plan sees rests.
fn usual_rest(planned: &Planned<'_>) -> (Secs, Secs) {
    let Planned { hand, members, .. } = planned;
    let first = members.first().map(|member| TurnId {
        group: hand.id,
        client: member.client,
        block: hand.group.block,
        round: 1,
        leg: 0,
    });
    let lead = first.map(|turn| hand.lead(turn)).unwrap_or_default();
    (length::rest(hand.block.rest_min, lead), length::rest(hand.block.rest_max, lead))
}

/// How long a wait between two exercises may be beyond the longest walk, so that both keep within the block's limit.
fn wait(planned: &Planned<'_>) -> Secs {
    let floor = &planned.hand.state.floor;
    let walk = |from: &[StationId], to: &[StationId]| {
        let all = from.iter().flat_map(|from| to.iter().map(|to| stations::walk(floor, *from, *to)));
        all.max().unwrap_or_default()
    };
    let walks = planned.eligible.windows(2).map(|pair| walk(&pair[0], &pair[1]));
    let longest = walks.max().unwrap_or_default();
    Secs(planned.hand.block.changeover.0.saturating_sub(longest.0))
}

/// Who goes next of those who have begun: whoever has begun fewer rounds, then whoever began the last one earlier. That
/// is the rotation as it has gone so far. Whose start was put off stands back.
fn order(planned: &Planned<'_>, now: FloorMs) -> Vec<usize> {
    let begun = |(place, member): (usize, &Trainee<'_>)| {
        let (round, started) = member.last_begun(&planned.hand)?;
        let waits = member.now.put_off.is_some_and(|until| until > now);
        (!waits).then_some((round, started, place))
    };
    let mut begun: Vec<_> = planned.members.iter().enumerate().filter_map(begun).collect();
    begun.sort_unstable();
    begun.into_iter().map(|(_, _, place)| place).collect()
}

/// Stations that are this group's alone until its last turn there.
fn holds(state: &State, id: GroupId, places: &Places) -> Vec<usize> {
    let alone = |(_, station): &(usize, &StationId)| {
        let now = state.stations.get(station);
        let shared = works_in(state, **station);
        !shared && now.is_some_and(|now| now.claim == Some(id))
    };
    places.stations.iter().enumerate().filter(alone).map(|(place, _)| place).collect()
}

/// Whether a second group may take turns at a station while another has it.
pub(super) fn works_in(state: &State, station: StationId) -> bool {
    let now = state.stations.get(&station);
    match state.floor.stations.get(&station).map(|station| station.sharing) {
        Some(Sharing::Open) => true,
        Some(Sharing::Ask) => now.is_some_and(|now| now.leave.is_some() || now.work_in.is_some()),
        Some(Sharing::Never) | None => false,
    }
}

/// An instant of the plan, where it lies ahead.
pub(super) fn ahead(axis: Axis, at: FloorMs, now: FloorMs) -> Option<At> {
    (at > now).then(|| axis.up(at))
}

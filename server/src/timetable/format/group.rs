//! Reads the groups of an instance and their members; the rounds in `round.rs`.

use serde_json::Value;

use super::mistake::{Notes, Path};
use super::node::{Fields, Node, every};
use super::problem::{Many, Problem};
use super::round::{self, Around};
use crate::timetable::instance::{Group, Member, StationKind, UnderWay};

/// What groups refer to, and what has been read of them so far.
pub(super) struct Ground {
    pub(super) kinds: Vec<StationKind>,
    pub(super) coaches: usize,
    /// Who holds each station.
    holders: Vec<Option<usize>>,
    /// How many turns there have been.
    pub(super) turns: usize,
}

impl Ground {
    pub(super) fn new(kinds: Vec<StationKind>, coaches: usize) -> Self {
        let holders = vec![None; kinds.len()];
        Self { kinds, coaches, holders, turns: 0 }
    }
}

/// The groups; reading stops where there are more turns than are read.
pub(super) fn groups(
    node: &Node<'_>,
    list: &[Value],
    ground: &mut Ground,
    notes: &mut Notes,
) -> Option<Vec<Group>> {
    let mut read = Vec::with_capacity(list.len());
    for (id, node) in node.each(list).enumerate() {
        read.push(group(node, id, ground, notes));
        if ground.turns > Many::Turns.most() {
            notes.add(node.at, Problem::TooMany { what: Many::Turns, found: ground.turns });
            return None;
        }
    }
    read.into_iter().collect()
}

fn group(node: Node<'_>, id: usize, ground: &mut Ground, notes: &mut Notes) -> Option<Group> {
    const NEED: [&str; 8] = ["id", "coach", "together", "legs", "rest_min", "rest_max", "order", "members"];
    let fields = node.object(&NEED, &["holds"], notes)?;
    let id_is_right = fields.id(id, notes);
    let coach = fields.need("coach").and_then(|node| node.position(0, ground.coaches, notes));
    let rest_min = fields.need("rest_min").and_then(|node| node.secs(notes));
    let rest_max = fields.need("rest_max").and_then(|node| node.secs_or_null(notes));
    if let (Some(least), Some(Some(most))) = (rest_min, rest_max)
        && least > most
    {
        let problem = Problem::RestWindow { least: least.0, most: most.0 };
        notes.add(Path::Field(&fields.at, "rest_max"), problem);
    }
    let together = fields.need("together").and_then(|node| node.flag(notes));
    let eligible = fields.need("legs").and_then(|node| legs(node, ground, notes));
    let holds = holds(&fields, id, ground, notes);
    let listed = fields.need("members").and_then(|node| node.some(Many::Members, notes));
    let members = fields.need("members").zip(listed).and_then(|(node, list)| {
        // Without the legs nothing could be said of a member's turns, nor without the group's rests of theirs.
        let around = Around { eligible: eligible.as_ref()?, rest_min: rest_min?, rest_max: rest_max? };
        every(node.each(list).enumerate().map(|(id, node)| member(node, id, &around, ground, notes)))
    });
    let order = fields.need("order").and_then(|node| {
        if node.value.is_null() { Some(Vec::new()) } else { order(&node, members.as_ref()?, notes) }
    });
    id_is_right?;
    let group = Group {
        coach: coach?,
        together: together?,
        eligible: eligible?,
        rest_min: rest_min?,
        rest_max: rest_max?,
        order: order?,
        holds: holds?,
        changeover_wait_max: None,
        members: members?,
    };
    if group.together {
        same_stations(&Path::Field(&fields.at, "together"), &group, notes);
    }
    Some(group)
}

/// The stations that suit each leg.
fn legs(node: Node<'_>, ground: &Ground, notes: &mut Notes) -> Option<Vec<Vec<usize>>> {
    let list = node.some(Many::Legs, notes)?;
    every(node.each(list).map(|leg| {
        let fields = leg.object(&["eligible"], &[], notes)?;
        let node = fields.need("eligible")?;
        let list = node.some(Many::Suiting, notes)?;
        every(node.each(list).map(|one| one.position(0, ground.kinds.len(), notes)))
    }))
}

fn holds(fields: &Fields<'_>, group: usize, ground: &mut Ground, notes: &mut Notes) -> Option<Vec<usize>> {
    let read = fields.may("holds", |node| {
        let list = node.list(Many::Suiting, notes)?;
        every(node.each(list).map(|one| {
            let station = one.position(0, ground.kinds.len(), notes)?;
            if let Some(by) = ground.holders[station].replace(group) {
                notes.add(one.at, Problem::HeldTwice { station, by });
                return None;
            }
            Some(station)
        }))
    })?;
    Some(read.unwrap_or_default())
}

fn order(node: &Node<'_>, members: &[Member], notes: &mut Notes) -> Option<Vec<usize>> {
    let list = node.list(Many::Members, notes)?;
    let mut seen = vec![false; members.len()];
    every(node.each(list).map(|one| {
        let member = one.position(0, members.len(), notes)?;
        let again = std::mem::replace(&mut seen[member], true);
        if again {
            notes.add(one.at, Problem::OrderTwice(member));
        }
        let begun = members[member].has_begun();
        if !begun {
            notes.add(one.at, Problem::OrderNotBegun(member));
        }
        (begun && !again).then_some(member)
    }))
}

/// Members who train together have the same stations wherever some are fixed, and those suit the others.
fn same_stations(at: &Path<'_>, group: &Group, notes: &mut Notes) {
    let mut fixed =
        group.members.iter().enumerate().filter_map(|(member, one)| Some((member, one.stations.as_ref()?)));
    let Some((member, stations)) = fixed.next() else { return };
    if fixed.any(|(_, other)| other != stations) {
        notes.add(at, Problem::TogetherDiffers);
        return;
    }
    if group.members.iter().all(|member| member.stations.is_some()) {
        return;
    }
    let suits = |leg: usize, station| group.eligible[leg].contains(station);
    if let Some((leg, station)) = stations.iter().enumerate().find(|(leg, station)| !suits(*leg, station)) {
        notes.add(at, Problem::TogetherNowhere { member, leg, station: *station });
    }
}

fn member(
    node: Node<'_>,
    id: usize,
    around: &Around<'_>,
    ground: &mut Ground,
    notes: &mut Notes,
) -> Option<Member> {
    const NEED: [&str; 5] = ["id", "release", "last_round_end", "under_way", "rounds"];
    let fields = node.object(&NEED, &["due", "stations"], notes)?;
    let legs = around.eligible.len();
    let id_is_right = fields.id(id, notes);
    let release = fields.need("release").and_then(|node| node.instant(notes));
    let last_round_end = fields.need("last_round_end").and_then(|node| node.instant_or_null(notes));
    let due = fields.may("due", |node| node.instant(notes));
    // Null is as good as absent here.
    let stations = match fields.need("stations").filter(|node| !node.value.is_null()) {
        None => Some(None),
        Some(node) => node.list_of(legs, notes).and_then(|list| {
            every(node.each(list).map(|one| one.position(0, ground.kinds.len(), notes))).map(Some)
        }),
    };
    let under_way = fields.need("under_way").and_then(|node| under_way(node, legs, notes));
    let rounds = fields.need("rounds").and_then(|node| {
        let done = under_way?.map_or(0, |way| way.legs_done);
        round::rounds(&node, done, stations.as_ref()?.as_deref(), around, ground, notes)
    });
    if let (Some(Some(_)), Some(rounds)) = (under_way, &rounds)
        && rounds.is_empty()
    {
        notes.add(Path::Field(&fields.at, "under_way"), Problem::NoRoundUnderWay);
    }
    id_is_right?;
    Some(Member {
        release: release?,
        due: due?,
        stations: stations?,
        last_round_end: last_round_end?,
        under_way: under_way?,
        rounds: rounds?,
    })
}

fn under_way(node: Node<'_>, legs: usize, notes: &mut Notes) -> Option<Option<UnderWay>> {
    if node.value.is_null() {
        return Some(None);
    }
    let fields = node.object(&["legs_done", "last_end"], &[], notes)?;
    let legs_done = fields.need("legs_done").and_then(|node| node.position(1, legs, notes));
    let last_end = fields.need("last_end").and_then(|node| node.instant(notes));
    Some(Some(UnderWay { legs_done: legs_done?, last_end: last_end? }))
}

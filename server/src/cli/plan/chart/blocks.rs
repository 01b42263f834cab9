//! What there is to draw: spans of time in rows.

use super::labels::Labels;
use crate::timetable::answer::Timetable;
use crate::timetable::check::change;
use crate::timetable::instance::{Group, Instance, Load, Member, Turn, Window};

/// What happens in a span.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// A set of a group, of its first, second or a further exercise.
    Set { group: usize, leg: usize },
    /// Hands change the load.
    Change,
    /// Somebody waits between two exercises.
    Wait,
    /// A rest goes on beyond its longest.
    Overrun,
    /// It cannot be used.
    Busy,
}

/// A span of time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Block {
    /// From this second.
    pub(super) from: i64,
    /// Up to this one.
    pub(super) to: i64,
    /// What happens.
    pub(super) what: What,
    /// What stands in it: a line, and another below where there is room.
    pub(super) label: [String; 2],
    /// What a pointer on it tells.
    pub(super) told: String,
}

/// Rows of blocks, by the positions of what they are of.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Blocks {
    pub(super) stations: Vec<Vec<Block>>,
    pub(super) coaches: Vec<Vec<Block>>,
    /// By group and member.
    pub(super) members: Vec<Vec<Vec<Block>>>,
}

/// One set with its place; all of them stand in the order of their starts.
struct Placed<'a> {
    start: i64,
    end: i64,
    station: usize,
    /// Seconds right before it in which hands change the load.
    change: i64,
    place: (usize, usize, usize, usize),
    turn: &'a Turn,
}

impl Blocks {
    /// Everything of a timetable, which must be one of the instance.
    pub(super) fn of(instance: &Instance, timetable: &Timetable, labels: &Labels) -> Self {
        let sets = placed(instance, timetable);
        let stations = 0..instance.stations.len();
        let coaches = 0..instance.coaches.len();
        Self {
            stations: stations.map(|station| at_station(instance, labels, &sets, station)).collect(),
            coaches: coaches.map(|coach| of_coach(instance, labels, &sets, coach)).collect(),
            members: (0..instance.groups.len())
                .map(|group| {
                    let members = 0..instance.groups[group].members.len();
                    members.map(|member| of_member(instance, labels, &sets, group, member)).collect()
                })
                .collect(),
        }
    }

    /// The first second in which anything happens after `now`, and the last.
    pub(super) fn ends(&self, now: i64) -> (i64, i64) {
        let sets = self.stations.iter().flatten().filter(|block| block.what != What::Busy);
        sets.fold((now, now), |(from, to), block| (from.min(block.from), to.max(block.to)))
    }
}

fn placed<'a>(instance: &'a Instance, timetable: &Timetable) -> Vec<Placed<'a>> {
    let mut sets = Vec::new();
    for row in &timetable.turns {
        let (group, member, round) = (row.group, row.member, row.round);
        let turns = &instance.groups[group].members[member].rounds[round].legs;
        let stations = &timetable.stations[group][member];
        for (leg, (start, turn)) in row.starts.iter().zip(turns).enumerate() {
            let (Some(start), Some(turn)) = (start, turn) else { continue };
            let (start, length) = (i64::from(start.0), i64::from(turn.length.0));
            let place = (group, member, round, leg);
            let station = stations[leg];
            sets.push(Placed { start, end: start + length, station, change: 0, place, turn });
        }
    }
    sets.sort_by_key(|set| (set.start, set.place));
    let mut loads: Vec<Option<&Load>> = instance.stations.iter().map(|one| one.load.as_ref()).collect();
    for set in &mut sets {
        let load = &mut loads[set.station];
        set.change = change(instance, set.station, *load, set.turn.load.as_ref()).secs;
        *load = set.turn.load.as_ref().or(*load);
    }
    sets
}

impl Placed<'_> {
    fn block(&self, labels: &Labels, (from, to): (i64, i64)) -> Block {
        let (group, member, round, leg) = self.place;
        let number = labels.round(group, member, round);
        let who = labels.member(group, member);
        let (begins, ends) = (labels.time(self.start), labels.time(self.end));
        let told = format!("{}, exercise {}: {begins} to {ends}", labels.set(group, member, round), leg + 1);
        let label = [who.to_owned(), number.to_owned()];
        Block { from, to, what: What::Set { group, leg }, label, told }
    }
}

/// A span without a label.
fn bare(from: i64, to: i64, what: What, told: String) -> Block {
    Block { from, to, what, label: [String::new(), String::new()], told }
}

fn busy(windows: &[Window], free_at: i64) -> Vec<Block> {
    let windows = windows.iter().map(|window| (i64::from(window.from.0), i64::from(window.to.0)));
    let first = (free_at > 0).then_some((i64::MIN, free_at));
    first.into_iter().chain(windows).map(|(from, to)| bare(from, to, What::Busy, String::new())).collect()
}

fn at_station(instance: &Instance, labels: &Labels, sets: &[Placed<'_>], at: usize) -> Vec<Block> {
    let station = &instance.stations[at];
    let mut blocks = busy(&station.busy, i64::from(station.free_at.0));
    for set in sets.iter().filter(|set| set.station == at) {
        if set.change > 0 {
            let told = format!("change of load, {} s", set.change);
            blocks.push(bare(set.start - set.change, set.start, What::Change, told));
        }
        blocks.push(set.block(labels, (set.start, set.end)));
    }
    blocks
}

fn of_coach(instance: &Instance, labels: &Labels, sets: &[Placed<'_>], coach: usize) -> Vec<Block> {
    let who = &instance.coaches[coach];
    let mut blocks = busy(&who.busy, i64::from(who.free_at.0));
    for set in sets {
        let Some(spot) = set.turn.spot else { continue };
        let (group, member, round, _) = set.place;
        let group = &instance.groups[group];
        if group.members[member].rounds[round].coach.unwrap_or(group.coach) == coach {
            let spotted = (set.start + i64::from(spot.from.0), set.start + i64::from(spot.to.0));
            blocks.push(set.block(labels, spotted));
        }
    }
    blocks
}

/// Where somebody was last: when it ended, and the station, where that was within the round.
#[derive(Clone, Copy)]
enum Before {
    /// An exercise of this round.
    Exercise { end: i64, round: usize, station: usize },
    /// A round that was done before now.
    Round { end: i64 },
}

fn of_member(
    instance: &Instance,
    labels: &Labels,
    sets: &[Placed<'_>],
    group: usize,
    member: usize,
) -> Vec<Block> {
    let of = &instance.groups[group];
    let person = &of.members[member];
    let under_way = person.under_way.and_then(|way| {
        let station = *person.stations.as_ref()?.get(way.legs_done.checked_sub(1)?)?;
        Some(Before::Exercise { end: i64::from(way.last_end.0), round: 0, station })
    });
    let rests = person.last_round_end.map(|end| Before::Round { end: i64::from(end.0) });
    let mut before = under_way.or(rests);
    let mut blocks = Vec::new();
    for set in sets.iter().filter(|set| (set.place.0, set.place.1) == (group, member)) {
        let round = set.place.2;
        blocks.extend(before.and_then(|before| match before {
            Before::Exercise { end, round: last, station } if last == round => {
                // Changing the load of one's own station is work, and no waiting.
                let change = if station == set.station { set.change } else { 0 };
                let ready = end + i64::from(instance.walk[station][set.station].0) + change;
                let told = format!("waits {} s", set.start - ready);
                (set.start > ready).then(|| bare(ready, set.start, What::Wait, told))
            }
            Before::Exercise { end, .. } | Before::Round { end } => {
                overrun(of, person, round, (end, set.start))
            }
        }));
        blocks.push(set.block(labels, (set.start, set.end)));
        before = Some(Before::Exercise { end: set.end, round, station: set.station });
    }
    blocks
}

/// What a rest has beyond its longest.
fn overrun(group: &Group, member: &Member, round: usize, (end, start): (i64, i64)) -> Option<Block> {
    let number = |round: usize| member.rounds[round].number;
    let missed =
        round.checked_sub(1).is_some_and(|before| number(before).checked_add(1) != Some(number(round)));
    let most = member.rounds[round].rest_max.unwrap_or(group.rest_max).filter(|_| !missed)?;
    let longest = end + i64::from(most.0);
    let over = start - longest;
    let told = format!("rests {over} s beyond the longest");
    let label = [format!("+{over} s"), String::new()];
    (over > 0).then(|| Block { label, ..bare(longest, start, What::Overrun, told) })
}

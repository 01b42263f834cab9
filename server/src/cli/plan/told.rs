//! What is told of an evening from people's own files: who begins when and where, and which groups are too large.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::units::Secs;

use super::chart::time;
use super::evening::{Evening, LeftOut};
use super::too_large::too_large;
use crate::floor::config::Person;
use crate::timetable::answer::Timetable;
use crate::timetable::instance::Instance;
use crate::timetable::rotation::Split;

/// An evening from a floor file and a programme file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Told {
    /// The groups, once for each of their blocks: in the order of the instance, which is that of the sessions and in each
    /// of them that of its blocks.
    pub groups: Vec<Group>,
    /// Groups that are not planned, or not to their end.
    pub not_planned: Vec<NotPlanned>,
}

/// A group in one of its blocks, and when its clients begin that.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Group {
    /// Its number in the programme.
    pub group: u32,
    /// Which of its blocks, from 1.
    #[schemars(range(min = 1))]
    pub block: u16,
    /// Of how many that the programme has for it.
    #[schemars(range(min = 1))]
    pub blocks: u16,
    /// The name of its coach.
    pub coach: String,
    /// Its clients.
    pub members: Vec<Member>,
    /// Where its rests cannot all be kept on one pair of stations.
    pub too_large: Option<TooLarge>,
}

/// A client of a group.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Member {
    /// The name.
    pub name: String,
    /// The names of the stations, in the order of the exercises.
    pub stations: Vec<String>,
    /// The second of the plan at which the first set of the block begins.
    pub first_start: u32,
    /// The second at which the last set of the block ends.
    pub last_end: u32,
    /// The same as `first_start`, as people read it: the time of day, or minutes and seconds where the programme has no
    /// day.
    pub at: String,
}

/// A group that is too large for its rests.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct TooLarge {
    /// By how many seconds a rest overruns for the client for whom it is worst.
    pub overrun_seconds: u32,
    /// Whom to put together on two pairs of stations; nothing where that is no better.
    pub pairs: Option<[Half; 2]>,
}

/// Clients on one of two pairs of stations.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Half {
    /// Their names.
    pub members: Vec<String>,
    /// By how many seconds a rest still overruns there.
    pub overrun_seconds: u32,
}

/// A group that is not planned, or not to its end.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct NotPlanned {
    /// Its number in the programme.
    pub group: u32,
    /// The first of its blocks that is not, from 1.
    #[schemars(range(min = 1))]
    pub block: u16,
    /// Why not.
    pub why: String,
}

impl Told {
    /// What a timetable makes of an evening; `instance` is the one that it is a timetable of.
    pub(super) fn of(evening: &Evening, instance: &Instance, timetable: &Timetable) -> Self {
        let stations = evening.stations();
        let groups = evening.who.groups().enumerate().map(|(place, id)| {
            let names = evening.clients(place);
            let member = |(member, name): (usize, &String)| {
                let own = &timetable.stations[place][member];
                let (first, last) = span(instance, timetable, (place, member));
                Member {
                    name: name.clone(),
                    stations: own.iter().map(|station| stations[*station].clone()).collect(),
                    first_start: first,
                    last_end: last,
                    at: time(evening.zero, i64::from(first)),
                }
            };
            let plan = evening.opening.programme.groups.get(&id);
            let blocks = plan.map_or(1, |plan| plan.blocks.len());
            Group {
                group: id.0,
                block: u16::from(evening.who.block(place).unwrap_or_default()) + 1,
                blocks: u16::try_from(blocks).unwrap_or(u16::MAX),
                coach: plan.map_or_else(String::new, |plan| evening.person(Person::Coach(plan.coach))),
                members: names.iter().enumerate().map(member).collect(),
                too_large: too_large(instance, place, &timetable.stations[place])
                    .map(|(overrun, split)| TooLarge::of(overrun, split, &names)),
            }
        });
        let not_planned = |LeftOut { group, block, why }: &LeftOut| NotPlanned {
            group: group.0,
            block: u16::from(*block) + 1,
            why: why.clone(),
        };
        Self { groups: groups.collect(), not_planned: evening.left_out.iter().map(not_planned).collect() }
    }

    /// A line for each client in each block, and one for each group that is too large or not planned.
    pub(super) fn text(&self) -> String {
        let mut said = String::new();
        for Group { group, block, blocks, coach, members, too_large } in &self.groups {
            let block = if *blocks > 1 { format!(", block {block}") } else { String::new() };
            let _ = writeln!(said, "group {group}{block} with {coach}");
            for Member { name, stations, at, .. } in members {
                let _ = writeln!(said, "  {at:>8}  {name}: {}", stations.join(", then "));
            }
            if let Some(too_large) = too_large {
                let _ = writeln!(said, "  {}", too_large.text());
            }
        }
        for NotPlanned { group, block, why } in &self.not_planned {
            let from = if *block > 1 { format!(" from block {block} on") } else { String::new() };
            let _ = writeln!(said, "group {group} is not planned{from}: {why}");
        }
        said
    }
}

/// When the first set of a client begins and the last one ends.
fn span(instance: &Instance, timetable: &Timetable, (group, member): (usize, usize)) -> (u32, u32) {
    let rows = timetable.turns.iter().filter(|row| (row.group, row.member) == (group, member));
    let turns = rows.flat_map(|row| {
        let legs = &instance.groups[group].members[member].rounds[row.round].legs;
        row.starts.iter().zip(legs).filter_map(|(start, turn)| Some(((*start)?.0, turn.as_ref()?.length.0)))
    });
    let ends = |(first, last): (Option<u32>, u32), (start, length): (u32, u32)| {
        (Some(first.map_or(start, |first| first.min(start))), last.max(start + length))
    };
    let (first, last) = turns.fold((None, 0), ends);
    (first.unwrap_or_default(), last)
}

impl TooLarge {
    fn of(overrun: Secs, split: Option<Split>, names: &[String]) -> Self {
        let pairs = split.map(|Split { halves: [one, other], overruns: [of_one, of_other] }| {
            let half = |members: &[usize], overrun: Secs| Half {
                members: members.iter().filter_map(|member| names.get(*member).cloned()).collect(),
                overrun_seconds: overrun.0,
            };
            [half(&one, of_one), half(&other, of_other)]
        });
        Self { overrun_seconds: overrun.0, pairs }
    }

    fn text(&self) -> String {
        let over = self.overrun_seconds;
        let larger = format!("larger than its rests allow on one pair of stations: up to {over} s too long");
        match &self.pairs {
            None => format!("{larger}; two pairs would do no better"),
            Some(pairs) => {
                let half = |half: &Half| match half.overrun_seconds {
                    0 => half.members.join(" and "),
                    over => format!("{} (still up to {over} s)", half.members.join(" and ")),
                };
                format!("{larger}; on two pairs: {} | {}", half(&pairs[0]), half(&pairs[1]))
            }
        }
    }
}

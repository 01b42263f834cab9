//! What is told of an evening from people's own files: who begins when and where, and which groups are too large.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::units::Secs;

use super::chart::time;
use super::evening::Evening;
use super::too_large::too_large;
use crate::floor::config::Person;
use crate::timetable::answer::Timetable;
use crate::timetable::rotation::Split;

/// An evening from a floor file and a programme file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Told {
    /// The groups, in the order of the instance.
    pub groups: Vec<Group>,
    /// Groups that are not planned.
    pub not_planned: Vec<NotPlanned>,
}

/// A group and when its clients begin.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Group {
    /// Its number in the programme.
    pub group: u32,
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
    /// The second of the plan at which the first set begins.
    pub first_start: u32,
    /// The same as people read it: the time of day, or minutes and seconds where the programme has no day.
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

/// A group that is not planned.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct NotPlanned {
    /// Its number in the programme.
    pub group: u32,
    /// Why not.
    pub why: String,
}

impl Told {
    /// What a timetable makes of an evening.
    pub(super) fn of(evening: &Evening, timetable: &Timetable) -> Self {
        let outlook = &evening.outlook;
        let stations = evening.stations();
        let groups = outlook.who.groups().enumerate().map(|(place, id)| {
            let names = evening.clients(place);
            let member = |(member, name): (usize, &String)| {
                let own = &timetable.stations[place][member];
                let rows = timetable.turns.iter().filter(|row| (row.group, row.member) == (place, member));
                let first = rows.flat_map(|row| &row.starts).flatten().min().map_or(0, |start| start.0);
                Member {
                    name: name.clone(),
                    stations: own.iter().map(|station| stations[*station].clone()).collect(),
                    first_start: first,
                    at: time(evening.zero, i64::from(first)),
                }
            };
            let coach = evening.state.programme.groups.get(&id).map(|plan| plan.coach);
            Group {
                group: id.0,
                coach: coach.map_or_else(String::new, |coach| evening.person(Person::Coach(coach))),
                members: names.iter().enumerate().map(member).collect(),
                too_large: too_large(&outlook.instance, place, &timetable.stations[place])
                    .map(|(overrun, split)| TooLarge::of(overrun, split, &names)),
            }
        });
        let not_planned = evening.left_out.iter();
        Self {
            groups: groups.collect(),
            not_planned: not_planned.map(|(id, why)| NotPlanned { group: id.0, why: why.clone() }).collect(),
        }
    }

    /// A line for each client, and one for each group that is too large or not planned.
    pub(super) fn text(&self) -> String {
        let mut said = String::new();
        for Group { group, coach, members, too_large } in &self.groups {
            let _ = writeln!(said, "group {group} with {coach}");
            for Member { name, stations, at, .. } in members {
                let _ = writeln!(said, "  {at:>8}  {name}: {}", stations.join(", then "));
            }
            if let Some(too_large) = too_large {
                let _ = writeln!(said, "  {}", too_large.text());
            }
        }
        for NotPlanned { group, why } in &self.not_planned {
            let _ = writeln!(said, "group {group} is not planned: {why}");
        }
        said
    }
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

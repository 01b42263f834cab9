//! What things are called in a chart.

use crate::timetable::instance::{Instance, Member};

/// Names, by position in the instance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Labels {
    /// What is planned.
    pub title: String,
    /// Stations.
    pub stations: Vec<String>,
    /// Coaches.
    pub coaches: Vec<String>,
    /// Groups.
    pub groups: Vec<String>,
    /// Members, by group, as they stand in their sets.
    pub members: Vec<Vec<String>>,
    /// For each group the one in whose rows its clients stand: itself, or an earlier one with the same clients.
    pub rows: Vec<usize>,
    /// Rounds, by group and member.
    pub rounds: Vec<Vec<Vec<String>>>,
    /// How a set reads.
    pub reading: String,
    /// The second of a day at which the plan's zero is; nothing: minutes are counted from zero.
    pub zero: Option<u32>,
}

impl Labels {
    /// The numbers that files name everything by, from 0: `group.member` in each set.
    #[must_use]
    pub fn numbers(instance: &Instance) -> Self {
        let named = |word: &str, count: usize| (0..count).map(|n| format!("{word} {n}")).collect();
        let rounds =
            |member: &Member| member.rounds.iter().map(|round| format!("r{}", round.number)).collect();
        let members = |(g, count): (usize, usize)| (0..count).map(|m| format!("{g}.{m}")).collect();
        Self {
            title: instance.name.clone(),
            stations: named("station", instance.stations.len()),
            coaches: named("coach", instance.coaches.len()),
            groups: named("group", instance.groups.len()),
            members: instance.groups.iter().map(|g| g.members.len()).enumerate().map(members).collect(),
            rows: (0..instance.groups.len()).collect(),
            rounds: instance.groups.iter().map(|g| g.members.iter().map(rounds).collect()).collect(),
            reading: "0.1 r2: group 0, client 1, round 2".to_owned(),
            zero: None,
        }
    }

    /// A name; a position beyond the names has none.
    pub(super) fn name(list: &[String], at: usize) -> &str {
        list.get(at).map_or("", String::as_str)
    }

    /// A member's name.
    pub(super) fn member(&self, group: usize, member: usize) -> &str {
        self.members.get(group).map_or("", |members| Self::name(members, member))
    }

    /// The group in whose rows a group's clients stand.
    pub(super) fn row(&self, group: usize) -> usize {
        self.rows.get(group).copied().unwrap_or(group)
    }

    /// The label of a member's round.
    pub(super) fn round(&self, group: usize, member: usize, round: usize) -> &str {
        let rounds = self.rounds.get(group).and_then(|members| members.get(member));
        rounds.map_or("", |rounds| Self::name(rounds, round))
    }

    /// Whose round it is, and which.
    pub(in crate::cli::plan) fn set(&self, group: usize, member: usize, round: usize) -> String {
        let name = Self::name(&self.groups, group);
        format!("{name}, {}, {}", self.member(group, member), self.round(group, member, round))
    }

    /// A second as people read it.
    pub(super) fn time(&self, second: i64) -> String {
        time(self.zero, second)
    }

    /// A whole minute at the axis.
    pub(super) fn minute(&self, second: i64) -> String {
        match self.zero {
            None => format!("{} min", second.div_euclid(60)),
            Some(zero) => {
                let day = (i64::from(zero) + second).rem_euclid(86_400);
                format!("{:02}:{:02}", day / 3_600, day / 60 % 60)
            }
        }
    }

    /// Whether a second has a number at the axis, at every so many of the day or of the plan.
    pub(super) fn is_numbered(&self, second: i64, every: i64) -> bool {
        (i64::from(self.zero.unwrap_or(0)) + second).rem_euclid(every) == 0
    }
}

/// A second as people read it: the time of day where it is known at which `zero` second of one the plan begins, and else
/// minutes and seconds from the beginning.
pub(in crate::cli::plan) fn time(zero: Option<u32>, second: i64) -> String {
    match zero {
        None => format!("{}:{:02}", second.div_euclid(60), second.rem_euclid(60)),
        Some(zero) => {
            let day = (i64::from(zero) + second).rem_euclid(86_400);
            format!("{:02}:{:02}:{:02}", day / 3_600, day / 60 % 60, day % 60)
        }
    }
}

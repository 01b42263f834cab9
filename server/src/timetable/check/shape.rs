//! Whether a timetable is one of the instance at all.

use std::fmt;

use super::super::answer::{Breach, Timetable};
use super::super::instance::{Group, Instance, Member};

/// Where a timetable is none of the instance. Positions count from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Misfit {
    /// It names another instance.
    Name {
        /// The instance's name.
        wanted: String,
    },
    /// Stations of too few or too many groups.
    Groups {
        /// How many there are.
        wanted: usize,
        /// How many it has.
        found: usize,
    },
    /// Stations of too few or too many members.
    Members {
        /// Of which group.
        group: usize,
        /// How many there are.
        wanted: usize,
        /// How many it has.
        found: usize,
    },
    /// Stations of too few or too many legs.
    Legs {
        /// Of which group.
        group: usize,
        /// Of which member.
        member: usize,
        /// How many there are.
        wanted: usize,
        /// How many it has.
        found: usize,
    },
    /// A station that does not suit.
    Station {
        /// Of which group.
        group: usize,
        /// Of which member.
        member: usize,
        /// Of which leg.
        leg: usize,
        /// Those that do.
        wanted: Vec<usize>,
        /// The station.
        found: usize,
    },
    /// Members who train together, at different stations.
    Together {
        /// Of which group.
        group: usize,
    },
    /// A round that the instance does not have.
    NoSuchRound {
        /// Its place in the list of turns.
        entry: usize,
        /// The group it names.
        group: usize,
        /// The member it names.
        member: usize,
        /// The round it names.
        round: usize,
    },
    /// A round that stands there twice.
    Twice {
        /// The place of the second in the list of turns.
        entry: usize,
        /// Its group.
        group: usize,
        /// Its member.
        member: usize,
        /// Its round.
        round: usize,
    },
    /// Starts of too few or too many legs.
    Starts {
        /// The place in the list of turns.
        entry: usize,
        /// How many legs there are.
        wanted: usize,
        /// How many starts it has.
        found: usize,
    },
    /// A start of a leg that is done or skipped.
    StartForNothing {
        /// The place in the list of turns.
        entry: usize,
        /// The leg.
        leg: usize,
    },
    /// No start of a leg that is still to be done.
    NoStart {
        /// The place in the list of turns.
        entry: usize,
        /// The leg.
        leg: usize,
    },
    /// A round without any starts.
    NoRound {
        /// Its group.
        group: usize,
        /// Its member.
        member: usize,
        /// The round.
        round: usize,
    },
    /// A breach of a rule that does not exist.
    NoSuchRule {
        /// The place in the list of breaches.
        entry: usize,
        /// The rule.
        rule: u8,
    },
    /// A breach that is listed twice.
    BreachTwice {
        /// The place of the second in the list of breaches.
        entry: usize,
    },
}

impl Misfit {
    /// The field of the timetable's file, such as `turns[3].starts[1]`.
    #[must_use]
    pub fn place(&self) -> String {
        match self {
            Self::Name { .. } => "instance".to_owned(),
            Self::Groups { .. } => "stations".to_owned(),
            Self::Members { group, .. } | Self::Together { group } => format!("stations[{group}]"),
            Self::Legs { group, member, .. } => format!("stations[{group}][{member}]"),
            Self::Station { group, member, leg, .. } => format!("stations[{group}][{member}][{leg}]"),
            Self::NoSuchRound { entry, .. } | Self::Twice { entry, .. } => format!("turns[{entry}]"),
            Self::Starts { entry, .. } => format!("turns[{entry}].starts"),
            Self::StartForNothing { entry, leg } | Self::NoStart { entry, leg } => {
                format!("turns[{entry}].starts[{leg}]")
            }
            Self::NoRound { .. } => "turns".to_owned(),
            Self::NoSuchRule { entry, .. } => format!("breaches[{entry}].rule"),
            Self::BreachTwice { entry } => format!("breaches[{entry}]"),
        }
    }
}

/// What is wanted there; the place is told by [`Misfit::place`].
impl fmt::Display for Misfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Name { wanted } => write!(f, "{wanted:?} is wanted"),
            Self::Groups { wanted, found }
            | Self::Members { wanted, found, .. }
            | Self::Legs { wanted, found, .. }
            | Self::Starts { wanted, found, .. } => write!(f, "a list of {wanted} is wanted, not of {found}"),
            Self::Station { wanted, found, .. } => write!(f, "one of {wanted:?} is wanted, not {found}"),
            Self::Together { .. } => {
                f.write_str("the members train together: the same stations for all are wanted")
            }
            Self::NoSuchRound { group, member, round, .. } => {
                write!(f, "the instance has no group {group} member {member} round {round}")
            }
            Self::Twice { group, member, round, .. } => {
                write!(f, "group {group} member {member} round {round} is there twice")
            }
            Self::StartForNothing { .. } => f.write_str("null is wanted: the leg is done or skipped"),
            Self::NoStart { .. } => f.write_str("an integer >= 0 is wanted, not null"),
            Self::NoRound { group, member, round } => {
                write!(f, "group {group} member {member} round {round} is missing")
            }
            Self::NoSuchRule { rule, .. } => write!(f, "an integer 1..7 is wanted, not {rule}"),
            Self::BreachTwice { .. } => f.write_str("listed twice"),
        }
    }
}

impl std::error::Error for Misfit {}

/// Everything by which the timetable is none of this instance.
pub(super) fn misfits(instance: &Instance, timetable: &Timetable) -> Vec<Misfit> {
    let mut misfits = Vec::new();
    if timetable.instance != instance.name {
        misfits.push(Misfit::Name { wanted: instance.name.clone() });
    }
    stations(instance, &timetable.stations, &mut misfits);
    turns(instance, timetable, &mut misfits);
    breaches(&timetable.breaches, &mut misfits);
    misfits
}

fn stations(instance: &Instance, stations: &[Vec<Vec<usize>>], misfits: &mut Vec<Misfit>) {
    let (wanted, found) = (instance.groups.len(), stations.len());
    if wanted != found {
        misfits.push(Misfit::Groups { wanted, found });
        return;
    }
    for (id, (group, stations)) in instance.groups.iter().zip(stations).enumerate() {
        let (wanted, found) = (group.members.len(), stations.len());
        if wanted != found {
            misfits.push(Misfit::Members { group: id, wanted, found });
            continue;
        }
        for (member, (one, stations)) in group.members.iter().zip(stations).enumerate() {
            of_member(group, one, (id, member), stations, misfits);
        }
        if group.together && stations.windows(2).any(|two| two[0] != two[1]) {
            misfits.push(Misfit::Together { group: id });
        }
    }
}

fn of_member(
    group: &Group,
    one: &Member,
    (id, member): (usize, usize),
    stations: &[usize],
    misfits: &mut Vec<Misfit>,
) {
    let (wanted, found) = (group.eligible.len(), stations.len());
    if wanted != found {
        misfits.push(Misfit::Legs { group: id, member, wanted, found });
        return;
    }
    for (leg, found) in stations.iter().enumerate() {
        let suiting = match &one.stations {
            Some(fixed) => std::slice::from_ref(&fixed[leg]),
            None => group.eligible[leg].as_slice(),
        };
        if !suiting.contains(found) {
            let wanted = suiting.to_vec();
            misfits.push(Misfit::Station { group: id, member, leg, wanted, found: *found });
        }
    }
}

fn turns(instance: &Instance, timetable: &Timetable, misfits: &mut Vec<Misfit>) {
    let mut seen: Vec<Vec<Vec<bool>>> = instance
        .groups
        .iter()
        .map(|group| group.members.iter().map(|member| vec![false; member.rounds.len()]).collect())
        .collect();
    for (entry, turn) in timetable.turns.iter().enumerate() {
        let (group, member, round) = (turn.group, turn.member, turn.round);
        let known = instance.groups.get(group).and_then(|group| group.members.get(member));
        let Some((one, legs)) = known.and_then(|one| Some((one, &one.rounds.get(round)?.legs))) else {
            misfits.push(Misfit::NoSuchRound { entry, group, member, round });
            continue;
        };
        if std::mem::replace(&mut seen[group][member][round], true) {
            misfits.push(Misfit::Twice { entry, group, member, round });
        }
        let (wanted, found) = (legs.len(), turn.starts.len());
        if wanted != found {
            misfits.push(Misfit::Starts { entry, wanted, found });
            continue;
        }
        let done = one.under_way.filter(|_| round == 0).map_or(0, |way| way.legs_done);
        for (leg, (wanted, start)) in legs.iter().zip(&turn.starts).enumerate() {
            match (wanted.is_some() && leg >= done, start.is_some()) {
                (true, false) => misfits.push(Misfit::NoStart { entry, leg }),
                (false, true) => misfits.push(Misfit::StartForNothing { entry, leg }),
                (true, true) | (false, false) => {}
            }
        }
    }
    for (group, seen) in seen.iter().enumerate() {
        for (member, seen) in seen.iter().enumerate() {
            let missing = seen.iter().enumerate().filter(|(_, seen)| !**seen);
            misfits.extend(missing.map(|(round, _)| Misfit::NoRound { group, member, round }));
        }
    }
}

fn breaches(breaches: &[Breach], misfits: &mut Vec<Misfit>) {
    let place = |breach: &Breach| (breach.rule, breach.group, breach.member, breach.round, breach.leg);
    let mut order: Vec<usize> = (0..breaches.len()).collect();
    order.sort_by_key(|entry| (place(&breaches[*entry]), *entry));
    let again = order.windows(2).filter(|two| place(&breaches[two[0]]) == place(&breaches[two[1]]));
    let mut again: Vec<usize> = again.map(|two| two[1]).collect();
    again.sort_unstable();
    misfits.extend(again.into_iter().map(|entry| Misfit::BreachTwice { entry }));
    for (entry, breach) in breaches.iter().enumerate().filter(|(_, breach)| !(1..=7).contains(&breach.rule)) {
        misfits.push(Misfit::NoSuchRule { entry, rule: breach.rule });
    }
}

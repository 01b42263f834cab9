//! A floor file and a programme file as an evening that is about to begin: everybody comes at the time of their session
//! and asks for stations, through the floor's own rules, and the floor's outlook states what is to be planned.
//!
//! Only the first block of every group is in it, as on a floor: what comes after depends on how it goes.

use std::path::Path;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::GroupId;
use turnabout_protocol::role::Actor;
use turnabout_protocol::text::{Language, say};
use turnabout_protocol::units::FloorMs;

use crate::floor::config::{Floor, GroupPlan, Names, Person, Programme};
use crate::floor::decide::{Speaker, Tap, Verdict, decide};
use crate::floor::event::{Entry, Event};
use crate::floor::evolve::evolve;
use crate::floor::outlook::limits::WAITING;
use crate::floor::outlook::{Cuts, Outlook, RoundKey};
use crate::floor::rehearse::opening::Opening;
use crate::floor::state::State;
use crate::setup::{FilePair, Mistakes, ProgrammeFile, read_pair};

use super::chart::Labels;

/// An evening that is about to begin.
pub(super) struct Evening {
    pub(super) state: State,
    pub(super) names: Names,
    pub(super) outlook: Outlook,
    /// The second of the day at which the plan's zero is, where the programme has a day.
    pub(super) zero: Option<u32>,
    /// Groups that are not planned, each with why.
    pub(super) left_out: Vec<(GroupId, String)>,
}

/// Reads both files and lets everybody come.
pub(super) fn read(floor: &Path, programme: &Path) -> Result<Evening, Vec<Mistakes>> {
    let FilePair { floor, programme } = read_pair(floor, Some(programme), None)?;
    // A pair that is read with a programme has one.
    let ProgrammeFile { programme, names, .. } = programme.unwrap_or(ProgrammeFile {
        programme: Programme::default(),
        names: Names::new(),
        hints: Vec::new(),
    });
    let mut all = floor.names;
    all.extend(names);
    Ok(begun(floor.floor, programme, all))
}

fn begun(floor: Floor, programme: Programme, names: Names) -> Evening {
    let Opening { state, first, .. } = Opening::of(floor, programme);
    let mut core = Core { state };
    let left_out = core.all_come();
    let outlook = Outlook::of(&core.state, FloorMs(0), &mut Cuts::default());
    let zero = first.map(|first| u32::from(first.minutes()) * 60);
    Evening { state: core.state, names, outlook, zero, left_out }
}

/// The floor's core, alone.
struct Core {
    state: State,
}

impl Core {
    fn happen(&mut self, at: FloorMs, by: Actor, event: Event) {
        let entry = Entry { sequence: self.state.sequence + 1, recorded: at, at, by, event };
        evolve(&mut self.state, &entry);
    }

    /// Every group comes at its time and asks for its stations, all welcomed by their coach. Who may not is told of.
    fn all_come(&mut self) -> Vec<(GroupId, String)> {
        let at = |(id, _): (&GroupId, &GroupPlan)| (self.state.starts_at(*id).unwrap_or(FloorMs(0)), *id);
        let mut groups: Vec<(FloorMs, GroupId)> = self.state.programme.groups.iter().map(at).collect();
        groups.sort_unstable();
        let (mut come, mut left_out) = (0, Vec::new());
        for (at, group) in groups {
            let asked = if come < WAITING {
                self.comes(group, at)
            } else {
                Err(format!("only {WAITING} groups that wait are planned at a time"))
            };
            match asked {
                Ok(()) => come += 1,
                Err(why) => left_out.push((group, why)),
            }
        }
        left_out
    }

    fn comes(&mut self, group: GroupId, at: FloorMs) -> Result<(), String> {
        let Some(plan) = self.state.programme.groups.get(&group) else { return Ok(()) };
        let (coach, clients) = (plan.coach, plan.clients.clone());
        let revision = self.state.groups.get(&group).map_or(0, |now| now.revision);
        let speaker = Speaker { actor: Actor::Coach { coach }, stations: Vec::new() };
        let acts = [Act::Arrive { group, clients }, Act::AskStations { group, block: 0, revision }];
        for act in acts {
            let tap = Tap { speaker: speaker.clone(), at, act };
            match decide(&self.state, &tap, at) {
                Verdict::Accepted(events) => {
                    events.into_iter().for_each(|event| self.happen(at, speaker.actor, event));
                }
                Verdict::Already(_) => {}
                Verdict::Refused(refusal) => {
                    return Err(say(Language::En, "refusal", &refusal, |_, value| value.to_string()));
                }
            }
        }
        Ok(())
    }
}

impl Evening {
    /// Somebody's name, or the number where there is none.
    pub(super) fn person(&self, person: Person) -> String {
        let number = match person {
            Person::Client(id) => id.0.to_string(),
            Person::Coach(id) => id.0.to_string(),
        };
        self.names.get(&person).cloned().unwrap_or(number)
    }

    /// The names of the stations, by position.
    pub(super) fn stations(&self) -> Vec<String> {
        let name = |id| self.state.floor.stations.get(id).map_or_else(String::new, |one| one.name.clone());
        self.outlook.who.stations().iter().map(name).collect()
    }

    /// The names of a group's clients, by position.
    pub(super) fn clients(&self, group: usize) -> Vec<String> {
        self.outlook.who.clients(group).map(|id| self.person(Person::Client(id))).collect()
    }

    /// What everything is called in a picture.
    pub(super) fn labels(&self) -> Labels {
        let who = &self.outlook.who;
        let groups = 0..who.groups().len();
        let round = |key: &RoundKey| match key {
            RoundKey::Technique => "light".to_owned(),
            RoundKey::Ramp => "ramp".to_owned(),
            RoundKey::Working(round) => format!("r{round}"),
        };
        let rounds = |group: usize| {
            let members = 0..who.clients(group).count();
            members.map(|member| who.rounds(group, member).iter().map(round).collect()).collect()
        };
        let coach = |id| self.person(Person::Coach(id));
        Labels {
            title: format!("{}: the first block of every group", self.state.floor.name),
            stations: self.stations(),
            coaches: who.coaches().iter().copied().map(coach).collect(),
            groups: who.groups().map(|group| format!("group {}", group.0)).collect(),
            members: groups.clone().map(|group| self.clients(group)).collect(),
            rounds: groups.map(rounds).collect(),
            reading: "r2: round 2, light: a light set".to_owned(),
            zero: self.zero,
        }
    }
}

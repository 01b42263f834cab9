//! A floor file and a programme file as an evening that is about to begin: everybody comes at the time of their session
//! and asks for stations, through the floor's own rules, and the floor's outlook states what is to be planned.
//!
//! All blocks of every session are in it, in their order: a group begins its next block when the one before is over. That
//! is when its last set has ended and its stations have been wiped down, for as long as the floor file's `wipe_down` says:
//! so long the floor's outlook, too, takes stations that are being wiped down to be used. A group whose coach frees
//! them by a tap goes on earlier than planned. A client's next session begins when the one before is over, just so.

mod sessions;

use std::path::Path;

use turnabout_protocol::units::FloorMs;

use crate::floor::config::{Floor, Names, Person, Programme};
use crate::floor::outlook::{Cuts, Outlook, RoundKey, Who};
use crate::floor::rehearse::opening::Opening;
use crate::floor::state::State;
use crate::setup::{FilePair, Mistakes, ProgrammeFile, read_pair};
use crate::timetable::chain::Chain;

use super::chart::Labels;

pub(super) use self::sessions::LeftOut;
use self::sessions::Sessions;

/// Whoever comes before somebody has a place before them.
const IN_ORDER: &str = "sessions and their blocks stand in their order";

/// An evening that is about to begin.
pub(super) struct Evening {
    /// The floor before anybody has come.
    pub(super) opening: State,
    pub(super) names: Names,
    /// Who is who in what is planned; a group is in it once for each of its blocks.
    pub(super) who: Who,
    pub(super) chain: Chain,
    /// The second of the day at which the plan's zero is, where the programme has a day.
    pub(super) zero: Option<u32>,
    /// Groups that are not planned, or not to their end.
    pub(super) left_out: Vec<LeftOut>,
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
    let Opening { state: opening, first, .. } = Opening::of(floor, programme);
    let sessions = Sessions::of(&opening);
    let blocks = sessions.planned.iter().flat_map(|one| one.blocks.iter().map(|state| (state, one.group)));
    let waiting: Vec<_> = blocks.collect();
    let Outlook { instance, who, .. } = Outlook::ahead(&opening, &waiting, FloorMs(0), &mut Cuts::default());
    let wipe_down = opening.floor.settings.wipe_down;
    let chain = Chain::new(instance, sessions.after(), wipe_down).expect(IN_ORDER);
    let zero = first.map(|first| u32::from(first.minutes()) * 60);
    Evening { opening, names, who, chain, zero, left_out: sessions.left_out }
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
        let name = |id| self.opening.floor.stations.get(id).map_or_else(String::new, |one| one.name.clone());
        self.who.stations().iter().map(name).collect()
    }

    /// The names of a group's clients, by position.
    pub(super) fn clients(&self, group: usize) -> Vec<String> {
        self.who.clients(group).map(|id| self.person(Person::Client(id))).collect()
    }

    /// What everything is called in a picture.
    pub(super) fn labels(&self) -> Labels {
        let who = &self.who;
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
            title: format!("{}: the whole evening", self.opening.floor.name),
            stations: self.stations(),
            coaches: who.coaches().iter().copied().map(coach).collect(),
            groups: groups.clone().map(|group| self.group(group)).collect(),
            members: groups.clone().map(|group| self.clients(group)).collect(),
            rows: groups.clone().map(|group| self.row(group)).collect(),
            rounds: groups.map(rounds).collect(),
            reading: "r2: round 2, light: a light set".to_owned(),
            zero: self.zero,
        }
    }

    /// What a group with its block is called; a session of one block needs no number for it.
    fn group(&self, group: usize) -> String {
        let (id, block) = (self.who.groups().nth(group), self.who.block(group).unwrap_or_default());
        let Some(id) = id else { return String::new() };
        let blocks = self.opening.programme.groups.get(&id).map_or(0, |plan| plan.blocks.len());
        if blocks > 1 {
            format!("group {}, block {}", id.0, u16::from(block) + 1)
        } else {
            format!("group {}", id.0)
        }
    }

    /// In whose rows the clients of a group with its block stand: in those of the first block of the session.
    fn row(&self, group: usize) -> usize {
        let id = self.who.groups().nth(group);
        let first = id.and_then(|id| self.who.group(id)).unwrap_or(group);
        if self.who.clients(first).eq(self.who.clients(group)) { first } else { group }
    }
}

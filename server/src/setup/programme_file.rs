//! The programme file: who trains today, in which groups, and what.

use std::collections::BTreeMap;

use turnabout_protocol::ids::{ClientId, CoachId, GroupId, Key};

use super::block_problem::BlockProblem;
use super::block_table;
use super::client_table::{self, People, number};
use super::document;
use super::exercise_in_block::Around;
use super::fields::Fields;
use super::findings::Findings;
use super::fit::Fit;
use super::form;
use super::found::Found;
use super::mistake::{Mistake, Mistakes};
use super::problem::{Problem, Thing};
use super::session_times::{self, Session};
use super::spot::{Said, Spot, Told};
use super::spotters::{Spotters, is_there};
use crate::floor::config::{Day, Floor, GroupPlan, Names, Programme, limits as floor_limits};
use crate::floor::hours::Window;
use crate::floor::outlook::too_large;
use crate::training::block::limits as block_limits;

/// What a programme file says. Names of people are apart, since they are kept apart.
#[derive(Clone, Debug, PartialEq)]
pub struct ProgrammeFile {
    /// The clients and the groups.
    pub programme: Programme,
    /// The names of the clients.
    pub names: Names,
    /// What is no mistake and still asks for a second look, in the order of the file.
    pub hints: Vec<Mistake>,
}

/// Reads the text of a programme file; `file` is its name for messages, `floor` what it may refer to.
///
/// # Errors
/// Every mistake in the text.
pub fn parse_programme(file: &str, text: &str, floor: &Floor) -> Result<ProgrammeFile, Mistakes> {
    parse(file, text, Told::ByLine, Some(floor))
}

/// The same for text that nobody wrote by hand: places are named by their fields alone.
///
/// # Errors
/// Every mistake in the text.
pub(super) fn parse_by_field(file: &str, text: &str, floor: &Floor) -> Result<ProgrammeFile, Mistakes> {
    parse(file, text, Told::ByField, Some(floor))
}

/// What is wrong with a programme file whatever the floor is like, for a floor file that has mistakes itself.
///
/// # Errors
/// Every mistake in the text that does not depend on the floor.
pub fn check_programme_alone(file: &str, text: &str) -> Result<(), Mistakes> {
    parse(file, text, Told::ByLine, None).map(|_| ())
}

fn parse(file: &str, text: &str, told: Told, floor: Option<&Floor>) -> Result<ProgrammeFile, Mistakes> {
    document::parse(file, text, told, |mut top, found| {
        let day = top.optional(found, "date", &form::day()).map(|said| said.what);
        let fit = floor.map(Fit::new).unwrap_or_default();
        let people = client_table::clients(&mut top, found, day, floor, &fit);
        let mut reader = Groups {
            floor,
            day,
            fit: &fit,
            people: &people,
            numbers: BTreeMap::new(),
            taken: BTreeMap::new(),
        };
        let tables = top.sections(found, "group", "group", 0, floor_limits::GROUPS);
        let groups = tables.into_iter().filter_map(|table| reader.read(table, found)).collect();
        top.finish(found);
        let People { clients, names, .. } = people;
        let hints = found.hints();
        Some(ProgrammeFile { programme: Programme { day, clients, groups }, names, hints })
    })
}

/// What is needed while group after group is read.
struct Groups<'f> {
    /// Nothing where the floor file has mistakes: what a key stands for is not known then.
    floor: Option<&'f Floor>,
    fit: &'f Fit,
    people: &'f People,
    numbers: BTreeMap<u32, Spot>,
    day: Option<Day>,
    /// The groups in which a client is already, and when.
    taken: BTreeMap<ClientId, Vec<(u32, Option<Window>)>>,
}

impl Groups<'_> {
    fn read(&mut self, mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<(GroupId, GroupPlan)> {
        let number = table.said(found, "number", &number());
        let session = session_times::session(&mut table, found, self.day, self.floor);
        let coach = table.said(found, "coach", &form::key());
        let coach = coach.and_then(|key| self.coach(found, &key, session));
        let clients = self.members(&mut table, found, number.as_ref().map(|n| n.what), session.window());
        let around = Around {
            floor: self.floor,
            fit: self.fit,
            clients: &clients,
            people: self.people,
            spotters: &Spotters::of(self.floor, session, clients.len()),
            rounds: None,
        };
        let mut blocks = Vec::new();
        let mut spots = Vec::new();
        for block in table.sections(found, "block", "group.block", 1, block_limits::BLOCKS) {
            spots.push(block.spot.clone());
            blocks.extend(block_table::block(block, found, &around));
        }
        table.finish(found);
        let number = number.filter(|number| found.once(&mut self.numbers, number))?;
        // Where a block could not be read nothing is hinted at.
        for ((n, block), spot) in (1..).zip(&blocks).zip(&spots).filter(|_| blocks.len() == spots.len()) {
            let too_large = self.floor.and_then(|floor| too_large::planned(floor, block, &clients));
            if let Some(too_large) = too_large {
                let (group, most) = (number.what, block.rest_max);
                found.hint(spot, BlockProblem::RestsTooLong { group, block: n, most, too_large });
            }
        }
        let Session { starts, ends } = session;
        Some((GroupId(number.what), GroupPlan { coach: coach?, clients, blocks, starts, ends }))
    }

    fn coach(&self, found: &mut Findings<'_>, key: &Said<Key>, session: Session) -> Option<CoachId> {
        let floor = self.floor?;
        let Some(id) = floor.coach(&key.what) else {
            let keys = floor.coaches.values().map(|coach| coach.key.as_str());
            found.unknown(&key.spot, Thing::Coach, key.what.as_str(), keys);
            return None;
        };
        if let (Some(coach), Some(session)) = (floor.coaches.get(&id), session.known())
            && let Some(shift) = coach.shift.and_then(|shift| Window::new(shift.from, shift.to))
            && !is_there(coach, session)
        {
            let coach = coach.key.clone();
            found.add(&key.spot, BlockProblem::CoachAbsent { coach, shift, session });
        }
        Some(id)
    }

    fn members(
        &mut self,
        table: &mut Fields<'_>,
        found: &mut Findings<'_>,
        group: Option<u32>,
        when: Option<Window>,
    ) -> Vec<ClientId> {
        let mut seen = BTreeMap::new();
        let mut members = Vec::new();
        for entry in table.list(found, "clients", 1, block_limits::CLIENTS) {
            let Some(said) = entry.read(found, &number()) else { continue };
            let client = ClientId(said.what);
            if !found.once(&mut seen, &said) {
                continue;
            }
            members.push(client);
            // A number that could not be read may be any.
            if self.people.complete && !self.people.clients.contains_key(&client) {
                let problem = Problem::Unknown {
                    thing: Thing::Client,
                    found: Found::Number(client.to_string()),
                    meant: None,
                };
                found.add(&said.spot, problem);
            }
            self.one_group_at_a_time(found, &said, group, when);
        }
        let most = self.floor.and_then(|floor| floor.policy.clients_a_coach);
        if let Some(most) = most.filter(|most| members.len() > usize::from(*most))
            && let Some(said) = members.get(usize::from(most)).and_then(|client| seen.get(&client.0))
        {
            found.add(said, BlockProblem::GroupTooLarge { clients: members.len(), most });
        }
        members
    }

    /// A client is in one place at a time: in two groups only where both say when they train, and apart.
    fn one_group_at_a_time(
        &mut self,
        found: &mut Findings<'_>,
        client: &Said<u32>,
        group: Option<u32>,
        when: Option<Window>,
    ) {
        let taken = self.taken.entry(ClientId(client.what)).or_default();
        let apart = |other: &Option<Window>| when.zip(*other).is_some_and(|(a, b)| !a.overlaps(b));
        if let Some((other, _)) = taken.iter().find(|(_, other)| !apart(other)) {
            found.add(&client.spot, Problem::TwoGroups { client: client.what, group: *other });
        } else {
            taken.extend(group.map(|group| (group, when)));
        }
    }
}

//! The programme file: who trains today, in which groups, and what.

use std::collections::BTreeMap;

use turnabout_protocol::ids::{ClientId, CoachId, GroupId};

use super::block_table;
use super::document;
use super::fields::Fields;
use super::findings::Findings;
use super::fit::Fit;
use super::form;
use super::limits;
use super::mistake::Mistakes;
use super::problem::{Problem, Thing};
use super::spot::{Said, Spot};
use crate::floor::config::{Client, Floor, GroupPlan, Names, Person, Programme, limits as floor_limits};
use crate::training::block::limits as block_limits;

/// What a programme file says. Names of people are apart, since they are kept apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProgrammeFile {
    /// The clients and the groups.
    pub programme: Programme,
    /// The names of the clients.
    pub names: Names,
}

/// Reads the text of a programme file; `file` is its name for messages, `floor` what it may refer to.
///
/// # Errors
/// Every mistake in the text.
pub fn parse_programme(file: &str, text: &str, floor: &Floor) -> Result<ProgrammeFile, Mistakes> {
    parse(file, text, Some(floor))
}

/// What is wrong with a programme file whatever the floor is like, for a floor file that has mistakes itself.
///
/// # Errors
/// Every mistake in the text that does not depend on the floor.
pub fn check_programme_alone(file: &str, text: &str) -> Result<(), Mistakes> {
    parse(file, text, None).map(|_| ())
}

fn parse(file: &str, text: &str, floor: Option<&Floor>) -> Result<ProgrammeFile, Mistakes> {
    document::parse(file, text, |mut top, found| {
        let day = top.optional(found, "date", &form::day()).map(|said| said.what);
        let People { clients, names, complete } = read_clients(&mut top, found);
        let mut reader = Groups {
            floor,
            fit: floor.map(Fit::new).unwrap_or_default(),
            clients: complete.then_some(&clients),
            numbers: BTreeMap::new(),
            taken: BTreeMap::new(),
        };
        let tables = top.sections(found, "group", "group", 0, floor_limits::GROUPS);
        let groups = tables.into_iter().filter_map(|table| reader.read(table, found)).collect();
        top.finish(found);
        Some(ProgrammeFile { programme: Programme { day, clients, groups }, names })
    })
}

struct People {
    clients: BTreeMap<ClientId, Client>,
    names: Names,
    /// Whether every client's number could be read.
    complete: bool,
}

fn read_clients(top: &mut Fields<'_>, found: &mut Findings<'_>) -> People {
    let mut complete = true;
    let mut seen = BTreeMap::new();
    let mut called = BTreeMap::new();
    let mut clients = BTreeMap::new();
    let mut names = Names::new();
    for mut table in top.sections(found, "client", "client", 0, limits::CLIENTS) {
        let number = table.said(found, "number", &number());
        let name = table.display_name(found, &mut called);
        let show_load = table.optional(found, "show_load", &form::flag());
        table.finish(found);
        complete &= number.is_some();
        let Some(number) = number else { continue };
        found.once(&mut seen, &number);
        let id = ClientId(number.what);
        clients.insert(
            id,
            Client { show_load: show_load.is_none_or(|said| said.what), regular: false, screening: None },
        );
        names.extend(name.map(|name| (Person::Client(id), name)));
    }
    People { clients, names, complete }
}

/// What is needed while group after group is read.
struct Groups<'f> {
    /// Nothing where the floor file has mistakes: what a key stands for is not known then.
    floor: Option<&'f Floor>,
    fit: Fit,
    /// All clients; nothing where a number could not be read, since it may be any.
    clients: Option<&'f BTreeMap<ClientId, Client>>,
    numbers: BTreeMap<u32, Spot>,
    /// The group in which a client is already.
    taken: BTreeMap<ClientId, u32>,
}

impl Groups<'_> {
    fn read(&mut self, mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<(GroupId, GroupPlan)> {
        let number = table.said(found, "number", &number());
        let coach = table.said(found, "coach", &form::key());
        let coach = coach.and_then(|key| self.coach(found, &key));
        let clients = self.members(&mut table, found, number.as_ref().map(|n| n.what));
        let mut blocks = Vec::new();
        for block in table.sections(found, "block", "group.block", 1, block_limits::BLOCKS) {
            blocks.extend(block_table::block(block, found, self.floor, &self.fit, &clients));
        }
        table.finish(found);
        let number = number.filter(|number| found.once(&mut self.numbers, number))?;
        Some((GroupId(number.what), GroupPlan { coach: coach?, clients, blocks, starts: None, ends: None }))
    }

    fn coach(&self, found: &mut Findings<'_>, key: &Said<turnabout_protocol::ids::Key>) -> Option<CoachId> {
        let floor = self.floor?;
        let id = floor.coach(&key.what);
        if id.is_none() {
            let keys = floor.coaches.values().map(|coach| coach.key.as_str());
            found.unknown(&key.spot, Thing::Coach, key.what.as_str(), keys);
        }
        id
    }

    fn members(
        &mut self,
        table: &mut Fields<'_>,
        found: &mut Findings<'_>,
        group: Option<u32>,
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
            if self.clients.is_some_and(|clients| !clients.contains_key(&client)) {
                let problem =
                    Problem::Unknown { thing: Thing::Client, found: client.to_string(), meant: None };
                found.add(&said.spot, problem);
            }
            match (self.taken.get(&client), group) {
                (Some(group), _) => {
                    found.add(&said.spot, Problem::TwoGroups { client: client.0, group: *group });
                }
                (None, Some(group)) => {
                    self.taken.insert(client, group);
                }
                (None, None) => {}
            }
        }
        members
    }
}

/// The number of a client or group.
pub(super) fn number() -> form::Form<impl Fn(&toml::de::DeValue<'_>) -> Option<u32>> {
    form::whole(1, limits::NUMBER)
}

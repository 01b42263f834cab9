//! What the floor's manager has decided for everyone: `[floor.policy]` and `[floor.handles]`.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{Key, StationId};

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::hours_table;
use super::limits;
use super::places::Places;
use super::problem::Problem;
use super::spot::Said;
use crate::floor::config::{KeptForMembers, Policy, ScreeningPolicy, Station, limits as floor_limits};
use crate::training::next::policy::Policy as LoadPolicy;

/// What holds where a screening is not in order, as files call it.
const SCREENING: &[(&str, ScreeningPolicy)] = &[
    ("not-asked", ScreeningPolicy::NotAsked),
    ("coach-decides", ScreeningPolicy::CoachDecides),
    ("required", ScreeningPolicy::Required),
];

/// Reads `[floor.policy]`; its rules for members once more with where each says how many it keeps.
pub(super) fn policy(
    mut table: Fields<'_>,
    found: &mut Findings<'_>,
    stations: &BTreeMap<StationId, Station>,
    places: &Places,
) -> (Policy, Vec<Said<KeptForMembers>>) {
    let a_coach = |most: usize| form::whole(1, u16::try_from(most).unwrap_or(u16::MAX));
    let stations_a_coach = table.optional(found, "stations_a_coach", &a_coach(floor_limits::STATIONS));
    let clients_a_coach = table.optional(found, "clients_a_coach", &a_coach(limits::CLIENTS));
    let arms = table.optional(found, "arms_accepted", &form::flag());
    let screening = table.optional(found, "screening", &form::one_of(SCREENING));
    let members = table.sections(found, "members", "floor.policy.members", 0, floor_limits::MEMBER_RULES);
    let members: Vec<Said<KeptForMembers>> =
        members.into_iter().filter_map(|rule| kept(rule, found, places)).collect();
    table.finish(found);
    // A station that could not be read may be the one that has them.
    if let Some(arms) = arms.as_ref().filter(|arms| arms.what)
        && places.are_all_in(stations)
        && !stations.values().any(|station| station.arms)
    {
        found.add(&arms.spot, Problem::NoArms);
    }
    let policy = Policy {
        loads: LoadPolicy::default(),
        members: members.iter().map(|said| said.what.clone()).collect(),
        stations_a_coach: stations_a_coach.map(|said| said.what),
        clients_a_coach: clients_a_coach.map(|said| said.what),
        arms_accepted: arms.is_some_and(|said| said.what),
        screening: screening.map(|said| said.what).unwrap_or_default(),
    };
    (policy, members)
}

/// So many of some stations stay for members, at some hours or always.
fn kept(mut rule: Fields<'_>, found: &mut Findings<'_>, places: &Places) -> Option<Said<KeptForMembers>> {
    let most = u8::try_from(floor_limits::STATIONS).unwrap_or(u8::MAX);
    let keep = rule.said(found, "keep", &form::whole(1, most));
    let entries = rule.list(found, "stations", 1, floor_limits::STATIONS);
    let named = entries.len();
    let mut seen = BTreeMap::new();
    let mut stations = BTreeSet::new();
    for entry in entries {
        let Some(key) = entry.read(found, &form::key()) else { continue };
        if found.once(&mut seen, &key) {
            stations.extend(places.find(found, &key, None));
        }
    }
    let hours = rule.optional_table(found, "hours").map(|week| hours_table::hours(week, found));
    rule.finish(found);
    let keep = keep?;
    if named > 0 && usize::from(keep.what) > named {
        found.add(&keep.spot, Problem::KeepsTooMany { keep: keep.what, of: named });
    }
    let what = KeptForMembers { stations, keep: keep.what, hours: hours.unwrap_or_default() };
    Some(Said { what, spot: keep.spot })
}

/// How many there are of each kind of handle, and where that is said.
pub(super) type Handles = BTreeMap<Key, Said<u8>>;

/// Reads `[floor.handles]`: the keys of handles and how many there are of each.
pub(super) fn handles(mut table: Fields<'_>, found: &mut Findings<'_>) -> Handles {
    let mut handles = BTreeMap::new();
    for (key, entry) in table.keyed(found, floor_limits::HANDLES) {
        let count = entry.read(found, &form::whole(1, limits::HANDLES_OF_A_KIND));
        handles.extend(count.map(|count| (key, count)));
    }
    handles
}

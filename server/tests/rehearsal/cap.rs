//! By eye with at most three clients in the middle of their rounds at a pair of stations.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_server::floor::config::Sharing;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::planning::Sight;
use turnabout_server::floor::rehearse::opening::Opening;
use turnabout_server::floor::rehearse::{Chance, Evening, Mishap, Unexpected, Watch, Way, evening};
use turnabout_server::floor::state::State;
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::timetable::rehearse::CAP;

use crate::chance;
use crate::laws::all_done;

const ONE: GroupId = GroupId(1);
const TWO: GroupId = GroupId(2);

/// Eight who know the exercises.
const CLIENTS: &str = r#"
client = [
    { number = 101, name = "Chidi", regular = true },
    { number = 102, name = "Dara", regular = true },
    { number = 103, name = "Edda", regular = true },
    { number = 104, name = "Farid", regular = true },
    { number = 105, name = "Greta", regular = true },
    { number = 106, name = "Hana", regular = true },
    { number = 107, name = "Ilse", regular = true },
    { number = 108, name = "Jonah", regular = true },
]
"#;

/// What each of both groups does.
const BLOCK: &str = r#"
[[group.block]]
rounds = 2
rest = ["60 s", "90 s"]
changeover = "40 s"

[[group.block.exercise]]
use = "overhead-press"
reps = 8
tempo = "2-0-1-0"
load = "30 kg"
technique = { reps = 3, load = "25 kg" }

[[group.block.exercise]]
use = "pulldown"
reps = 10
tempo = "2-0-2-0"
load = "40 kg"
"#;

/// Two groups of four who all press at the one rack and go over to the one pulldown.
fn programme() -> String {
    let group = |number: u32, clients: &str| {
        format!("\n[[group]]\nnumber = {number}\ncoach = \"coach-{number}\"\nclients = [{clients}]\n{BLOCK}")
    };
    [CLIENTS, &group(1, "101, 102, 103, 104"), &group(2, "105, 106, 107, 108")].concat()
}

/// Both stations are shared by whoever comes, there are handles enough, and the floor asks after a group that has been silent for two minutes.
fn crowd() -> Opening {
    let read = parse_floor("floor.toml", include_str!("../../examples/floor.toml"), None);
    let mut floor = read.unwrap_or_else(|mistakes| panic!("{mistakes}"));
    let programme = parse_programme("crowd.toml", &programme(), &floor.floor);
    let programme = programme.unwrap_or_else(|mistakes| panic!("{mistakes}"));
    floor.floor.stations.values_mut().for_each(|station| station.sharing = Sharing::Open);
    floor.floor.handles.values_mut().for_each(|count| *count = 2);
    floor.floor.settings.idle = Secs(120);
    Opening::of(floor.floor, programme.programme)
}

/// Of a client: the entry with which the block began, the one with which it was over, and where it was done.
struct Through {
    from: usize,
    to: usize,
    stations: BTreeSet<StationId>,
}

fn through(entries: &[Entry]) -> BTreeMap<(GroupId, ClientId, u8), Through> {
    let mut all: BTreeMap<_, Through> = BTreeMap::new();
    for (place, entry) in entries.iter().enumerate() {
        match &entry.event {
            Event::TurnWent { turn, station, .. } => {
                let new = || Through { from: place, to: place, stations: BTreeSet::new() };
                let known = all.entry((turn.group, turn.client, turn.block)).or_insert_with(new);
                known.stations.insert(*station);
            }
            Event::TurnDone { turn, .. } => {
                all.get_mut(&(turn.group, turn.client, turn.block)).unwrap().to = place;
            }
            _ => {}
        }
    }
    all
}

/// The most clients who were in the middle of their rounds at a station at once: never more than when one begins.
fn most(evening: &Evening) -> usize {
    let all = through(&evening.entries);
    let with = |one: &Through| {
        let at = |station: &StationId| {
            let there = |other: &&Through| {
                other.stations.contains(station) && (other.from..other.to).contains(&one.from)
            };
            all.values().filter(there).count()
        };
        one.stations.iter().map(at).max().unwrap_or(0)
    };
    all.values().map(with).max().unwrap_or(0)
}

/// Finds out how the group that comes second to the stations works in there with the first: by a tap of its coach, for
/// nobody does so unasked.
#[derive(Default)]
struct WorksIn(Option<Unexpected>);

impl Watch for WorksIn {
    fn entry(&mut self, state: &State, entry: &Entry) {
        let group = |id| &state.groups[&id];
        let of = |(first, id, coach): (GroupId, GroupId, u16)| {
            let stations =
                group(first).claim.as_ref().filter(|_| group(id).claim.is_none())?.stations.clone();
            let act = Act::TakeStations {
                group: id,
                block: 0,
                stations,
                revision: group(id).revision,
                despite: None,
            };
            let by = Speaker { actor: Actor::Coach { coach: CoachId(coach) }, stations: Vec::new() };
            Some(Unexpected { at: entry.recorded, by, act })
        };
        if self.0.is_none() && entry.recorded > FloorMs(60_000) {
            self.0 = [(ONE, TWO, 2), (TWO, ONE, 1)].into_iter().find_map(of);
        }
    }

    fn looked(&mut self, _: &State, _: &Sight, _: FloorMs) {}
}

fn crowded(way: Way, seed: u64) -> Evening {
    let (opening, chance): (_, Chance) = (crowd(), chance(20, seed));
    let mut found = WorksIn::default();
    evening(&opening, way, chance, &[], &mut found).unwrap();
    let works_in = Mishap::Tap(found.0.unwrap());
    let evening = evening(&opening, way, chance, &[works_in], &mut ()).unwrap();
    all_done(&evening);
    evening
}

#[test]
fn three_at_a_pair_of_stations_are_in_the_middle_of_their_rounds_and_no_more() {
    for seed in 1..=3 {
        assert_eq!(most(&crowded(Way::CappedEye, seed)), CAP);
        assert!(most(&crowded(Way::Eye, seed)) > CAP, "without a cap there are more");
    }
}

/// Who stands back goes as soon as somebody is through, whichever group that is of.
#[test]
fn the_next_begins_when_one_is_through() {
    let evening = crowded(Way::CappedEye, 1);
    let all: Vec<Through> = through(&evening.entries).into_values().collect();
    let mut begun: Vec<usize> = all.iter().map(|one| one.from).collect();
    let mut over: Vec<usize> = all.iter().map(|one| one.to).collect();
    begun.sort_unstable();
    over.sort_unstable();
    let waited = begun.iter().skip(CAP).zip(&over);
    assert_eq!(waited.clone().count(), all.len() - CAP);
    for (from, to) in waited {
        let (from, to) = (evening.entries[*from].at, evening.entries[*to].at);
        assert!(from > to && from.since(to) < Secs(120).millis(), "{from:?} after {to:?}");
    }
}

/// A whole group stands back in silence: it is asked after, its coach says that it is there, and it keeps its stations.
#[test]
fn a_group_that_stands_back_is_neither_given_up_nor_counted_as_not_coming() {
    let evening = crowded(Way::CappedEye, 1);
    let count = |is: fn(&Event) -> bool| evening.entries.iter().filter(|entry| is(&entry.event)).count();
    assert!(count(|event| matches!(event, Event::GroupStillHere { .. })) > 0);
    assert_eq!(count(|event| matches!(event, Event::GroupLapsed { .. } | Event::GroupNotComing { .. })), 0);
    for group in [ONE, TWO] {
        let gone =
            |entry: &&Entry| matches!(entry.event, Event::StationsFreed { group: of, .. } if of == group);
        assert_eq!(evening.entries.iter().filter(gone).count(), 1, "once, after the last set");
    }
}

//! What holds of every problem that the floor makes, after every entry of random histories and of a whole evening.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::event::Entry;
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::outlook::{Cuts, FOLD, Outlook, TurnPlace, limits};
use turnabout_server::floor::state::State;
use turnabout_server::journal::Row;
use turnabout_server::journal::codec::decode;
use turnabout_server::timetable::instance::{At, Group, Instance, Load, Member, Round, StationKind, Window};

use crate::histories::always_the_same;
use crate::world::*;

/// What the planner can count.
const MOST_SECONDS: u32 = 1_000_000;

fn small(at: At) {
    assert!(at.0 < MOST_SECONDS, "{at:?} is beyond what a plan counts");
}

fn windows(busy: &[Window]) {
    assert!(busy.iter().all(|window| window.from < window.to), "{busy:?}");
    assert!(busy.windows(2).all(|pair| pair[0].to < pair[1].from), "in order and apart: {busy:?}");
    busy.iter().for_each(|window| small(window.to));
}

fn fits(load: Option<&Load>, kind: StationKind) -> bool {
    match (load, kind) {
        (Some(Load::Plates(side)), StationKind::Bar) => side.iter().all(|grams| *grams > 0),
        (None, _) | (Some(Load::Label(_)), StationKind::Stack) => true,
        (Some(Load::Plates(_) | Load::Label(_)), _) => false,
    }
}

/// All of it, for one problem.
pub(crate) fn well_formed(outlook: &Outlook, state: &State) {
    let Instance { now, stations, walk, coach_walk, coaches, groups, .. } = &outlook.instance;
    small(*now);
    assert!(stations.len() <= state.floor.stations.len() && coaches.len() <= state.floor.coaches.len());
    assert!(groups.len() <= limits::GROUPS);
    for table in [walk, coach_walk] {
        assert!(table.len() == stations.len() && table.iter().all(|row| row.len() == stations.len()));
        assert!((0..table.len()).all(|place| table[place][place].0 == 0));
    }
    for station in stations {
        assert!(station.free_at >= *now && fits(station.load.as_ref(), station.kind), "{station:?}");
        small(station.free_at);
        windows(&station.busy);
    }
    for coach in coaches {
        assert!(coach.free_at >= *now && coach.at.is_none_or(|at| at < stations.len()), "{coach:?}");
        small(coach.free_at);
        windows(&coach.busy);
    }
    let mut held = BTreeSet::new();
    for group in groups {
        self::group(group, &outlook.instance);
        for station in &group.holds {
            assert!(!stations[*station].work_in && held.insert(*station), "one holder of {station}");
        }
    }
    who(outlook, state);
}

fn group(group: &Group, instance: &Instance) {
    let legs = group.eligible.len();
    assert!(legs > 0 && group.coach < instance.coaches.len() && !group.members.is_empty());
    let known = |stations: &[usize]| stations.iter().all(|place| *place < instance.stations.len());
    assert!(group.eligible.iter().all(|choice| !choice.is_empty() && known(choice)));
    assert!(group.rest_max.is_none_or(|most| most >= group.rest_min));
    let fixed: BTreeSet<_> = group.members.iter().filter_map(|member| member.stations.as_ref()).collect();
    assert!(!group.together || fixed.len() <= 1, "together at one pair of stations");
    assert!(fixed.iter().all(|stations| stations.len() == legs && known(stations)));
    let begun = |member: &usize| group.members.get(*member).is_some_and(Member::has_begun);
    assert!(group.order.iter().all(begun), "{:?} have begun", group.order);
    assert_eq!(group.order.iter().collect::<BTreeSet<_>>().len(), group.order.len());
    for member in &group.members {
        self::member(member, group, instance);
    }
}

fn member(member: &Member, group: &Group, instance: &Instance) {
    assert!(member.release <= instance.now, "whoever is planned is there");
    assert!(!member.rounds.is_empty() && member.rounds.len() <= limits::ROUNDS);
    assert!(member.under_way.is_none() || member.last_round_end.is_none());
    assert!(member.stations.is_some() || !member.has_begun(), "whoever has begun has stations");
    assert!(member.rounds[0].number > 0, "a round before the first can be counted");
    assert!(member.rounds.windows(2).all(|pair| pair[0].number < pair[1].number), "rounds ascend");
    member.due.into_iter().chain(member.last_round_end).for_each(small);
    for (place, round) in member.rounds.iter().enumerate() {
        let done = member.under_way.filter(|_| place == 0).map_or(0, |way| way.legs_done);
        if let Some(way) = member.under_way.filter(|_| place == 0) {
            assert!((1..group.eligible.len()).contains(&way.legs_done), "{way:?}");
            assert!(round.legs[way.legs_done - 1].is_some(), "what was done last is there");
            small(way.last_end);
        }
        self::round(round, done, (member, group), instance);
    }
}

fn round(round: &Round, done: usize, (member, group): (&Member, &Group), instance: &Instance) {
    assert!(round.legs.len() == group.eligible.len() && round.told.len() == round.legs.len());
    assert!(round.legs[done..].iter().any(Option::is_some), "something is left of {round:?}");
    assert!(round.coach.is_none_or(|coach| coach < instance.coaches.len() && coach != group.coach));
    round.not_before.into_iter().for_each(small);
    for (leg, turn) in round.legs.iter().enumerate() {
        let told = round.told[leg];
        assert!(told.is_none() || (leg >= done && turn.is_some()), "told of what is open: {round:?}");
        told.into_iter().for_each(small);
        let Some(turn) = turn else { continue };
        assert!((1..=3_600).contains(&turn.length.0), "{turn:?}");
        assert!(turn.spot.is_none_or(|spot| spot.from < spot.to && spot.to <= turn.length), "{turn:?}");
        let own = member.stations.as_ref().map(|stations| vec![stations[leg]]);
        for station in own.as_ref().unwrap_or(&group.eligible[leg]) {
            assert!(fits(turn.load.as_ref(), instance.stations[*station].kind), "{turn:?} at {station}");
        }
    }
}

/// Positions lead to what is on the floor and back.
fn who(outlook: &Outlook, state: &State) {
    let who = &outlook.who;
    for (place, id) in who.stations().iter().enumerate() {
        assert_eq!(who.station(*id), Some(place));
    }
    for (place, id) in who.coaches().iter().enumerate() {
        assert_eq!(who.coach(*id), Some(place));
    }
    let ids: Vec<_> = who.groups().collect();
    assert_eq!(ids.len(), outlook.instance.groups.len());
    for (group, id) in ids.into_iter().enumerate() {
        assert_eq!(who.group(id), Some(group));
        let hand = InHand::of(state, id).unwrap();
        assert_eq!(who.block(group), Some(hand.group.block));
        let clients: Vec<_> = who.clients(group).collect();
        assert_eq!(clients.len(), outlook.instance.groups[group].members.len());
        for (member, client) in clients.into_iter().enumerate() {
            let rounds = &outlook.instance.groups[group].members[member].rounds;
            assert_eq!(who.rounds(group, member).len(), rounds.len());
            let (first, next) = who.next(group, member).unwrap();
            assert_eq!(hand.next(client), Some(next), "what comes next on the floor comes first in the plan");
            assert_eq!((who.place(next), who.turn(first)), (Some(first), Some(next)));
            for (round, left) in rounds.iter().enumerate() {
                for leg in (0..left.legs.len()).filter(|leg| left.legs[*leg].is_some()) {
                    let place = TurnPlace { group, member, round, leg };
                    let Some(turn) = who.turn(place) else { continue };
                    assert_eq!((turn.group, turn.client), (id, client));
                    assert!(who.place(turn).is_some_and(|first| first <= place), "{turn:?}");
                }
            }
        }
    }
}

/// The problem at an instant, the same twice.
fn looked_at(state: &State, now: FloorMs, cuts: &mut Cuts) -> Outlook {
    let outlook = Outlook::of(state, now, cuts);
    assert_eq!(outlook, Outlook::of(state, now, &mut Cuts::default()), "the same floor, the same problem");
    well_formed(&outlook, state);
    outlook
}

/// How many rounds, and how many members under way, were seen after all.
fn replayed(entries: impl IntoIterator<Item = Entry>) -> (usize, usize) {
    let (mut state, mut cuts, mut seen) = (State::new(), Cuts::default(), (0, 0));
    for entry in entries {
        evolve(&mut state, &entry);
        for later in [0, 1_234, 90_000] {
            let outlook = looked_at(&state, entry.recorded + Millis(later), &mut cuts);
            let members = outlook.instance.groups.iter().flat_map(|group| &group.members);
            seen.0 += members.clone().map(|member| member.rounds.len()).sum::<usize>();
            seen.1 += members.filter(|member| member.under_way.is_some()).count();
        }
    }
    seen
}

#[test]
fn every_problem_of_random_histories_is_well_formed() {
    let seen = always_the_same(120).map(replayed);
    let (rounds, under_way) = seen.fold((0, 0), |all, one| (all.0 + one.0, all.1 + one.1));
    assert!(rounds > 10_000 && under_way > 500, "the histories get somewhere: {rounds}, {under_way}");
}

fn evening() -> Vec<Entry> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/evening/journal.jsonl");
    let row = |line: &str| {
        let (sequence, recorded, kind, version, json): (_, _, String, _, serde_json::Value) =
            serde_json::from_str(line).unwrap();
        decode(&Row { sequence, recorded, kind: kind.into(), version, json: json.to_string() }).unwrap()
    };
    fs::read_to_string(path).unwrap().lines().map(row).collect()
}

#[test]
fn every_problem_of_a_whole_evening_is_well_formed() {
    let (rounds, under_way) = replayed(evening());
    assert!(rounds > 5_000 && under_way > 300, "{rounds}, {under_way}");
}

#[test]
fn a_floor_that_knows_no_other_evening_never_leaves_what_a_plan_counts() {
    let mut world = World::with_pair_on();
    let long = Millis(FOLD.0 / 1_000 * 500_000 / 250);
    for _ in 0..6 {
        let outlook = looked_at(&world.state, world.now, &mut Cuts::default());
        assert!(outlook.instance.now.0 < 2 * 250_000);
        assert_eq!(outlook.who.instant(outlook.who.second(world.now)), world.now, "whole seconds stay whole");
        world.now = world.now + long;
    }
}

//! What stations a group without any could have, and what that would cost the others.

use std::collections::BTreeMap;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{CoachGroup, View};
use turnabout_server::floor::config::{Client, Notes, Sharing};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::outlook::admission::{Admission, Errand, Side, Weighed, limits};
use turnabout_server::floor::outlook::kept::KeptOrder;
use turnabout_server::floor::outlook::{Cuts, Learned, Outlook};
use turnabout_server::floor::planned::Planned;
use turnabout_server::floor::planning::Standing;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::{Context, Watch, view};
use turnabout_server::timetable::answer::RoundStarts;
use turnabout_server::timetable::check::check;

use crate::histories::always_the_same;
use crate::world::*;

const HANA: ClientId = ClientId(108);

fn weighed(world: &World) -> Vec<Weighed> {
    weighed_in(&world.state, world.now, &mut Standing::default())
}

/// As a floor that plans does it: from the order in hand.
fn weighed_in(state: &State, now: FloorMs, standing: &mut Standing) -> Vec<Weighed> {
    standing.look(state, now).expect("a timetable");
    standing.errand(state, now).map(|errand| errand.weigh()).unwrap_or_default()
}

fn of(weighed: &[Weighed], group: GroupId) -> Vec<&Admission> {
    weighed.iter().map(|one| &one.admission).filter(|one| one.group == group).collect()
}

/// When each group is done, and how much its worst rest is too long, read off a timetable by hand.
fn tolls(side: &Side) -> BTreeMap<GroupId, (u32, u32)> {
    let Side { outlook: Outlook { instance, who, .. }, plan } = side;
    let mut tolls = BTreeMap::new();
    for row in &plan.timetable.turns {
        let (of, id) = (&instance.groups[row.group], who.groups().nth(row.group).unwrap());
        let member = &of.members[row.member];
        let end = |row: &RoundStarts| {
            let turns = row.starts.iter().zip(&member.rounds[row.round].legs);
            turns.filter_map(|(start, turn)| Some(start.as_ref()?.0 + turn.as_ref()?.length.0)).max().unwrap()
        };
        let is_before = |other: &&RoundStarts| {
            (other.group, other.member, other.round + 1) == (row.group, row.member, row.round)
        };
        let before = plan.timetable.turns.iter().find(is_before);
        let number = |round: usize| member.rounds[round].number;
        // A rest across a round that is missed has no end.
        let misses = row.round > 0 && number(row.round) != number(row.round - 1) + 1;
        let before = match before {
            Some(before) => Some(end(before)),
            None => member.last_round_end.map(|at| at.0),
        };
        let most = member.rounds[row.round].rest_max.unwrap_or(of.rest_max);
        let start = row.starts.iter().flatten().map(|at| at.0).min().unwrap();
        let over = before
            .filter(|_| !misses)
            .zip(most)
            .map_or(0, |(before, most)| (start - before).saturating_sub(most.0));
        let toll: &mut (u32, u32) = tolls.entry(id).or_default();
        *toll = (toll.0.max(end(row)), toll.1.max(over));
    }
    tolls
}

/// The price is the difference of two timetables in which the independent checker finds nothing that they do not say.
fn honest(one: &Weighed) {
    for side in [&one.without, &one.with] {
        let verdict = check(&side.outlook.instance, &side.plan.timetable).expect("one of this floor");
        assert!(verdict.is_valid(), "{:?}", verdict.faults);
        assert_eq!(verdict.objective, side.plan.verdict.objective);
    }
    let Admission { group, longer, own_overrun, .. } = &one.admission;
    let (before, after) = (tolls(&one.without), tolls(&one.with));
    assert!(!before.contains_key(group), "it is not in the one");
    assert_eq!(own_overrun.0, after[group].1);
    let by = |(id, (end, over)): (&GroupId, &(u32, u32))| {
        let (ended, was_over) = before[id];
        (*id, Secs(end.saturating_sub(ended).max(over.saturating_sub(was_over))))
    };
    let others = after.iter().filter(|(id, _)| *id != group);
    let mut wanted: Vec<_> = others.map(by).filter(|(_, by)| by.0 > 0).collect();
    wanted.sort_by_key(|(id, by)| (std::cmp::Reverse(*by), *id));
    assert_eq!(*longer, wanted);
}

#[test]
fn a_group_that_waits_is_told_which_stations_come_free_when() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let revision = world.revision(LATER);
    world.accept(&coach(AYLA), Act::AskStations { group: LATER, block: 0, revision });
    let all = weighed(&world);
    all.iter().for_each(honest);
    let later = of(&all, LATER);
    assert_eq!((later.len(), all.len()), (3, 3), "the others have theirs");
    for one in &later {
        assert!(one.from > world.now + secs(200) && one.works_in.is_none(), "{one:?}");
    }
    // Farid is done before the two of the pair are.
    assert_eq!(later[0].stations, [BENCH_2, ROW_2]);
    let done = tolls(&all[0].without)[&SINGLE].0;
    let outlook = &all[0].with.outlook;
    assert!(outlook.who.second(later[0].from).0 >= done - 60, "{:?} {done}", later[0]);
}

#[test]
fn who_would_wait_is_named_with_how_long() {
    // Farid and Greta are both there, and one bench and one row are left.
    let all = weighed(&World::with_pair_on());
    all.iter().for_each(honest);
    let greta = of(&all, LATER);
    assert!((2..=limits::EACH).contains(&greta.len()));
    let free = greta.iter().find(|one| one.stations == [BENCH_2, ROW_2]).expect("what is free");
    let farid = free.longer.iter().find(|(group, _)| *group == SINGLE).expect("Farid waits");
    // A block of one client takes more than four minutes: two rounds of two sets of a minute with a rest.
    assert!(farid.1 > Secs(200), "{free:?}");
    let after = greta.iter().find(|one| one.stations != [BENCH_2, ROW_2]).expect("what comes free");
    assert!(after.from > free.from && after.longer.iter().all(|(_, by)| *by < farid.1), "{after:?}");
}

/// The pair's stations are open to others; Greta is there, with Hana perhaps.
fn open(with: &[ClientId]) -> World {
    let mut world = World::other(|floor, programme| {
        for station in [BENCH, ROW] {
            floor.stations.get_mut(&station).unwrap().sharing = Sharing::Open;
        }
        let plan = programme.groups.get_mut(&LATER).unwrap();
        plan.clients = with.to_vec();
        let loads: Vec<_> = with.iter().zip([30, 50]).map(|(id, load)| (*id, load, 25)).collect();
        plan.blocks = vec![block(&loads)];
        for id in with {
            programme.clients.insert(*id, Client { regular: true, ..Client::default() });
        }
    });
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![DARA, EDDA] });
    world.accept(&coach(AYLA), Act::Arrive { group: LATER, clients: with.to_vec() });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world
}

#[test]
fn taking_turns_is_proposed_where_the_stations_carry_both() {
    // By hand: a turn at the bench takes 57 s and a change of two plates a side 12 s, three of them 207 s. Both sets with
    // the way and the wait take 132 s, and the longest rest between two turns is 107 s: 239 s.
    let three = weighed(&open(&[GRETA]));
    three.iter().for_each(honest);
    let shared = of(&three, LATER).into_iter().filter(|one| one.works_in.is_some()).collect::<Vec<_>>();
    assert!(shared.iter().any(|one| one.works_in == Some(PAIR)), "{shared:?}");
    // Four take 276 s there. At the row a turn takes 55 s and another pin 3 s, four of them 232 s.
    let four = weighed(&open(&[GRETA, HANA]));
    four.iter().for_each(honest);
    let four = of(&four, LATER);
    let at_the_bench = |one: &&&Admission| one.stations.contains(&BENCH) && one.works_in.is_some();
    assert!(!four.is_empty() && !four.iter().any(|one| at_the_bench(&one)), "{four:?}");
}

fn shown(world: &World, plan: &Planned, group: GroupId) -> CoachGroup {
    let (names, notes) = (names(), Notes::new());
    let context = Context { names: &names, notes: &notes, zone_offset: 0, plan };
    let Some(View::Coach(page)) = view(&world.state, &context, &Watch::Coach(AYLA)) else {
        panic!("a coach's page")
    };
    page.groups.into_iter().find(|one| one.group == group).unwrap()
}

#[test]
fn a_coach_sees_them_for_own_groups_and_takes_one() {
    let mut world = World::with_pair_on();
    let (kept, cuts) = (KeptOrder::default(), &mut Cuts::default());
    let errand = Errand::of(&world.state, world.now, &kept, &Learned, cuts).unwrap();
    let admissions = errand.weigh().into_iter().map(|weighed| weighed.admission).collect();
    let plan = Planned { admissions, ..Planned::default() };
    assert!(plan.admissions.iter().any(|one| one.group == SINGLE));
    assert!(shown(&world, &plan, SINGLE).admissions.is_empty(), "another coach's");
    let parts = shown(&world, &plan, LATER).admissions;
    for part in &parts {
        let free = part.stations.iter().all(|id| world.state.stations[id].claim.is_none());
        assert_eq!(part.act.is_some(), free, "{part:?}");
    }
    let act = parts.into_iter().find_map(|part| part.act).expect("what is free can be taken");
    world.accept(&coach(AYLA), act);
    let stations: Vec<StationId> = world.state.groups[&LATER].claim.as_ref().unwrap().stations.clone();
    assert_eq!(stations, [BENCH_2, ROW_2]);
    assert!(shown(&world, &plan, LATER).admissions.is_empty(), "it has its stations");
}

#[test]
fn every_proposal_of_random_histories_is_honest_and_always_the_same() {
    let mut proposed = 0;
    for entries in always_the_same(40) {
        let (mut state, mut standing) = (State::new(), Standing::default());
        for (n, entry) in entries.into_iter().enumerate() {
            evolve(&mut state, &entry);
            if n % 12 != 11 {
                continue;
            }
            let now = entry.recorded;
            let all = weighed_in(&state, now, &mut standing);
            let again = weighed_in(&state, now, &mut standing);
            let only = |all: &[Weighed]| all.iter().map(|one| one.admission.clone()).collect::<Vec<_>>();
            assert_eq!(only(&all), only(&again));
            for one in &all {
                honest(one);
                let Admission { group, stations, from, .. } = &one.admission;
                assert!(state.groups[group].claim.is_none() && *from >= now);
                assert!(stations.iter().all(|id| state.stations[id].out.is_none()));
                assert!(of(&all, *group).len() <= limits::EACH);
            }
            proposed += all.len();
        }
    }
    assert!(proposed > 100, "{proposed}");
}

//! An evening by the plan in which a station breaks, a set lasts longer and a client goes home.
//!
//! Sets take exactly as long as prescribed otherwise, so that whatever is told anew is told because of a mishap.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::command::{Act, Defect};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::invariants;
use turnabout_server::floor::planning::Sight;
use turnabout_server::floor::rehearse::{Evening, Mishap, Unexpected, Watch, evening};
use turnabout_server::floor::state::{Promise, State};

use crate::{DARA, FIRST, PLANNED, chance, demo, turn};

const AYLA: CoachId = CoachId(1);
const SECOND: GroupId = GroupId(2);
const THIRD: GroupId = GroupId(3);
const GRETA: ClientId = ClientId(105);
const HANA: ClientId = ClientId(106);
const JONAH: ClientId = ClientId(107);

/// A rule that a timetable broke, at an instant, and by how many seconds.
type Broken = (FloorMs, GroupId, u8, u32);

/// What has been told, and every rule of telling.
#[derive(Default)]
struct Told {
    now: BTreeMap<TurnId, Promise>,
    /// Every promise as it was made.
    all: Vec<(FloorMs, Promise)>,
    /// What was told to the second first of a set that began, and when it began.
    kept: Vec<(TurnId, FloorMs, FloorMs)>,
    first: BTreeMap<TurnId, FloorMs>,
    broken: Vec<Broken>,
    /// Stations that are out of service, since when.
    out: BTreeMap<StationId, FloorMs>,
}

impl Told {
    fn promised(&mut self, promise: Promise, now: FloorMs) {
        if let Some(before) = self.now.insert(promise.turn, promise) {
            let by = promise.start.since(before.start).0;
            let exactly = before.about && !promise.about;
            assert!(by == 0 || by.abs() >= 5_000 || exactly, "{before:?} becomes {promise:?} at {now:?}");
            assert!(by >= 0 || before.about, "{before:?} becomes {promise:?} at {now:?}");
        } else {
            assert!(promise.start <= now + Millis::secs(60), "{promise:?} is told at {now:?}");
        }
        assert!(!self.out.contains_key(&promise.station), "{promise:?} at {now:?} where nothing can be done");
        let near = promise.start <= now + Millis::secs(15);
        assert!(promise.about != near, "{promise:?} at {now:?}");
        if !promise.about {
            self.first.entry(promise.turn).or_insert(promise.start);
        }
        self.all.push((now, promise));
    }

    /// Told starts of a group that began more than five seconds off.
    fn moved(&self, group: GroupId) -> usize {
        let off = |(turn, first, went): &&(TurnId, FloorMs, FloorMs)| {
            turn.group == group && went.since(*first).0.abs() > 5_000
        };
        self.kept.iter().filter(off).count()
    }
}

impl Watch for Told {
    fn entry(&mut self, state: &State, entry: &Entry) {
        invariants::check(state).unwrap_or_else(|broken| panic!("{broken} after {entry:?}"));
        match &entry.event {
            Event::Promised { made, taken_back } => {
                self.now.retain(|turn, _| !taken_back.contains(turn));
                made.iter().for_each(|promise| self.promised(*promise, entry.recorded));
            }
            Event::TurnWent { turn, .. } => {
                self.now.remove(turn);
                if let Some(first) = self.first.remove(turn) {
                    self.kept.push((*turn, first, entry.at));
                }
            }
            Event::TakenOutOfService { station, .. } => {
                self.out.insert(*station, entry.recorded);
            }
            _ => {}
        }
        // What cannot be is gone from the state without a word.
        self.now.retain(|turn, _| state.promises.iter().any(|told| told.turn == *turn));
        let wrong = state.promises.iter().find(|told| self.out.contains_key(&told.station));
        assert_eq!(wrong, None, "nobody is promised a station that is out of service");
    }

    fn looked(&mut self, _: &State, sight: &Sight, now: FloorMs) {
        let verdict = &sight.plan.verdict;
        assert!(verdict.is_valid(), "at {now:?}: {:?}", verdict.faults);
        let who: Vec<GroupId> = sight.outlook.who.groups().collect();
        self.broken.extend(
            verdict.breaches.iter().map(|breach| (now, who[breach.group], breach.rule, breach.seconds)),
        );
    }
}

fn happen(mishaps: &[Mishap]) -> (Evening, Told) {
    let mut told = Told::default();
    let evening = evening(&demo(), PLANNED, chance(0, 1), mishaps, &mut told).unwrap();
    assert!(evening.complete, "{:#?}", evening.entries.last());
    (evening, told)
}

/// When a set began and was said to be over, and where it was done.
fn set(evening: &Evening, wanted: TurnId) -> (FloorMs, FloorMs, StationId) {
    let went = evening.entries.iter().find_map(|entry| match &entry.event {
        Event::TurnWent { turn, station, .. } if *turn == wanted => Some((entry.at, *station)),
        _ => None,
    });
    let done = |entry: &&Entry| matches!(&entry.event, Event::TurnDone { turn, .. } if *turn == wanted);
    let (went, station) = went.unwrap();
    (went, evening.entries.iter().find(done).unwrap().recorded, station)
}

/// The sets of a group in the order in which they began.
fn order(evening: &Evening, group: GroupId) -> Vec<TurnId> {
    let went = evening.entries.iter().filter_map(|entry| match &entry.event {
        Event::TurnWent { turn, .. } if turn.group == group => Some(*turn),
        _ => None,
    });
    went.collect()
}

/// Groups of whom a timetable broke a rule, with the rule.
fn rules(told: &Told) -> BTreeSet<(GroupId, u8)> {
    told.broken.iter().map(|(_, group, rule, _)| (*group, *rule)).collect()
}

fn at(at: FloorMs, act: Act) -> Mishap {
    Mishap::Tap(Unexpected {
        at,
        by: Speaker { actor: Actor::Coach { coach: AYLA }, stations: Vec::new() },
        act,
    })
}

/// What was told of sets at a station while another one was overdue there.
fn meanwhile(told: &Told, (from, to): (FloorMs, FloorMs), station: StationId) -> Vec<Promise> {
    let within = |(now, told): &&(FloorMs, Promise)| *now > from && *now < to && told.station == station;
    told.all.iter().filter(within).map(|(_, told)| *told).collect()
}

const ALL: [GroupId; 4] = [FIRST, SECOND, THIRD, GroupId(4)];

/// Nobody taps to the second, so that some starts come out later than was told.
#[test]
fn without_mishaps_most_of_what_is_told_stays_as_it_was() {
    let (_, told) = happen(&[]);
    let moved: usize = ALL.iter().map(|group| told.moved(*group)).sum();
    assert!(told.kept.len() > 60 && moved * 10 <= told.kept.len(), "{moved} of {}", told.kept.len());
}

#[test]
fn an_evening_with_a_broken_station_long_sets_and_a_client_who_goes_home_stays_in_order() {
    let (plain, plain_told) = happen(&[]);
    // In the middle of the first group's evening the row breaks at which Dara has just begun the first working set.
    let (rows, _, row) = set(&plain, turn(FIRST, DARA, 1, 1));
    let breaks = rows + Millis::secs(20);
    // Of the third group Greta's second press and her last pulldown last 40 s longer, and Jonah goes home after his
    // second round.
    let (press, pulldown) = (turn(THIRD, GRETA, 2, 0), turn(THIRD, GRETA, 3, 1));
    let (_, jonah, _) = set(&plain, turn(THIRD, JONAH, 2, 1));
    let by = Secs(40);
    let mishaps = [
        at(breaks, Act::OutOfService { station: row, defect: Defect::Cable }),
        Mishap::Longer { turn: press, by },
        Mishap::Longer { turn: pulldown, by },
        at(jonah, Act::Leave { group: THIRD, client: JONAH }),
    ];
    let (evening, told) = happen(&mishaps);

    // The row: whoever is on it finishes; from then on the group rows elsewhere.
    assert_eq!(told.out.get(&row), Some(&breaks));
    assert_eq!(set(&evening, turn(FIRST, DARA, 1, 1)).2, row);
    assert_ne!(set(&evening, turn(FIRST, DARA, 2, 1)).2, row);

    // The long sets: whoever waits is told why, again and again. At the rack it is the coach who stands there that
    // binds, or the change of load that comes after the set; nobody stands at a pulldown.
    let overdue = |turn| {
        let (went, over, station) = set(&evening, turn);
        let whole = set(&plain, turn);
        meanwhile(&told, (went + whole.1.since(whole.0), over), station)
    };
    let at_rack = overdue(press);
    let at_pulldown = overdue(pulldown);
    assert!(!at_rack.is_empty() && !at_pulldown.is_empty(), "{at_rack:#?} {at_pulldown:#?}");
    let waits =
        |told: &Promise| matches!(told.reason, StartReason::StationInUse | StartReason::LoadChange { .. });
    let spots = |told: &Promise| told.reason == StartReason::SpotterBusy;
    // While a delay of the plan's own is longer than what is overdue, that is what binds.
    let later = |told: &&Promise| told.reason == StartReason::Later;
    let overtaken = at_rack.iter().skip_while(later);
    assert!(overtaken.clone().count() > 0, "{at_rack:#?}");
    assert!(overtaken.clone().all(|told| waits(told) || spots(told)), "{at_rack:#?}");
    // The first may still be from before anybody was late.
    assert!(at_pulldown.iter().skip(1).all(waits) && at_pulldown.iter().any(waits), "{at_pulldown:#?}");

    // Jonah has gone: nothing is told him any more, and the others finish.
    let left = evening.entries.iter().find(|entry| matches!(entry.event, Event::ClientLeft { .. })).unwrap();
    assert!(told.all.iter().all(|(now, told)| told.turn.client != JONAH || *now <= left.recorded));
    for client in [GRETA, HANA] {
        set(&evening, turn(THIRD, client, 3, 1));
    }

    // Whom no mishap concerns go on as they would have gone, and are hardly told anything anew.
    assert_eq!(order(&evening, SECOND), order(&plain, SECOND));
    let moved = |told: &Told| told.moved(SECOND) + told.moved(GroupId(4));
    assert!(moved(&told) <= moved(&plain_told) + 1, "{:?}", told.kept);
    // Mishaps break no rule that is not broken without them.
    assert!(rules(&told).is_subset(&rules(&plain_told)), "{:?} {:?}", rules(&told), rules(&plain_told));
}

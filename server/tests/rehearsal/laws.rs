//! What holds of every rehearsed evening, whichever way it is run.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::invariants;
use turnabout_server::floor::planning::Sight;
use turnabout_server::floor::rehearse::measured::measured;
use turnabout_server::floor::rehearse::opening::Opening;
use turnabout_server::floor::rehearse::{Chance, Evening, Mishap, Watch, Way, evening};
use turnabout_server::floor::state::State;

use crate::{ALL_KNOWING, CHIDI, FIRST, PLANNED, chance, demo, turn};

const ALL: [Way; 4] = [Way::Eye, Way::CappedEye, PLANNED, ALL_KNOWING];

const fn is_planned(way: Way) -> bool {
    matches!(way, Way::Planned(_) | Way::AllKnowing(_))
}

/// Looks at every entry and at every timetable.
#[derive(Default)]
struct Strict {
    looks: usize,
}

impl Watch for Strict {
    fn entry(&mut self, state: &State, entry: &Entry) {
        invariants::check(state).unwrap_or_else(|broken| panic!("{broken} after {entry:?}"));
    }

    fn looked(&mut self, _: &State, sight: &Sight, now: FloorMs) {
        self.looks += 1;
        assert!(sight.plan.verdict.is_valid(), "at {now:?}: {:?}", sight.plan.verdict.faults);
    }
}

fn seen(opening: &Opening, way: Way, chance: Chance) -> Evening {
    let mut strict = Strict::default();
    let evening = evening(opening, way, chance, &[], &mut strict).unwrap();
    assert_eq!(strict.looks > 0, is_planned(way));
    evening
}

/// Everybody of the programme has done every set of it.
pub(crate) fn all_done(evening: &Evening) {
    assert!(evening.complete, "{:#?}", evening.entries.last());
    let programme = &evening.state.programme;
    let sets = programme.groups.values().map(|plan| {
        let blocks = plan.blocks.iter().map(|block| (usize::from(block.rounds) + 1) * block.legs.len());
        blocks.sum::<usize>() * plan.clients.len()
    });
    let ramps = programme.groups.values().flat_map(|plan| &plan.blocks).flat_map(|block| &block.legs);
    let ramps = ramps.flat_map(|leg| leg.sets.values()).filter(|set| set.technique.ramp).count();
    let done = evening.entries.iter().filter(|entry| matches!(entry.event, Event::TurnDone { .. })).count();
    assert_eq!(done, sets.sum::<usize>() + ramps);
}

#[test]
fn evenings_come_to_their_end_every_way_and_their_entries_alone_lead_there() {
    for (noise, seed) in [(10, 1), (30, 2)] {
        for way in ALL {
            let evening = seen(&demo(), way, chance(noise, seed));
            all_done(&evening);
            let mut replayed = State::new();
            evening.entries.iter().for_each(|entry| evolve(&mut replayed, entry));
            assert_eq!(replayed, evening.state);
            let told = measured(&evening.entries).told;
            assert_eq!(told.rounds.told > 0, is_planned(way));
            assert_eq!((told.rounds.hurried, told.between.hurried), (0, 0), "{told:?}");
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_evening_and_another_one_another() {
    let opening = demo();
    for way in [Way::Eye, ALL_KNOWING] {
        let one = |seed| seen(&opening, way, chance(10, seed)).entries;
        assert_eq!(one(5), one(5));
        assert_ne!(one(5), one(6));
    }
}

/// All ways get the same lengths: that of a set hangs on whose it is, not on when it is done.
#[test]
fn a_set_takes_as_long_whichever_way_the_floor_is_run() {
    let opening = demo();
    let took = |way| {
        let mut took: Vec<(TurnId, Millis)> = Vec::new();
        let mut starts = Vec::new();
        for entry in seen(&opening, way, chance(20, 3)).entries {
            match entry.event {
                Event::TurnWent { turn, starts: at, .. } => starts.push((turn, at)),
                Event::TurnDone { turn, ended, .. } => {
                    let (_, at) = starts.iter().rev().find(|(other, _)| *other == turn).unwrap();
                    took.push((turn, ended.since(*at)));
                }
                _ => {}
            }
        }
        took.sort_unstable();
        took
    };
    let eye = took(Way::Eye);
    for way in [Way::CappedEye, PLANNED, ALL_KNOWING] {
        assert_eq!(eye, took(way), "{way:?}");
    }
    assert!(eye.iter().any(|(_, by)| *by != eye[0].1), "{eye:?}");
}

#[test]
fn a_longer_set_is_longer_by_that_much() {
    let opening = demo();
    let long = turn(FIRST, CHIDI, 1, 0);
    let ended = |mishaps: &[Mishap]| {
        let evening = evening(&opening, Way::Eye, chance(0, 1), mishaps, &mut ()).unwrap();
        let done = |entry: &&Entry| matches!(entry.event, Event::TurnDone { turn, .. } if turn == long);
        evening.entries.iter().find(done).unwrap().recorded
    };
    let by = Secs(40);
    assert_eq!(ended(&[Mishap::Longer { turn: long, by }]), ended(&[]) + by);
}

//! What the all-knowing planner knows, and what comes of it.

use std::collections::BTreeMap;

use turnabout_protocol::ids::{ClientId, GroupId, TurnId};
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::planning::Sight;
use turnabout_server::floor::rehearse::measured::{Measured, measured};
use turnabout_server::floor::rehearse::{Mishap, Watch, Way, evening};
use turnabout_server::floor::state::State;
use turnabout_server::timetable::instance::Turn;

use crate::{ALL_KNOWING, CHIDI, FIRST, PLANNED, chance, demo, turn};

/// The light sets of the demo's one client who has two of them at the rack.
const JONAH: TurnId = TurnId { group: GroupId(3), client: ClientId(107), block: 0, round: 0, leg: 0 };

/// Holds what was planned of every set against what it was.
#[derive(Default)]
struct Lengths {
    /// How long each coming set was planned to take at the last look.
    planned: BTreeMap<TurnId, Secs>,
    /// When sets under way began, and how long they were planned to take then.
    went: BTreeMap<TurnId, (FloorMs, Secs)>,
    /// At every look since: when that was, and when the station of a set under way was to be free.
    free: BTreeMap<TurnId, Vec<(FloorMs, FloorMs)>>,
    /// By how many seconds each set was planned wrongly.
    off: Vec<(TurnId, i64)>,
    /// By how much a station was free later than planned.
    late: Vec<Millis>,
}

impl Watch for Lengths {
    fn entry(&mut self, _: &State, entry: &Entry) {
        match &entry.event {
            Event::TurnWent { turn, .. } => {
                self.went.insert(*turn, (entry.at, self.planned[turn]));
            }
            Event::TurnDone { turn, .. } => {
                let (went, planned) = self.went.remove(turn).unwrap();
                let took = entry.recorded.since(went).ceil_secs();
                self.off.push((*turn, i64::from(planned.0) - took));
                let free = self.free.remove(turn).unwrap_or_default();
                // At the very instant of the tap it is overdue, for who looks is a little faster.
                let before = free.iter().filter(|(look, _)| *look < entry.recorded);
                self.late.extend(before.map(|(_, free)| entry.recorded.since(*free)));
            }
            _ => {}
        }
    }

    fn looked(&mut self, state: &State, sight: &Sight, now: FloorMs) {
        let (who, instance) = (&sight.outlook.who, &sight.outlook.instance);
        for (at, group) in instance.groups.iter().enumerate() {
            for member in 0..group.members.len() {
                let (place, turn) = who.next(at, member).unwrap();
                let of: &Option<Turn> = &group.members[member].rounds[place.round].legs[place.leg];
                self.planned.insert(turn, of.as_ref().unwrap().length);
            }
        }
        for set in state.under_way() {
            let station = who.station(set.station).map(|place| &instance.stations[place]);
            let free = station.map(|station| (now, who.instant(station.free_at)));
            self.free.entry(set.turn).or_default().extend(free);
        }
    }
}

fn lengths(way: Way) -> Lengths {
    let mut lengths = Lengths::default();
    let mishaps = [Mishap::Longer { turn: turn(FIRST, CHIDI, 2, 0), by: Secs(40) }];
    let evening = evening(&demo(), way, chance(30, 3), &mishaps, &mut lengths).unwrap();
    assert!(evening.complete);
    lengths
}

#[test]
fn the_all_knowing_plan_has_every_set_as_long_as_it_is() {
    let knowing = lengths(ALL_KNOWING);
    let wrong: Vec<_> = knowing.off.iter().filter(|(_, by)| *by != 0).collect();
    assert!(knowing.off.len() > 60 && wrong.is_empty(), "{wrong:?}");
    assert_eq!(knowing.off.iter().filter(|(turn, _)| *turn == JONAH).count(), 2, "also the second light set");
    // A second at most, for plans count whole ones.
    let late = |by: &&Millis| !(-999..=0).contains(&by.0);
    assert!(!knowing.late.is_empty() && knowing.late.iter().find(late).is_none(), "{:?}", knowing.late);
}

#[test]
fn a_plan_of_what_is_expected_has_them_otherwise() {
    let planned = lengths(PLANNED);
    let wrong = planned.off.iter().filter(|(_, by)| by.abs() >= 5).count();
    assert!(wrong * 3 > planned.off.len(), "{:?}", planned.off);
}

/// Of some evenings together: rests that were too long with waits between two exercises, and told starts that moved.
fn trouble(way: Way, noise: u8, seeds: std::ops::RangeInclusive<u64>) -> (Millis, u64) {
    let one = |seed| measured(&evening(&demo(), way, chance(noise, seed), &[], &mut ()).unwrap().entries);
    let all: Vec<Measured> = seeds.map(one).collect();
    let waited = all.iter().map(|one| one.overrun.0 + one.changeover_wait.0).sum();
    (Millis(waited), all.iter().map(|one| one.told.rounds.moved + one.told.between.moved).sum())
}

/// Without noise it is only the moments at the ends of sets that are known, with noise the sets too: the more there is
/// to know, the more it is worth. Each search looks at as many orders as the other way's.
#[test]
fn who_knows_the_lengths_loses_nothing_by_it() {
    for (noise, seeds) in [(0, 1..=2), (30, 1..=3)] {
        let (planned, knowing) = (trouble(PLANNED, noise, seeds.clone()), trouble(ALL_KNOWING, noise, seeds));
        assert!(knowing.0 <= planned.0, "{noise} %: {knowing:?} {planned:?}");
        assert_eq!(knowing.1, 0, "nothing that is told moves: {noise} %");
        assert_eq!(planned.1 > 0, noise > 0, "{planned:?}");
    }
}

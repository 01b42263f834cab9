//! The evenings that are looked at.

use turnabout_protocol::ids::StationId;
use turnabout_protocol::units::Secs;

use crate::family::Family;
use crate::floor::{BENCHES, ROWS, Scenario, Work, scenario};

const PRESS: Work = Work::Press { rounds: 1 };
const TWO_ROUNDS: Work = Work::Press { rounds: 2 };

/// Three groups of one want two benches and two rows: one of them must wait.
pub(crate) fn three_groups() -> Scenario {
    let groups = [(1, Work::Paired), (1, Work::Paired), (1, PRESS)];
    scenario("three groups on two pairs of stations", &groups, &Family::WORK)
}

/// Three groups stand in line, and are served in order or, with a reason, out of it.
pub(crate) fn in_line() -> Scenario {
    let groups = [(1, Work::Paired), (1, PRESS), (1, PRESS)];
    scenario("three groups in line", &groups, &Family::LINE)
}

/// On one bench and one row: who wants one of them may pass who wants both, or may not.
pub(crate) fn different_wishes() -> Scenario {
    let groups = [(1, Work::Row), (1, Work::Paired), (1, PRESS)];
    let mut scenario = scenario("different wishes", &groups, &Family::LINE);
    only(&mut scenario, &[BENCHES[0], ROWS[0]]);
    scenario
}

/// A floor with no stations but these.
fn only(scenario: &mut Scenario, stations: &[StationId]) {
    scenario.floor.stations.retain(|station, _| stations.contains(station));
    for exercise in scenario.floor.exercises.values_mut() {
        exercise.stations.retain(|station| stations.contains(station));
    }
}

/// Two clients share a bench, and beside them one rests between two rounds.
pub(crate) fn pair_and_single() -> Scenario {
    scenario("a pair and a single with a rest", &[(2, PRESS), (1, TWO_ROUNDS)], &Family::WORK)
}

/// Two clients spot each other, and one could row meanwhile.
pub(crate) fn spotting_each_other() -> Scenario {
    let families = [&Family::ON[..], &[Family::SpotBy]].concat();
    scenario("two clients who spot each other", &[(2, Work::Paired)], &families)
}

/// Two groups are held back and let go on at any moment.
pub(crate) fn held_back() -> Scenario {
    let families = [&Family::ON[..], &[Family::Pause, Family::Stop, Family::NotYet]].concat();
    scenario("two groups held back", &[(1, PRESS), (1, PRESS)], &families)
}

/// Two groups want one bench: they come, fall silent, are warned and given up, and come again.
pub(crate) fn silent() -> Scenario {
    // Stations are waited for, not taken, so that the line is given up too.
    let takes = |family: &Family| *family != Family::Take;
    let on = Family::ON.into_iter().filter(takes);
    let families: Vec<Family> = on.chain([Family::Ask, Family::StillHere]).collect();
    let mut scenario = scenario("groups that fall silent", &[(1, PRESS), (1, PRESS)], &families);
    only(&mut scenario, &BENCHES[..1]);
    scenario.floor.settings.idle = Secs(3);
    scenario.floor.settings.lapse = Secs(3);
    scenario.there = false;
    scenario
}

/// A bench breaks and is mended, and the public sits down on a row.
pub(crate) fn out_of_use() -> Scenario {
    let families = [&Family::ON[..], &[Family::Ask, Family::Breaks, Family::Public]].concat();
    scenario("stations out of use", &[(1, Work::Paired)], &families)
}

/// One group, and whatever people can tap, wrong taps too.
pub(crate) fn every_tap() -> Scenario {
    scenario("one group and every tap", &[(1, PRESS)], &Family::ALL)
}

/// A pair takes turns on one bench with a rest.
pub(crate) fn pair_alone() -> Scenario {
    scenario("a pair alone", &[(2, TWO_ROUNDS)], &Family::WORK)
}

/// Two groups of one, each with a row.
pub(crate) fn two_groups() -> Scenario {
    scenario("two groups", &[(1, Work::Paired), (1, Work::Paired)], &Family::WORK)
}

/// One after the other on the same bench with the same load from the first set on.
pub(crate) fn same_load() -> Scenario {
    let mut scenario = scenario("the same load", &[(1, PRESS), (1, PRESS)], &Family::WORK);
    let plans = scenario.programme.groups.values_mut();
    let legs = plans.flat_map(|plan| &mut plan.blocks).flat_map(|block| &mut block.legs);
    for set in legs.flat_map(|leg| leg.sets.values_mut()) {
        set.technique.load = set.rounds[0].load;
    }
    scenario
}

/// More than can be looked at whole: for walks. Nobody is given up.
pub(crate) fn everything() -> Scenario {
    let groups = [(2, Work::Paired), (1, Work::Press { rounds: 3 }), (1, Work::Paired)];
    scenario("everything", &groups, &Family::ALL)
}

/// The same where whoever is silent is given up.
pub(crate) fn everything_and_silence() -> Scenario {
    let mut scenario = everything();
    scenario.floor.settings.idle = Secs(12);
    scenario.floor.settings.lapse = Secs(6);
    scenario.there = false;
    scenario
}

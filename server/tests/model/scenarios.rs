//! The evenings that are looked at.

use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::units::Secs;
use turnabout_server::floor::config::Sharing;

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
        set.technique.load = set.rounds[0].fixed();
    }
    scenario
}

/// Two groups on one bench, where whoever has it shares it.
pub(crate) fn working_in() -> Scenario {
    let mut scenario = scenario("two groups share a bench", &[(2, PRESS), (1, PRESS)], &Family::WORK);
    only(&mut scenario, &BENCHES[..1]);
    shared(&mut scenario, Sharing::Open);
    scenario
}

/// Three want one row, which two can share; the line is kept all the same.
pub(crate) fn working_in_and_line() -> Scenario {
    let mut scenario = scenario("three groups on a row for two", &[(1, Work::Row); 3], &Family::LINE);
    only(&mut scenario, &ROWS[..1]);
    shared(&mut scenario, Sharing::Open);
    scenario
}

/// The same where whoever has the row is asked for leave.
pub(crate) fn leave_given() -> Scenario {
    let families = [&Family::WORK[..], &[Family::Ask, Family::Leave]].concat();
    let mut scenario = scenario("leave to work in", &[(1, Work::Row); 3], &families);
    only(&mut scenario, &ROWS[..1]);
    shared(&mut scenario, Sharing::Ask);
    scenario
}

fn shared(scenario: &mut Scenario, sharing: Sharing) {
    for station in scenario.floor.stations.values_mut() {
        station.sharing = sharing;
    }
}

/// Two groups want for their second block what the other has for its first, and ask for it ahead; a third waits
/// for both.
pub(crate) fn two_blocks() -> Scenario {
    let families = [&Family::LINE[..], &[Family::Ahead]].concat();
    let groups = [(1, Work::RowThenPress), (1, Work::PressThenRow), (1, Work::Paired)];
    let mut scenario = scenario("two blocks with stations got ahead", &groups, &families);
    only(&mut scenario, &[BENCHES[0], ROWS[0]]);
    scenario
}

/// A group that has stations ahead falls silent, and another waits for them.
pub(crate) fn silent_ahead() -> Scenario {
    let takes = |family: &Family| *family != Family::Take;
    let on = Family::ON.into_iter().filter(takes);
    let families: Vec<Family> = on.chain([Family::Ask, Family::Ahead]).collect();
    let groups = [(1, Work::RowThenPress), (1, PRESS)];
    let mut scenario = scenario("silent with stations ahead", &groups, &families);
    only(&mut scenario, &[BENCHES[0], ROWS[0]]);
    scenario.floor.settings.idle = Secs(3);
    scenario.floor.settings.lapse = Secs(3);
    scenario
}

/// Two groups change benches.
pub(crate) fn swapping() -> Scenario {
    let families = [&Family::WORK[..], &[Family::Swap]].concat();
    scenario("two groups change benches", &[(1, PRESS), (1, PRESS)], &families)
}

/// A group changes rows while another waits for a bench and a row.
pub(crate) fn swapping_and_line() -> Scenario {
    let out_of_order = [Family::Withdraw, Family::Despite];
    let line = Family::LINE.into_iter().filter(|family| !out_of_order.contains(family));
    let families: Vec<Family> = line.chain([Family::Swap]).collect();
    let groups = [(1, Work::Row), (1, Work::Paired), (1, PRESS)];
    let mut scenario = scenario("a group changes rows while others wait", &groups, &families);
    only(&mut scenario, &[BENCHES[0], ROWS[0], ROWS[1]]);
    scenario
}

/// Sets, rounds and exercises are left out.
pub(crate) fn skipping() -> Scenario {
    let families = [&Family::WORK[..], &[Family::Skip]].concat();
    let mut scenario = scenario("sets left out", &[(1, Work::PairedTwice), (1, Work::Row)], &families);
    only(&mut scenario, &[BENCHES[0], ROWS[0]]);
    scenario
}

/// Groups change hands, and coaches go away.
pub(crate) fn changing_hands() -> Scenario {
    let families = [&Family::WORK[..], &[Family::HandOver, Family::Away]].concat();
    let mut scenario = scenario("a group changes hands", &[(1, Work::Paired)], &families);
    only(&mut scenario, &[BENCHES[0], ROWS[0]]);
    scenario
}

/// Coaches go away and come back while two groups want a spotter.
pub(crate) fn coaches_away() -> Scenario {
    let families = [&Family::WORK[..], &[Family::Away]].concat();
    scenario("coaches go away", &[(1, PRESS), (1, PRESS)], &families)
}

/// Coaches go on to the next bar after the lift-off, where enough is left in reserve.
pub(crate) fn lift_off() -> Scenario {
    let families = [&Family::WORK[..], &[Family::LiftOff]].concat();
    let mut scenario = scenario("spotters for the lift-off alone", &[(1, PRESS), (1, PRESS)], &families);
    reserve(&mut scenario);
    scenario
}

/// The first group keeps just enough in reserve for a lift-off alone, the others just not.
fn reserve(scenario: &mut Scenario) {
    for (id, plan) in &mut scenario.programme.groups {
        let reserve = if *id == GroupId(1) { 3 } else { 2 };
        let legs = plan.blocks.iter_mut().flat_map(|block| &mut block.legs);
        for set in legs.flat_map(|leg| leg.sets.values_mut()) {
            set.reserve = Some(reserve);
        }
    }
}

/// Stations are waited for while the public or a defect keeps them.
pub(crate) fn waited_for() -> Scenario {
    let takes = |family: &Family| *family != Family::Take;
    let on = Family::ON.into_iter().filter(takes);
    let families: Vec<Family> = on.chain([Family::Ask, Family::Breaks, Family::Public]).collect();
    let mut scenario = scenario(
        "waiting for what is out of use",
        &[(1, Work::Paired), (1, Work::Row), (1, PRESS)],
        &families,
    );
    only(&mut scenario, &[BENCHES[0], ROWS[0]]);
    scenario
}

/// Two groups want one bench, and any tap may be taken back.
pub(crate) fn slips() -> Scenario {
    let families = [&Family::WORK[..], &[Family::Ask]].concat();
    let mut scenario = scenario("taps taken back", &[(1, Work::Paired), (1, PRESS)], &families);
    only(&mut scenario, &[BENCHES[0], ROWS[0]]);
    scenario.slips = true;
    scenario
}

/// One group changes hands and its coaches go away, and any tap may be taken back.
pub(crate) fn slips_of_coaches() -> Scenario {
    let families = [Family::Take, Family::Skip, Family::Free, Family::HandOver, Family::Away];
    let mut scenario = scenario("what coaches take back", &[(1, Work::Row)], &families);
    only(&mut scenario, &ROWS[..1]);
    scenario.slips = true;
    scenario
}

/// The public sits down on the row of a pair and starts are put off, and any tap may be taken back.
pub(crate) fn slips_of_clients() -> Scenario {
    let families = [&Family::WORK[..], &[Family::Public, Family::NotYet]].concat();
    let mut scenario = scenario("what clients take back", &[(2, Work::Row)], &families);
    only(&mut scenario, &ROWS[..1]);
    scenario.slips = true;
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

/// The same where plans change while they are carried out.
pub(crate) fn everything_replanned() -> Scenario {
    let groups = [(2, Work::PairedTwice), (1, Work::RowThenPress), (1, Work::PressThenRow)];
    let families = [&Family::ALL[..], &Family::REPLANNING].concat();
    let mut scenario = scenario("everything replanned", &groups, &families);
    for (place, station) in scenario.floor.stations.values_mut().enumerate() {
        station.sharing = if place % 2 == 0 { Sharing::Open } else { Sharing::Ask };
    }
    reserve(&mut scenario);
    scenario
}

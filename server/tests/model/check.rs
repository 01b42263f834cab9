//! What the checker is asked: that nothing is found in the real core, and everything that is planted.

use std::time::{Duration, Instant};

use stateright::{Checker, HasDiscoveries, Model};

use crate::core::Core;
use crate::evening::Evening;
use crate::fault::Fault;
use crate::floor::Scenario;
use crate::scenarios;

/// A machine this slow is broken, and a model this large a mistake: the checker gives up.
const PATIENCE: Duration = Duration::from_secs(600);

/// What must be possible; everything else is what must always hold.
const LAST: &str = "everybody finishes";

/// Looks at every state that can be reached; the number of different ones.
fn explore(scenario: Scenario) -> usize {
    let began = Instant::now();
    let name = scenario.name;
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let evening = Evening { core: Core::default(), scenario };
    let checker = evening.checker().threads(threads).timeout(PATIENCE);
    let checker = checker.finish_when(HasDiscoveries::AnyFailures).spawn_bfs().join();
    if let Some((property, path)) = checker.discoveries().into_iter().find(|(name, _)| *name != LAST) {
        let steps: Vec<String> = path.into_actions().iter().map(|step| format!("{step:?}")).collect();
        panic!("{name}: not so: {property}. The way there:\n{}", steps.join("\n"));
    }
    assert!(checker.discovery(LAST).is_some(), "{name}: never so: {LAST}");
    assert!(checker.is_done(), "{name}: not all states were looked at");
    let (states, steps, took) = (checker.unique_state_count(), checker.state_count(), began.elapsed());
    println!("{name}: {states} states, {steps} steps, depth {}, {took:.1?}", checker.max_depth());
    states
}

/// The same of an evening that is smaller than this only by mistake.
fn explore_at_least(least: usize, scenario: Scenario) {
    let name = scenario.name;
    let states = explore(scenario);
    assert!(states >= least, "{name}: only {states} states: the model has become too small to mean much");
}

#[test]
fn three_groups_want_two_pairs_of_stations() {
    explore_at_least(400_000, scenarios::three_groups());
}

#[test]
fn a_pair_shares_and_a_single_rests() {
    explore(scenarios::pair_and_single());
}

#[test]
fn a_line_is_served_in_order() {
    explore(scenarios::in_line());
}

#[test]
fn different_wishes_pass_each_other_only_without_harm() {
    explore(scenarios::different_wishes());
}

#[test]
fn clients_spot_each_other() {
    explore(scenarios::spotting_each_other());
}

#[test]
fn the_silent_are_given_up() {
    explore(scenarios::silent());
}

#[test]
fn stations_break_and_the_public_sits_down() {
    explore(scenarios::out_of_use());
}

#[test]
fn groups_are_held_back_and_go_on() {
    explore(scenarios::held_back());
}

#[test]
fn everything_is_tapped_at_any_moment() {
    explore(scenarios::every_tap());
}

#[test]
fn two_groups_work_in_where_they_may() {
    explore_at_least(8_000, scenarios::working_in());
    explore_at_least(1_800, scenarios::working_in_and_line());
    explore_at_least(2_400, scenarios::leave_given());
}

#[test]
fn stations_are_got_ahead_for_the_next_block() {
    explore_at_least(12_000, scenarios::two_blocks());
    explore_at_least(12_000, scenarios::silent_ahead());
}

#[test]
fn groups_change_stations() {
    explore_at_least(12_000, scenarios::swapping());
    explore_at_least(17_000, scenarios::swapping_and_line());
}

#[test]
fn sets_are_left_out() {
    explore_at_least(6_000, scenarios::skipping());
}

#[test]
fn groups_change_hands_and_coaches_go_away() {
    explore_at_least(30_000, scenarios::changing_hands());
    explore_at_least(30_000, scenarios::coaches_away());
}

#[test]
fn spotters_go_on_after_the_lift_off() {
    explore_at_least(6_000, scenarios::lift_off());
}

#[test]
fn what_is_out_of_use_is_waited_for() {
    explore_at_least(18_000, scenarios::waited_for());
}

#[test]
fn taps_are_taken_back() {
    explore_at_least(13_000, scenarios::slips());
    explore_at_least(6_000, scenarios::slips_of_coaches());
    explore_at_least(1_500, scenarios::slips_of_clients());
}

#[test]
fn every_planted_fault_is_found() {
    for fault in Fault::ALL {
        let (property, scenario) = fault.breaks();
        let evening = Evening { core: Core { fault: Some(fault) }, scenario };
        let checker = evening.checker().timeout(PATIENCE);
        let checker = checker.finish_when(HasDiscoveries::AnyFailures).spawn_bfs().join();
        let found = checker.discovery(property);
        println!("{fault:?}: {} states", checker.unique_state_count());
        assert!(found.is_some(), "{fault:?} was not found in {} states", checker.unique_state_count());
    }
}

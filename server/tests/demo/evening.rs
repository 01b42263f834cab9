//! Whole evenings of the example files. `World` looks at every invariant after every entry.

use std::collections::BTreeMap;

use turnabout_protocol::command::Spotter;
use turnabout_protocol::command::{Act, CallKind, Effort, Scope};
use turnabout_protocol::ids::GroupId;
use turnabout_protocol::units::Millis;
use turnabout_server::floor::event::Event;

use crate::theatre::Theatre;
use crate::world::{coach, secs};

/// How many evenings.
const EVENINGS: u64 = 100;

#[test]
fn everybody_gets_done_whatever_chance_has_in_store() {
    let mut taps = 0;
    let mut refused = BTreeMap::<String, u64>::new();
    for seed in 0..EVENINGS {
        let mut theatre = Theatre::new(seed);
        theatre.play();
        assert!(theatre.busiest_minute() <= 15, "seed {seed}: {} in a minute", theatre.busiest_minute());
        taps += theatre.made.len();
        for (kind, n) in theatre.refused {
            *refused.entry(kind).or_default() += n;
        }
    }
    let all: u64 = refused.values().sum();
    let per_mille = all * 1_000 / u64::try_from(taps).unwrap();
    assert!(per_mille <= 10, "{per_mille} of a thousand taps were refused: {refused:?}");
}

#[test]
fn an_evening_takes_as_long_as_one_does() {
    for seed in 0..20 {
        let mut theatre = Theatre::new(seed);
        theatre.play();
        let minutes = theatre.world.now.0 / 60_000;
        assert!((15..=75).contains(&minutes), "seed {seed}: {minutes} minutes");
    }
}

#[test]
fn the_same_seed_plays_the_same_evening() {
    let played = |seed| {
        let mut theatre = Theatre::new(seed);
        theatre.play();
        theatre.world.entries
    };
    assert_eq!(played(5), played(5));
    assert_ne!(played(5), played(6));
}

#[test]
fn evenings_show_what_people_do() {
    let (mut forgotten, mut not_yet, mut lighter, mut please, mut heavy) = (0, 0, 0, 0, 0);
    for seed in 0..20 {
        let mut theatre = Theatre::new(seed);
        theatre.play();
        please += theatre.calls(CallKind::CoachPlease).len();
        for entry in &theatre.world.entries {
            match &entry.event {
                Event::TurnAssumed { .. } => forgotten += 1,
                Event::StartPutOff { .. } => not_yet += 1,
                Event::LoadLightened { .. } => lighter += 1,
                Event::TurnDone { effort: Some(Effort::Heavy), .. } => heavy += 1,
                _ => {}
            }
        }
    }
    assert!([forgotten, not_yet, lighter, please, heavy].iter().all(|n| *n > 0));
}

#[test]
fn help_now_is_one_drill_and_a_coach_attends_at_once() {
    for seed in 0..20 {
        let mut theatre = Theatre::new(seed);
        theatre.play();
        let calls = theatre.calls(CallKind::HelpNow);
        assert_eq!(calls.len(), 1, "seed {seed}");
        let call = theatre.world.entries.iter().find_map(|entry| match entry.event {
            Event::CallMade { call, urgency: CallKind::HelpNow, .. } => Some(call),
            _ => None,
        });
        let attended =
            theatre.world.entries.iter().find(
                |entry| matches!(entry.event, Event::CallAttended { call: other } if Some(other) == call),
            );
        // A walk, or racking the bar that both coaches happen to spot.
        let after = attended.unwrap().recorded.since(calls[0]);
        assert!(after <= secs(75), "seed {seed}: {after:?}");
    }
}

#[test]
fn a_coach_goes_to_another_coachs_bar_only_while_that_one_spots() {
    let mut helped = 0;
    for seed in 0..20 {
        let mut theatre = Theatre::new(seed);
        let (mut last_spotted, mut had) = (BTreeMap::new(), BTreeMap::new());
        while !theatre.finished() {
            let spotting: Vec<_> = theatre.world.state.under_way().filter_map(|u| u.spotter).collect();
            let known = theatre.world.entries.len();
            // A group may be handed over in between.
            let mut responsible: BTreeMap<_, _> =
                theatre.world.state.groups.iter().map(|(id, group)| (*id, group.coach)).collect();
            theatre.step();
            last_spotted.extend(spotting.into_iter().map(|who| (who, theatre.world.now)));
            for entry in &theatre.world.entries[known..] {
                if let Event::GroupHandedOver { group, from, to } = entry.event {
                    responsible.insert(group, to);
                    had.insert(group, (from, entry.recorded));
                }
                let Event::SpotterNamed { turn, spotter: Spotter::Coach { coach }, .. } = entry.event else {
                    continue;
                };
                let own = responsible[&turn.group];
                if own != coach {
                    helped += 1;
                    // The helper's page may be a moment behind.
                    let ago =
                        last_spotted.get(&Spotter::Coach { coach: own }).map(|at| entry.recorded.since(*at));
                    let had = had.get(&turn.group).filter(|(from, _)| *from == coach);
                    let had = had.map(|(_, at)| entry.recorded.since(*at));
                    let is_fresh = |ago: Option<Millis>| ago.is_some_and(|ago| ago <= secs(1));
                    assert!(is_fresh(ago) || is_fresh(had), "seed {seed}: {ago:?}, {had:?} {turn:?}");
                }
            }
        }
    }
    assert!(helped > 0, "somebody helped out in twenty evenings");
}

#[test]
fn a_group_that_is_held_goes_on_after_a_while_and_a_restart_harms_nobody() {
    for seed in 0..20 {
        let mut theatre = Theatre::new(seed);
        for _ in 0..400 {
            theatre.step();
        }
        let held = theatre.world.state.groups[&GroupId(1)].coach;
        theatre.tap(&coach(held), Act::Pause { group: GroupId(1) });
        for _ in 0..200 {
            theatre.step();
        }
        theatre.tap(&coach(held), Act::Stop { scope: Scope::Floor });
        theatre.restart();
        theatre.play();
    }
}

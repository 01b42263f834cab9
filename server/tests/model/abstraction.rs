//! The canonical form is exact: on random walks the real floor, with its true instants, sequence and stamps,
//! answers every tap as the canonical one does, and both come to the same.

use proptest::prelude::*;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::decide::{Verdict, decide};
use turnabout_server::floor::event::Event;

use crate::asks::Ask;
use crate::canonical::canonical;
use crate::clock::{NOW, next_instant};
use crate::core::Core;
use crate::evening::Evening;
use crate::family::asks;
use crate::floor::Scenario;
use crate::real::Real;
use crate::scenarios;

const WALKS: u32 = 300;

fn answer(floor: &Real, ask: &Ask) -> Verdict {
    decide(&floor.state, &ask.tap(floor.now), floor.now)
}

/// Every tap and its answer; the same taps in the same order as on the canonical state.
fn answers(floor: &Real, scenario: &Scenario) -> Vec<(Ask, Verdict)> {
    let asks = asks(&scenario.families, &floor.state).into_iter();
    asks.map(|ask| (ask.clone(), answer(floor, &ask))).collect()
}

fn pass_to(floor: &mut Real, to: FloorMs) {
    floor.now = to;
    floor.settle(Core::default(), |_, _, _| {});
}

/// What an answer comes to, without the instants and counts in it.
fn outline(verdict: &Verdict) -> String {
    match verdict {
        Verdict::Accepted(events) => {
            // Until when a start is put off is forgotten where nothing depends on it, so that is not said again with a
            // pause either.
            let again = |event: &Event| events.len() > 1 && matches!(event, Event::StartPutOff { .. });
            events.iter().filter(|event| !again(event)).map(Event::kind).collect::<Vec<_>>().join(", ")
        }
        Verdict::Already(_) => "already".to_owned(),
        Verdict::Refused(refusal) => format!("{:?}", std::mem::discriminant(refusal)),
    }
}

/// Walks both floors; the n-th choice picks among what leads on.
fn walk(scenario: &Scenario, choices: &[u16]) {
    let first = Evening { core: Core::default(), scenario: scenario.clone() }.before();
    let mut real = Real { state: first.state.clone(), now: NOW };
    let mut model = Real { state: first.state, now: NOW };
    for choice in choices {
        let (truly, modelled) = (answers(&real, scenario), answers(&model, scenario));
        assert_eq!(truly.len(), modelled.len(), "the same taps can be tried");
        for ((ask, truly), (_, modelled)) in truly.iter().zip(&modelled) {
            assert_eq!(outline(truly), outline(modelled), "{ask:?}");
        }
        let accepted: Vec<usize> =
            (0..truly.len()).filter(|place| matches!(truly[*place].1, Verdict::Accepted(_))).collect();
        // One more choice than there are taps: to wait.
        match accepted.get(usize::from(*choice) % (accepted.len() + 1)) {
            Some(place) => {
                for (floor, (ask, verdict)) in [(&mut real, &truly[*place]), (&mut model, &modelled[*place])]
                {
                    let Verdict::Accepted(events) = verdict else { panic!("{ask:?} leads on") };
                    floor.take(Core::default(), ask.tap(floor.now).speaker.actor, floor.now, events.clone());
                }
            }
            None => {
                let Some(instant) = next_instant(Core::default(), &model.state) else { continue };
                let to = real.now + instant.since(NOW);
                pass_to(&mut real, to);
                canonical(&mut model.state, instant);
                pass_to(&mut model, NOW);
            }
        }
        let now = real.now;
        pass_to(&mut real, now);
        pass_to(&mut model, NOW);
        canonical(&mut model.state, NOW);
        assert_eq!(real.seen(), model.state);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: WALKS, ..ProptestConfig::default() })]

    #[test]
    fn the_canonical_floor_goes_where_the_real_one_goes(choices in prop::collection::vec(any::<u16>(), 1..150)) {
        walk(&scenarios::everything(), &choices);
    }

    #[test]
    fn the_canonical_floor_gives_up_whom_the_real_one_gives_up(
        choices in prop::collection::vec(any::<u16>(), 1..150),
    ) {
        walk(&scenarios::everything_and_silence(), &choices);
    }

    #[test]
    fn the_canonical_floor_is_replanned_as_the_real_one_is(choices in prop::collection::vec(any::<u16>(), 1..150)) {
        walk(&scenarios::everything_replanned(), &choices);
    }
}

//! The canonical form is exact: on random walks the real floor, with its true instants, sequence and stamps,
//! answers every tap as the canonical one does, and both come to the same.

use proptest::prelude::*;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::decide::{Verdict, decide};
use turnabout_server::floor::due::due;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::state::State;

use crate::asks::Ask;
use crate::canonical::canonical;
use crate::clock::{NOW, next_instant};
use crate::core::Core;
use crate::evening::Evening;
use crate::family::asks;
use crate::floor::Scenario;
use crate::scenarios;

const WALKS: u32 = 300;

/// A floor whose time goes on.
struct Real {
    state: State,
    now: FloorMs,
}

impl Real {
    fn take(&mut self, by: Actor, at: FloorMs, events: Vec<Event>) {
        for event in events {
            let sequence = self.state.sequence + 1;
            evolve(&mut self.state, &Entry { sequence, recorded: self.now, at, by, event });
        }
    }

    fn pass_to(&mut self, to: FloorMs) {
        self.now = to;
        while let Some(due) = due(&self.state, self.now) {
            self.take(Actor::Floor, due.at, due.events);
        }
    }

    fn answer(&self, ask: &Ask) -> Verdict {
        decide(&self.state, &ask.tap(self.now), self.now)
    }

    /// Every tap and its answer; the same taps in the same order as on the canonical state.
    fn answers(&self, scenario: &Scenario) -> Vec<(Ask, Verdict)> {
        let asks = asks(&scenario.families, &self.state).into_iter();
        asks.map(|ask| (ask.clone(), self.answer(&ask))).collect()
    }
}

/// What an answer comes to, without the instants and counts in it.
fn outline(verdict: &Verdict) -> String {
    match verdict {
        Verdict::Accepted(events) => events.iter().map(Event::kind).collect::<Vec<_>>().join(", "),
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
        let (truly, modelled) = (real.answers(scenario), model.answers(scenario));
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
                    floor.take(ask.tap(floor.now).speaker.actor, floor.now, events.clone());
                }
            }
            None => {
                let Some(instant) = next_instant(Core::default(), &model.state) else { continue };
                real.pass_to(real.now + instant.since(NOW));
                canonical(&mut model.state, instant);
                model.pass_to(NOW);
            }
        }
        real.pass_to(real.now);
        model.pass_to(NOW);
        canonical(&mut model.state, NOW);
        let mut seen = real.state.clone();
        canonical(&mut seen, real.now);
        assert_eq!(seen, model.state);
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
}

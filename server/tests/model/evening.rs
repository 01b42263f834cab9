//! The model: a state of the floor, every tap that somebody may make in it, and time going on.

use std::collections::BTreeSet;
use std::hash::{Hash, Hasher};

use stateright::{Model, Property};
use turnabout_protocol::command::Act;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::decide::Verdict;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::state::{State, UnderWay};

use crate::asks::Ask;
use crate::canonical;
use crate::clock::{NOW, next_instant, something_ends};
use crate::core::Core;
use crate::family::{Family, asks};
use crate::floor::Scenario;
use crate::rules::{self, Happened, Heard, Rule};
use crate::slip::Slip;

/// The floor does less than this of itself at one instant: every group and client once, twice over.
const MOST_DUE: usize = 32;

/// A small evening, perhaps with a mistake in its core.
#[derive(Clone, Debug)]
pub(crate) struct Evening {
    pub(crate) core: Core,
    pub(crate) scenario: Scenario,
}

/// One state of the model.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Moment {
    pub(crate) state: State,
    heard: Heard,
    /// The tap that may yet be taken back.
    slip: Option<Box<Slip>>,
    /// What the step that led here broke; nothing goes on from such a state.
    broken: BTreeSet<Rule>,
}

/// One step of the model.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Step {
    Tap(Ask),
    /// A tap that may be taken back.
    Slip(Ask),
    TakeBack,
    /// Time goes on to the next instant that matters, and the floor does what is due.
    Wait,
}

impl Hash for Moment {
    fn hash<H: Hasher>(&self, hasher: &mut H) {
        let Self { state, heard, slip, broken } = self;
        canonical::hash(state, hasher);
        (heard, slip, broken).hash(hasher);
    }
}

impl Moment {
    /// Takes in what happened at once, and looks at every rule.
    fn take(&mut self, core: Core, by: Actor, at: FloorMs, events: Vec<Event>) {
        for event in events {
            rules::of_entry(
                &self.state,
                &mut self.heard,
                &Happened { by, at, event: &event },
                &mut self.broken,
            );
            let sequence = self.state.sequence + 1;
            core.evolve(&mut self.state, &Entry { sequence, recorded: NOW, at, by, event });
        }
        rules::of_state(&self.state, &mut self.broken);
    }

    /// What is due now happens, as it does before the floor takes the next tap.
    fn settled(mut self, core: Core) -> Self {
        let before: Vec<UnderWay> = self.state.under_way().copied().collect();
        for _ in 0..MOST_DUE {
            let Some(due) = core.due(&self.state, NOW) else {
                rules::of_settled(&before, &self.state, &mut self.broken);
                return self;
            };
            self.take(core, Actor::Floor, due.at, due.events);
        }
        self.broken.insert(Rule::OnTime);
        self
    }

    fn canonical(mut self) -> Self {
        if self.broken.is_empty() {
            canonical::canonical(&mut self.state, NOW);
        }
        self
    }
}

impl Evening {
    /// The floor and its programme, and nobody has begun.
    pub(crate) fn before(&self) -> Moment {
        let mut first =
            Moment { state: State::new(), heard: Heard::default(), slip: None, broken: BTreeSet::new() };
        let Scenario { floor, programme, .. } = self.scenario.clone();
        let events = vec![Event::FloorSet(Box::new(floor)), Event::ProgrammeSet(Box::new(programme))];
        first.take(self.core, Actor::Floor, NOW, events);
        if self.scenario.there {
            for ask in asks(&[Family::Come], &first.state) {
                first = self.tap(&first, &ask).expect("whoever comes is let in");
            }
        }
        first.canonical()
    }

    fn tap(&self, before: &Moment, ask: &Ask) -> Option<Moment> {
        let once = self.decided(before, ask)?;
        let Some(twice) = self.decided(&once, ask) else { return Some(once.settled(self.core)) };
        // Thirty seconds more are thirty seconds more; the same command by its id never reaches `decide`.
        let adds_up = matches!(ask.act, Act::NotYet { .. });
        let mut once = once.settled(self.core);
        if !adds_up && twice.settled(self.core).canonical() != once.clone().canonical() {
            once.broken.insert(Rule::OnceIsOnce);
        }
        Some(once)
    }

    /// The same where somebody may yet take back another tap.
    fn tap_after_slip(&self, before: &Moment, ask: &Ask) -> Option<Moment> {
        let mut after = self.tap(before, ask)?;
        after.slip = after.slip.and_then(|slip| slip.then(self.core, ask)).map(Box::new);
        Some(after)
    }

    fn slip(&self, before: &Moment, ask: &Ask) -> Option<Moment> {
        let mut after = self.tap(before, ask)?;
        after.slip = Some(Box::new(Slip::made(self.core, &before.state, ask)?));
        Some(after)
    }

    fn take_back(&self, before: &Moment) -> Option<Moment> {
        let mut after = before.clone();
        let taken_back = after.slip.take()?.taken_back(self.core)?;
        for event in &taken_back.events {
            rules::hear(&before.state, &mut after.heard, event);
        }
        after.state = taken_back.state;
        rules::of_state(&after.state, &mut after.broken);
        let demands = [(Rule::OnceIsOnce, !taken_back.again), (Rule::AsIfNever, taken_back.as_if_never)];
        after.broken.extend(demands.iter().filter(|(_, holds)| !holds).map(|(rule, _)| *rule));
        Some(after.settled(self.core))
    }

    /// The tap is accepted and taken in.
    fn decided(&self, before: &Moment, ask: &Ask) -> Option<Moment> {
        let tap = ask.tap(NOW);
        let Verdict::Accepted(events) = self.core.decide(&before.state, &tap, NOW) else { return None };
        let mut after = before.clone();
        after.take(self.core, tap.speaker.actor, NOW, events);
        Some(after)
    }

    fn wait(&self, before: &Moment) -> Option<Moment> {
        let instant = next_instant(self.core, &before.state)?;
        let mut after = before.clone();
        canonical::canonical(&mut after.state, instant);
        after.slip = after.slip.and_then(|slip| slip.wait(self.core, instant.since(NOW))).map(Box::new);
        Some(after.settled(self.core))
    }

    /// Whether a tap that brings the evening on is accepted, or something ends by itself.
    fn goes_on(&self, moment: &Moment) -> bool {
        let state = &moment.state;
        let accepted =
            |ask: &Ask| matches!(self.core.decide(state, &ask.tap(NOW), NOW), Verdict::Accepted(_));
        let brings_on = |family: &Family| asks(&[*family], state).iter().any(accepted);
        // Whoever was called takes care of it.
        let called = !state.calls.is_empty();
        rules::finished(state) || something_ends(state) || called || Family::ON.iter().any(brings_on)
    }
}

macro_rules! never_broken {
    ($($name:literal => $rule:ident),* $(,)?) => {
        vec![$(Property::always($name, |_: &Evening, moment: &Moment| !moment.broken.contains(&Rule::$rule))),*]
    };
}

impl Model for Evening {
    type State = Moment;
    type Action = Step;

    fn init_states(&self) -> Vec<Moment> {
        vec![self.before()]
    }

    fn actions(&self, moment: &Moment, steps: &mut Vec<Step>) {
        if moment.broken.is_empty() {
            let asks = asks(&self.scenario.families, &moment.state);
            if self.scenario.slips && moment.slip.is_none() {
                steps.extend(asks.iter().cloned().map(Step::Slip));
            }
            steps.extend(asks.into_iter().map(Step::Tap));
            steps.extend(moment.slip.is_some().then_some(Step::TakeBack));
            steps.push(Step::Wait);
        }
    }

    fn next_state(&self, before: &Moment, step: Step) -> Option<Moment> {
        let after = match step {
            Step::Tap(ask) => self.tap_after_slip(before, &ask),
            Step::Slip(ask) => self.slip(before, &ask),
            Step::TakeBack => self.take_back(before),
            Step::Wait => self.wait(before),
        };
        after.map(Moment::canonical)
    }

    fn properties(&self) -> Vec<Property<Self>> {
        let mut properties = never_broken! {
            "what the core itself demands" => Invariants,
            "all stations or none" => AllOrNone,
            "one set a station" => OneSetAStation,
            "one bar a spotter" => OneBarASpotter,
            "no countdown starts a set" => StartedBySomebody,
            "rest is kept" => RestKept,
            "loads are confirmed" => LoadConfirmed,
            "what is assumed frees nothing" => AssumedFreesNothing,
            "what is due happens on time" => OnTime,
            "nobody is overtaken" => LineKept,
            "nobody waits in vain" => NobodyWaitsInVain,
            "once is once" => OnceIsOnce,
            "whoever spots stays" => SpotterStays,
            "groups change hands by agreement" => HandedOver,
            "what is taken back has never been" => AsIfNever,
        };
        properties.push(Property::always("never stuck", |evening: &Self, moment: &Moment| {
            !moment.broken.is_empty() || evening.goes_on(moment)
        }));
        properties.push(Property::sometimes("everybody finishes", |_, moment: &Moment| {
            rules::finished(&moment.state)
        }));
        properties
    }
}

//! The core beside a deliberately simple floor: whatever people do, both answer alike, and what can be seen of
//! them is the same.

mod model;
mod taps;

use proptest::prelude::*;
use proptest_state_machine::{ReferenceStateMachine, StateMachineTest, prop_state_machine};
use turnabout_protocol::command::Spotter;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::Secs;
use turnabout_server::floor::decide::Verdict;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::state::{Presence, SetOver, State};

use self::model::{Answer, COACHES, GROUPS, Model, SETS, STATIONS, WHO, load};
use self::taps::{Move, tap};
use crate::world::*;

/// How many histories, and of how many steps.
const HISTORIES: u32 = 2_500;
const STEPS: usize = 200;

fn person() -> impl Strategy<Value = usize> {
    0..WHO.len()
}

fn coach_at_random() -> impl Strategy<Value = usize> {
    0..COACHES.len()
}

/// A client and mostly the set that is under way or comes next, now and then any.
fn person_and_set(state: &Model) -> impl Strategy<Value = (usize, usize)> + use<> {
    let state = state.clone();
    (person(), 0..8_usize, 0..10_u8).prop_map(move |(person, any, how)| match how {
        0 => (person, any),
        1..=3 => (person, state.people[person].sets.len()),
        _ => (person, state.next(person)),
    })
}

fn of_sets(state: &Model) -> BoxedStrategy<Move> {
    let set = || person_and_set(state);
    let coach = || prop_oneof![1 => Just(None), 3 => coach_at_random().prop_map(Some)];
    prop_oneof![
        4 => set().prop_map(|(person, set)| Move::Confirm { person, set }),
        2 => (coach_at_random(), set()).prop_map(|(coach, (person, set))| Move::Spot { coach, person, set }),
        8 => (coach(), set()).prop_map(|(coach, (person, set))| Move::Go { coach, person, set }),
        1 => set().prop_map(|(person, set)| Move::NotYet { person, set }),
        8 => set().prop_map(|(person, set)| Move::Done { person, set }),
        4 => (person(), 0..2_usize).prop_map(|(person, leg)| Move::PassTechnique { person, leg }),
        1 => set().prop_map(|(person, set)| Move::Skip { person, set }),
    ]
    .boxed()
}

fn of_teams() -> BoxedStrategy<Move> {
    let team = || 0..GROUPS.len();
    prop_oneof![
        4 => person().prop_map(Move::Arrive),
        1 => person().prop_map(Move::Leave),
        4 => (team(), 0..2_usize, 2..4_usize).prop_map(|(team, bench, row)| Move::Take { team, bench, row }),
        4 => team().prop_map(Move::Ask),
        1 => team().prop_map(Move::Withdraw),
        1 => team().prop_map(Move::Free),
        1 => team().prop_map(Move::Pause),
        1 => team().prop_map(Move::Stop),
        3 => team().prop_map(Move::Resume),
    ]
    .boxed()
}

fn of_places() -> BoxedStrategy<Move> {
    let place = || 0..STATIONS.len();
    prop_oneof![
        (place(), 1..3_u8).prop_map(|(place, minutes)| Move::OtherUse { place, minutes }),
        place().prop_map(Move::OtherUseOver),
        place().prop_map(Move::Break),
        place().prop_map(Move::Mend),
        (coach_at_random(), 1..3_u8).prop_map(|(coach, minutes)| Move::Away { coach, minutes }),
        coach_at_random().prop_map(Move::Back),
        place().prop_map(Move::Help),
        (coach_at_random(), place()).prop_map(|(coach, place)| Move::Answer { coach, place }),
        place().prop_map(Move::Attend),
    ]
    .boxed()
}

/// What may get a group on, whether it would be taken now or not.
fn thinkable(state: &Model) -> Vec<Move> {
    let of_people = (0..WHO.len()).flat_map(|person| {
        let (set, under_way) = (state.next(person), state.people[person].sets.len());
        let go = |coach| Move::Go { coach: Some(coach), person, set };
        let pass = |leg| Move::PassTechnique { person, leg };
        let done = Move::Done { person, set: under_way };
        [go(0), go(1), done, pass(0), pass(1), Move::Confirm { person, set }, Move::Arrive(person)]
    });
    let of_teams = (0..GROUPS.len()).flat_map(|team| {
        let take = |bench, row| Move::Take { team, bench, row };
        [Move::Ask(team), Move::Resume(team), Move::Free(team), take(0, 2), take(1, 3)]
    });
    of_people.chain(of_teams).collect()
}

/// What gets a group on and would be taken now: so that histories get somewhere.
fn useful(state: &Model) -> Vec<Move> {
    let taken = |step: &Move| {
        let mut tried = state.clone();
        tried.make(*step);
        tried.answer == Answer::Accepted
    };
    thinkable(state).into_iter().filter(taken).collect()
}

/// So many seconds until something may happen that could not before, or one less: that is where faults are.
fn telling(state: &Model) -> Vec<Move> {
    let lifts = state.people.iter().filter_map(|person| person.lift.as_ref());
    let lifts = lifts.flat_map(|lift| [lift.starts, lift.ends, lift.ends + 20]);
    let rests = (0..WHO.len()).filter(|person| state.people[*person].lift.is_none());
    let rests = rests.flat_map(|person| [state.earliest(person) - 13, state.earliest(person) - 11]);
    let wipes = state.teams.iter().filter_map(|team| team.wipe_since).map(|since| since + 120);
    let until = lifts.chain(rests).chain(wipes).flat_map(|at| [at - 1, at, at + 1]);
    until.map(|at| at - state.now).filter(|secs| (1..=130).contains(secs)).map(Move::Pass).collect()
}

impl ReferenceStateMachine for Model {
    type State = Self;
    type Transition = Move;

    fn init_state() -> BoxedStrategy<Self> {
        Just(Self::new()).boxed()
    }

    fn transitions(state: &Self) -> BoxedStrategy<Move> {
        let or_pass = |mut moves: Vec<Move>| {
            moves.push(Move::Pass(1));
            prop::sample::select(moves)
        };
        prop_oneof![
            40 => or_pass(useful(state)),
            12 => or_pass(telling(state)),
            12 => or_pass(thinkable(state)),
            6 => of_sets(state),
            3 => of_teams(),
            6 => of_places(),
            2 => (1..40_i64).prop_map(Move::Pass),
        ]
        .boxed()
    }

    fn apply(mut state: Self, step: &Move) -> Self {
        state.make(*step);
        state
    }
}

struct Core;

impl StateMachineTest for Core {
    type SystemUnderTest = World;
    type Reference = Model;

    /// The usual floor, on which nobody is given up however long it takes: silence has tests of its own.
    fn init_test(_: &Model) -> World {
        let mut world = World::empty();
        let mut patient = floor();
        patient.settings.idle = Secs(1_000_000);
        world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(patient)));
        world
    }

    fn apply(mut world: World, model: &Model, step: Move) -> World {
        match tap(step, &world.state) {
            None => {
                if let Move::Pass(secs) = step {
                    world.pass(secs);
                }
            }
            Some((speaker, act)) => {
                let verdict = world.tap(&speaker, act);
                let answer = match verdict {
                    Verdict::Accepted(_) => Answer::Accepted,
                    Verdict::Already(_) => Answer::Already,
                    Verdict::Refused(_) => Answer::Refused,
                };
                assert_eq!(answer, model.answer, "{step:?} at {} s: {verdict:?}", model.now);
            }
        }
        world
    }

    fn check_invariants(world: &World, model: &Model) {
        assert_eq!(world.now.0, model.now * 1_000);
        stations(&world.state, model);
        people(&world.state, model);
        groups(&world.state, model);
    }

    fn teardown(world: World, _: Model) {
        assert_eq!(world.replayed(), world.state, "the journal alone leads to the same");
    }
}

fn stations(state: &State, model: &Model) {
    for (place, simple) in model.places.iter().enumerate() {
        let real = &state.stations[&STATIONS[place]];
        assert_eq!(real.claim, simple.holder.map(|team| GROUPS[team]), "who holds station {place}");
        assert_eq!(
            real.on.map(|turn| turn.client),
            simple.on.map(|person| WHO[person].1),
            "who is on {place}"
        );
        assert_eq!(real.out.is_some(), simple.broken, "whether {place} is broken");
        assert_eq!(
            real.other_use.is_some(),
            simple.public_until.is_some(),
            "whether the public is on {place}"
        );
        let confirmed = real.confirmed.and(real.load).filter(|_| place < 2);
        assert_eq!(confirmed, simple.confirmed.map(kilos), "what is confirmed on {place}");
    }
}

fn people(state: &State, model: &Model) {
    for (person, simple) in model.people.iter().enumerate() {
        let (group, client, _) = WHO[person];
        let real = &state.groups[&group];
        let now = &real.clients[&client];
        assert_eq!(matches!(now.presence, Presence::Here(_)), simple.here, "whether {person} is here");
        let at = now.current.map(|u| (u.turn, u.starts.0 / 1_000, u.ends.0 / 1_000, u.spotter));
        let set = simple.sets.len();
        let lift = simple.lift.as_ref().map(|lift| {
            let turn = turn(group, client, u8::try_from(set / 2).unwrap(), u8::from(set % 2 == 1));
            (turn, lift.starts, lift.ends, lift.spotter.map(|coach| spots(COACHES[coach])))
        });
        assert_eq!(at, lift, "what {person} does");
        let kgs = now.current.and_then(|u| u.load).filter(|_| set.is_multiple_of(2));
        assert_eq!(
            kgs,
            simple.lift.as_ref().filter(|_| set.is_multiple_of(2)).map(|_| kilos(load(person, set)))
        );
        let at_bar = simple.at_bar.map(|coach| Spotter::Coach { coach: COACHES[coach] });
        assert_eq!(now.spotter.map(|at| at.who), at_bar, "who stands at the bar of {person}");
        let sets = if real.block == 0 { &now.sets } else { &real.past[0].clients[&client].sets };
        let told: String = sets.iter().map(letter).collect();
        assert_eq!(told, simple.sets, "the sets of {person}");
        assert!(told.len() <= SETS);
    }
}

const fn letter(set: &SetOver) -> char {
    match set {
        SetOver::Done(_) => 'd',
        SetOver::Skipped { .. } => 's',
        SetOver::Missed => 'm',
    }
}

fn groups(state: &State, model: &Model) {
    for (team, simple) in model.teams.iter().enumerate() {
        let real = &state.groups[&GROUPS[team]];
        assert_eq!(real.block > 0, simple.over, "whether team {team} is done");
        assert_eq!(real.halt.is_some(), simple.halt > 0, "whether team {team} is held");
        assert_eq!(real.wipe_down.is_some(), simple.wipe_since.is_some(), "whether team {team} wipes down");
    }
    let line: Vec<_> = state.line.iter().map(|ask| ask.group).collect();
    assert_eq!(line, model.line.iter().map(|team| GROUPS[*team]).collect::<Vec<_>>(), "who waits");
    for (coach, who) in COACHES.iter().enumerate() {
        let real = state.spotted_by(spots(*who), state.recorded).map(|turn| turn.client);
        assert_eq!(real, model.spots(coach).map(|person| WHO[person].1), "whom coach {coach} spots");
        assert_eq!(state.coaches[who].away.is_some(), model.away[coach].is_some(), "whether {coach} is away");
    }
}

/// What the histories are worth: every move is taken and refused in some, and groups get to their end.
#[test]
fn the_histories_take_and_refuse_every_move() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let mut seen: std::collections::BTreeMap<String, [usize; 2]> = std::collections::BTreeMap::new();
    let mut over = 0;
    for _ in 0..300 {
        let mut model = Model::new();
        for _ in 0..STEPS {
            let step = Model::transitions(&model).new_tree(&mut runner).unwrap().current();
            model.make(step);
            let name = format!("{step:?}").split([' ', '(']).next().unwrap_or_default().to_owned();
            let refused = usize::from(model.answer == Answer::Refused);
            seen.entry(name).or_default()[refused] += 1;
        }
        over += model.teams.iter().filter(|team| team.over).count();
    }
    // Nobody is kept from coming, from calling, or from saying that something is broken; time is not asked.
    let never = ["Arrive", "Break", "Help", "Pass"];
    assert_eq!(seen.len(), 26, "{seen:?}");
    for (name, [taken, refused]) in &seen {
        assert!(*taken >= 2, "{name} is taken {taken} times");
        assert!(*refused >= 2 || never.contains(&name.as_str()), "{name} is refused {refused} times");
    }
    assert!(over >= 100, "only {over} groups got to their end");
}

prop_state_machine! {
    #![proptest_config(ProptestConfig { cases: HISTORIES, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_core_answers_as_a_simple_floor_does(sequential 20..STEPS => Core);
}

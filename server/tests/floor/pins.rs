//! A stack whose labels are mere numbers, through a whole session: what is set there is a pin, and no mass.

use turnabout_protocol::command::{Act, Effort, Ending};
use turnabout_protocol::ids::{ClientId, ExerciseId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, CoachSaid, NextReason, Rule, SetTo};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{ProposalPart, View};
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{Day, Earlier, Floor, Programme};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::LegNow;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::{Gear, Numbered};
use turnabout_server::training::movement::Movement;
use turnabout_server::training::rule::LoadRule;
use turnabout_server::training::session::LastSet;

use crate::world::*;

const ROWS: u8 = 1;
const PULLDOWN: ExerciseId = ExerciseId(3);

const fn pin(pin: u16) -> Load {
    Load::Pin { pin }
}

const fn planned(load: Load) -> LoadRule {
    LoadRule::Fixed { load }
}

/// Row 1 has twelve numbers and row 2 masses; the pair rows by these rules.
fn numbered(assists: bool, dara: LoadRule, edda: LoadRule) -> impl FnOnce(&mut Floor, &mut Programme) {
    move |floor, programme| {
        floor.stations.get_mut(&ROW).unwrap().gear = Gear::Numbered(Numbered { numbers: 12, assists });
        let rows = &mut programme.groups.get_mut(&PAIR).unwrap().blocks[0].legs[1];
        for (client, rule) in [(DARA, dara), (EDDA, edda)] {
            let set = rows.sets.get_mut(&client).unwrap();
            set.rounds[0].load = Some(rule);
            (set.technique.load, set.technique.ramp) = (None, false);
        }
    }
}

/// Dara rows by this rule at a stack of twelve numbers, Edda with the fourth.
pub(crate) fn with_pins(dara: LoadRule) -> World {
    let mut world = World::other_with_all(numbered(false, dara, planned(pin(4))));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world
}

fn leg(world: &World, client: ClientId) -> &LegNow {
    &world.state.groups[&PAIR].clients[&client].legs[1]
}

const fn row(round: u8) -> TurnId {
    TurnId { group: PAIR, client: DARA, block: 0, round, leg: ROWS }
}

fn load(world: &World, turn: TurnId) -> Option<Load> {
    InHand::of(&world.state, turn.group).unwrap().load(turn)
}

fn proposal(world: &World) -> ProposalPart {
    let View::Coach(view) = world.view(&Watch::Coach(AYLA)) else { panic!("a coach's page") };
    let group = view.groups.into_iter().find(|group| group.group == PAIR).unwrap();
    let client = group.clients.into_iter().find(|client| client.client == DARA).unwrap();
    client.proposals.into_iter().find(|part| part.turn.leg == ROWS).expect("a pin to propose")
}

fn settle(part: &ProposalPart, said: CoachSaid) -> Act {
    Act::SettleLoad { turn: part.turn, proposed: part.proposal, said }
}

fn set_load(world: &World, turn: TurnId, load: Load) -> Act {
    Act::SetLoad { turn, load, sure: false, revision: world.revision(PAIR) }
}

/// Dara has done her light sets and the first round, and says that the row was light.
fn light_row() -> World {
    let mut world = with_pins(planned(pin(7)));
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0), (1, 1)]);
    world.accept(&coach(AYLA), Act::Effort { turn: row(1), effort: Effort::Light });
    world
}

#[test]
fn a_session_goes_by_pins_from_the_technique_set_on() {
    let mut world = with_pins(planned(pin(7)));
    assert_eq!(
        (leg(&world, DARA).technique_load, leg(&world, EDDA).technique_load),
        (Some(pin(2)), Some(pin(1)))
    );
    assert_eq!(leg(&world, DARA).loads, [Some(pin(7)), Some(pin(7))]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0)]);
    let View::Station(view) = world.view(&Watch::Station(vec![ROW])) else { panic!("a station") };
    let card = view.stations[0].turn.clone().unwrap().load.unwrap();
    assert_eq!((card.total, card.on_now, card.about), (pin(2), None, None));
    assert_eq!(
        card.stack.map(|stack| (stack.pin.label, stack.now, stack.at_hand)),
        Some((pin(2), None, None))
    );
    world.sets(AYLA, PAIR, DARA, &[(0, 1)]);
    // The pin is where the last set left it.
    assert_eq!(world.state.stations[&ROW].load, Some(pin(2)));
    world.sets(AYLA, PAIR, DARA, &[(1, 0), (1, 1)]);
    let records = &world.state.groups[&PAIR].clients[&DARA].sets;
    assert_eq!(records[3].done().unwrap().load.now(), Some(pin(7)));
    world.accept(&coach(AYLA), Act::Effort { turn: row(1), effort: Effort::Light });
    let part = proposal(&world);
    assert_eq!((part.proposal.set, part.load), (SetTo::Pin { pin: 8 }, Some(pin(7))));
    assert_eq!((part.proposal.change, part.proposal.reason), (Change::Harder, NextReason::FeltLight));
    assert_eq!((part.easier, part.harder), (Some(pin(7)), Some(pin(9))));
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Accept));
    world.sets(AYLA, PAIR, DARA, &[(2, 0), (2, 1)]);
    let records = &world.state.groups[&PAIR].clients[&DARA].sets;
    assert_eq!(records[5].done().unwrap().load.now(), Some(pin(8)));
    assert_eq!(world.state, world.replayed());
    let kept = serde_json::to_string(&world.entries).unwrap();
    assert!(kept.contains(r#""load":{"pin":8}"#), "as it is written");
}

#[test]
fn a_coach_goes_some_pins_off_and_lighter_is_always_the_clients_right() {
    let mut world = light_row();
    let part = proposal(&world);
    world.refuse(
        &coach(AYLA),
        settle(&part, CoachSaid::Harder { steps: 5 }),
        Refusal::StepsRange { most: 4 },
    );
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Harder { steps: 1 }));
    assert_eq!(load(&world, row(2)), Some(pin(9)));
    world.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    let lighter = Act::Lighter { turn: row(2), revision: world.revision(PAIR) };
    world.accept(&kiosk(&[ROW]), lighter);
    assert_eq!(load(&world, row(2)), Some(pin(8)));
    for to in (1..8).rev() {
        let lighter = Act::Lighter { turn: row(2), revision: world.revision(PAIR) };
        world.accept(&kiosk(&[ROW]), lighter);
        assert_eq!(load(&world, row(2)), Some(pin(to)));
    }
    let lighter = Act::Lighter { turn: row(2), revision: world.revision(PAIR) };
    world.refuse(&kiosk(&[ROW]), lighter, Refusal::AtLightest { load: pin(1) });
}

#[test]
fn where_the_stack_helps_lighter_is_a_higher_pin_in_every_round_to_come() {
    let mut world = World::other_with_all(numbered(true, planned(pin(7)), planned(pin(9))));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    assert_eq!(leg(&world, DARA).technique_load, Some(pin(8)), "one pin easier");
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0)]);
    let lighter = Act::Lighter { turn: row(1), revision: world.revision(PAIR) };
    world.accept(&kiosk(&[ROW]), lighter);
    assert_eq!(leg(&world, DARA).loads, [Some(pin(8)), Some(pin(8))]);
}

#[test]
fn a_typed_pin_is_one_of_the_stack_and_a_mass_is_none() {
    let mut world = light_row();
    let by = coach(AYLA);
    let press = TurnId { leg: 0, ..row(2) };
    let act = set_load(&world, press, pin(7));
    world.refuse(&by, act, Refusal::TakesMass);
    world.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    for wrong in [kg(40).into(), pin(0), pin(13)] {
        let act = set_load(&world, row(2), wrong);
        world.refuse(&by, act, Refusal::TakesPin { most: 12 });
    }
    // Two pins more than the seventh is more than a fifth; one pin is never asked about.
    let act = set_load(&world, row(2), pin(9));
    world.refuse(&by, act.clone(), Refusal::FarAboveLast { last: pin(7) });
    let Act::SetLoad { turn, load: far, revision, .. } = act else { panic!("a typed pin") };
    let mut meant = world.clone();
    meant.accept(&by, Act::SetLoad { turn, load: far, sure: true, revision });
    assert_eq!(load(&meant, row(2)), Some(pin(9)));
    let act = set_load(&world, row(2), pin(8));
    world.accept(&by, act);
    assert_eq!(load(&world, row(2)), Some(pin(8)));
}

#[test]
fn what_was_done_with_a_pin_is_put_right_as_a_pin() {
    let mut world = light_row();
    let said = |turn, load| Act::Correct {
        turn,
        reps: 10,
        load: Some(load),
        effort: None,
        ending: Ending::Complete,
    };
    for wrong in [kg(40).into(), pin(13), pin(0)] {
        world.refuse(&coach(AYLA), said(row(1), wrong), Refusal::TakesPin { most: 12 });
    }
    world.refuse(&coach(AYLA), said(TurnId { leg: 0, ..row(1) }, pin(6)), Refusal::TakesMass);
    world.accept(&coach(AYLA), said(row(1), pin(6)));
    let record = world.state.record(row(1)).unwrap();
    assert_eq!((record.load.now(), record.load.at_first()), (Some(pin(6)), Some(pin(7))));
}

#[test]
fn at_another_station_nothing_carries_over_and_neither_does_it_on_the_way_back() {
    let mut world = light_row();
    let part = proposal(&world);
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Accept));
    assert_eq!(load(&world, row(2)), Some(pin(8)));
    let swap =
        |world: &World, to| Act::SwapStation { group: PAIR, leg: ROWS, to, revision: world.revision(PAIR) };
    let there = swap(&world, ROW_2);
    world.accept(&coach(AYLA), there);
    // Nobody knows what a pin weighs: the lightest of what has masses, and found out from there.
    let first = leg(&world, DARA).first.unwrap();
    assert_eq!((load(&world, row(2)), first.reason), (Some(kg(5).into()), NextReason::NeverHere));
    assert_eq!((first.rule, leg(&world, DARA).settled), (Rule::FindIt, None));
    assert!(leg(&world, EDDA).loads.iter().all(|load| *load == Some(kg(5).into())));
    let back = swap(&world, ROW);
    world.accept(&coach(AYLA), back);
    // As the plan says, and not what was taken before.
    assert_eq!((load(&world, row(2)), leg(&world, DARA).first), (Some(pin(7)), None));
    assert_eq!(world.state, world.replayed());
}

#[test]
fn another_exercise_there_takes_a_pin_and_goes_from_there() {
    let mut world = World::other_with_all(|floor, programme| {
        numbered(false, planned(pin(7)), planned(pin(4)))(floor, programme);
        floor.exercises.get_mut(&ExerciseId(2)).unwrap().movement = Movement::HorizontalPull;
        let mut other = floor.exercises[&ExerciseId(2)].clone();
        (other.id, other.key) = (PULLDOWN, key("high-row"));
        floor.exercises.insert(PULLDOWN, other);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let View::Coach(view) = world.view(&Watch::Coach(AYLA)) else { panic!("a coach's page") };
    let place = view.places.iter().find(|place| place.station == ROW).unwrap();
    assert_eq!(place.lightest, Some(pin(1)));
    let swap = |world: &World, load| Act::SwapExercise {
        group: PAIR,
        client: DARA,
        leg: ROWS,
        exercise: PULLDOWN,
        station: None,
        load,
        sure: false,
        revision: world.revision(PAIR),
    };
    for wrong in [None, Some(kg(20).into()), Some(pin(13))] {
        let act = swap(&world, wrong);
        world.refuse(&coach(AYLA), act, Refusal::TakesPin { most: 12 });
    }
    let act = swap(&world, Some(pin(5)));
    world.accept(&coach(AYLA), act);
    assert_eq!((load(&world, row(1)), load(&world, row(0))), (Some(pin(5)), Some(pin(2))));
    // What is done instead goes along to other gear, where nobody has done it.
    let act = Act::SwapStation { group: PAIR, leg: ROWS, to: ROW_2, revision: world.revision(PAIR) };
    world.accept(&coach(AYLA), act);
    assert_eq!(load(&world, row(1)), Some(kg(5).into()));
}

#[test]
fn a_rule_begins_with_what_was_done_at_this_very_stack() {
    let earlier = |load: Load, day| {
        let set = LastSet { load, goal: Work::reps(10), reps: 12, ending: Ending::Complete };
        let day = Day { year: 2026, month: 3, day };
        Earlier { station: ROW, exercise: ExerciseId(2), day, set }
    };
    let begins = |rule, rows: Vec<Earlier>| {
        let mut world = World::other(|floor, programme| {
            numbered(false, rule, planned(pin(4)))(floor, programme);
            programme.day = Some(Day { year: 2026, month: 3, day: 9 });
            programme.clients.get_mut(&DARA).unwrap().earlier = rows;
        });
        // 2026-03-09T18:00:00Z.
        let mapped = Event::ClockMapped { utc_ms: 1_773_079_200_000, offset_secs: 0 };
        world.take(turnabout_protocol::role::Actor::Floor, FloorMs(0), mapped);
        world.all_arrive();
        world.claim(AYLA, PAIR, &[BENCH, ROW]);
        let leg = leg(&world, DARA);
        (leg.load(1), leg.first.unwrap().reason)
    };
    let once = vec![earlier(pin(6), 6)];
    assert_eq!(begins(LoadRule::AsLastTime, once.clone()), (Some(pin(6)), NextReason::AsLastTime));
    assert_eq!(begins(LoadRule::ForReserve { reserve: 2 }, once), (Some(pin(6)), NextReason::AsLastTime));
    let twice = vec![earlier(pin(6), 4), earlier(pin(6), 6)];
    assert_eq!(begins(LoadRule::AsLastTime, twice), (Some(pin(7)), NextReason::OverTheGoal { reps: 2 }));
    let masses = vec![earlier(kg(40).into(), 6)];
    assert_eq!(begins(LoadRule::AsLastTime, masses), (Some(pin(1)), NextReason::NeverHere));
    assert_eq!(begins(LoadRule::FindIt, Vec::new()), (Some(pin(1)), NextReason::NeverHere));
}

#[test]
fn a_share_of_a_maximum_suits_no_stack_of_numbers() {
    use turnabout_protocol::next::PerMille;
    let share = LoadRule::ShareOfMax { share: PerMille(700) };
    let mut world = World::other_with_all(|floor, programme| {
        numbered(false, share, share)(floor, programme);
        for client in [DARA, EDDA] {
            programme.clients.get_mut(&client).unwrap().max.insert(ExerciseId(2), kg(80));
        }
    });
    let revision = world.revision(PAIR);
    let take =
        Act::TakeStations { group: PAIR, block: 0, stations: vec![BENCH, ROW], revision, despite: None };
    world.refuse(&coach(AYLA), take, Refusal::StationUnfit { station: ROW });
    world.claim(AYLA, PAIR, &[BENCH, ROW_2]);
    assert_eq!(leg(&world, DARA).load(1), Some(kg(55).into()));
}

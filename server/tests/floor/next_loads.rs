//! The load proposed for a next set, what a coach makes of it, and where a first load comes from.

use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{Act, Effort, Ending, Reason, SkipScope};
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, CoachSaid, NextReason, PerMille, Proposal, Rule, SetTo};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass, Millis};
use turnabout_protocol::view::{ProposalPart, SetName, View};
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{Day, Earlier, Programme};
use turnabout_server::floor::decide::Verdict;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::Gear;
use turnabout_server::training::block::Target;
use turnabout_server::training::rule::LoadRule;
use turnabout_server::training::session::LastSet;

use crate::world::*;

pub(crate) const PRESS: u8 = 0;
const ROWS: u8 = 1;

/// What Ayla's page proposes for a client of the pair.
fn proposals(world: &World, client: ClientId) -> Vec<ProposalPart> {
    let View::Coach(view) = world.view(&Watch::Coach(AYLA)) else { panic!("a coach's page") };
    let group = view.groups.into_iter().find(|group| group.group == PAIR).unwrap();
    group.clients.into_iter().find(|found| found.client == client).unwrap().proposals
}

fn proposal(world: &World, leg: u8) -> ProposalPart {
    let mut all = proposals(world, DARA);
    all.retain(|part| part.turn.leg == leg);
    assert_eq!(all.len(), 1, "{all:?}");
    all.remove(0)
}

fn load_of(part: &ProposalPart) -> Mass {
    let SetTo::Mass { load } = part.proposal.set else { panic!("{part:?}") };
    load
}

fn settle(part: &ProposalPart, said: CoachSaid) -> Act {
    Act::SettleLoad { turn: part.turn, proposed: part.proposal, said }
}

pub(crate) fn load(world: &World, turn: TurnId) -> Option<Mass> {
    InHand::of(&world.state, turn.group).unwrap().load(turn)?.mass()
}

/// Dara has pressed 60 kg and rowed 50 kg ten times, and said how each felt.
pub(crate) fn first_round(press: Effort, row: Effort) -> World {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0), (1, 1)]);
    let felt = |leg, effort| Act::Effort { turn: turn(PAIR, DARA, 1, leg), effort };
    for (leg, effort) in [(PRESS, press), (ROWS, row)] {
        // Each whole set was said to be right.
        if effort != Effort::Right {
            world.accept(&coach(AYLA), felt(leg, effort));
        }
    }
    world
}

#[test]
fn a_light_row_is_heavier_next_time_if_the_coach_says_so() {
    let mut world = first_round(Effort::Right, Effort::Light);
    let part = proposal(&world, ROWS);
    // Five percent of 50 kg is no step of this stack; the next one is ten, and that is the most that goes at once.
    assert_eq!((load_of(&part), part.load, part.said), (kg(55), Some(kilos(50)), None));
    let Proposal { change, reason, rule, .. } = part.proposal;
    assert_eq!((change, reason, rule), (Change::Harder, NextReason::FeltLight, Rule::ThreeWords));
    assert_eq!((part.easier, part.harder), (Some(kilos(50)), Some(kilos(60))));
    let row = turn(PAIR, DARA, 2, ROWS);
    assert_eq!((part.turn, load(&world, row)), (row, Some(kg(50))), "nothing happens by it");
    // While she presses, the coach settles what she rows afterwards.
    world.pass(60);
    world.begin(AYLA, turn(PAIR, DARA, 2, PRESS));
    world.refuse(&kiosk(&[ROW]), settle(&part, CoachSaid::Accept), Refusal::RoleMayNot);
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Accept));
    assert_eq!(load(&world, row), Some(kg(55)));
    let again = proposal(&world, ROWS);
    assert_eq!((again.proposal, again.said), (part.proposal, Some(CoachSaid::Accept)));
    assert!(matches!(
        world.tap(&coach(BRAM), settle(&part, CoachSaid::Accept)),
        Verdict::Already(said) if said.by == coach(AYLA).actor
    ));
}

#[test]
fn a_station_is_told_the_load_but_never_how_a_set_felt_or_went() {
    let mut world = first_round(Effort::Light, Effort::Light);
    let shown = |world: &World, station| {
        let View::Station(view) = world.view(&Watch::Station(vec![station])) else { panic!("a station") };
        let turn = view.stations.into_iter().next().unwrap().turn.unwrap();
        (turn.turn, turn.proposal)
    };
    // Too big a step is about the gear.
    let (press, part) = shown(&world, BENCH);
    assert_eq!(press, turn(PAIR, EDDA, 0, PRESS), "Edda's light set is next there");
    assert_eq!(part, None);
    world.sets(AYLA, PAIR, EDDA, &[(0, 0), (0, 1), (1, 0), (1, 1)]);
    let (_, part) = shown(&world, BENCH);
    let too_big = NextReason::StepTooBig { above: kg(70), share: PerMille(100) };
    assert_eq!(part.map(|part| part.proposal.reason), Some(too_big));
    world.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    let (row, part) = shown(&world, ROW);
    let proposal = part.unwrap().proposal;
    assert_eq!((row, proposal.set), (turn(PAIR, DARA, 2, ROWS), SetTo::Mass { load: kg(55) }));
    assert_eq!((proposal.reason, proposal.rule), (NextReason::ForCoach, Rule::Plan));
}

#[test]
fn unanswered_the_load_stays() {
    let mut world = first_round(Effort::Right, Effort::Light);
    world.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    world.begin(AYLA, turn(PAIR, DARA, 2, ROWS));
    assert_eq!(world.current(turn(PAIR, DARA, 2, ROWS)).load, Some(kilos(50)));
}

#[test]
fn where_the_step_is_too_big_there_is_one_repetition_more() {
    let mut world = first_round(Effort::Light, Effort::Right);
    let part = proposal(&world, PRESS);
    // From 60 kg the plates of this bench go on to 70: more than a tenth.
    let too_big = NextReason::StepTooBig { above: kg(70), share: PerMille(100) };
    assert_eq!((part.proposal.change, part.proposal.reason), (Change::MoreReps, too_big));
    assert_eq!((load_of(&part), part.proposal.work), (kg(60), Work::reps(11)));
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Accept));
    let press = turn(PAIR, DARA, 2, PRESS);
    world.pass(60);
    world.begin(AYLA, press);
    assert_eq!((world.current(press).reps, world.current(press).load), (11, Some(kilos(60))));
    let row = turn(PAIR, DARA, 2, ROWS);
    let hand = InHand::of(&world.state, PAIR).unwrap();
    assert_eq!(hand.work(row), Some(Work::reps(10)), "of the press alone");
}

#[test]
fn an_override_is_kept_beside_what_was_proposed_and_the_last_word_counts() {
    let mut world = first_round(Effort::Light, Effort::Light);
    let part = proposal(&world, ROWS);
    let row = part.turn;
    let said = |world: &World| {
        let mut settled = world.entries.iter().filter_map(|entry| match &entry.event {
            Event::LoadSettled { turn, settled } if *turn == row => Some(*settled),
            _ => None,
        });
        settled.next_back().unwrap()
    };
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Easier { steps: 1 }));
    let settled = said(&world);
    assert_eq!((settled.proposed, settled.set), (part.proposal, SetTo::Mass { load: kg(50) }));
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Harder { steps: 2 }));
    assert_eq!((said(&world).set, load(&world, row)), (SetTo::Mass { load: kg(65) }, Some(kg(65))));
    world.refuse(
        &coach(AYLA),
        settle(&part, CoachSaid::Harder { steps: 11 }),
        Refusal::StepsRange { most: 10 },
    );
    // One repetition more was for the load as proposed.
    let press = proposal(&world, PRESS);
    world.accept(&coach(AYLA), settle(&press, CoachSaid::Accept));
    world.accept(&coach(AYLA), settle(&press, CoachSaid::Harder { steps: 1 }));
    let hand = InHand::of(&world.state, PAIR).unwrap();
    assert_eq!((hand.load(press.turn), hand.work(press.turn)), (Some(kilos(70)), Some(Work::reps(10))));
}

#[test]
fn an_answer_that_is_put_right_makes_it_another_proposal() {
    let mut world = first_round(Effort::Right, Effort::Light);
    let part = proposal(&world, ROWS);
    let row = turn(PAIR, DARA, 1, ROWS);
    let failed = Act::Correct {
        turn: row,
        reps: 7,
        load: Some(kilos(50)),
        effort: Some(Effort::Light),
        ending: Ending::Failed,
    };
    world.accept(&coach(AYLA), failed);
    let now = proposal(&world, ROWS);
    assert_eq!((load_of(&now), now.proposal.reason), (kg(45), NextReason::NotMade), "however light it felt");
    world.refuse(&coach(AYLA), settle(&part, CoachSaid::Accept), Refusal::ProposalChanged);
    let fault = Act::Correct {
        turn: row,
        reps: 7,
        load: Some(kilos(50)),
        effort: None,
        ending: Ending::EquipmentFault,
    };
    world.accept(&coach(AYLA), fault);
    assert_eq!(load_of(&proposal(&world, ROWS)), kg(50), "a fault never counts against the client");
}

#[test]
fn plates_that_go_missing_make_another_proposal_at_once() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    assert_eq!(proposals(&world, DARA), [], "the plan stands and nothing is known yet");
    let gone = |mass, count| {
        let plate = PlatePart { mass: kg(mass), full: mass > 5 };
        Act::PlatesMissing { station: BENCH, plate, count }
    };
    world.accept(&kiosk(&[BENCH]), gone(20, 4));
    assert_eq!(proposals(&world, DARA), [], "two tens a side make it as well");
    world.accept(&kiosk(&[BENCH]), gone(10, 4));
    let part = proposal(&world, PRESS);
    let (change, reason) = (part.proposal.change, part.proposal.reason);
    assert_eq!((change, reason), (Change::Easier, NextReason::NotOnGear { load: kilos(60) }));
    assert_eq!(load_of(&part), kg(40), "with nothing but fives");
    world.accept(&kiosk(&[BENCH]), gone(20, 0));
    assert_eq!(proposals(&world, DARA), [], "they are back");
}

#[test]
fn a_pyramid_goes_as_planned_but_never_up_after_a_set_that_was_not_made() {
    let steps = |programme: &mut Programme| {
        let set = programme.groups.get_mut(&PAIR).unwrap().blocks[0].legs[1].sets.get_mut(&DARA).unwrap();
        let step = |load| Target::plain(Work::reps(10), Some(kg(load)));
        set.rounds = vec![step(50), step(60)];
    };
    let mut world = World::other_with_all(|_, programme| steps(programme));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0), (1, 1)]);
    let of_rows = |world: &World| proposals(world, DARA).into_iter().find(|part| part.turn.leg == ROWS);
    assert_eq!(of_rows(&world), None, "as planned");
    let row = turn(PAIR, DARA, 1, ROWS);
    world.accept(
        &coach(AYLA),
        Act::Correct { turn: row, reps: 8, load: Some(kilos(50)), effort: None, ending: Ending::Failed },
    );
    let part = of_rows(&world).unwrap();
    assert_eq!((load_of(&part), part.load, part.proposal.change), (kg(45), Some(kilos(60)), Change::Easier));
}

/// The pair's rows go by a rule.
fn by_rule(programme: &mut Programme, rule: LoadRule) {
    for set in programme.groups.get_mut(&PAIR).unwrap().blocks[0].legs[1].sets.values_mut() {
        set.rounds[0].load = Some(rule);
        set.technique.load = None;
    }
}

fn rows(world: &World, client: ClientId) -> (Option<Mass>, Option<Proposal>) {
    let leg = &world.state.groups[&PAIR].clients[&client].legs[1];
    (leg.load(1).and_then(Load::mass), leg.first)
}

#[test]
fn a_share_of_the_maximum_becomes_a_load_of_the_station() {
    let mut world = World::other_with_all(|_, programme| {
        by_rule(programme, LoadRule::ShareOfMax { share: PerMille(700) });
        for (client, max) in [(DARA, 82), (EDDA, 40)] {
            programme.clients.get_mut(&client).unwrap().max.insert(ExerciseId(2), kg(max));
        }
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    // 57.4 kg on steps of 5 kg, to the easier side.
    let (load, first) = rows(&world, DARA);
    assert_eq!((load, rows(&world, EDDA).0), (Some(kg(55)), Some(kg(25))));
    let first = first.unwrap();
    assert_eq!(
        (first.reason, first.rule),
        (NextReason::ShareOfMax { share: PerMille(700) }, Rule::PercentTable)
    );
    // 40 % of 55 kg: the technique set.
    assert_eq!(world.state.groups[&PAIR].clients[&DARA].legs[1].technique_load, Some(kilos(20)));
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0)]);
    let shown = proposal(&world, ROWS);
    assert_eq!((shown.proposal, shown.said), (first, None), "with its reason, on the page");
}

#[test]
fn somebody_new_at_a_station_finds_the_load_from_the_lightest_on() {
    let mut world = World::other_with_all(|_, programme| by_rule(programme, LoadRule::FindIt));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let (load, first) = rows(&world, DARA);
    assert_eq!((load, first.map(|first| first.reason)), (Some(kg(5)), Some(NextReason::NeverHere)));
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0), (1, 1)]);
    world.accept(&coach(AYLA), Act::Effort { turn: turn(PAIR, DARA, 1, ROWS), effort: Effort::Light });
    let part = proposal(&world, ROWS);
    assert_eq!((part.proposal.rule, part.proposal.change), (Rule::FindIt, Change::Harder));
    assert!(load_of(&part) > kg(5) && load_of(&part) <= kg(25), "at most 20 kg at once: {part:?}");
}

const MONDAY: Day = Day { year: 2026, month: 3, day: 2 };

fn on(day: Day, programme: &mut Programme) {
    programme.day = Some(day);
}

/// The next evening on the same journal, so many days later.
fn days_later(world: &mut World, days: u8) {
    let mut programme = world.state.programme.clone();
    on(Day { day: MONDAY.day + days, ..MONDAY }, &mut programme);
    world.pass_to(world.now + Millis::secs(i64::from(days) * 86_400));
    world.take(Actor::Floor, world.now, Event::ProgrammeSet(Box::new(programme)));
    world.all_arrive();
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
}

fn evening(rule: LoadRule, change: impl Fn(&mut Programme)) -> World {
    let mut world = World::other(|_, programme| {
        by_rule(programme, rule);
        on(MONDAY, programme);
        change(programme);
    });
    // 2026-03-02T18:00:00Z.
    let mapped = Event::ClockMapped { utc_ms: 1_772_474_400_000, offset_secs: 0 };
    world.take(Actor::Floor, FloorMs(0), mapped);
    world.all_arrive();
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world
}

#[test]
fn as_last_time_is_what_was_done_at_this_very_station_on_an_earlier_evening() {
    let mut world = evening(LoadRule::AsLastTime, |_| {});
    assert_eq!(
        rows(&world, DARA).1.map(|first| first.reason),
        Some(NextReason::NeverHere),
        "nothing is known"
    );
    let revision = world.state.groups[&PAIR].revision;
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0)]);
    let row = turn(PAIR, DARA, 1, ROWS);
    let typed = Act::SetLoad { turn: row, load: kilos(40), sure: false, revision };
    world.accept(&coach(AYLA), typed);
    world.sets(AYLA, PAIR, DARA, &[(1, 1), (2, 0), (2, 1)]);
    days_later(&mut world, 3);
    let (load, first) = rows(&world, DARA);
    assert_eq!((load, first.map(|first| first.reason)), (Some(kg(40)), Some(NextReason::AsLastTime)));
    assert_eq!(
        rows(&world, EDDA).1.map(|first| first.reason),
        Some(NextReason::NeverHere),
        "of another client"
    );
    // Elsewhere it says nothing: two cables differ by their pulleys.
    let revision = world.state.groups[&PAIR].revision;
    world.accept(&coach(AYLA), Act::SwapStation { group: PAIR, leg: ROWS, to: ROW_2, revision });
    assert_eq!(rows(&world, DARA).1.map(|first| first.reason), Some(NextReason::NeverHere));
    assert_eq!(world.state, world.replayed());
}

#[test]
fn after_three_weeks_away_it_starts_lower() {
    let mut world = evening(LoadRule::AsLastTime, |programme| {
        let day = Day { year: 2026, month: 2, day: 8 };
        let set = LastSet { load: kilos(50), goal: Work::reps(10), reps: 10, ending: Ending::Complete };
        let exercise = ExerciseId(2);
        programme.clients.get_mut(&DARA).unwrap().earlier.push(Earlier { station: ROW, exercise, day, set });
    });
    let (load, first) = rows(&world, DARA);
    assert_eq!(load, Some(kg(45)), "a tenth less");
    assert_eq!(first.map(|first| first.reason), Some(NextReason::LongAway { days: 22 }));
    // What the journal knows goes before what somebody wrote down.
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)]);
    days_later(&mut world, 2);
    let (load, first) = rows(&world, DARA);
    assert_eq!((load, first.map(|first| first.reason)), (Some(kg(45)), Some(NextReason::AsLastTime)));
}

fn next(world: &World, group: GroupId, client: ClientId) -> TurnId {
    world.next(group, client).unwrap()
}

#[test]
fn a_second_light_set_leads_up_to_the_first_working_set() {
    let mut world = World::other_with_all(|_, programme| {
        for leg in &mut programme.groups.get_mut(&PAIR).unwrap().blocks[0].legs {
            for set in leg.sets.values_mut() {
                (set.technique.load, set.technique.ramp) = (None, true);
            }
        }
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let light = |leg| turn(PAIR, DARA, 0, leg);
    // 40 % and 80 % of 60 and of 50 kg, to the easier side on what this floor has.
    world.sets(AYLA, PAIR, DARA, &[(0, 0)]);
    world.sets(AYLA, PAIR, DARA, &[(0, 1)]);
    let done = |world: &World, place: usize| {
        world.state.groups[&PAIR].clients[&DARA].sets[place].done().unwrap().load.now()
    };
    assert_eq!((done(&world, 0), done(&world, 1)), (Some(kilos(20)), Some(kilos(20))));
    for (leg, load_kg) in [(PRESS, 40), (ROWS, 40)] {
        assert_eq!(next(&world, PAIR, DARA), light(leg), "before any working set");
        assert_eq!(load(&world, light(leg)), Some(kg(load_kg)));
        let View::Station(view) = world.view(&Watch::Station(vec![[BENCH, ROW][usize::from(leg)]])) else {
            panic!()
        };
        let shown = view.stations[0].turn.clone().unwrap();
        assert!(shown.turn.client != DARA || shown.set == SetName::Ramp, "{shown:?}");
        world.begin(AYLA, light(leg));
        let ends = world.current(light(leg)).ends;
        world.pass_to(ends);
        world.accept(&coach(AYLA), Act::Done { turn: light(leg), reps: None, effort: None, ending: None });
    }
    assert_eq!(next(&world, PAIR, DARA), turn(PAIR, DARA, 1, PRESS));
    assert_eq!(load(&world, turn(PAIR, DARA, 1, PRESS)), Some(kg(60)));
    assert_eq!(world.state, world.replayed());
}

#[test]
fn the_coach_leaves_a_second_light_set_out() {
    let mut world = World::other_with_all(|_, programme| {
        let set = programme.groups.get_mut(&PAIR).unwrap().blocks[0].legs[0].sets.get_mut(&DARA).unwrap();
        (set.technique.load, set.technique.ramp) = (None, true);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    let ramp = turn(PAIR, DARA, 0, PRESS);
    assert_eq!(next(&world, PAIR, DARA), ramp);
    let reason = Reason::ShortOfTime;
    let skip = Act::Skip { turn: ramp, skip: SkipScope::Set, reason };
    world.accept(&coach(AYLA), skip);
    assert_eq!(next(&world, PAIR, DARA), turn(PAIR, DARA, 1, PRESS));
}

#[test]
fn a_set_under_way_is_waited_for_so_that_no_rise_stands_when_it_fails() {
    let mut world = World::other_with_all(|_, programme| {
        programme.groups.get_mut(&PAIR).unwrap().blocks[0].rounds = 3;
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0), (1, 1)]);
    world.accept(&coach(AYLA), Act::Effort { turn: turn(PAIR, DARA, 1, ROWS), effort: Effort::Light });
    world.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    let of_set_2 = proposal(&world, ROWS);
    assert_eq!((of_set_2.turn.round, load_of(&of_set_2)), (2, kg(55)));
    // Unanswered, the second set goes on with 50 kg: what follows is not known before it is over.
    let row = turn(PAIR, DARA, 2, ROWS);
    world.begin(AYLA, row);
    assert!(proposals(&world, DARA).iter().all(|part| part.turn.leg != ROWS));
    let of_set_3 = ProposalPart { turn: turn(PAIR, DARA, 3, ROWS), ..of_set_2 };
    world.refuse(&coach(AYLA), settle(&of_set_3, CoachSaid::Accept), Refusal::NothingProposed);
    world.pass(60);
    let failed = Some(Ending::Failed);
    world.accept(&coach(AYLA), Act::Done { turn: row, reps: Some(4), effort: None, ending: failed });
    let part = proposal(&world, ROWS);
    assert_eq!((part.turn.round, part.load), (3, Some(kilos(50))));
    assert!(load_of(&part) < kg(50), "{part:?}");
}

#[test]
fn a_rise_that_was_taken_does_not_stand_when_the_set_before_turns_out_to_have_failed() {
    let mut world = first_round(Effort::Right, Effort::Light);
    let rise = proposal(&world, ROWS);
    world.accept(&coach(AYLA), settle(&rise, CoachSaid::Accept));
    let (row, next) = (turn(PAIR, DARA, 1, ROWS), turn(PAIR, DARA, 2, ROWS));
    let ended = |reps, ending| Act::Correct { turn: row, reps, load: Some(kilos(50)), effort: None, ending };
    world.accept(&coach(AYLA), ended(4, Ending::Failed));
    let part = proposal(&world, ROWS);
    assert_eq!((part.proposal.change, part.said, part.load), (Change::Easier, None, Some(kilos(55))));
    assert!(load_of(&part) < kg(50), "{part:?}");
    // What the coach says of that stands.
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Harder { steps: 1 }));
    assert_eq!(load(&world, next).map(Load::Mass), part.harder);
    let again = proposal(&world, ROWS);
    assert_eq!((again.proposal, again.said), (part.proposal, Some(CoachSaid::Harder { steps: 1 })));
}

#[test]
fn nobody_is_sent_where_the_easiest_is_harder_and_what_was_settled_stays_behind() {
    let heavy = |floor: &mut turnabout_server::floor::config::Floor| {
        let Gear::Bar(bar) = &mut floor.stations.get_mut(&BENCH_2).unwrap().gear else { panic!("a bar") };
        bar.bar.mass = kg(30);
    };
    let mut world = World::other_with_all(|floor, _| heavy(floor));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let swap = |world: &World, leg, to| {
        let revision = world.state.groups[&PAIR].revision;
        Act::SwapStation { group: PAIR, leg, to, revision }
    };
    let to_heavy = swap(&world, PRESS, BENCH_2);
    world.refuse(&coach(AYLA), to_heavy, Refusal::StationUnfit { station: BENCH_2 });
    let mut world = first_round(Effort::Right, Effort::Light);
    let part = proposal(&world, ROWS);
    world.accept(&coach(AYLA), settle(&part, CoachSaid::Accept));
    let to_row = swap(&world, ROWS, ROW_2);
    world.accept(&coach(AYLA), to_row);
    assert!(
        proposals(&world, DARA).iter().all(|part| part.turn.leg != ROWS),
        "of another cable it says nothing"
    );
}

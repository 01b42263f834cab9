//! The law of taking back, on random histories.
//!
//! A tap that is taken back at once leaves the state as if it had never been, but for what [`inverse`] excepts.
//! Taken back later, after others have tapped what does not rest on it, it leaves the state that their taps
//! alone lead to. Whatever has happened, taking back breaks no invariant: it is refused.
//!
//! [`inverse`]: turnabout_server::floor::undo::inverse

use std::collections::BTreeSet;

use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use serde_json::Value;
use turnabout_protocol::card::{GearKind, PlatePart};
use turnabout_protocol::command::{
    Act, CallKind, Defect, Effort, Ending, Reason, Scope, ScreeningDecision, SkipScope,
};
use turnabout_protocol::ids::{CallId, ClientId, ExerciseId, GroupId, StationId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::event::Entry;
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::invariants;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::Watch;

use crate::undo::Desk;
use crate::world::*;

/// How many histories; each is a few dozen taps.
const HISTORIES: u32 = 1_000;

#[derive(Clone, Debug)]
enum Step {
    Tap(Speaker, Act),
    /// The n-th of the taps that the coach's page offers: so that histories get somewhere.
    Offered(usize),
    Pass(i64),
}

fn turns() -> impl Strategy<Value = TurnId> {
    let whose =
        prop_oneof![Just((PAIR, DARA)), Just((PAIR, EDDA)), Just((SINGLE, FARID)), Just((LATER, GRETA))];
    let place = (0_u8..=2, 0_u8..=1);
    (whose, place).prop_map(|((group, client), (round, leg))| turn(group, client, round, leg))
}

fn people() -> impl Strategy<Value = (GroupId, ClientId)> {
    prop_oneof![Just((PAIR, DARA)), Just((PAIR, EDDA)), Just((SINGLE, FARID)), Just((LATER, GRETA))]
}

fn station() -> impl Strategy<Value = StationId> {
    prop_oneof![Just(BENCH), Just(BENCH_2), Just(ROW), Just(ROW_2)]
}

fn stations_and_people() -> impl Strategy<Value = Act> {
    let taken = (people(), station(), station(), 0_u32..4);
    prop_oneof![
        4 => taken.prop_map(|((group, _), one, two, revision)| Act::TakeStations {
            group, block: 0, stations: vec![one, two], revision, despite: None,
        }),
        2 => (people(), 0_u32..3).prop_map(|((group, _), revision)| Act::AskStations { group, block: 0, revision }),
        1 => people().prop_map(|(group, _)| Act::WithdrawAsk { group }),
        1 => (station(), people()).prop_map(|(station, (group, _))| Act::GiveLeave { station, group }),
        2 => (station(), 0_u8..9).prop_map(|(station, minutes)| Act::OtherUse { station, minutes }),
        1 => station().prop_map(|station| Act::EndOtherUse { station }),
        1 => station().prop_map(|station| Act::OutOfService { station, defect: Defect::Bar }),
        1 => station().prop_map(|station| Act::OutOfService { station, defect: Defect::Other }),
        2 => station().prop_map(|station| Act::BackInService { station }),
        2 => (station(), people(), 0_u8..3).prop_map(|(station, (_, client), value)| Act::SetSetting {
            station, client, setting: 0, value,
        }),
        3 => people().prop_map(|(group, client)| Act::Arrive { group, clients: vec![client] }),
        2 => people().prop_map(|(group, client)| Act::Leave { group, client }),
        1 => people().prop_map(|(group, client)| Act::Brief { group, clients: vec![client], skipped: true }),
        1 => people().prop_map(|(group, client)| Act::Screen { group, client, decision: ScreeningDecision::Train }),
        1 => Just(Act::Away { coach: AYLA, minutes: 3 }),
        1 => Just(Act::Away { coach: BRAM, minutes: 4 }),
        1 => Just(Act::Back { coach: AYLA }),
        1 => Just(Act::Back { coach: BRAM }),
        2 => people().prop_map(|(group, _)| Act::HandOver { groups: vec![group], from: AYLA, to: BRAM }),
        1 => people().prop_map(|(group, _)| Act::AcceptGroup { group, from: AYLA }),
        1 => people().prop_map(|(group, _)| Act::DeclineGroup { group }),
        1 => (station(), 0_u32..2).prop_map(|(station, kind)| Act::Call {
            station, call: if kind == 0 { CallKind::HelpNow } else { CallKind::CoachPlease },
        }),
        1 => (1_u32..4).prop_map(|call| Act::Answer { call: CallId(call) }),
        1 => (1_u32..4).prop_map(|call| Act::Attend { call: CallId(call) }),
        2 => (people(), 1_u8..4, 0_u32..5).prop_map(|((group, _), rounds, revision)| Act::SetRounds {
            group, block: 0, rounds, revision,
        }),
        1 => (people(), 0_u8..3, 0_u32..5).prop_map(|((group, client), rounds, revision)| Act::MakeUp {
            group, client, rounds, revision,
        }),
        1 => people().prop_map(|(group, _)| Act::Pause { group }),
        1 => people().prop_map(|(group, client)| Act::Stop { scope: Scope::Client { group, client } }),
        3 => people().prop_map(|(group, _)| Act::Resume { group, client: None }),
        1 => people().prop_map(|(group, _)| Act::FreeStations { group, block: 0, bar: None }),
        1 => people().prop_map(|(group, _)| Act::StillHere { group }),
    ]
}

fn sets() -> impl Strategy<Value = Act> {
    let effort = prop_oneof![Just(Effort::Light), Just(Effort::Right), Just(Effort::Heavy)];
    prop_oneof![
        2 => turns().prop_map(|turn| Act::PassTechnique { turn }),
        1 => turns().prop_map(|turn| Act::TechniqueAgain { turn }),
        3 => turns().prop_map(|turn| Act::ConfirmLoad { turn }),
        3 => turns().prop_map(|turn| Act::Spot { turn, lift_off: false }),
        2 => (turns(), people()).prop_map(|(turn, (_, client))| Act::SpotBy { turn, client }),
        1 => turns().prop_map(|turn| Act::UseArms { turn }),
        2 => people().prop_map(|(group, client)| Act::PassSpotter { group, client, exercise: ExerciseId(1) }),
        5 => turns().prop_map(|turn| Act::Go { turn }),
        1 => turns().prop_map(|turn| Act::NotYet { turn }),
        2 => turns().prop_map(|turn| Act::MoreRest { turn, secs: 20 }),
        1 => turns().prop_map(|turn| Act::LessRest { turn, secs: 10, reason: Reason::ShortOfTime }),
        1 => turns().prop_map(|turn| Act::TreatAsRest { turn }),
        5 => (turns(), proptest::option::of(0_u8..=12))
            .prop_map(|(turn, reps)| Act::Done { turn, reps, effort: None, ending: None }),
        5 => (turns(), effort).prop_map(|(turn, effort)| Act::Effort { turn, effort }),
        2 => (turns(), 0_u8..=12).prop_map(|(turn, reps)| Act::Reps { turn, reps }),
        4 => (turns(), 0_u8..=12).prop_map(|(turn, reps)| Act::Correct {
            turn, reps, load: None, effort: None, ending: Ending::Short,
        }),
        1 => turns().prop_map(|turn| Act::Skip { turn, skip: SkipScope::Exercise, reason: Reason::Safety }),
        1 => turns().prop_map(|turn| Act::Skip { turn, skip: SkipScope::Round, reason: Reason::Safety }),
        1 => (turns(), 0_u32..5).prop_map(|(turn, revision)| Act::Lighter { turn, revision }),
        1 => (turns(), 0_u32..5).prop_map(|(turn, revision)| Act::SetLoad { turn, load: kilos(40), sure: false, revision }),
        1 => Just(Act::PlatesOn { station: BENCH, side: vec![PlatePart { mass: kg(10), full: true }], bar: 0 }),
    ]
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    let speaker = || prop_oneof![Just(coach(AYLA)), Just(coach(BRAM)), Just(kiosk(&[BENCH, ROW]))];
    let act = prop_oneof![3 => stations_and_people(), 3 => sets()];
    let step = prop_oneof![
        6 => (speaker(), act).prop_map(|(speaker, act)| Step::Tap(speaker, act)),
        5 => (0_usize..8).prop_map(Step::Offered),
        3 => prop_oneof![0_i64..9, 0_i64..90].prop_map(Step::Pass),
    ];
    proptest::collection::vec(step, 1..60)
}

/// What taking back brings back: the state without what it excepts.
fn brought_back(state: &State) -> Value {
    let mut value = serde_json::to_value(state).unwrap();
    without_stamps(&mut value);
    for gone in ["sequence", "recorded", "last_call", "news"] {
        value.as_object_mut().unwrap().remove(gone);
    }
    for group in value["groups"].as_object_mut().unwrap().values_mut() {
        for gone in ["revision", "heard", "warned", "no_show"] {
            group.as_object_mut().unwrap().remove(gone);
        }
        group["wipe_down"] = Value::Bool(!group["wipe_down"].is_null());
        for client in group["clients"].as_object_mut().unwrap().values_mut() {
            // Who has left or has not come is neither late nor not: that is seen at an arrival.
            if client["presence"].get("here").is_none() {
                client["late"] = Value::Bool(false);
            }
            client["before"]["briefed"] = Value::Null;
            for gone in ["last", "down"] {
                client.as_object_mut().unwrap().remove(gone);
            }
        }
    }
    for (id, station) in value["stations"].as_object_mut().unwrap() {
        let id = StationId(id.parse().unwrap());
        for gone in ["set_to", "confirmed"] {
            station.as_object_mut().unwrap().remove(gone);
        }
        if state.floor.stations[&id].gear.kind() == GearKind::Stack {
            station["load"] = Value::Null;
        }
    }
    value
}

/// Who said something, and when.
fn without_stamps(value: &mut Value) {
    match value {
        Value::Object(fields) if fields.contains_key("by") && fields.contains_key("when") => {
            *value = Value::String("stamp".to_owned());
        }
        Value::Object(fields) => fields.values_mut().for_each(without_stamps),
        Value::Array(items) => items.iter_mut().for_each(without_stamps),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// No load counts as confirmed that was not before.
fn nothing_newly_confirmed(before: &State, after: &State) -> bool {
    after.stations.iter().all(|(id, now)| now.confirmed.is_none() || before.stations[id].confirmed.is_some())
}

/// A tap of which it is seen later whether it can be taken back.
struct Open {
    speaker: Speaker,
    command: turnabout_protocol::ids::CommandId,
    before: State,
    /// Where the entries after it begin.
    from: usize,
}

/// What was taken back, at once and later, by kind.
#[derive(Default)]
struct Seen {
    at_once: BTreeSet<&'static str>,
    later: usize,
    refused_later: usize,
}

fn history(steps: Vec<Step>, seen: &mut Seen) {
    let mut desk = Desk::rich();
    let mut open: Option<Open> = None;
    for step in steps {
        let (speaker, act) = match step {
            Step::Pass(secs) => {
                desk.pass(secs);
                continue;
            }
            Step::Tap(speaker, act) => (speaker, act),
            Step::Offered(n) => {
                let turnabout_protocol::view::View::Coach(page) = desk.world.view(&Watch::Coach(AYLA)) else {
                    continue;
                };
                let taps: Vec<_> = page.groups.into_iter().flat_map(|g| g.taps).collect();
                let Some(tap) = taps.get(n % taps.len().max(1)) else { continue };
                (coach(AYLA), tap.act.clone())
            }
        };
        let before = desk.world.state.clone();
        let from = desk.world.entries.len();
        let Ok(command) = desk.tap(&speaker, act) else { continue };
        at_once(&desk, &speaker, command, &before, from, seen);
        desk.pass(0);
        if let Some(open) = &open {
            later(&desk, open, seen);
        }
        if open.as_ref().is_none_or(|open| desk.world.entries.len() > open.from + 6) {
            let from = desk.world.entries.len();
            open = Some(Open { speaker, command, before, from });
        }
    }
}

fn at_once(
    desk: &Desk,
    speaker: &Speaker,
    command: turnabout_protocol::ids::CommandId,
    before: &State,
    from: usize,
    seen: &mut Seen,
) {
    let mut desk = desk.clone();
    let what: Vec<_> = desk.world.entries[from..].iter().map(|entry| entry.event.clone()).collect();
    match desk.undo(speaker, command) {
        Ok(()) => {}
        Err(Refusal::NoUndo) => return,
        Err(other) => panic!("{other:?} after nothing but {what:?}"),
    }
    // What the floor says of itself of the state as it was, it has said before or says now.
    desk.pass(0);
    let after = &desk.world.state;
    assert_eq!(brought_back(after), brought_back(before), "{what:?} was taken back");
    assert!(nothing_newly_confirmed(before, after), "{what:?}");
    seen.at_once.extend(what.iter().map(turnabout_server::floor::event::Event::kind));
}

fn later(desk: &Desk, open: &Open, seen: &mut Seen) {
    let mut desk = desk.clone();
    let entries: Vec<Entry> = desk.world.entries[open.from..].to_vec();
    // Breaking an invariant ends the test.
    match desk.undo(&open.speaker, open.command) {
        Ok(()) => {}
        Err(refusal) => {
            assert!(
                matches!(refusal, Refusal::NoUndo | Refusal::NothingToUndo | Refusal::LaterRestsOnIt),
                "{refusal:?}"
            );
            seen.refused_later += 1;
            return;
        }
    }
    assert_eq!(invariants::check(&desk.world.state), Ok(()));
    if entries.iter().any(|entry| entry.by == turnabout_protocol::role::Actor::Floor) {
        return;
    }
    let mut alone = open.before.clone();
    for entry in &entries {
        evolve(&mut alone, entry);
    }
    let events: Vec<_> = entries.into_iter().map(|entry| entry.event).collect();
    let but_for_finish = |state: &State| {
        let mut value = brought_back(state);
        // That all sets are done the floor says anew where it is so again.
        value["groups"]
            .as_object_mut()
            .unwrap()
            .values_mut()
            .for_each(|group| group["wipe_down"] = Value::Null);
        value
    };
    assert_eq!(but_for_finish(&desk.world.state), but_for_finish(&alone), "alone: {events:?}");
    seen.later += 1;
}

/// Every kind that has an inverse, but for two that few histories come to: those have tests of their own.
const KINDS: [&str; 24] = [
    "stations_taken",
    "stations_asked",
    "other_use_began",
    "other_use_ended",
    "taken_out_of_service",
    "put_back_in_service",
    "setting_kept",
    "clients_arrived",
    "client_left",
    "technique_passed",
    "load_confirmed",
    "spotter_named",
    "coach_went_away",
    "coach_came_back",
    "group_offered",
    "turn_went",
    "start_put_off",
    "turn_done",
    "effort_given",
    "reps_corrected",
    "set_corrected",
    "rounds_set",
    "group_paused",
    "call_made",
];

fn histories(mut runner: TestRunner) -> Seen {
    let seen = std::cell::RefCell::new(Seen::default());
    let outcome = runner.run(&steps(), |steps| {
        history(steps, &mut seen.borrow_mut());
        Ok(())
    });
    outcome.unwrap_or_else(|error| panic!("{error}"));
    seen.into_inner()
}

fn config() -> ProptestConfig {
    ProptestConfig { cases: HISTORIES, failure_persistence: None, ..ProptestConfig::default() }
}

#[test]
fn a_tap_that_is_taken_back_has_never_been() {
    let seen = histories(TestRunner::new(config()));
    assert!(seen.later > 0 && seen.refused_later > 0, "{} later, {} not", seen.later, seen.refused_later);
}

/// The same histories every time, so that it is known what they come to.
#[test]
fn every_kind_that_has_an_inverse_is_taken_back() {
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let seen = histories(TestRunner::new_with_rng(config(), rng));
    let missing: Vec<_> = KINDS.iter().filter(|kind| !seen.at_once.contains(*kind)).collect();
    assert!(missing.is_empty(), "never taken back: {missing:?}");
}

//! Which taps outlive a lost link.

use turnabout_kiosk::link::Action;
use turnabout_kiosk::link::limits::{QUEUE, SAVING_AFTER_MS};
use turnabout_protocol::command::{
    Act, CallKind, Defect, Effort, Ending, NoteAbout, Reason, Scope, ScreeningDecision, SkipScope,
};
use turnabout_protocol::frame::limits::UNANSWERED;
use turnabout_protocol::frame::{ToDisplay, ToServer};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, CommandId, ExerciseId, GroupId, NoteId, StationId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use uuid::Uuid;

use crate::scenes::*;
use crate::*;

/// Every act, and whether it may come late. A new one must be judged here.
#[expect(clippy::match_same_arms, reason = "each is judged by itself")]
fn judged(act: &Act) -> bool {
    match act {
        Act::TakeStations { .. } => false,
        Act::PassTechnique { .. } => false,
        Act::ConfirmLoad { .. } => false,
        Act::Spot { .. } => false,
        Act::Go { .. } => false,
        Act::NotYet { .. } => false,
        Act::Done { .. } => true,
        Act::Effort { .. } => true,
        Act::Reps { .. } => true,
        Act::Lighter { .. } => false,
        Act::SetLoad { .. } => false,
        Act::SettleLoad { .. } => false,
        Act::PlatesOn { .. } => false,
        Act::PlatesMissing { .. } => false,
        Act::Pause { .. } => false,
        Act::Stop { .. } => false,
        Act::Resume { .. } => false,
        Act::Call { .. } => true,
        Act::Attend { .. } => false,
        Act::FreeStations { .. } => false,
        Act::AskStations { .. } => false,
        Act::WithdrawAsk { .. } => false,
        Act::GiveLeave { .. } => false,
        Act::SwapStation { .. } => false,
        Act::OtherUse { .. } => false,
        Act::EndOtherUse { .. } => false,
        Act::OutOfService { .. } => false,
        Act::BackInService { .. } => false,
        Act::SetSetting { .. } => false,
        Act::Arrive { .. } => false,
        Act::WarmedUp { .. } => false,
        Act::Brief { .. } => false,
        Act::Screen { .. } => false,
        Act::Leave { .. } => false,
        Act::MakeUp { .. } => false,
        Act::SetRounds { .. } => false,
        Act::DropBlock { .. } => false,
        Act::EndSession { .. } => false,
        Act::StillHere { .. } => false,
        Act::SpotBy { .. } => false,
        Act::UseArms { .. } => false,
        Act::PassSpotter { .. } => false,
        Act::Away { .. } => false,
        Act::Back { .. } => false,
        Act::HandOver { .. } => false,
        Act::AcceptGroup { .. } => false,
        Act::DeclineGroup { .. } => false,
        Act::MoreRest { .. } => false,
        Act::LessRest { .. } => false,
        Act::TreatAsRest { .. } => false,
        Act::Skip { .. } => false,
        Act::SwapExercise { .. } => false,
        Act::TechniqueAgain { .. } => false,
        Act::Correct { .. } => false,
        Act::Answer { .. } => false,
        Act::Note { .. } => false,
        Act::EraseNote { .. } => false,
        Act::Undo { .. } => false,
    }
}

fn every_act() -> Vec<Act> {
    let (turn, group, station) = (turn_id(1, 2, 0), GroupId(1), StationId(1));
    let (client, coach, exercise) = (ClientId(1), CoachId(1), ExerciseId(1));
    let reason = Reason::CoachDecides;
    vec![
        Act::TakeStations { group, block: 0, stations: vec![station], revision: 1, despite: None },
        Act::PassTechnique { turn },
        Act::ConfirmLoad { turn },
        Act::Spot { turn, lift_off: false },
        Act::Go { turn },
        Act::NotYet { turn },
        Act::Done { turn, reps: Some(8), effort: None, ending: None },
        Act::Effort { turn, effort: Effort::Rir { reps: 2 } },
        Act::Reps { turn, reps: 9 },
        Act::Lighter { turn, revision: 1 },
        Act::Pause { group },
        Act::Stop { scope: Scope::Floor },
        Act::Resume { group, client: None },
        Act::Call { station, call: CallKind::HelpNow },
        Act::Attend { call: CallId(1) },
        Act::FreeStations { group, block: 0, bar: None },
        Act::AskStations { group, block: 0, revision: 1 },
        Act::WithdrawAsk { group },
        Act::GiveLeave { station, group },
        Act::SwapStation { group, leg: 0, to: station, revision: 1 },
        Act::OtherUse { station, minutes: 15 },
        Act::EndOtherUse { station },
        Act::OutOfService { station, defect: Defect::Cable },
        Act::BackInService { station },
        Act::SetSetting { station, client, setting: 0, value: 0 },
        Act::Arrive { group, clients: vec![client] },
        Act::WarmedUp { group, client },
        Act::Brief { group, clients: vec![client], skipped: false },
        Act::Screen { group, client, decision: ScreeningDecision::Train },
        Act::Leave { group, client },
        Act::MakeUp { group, client, rounds: 1, revision: 1 },
        Act::SetRounds { group, block: 0, rounds: 2, revision: 1 },
        Act::DropBlock { group, block: 1, revision: 1 },
        Act::EndSession { group, reason },
        Act::StillHere { group },
        Act::SpotBy { turn, client },
        Act::UseArms { turn },
        Act::PassSpotter { group, client, exercise },
        Act::Away { coach, minutes: 10 },
        Act::Back { coach },
        Act::HandOver { groups: vec![group], from: coach, to: CoachId(2) },
        Act::AcceptGroup { group, from: coach },
        Act::DeclineGroup { group },
        Act::MoreRest { turn, secs: 30 },
        Act::LessRest { turn, secs: 30, reason },
        Act::TreatAsRest { turn },
        Act::Skip { turn, skip: SkipScope::Set, reason },
        Act::SwapExercise {
            group,
            client,
            leg: 0,
            exercise,
            station: None,
            load: None,
            sure: false,
            revision: 1,
        },
        Act::TechniqueAgain { turn },
        Act::Correct { turn, reps: 8, load: None, effort: None, ending: Ending::Short },
        Act::Answer { call: CallId(1) },
        Act::Note { note: NoteAbout::Group { group }, text: "text".into() },
        Act::EraseNote { note: NoteId(1) },
        Act::Undo { command: CommandId(Uuid::from_u128(1)) },
    ]
}

#[test]
fn only_done_reps_effort_and_calls_are_kept_while_the_link_is_lost() {
    for act in every_act() {
        let keeps = judged(&act);
        assert_eq!(act.may_come_late(), keeps, "{act:?}");
        let mut desk = Desk::up();
        desk.close();
        let (id, actions) = desk.tap(act.clone());
        assert_eq!(actions, [], "nothing can be sent");
        let told = desk.face().notice;
        assert_eq!(told.ends_with("not sent"), !keeps, "{act:?}: {told}");
        let sent = commands(&desk.connect());
        assert_eq!(sent, if keeps { vec![id] } else { vec![] }, "{act:?}");
    }
}

#[test]
fn what_was_on_its_way_is_sent_again_with_its_id_or_reported() {
    for act in every_act() {
        let keeps = judged(&act);
        let mut desk = Desk::up();
        let (id, actions) = desk.tap(act.clone());
        assert_eq!(commands(&actions), [id], "sent at once");
        desk.close();
        assert_eq!(desk.face().notice.ends_with("not sent"), !keeps, "{act:?}");
        let again = commands(&desk.connect());
        assert_eq!(again, if keeps { vec![id] } else { vec![] }, "{act:?}");
    }
}

#[test]
fn an_answered_tap_is_not_sent_again_and_a_refusal_is_shown_for_four_seconds() {
    let mut desk = Desk::up();
    let (id, _) = desk.tap(done());
    desk.frame(ToDisplay::Answer { id, answer: Outcome::Accepted { recorded: NOW } });
    assert_eq!(desk.face().notice, "");
    desk.close();
    assert_eq!(commands(&desk.connect()), []);
    let (id, _) = desk.tap(go());
    desk.frame(ToDisplay::Answer { id, answer: Outcome::Refused { refusal: Refusal::Paused } });
    assert_eq!(desk.face().notice, "The group is paused.");
    desk.tick_after(3_999);
    assert_eq!(desk.face().notice, "The group is paused.");
    desk.tick_after(1);
    assert_eq!(desk.face().notice, "");
}

#[test]
fn a_late_answer_is_shown_as_saving() {
    let mut desk = Desk::up();
    let (id, _) = desk.tap(go());
    desk.tick_after(SAVING_AFTER_MS - 1);
    assert_eq!(desk.face().saving, "");
    desk.tick_after(1);
    assert_eq!(desk.face().saving, "saving");
    desk.frame(ToDisplay::Answer { id, answer: Outcome::Accepted { recorded: NOW } });
    assert_eq!(desk.face().saving, "");
}

#[test]
fn a_tap_carries_the_floor_time_of_the_tap() {
    let mut desk = Desk::up();
    desk.close();
    desk.tap(done());
    desk.epoch = Uuid::from_u128(8);
    let actions = desk.connect();
    let Some(Action::Send(ToServer::Command(command))) = actions.first() else { panic!("{actions:?}") };
    assert_eq!((command.at, &command.act), (NOW, &done()));
}

#[test]
fn no_more_commands_are_on_their_way_than_the_server_takes_and_no_more_are_kept_than_the_limit() {
    let mut desk = Desk::up();
    desk.close();
    for n in 0..=QUEUE {
        desk.tap(done());
        assert_eq!(desk.face().notice.ends_with("not sent"), n == QUEUE, "tap {n}");
    }
    let first = commands(&desk.connect());
    assert_eq!(first.len(), UNANSWERED);
    let next = desk.frame(ToDisplay::Answer { id: first[0], answer: Outcome::Accepted { recorded: NOW } });
    assert_eq!(commands(&next).len(), 1);
    let (_, full) = desk.tap(go());
    assert_eq!(commands(&full), [], "a start does not wait in a queue");
    assert!(desk.face().notice.ends_with("not sent"));
}

#[test]
fn a_tap_that_was_sent_twice_is_answered_once() {
    let mut desk = Desk::up();
    let (id, _) = desk.tap(done());
    desk.close();
    assert_eq!(commands(&desk.connect()), [id]);
    desk.frame(ToDisplay::Answer { id, answer: Outcome::Accepted { recorded: NOW } });
    let answered = desk.face();
    assert!(answered.undo.is_some());
    // The answer to the first, which nobody waits for any more.
    let actions = desk.frame(ToDisplay::Answer { id, answer: Outcome::Refused { refusal: Refusal::Over } });
    assert_eq!(commands(&actions), []);
    assert_eq!(desk.face(), answered);
    desk.close();
    assert_eq!(commands(&desk.connect()), []);
}

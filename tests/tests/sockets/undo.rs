//! Taking back a tap: by the same display, within ten seconds, where nothing later rests on it.

use turnabout_protocol::command::{Act, Command};
use turnabout_protocol::frame::ToServer;
use turnabout_protocol::ids::{ClientId, CommandId, GroupId, StationId, TurnId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{StationState, View};
use turnabout_tests::harness::{Display, House};

const PAIR: GroupId = GroupId(1);
const GO: Act = Act::Go { turn: TurnId { group: PAIR, client: ClientId(1), block: 0, round: 0, leg: 0 } };

/// A tap that is accepted.
async fn tapped(display: &mut Display, act: Act) -> CommandId {
    let command = display.send_act(act.clone()).await;
    let answer = display.answer(command.id).await;
    assert!(matches!(answer, Outcome::Accepted { .. }), "{act:?}: {answer:?}");
    command.id
}

async fn undo(display: &mut Display, command: CommandId) -> Outcome {
    display.tap(Act::Undo { command }).await
}

const fn refused(refusal: Refusal) -> Outcome {
    Outcome::Refused { refusal }
}

/// A coach whose pair has arrived and has both stations, and the display at the bench.
async fn pair_on(house: &House) -> (Display, Display) {
    let mut coach = Display::coach(house, "coach-1").await;
    tapped(&mut coach, Act::Arrive { group: PAIR, clients: vec![ClientId(1), ClientId(2)] }).await;
    let stations = vec![StationId(1), StationId(2)];
    let take = Act::TakeStations { group: PAIR, block: 0, stations, revision: 0, despite: None };
    tapped(&mut coach, take).await;
    (coach, Display::kiosk(house, "bench-1").await)
}

/// What the bench shows once it shows this.
async fn shows(display: &mut Display, state: StationState) {
    loop {
        match display.view().await {
            View::Station(view) if view.stations[0].state == state => return,
            View::Station(_) => {}
            other => panic!("{other:?}"),
        }
    }
}

#[tokio::test]
async fn go_is_taken_back_by_the_display_that_said_it_and_by_no_other() {
    let house = House::open();
    let (mut coach, mut kiosk) = pair_on(&house).await;
    let go = tapped(&mut kiosk, GO).await;
    shows(&mut kiosk, StationState::InUse).await;
    assert_eq!(undo(&mut coach, go).await, refused(Refusal::NothingToUndo));
    assert_eq!(undo(&mut kiosk, go).await, Outcome::Accepted { recorded: FloorMs(0) });
    shows(&mut kiosk, StationState::Reserved).await;
    assert_eq!(undo(&mut kiosk, go).await, refused(Refusal::NothingToUndo));
    tapped(&mut kiosk, GO).await;
    house.shut().await;
}

#[tokio::test]
async fn the_same_undo_again_gets_the_same_answer_and_cannot_be_undone() {
    let house = House::open();
    let (_coach, mut kiosk) = pair_on(&house).await;
    let go = tapped(&mut kiosk, GO).await;
    let undo = turnabout_tests::harness::command(kiosk.now, Act::Undo { command: go });
    kiosk.send(&ToServer::Command(undo.clone())).await;
    let answer = kiosk.answer(undo.id).await;
    assert!(matches!(answer, Outcome::Accepted { .. }), "{answer:?}");
    let batches = house.gate().handed();
    kiosk.send(&ToServer::Command(undo.clone())).await;
    assert_eq!(kiosk.answer(undo.id).await, answer);
    assert_eq!(house.gate().handed(), batches);
    assert_eq!(self::undo(&mut kiosk, undo.id).await, refused(Refusal::NoUndo));
    let other = Command { act: Act::Undo { command: undo.id }, ..undo.clone() };
    kiosk.send(&ToServer::Command(other)).await;
    assert_eq!(kiosk.answer(undo.id).await, refused(Refusal::ReusedId));
    house.shut().await;
}

#[tokio::test]
async fn ten_seconds_are_enough_and_a_millisecond_more_is_not() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    for (waited, taken_back) in [(10_000, true), (10_001, false)] {
        let pause = tapped(&mut coach, Act::Pause { group: PAIR }).await;
        house.advance(waited).await;
        let answer = undo(&mut coach, pause).await;
        match answer {
            Outcome::Accepted { .. } => assert!(taken_back),
            Outcome::Refused { refusal } => assert!(!taken_back && refusal == Refusal::NothingToUndo),
            Outcome::Already { .. } => panic!("{answer:?}"),
        }
    }
    house.shut().await;
}

#[tokio::test]
async fn what_something_later_rests_on_stands() {
    let house = House::open();
    let (mut coach, mut kiosk) = pair_on(&house).await;
    tapped(&mut kiosk, GO).await;
    house.advance(23_000).await;
    let Act::Go { turn } = GO else { unreachable!("it is a go") };
    let done = tapped(&mut kiosk, Act::Done { turn, reps: None, effort: None, ending: None }).await;
    // The bench is free, and the other client begins there.
    let other = TurnId { client: ClientId(2), ..turn };
    tapped(&mut coach, Act::Go { turn: other }).await;
    assert_eq!(undo(&mut kiosk, done).await, refused(Refusal::LaterRestsOnIt));
    // What has nothing to do with it does not keep a tap.
    let pause = tapped(&mut coach, Act::Pause { group: GroupId(2) }).await;
    tapped(
        &mut kiosk,
        Act::Call { station: StationId(1), call: turnabout_protocol::command::CallKind::CoachPlease },
    )
    .await;
    assert!(matches!(undo(&mut coach, pause).await, Outcome::Accepted { .. }));
    house.shut().await;
}

#[tokio::test]
async fn what_the_floor_did_of_itself_on_the_strength_of_it_stands() {
    let house = House::open();
    let (mut first, mut second) =
        (Display::coach(&house, "coach-1").await, Display::coach(&house, "coach-2").await);
    for station in [1, 2] {
        tapped(&mut first, Act::OtherUse { station: StationId(station), minutes: 60 }).await;
    }
    let group = GroupId(2);
    tapped(&mut second, Act::Arrive { group, clients: vec![ClientId(3), ClientId(4)] }).await;
    tapped(&mut second, Act::AskStations { group, block: 0, revision: 0 }).await;
    tapped(&mut first, Act::EndOtherUse { station: StationId(1) }).await;
    // Now there are two, and the floor gives them to the group that waits.
    let ended = tapped(&mut first, Act::EndOtherUse { station: StationId(2) }).await;
    assert_eq!(undo(&mut first, ended).await, refused(Refusal::LaterRestsOnIt));
    house.shut().await;
}

#[tokio::test]
async fn after_a_restart_there_is_nothing_to_take_back() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    let pause = tapped(&mut coach, Act::Pause { group: PAIR }).await;
    let device = coach.device;
    let house = house.restart().await;
    let role = Role::Coach { coach: "coach-1".parse().unwrap() };
    let topic: Topic = "coach/coach-1".parse().unwrap();
    let mut coach = Display::open_as(house.server().address(), Some(device), role, &topic.to_string()).await;
    coach.now = coach.welcome.unwrap().2;
    assert_eq!(undo(&mut coach, pause).await, refused(Refusal::NothingToUndo));
    assert!(matches!(coach.tap(Act::Resume { group: PAIR, client: None }).await, Outcome::Accepted { .. }));
    house.shut().await;
}

#[tokio::test]
async fn a_board_takes_nothing_back() {
    let house = House::open();
    let mut board = Display::open(&house, Role::Board, "board").await;
    let command = CommandId(uuid::Uuid::nil());
    assert_eq!(undo(&mut board, command).await, refused(Refusal::RoleMayNot));
    house.shut().await;
}

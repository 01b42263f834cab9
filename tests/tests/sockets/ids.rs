//! The same tap twice has one effect and one answer.

use turnabout_protocol::command::{Act, CallKind, Command};
use turnabout_protocol::frame::{ToDisplay, ToServer, limits};
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::View;
use turnabout_tests::harness::{Display, House, command};

fn pause(group: u32) -> Act {
    Act::Pause { group: GroupId(group) }
}

#[tokio::test]
async fn the_same_tap_again_gets_the_same_answer_and_no_second_effect() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    for act in [pause(1), pause(1), pause(99)] {
        let command = command(coach.now, act);
        coach.send(&ToServer::Command(command.clone())).await;
        let first = coach.answer(command.id).await;
        let batches = house.gate().handed();
        // Undoing it in between shows whether the second is decided anew.
        if matches!(first, Outcome::Accepted { .. }) {
            coach.send(&ToServer::Command(command.clone())).await;
            assert_eq!(coach.answer(command.id).await, first);
        }
        coach.send(&ToServer::Command(command.clone())).await;
        assert_eq!(coach.answer(command.id).await, first);
        assert_eq!(house.gate().handed(), batches);
    }
    house.shut().await;
}

#[tokio::test]
async fn a_doubled_tap_waits_for_the_commit_of_the_first() {
    let house = House::open();
    let mut kiosk = Display::kiosk(&house, "bench-1").await;
    kiosk.view().await;
    house.gate().shut();
    let call = Act::Call { station: StationId(1), call: CallKind::CoachPlease };
    let command = kiosk.send_act(call).await;
    house.gate().wait_for(1).await;
    kiosk.send(&ToServer::Command(command.clone())).await;
    assert_eq!(kiosk.until_time(1).await, []);
    house.gate().open();
    let (first, second) = (kiosk.answer(command.id).await, kiosk.answer(command.id).await);
    assert_eq!(first, second);
    assert!(matches!(first, Outcome::Accepted { .. }));
    match kiosk.view().await {
        View::Station(view) => assert_eq!(view.stations[0].calls.len(), 1),
        other => panic!("{other:?}"),
    }
    house.shut().await;
}

#[tokio::test]
async fn the_same_id_with_another_body_is_refused() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    let first = command(coach.now, pause(1));
    coach.send(&ToServer::Command(first.clone())).await;
    coach.answer(first.id).await;
    let reused = Outcome::Refused { refusal: Refusal::ReusedId };
    for other in
        [Command { act: pause(2), ..first.clone() }, Command { at: first.at + Millis(1), ..first.clone() }]
    {
        coach.send(&ToServer::Command(other)).await;
        assert_eq!(coach.answer(first.id).await, reused);
    }
    // The first answer stands, and another device may use the same id.
    coach.send(&ToServer::Command(first.clone())).await;
    assert!(matches!(coach.answer(first.id).await, Outcome::Accepted { .. }));
    let mut other = Display::coach(&house, "coach-2").await;
    other.send(&ToServer::Command(Command { act: pause(2), ..first.clone() })).await;
    assert!(matches!(other.answer(first.id).await, Outcome::Accepted { .. }));
    house.shut().await;
}

#[tokio::test]
async fn taps_from_another_day_or_from_the_future_are_refused() {
    const HOUR: i64 = 3_600_000;
    let house = House::open();
    house.advance(13 * HOUR).await;
    let mut coach = Display::coach(&house, "coach-1").await;
    let now = 13 * HOUR;
    for (at, refusal) in [
        (now - 12 * HOUR - 1, Some(Refusal::TooOld)),
        (now + 5_001, Some(Refusal::InFuture)),
        (now - 12 * HOUR, None),
    ] {
        let command = command(FloorMs(at), pause(1));
        coach.send(&ToServer::Command(command.clone())).await;
        match (coach.answer(command.id).await, refusal) {
            (Outcome::Refused { refusal }, Some(expected)) => assert_eq!(refusal, expected),
            (Outcome::Accepted { recorded }, None) => assert_eq!(recorded, FloorMs(now)),
            other => panic!("{other:?}"),
        }
    }
    house.shut().await;
}

#[tokio::test]
async fn the_ninth_unanswered_command_does_not_reach_the_floor() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    coach.view().await;
    house.gate().shut();
    let mut sent = vec![coach.send_act(pause(1)).await];
    house.gate().wait_for(1).await;
    for _ in 1..limits::UNANSWERED {
        sent.push(coach.send_act(pause(1)).await);
    }
    let ninth = coach.send_act(pause(2)).await;
    let busy = ToDisplay::Answer { id: ninth.id, answer: Outcome::Refused { refusal: Refusal::Busy } };
    assert_eq!(coach.frame().await, busy);
    house.gate().open();
    for command in sent {
        coach.answer(command.id).await;
    }
    // Sent again it is decided for the first time.
    coach.send(&ToServer::Command(ninth.clone())).await;
    assert!(matches!(coach.answer(ninth.id).await, Outcome::Accepted { .. }));
    house.shut().await;
}

//! Nothing is answered and nothing is shown before it is durable.

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::frame::ToDisplay;
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::role::Actor;
use turnabout_protocol::view::View;
use turnabout_tests::harness::{Display, House};

const CALL: Act = Act::Call { station: StationId(1), call: CallKind::CoachPlease };

fn calls(view: &View) -> usize {
    match view {
        View::Station(station) => station.stations.iter().map(|part| part.calls.len()).sum(),
        View::Coach(coach) => coach.calls.len(),
        View::Board(_) => panic!("a board shows no calls"),
    }
}

#[tokio::test]
async fn a_tap_is_answered_and_shown_after_its_commit_and_not_before() {
    let house = House::open();
    let (mut kiosk, mut coach) =
        (Display::kiosk(&house, "bench-1").await, Display::coach(&house, "coach-1").await);
    assert_eq!((calls(&kiosk.view().await), calls(&coach.view().await)), (0, 0));

    house.gate().shut();
    let command = kiosk.send_act(CALL).await;
    house.gate().wait_for(1).await;
    // What the floor had to say would have come before the time.
    assert_eq!(kiosk.until_time(1).await, []);
    assert_eq!(coach.until_time(1).await, []);

    house.gate().open();
    let answer = kiosk.frame().await;
    assert!(
        matches!(&answer, ToDisplay::Answer { id, answer: Outcome::Accepted { .. } } if *id == command.id),
        "{answer:?}"
    );
    assert_eq!((calls(&kiosk.view().await), calls(&coach.view().await)), (1, 1));
    house.shut().await;
}

#[tokio::test]
async fn refusals_and_already_wait_for_what_they_saw() {
    let house = House::open();
    let mut kiosk = Display::kiosk(&house, "bench-1").await;
    kiosk.view().await;
    house.gate().shut();
    let first = kiosk.send_act(CALL).await;
    house.gate().wait_for(1).await;
    let already = kiosk.send_act(CALL).await;
    let refused = kiosk.send_act(Act::Pause { group: GroupId(1) }).await;
    assert_eq!(kiosk.until_time(1).await, []);

    house.gate().open();
    assert!(matches!(kiosk.answer(first.id).await, Outcome::Accepted { .. }));
    let by = Actor::Station { station: StationId(1) };
    assert!(matches!(kiosk.answer(already.id).await, Outcome::Already { by: who, .. } if who == by));
    assert_eq!(kiosk.answer(refused.id).await, Outcome::Refused { refusal: Refusal::RoleMayNot });
    house.shut().await;
}

#[tokio::test]
async fn commands_gather_in_one_batch_while_another_is_on_its_way() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    house.gate().shut();
    let first = coach.send_act(Act::Pause { group: GroupId(1) }).await;
    house.gate().wait_for(1).await;
    let mut gathered = Vec::new();
    for group in [1, 2, 1, 2] {
        let group = GroupId(group);
        gathered.push(coach.send_act(Act::Pause { group }).await);
        gathered.push(coach.send_act(Act::Resume { group, client: None }).await);
    }
    // One more than may be unanswered, so the last was turned away at once; the seven others are decided.
    let last = gathered.pop().unwrap();
    assert_eq!(coach.answer(last.id).await, Outcome::Refused { refusal: Refusal::Busy });
    house.gate().open();
    coach.answer(first.id).await;
    for command in gathered {
        coach.answer(command.id).await;
    }
    assert_eq!(house.gate().handed(), 2);
    house.shut().await;
}

#[tokio::test]
async fn a_newcomer_sees_what_is_durable() {
    let house = House::open();
    let mut kiosk = Display::kiosk(&house, "bench-1").await;
    house.gate().shut();
    kiosk.send_act(CALL).await;
    house.gate().wait_for(1).await;
    let mut coach = Display::coach(&house, "coach-1").await;
    assert_eq!(calls(&coach.view().await), 0);
    house.gate().open();
    assert_eq!(calls(&coach.view().await), 1);
    house.shut().await;
}

#[tokio::test]
async fn what_changes_nothing_on_a_display_is_not_sent_to_it() {
    let house = House::open();
    let (mut bench, mut row) =
        (Display::kiosk(&house, "bench-1").await, Display::kiosk(&house, "row-1").await);
    bench.view().await;
    row.view().await;
    assert!(matches!(bench.tap(CALL).await, Outcome::Accepted { .. }));
    bench.view().await;
    assert_eq!(row.until_time(1).await, []);
    house.shut().await;
}

#[tokio::test]
async fn an_orderly_end_answers_what_was_taken() {
    let house = House::open();
    let mut kiosk = Display::kiosk(&house, "bench-1").await;
    house.gate().shut();
    let command = kiosk.send_act(CALL).await;
    house.gate().wait_for(1).await;
    house.gate().open();
    house.shut().await;
    assert!(matches!(kiosk.answer(command.id).await, Outcome::Accepted { .. }));
    // RFC 6455, section 7.4.1: 1001, going away.
    assert_eq!(kiosk.closed().await, Some(1001));
}

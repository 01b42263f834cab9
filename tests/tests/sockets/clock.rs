//! Floor time on the wire, timers, and waits that are bounded in real time.

use std::sync::atomic::Ordering;
use std::time::Duration;

use turnabout_protocol::command::Act;
use turnabout_protocol::frame::{Fault, ToDisplay};
use turnabout_protocol::ids::{ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{StationState, View};
use turnabout_server::live::Pace;
use turnabout_server::web::{HELLO_WITHIN, SILENT_FOR};
use turnabout_tests::harness::{Display, HandWall, House, Received, Setting};

fn state_of(view: &View) -> StationState {
    match view {
        View::Station(view) => view.stations[0].state,
        other => panic!("{other:?}"),
    }
}

#[tokio::test]
async fn a_moved_clock_is_told_before_the_views_that_follow() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    let mut kiosk = Display::kiosk(&house, "bench-1").await;
    assert_eq!(kiosk.welcome.map(|(_, rate, _)| rate), Some(0));
    kiosk.view().await;
    let arrive = Act::Arrive { group: GroupId(1), clients: vec![ClientId(1), ClientId(2)] };
    assert!(matches!(coach.tap(arrive).await, Outcome::Accepted { .. }));
    let stations = vec![StationId(1), StationId(2)];
    let take = Act::TakeStations { group: GroupId(1), block: 0, stations, revision: 0, despite: None };
    assert!(matches!(coach.tap(take).await, Outcome::Accepted { .. }));
    let turn = TurnId { group: GroupId(1), client: ClientId(1), block: 0, round: 0, leg: 0 };
    assert!(matches!(coach.tap(Act::Go { turn }).await, Outcome::Accepted { .. }));
    while state_of(&kiosk.view().await) != StationState::InUse {}

    // Get set for 8 s, count for 3 s, three times 4 s: over at 23 s, and then assumed.
    assert_eq!(house.advance(22_000).await, FloorMs(22_000));
    let batches = house.gate().handed();
    assert_eq!(house.advance(500).await, FloorMs(22_500));
    assert_eq!(house.gate().handed(), batches, "nothing was due, and nobody came within the minute");
    while kiosk.frame().await != (ToDisplay::Clock { now: FloorMs(22_500) }) {}
    assert_eq!(house.advance(60_000).await, FloorMs(82_500));
    assert!(house.gate().handed() > batches, "durable before the clock's answer");
    house.shut().await;
}

#[tokio::test]
async fn a_running_clock_cannot_be_moved_and_says_its_rate() {
    let house = House::open_with(Setting { pace: Pace::Running(10), ..Setting::default() });
    assert_eq!(house.request("POST", "/clock/advance", "{\"by_ms\":1}").await.status, 404);
    let mut coach = Display::coach(&house, "coach-1").await;
    let (_, rate, now) = coach.welcome.unwrap();
    assert_eq!(rate, 10);
    // Floor time begins with the floor's first entry, ten times as fast as the test.
    assert!((0..600_000).contains(&now.0), "{now:?}");
    coach.view().await;
    coach.until_time(7).await;
    house.shut().await;
}

#[tokio::test]
async fn who_does_not_say_hello_in_time_is_closed() {
    let house = House::open();
    let mut display = Display::connect(&house).await;
    display.send_text("{").await;
    assert!(matches!(display.fault().await, Fault::Malformed { .. }));
    tokio::time::pause();
    tokio::time::advance(HELLO_WITHIN).await;
    tokio::time::resume();
    assert_eq!(display.fault().await, Fault::HelloLate);
    assert_eq!(display.closed().await, Some(1008));
    house.shut().await;
}

#[tokio::test]
async fn who_answers_no_ping_is_closed() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    coach.view().await;
    for _ in 0..3 {
        tokio::time::pause();
        // However many were missed, one ping is sent at each step until the silence has lasted too long.
        tokio::time::advance(SILENT_FOR / 3 + Duration::from_millis(1)).await;
        tokio::time::resume();
        // Lets the server's tasks run, while the display does not read.
        assert_eq!(house.request("GET", "/health", "").await.status, 200);
    }
    let received = [coach.receive().await, coach.receive().await, coach.receive().await];
    assert_eq!(received, [Received::Ping, Received::Ping, Received::Cut]);
    house.shut().await;
}

#[tokio::test]
async fn a_wall_clock_that_jumps_is_written_down_once() {
    let wall = HandWall::default();
    let setting = Setting { pace: Pace::Running(1), wall: Some(wall.clone()), ..Setting::default() };
    let house = House::open_with(setting);
    let sequence = async || house.server().floor().health().await.unwrap().sequence;
    let before = sequence().await;
    for (moved, written) in [(500, 0), (3_600_000, 1), (0, 1)] {
        wall.0.fetch_add(10_000 + moved, Ordering::SeqCst);
        tokio::time::pause();
        tokio::time::advance(Duration::from_secs(10)).await;
        tokio::time::resume();
        house.gate().wait_for(written).await;
        let expected = before + u64::try_from(written).unwrap();
        while sequence().await < expected {}
        assert_eq!(sequence().await, expected);
    }
    house.shut().await;
}

//! What survives a restart.

use std::sync::atomic::Ordering;

use turnabout_protocol::command::{Act, CallKind, Command};
use turnabout_protocol::frame::ToServer;
use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::View;
use turnabout_server::journal::{self, Storage};
use turnabout_server::live::{Files, Pace, StartError, Stored, SystemWall};
use turnabout_tests::harness::{Display, HandWall, House, Setting, command, files};

#[tokio::test]
async fn floor_time_goes_on_and_taps_from_before_have_their_answers() {
    let house = House::open();
    house.advance(90_000).await;
    let mut kiosk = Display::kiosk(&house, "bench-1").await;
    let call = Act::Call { station: StationId(1), call: CallKind::HelpNow };
    let tapped = command(FloorMs(90_000), call);
    kiosk.send(&ToServer::Command(tapped.clone())).await;
    let answer = kiosk.answer(tapped.id).await;
    assert_eq!(answer, Outcome::Accepted { recorded: FloorMs(90_000) });
    let (device, epoch) = (kiosk.device, kiosk.welcome.unwrap().0);

    let house = house.restart().await;
    let mut kiosk = Display::connect(&house).await;
    kiosk.device = device;
    let role = turnabout_protocol::role::Role::Station { stations: vec!["bench-1".parse().unwrap()] };
    kiosk.send(&turnabout_tests::harness::hello(device, role, "station/bench-1")).await;
    kiosk.until_welcome().await;
    let (new_epoch, _, now) = kiosk.welcome.unwrap();
    assert_ne!(new_epoch, epoch);
    assert!(now >= FloorMs(90_000), "{now:?}");
    match kiosk.view().await {
        View::Station(view) => assert!(view.help.is_some(), "the call is still there"),
        other => panic!("{other:?}"),
    }
    kiosk.send(&ToServer::Command(tapped.clone())).await;
    assert_eq!(kiosk.answer(tapped.id).await, answer);
    let other = Command { act: Act::Call { station: StationId(1), call: CallKind::CoachPlease }, ..tapped };
    kiosk.send(&ToServer::Command(other)).await;
    assert_eq!(kiosk.answer(tapped.id).await, Outcome::Refused { refusal: Refusal::ReusedId });
    house.shut().await;
}

#[tokio::test]
async fn a_running_clock_never_goes_back_over_a_restart() {
    let running = Setting { pace: Pace::Running(100), ..Setting::default() };
    let mut house = House::open_with(running.clone());
    let mut before = FloorMs(0);
    for _ in 0..3 {
        let mut coach = Display::coach(&house, "coach-1").await;
        assert!(coach.welcome.unwrap().2 >= before);
        let pause = Act::Pause { group: GroupId(1) };
        match coach.tap(pause).await {
            Outcome::Accepted { recorded } => {
                assert!(recorded >= before);
                before = recorded;
            }
            Outcome::Already { when, .. } => assert!(when <= before),
            other @ Outcome::Refused { .. } => panic!("{other:?}"),
        }
        house = house.restart_with(running.clone()).await;
    }
    house.shut().await;
}

#[tokio::test]
async fn downtime_counts_by_the_wall_clock_within_bounds() {
    const HOUR: i64 = 3_600_000;
    let wall = HandWall::default();
    wall.0.store(1_000 * HOUR, Ordering::SeqCst);
    let setting = Setting { pace: Pace::Running(1), wall: Some(wall.clone()), on_disk: true, files: files() };
    let mut house = House::open_with(setting.clone());
    let now = async |house: &House| Display::coach(house, "coach-1").await.welcome.unwrap().2.0;
    let mut before = now(&house).await;
    for (moved, at_least, at_most) in
        // An hour; a wall clock that was put back; a long weekend, of which twelve hours count.
        [(HOUR, HOUR, HOUR), (-5 * HOUR, 0, 0), (72 * HOUR, 12 * HOUR, 12 * HOUR)]
    {
        let folder = house.shut().await;
        wall.0.fetch_add(moved, Ordering::SeqCst);
        house = House::again(folder, setting.clone());
        let after = now(&house).await;
        // The floor itself ran for a moment on either side, and the last entry is a little older.
        let moment = 60_000;
        let gone = after - before;
        assert!((at_least - moment..=at_most + moment).contains(&gone), "{gone} ms after {moved} ms");
        before = after;
    }
    house.shut().await;
}

#[tokio::test]
async fn unchanged_files_are_journaled_once() {
    let house = House::open();
    let sequence = async |house: &House| house.server().floor().health().await.unwrap().sequence;
    // The clock's mapping, the floor, the programme.
    assert_eq!(sequence(&house).await, 3);
    let house = house.restart().await;
    // That it was down, and the clock's mapping.
    assert_eq!(sequence(&house).await, 5);
    house.shut().await;
}

#[tokio::test]
async fn files_that_take_away_what_is_in_use_are_refused_and_nothing_is_written() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    let arrive = Act::Arrive { group: GroupId(1), clients: vec![ClientId(1), ClientId(2)] };
    assert!(matches!(coach.tap(arrive).await, Outcome::Accepted { .. }));
    let stations = vec![StationId(1), StationId(2)];
    let take = Act::TakeStations { group: GroupId(1), block: 0, stations, revision: 0, despite: None };
    assert!(matches!(coach.tap(take).await, Outcome::Accepted { .. }));
    let folder = house.shut().await;

    let storage = Storage::Folder(folder.path().to_owned());
    let open = || Stored::open(&storage, journal::Options::default()).unwrap();
    let Files { mut floor, programme, names } = files();
    floor.stations.remove(&StationId(1));
    let taken_away = Files { floor, programme, names };
    for _ in 0..2 {
        let stored = open();
        assert!(stored.floor().is_some_and(|floor| floor.stations.len() == 2));
        match stored.begin(taken_away.clone(), Pace::Driven, std::sync::Arc::new(SystemWall)) {
            Err(StartError::InUse(list)) => assert!(!list.is_empty()),
            Err(other) => panic!("{other}"),
            Ok(_) => panic!("started"),
        }
    }
    let (journal, _) = open().begin(files(), Pace::Driven, std::sync::Arc::new(SystemWall)).unwrap();
    // Three at the first start, three with the two taps, what was told of the first sets, two at this start.
    assert_eq!(journal.last().map(|last| last.sequence), Some(9));
}

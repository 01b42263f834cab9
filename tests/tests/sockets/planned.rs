//! What people are told of coming sets while the floor goes on.

use turnabout_protocol::command::Act;
use turnabout_protocol::frame::ToDisplay;
use turnabout_protocol::ids::{ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{CoachView, PromisePart, View};
use turnabout_tests::harness::{Display, House};

const PAIR: GroupId = GroupId(1);
const FIRST: ClientId = ClientId(1);
const SECOND: ClientId = ClientId(2);
/// What is told of a start moves by at least so much.
const MOVES_BY: Secs = Secs(5);

const fn turn(client: ClientId, leg: u8) -> TurnId {
    TurnId { group: PAIR, client, block: 0, round: 0, leg }
}

async fn tapped(display: &mut Display, act: Act) {
    let answer = display.tap(act.clone()).await;
    assert!(matches!(answer, Outcome::Accepted { .. }), "{act:?}: {answer:?}");
}

/// A coach whose pair has arrived and has both stations.
async fn pair_on(house: &House) -> Display {
    let mut coach = Display::coach(house, "coach-1").await;
    tapped(&mut coach, Act::Arrive { group: PAIR, clients: vec![FIRST, SECOND] }).await;
    let stations = vec![StationId(1), StationId(2)];
    tapped(&mut coach, Act::TakeStations { group: PAIR, block: 0, stations, revision: 0, despite: None })
        .await;
    coach
}

/// What is told of a client's coming set on a coach's page.
fn told(view: &CoachView, client: ClientId) -> Option<PromisePart> {
    let clients = view.groups.iter().flat_map(|group| &group.clients);
    clients.filter(|of| of.client == client).find_map(|of| of.turn.as_ref()?.promise.clone())
}

/// The first view in which something is so.
async fn once<T>(display: &mut Display, so: impl Fn(&CoachView) -> Option<T>) -> T {
    loop {
        if let View::Coach(view) = display.view().await
            && let Some(found) = so(&view)
        {
            return found;
        }
    }
}

#[tokio::test]
async fn who_comes_next_is_told_when_and_a_restart_keeps_it() {
    let house = House::open();
    let mut coach = pair_on(&house).await;
    let first = once(&mut coach, |view| told(view, FIRST)).await;
    assert_eq!((first.start, first.reason), (FloorMs(0), StartReason::Ready));
    // Ayla watches both light sets of the first before the second's.
    tapped(&mut coach, Act::Go { turn: turn(FIRST, 0) }).await;
    let now = house.advance(25_000).await;
    let second = once(&mut coach, |view| told(view, SECOND)).await;
    assert!(second.start > now && second.start <= now + Secs(60), "{second:?}");
    assert_eq!((second.reason, second.spotter.as_deref()), (StartReason::SpotterBusy, Some("Ayla")));
    let house = house.restart().await;
    let mut coach = Display::coach(&house, "coach-1").await;
    let after = once(&mut coach, |view| told(view, SECOND)).await;
    assert_eq!(after, second, "what was told is in the journal");
    house.shut().await;
}

#[tokio::test]
async fn time_alone_tells_that_a_set_lasts_longer() {
    let house = House::open();
    let mut coach = pair_on(&house).await;
    tapped(&mut coach, Act::Go { turn: turn(FIRST, 0) }).await;
    house.advance(25_000).await;
    let before = once(&mut coach, |view| told(view, SECOND)).await;
    // Nobody says that the set is over: a minute later Ayla still watches it.
    let now = house.advance(60_000).await;
    let after = once(&mut coach, |view| told(view, SECOND).filter(|told| told.start > now)).await;
    assert!(after.start >= before.start + MOVES_BY, "{before:?}, {after:?}");
    assert_eq!(after.reason, StartReason::SpotterBusy);
    house.shut().await;
}

#[tokio::test]
async fn a_new_plan_is_a_new_revision_though_nothing_happened() {
    let house = House::open();
    let mut coach = pair_on(&house).await;
    tapped(&mut coach, Act::Go { turn: turn(FIRST, 0) }).await;
    house.advance(25_000).await;
    tapped(&mut coach, Act::Done { turn: turn(FIRST, 0), reps: None, effort: None, ending: None }).await;
    let mut last = coach.revision.unwrap();
    house.advance(120_000).await;
    let mut other = Display::coach(&house, "coach-1").await;
    other.view().await;
    // Whatever was shown meanwhile came in order, and what is shown last is what a new display is shown.
    while coach.revision != other.revision {
        if let ToDisplay::View { revision, .. } = coach.frame().await {
            assert!(last.gives_way_to(&revision) || last == revision, "{last:?}, {revision:?}");
            last = revision;
        }
    }
    assert!(last.plan > 0);
    house.shut().await;
}

//! The disk is full: taps are refused with that reason, displays go on, writing resumes by itself.

use std::time::Duration;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::GroupId;
use turnabout_protocol::refusal::{Outcome, Refusal, WriteTrouble};
use turnabout_server::live::{Health, Pace};
use turnabout_tests::harness::{Display, House, Setting};

/// Far more than fit into the pages there are.
const TRIES: u32 = 1_000;

fn act(n: u32) -> Act {
    let group = GroupId(1);
    if n.is_multiple_of(2) { Act::Pause { group } } else { Act::Resume { group, client: None } }
}

async fn health(house: &House) -> Health {
    house.server().floor().health().await.unwrap()
}

/// Taps until the disk is full; gives how many were accepted.
async fn fill(house: &House, coach: &mut Display) -> u32 {
    house.gate().limit_pages(Some(1)).await;
    for n in 0..TRIES {
        // Each tap has a socket's leave of its own: nobody taps so fast.
        if n % 50 == 49 {
            *coach = Display::coach(house, "coach-1").await;
        }
        match coach.tap(act(n)).await {
            Outcome::Accepted { .. } => {}
            Outcome::Refused { refusal: Refusal::NotSaving { writing } } => {
                assert_eq!(writing, WriteTrouble::DiskFull);
                return n;
            }
            other => panic!("{other:?}"),
        }
    }
    panic!("the disk never fills");
}

/// Lets the next probe happen without waiting for it.
async fn probe(house: &House) {
    tokio::time::pause();
    tokio::time::advance(Duration::from_millis(1_001)).await;
    tokio::time::resume();
    health(house).await;
}

#[tokio::test]
async fn taps_are_refused_displays_go_on_and_saving_resumes_by_itself() {
    let house = House::open_with(Setting { pace: Pace::Driven, ..Setting::default() });
    let mut coach = Display::coach(&house, "coach-1").await;
    let before = health(&house).await.sequence;
    let accepted = fill(&house, &mut coach).await;

    let full = Some(WriteTrouble::DiskFull);
    assert_eq!(health(&house).await, Health { sequence: before + u64::from(accepted), writing: full });
    let not_saving = Outcome::Refused { refusal: Refusal::NotSaving { writing: WriteTrouble::DiskFull } };
    assert_eq!(coach.tap(act(accepted)).await, not_saving);
    let mut newcomer = Display::kiosk(&house, "bench-1").await;
    newcomer.view().await;
    assert!(newcomer.until_time(1).await.is_empty());
    assert_eq!(house.request("GET", "/health", "").await.status, 200);
    let advanced = house.request("POST", "/clock/advance", "{\"by_ms\":1000}").await;
    assert_eq!((advanced.status, advanced.header("content-type")), (503, Some("application/problem+json")));
    assert!(advanced.body.contains("not-saving"), "{}", advanced.body);

    // A probe on a disk that is still full changes nothing.
    probe(&house).await;
    assert_eq!(health(&house).await.writing, full);

    house.gate().limit_pages(None).await;
    while health(&house).await.writing.is_some() {
        probe(&house).await;
    }
    let mut coach = Display::coach(&house, "coach-1").await;
    assert!(matches!(coach.tap(act(accepted)).await, Outcome::Accepted { .. }));
    // Everything that was acknowledged is in the journal, and nothing else: the taps that were accepted
    // before, the one after, and at the start anew that the floor was down and what time it is.
    let house = house.restart().await;
    assert_eq!(health(&house).await.sequence, before + u64::from(accepted) + 1 + 2);
    house.shut().await;
}

#[tokio::test]
async fn what_was_refused_for_the_disk_has_not_happened_and_can_be_sent_again() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    let accepted = fill(&house, &mut coach).await;
    // The tap that met the full disk was undone: the group is as the last accepted tap left it.
    house.gate().limit_pages(None).await;
    while health(&house).await.writing.is_some() {
        probe(&house).await;
    }
    let mut coach = Display::coach(&house, "coach-1").await;
    assert!(matches!(coach.tap(act(accepted)).await, Outcome::Accepted { .. }));
    house.shut().await;
}

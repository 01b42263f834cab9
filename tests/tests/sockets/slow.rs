//! A display that does not read holds up nobody.

use std::time::Duration;

use tokio::net::TcpSocket;
use tokio::sync::mpsc;
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::{ToDisplay, ToServer};
use turnabout_protocol::ids::{CoachId, DeviceId, GroupId};
use turnabout_protocol::role::{Actor, Role};
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::live::{BodyHash, TapIn};
use turnabout_server::web::SEND_TIMEOUT;
use turnabout_tests::harness::{Display, House, Setting, WAIT, command, hello};
use uuid::Uuid;

/// So many changes of a page of a few kilobytes are more than the system keeps for a display that does not
/// read.
const CHANGES: u64 = 3_000;

/// Pauses and resumes a group, each in a batch of its own.
async fn change(house: &House, times: u64) {
    let speaker = Speaker { actor: Actor::Coach { coach: CoachId(1) }, stations: vec![] };
    let device = DeviceId(Uuid::new_v4());
    let (reply, mut answers) = mpsc::channel(1);
    for n in 0..times {
        let group = GroupId(1);
        let act = if n % 2 == 0 { Act::Pause { group } } else { Act::Resume { group, client: None } };
        let command = command(FloorMs(0), act);
        let body = BodyHash::of(&command);
        let tap = TapIn { device, speaker: speaker.clone(), command, body, reply: reply.clone() };
        house.server().floor().tap(tap).expect("room");
        answers.recv().await.expect("an answer");
    }
}

/// A coach's page whose system keeps as little as it may.
async fn narrow(house: &House) -> Display {
    let socket = TcpSocket::new_v4().unwrap();
    socket.set_recv_buffer_size(4_096).unwrap();
    let stream = socket.connect(house.server().address()).await.unwrap();
    let mut display = Display::connect_over(stream, house.server().address()).await;
    let role = Role::Coach { coach: "coach-1".parse().unwrap() };
    let hello: ToServer = hello(display.device, role, "coach/coach-1");
    display.send(&hello).await;
    display.until_welcome().await;
    display
}

#[tokio::test]
async fn a_slow_display_skips_to_the_newest_view_and_holds_up_nobody() {
    let house = House::open_with(Setting { on_disk: false, ..Setting::default() });
    let mut slow = narrow(&house).await;
    let mut quick = Display::coach(&house, "coach-2").await;
    let start = {
        quick.view().await;
        quick.revision.unwrap().sequence
    };
    let last = start + CHANGES;
    let reading = async {
        while quick.revision.unwrap().sequence < last {
            quick.view().await;
        }
    };
    let both = async { tokio::join!(change(&house, CHANGES), reading) };
    tokio::time::timeout(WAIT, both).await.expect("nobody waits for the slow one");

    let mut views = 0;
    while slow.revision.is_none_or(|revision| revision.sequence < last) {
        views += u64::from(matches!(slow.frame().await, ToDisplay::View { .. }));
    }
    assert!(views < CHANGES, "{views} views of {CHANGES} changes");
    house.shut().await;
}

#[tokio::test]
async fn a_display_that_never_reads_is_cut() {
    let house = House::open_with(Setting { on_disk: false, ..Setting::default() });
    let mut stuck = narrow(&house).await;
    change(&house, CHANGES).await;
    tokio::time::pause();
    tokio::time::advance(SEND_TIMEOUT + Duration::from_millis(1)).await;
    tokio::time::resume();
    assert_eq!(house.request("GET", "/health", "").await.status, 200);
    assert_eq!(stuck.closed().await, None, "cut without a word, for it would not have been read");
    let last = stuck.revision.map_or(0, |revision| revision.sequence);
    assert!(last < CHANGES, "it never saw the last of {CHANGES} changes but {last}");
    house.shut().await;
}

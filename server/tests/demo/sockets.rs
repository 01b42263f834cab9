//! The invented people at a real server, over real sockets.

use std::net::SocketAddr;
use std::path::Path;
use std::time::Duration;

use tokio::net::TcpListener;
use tokio::time::timeout;
use turnabout_protocol::frame::Fault;
use turnabout_protocol::ids::Key;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::units::Millis;
use turnabout_server::demo::{Cast, DemoError, Summary, run};
use turnabout_server::journal::{self, Storage};
use turnabout_server::live::{Files, Pace, Planning, Stored};
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::web::{Options, Server};

use crate::theatre::{FLOOR, PROGRAMME};

/// Far longer than a short evening lasts at a hundred times the pace.
const PATIENCE: Duration = Duration::from_secs(120);

/// The example files, with one working round in each block to be brief.
fn files() -> Files {
    let floor = parse_floor("floor.toml", FLOOR, None).unwrap();
    let brief = PROGRAMME.replace("rounds = 3", "rounds = 1");
    let programme = parse_programme("programme.toml", &brief, &floor.floor).unwrap();
    let mut names = floor.names;
    names.extend(programme.names);
    Files { floor: floor.floor, programme: Some(programme.programme), names }
}

fn cast() -> Cast {
    let floor = files().floor;
    let coaches = floor.coaches.values().map(|coach| coach.key.clone()).collect();
    Cast { coaches, stations: floor.stations.values().map(|station| station.key.clone()).collect() }
}

async fn serve(at: SocketAddr, folder: &Path, pace: Pace) -> Server {
    let listener = TcpListener::bind(at).await.unwrap();
    let stored = Stored::open(&Storage::Folder(folder.to_owned()), journal::Options::default()).unwrap();
    Server::start(
        listener,
        stored,
        files(),
        Options { pace, planning: Planning::of(pace), ..Options::default() },
    )
    .unwrap()
}

fn any_port() -> SocketAddr {
    "127.0.0.1:0".parse().unwrap()
}

fn everybody_got_done(summary: &Summary) {
    assert_eq!((summary.finished_groups, summary.groups), (4, 4), "{summary:?}");
    let refused: u64 = summary.refused.values().sum();
    assert!(refused * 20 <= summary.taps, "a few per cent at the most: {summary:?}");
    assert!(summary.accepted + summary.already + refused <= summary.taps, "{summary:?}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_evening_at_a_hundred_times_the_pace_outlives_a_restart_of_the_server() {
    let folder = tempfile::tempdir().unwrap();
    let pace = Pace::Running(100);
    let server = serve(any_port(), folder.path(), pace).await;
    let address = server.address();
    let evening = tokio::spawn(run(address, cast(), 1, std::future::pending()));
    // Some sets have been done by then.
    until(&server, 40).await;
    server.shutdown().await.unwrap();
    let server = serve(address, folder.path(), pace).await;
    let summary = timeout(PATIENCE, evening).await.expect("it ends").unwrap().unwrap();
    everybody_got_done(&summary);
    assert!(summary.reconnected >= 10, "everybody came back: {summary:?}");
    server.shutdown().await.unwrap();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_evening_whose_clock_is_driven_by_hand() {
    let folder = tempfile::tempdir().unwrap();
    let server = serve(any_port(), folder.path(), Pace::Driven).await;
    let mut evening = tokio::spawn(run(server.address(), cast(), 2, std::future::pending()));
    let ended = timeout(PATIENCE, async {
        loop {
            tokio::select! {
                ended = &mut evening => return ended,
                moved = server.floor().advance(Millis(500)) => assert!(matches!(moved, Ok(Ok(_)))),
            }
        }
    });
    everybody_got_done(&ended.await.expect("it ends").unwrap().unwrap());
    server.shutdown().await.unwrap();
}

#[tokio::test]
async fn an_evening_is_over_when_it_is_told_to_stop() {
    let folder = tempfile::tempdir().unwrap();
    let server = serve(any_port(), folder.path(), Pace::Running(100)).await;
    let stop = until(&server, 10);
    let summary = timeout(PATIENCE, run(server.address(), cast(), 3, stop)).await.expect("it ends").unwrap();
    assert!(summary.finished_groups < summary.groups, "{summary:?}");
    server.shutdown().await.unwrap();
}

#[tokio::test]
async fn whom_the_server_does_not_know_ends_the_demo_with_the_reason() {
    let folder = tempfile::tempdir().unwrap();
    let server = serve(any_port(), folder.path(), Pace::Running(1)).await;
    let stranger: Key = "nobody".parse().unwrap();
    let cast = Cast { coaches: vec![stranger.clone()], stations: Vec::new() };
    let ended =
        timeout(PATIENCE, run(server.address(), cast, 4, std::future::pending())).await.expect("it ends");
    assert_eq!(ended, Err(DemoError::Rejected { topic: Topic::Coach(stranger), fault: Fault::UnknownTopic }));
    let nobody = run(server.address(), Cast::default(), 4, std::future::pending()).await;
    assert_eq!(nobody, Err(DemoError::NoCoach));
    server.shutdown().await.unwrap();
}

/// Until the board has shown something new so often.
async fn until(server: &Server, times: usize) {
    let mut board = server.floor().join(Role::Board, Topic::Board).await.unwrap().unwrap();
    let enough = async {
        for _ in 0..times {
            board.frames.changed().await.unwrap();
        }
    };
    timeout(PATIENCE, enough).await.expect("people tap");
}

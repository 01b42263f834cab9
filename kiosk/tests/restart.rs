//! A display that dies on its wall comes back as itself: its settings are in a file, and nothing else is kept.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "common/kiosk.rs"]
mod kiosk;
mod scenes;
#[path = "common/server.rs"]
mod server;

use std::fs;
use std::process::Command;

use kiosk::Kiosk;
use scenes::*;
use server::Server;
use tokio::net::TcpListener;
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::ToServer;
use uuid::Uuid;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_killed_display_starts_again_as_the_same_one_with_the_same_face() {
    let listener = TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kiosk.json");
    let port = listener.local_addr().unwrap().port();
    let file = format!(r#"{{"server": "http://127.0.0.1:{port}", "shows": ["bench-1"], "language": "de"}}"#);
    fs::write(&path, file).unwrap();
    let settings = ["--settings", path.to_str().unwrap()];
    let epoch = Uuid::from_u128(5);
    let mut seen = Vec::new();
    for _ in 0..2 {
        let mut kiosk = Kiosk::with(&settings);
        let (mut server, hello) = Server::meet(&listener, epoch).await;
        server.show(epoch, 1, coming(rest(-1), -1, -1, &[])).await;
        let line = kiosk.line(|line| line["face"]["body"]["panels"][0]["phase"] == "ready");
        kiosk.press(r#"{"tap":"go"}"#);
        let ToServer::Command(go) = server.hear().await else { panic!("a command") };
        assert_eq!(go.act, Act::Go { turn: turn_id(1, 2, 0) });
        kiosk.kill();
        let ToServer::Hello { device, role, topic, .. } = hello else { panic!("{hello:?}") };
        seen.push((device, role, topic.to_string(), line));
    }
    assert_eq!(seen[0], seen[1]);
    assert_eq!(seen[0].2, "station/bench-1");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_second_display_with_the_same_file_says_who_holds_it_and_goes() {
    let listener = TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kiosk.json");
    let path = path.to_str().unwrap();
    let first = Kiosk::start(listener.local_addr().unwrap().port(), &["--board", "--settings", path]);
    first.line(|line| line["face"]["body"]["text"] == "Looking for the server");
    let second = Command::new(env!("CARGO_BIN_EXE_turnabout-kiosk"))
        .args(["--headless", "--settings", path])
        .output()
        .unwrap();
    assert_eq!(second.status.code(), Some(1));
    let told = String::from_utf8(second.stderr).unwrap();
    assert!(told.contains(&format!("another kiosk (process {})", first.number())), "{told}");
    assert_eq!(first.end(), Some(0));
}

#[test]
fn a_broken_file_is_told_and_set_aside_and_a_display_without_a_window_says_what_it_needs() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kiosk.json");
    fs::write(&path, r#"{"shows": ["bench-1""#).unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_turnabout-kiosk"))
        .args(["--headless", "--settings", path.to_str().unwrap()])
        .output()
        .unwrap();
    assert_eq!(run.status.code(), Some(2));
    let told = String::from_utf8(run.stderr).unwrap();
    assert!(told.contains("line 1, column 20") && told.contains("kiosk.json.broken-1"), "{told}");
    assert!(told.contains("--server"), "{told}");
    assert_eq!(
        fs::read_to_string(folder.path().join("kiosk.json.broken-1")).unwrap(),
        r#"{"shows": ["bench-1""#
    );
}

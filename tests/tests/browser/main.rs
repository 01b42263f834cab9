//! The pages in a real browser, against the real server on the example files: Debian's Chromium, driven from
//! outside, opens them on a phone's screen, taps, and looks at what became of it.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod access;
mod evening;
mod journaled;
mod offline;
mod paper;
mod printed;
mod together;

use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::time::Duration;

use serde_json::{Value, json};
use tokio::process::Command;
use tokio::time::timeout;
use turnabout_protocol::command::Act;
use turnabout_protocol::role::Role;
use turnabout_protocol::view::{Attendance, CoachClient, CoachView, Stage, View};
use turnabout_tests::harness::{Display, Program, request};
use turnabout_tests::outside;

/// A browser starts, opens five pages and taps once. Loaded build machines take a minute.
const PATIENCE: Duration = Duration::from_secs(180);

fn repository(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path)
}

/// The real server on the example floor with a programme, and a clock that stands still.
async fn serve(programme: &str, data: &Path) -> (Program, SocketAddr) {
    serve_on(&repository("server/examples/floor.toml"), programme, data).await
}

/// The same on a floor of one's own.
async fn serve_on(floor: &Path, programme: &str, data: &Path) -> (Program, SocketAddr) {
    serve_at("0", floor, programme, data).await
}

/// The same with a clock that runs so many times as fast as a wall's.
async fn serve_at(pace: &str, floor: &Path, programme: &str, data: &Path) -> (Program, SocketAddr) {
    let floor = floor.display().to_string();
    let programme = repository(programme).display().to_string();
    let data = data.display().to_string();
    let start = ["serve", "--floor", &floor, "--programme", &programme, "--data", &data];
    let arguments = [&start[..], &["--listen", "127.0.0.1:0", "--pace", pace]].concat();
    let mut server = Program::ours("turnabout", &arguments);
    let line = server.line().await.expect("the server says where it is");
    let address = line.rsplit("http://").next().unwrap().parse().unwrap_or_else(|_| panic!("{line}"));
    (server, address)
}

/// The page of the first coach, as the server has it.
async fn page(address: SocketAddr) -> CoachView {
    let role = Role::Coach { coach: "coach-1".parse().unwrap() };
    let mut display = Display::open_as(address, None, role, "coach/coach-1").await;
    let View::Coach(page) = display.view().await else { panic!("a coach's page") };
    page
}

/// What a script under `tests/outside/page/` says, as JSON; nothing where there is no browser.
///
/// # Panics
/// Where the script fails or is not done within `patience`.
async fn driven(script: &str, arguments: &[String], patience: Duration) -> Option<Value> {
    let (node, modules, _) = (outside::node()?, outside::node_modules()?, outside::chromium()?);
    let drive = Command::new(node)
        .arg(repository("tests/outside/page").join(script))
        .args(arguments)
        .env("TURNABOUT_OUTSIDE_NODE_MODULES", modules)
        .kill_on_drop(true)
        .output();
    let drive = timeout(patience, drive).await.expect("the browser is done in time").unwrap();
    let (told, trouble) = (String::from_utf8_lossy(&drive.stdout), String::from_utf8_lossy(&drive.stderr));
    assert!(drive.status.success(), "{told}{trouble}");
    Some(serde_json::from_str(&told).unwrap_or_else(|error| panic!("{error}: {told}")))
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_coach_says_with_a_thumb_who_has_come() {
    let folder = tempfile::tempdir().unwrap();
    let (server, address) = serve("server/examples/programme.toml", folder.path()).await;
    let before = page(address).await;
    let expected = |page: &CoachView| page.groups.iter().filter(|g| g.stage == Stage::Expected).count();
    assert!(matches!(before.groups[0].taps[0].act, Act::Arrive { .. }), "{before:?}");

    let picture = folder.path().join("coach.png");
    let arguments = [format!("http://{address}"), picture.display().to_string(), "coach-1".to_owned()];
    let Some(summary) = driven("drive.mjs", &arguments, PATIENCE).await else { return };
    assert!(summary["tapped"].as_str().unwrap().starts_with("Arrived"), "{summary}");
    assert!(summary["targets"].as_u64().unwrap() >= 10, "hardly anything to tap was looked at: {summary}");
    assert!(summary["rules"].as_u64().unwrap() >= 15, "axe-core looked at hardly anything: {summary}");

    // The floor itself says that the tap counted, and once.
    let after = page(address).await;
    assert_eq!(expected(&after) + 1, expected(&before), "{after:?}");
    let here = |c: &CoachClient| c.attendance == Attendance::Here;
    assert!(after.groups[0].clients.iter().all(here), "{after:?}");
    // PNG (ISO/IEC 15948): the signature, and width and height in the first chunk.
    let png = std::fs::read(&picture).unwrap();
    assert_eq!(&png[..8], b"\x89PNG\r\n\x1a\n");
    assert_eq!((&png[16..20], &png[20..24]), (&360_u32.to_be_bytes()[..], &740_u32.to_be_bytes()[..]));
    assert!(server.interrupt().await.success());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_coach_enters_a_client_and_a_table() {
    let folder = tempfile::tempdir().unwrap();
    let (server, address) = serve("server/examples/programme.toml", folder.path()).await;
    let arguments = [format!("http://{address}"), folder.path().display().to_string(), "coach-1".to_owned()];
    let Some(summary) = driven("enter.mjs", &arguments, PATIENCE).await else { return };
    assert!(summary["targets"].as_u64().unwrap() >= 100, "hardly anything was looked at: {summary}");

    // The server itself says what was saved: by the page, and by the table, whose bad row was left out.
    let shown = request(address, "GET", "/coaches/coach-1/programme", "").await;
    let shown: Value = serde_json::from_str(&shown.body).unwrap();
    assert_eq!(shown["set"]["coach"], "coach-1");
    let clients = shown["programme"]["client"].as_array().unwrap();
    let named =
        |number| clients.iter().find(|client| client["number"] == number).map(|client| &client["name"]);
    assert_eq!((named(777), named(778), named(779)), (Some(&json!("Yara")), Some(&json!("Zeno")), None));
    assert!(server.interrupt().await.success());
}

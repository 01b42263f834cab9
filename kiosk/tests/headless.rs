//! The real program without a window, against a server of this test on loopback that drives the clock.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "common/kiosk.rs"]
mod kiosk;
mod scenes;
#[path = "common/server.rs"]
mod server;

use std::process::Command;

use kiosk::Kiosk;
use scenes::*;
use serde_json::Value;
use server::Server;
use tokio::net::TcpListener;
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::{PROTOCOL, Revision, ToDisplay, ToServer};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

fn panel(line: &Value) -> &Value {
    &line["face"]["body"]["panels"][0]
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_set_from_rest_to_done_with_a_lost_link_in_the_middle() {
    let listener = TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
    let mut kiosk = Kiosk::start(listener.local_addr().unwrap().port(), &["--station", "bench-1"]);
    kiosk.line(|line| line["face"]["body"]["text"] == "Looking for the server");
    let epoch = Uuid::from_u128(5);
    let (mut server, hello) = Server::meet(&listener, epoch).await;
    let ToServer::Hello { protocol: PROTOCOL, topic, .. } = hello else { panic!("{hello:?}") };
    assert_eq!(topic.to_string(), "station/bench-1");

    server.show(epoch, 1, coming(rest(30), 30, 30, &[])).await;
    let line = kiosk.line(|line| panel(line)["phase"] == "rest");
    assert_eq!((&line["now"], &panel(&line)["count"]), (&NOW.0.into(), &"0:30".into()));
    server.say(&ToDisplay::Clock { now: at(31) }).await;
    kiosk.line(|line| panel(line)["phase"] == "ready" && panel(line)["count"] == "+0:01");

    kiosk.press(r#"{"tap":"go"}"#);
    let ToServer::Command(go) = server.hear().await else { panic!("a command") };
    assert_eq!((&go.act, go.at), (&Act::Go { turn: turn_id(1, 2, 0) }, at(31)));
    server.say(&ToDisplay::Answer { id: go.id, answer: Outcome::Accepted { recorded: at(31) } }).await;
    server.show(epoch, 2, under_way(42)).await;
    server.say(&ToDisplay::Clock { now: at(100) }).await;
    kiosk.line(|line| panel(line)["phase"] == "assumed" && panel(line)["count"] == "+0:18");

    // The link breaks with the answer outstanding: the same tap comes again, with the same id.
    kiosk.press(r#"{"tap":"done_right","station":"bench-1"}"#);
    let ToServer::Command(first) = server.hear().await else { panic!("a command") };
    drop(server);
    kiosk.line(|line| line["face"]["link"].as_str().is_some_and(|said| said.starts_with("No link")));
    let (mut server, _) = Server::meet(&listener, Uuid::from_u128(6)).await;
    let ToServer::Command(again) = server.hear().await else { panic!("a command") };
    assert_eq!(again, first);
    server
        .say(&ToDisplay::Answer {
            id: again.id,
            answer: Outcome::Already { by: Actor::Floor, when: FloorMs(1) },
        })
        .await;
    kiosk.line(|line| line["face"]["notice"] == "Already done.");
    assert_eq!(kiosk.end(), Some(0));
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn plates_are_put_right_by_keys_and_nothing_is_sent_before_that_is_right() {
    let listener = TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
    let mut kiosk = Kiosk::start(listener.local_addr().unwrap().port(), &["--station", "bench-1"]);
    let epoch = Uuid::from_u128(5);
    let (mut server, _) = Server::meet(&listener, epoch).await;
    let topic = "station/bench-1".parse().unwrap();
    let revision = Revision { epoch, sequence: 1, plan: 0 };
    let view = view(vec![bench_with_plates()]);
    server.say(&ToDisplay::View { topic, revision, as_of: NOW, view }).await;
    kiosk.line(|line| panel(line)["not_as_shown"]["enabled"] == true);
    let mut press = |key: &str, said: &str| {
        kiosk.press(&format!(r#"{{"key":"{key}"}}"#));
        kiosk.line(|line| line["face"]["pad"]["said"].as_str().is_some_and(|now| now == said));
    };
    press("not-as-shown", "each side 10  =  40 kg");
    press("take-off", "bar only  =  20 kg");
    press("plate-1", "each side 20  =  60 kg");
    press("plate-3", "each side 20 + 5  =  70 kg");
    kiosk.press(r#"{"key":"say"}"#);
    let ToServer::Command(said) = server.hear().await else { panic!("a command") };
    let side = vec![plate("20"), plate("5")];
    assert_eq!(said.act, Act::PlatesOn { station: StationId(1), side, bar: 0 });
    kiosk.line(|line| line["face"]["pad"].is_null());
    assert_eq!(kiosk.end(), Some(0));
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_pacer_of_a_set_is_turned_off_and_on_by_a_key_that_sends_nothing() {
    let listener = TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
    let mut kiosk = Kiosk::start(listener.local_addr().unwrap().port(), &["--station", "bench-1"]);
    let epoch = Uuid::from_u128(5);
    let (mut server, _) = Server::meet(&listener, epoch).await;
    server.show(epoch, 1, under_way(-13)).await;
    let on = |line: &Value| panel(line)["pacer"]["word"] == "Lower" && panel(line)["pace"] == "pace: 4 of 10";
    kiosk.line(on);
    kiosk.press(r#"{"key":"pace-off","station":"bench-1"}"#);
    kiosk.line(|line| panel(line)["pacer"].is_null() && panel(line)["pace"] == "");
    kiosk.press(r#"{"key":"pace-on"}"#);
    kiosk.line(on);
    // The first that the server hears is the next tap.
    kiosk.press(r#"{"tap":"coach_please"}"#);
    let ToServer::Command(call) = server.hear().await else { panic!("a command") };
    assert!(matches!(call.act, Act::Call { .. }), "{call:?}");
    assert_eq!(kiosk.end(), Some(0));
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_end_of_its_input_ends_it_before_any_server_is_there() {
    let listener = TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
    let port = listener.local_addr().unwrap().port();
    drop(listener);
    let kiosk = Kiosk::start(port, &["--board", "--language", "de"]);
    kiosk.line(|line| line["face"]["body"]["text"] == "Suche den Server");
    assert_eq!(kiosk.end(), Some(0));
}

#[test]
fn a_command_line_that_makes_no_sense_is_explained() {
    for wrong in [
        vec!["--headless", "--server", "http://127.0.0.1:1"],
        vec!["--headless", "--board"],
        vec!["--server", "https://127.0.0.1:1", "--board"],
        vec!["--server", "http://127.0.0.1:1", "--station", "a,a"],
        vec!["--server", "http://127.0.0.1:1", "--station", "a", "--board"],
        vec!["--server", "http://127.0.0.1:0", "--board"],
        vec!["--rotation", "45"],
        vec!["--diagonal", "4.9"],
        vec!["--sound", "loud"],
    ] {
        let run = Command::new(env!("CARGO_BIN_EXE_turnabout-kiosk")).args(&wrong).output().unwrap();
        assert_eq!(run.status.code(), Some(2), "{wrong:?}");
        assert!(!run.stderr.is_empty(), "{wrong:?}");
    }
}

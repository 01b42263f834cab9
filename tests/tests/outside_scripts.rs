//! The outside scripts themselves, against a small server that behaves or not: a watcher that accepts
//! everything would make every check through it worthless.

use std::{
    io::{Read as _, Write as _},
    net::{TcpListener, TcpStream},
    path::{Path, PathBuf},
    process::{Command, Output},
    thread,
};

use serde_json::{Value, json};
use tokio_tungstenite::tungstenite::{Message, accept};
use turnabout_tests::outside;
use uuid::Uuid;

const EPOCH: Uuid = Uuid::from_u128(7);

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn listener() -> TcpListener {
    TcpListener::bind(("127.0.0.1", 0)).expect("loopback has a free port")
}

fn welcome() -> Value {
    json!({"frame": "welcome", "protocol": turnabout_protocol::frame::PROTOCOL, "epoch": EPOCH, "rate": 0, "now": 5})
}

fn view(sequence: u64, state: &str) -> Value {
    let station = json!({"station": 1, "key": "bench-1", "name": "Bench 1", "gear": "bar", "state": state});
    json!({
        "frame": "view", "topic": "station/bench-1", "as_of": sequence,
        "revision": {"epoch": EPOCH, "sequence": sequence, "plan": 0},
        "view": {"is": "station", "zone_offset": 3600, "clock": {"floor": 0, "utc_ms": 0}, "stations": [station]},
    })
}

/// Serves these frames to one display after its `hello`, and runs the watcher on them.
fn watch(python: &Path, until: &str, frames: &[Value]) -> Output {
    let listener = listener();
    let port = listener.local_addr().expect("bound").port();
    let texts: Vec<String> = frames.iter().map(Value::to_string).collect();
    let server = thread::spawn(move || {
        let (stream, _) = listener.accept().expect("the watcher connects");
        let mut socket = accept(stream).expect("the watcher shakes hands");
        let hello = socket.read().expect("the watcher says hello").into_text().expect("text");
        for text in texts {
            // The watcher hangs up as soon as it has seen enough.
            if socket.send(Message::text(text)).is_err() {
                break;
            }
        }
        let _ = socket.close(None);
        while socket.read().is_ok() {}
        hello.as_str().to_owned()
    });
    let folder = tempfile::tempdir().expect("a scratch folder");
    let output = Command::new(python)
        .arg(here("outside/watch_station.py"))
        .args(["--url", &format!("ws://127.0.0.1:{port}/socket")])
        .args(["--schema-url", &format!("file://{}", here("../protocol/schema/to-display.json").display())])
        .args(["--topic", "station/bench-1", "--until", until, "--timeout", "20", "--out"])
        .arg(folder.path().join("frames.jsonl"))
        .output()
        .expect("Python starts");
    let hello = server.join().expect("the small server ends");
    let hello: turnabout_protocol::frame::ToServer = serde_json::from_str(&hello).expect("our hello");
    assert!(matches!(
        hello,
        turnabout_protocol::frame::ToServer::Hello { protocol: turnabout_protocol::frame::PROTOCOL, .. }
    ));
    output
}

#[test]
fn the_watcher_follows_a_station_to_its_end() {
    let Some(python) = outside::python() else { return };
    let states = ["free", "reserved", "in_use", "wipe_down", "free"];
    let views = states.iter().zip(1..).map(|(state, sequence)| view(sequence, state));
    let output = watch(&python, "finished", &[welcome()].into_iter().chain(views).collect::<Vec<_>>());
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let said = String::from_utf8(output.stdout).expect("text");
    let [watching, summary] = said.lines().collect::<Vec<_>>()[..] else { panic!("{said}") };
    assert_eq!(watching, "watching");
    let summary: Value = serde_json::from_str(summary).expect("a summary");
    assert_eq!(summary["views"], 5);
    assert_eq!(summary["validated"], 6);
    assert_eq!(summary["states"], json!(["free", "in_use", "reserved", "wipe_down"]));
}

#[test]
fn the_watcher_refuses_what_is_against_the_contract() {
    let Some(python) = outside::python() else { return };
    let mut extra = view(1, "free");
    extra["view"]["stations"][0]["effort"] = json!("hard");
    let mut other_topic = view(1, "free");
    other_topic["topic"] = json!("board");
    let mut other_epoch = view(1, "free");
    other_epoch["revision"]["epoch"] = json!(Uuid::from_u128(8));
    let late = json!({"frame": "fault", "fault": {"fault": "hello_late"}});
    let cases: [(&str, Vec<Value>); 8] = [
        ("no welcome", vec![view(1, "free")]),
        ("not as the schema says", vec![welcome(), extra]),
        ("not as the schema says", vec![welcome(), view(1, "asleep")]),
        ("goes back", vec![welcome(), view(2, "free"), view(1, "free")]),
        ("watching station/bench-1", vec![welcome(), other_topic]),
        ("after a welcome of", vec![welcome(), other_epoch]),
        ("nobody asked", vec![welcome(), late]),
        ("connection is lost", vec![welcome(), view(1, "free")]),
    ];
    for (reason, frames) in cases {
        let output = watch(&python, "3", &frames);
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{reason}: {said}");
        assert!(said.contains(reason), "{reason}: {said}");
    }
}

/// Runs the handshake check against a server that answers with this accept key, or really.
fn handshake(python: &Path, answer: impl FnOnce(TcpStream) + Send + 'static) -> Output {
    let listener = listener();
    let port = listener.local_addr().expect("bound").port();
    let server = thread::spawn(move || answer(listener.accept().expect("the check connects").0));
    let output = Command::new(python)
        .arg(here("outside/accept_key.py"))
        .args(["127.0.0.1", &port.to_string(), "/socket"])
        .output()
        .expect("Python starts");
    server.join().expect("the small server ends");
    output
}

/// RFC 6455, section 1.3: the example's key and answer.
#[test]
fn the_handshake_check_takes_the_example_of_rfc_6455_and_nothing_else() {
    let Some(python) = outside::python() else { return };
    let right = handshake(&python, |stream| drop(accept(stream)));
    assert!(right.status.success(), "{}", String::from_utf8_lossy(&right.stderr));
    let wrong = handshake(&python, |mut stream| {
        // Unread bytes at the end would turn the close into a reset.
        let _ = stream.read(&mut [0; 4096]);
        let head = "HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n\
                    Sec-WebSocket-Accept: AAAAAAAAAAAAAAAAAAAAAAAAAAA=\r\n\r\n";
        let _ = stream.write_all(head.as_bytes());
    });
    assert_eq!(wrong.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&wrong.stderr).contains("section 1.3"));
}

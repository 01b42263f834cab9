//! The opening handshake of the real server, against the example that RFC 6455 prints in section 1.3.
//!
//! Once by a script that is not ours to link with, and once byte by byte over a plain socket, so that the check
//! stands where no tool is installed. Both compute nothing: key and answer are the ones printed there.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

use std::io::{Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::process::Command;
use std::time::Duration;

use tokio::task::spawn_blocking;
use turnabout_tests::harness::House;
use turnabout_tests::outside;

/// RFC 6455, section 1.3: the example's `Sec-WebSocket-Key`.
const KEY: &str = "dGhlIHNhbXBsZSBub25jZQ==";
/// RFC 6455, section 1.3: the `Sec-WebSocket-Accept` that belongs to it.
const ACCEPT: &str = "s3pPLMBiTxaQ9kYGzzhZRbK+xOo=";
/// On loopback an answer comes at once or not at all.
const PATIENCE: Duration = Duration::from_secs(10);
/// The head of an answer is a few lines.
const MOST_HEAD: usize = 16 * 1024;

/// The head of the answer to a handshake with these lines between the request line and the empty one.
fn head(address: SocketAddr, lines: &[&str]) -> String {
    let mut stream = TcpStream::connect_timeout(&address, PATIENCE).unwrap();
    stream.set_read_timeout(Some(PATIENCE)).unwrap();
    let request = format!("GET /socket HTTP/1.1\r\nHost: {address}\r\n{}\r\n\r\n", lines.join("\r\n"));
    stream.write_all(request.as_bytes()).unwrap();
    let mut answer = Vec::new();
    let end = loop {
        if let Some(end) = answer.windows(4).position(|four| four == b"\r\n\r\n") {
            break end;
        }
        assert!(answer.len() < MOST_HEAD, "no end of the head");
        let mut piece = [0; 512];
        let read = stream.read(&mut piece).unwrap();
        assert!(read > 0, "closed after {:?}", String::from_utf8_lossy(&answer));
        answer.extend_from_slice(&piece[..read]);
    };
    String::from_utf8(answer[..end].to_vec()).unwrap()
}

fn field<'h>(head: &'h str, name: &str) -> Option<&'h str> {
    let pairs = head.lines().skip(1).filter_map(|line| line.split_once(':'));
    pairs.filter(|(key, _)| key.eq_ignore_ascii_case(name)).map(|(_, value)| value.trim()).next()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_server_answers_the_examples_key_over_a_plain_socket() {
    let house = House::open();
    let address = house.server().address();
    let key = format!("Sec-WebSocket-Key: {KEY}");
    let answer = spawn_blocking(move || {
        head(address, &["Upgrade: websocket", "Connection: Upgrade", &key, "Sec-WebSocket-Version: 13"])
    });
    let answer = answer.await.unwrap();
    assert!(answer.starts_with("HTTP/1.1 101 "), "section 4.2.2: {answer}");
    assert_eq!(field(&answer, "sec-websocket-accept"), Some(ACCEPT), "section 1.3: {answer}");
    // Section 4.2.2: both without regard to case.
    let lower = |name| field(&answer, name).map(str::to_ascii_lowercase);
    assert_eq!(lower("upgrade").as_deref(), Some("websocket"), "{answer}");
    assert_eq!(lower("connection").as_deref(), Some("upgrade"), "{answer}");
    house.shut().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_handshake_without_a_key_or_of_another_version_is_no_socket() {
    let house = House::open();
    let address = house.server().address();
    let key = format!("Sec-WebSocket-Key: {KEY}");
    let answers = spawn_blocking(move || {
        let start = ["Upgrade: websocket", "Connection: Upgrade"];
        // Section 4.2.1: a key and the version 13 are required.
        [[start[0], start[1], "Sec-WebSocket-Version: 13"], [start[0], start[1], &key]]
            .map(|lines| head(address, &lines))
    });
    for answer in answers.await.unwrap() {
        assert!(answer.starts_with("HTTP/1.1 4"), "{answer}");
        assert_eq!(field(&answer, "sec-websocket-accept"), None, "{answer}");
    }
    house.shut().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_outside_script_finds_the_examples_answer() {
    let Some(python) = outside::python() else { return };
    let house = House::open();
    let address = house.server().address();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/accept_key.py");
    let told = spawn_blocking(move || {
        let arguments = [address.ip().to_string(), address.port().to_string(), "/socket".to_owned()];
        Command::new(python).arg(script).args(arguments).output()
    });
    let told = told.await.unwrap().unwrap();
    assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
    house.shut().await;
}

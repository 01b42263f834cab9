//! Times that leave the server as text: the log's, which must be those of RFC 3339, read by a parser that is
//! not ours.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{SystemTime, UNIX_EPOCH};

use turnabout_tests::outside;

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// What the parser says of each: microseconds since 1970-01-01T00:00:00Z, or nothing.
fn read(python: &Path, times: &[String]) -> Vec<Option<i128>> {
    let mut parser = Command::new(python)
        .arg(here("outside/rfc3339.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let text: String = times.iter().map(|time| format!("{time}\n")).collect();
    parser.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    let output = parser.wait_with_output().unwrap();
    assert!(output.status.success());
    let said = String::from_utf8(output.stdout).unwrap();
    let said: Vec<_> = said.lines().map(|line| line.parse().ok()).collect();
    assert_eq!(said.len(), times.len());
    said
}

/// RFC 3339, section 5.8: the examples; which of them are the same instant is said there too.
#[test]
fn the_parser_reads_the_examples_of_rfc_3339_and_nothing_else() {
    let Some(python) = outside::python() else { return };
    let times = [
        ("1985-04-12T23:20:50.52Z", Some(482_196_050_520_000)),
        ("1996-12-19T16:39:57-08:00", Some(851_042_397_000_000)),
        ("1996-12-20T00:39:57Z", Some(851_042_397_000_000)),
        ("1990-12-31T23:59:60Z", Some(662_688_000_000_000)),
        ("1990-12-31T15:59:60-08:00", Some(662_688_000_000_000)),
        ("1937-01-01T12:00:27.87+00:20", Some(-1_041_337_172_130_000)),
        ("1990-12-31T23:58:60Z", None),
        ("1985-04-12 23:20:50Z", None),
        ("1985-04-12T23:20:50", None),
        ("1985-04-12T23:20Z", None),
        ("1985-02-29T23:20:50Z", None),
        ("1985-04-12T24:00:00Z", None),
        ("1985-04-12T23:20:50+24:00", None),
        ("19850412T232050Z", None),
    ];
    let said = read(&python, &times.map(|(time, _)| time.to_owned()));
    for ((time, expected), said) in times.into_iter().zip(said) {
        assert_eq!(said, expected, "{time}");
    }
}

fn now_micros() -> i128 {
    i128::try_from(SystemTime::now().duration_since(UNIX_EPOCH).unwrap().as_micros()).unwrap()
}

/// The times of all log lines of a start of the real server, with everything logged.
fn log_times(data: &Path) -> Vec<String> {
    let test = std::env::current_exe().unwrap();
    let program = test.parent().and_then(Path::parent).unwrap().join("turnabout");
    assert!(program.exists(), "{} is missing: cargo build --workspace --bins", program.display());
    let mut server = Command::new(program)
        .args(["serve", "--listen", "127.0.0.1:0", "--pace", "0", "--floor"])
        .arg(here("../server/examples/floor.toml"))
        .arg("--data")
        .arg(data)
        .envs([("RUST_LOG", "turnabout_server=trace"), ("NO_COLOR", "1")])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // It says where it is once it is set up, and has logged that before.
    let mut line = String::new();
    BufReader::new(server.stdout.take().unwrap()).read_line(&mut line).unwrap();
    server.kill().unwrap();
    let output = server.wait_with_output().unwrap();
    let log = String::from_utf8(output.stderr).unwrap();
    log.lines().map(|line| line.split_whitespace().next().unwrap_or_default().to_owned()).collect()
}

#[test]
fn the_log_says_when_as_rfc_3339_does() {
    let Some(python) = outside::python() else { return };
    let folder = tempfile::tempdir().unwrap();
    let before = now_micros();
    let times = log_times(folder.path());
    let after = now_micros();
    assert!(!times.is_empty(), "nothing was logged");
    for (time, said) in times.iter().zip(read(&python, &times)) {
        let said = said.unwrap_or_else(|| panic!("{time} is no time"));
        assert!((before..=after).contains(&said), "{time}");
        assert!(time.ends_with('Z'), "{time}: logs are in UTC");
    }
}

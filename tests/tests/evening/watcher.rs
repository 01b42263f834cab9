//! The independent client: Python's `websockets` and `jsonschema` on the bench's station, over the whole
//! evening and the restart.

use std::net::SocketAddr;
use std::path::Path;

use serde_json::Value;
use turnabout_tests::harness::Program;
use turnabout_tests::outside;

/// Starts it and waits until it watches; nothing where its tools are missing, which is noted as a skip.
pub(crate) async fn start(address: SocketAddr, folder: &Path) -> Option<Program> {
    let python = outside::python()?;
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/watch_station.py").display().to_string();
    let url = format!("ws://{address}/socket");
    let schema = format!("http://{address}/schema/to-display.json");
    let out = folder.join("watched.jsonl").display().to_string();
    let arguments = [
        &script,
        "--url",
        &url,
        "--schema-url",
        &schema,
        "--topic",
        "station/bench-1",
        "--until",
        "finished",
        "--out",
        &out,
        "--reconnect",
        "30",
    ];
    let mut watcher = Program::start(&python, &arguments);
    assert_eq!(watcher.line().await.as_deref(), Some("watching"));
    Some(watcher)
}

/// Its summary, once it has seen enough.
pub(crate) async fn finished(watcher: Option<Program>) -> Option<Value> {
    let mut watcher = watcher?;
    let line = watcher.line().await.expect("a summary; the reason is on standard error");
    assert!(watcher.ended().await.success());
    Some(serde_json::from_str(&line).unwrap())
}

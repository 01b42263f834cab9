//! Golden files of every frame: what went over the wire once must go on being read the same.
//!
//! After a wanted change: `GOLDEN=write cargo test -p turnabout-protocol --test golden_frames`.

mod admission;
mod cards;
#[path = "../common/mod.rs"]
mod common;
mod complete;
mod happened;
mod proposals;
mod ribbon;
mod run_sheet;
mod stations;
mod to_display;
mod to_server;
mod views;

use std::fmt::Debug;
use std::path::PathBuf;

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use turnabout_protocol::frame::{ToDisplay, ToServer, limits};

/// Frames of one kind and the file they are kept in.
type Golden<T> = Vec<(&'static str, Vec<T>)>;

fn to_server() -> Golden<ToServer> {
    vec![("hello", to_server::hellos()), ("command", to_server::commands()), ("time", to_server::times())]
}

fn to_display() -> Golden<ToDisplay> {
    vec![
        ("welcome", to_display::welcomes()),
        ("view-station", stations::stations()),
        ("view-board", views::boards()),
        ("view-coach", views::coaches()),
        ("answer", to_display::answers()),
        ("time-answer", to_display::times()),
        ("clock", to_display::clocks()),
        ("fault", to_display::faults()),
    ]
}

fn path(folder: &str, file: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(folder).join(format!("{file}.json"))
}

fn read(folder: &str, file: &str) -> String {
    std::fs::read_to_string(path(folder, file)).unwrap_or_default()
}

fn are_as_committed<T: Serialize + DeserializeOwned + PartialEq + Debug>(golden: Golden<T>) {
    for (file, frames) in golden {
        let text = format!("{}\n", serde_json::to_string_pretty(&frames).expect("plain JSON"));
        if std::env::var("GOLDEN").is_ok_and(|word| word == "write") {
            std::fs::write(path("tests/golden", file), &text).expect("the golden files can be written");
        }
        let committed = read("tests/golden", file);
        assert!(text == committed, "{file}.json is not what the types say; see the head of this test");
        assert_eq!(serde_json::from_str::<Vec<T>>(&committed).expect("frames"), frames, "{file}.json");
    }
}

#[test]
fn frames_to_the_server_are_as_committed() {
    are_as_committed(to_server());
}

#[test]
fn frames_to_a_display_are_as_committed() {
    are_as_committed(to_display());
}

fn fit_the_schema<T: Serialize>(schema: &str, golden: Golden<T>, most: usize) {
    let schema: Value = serde_json::from_str(&read("schema", schema)).expect("JSON");
    let validator = jsonschema::draft202012::new(&schema).expect("a schema");
    for (file, frames) in golden {
        for frame in frames {
            let frame = serde_json::to_value(frame).expect("plain JSON");
            let errors: Vec<String> =
                validator.iter_errors(&frame).map(|e| format!("{}: {e}", e.instance_path())).collect();
            assert!(errors.is_empty(), "{file}.json: {errors:#?}\n{frame:#}");
            assert!(frame.to_string().len() <= most, "{file}.json: longer than a frame may be");
        }
    }
}

#[test]
fn frames_to_the_server_fit_the_committed_schema() {
    fit_the_schema("to-server", to_server(), limits::FRAME_TO_SERVER);
}

#[test]
fn frames_to_a_display_fit_the_committed_schema() {
    fit_the_schema("to-display", to_display(), limits::FRAME_TO_DISPLAY);
}

//! The planner and a general constraint solver in one run, on the same machine with as many threads.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::asked::Asked;
use crate::looking::{look, median, threads};
use crate::published::{self, Best};
use crate::table;

/// Seconds at which both say how far they are.
const TIMES: [f64; 4] = [0.1, 1.0, 10.0, 45.0];

pub(crate) fn run(asked: &Asked) {
    let times: Vec<f64> = TIMES.iter().map(|seconds| asked.time(*seconds).as_secs_f64()).collect();
    let usual =
        || published::evenings().into_iter().filter(|name| published::class(name) != "large").collect();
    let names: Vec<String> = if asked.names.is_empty() { usual() } else { asked.names.clone() };
    let best = Best::read();
    let mut rows = Vec::new();
    for name in &names {
        rows.push(ours(asked, &best, name, &times));
        rows.push(solver(asked, &best, name, &times));
    }
    let mut head = vec!["evening".to_owned(), "who".to_owned(), "workers".to_owned(), "model, s".to_owned()];
    head.extend(times.iter().map(|time| format!("{time} s")));
    head.extend(["gap at the end, %", "bound", "status"].map(str::to_owned));
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    let title = format!(
        "Objective after so many seconds from nothing, planner ({} seeds, median) and solver",
        asked.seeds().count()
    );
    table::print(&title, &head, &rows);
}

fn ours(asked: &Asked, best: &Best, name: &str, times: &[f64]) -> Vec<String> {
    let instance = published::evening(name);
    let at = |seconds: &f64| {
        let time = std::time::Duration::from_secs_f64(*seconds);
        let objective = |seed| look(&instance, &[], seed, time).plan.verdict.objective;
        median(&asked.seeds().map(objective).collect::<Vec<_>>())
    };
    let at: Vec<i64> = times.iter().map(at).collect();
    let end = at.last().copied().unwrap_or_default();
    let mut row = vec![name.to_owned(), "planner".to_owned(), threads().to_string(), "-".to_owned()];
    row.extend(at.iter().map(i64::to_string));
    row.extend([format!("{:.2}", best.gap(name, end)), "-".to_owned(), "-".to_owned()]);
    row
}

/// What `tests/outside/timetable_cpsat/anytime.py` says of an evening.
fn solver(asked: &Asked, best: &Best, name: &str, times: &[f64]) -> Vec<String> {
    let answer = asked_of(&asked.python, name, times);
    let text = |value: &Value| match value {
        Value::Null => "none".to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    let empty = Vec::new();
    let at = answer["at"].as_array().unwrap_or(&empty);
    assert_eq!(at.len(), times.len(), "{name}: the solver was asked for {} figures: {answer}", times.len());
    let end = answer["objective"]
        .as_i64()
        .map_or_else(|| "-".to_owned(), |end| format!("{:.2}", best.gap(name, end)));
    let mut row =
        vec![name.to_owned(), text(&answer["solver"]), text(&answer["workers"]), text(&answer["build_s"])];
    row.extend(at.iter().map(|one| text(&one["objective"])));
    row.extend([end, text(&answer["bound"]), text(&answer["status"])]);
    row
}

/// # Panics
/// Where the solver is not there or fails: a table without it is not what was asked for.
fn asked_of(python: &Path, name: &str, times: &[f64]) -> Value {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/timetable_cpsat/anytime.py");
    let limits: Vec<String> = times.iter().map(f64::to_string).collect();
    let instance = published::path(&format!("instances/{name}.json"));
    let mut child = Command::new(python)
        .arg(&script)
        .args(["--limits", &limits.join(",")])
        .arg(&instance)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap_or_else(|error| {
            panic!(
                "{}: {error}; tests/outside/timetable_cpsat/README.md has what to install",
                python.display()
            )
        });
    let mut line = String::new();
    let out = child.stdout.take().expect("it is piped");
    BufReader::new(out).read_line(&mut line).expect("the solver speaks text");
    let status = child.wait().expect("it was started here");
    assert!(status.success(), "{name}: the solver ended with {status}");
    serde_json::from_str(&line).unwrap_or_else(|error| panic!("{name}: {error}: {line}"))
}

//! Asks the published checker, all cases in one process.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// Everything that is published of the problem.
pub(crate) fn published() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("published/timetable")
}

/// The text of a published file.
pub(crate) fn text(path: &str) -> String {
    std::fs::read_to_string(published().join(path)).unwrap()
}

/// Cases, in the order in which they are asked.
#[derive(Default)]
pub(crate) struct Cases {
    lines: String,
    count: usize,
}

impl Cases {
    /// Asks for an instance, as JSON.
    pub(crate) fn instance(&mut self, json: &str) {
        self.line("instance", json);
    }

    /// Asks for a timetable of the instance before it, as JSON.
    pub(crate) fn timetable(&mut self, json: &str) {
        self.line("timetable", json);
    }

    fn line(&mut self, what: &str, json: &str) {
        writeln!(self.lines, "{{\"{what}\": {}}}", json.trim_end()).unwrap();
        self.count += 1;
    }

    /// What the published checker says, one answer a case.
    pub(crate) fn ask(&self, python: &Path) -> Vec<Value> {
        let folder = tempfile::tempdir().unwrap();
        let cases = folder.path().join("cases.jsonl");
        std::fs::write(&cases, &self.lines).unwrap();
        let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/check_timetables.py");
        let output =
            Command::new(python).arg(script).arg(published().join("checker.py")).arg(cases).output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let said = String::from_utf8(output.stdout).unwrap();
        let answers: Vec<Value> = said.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
        assert_eq!(answers.len(), self.count);
        answers
    }
}

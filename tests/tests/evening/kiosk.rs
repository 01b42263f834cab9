//! A kiosk without a window, as the real binary: faces come out as JSON lines, taps go in.

use std::net::SocketAddr;
use std::process::ExitStatus;

use serde_json::Value;
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::Millis;
use turnabout_tests::harness::Program;

pub(crate) struct Kiosk {
    program: Program,
    last: Option<Line>,
}

/// One face.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// Floor time on this kiosk.
    pub(crate) now: Option<i64>,
    face: Value,
}

impl Line {
    fn read(text: &str) -> Self {
        let mut line: Value = serde_json::from_str(text).unwrap_or_else(|e| panic!("{e}: {text}"));
        Self { now: line["now"].as_i64(), face: line["face"].take() }
    }

    /// The large panel.
    pub(crate) fn panel(&self) -> Option<&Value> {
        self.face["body"]["panels"].get(0)
    }

    /// What it says about a lost link.
    pub(crate) fn link(&self) -> &str {
        self.face["link"].as_str().unwrap_or_default()
    }

    /// Whether a button can be pressed, and is about this set.
    fn live(&self, tap: &str, turn: TurnId) -> bool {
        let Some(panel) = self.panel() else { return false };
        let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
        let buttons = list(&panel["buttons"]);
        let asks = std::iter::once(panel["done"].clone()).chain(list(&panel["efforts"]));
        let answers: Vec<Value> = asks.flat_map(|ask| list(&ask["answers"])).collect();
        let turn = serde_json::to_value(turn).unwrap();
        let wanted = |b: &&Value| b["tap"] == tap && b["enabled"] == true && b["act"]["turn"] == turn;
        buttons.iter().chain(&answers).any(|b| wanted(&b))
    }
}

impl Kiosk {
    pub(crate) fn at(address: SocketAddr, station: &str) -> Self {
        let server = format!("http://{address}");
        let arguments = ["--server", &server, "--station", station, "--headless"];
        Self { program: Program::ours("turnabout-kiosk", &arguments), last: None }
    }

    /// Reads faces until one is as wanted; the last one read counts too.
    pub(crate) async fn until(&mut self, what: &str, wanted: impl Fn(&Line) -> bool) {
        while !self.last.as_ref().is_some_and(&wanted) {
            let text = self.program.line().await;
            let text = text.unwrap_or_else(|| panic!("the kiosk ended before {what}: {:?}", self.last));
            self.last = Some(Line::read(&text));
        }
    }

    /// Waits until a button is live for a set and presses it.
    pub(crate) async fn press(&mut self, tap: &str, turn: TurnId) {
        self.until(tap, |line| line.live(tap, turn)).await;
        self.program.tell(&format!("{{\"tap\":\"{tap}\"}}")).await;
        // What it showed before the press must not count as what it shows after.
        self.last = None;
    }

    /// Waits until the last tap can be taken back, and takes it back.
    pub(crate) async fn take_back(&mut self) {
        self.until("undo", |line| line.face["undo"]["enabled"] == true).await;
        self.program.tell("{\"tap\":\"undo\"}").await;
        self.last = None;
    }

    pub(crate) async fn close(self) -> ExitStatus {
        self.program.interrupt().await
    }
}

/// A countdown as every display shows it: minutes and seconds, rounded up; to a start that is told about only in steps
/// of five seconds.
pub(crate) fn shown_count(left: Millis, is_about: bool) -> String {
    let step = if is_about { 5 } else { 1 };
    let secs = (left.ceil_secs() + step - 1) / step * step;
    format!("{}{}:{:02}", if is_about { "~" } else { "" }, secs / 60, secs % 60)
}

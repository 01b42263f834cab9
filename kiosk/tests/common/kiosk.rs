//! The real program without a window: its faces as lines, and taps into it.
#![allow(dead_code, reason = "each user takes its part")]

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};

use serde_json::Value;

use crate::server::PATIENCE;

pub(crate) struct Kiosk {
    child: Child,
    input: Option<ChildStdin>,
    lines: Receiver<Value>,
}

impl Kiosk {
    /// Starts it with a server on loopback.
    pub(crate) fn start(port: u16, face: &[&str]) -> Self {
        let server = format!("http://127.0.0.1:{port}");
        Self::with(&[&["--server", &server], face].concat())
    }

    /// Starts it with this command line.
    pub(crate) fn with(line: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_turnabout-kiosk"))
            .arg("--headless")
            .args(line)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let (send, lines) = channel();
        std::thread::spawn(move || {
            for line in output.lines().map_while(Result::ok) {
                let value = serde_json::from_str(&line).expect("each line is JSON");
                if send.send(value).is_err() {
                    return;
                }
            }
        });
        let input = child.stdin.take();
        Self { child, input, lines }
    }

    /// The next line that satisfies.
    pub(crate) fn line(&self, wanted: impl Fn(&Value) -> bool) -> Value {
        loop {
            let line = self.lines.recv_timeout(PATIENCE).expect("such a line");
            if wanted(&line) {
                return line;
            }
        }
    }

    pub(crate) fn press(&mut self, line: &str) {
        writeln!(self.input.as_mut().unwrap(), "{line}").unwrap();
    }

    /// Ends its input; the exit code.
    pub(crate) fn end(mut self) -> Option<i32> {
        drop(self.input.take());
        let status = self.child.wait().unwrap();
        status.code()
    }

    /// The number of its process.
    pub(crate) fn number(&self) -> u32 {
        self.child.id()
    }

    /// Kills it, as the kernel does that has no memory left.
    pub(crate) fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

//! Our own binaries as processes of their own, as people run them.

use std::path::Path;
use std::process::{ExitStatus, Stdio};

use tokio::io::{AsyncBufReadExt, AsyncWriteExt, BufReader};
use tokio::process::{Child, ChildStdin, Command};
use tokio::sync::mpsc::{UnboundedReceiver, unbounded_channel};
use tokio::time::timeout;

use super::WAIT;

/// A program that runs, with its standard input and output. Killed when dropped.
#[derive(Debug)]
pub struct Program {
    child: Child,
    input: ChildStdin,
    /// What it prints, read at once and without bound: a program whose pipe is full waits inside its print, and
    /// then neither goes on nor hears that it is to end.
    lines: UnboundedReceiver<std::io::Result<String>>,
}

impl Program {
    /// Starts one of the workspace's binaries. They are built before the tests:
    /// `cargo build --workspace --bins`.
    pub fn ours(name: &str, arguments: &[&str]) -> Self {
        let test = std::env::current_exe().expect("this test is a file");
        let folder = test.parent().and_then(|deps| deps.parent()).expect("target/PROFILE/deps/TEST");
        let path = folder.join(name);
        assert!(path.exists(), "{} is missing: cargo build --workspace --bins", path.display());
        Self::start(&path, arguments)
    }

    /// Starts any program.
    pub fn start(path: &Path, arguments: &[&str]) -> Self {
        let mut child = Command::new(path)
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .kill_on_drop(true)
            .spawn()
            .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let input = child.stdin.take().expect("it is piped");
        let output = child.stdout.take().expect("it is piped");
        let (out, lines) = unbounded_channel();
        tokio::spawn(async move {
            let mut printed = BufReader::new(output).lines();
            while let Some(line) = printed.next_line().await.transpose() {
                let over = line.is_err();
                if out.send(line).is_err() || over {
                    return;
                }
            }
        });
        Self { child, input, lines }
    }

    /// The next line it prints; nothing after the last.
    pub async fn line(&mut self) -> Option<String> {
        let line = timeout(WAIT, self.lines.recv()).await.expect("a line in time");
        line.map(|line| line.expect("lines of text"))
    }

    /// Gives it a line.
    pub async fn tell(&mut self, line: &str) {
        self.input.write_all(format!("{line}\n").as_bytes()).await.expect("it reads");
    }

    /// Kills it without a word (SIGKILL) and waits until it is gone.
    pub async fn kill(&mut self) {
        self.child.kill().await.expect("it can be killed");
    }

    /// Asks it to end as Ctrl-C does (SIGINT), and waits.
    pub async fn interrupt(self) -> ExitStatus {
        let id = self.child.id().expect("it runs").to_string();
        let asked = Command::new("kill").args(["-INT", &id]).status().await.expect("kill is there");
        assert!(asked.success());
        self.ended().await
    }

    /// Waits until it ends by itself.
    pub async fn ended(mut self) -> ExitStatus {
        timeout(WAIT, self.child.wait()).await.expect("it ends in time").expect("it can be waited for")
    }
}

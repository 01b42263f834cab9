//! A window of a process of its own, and what it takes.

use std::fs;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use crate::reference;
use crate::screen::Screen;

/// A window. It is closed with this.
pub(crate) struct Window {
    child: Child,
    /// Where a kiosk keeps its settings.
    _folder: tempfile::TempDir,
}

impl Window {
    /// A kiosk at one station, with the server at this port of loopback.
    pub(crate) fn kiosk(screen: &Screen, port: u16) -> Self {
        let mut command = Command::new(env!("CARGO_BIN_EXE_turnabout-kiosk"));
        command.args([
            "--server",
            &format!("http://127.0.0.1:{port}"),
            "--station",
            "bench-1",
            "--diagonal",
            "24",
        ]);
        Self::start(command, screen)
    }

    /// The trivial window.
    pub(crate) fn reference(screen: &Screen, counts: bool) -> Self {
        let mut command = Command::new(std::env::current_exe().expect("this program has a place"));
        command.arg(if counts { reference::COUNTS } else { reference::STANDS });
        Self::start(command, screen)
    }

    fn start(mut command: Command, screen: &Screen) -> Self {
        let folder = tempfile::tempdir().expect("a folder for settings");
        let child = command
            .env("DISPLAY", screen.name())
            .env("XDG_CONFIG_HOME", folder.path())
            .env("XDG_RUNTIME_DIR", folder.path())
            .env_remove("WAYLAND_DISPLAY")
            .stdout(Stdio::null())
            // The toolkit says there that no desktop tells its colours.
            .stderr(Stdio::null())
            .spawn()
            .expect("the window starts");
        Self { child, _folder: folder }
    }

    /// The CPU time of all its threads so far.
    pub(crate) fn cpu(&self) -> Duration {
        let tasks = fs::read_dir(format!("/proc/{}/task", self.child.id())).expect("it runs");
        let spent = tasks.flatten().filter_map(|task| {
            let text = fs::read_to_string(task.path().join("schedstat")).ok()?;
            text.split(' ').next()?.parse::<u64>().ok()
        });
        Duration::from_nanos(spent.sum())
    }

    /// What of it is in memory, in MB.
    pub(crate) fn resident(&self) -> f64 {
        let text = fs::read_to_string(format!("/proc/{}/status", self.child.id())).expect("it runs");
        let line = text.lines().find_map(|line| line.strip_prefix("VmRSS:")).expect("Linux tells");
        let kib: f64 = line.trim().trim_end_matches(" kB").parse().expect("a number of KiB");
        kib * 1_024.0 / 1e6
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        // It may have ended by itself; whoever waits for it finds that out.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

//! Tells whoever started this program that it is ready, and again and again that it is alive, as systemd wants it
//! (`sd_notify(3)`, `sd_watchdog_enabled(3)`): datagrams to a socket that the environment names.

use std::env;
use std::ffi::OsStr;
use std::io;
use std::os::linux::net::SocketAddrExt;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::net::{SocketAddr, UnixDatagram};
use std::rc::Rc;
use std::time::Duration;

use slint::{Timer, TimerMode};

/// From when on the loop turns until the first frame is out: the loop draws before it looks at its timers again.
const FIRST_FRAME: Duration = Duration::from_millis(100);

/// Whoever started this program and waits to hear from it.
#[derive(Debug)]
pub struct Manager {
    socket: UnixDatagram,
    at: SocketAddr,
    every: Option<Duration>,
}

/// What it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tell {
    /// The first frame is on the screen.
    Ready,
    /// The loop still turns.
    Alive,
}

impl Tell {
    const fn datagram(self) -> &'static [u8] {
        match self {
            Self::Ready => b"READY=1",
            Self::Alive => b"WATCHDOG=1",
        }
    }
}

impl Manager {
    /// Whoever the environment names; nothing where nobody waits.
    ///
    /// # Errors
    /// If the environment names a socket that there cannot be.
    pub fn of_environment() -> io::Result<Option<Self>> {
        let Some(name) = env::var_os("NOTIFY_SOCKET") else { return Ok(None) };
        let number = |name| env::var(name).ok();
        let every = interval(
            number("WATCHDOG_USEC").as_deref(),
            number("WATCHDOG_PID").as_deref(),
            std::process::id(),
        );
        Self::at(&name, every).map(Some)
    }

    /// Behind a socket: a path, or `@` and a name for one that is in no folder. `every` is how often it must hear that
    /// the loop turns.
    ///
    /// # Errors
    /// If there cannot be such a socket.
    pub fn at(name: &OsStr, every: Option<Duration>) -> io::Result<Self> {
        let at = match name.as_bytes() {
            [b'@', rest @ ..] => SocketAddr::from_abstract_name(rest)?,
            path => SocketAddr::from_pathname(OsStr::from_bytes(path))?,
        };
        let socket = UnixDatagram::unbound()?;
        // Nobody waits for whoever does not listen.
        socket.set_nonblocking(true)?;
        Ok(Self { socket, at, every })
    }

    /// How often it must be told.
    #[must_use]
    pub const fn every(&self) -> Option<Duration> {
        self.every
    }

    /// Tells it. Nobody there is nobody's trouble here.
    pub fn tell(&self, what: Tell) {
        let _ = self.socket.send_to_addr(what.datagram(), &self.at);
    }
}

/// How often to say so: twice in the time after which silence is taken for death. Nothing where nobody watches, or
/// watches another process.
#[must_use]
pub fn interval(usec: Option<&str>, pid: Option<&str>, own: u32) -> Option<Duration> {
    if pid.is_some_and(|pid| pid.parse() != Ok(own)) {
        return None;
    }
    let usec: u64 = usec?.parse().ok().filter(|usec| *usec > 0)?;
    Some(Duration::from_micros(usec) / 2)
}

/// Tells from the window's own loop, as long as this is kept: a loop that hangs says nothing.
pub struct Watch {
    _alive: Timer,
    _ready: Timer,
}

impl Watch {
    /// Begins with the loop.
    #[must_use]
    pub fn begin(manager: Manager) -> Self {
        let (ready, alive) = (Timer::default(), Timer::default());
        let manager = Rc::new(manager);
        let told = Rc::clone(&manager);
        ready.start(TimerMode::SingleShot, FIRST_FRAME, move || told.tell(Tell::Ready));
        if let Some(every) = manager.every {
            alive.start(TimerMode::Repeated, every, move || manager.tell(Tell::Alive));
        }
        Self { _alive: alive, _ready: ready }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_told_twice_in_the_time_that_is_given_and_only_by_whom_is_watched() {
        let half = Some(Duration::from_secs(5));
        for (usec, pid, every) in [
            (Some("10000000"), None, half),
            (Some("10000000"), Some("42"), half),
            (Some("10000000"), Some("43"), None),
            (Some("10000000"), Some("me"), None),
            (Some("0"), None, None),
            (Some("soon"), None, None),
            (None, Some("42"), None),
        ] {
            assert_eq!(interval(usec, pid, 42), every, "{usec:?} {pid:?}");
        }
    }
}

//! The kiosk without a window: faces out as JSON lines, taps in as JSON lines.
//!
//! Opens nothing and uses nothing of the toolkit, so that a test or a demonstration can run dozens of them.

use std::cell::RefCell;
use std::io::{BufRead, Write};
use std::rc::Rc;
use std::time::Instant;

use serde::{Deserialize, Serialize};
use tokio::sync::Notify;
use tokio::sync::mpsc::{Receiver, Sender, channel};
use turnabout_protocol::command::Act;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;

use crate::face::{Face, Own, Tap};
use crate::link::Link;
use crate::link::limits::INBOX;
use crate::link::socket::{Door, Tapped, millis, run};

/// The least between two lines, in real milliseconds: a floor that runs a hundredfold would flood whoever reads.
const LINE_MS: u64 = 100;

/// One line out.
#[derive(Debug, Serialize)]
struct Shown<'a> {
    /// Floor time, in milliseconds; nothing before the first clock sample.
    now: Option<FloorMs>,
    face: &'a Face,
}

/// One line in. Without the key of a station, the first one is meant where it is live.
#[derive(Debug, Deserialize)]
#[serde(untagged, deny_unknown_fields)]
enum Press {
    /// A button.
    Tap {
        tap: Tap,
        #[serde(default)]
        station: Option<String>,
    },
    /// A key that sends nothing by itself.
    Key {
        key: String,
        #[serde(default)]
        station: Option<String>,
    },
}

/// What lies between the lines: what is drawn, and what the display keeps to itself.
#[derive(Debug, Default)]
struct Desk {
    face: Option<Face>,
    own: Own,
    /// Told when something changed here that sends nothing.
    again: Rc<Notify>,
}

impl Desk {
    /// What a line sends; nothing where that is not live now.
    fn press(&mut self, press: &Press, real: u64) -> Option<Vec<Act>> {
        let face = self.face.as_ref()?;
        match press {
            Press::Tap { tap, station } => Some(vec![face.button(*tap, station.as_deref())?.act.clone()]),
            Press::Key { key, station } => {
                let step = face.key(key, station.as_deref())?.step.clone();
                let acts = self.own.press(&step, real);
                self.again.notify_one();
                Some(acts)
            }
        }
    }
}

/// Why a headless kiosk cannot run.
#[derive(Debug, thiserror::Error)]
pub enum HeadlessError {
    /// The runtime did not start, or the standard streams are gone.
    #[error("cannot run without a window: {0}")]
    Io(#[from] std::io::Error),
}

/// Runs until standard input ends, or until it is interrupted.
///
/// # Errors
/// If the runtime cannot start.
pub fn speak(door: Door, link: Link, language: Language) -> Result<(), HeadlessError> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    let lines = read_lines();
    let desk = Rc::new(RefCell::new(Desk::default()));
    let (taps, inbox) = channel(INBOX);
    let mut printer = Printer { language, last: None, frames: 0, desk: Rc::clone(&desk) };
    let start = Instant::now();
    let again = Rc::clone(&desk.borrow().again);
    runtime.block_on(async {
        tokio::select! {
            () = run(door, link, start, inbox, again, |link, real| printer.show(link, real)) => {}
            () = press(lines, taps, start, desk) => {}
            _ = tokio::signal::ctrl_c() => {}
        }
    });
    Ok(())
}

/// Lines of standard input, read by a thread of its own because such a read cannot be given up.
fn read_lines() -> Receiver<String> {
    let (out, lines) = channel(INBOX);
    std::thread::spawn(move || {
        for line in std::io::stdin().lock().lines() {
            let Ok(line) = line else { return };
            if out.blocking_send(line).is_err() {
                return;
            }
        }
    });
    lines
}

/// Presses what the lines name, until they end.
async fn press(mut lines: Receiver<String>, taps: Sender<Tapped>, start: Instant, desk: Rc<RefCell<Desk>>) {
    while let Some(line) = lines.recv().await {
        if line.trim().is_empty() {
            continue;
        }
        let press: Press = match serde_json::from_str(&line) {
            Ok(press) => press,
            Err(error) => {
                eprintln!("not a tap: {error}");
                continue;
            }
        };
        let now = Instant::now();
        let acts = desk.borrow_mut().press(&press, millis(start, now));
        let Some(acts) = acts else {
            eprintln!("not live now: {line}");
            continue;
        };
        for act in acts {
            if taps.send((now, act)).await.is_err() {
                return;
            }
        }
    }
}

struct Printer {
    language: Language,
    /// When the last line was printed.
    last: Option<u64>,
    frames: u64,
    desk: Rc<RefCell<Desk>>,
}

impl Printer {
    /// Prints the face if it changed, at most once in [`LINE_MS`]; while a test drives the clock, after every frame
    /// that moved something. Says when to look again.
    fn show(&mut self, link: &mut Link, real: u64) -> u64 {
        let mut desk = self.desk.borrow_mut();
        let face = link.face(real, self.language, None, &desk.own);
        let told = link.frames_by_hand() != self.frames;
        self.frames = link.frames_by_hand();
        let changed = desk.face.as_ref() != Some(&face);
        let until = link.shows_until(real, &face, self.language, None, &desk.own);
        let soon = self.last.map(|last| last + LINE_MS).filter(|next| real < *next);
        if !told && let (true, Some(next)) = (changed, soon) {
            return next;
        }
        if !told && !changed {
            return until;
        }
        let line = Shown { now: link.now(real), face: &face };
        let text = serde_json::to_string(&line).expect("a face is plain JSON");
        // Whoever read the lines is gone when this fails; standard input ends then, too.
        let _ = writeln!(std::io::stdout().lock(), "{text}");
        self.last = Some(real);
        desk.own.drawn(&face);
        desk.face = Some(face);
        until
    }
}

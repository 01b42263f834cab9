//! The kiosk without a window: faces out as JSON lines, taps in as JSON lines.
//!
//! Opens nothing and uses nothing of the toolkit, so that a test or a demonstration can run dozens of them.

use std::cell::RefCell;
use std::io::{BufRead, Write};
use std::rc::Rc;
use std::time::Instant;

use serde::{Deserialize, Serialize};
use tokio::sync::mpsc::{Receiver, Sender, channel};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;

use crate::face::{Face, Tap};
use crate::link::Link;
use crate::link::limits::{INBOX, TICK_MS};
use crate::link::socket::{Tapped, run};

/// One line out.
#[derive(Debug, Serialize)]
struct Shown<'a> {
    /// Floor time, in milliseconds; nothing before the first clock sample.
    now: Option<FloorMs>,
    face: &'a Face,
}

/// One line in.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Press {
    tap: Tap,
    /// The key of the station meant; without it, the first one where the button is live.
    #[serde(default)]
    station: Option<String>,
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
pub fn speak(url: String, link: Link, language: Language) -> Result<(), HeadlessError> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    let lines = read_lines();
    let face = Rc::new(RefCell::new(None));
    let (taps, inbox) = channel(INBOX);
    let mut printer = Printer { language, last: None, frames: 0, drawn: Rc::clone(&face) };
    runtime.block_on(async {
        tokio::select! {
            () = run(url, link, Instant::now(), inbox, |link, real| printer.show(link, real)) => {}
            () = press(lines, taps, face) => {}
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
async fn press(mut lines: Receiver<String>, taps: Sender<Tapped>, face: Rc<RefCell<Option<Face>>>) {
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
        let button = |face: &Face| Some(face.button(press.tap, press.station.as_deref())?.act.clone());
        let act = face.borrow().as_ref().and_then(button);
        match act {
            Some(act) => {
                if taps.send((Instant::now(), act)).await.is_err() {
                    return;
                }
            }
            None => eprintln!("not live now: {}", press.tap.name()),
        }
    }
}

struct Printer {
    language: Language,
    /// When the last line was printed.
    last: Option<u64>,
    frames: u64,
    drawn: Rc<RefCell<Option<Face>>>,
}

impl Printer {
    /// Prints the face if it changed, at most once a tick; while a test drives the clock, after every frame
    /// that moved something.
    fn show(&mut self, link: &mut Link, real: u64) {
        let face = link.face(real, self.language, None);
        let told = link.frames_by_hand() != self.frames;
        self.frames = link.frames_by_hand();
        let changed = self.drawn.borrow().as_ref() != Some(&face);
        let soon = self.last.is_some_and(|last| real < last + TICK_MS);
        if !told && (!changed || soon) {
            return;
        }
        let line = Shown { now: link.now(real), face: &face };
        let text = serde_json::to_string(&line).expect("a face is plain JSON");
        // Whoever read the lines is gone when this fails; standard input ends then, too.
        let _ = writeln!(std::io::stdout().lock(), "{text}");
        self.last = Some(real);
        *self.drawn.borrow_mut() = Some(face);
    }
}

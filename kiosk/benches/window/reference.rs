//! A trivial window of the same toolkit: one text, that stands still or counts seconds.

use std::time::Duration;

use slint::{ComponentHandle, Timer, TimerMode};

/// Asks for a window whose text stands still.
pub(crate) const STANDS: &str = "--trivial-stands";
/// Asks for one whose text counts seconds.
pub(crate) const COUNTS: &str = "--trivial-counts";

mod trivial {
    #![allow(
        missing_docs,
        unreachable_pub,
        unused_qualifications,
        clippy::all,
        clippy::pedantic,
        reason = "generated"
    )]
    slint::slint! {
        export component Trivial inherits Window {
            in property <int> seconds;
            preferred-width: 1920px;
            preferred-height: 1080px;
            background: #0b0b0c;
            Text {
                text: "0:" + root.seconds;
                color: #f4f1ea;
                font-size: 300px;
            }
        }
    }
}

/// Is the trivial window, if this process was started for that.
pub(crate) fn run_if_asked() -> bool {
    let Some(counts) = std::env::args().find_map(|argument| match argument.as_str() {
        STANDS => Some(false),
        COUNTS => Some(true),
        _ => None,
    }) else {
        return false;
    };
    let window = trivial::Trivial::new().expect("there is a screen");
    let (timer, weak) = (Timer::default(), window.as_weak());
    if counts {
        timer.start(TimerMode::Repeated, Duration::from_secs(1), move || {
            if let Some(window) = weak.upgrade() {
                window.set_seconds((window.get_seconds() + 1) % 60);
            }
        });
    }
    window.run().expect("the window opens");
    true
}

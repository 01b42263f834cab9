//! Questions from the command line: what somebody could lift once, the next load with its reason, the plates that make
//! a load, whether a timetable keeps the rules, and what evenings become of a plan. Each is asked with an `Ask` and
//! answered with an `Answer`, which is read as text or, with `--json`, as JSON by a schema of its own ([`schema`]).
//!
//! An answer goes to standard output. A question that cannot be answered says which argument is wrong and what
//! is allowed, and has no answer at all.

use std::process::ExitCode;

use serde::Serialize;

pub mod amount;
pub mod error;
pub mod estimate;
pub mod load;
pub mod next;
pub mod plan;
pub mod practice;
pub mod rehearse;
pub mod schema;

mod read;
mod station;

/// What goes to standard output, and how the program ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// Whole lines.
    pub text: String,
    /// Whether what was asked for can be done: a load that cannot be built has an answer, and is no success.
    pub done: bool,
}

impl Told {
    fn new<T: Serialize>(answer: &T, json: bool, done: bool, text: impl Fn(&T) -> String) -> Self {
        let text = if json {
            let json = serde_json::to_string_pretty(answer).expect("an answer is plain JSON");
            json + "\n"
        } else {
            text(answer)
        };
        Self { text, done }
    }

    /// The exit code.
    #[must_use]
    pub fn exit(&self) -> ExitCode {
        if self.done { ExitCode::SUCCESS } else { ExitCode::FAILURE }
    }
}

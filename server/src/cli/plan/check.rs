//! `turnabout plan check`: whether a timetable keeps the rules, and what it costs.

use std::fmt::Write as _;
use std::path::PathBuf;

use clap::Args;
use schemars::JsonSchema;
use serde::Serialize;

use super::breach::Breach;
use super::costs::{self, Costs};
use super::file;
use crate::cli::Told;
use crate::cli::error::CliError;
use crate::timetable::check::{Fault, Verdict, check};

/// Lines of breaches and faults that are told as text; JSON has all of them.
const TOLD: usize = 20;

/// A timetable and the instance it answers.
#[derive(Clone, Debug, Args)]
pub struct Ask {
    /// The instance: what is to be planned.
    instance: PathBuf,
    /// The timetable.
    timetable: PathBuf,
    /// Answer with JSON.
    #[arg(long)]
    json: bool,
}

/// What was found. Groups, members, rounds and legs are named by their positions in the instance, from 0.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields, title = "Answer of turnabout plan check --json")]
pub struct Answer {
    /// The instance's name.
    pub name: String,
    /// Whether the breaches that the timetable lists are exactly those that it has.
    pub valid: bool,
    /// What it costs, the smaller the better; breaches have no price.
    pub objective: i64,
    /// What the objective is made of.
    pub parts: Costs,
    /// The rules that are broken, the largest violation for each rule, round and leg.
    pub breaches: Vec<Breach>,
    /// The seconds of all breaches together.
    pub breach_seconds: u64,
    /// Where the timetable lists other breaches than it has.
    pub faults: Vec<Listed>,
}

/// A difference between what is listed and what is so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "fault", rename_all = "snake_case")]
#[schemars(deny_unknown_fields)]
pub enum Listed {
    /// Broken and not listed.
    NotListed {
        /// What is broken.
        found: Breach,
    },
    /// Broken by other seconds than it says.
    OtherSeconds {
        /// What is broken.
        found: Breach,
        /// The seconds that are listed.
        listed: u32,
    },
    /// Listed and not broken.
    NotBroken {
        /// What is listed.
        listed: Breach,
    },
}

impl From<&Fault> for Listed {
    fn from(fault: &Fault) -> Self {
        match fault {
            Fault::NotListed(found) => Self::NotListed { found: found.into() },
            Fault::OtherSeconds { found, listed } => {
                Self::OtherSeconds { found: found.into(), listed: *listed }
            }
            Fault::NotBroken(listed) => Self::NotBroken { listed: listed.into() },
        }
    }
}

/// Answers.
///
/// # Errors
/// A file cannot be read, or has mistakes: the instance, or the timetable as one of the instance.
pub fn tell(ask: &Ask) -> Result<Told, CliError> {
    let instance = file::instance(&ask.instance)?;
    let timetable = file::timetable(&ask.timetable, &instance)?;
    let verdict = check(&instance, &timetable).expect("what is read is a timetable of the instance");
    let answer = answer(instance.name, &verdict);
    Ok(Told::new(&answer, ask.json, answer.valid, |answer| text(answer, &verdict.faults)))
}

fn answer(name: String, verdict: &Verdict) -> Answer {
    Answer {
        name,
        valid: verdict.is_valid(),
        objective: verdict.objective,
        parts: verdict.parts.into(),
        breaches: verdict.breaches.iter().map(Breach::from).collect(),
        breach_seconds: verdict.breach_seconds(),
        faults: verdict.faults.iter().map(Listed::from).collect(),
    }
}

fn text(answer: &Answer, faults: &[Fault]) -> String {
    let Answer { name, valid, objective, parts, breaches, breach_seconds, faults: _ } = answer;
    let mut said = match (valid, breaches.len()) {
        (true, 0) => format!("{name}: valid, every rule is kept\n"),
        (true, count) => format!("{name}: valid, with {count} listed breaches of {breach_seconds} s\n"),
        (false, _) => format!("{name}: not valid\n"),
    };
    for fault in faults.iter().take(TOLD) {
        let _ = writeln!(said, "  {fault}");
    }
    if let Some(more) = faults.len().checked_sub(TOLD).filter(|more| *more > 0) {
        let _ = writeln!(said, "  and {more} more");
    }
    said.push_str(&costs::table(*objective, parts));
    said
}

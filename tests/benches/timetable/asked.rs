//! What the bench is asked to measure.

use std::path::PathBuf;
use std::time::Duration;

/// Part of the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    /// Quality after so much time, on the published instances.
    Gaps,
    /// Job shops of the literature.
    Shops,
    /// What one evaluation takes, and how that grows with the floor.
    Growth,
    /// A bar goes out of service in the middle of an evening.
    Outage,
    /// The constraint solver in the same run.
    Beside,
}

const PARTS: [(&str, Part); 5] = [
    ("gaps", Part::Gaps),
    ("shops", Part::Shops),
    ("growth", Part::Growth),
    ("outage", Part::Outage),
    ("beside", Part::Beside),
];

/// What is measured when nothing is said: all that needs nobody else's program.
const USUAL: [Part; 4] = [Part::Gaps, Part::Shops, Part::Growth, Part::Outage];

/// Dice of a full measurement.
const SEEDS: u64 = 5;

#[derive(Clone, Debug)]
pub(crate) struct Asked {
    pub(crate) parts: Vec<Part>,
    /// Only to see that everything works: figures of such a run say nothing.
    pub(crate) short: bool,
    /// Large instances get a minute, too.
    pub(crate) long: bool,
    /// The Python that has the constraint solver.
    pub(crate) python: PathBuf,
    /// Names of instances, for `beside`; none: small and medium ones.
    pub(crate) names: Vec<String>,
}

impl Asked {
    pub(crate) fn read(arguments: impl Iterator<Item = String>) -> Result<Self, String> {
        let python = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../target/cpsat/bin/python");
        let mut asked = Self { parts: Vec::new(), short: false, long: false, python, names: Vec::new() };
        let mut arguments = arguments;
        while let Some(argument) = arguments.next() {
            let part = PARTS.iter().find(|(name, _)| *name == argument);
            match (argument.as_str(), part) {
                (_, Some((_, part))) => asked.parts.push(*part),
                // Cargo says this to every bench.
                ("--bench", None) => {}
                ("--short", None) => asked.short = true,
                ("--long", None) => asked.long = true,
                ("--python", None) => asked.python = arguments.next().ok_or("--python: which?")?.into(),
                ("--only", None) => asked.names.push(arguments.next().ok_or("--only: which instance?")?),
                (other, None) => {
                    return Err(format!(
                        "found {other:?}, allowed gaps, shops, growth, outage, beside, --short, --long, \
                         --python PYTHON, --only INSTANCE"
                    ));
                }
            }
        }
        if asked.parts.is_empty() {
            asked.parts.extend(USUAL);
        }
        Ok(asked)
    }

    /// The dice of each measurement.
    pub(crate) fn seeds(&self) -> std::ops::RangeInclusive<u64> {
        1..=if self.short { 2 } else { SEEDS }
    }

    /// A time of a full measurement; of a short one, a fiftieth of it, so that it is over at once.
    pub(crate) fn time(&self, seconds: f64) -> Duration {
        let seconds = if self.short && seconds > 0.01 { (seconds / 50.0).max(0.01) } else { seconds };
        Duration::from_secs_f64(seconds)
    }
}

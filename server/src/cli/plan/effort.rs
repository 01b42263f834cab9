//! How a timetable is to come about: how long to look for one, and with what, or by eye. The clock of the search is here,
//! outside the pure room.

use std::io::{self, IsTerminal as _};
use std::num::NonZeroUsize;
use std::thread;
use std::time::{Duration, Instant};

use clap::Args;
use indicatif::{ProgressBar, ProgressStyle};
use turnabout_protocol::units::Secs;

use crate::cli::error::BadInput;
use crate::cli::read;
use crate::timetable::search;

/// What a search may take.
const BUDGET: (Secs, Secs) = (Secs(1), Secs(3_600));
/// Where nothing is said.
const USUAL: Secs = Secs(1);
/// Evaluations of each thread: at ten thousand a second, more than a year.
const EVALUATIONS: (u64, u64) = (1, 1_000_000_000_000);
/// Threads: more than any machine at a gym has.
const THREADS: (u64, u64) = (1, 256);
/// Clients at a pair of stations: more than any floor has.
const BY_EYE: (u64, u64) = (1, 100);
/// From this on somebody waits and wants to see that something happens.
const SHOWN: Secs = Secs(3);
/// Steps of what is shown.
const STEPS: u64 = 1_000;

/// How, as it is asked.
#[derive(Clone, Debug, Args)]
#[group(skip)]
pub(super) struct Ask {
    /// Do not look for anything: run the floor as an experienced eye does, whoever is ready first goes first, with at
    /// most N clients at a pair of stations; a larger group goes there alone. Neither seed nor threads have a say then.
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    by_eye: Option<String>,
    /// How long to look, by the clock, such as 1s or 2min; 1s if neither this nor --iterations is said.
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    budget: Option<String>,
    /// How many orders each thread looks at, in place of a time: the same number, seed and threads give the same
    /// timetable again.
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    iterations: Option<String>,
    /// Where the dice start: a whole number.
    #[arg(long, value_name = "N", default_value = "1", allow_hyphen_values = true)]
    seed: String,
    /// How many searches go on beside each other; as many as the machine has cores if not said.
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    threads: Option<String>,
}

/// How a timetable is to come about.
#[derive(Clone, Copy, Debug)]
pub(super) enum Way {
    /// Somebody looks for a good one.
    Search(Effort),
    /// By eye, with at most so many clients at a pair of stations.
    ByEye(usize),
}

impl Way {
    /// Reads what was asked; `warm` says whether there is a timetable to go on from.
    pub(super) fn read(ask: &Ask, warm: bool) -> Result<Self, BadInput> {
        let Some(cap) = &ask.by_eye else { return Effort::read(ask).map(Self::Search) };
        let search =
            [("warm", warm), ("budget", ask.budget.is_some()), ("iterations", ask.iterations.is_some())];
        if let Some((field, _)) = search.into_iter().find(|(_, said)| *said) {
            return Err(BadInput::NotBoth("by-eye", field));
        }
        // What has no say is still read: a slip in it is told.
        Effort::read(ask)?;
        let cap = read::large("by-eye", cap, BY_EYE.0, BY_EYE.1)?;
        Ok(Self::ByEye(usize::try_from(cap).unwrap_or(usize::MAX)))
    }

    /// The search, where there is one.
    pub(super) const fn search(&self) -> Option<&Effort> {
        match self {
            Self::Search(effort) => Some(effort),
            Self::ByEye(_) => None,
        }
    }
}

/// How long to look, and with what.
#[derive(Clone, Copy, Debug)]
pub(super) struct Effort {
    until: Until,
    /// Where the dice start.
    pub(super) seed: u64,
    /// How many searches go on beside each other.
    pub(super) threads: NonZeroUsize,
}

#[derive(Clone, Copy, Debug)]
enum Until {
    /// So much time is over.
    Time(Secs),
    /// Each thread has looked at so many.
    Evaluations(u64),
}

impl Effort {
    /// Reads what was asked.
    fn read(ask: &Ask) -> Result<Self, BadInput> {
        let budget = |text| read::duration("budget", text, BUDGET.0, BUDGET.1);
        let iterations = |text| read::large("iterations", text, EVALUATIONS.0, EVALUATIONS.1);
        let until = match (&ask.budget, &ask.iterations) {
            (Some(_), Some(_)) => return Err(BadInput::NotBoth("budget", "iterations")),
            (None, Some(text)) => Until::Evaluations(iterations(text)?),
            (Some(text), None) => Until::Time(budget(text)?),
            (None, None) => Until::Time(USUAL),
        };
        let threads = match &ask.threads {
            Some(text) => usize::try_from(read::large("threads", text, THREADS.0, THREADS.1)?).ok(),
            None => None,
        };
        let threads = threads.and_then(NonZeroUsize::new);
        Ok(Self {
            until,
            seed: read::large("seed", &ask.seed, 0, u64::MAX)?,
            threads: threads.or_else(|| thread::available_parallelism().ok()).unwrap_or(NonZeroUsize::MIN),
        })
    }

    /// Looks for as long as this says; time counts from `since`. What takes a while shows on a terminal how far it is.
    pub(super) fn spend<T>(&self, since: Instant, look: impl FnOnce(&search::Effort<'_>) -> T) -> T {
        let Self { until, seed, threads } = *self;
        match until {
            Until::Evaluations(most) => {
                let done = |evaluations: u64| evaluations as f64 / most as f64;
                look(&search::Effort { seed, threads, done: &done, beside: &beside })
            }
            Until::Time(budget) => {
                let bar = bar(budget);
                let budget = Duration::from_secs(u64::from(budget.0)).as_secs_f64();
                let done = |_| {
                    let done = since.elapsed().as_secs_f64() / budget;
                    bar.set_position((done * STEPS as f64) as u64);
                    done
                };
                let found = look(&search::Effort { seed, threads, done: &done, beside: &beside });
                bar.finish_and_clear();
                found
            }
        }
    }
}

/// What shows how far it is: nothing where it is over at once, or where nobody looks.
fn bar(budget: Secs) -> ProgressBar {
    if budget < SHOWN || !io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let style = ProgressStyle::with_template("planning {bar:40} {percent} % of {prefix}");
    let style = style.unwrap_or_else(|_| ProgressStyle::default_bar());
    ProgressBar::new(STEPS).with_style(style).with_prefix(format!("{} s", budget.0))
}

/// A thread for each part.
fn beside(parts: &mut [search::Part<'_>]) {
    thread::scope(|scope| {
        for part in parts {
            scope.spawn(part);
        }
    });
}

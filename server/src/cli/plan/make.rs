//! `turnabout plan`: looks for a good timetable, of an instance or of an evening from people's own files.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::time::Instant;

use clap::Args;
use schemars::JsonSchema;
use serde::Serialize;

use super::breach::Breach;
use super::chart::{self, Labels};
use super::costs::{self, Costs};
use super::effort::{self, Effort, Way};
use super::evening::{self, Evening};
use super::file;
use super::output::Output;
use super::told;
use crate::cli::Told;
use crate::cli::error::{BadInput, CliError};
use crate::timetable::answer::Timetable;
use crate::timetable::chain::{Chain, Chained};
use crate::timetable::check::{Verdict, check};
use crate::timetable::format::write_timetable;
use crate::timetable::instance::Instance;
use crate::timetable::plan::{Plan, order_of};
use crate::timetable::problem::Problem;

/// Lines of breaches that are told as text; JSON has all of them.
const TOLD: usize = 20;

/// What is made here needs no second look.
const OF_THE_INSTANCE: &str = "what is planned is a timetable of the instance";

/// What is to be planned, how long to look, and where to write it.
#[derive(Clone, Debug, Args)]
#[group(skip)]
pub struct Ask {
    /// The instance: what is to be planned.
    instance: Option<PathBuf>,
    /// Plan an evening from a floor file and a programme file, in place of an instance: everybody comes at the time of
    /// their session and asks for stations. All blocks of every group are planned, each when the one before is over and
    /// its stations are wiped down.
    #[arg(long, num_args = 2, value_names = ["FLOOR", "PROGRAMME"])]
    from: Vec<PathBuf>,
    #[command(flatten)]
    effort: effort::Ask,
    /// A timetable of the same instance to go on from: what is answered is never worse than it.
    #[arg(long, value_name = "TIMETABLE")]
    warm: Option<PathBuf>,
    /// Where the timetable goes; a file that is there is overwritten once the new one is whole. Without it only what
    /// the timetable costs is told.
    #[arg(long, value_name = "TIMETABLE")]
    out: Option<PathBuf>,
    /// Where a picture of it goes, a chart as SVG: stations, coaches and clients along the time.
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
    /// Answer with JSON.
    #[arg(long)]
    json: bool,
}

/// A timetable with what it costs. Groups, members, rounds and legs are named by their positions in the instance, from 0.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields, title = "Answer of turnabout plan --json")]
pub struct Answer {
    /// The instance's name, or the floor's.
    pub name: String,
    /// The most clients at a pair of stations, where the floor is run by eye and nothing was searched.
    pub by_eye: Option<usize>,
    /// Where the dice started; nothing by eye.
    pub seed: Option<u64>,
    /// How many searches went on beside each other; nothing by eye.
    pub threads: Option<usize>,
    /// How many orders were looked at, by all of them together; one by eye.
    pub evaluations: u64,
    /// What the timetable costs, the smaller the better; breaches have no price.
    pub objective: i64,
    /// What the objective is made of.
    pub parts: Costs,
    /// The rules that it breaks, the largest violation for each rule, round and leg.
    pub breaches: Vec<Breach>,
    /// The seconds of all breaches together.
    pub breach_seconds: u64,
    /// The timetable that the search went on from.
    pub warm: Option<Warm>,
    /// The file with the timetable.
    pub out: Option<String>,
    /// The file with the picture.
    pub svg: Option<String>,
    /// Who begins when and where, where an evening was planned from a floor file and a programme file.
    pub evening: Option<told::Told>,
}

/// A timetable that a search went on from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Warm {
    /// What it costs.
    pub objective: i64,
    /// The seconds of all its breaches together, listed or not.
    pub breach_seconds: u64,
    /// Whether nothing better was found, so that it is the answer.
    pub kept: bool,
}

/// Answers.
///
/// # Errors
/// An argument is out of its range; a file cannot be read or written, or has mistakes. Nothing is written then.
pub fn tell(ask: &Ask) -> Result<Told, CliError> {
    let since = Instant::now();
    let way = Way::read(&ask.effort, ask.warm.is_some())?;
    let (out, svg) = outputs(ask)?;
    let planned = Planned::read(ask)?;
    let (chain, mut labels) = (planned.chain(), planned.labels());
    if let Way::ByEye(cap) = way {
        let _ = write!(labels.title, ", by eye, at most {cap} clients at a pair of stations");
    }
    let warm = ask.warm.as_deref().map(|path| file::timetable(path, chain.instance())).transpose()?;
    let made = match &way {
        Way::Search(effort) => Made::of(chain, warm.as_ref(), effort, since),
        Way::ByEye(cap) => Made::by_eye(chain, *cap),
    };
    let names = [&out, &svg].map(|output| output.as_ref().map(Output::name));
    let answer = made.answer(&planned, &way, names);
    let out = out.map(|out| out.fill(&write_timetable(&made.timetable)));
    let svg = svg.map(|svg| svg.fill(&chart::draw(&made.instance, &made.timetable, &made.verdict, &labels)));
    // All are whole before the first is put into its place.
    for filled in [out.transpose()?, svg.transpose()?].into_iter().flatten() {
        filled.place()?;
    }
    Ok(Told::new(&answer, ask.json, answer.breaches.is_empty(), |answer| text(answer, &labels)))
}

/// What is planned.
enum Planned {
    /// An instance as it was written, in which nobody waits for anybody.
    Instance(Box<Chain>),
    /// An evening from a floor file and a programme file.
    Evening(Box<Evening>),
}

impl Planned {
    fn read(ask: &Ask) -> Result<Self, CliError> {
        match (&ask.instance, ask.from.as_slice()) {
            (Some(path), []) => Ok(Self::Instance(Box::new(Chain::loose(file::instance(path)?)))),
            (None, [floor, programme]) => {
                evening::read(floor, programme).map(Box::new).map(Self::Evening).map_err(CliError::Floor)
            }
            _ => Err(BadInput::OneOf("INSTANCE", "from").into()),
        }
    }

    fn chain(&self) -> &Chain {
        match self {
            Self::Instance(chain) => chain,
            Self::Evening(evening) => &evening.chain,
        }
    }

    fn labels(&self) -> Labels {
        match self {
            Self::Instance(chain) => Labels::numbers(chain.instance()),
            Self::Evening(evening) => evening.labels(),
        }
    }
}

/// Where to write, which is none of the files that are read, except that a warm timetable may be overwritten by what it
/// led to.
fn outputs(ask: &Ask) -> Result<(Option<Output>, Option<Output>), CliError> {
    let mut read: Vec<(&'static str, &Path)> = Vec::new();
    read.extend(ask.instance.as_deref().map(|path| ("INSTANCE", path)));
    read.extend(ask.from.iter().map(|path| ("from", path.as_path())));
    let out = output("out", ask.out.as_deref(), &read)?;
    read.extend(ask.warm.as_deref().map(|path| ("warm", path)));
    read.extend(ask.out.as_deref().map(|path| ("out", path)));
    let svg = output("svg", ask.svg.as_deref(), &read)?;
    Ok((out, svg))
}

fn output(
    one: &'static str,
    path: Option<&Path>,
    read: &[(&'static str, &Path)],
) -> Result<Option<Output>, CliError> {
    let Some(path) = path else { return Ok(None) };
    let output = Output::at(path)?;
    match read.iter().find(|(_, path)| output.is(path)) {
        Some((other, _)) => Err(BadInput::SameFile { one, other }.into()),
        None => Ok(Some(output)),
    }
}

/// What was found.
struct Made {
    /// What it is a timetable of: of an evening, with whoever comes after others released when these are over.
    instance: Instance,
    timetable: Timetable,
    verdict: Verdict,
    evaluations: u64,
    warm: Option<Warm>,
}

impl Made {
    /// Looks for a timetable, and takes the warm one where none is better.
    fn of(chain: &Chain, warm: Option<&Timetable>, effort: &Effort, since: Instant) -> Self {
        let from = warm.map(|warm| (chain.released(warm), warm));
        let starts = from
            .as_ref()
            .map_or_else(Vec::new, |(instance, warm)| order_of(instance, &Problem::new(instance), warm));
        let made = effort.spend(since, |effort| chain.plan(&starts, effort)).expect(OF_THE_INSTANCE);
        let made = Self::from(made);
        let Some((instance, warm)) = from else { return made };
        let (listed, looked_at) = listed(&instance, warm);
        let kept = rank(&looked_at) < rank(&made.verdict);
        let told = Warm { objective: looked_at.objective, breach_seconds: looked_at.breach_seconds(), kept };
        let warm = Some(told);
        if kept {
            Self { instance, timetable: listed, verdict: looked_at, warm, ..made }
        } else {
            Self { warm, ..made }
        }
    }

    /// The floor run by eye.
    fn by_eye(chain: &Chain, cap: usize) -> Self {
        chain.seen(cap).expect(OF_THE_INSTANCE).into()
    }

    fn answer(&self, planned: &Planned, way: &Way, [out, svg]: [Option<String>; 2]) -> Answer {
        let Self { instance, verdict, evaluations, warm, timetable } = self;
        let (name, evening) = match planned {
            Planned::Instance(_) => (&instance.name, None),
            Planned::Evening(evening) => {
                (&evening.opening.floor.name, Some(told::Told::of(evening, instance, timetable)))
            }
        };
        Answer {
            name: name.clone(),
            by_eye: match way {
                Way::ByEye(cap) => Some(*cap),
                Way::Search(_) => None,
            },
            seed: way.search().map(|effort| effort.seed),
            threads: way.search().map(|effort| effort.threads.get()),
            evaluations: *evaluations,
            objective: verdict.objective,
            parts: verdict.parts.into(),
            breaches: verdict.breaches.iter().map(Breach::from).collect(),
            breach_seconds: verdict.breach_seconds(),
            warm: *warm,
            out,
            svg,
            evening,
        }
    }
}

impl From<Chained> for Made {
    fn from(made: Chained) -> Self {
        let Chained { instance, plan: Plan { timetable, verdict, evaluations, .. } } = made;
        Self { instance, timetable, verdict, evaluations, warm: None }
    }
}

/// Smaller is better: rules first.
fn rank(verdict: &Verdict) -> (u64, i64) {
    (verdict.breach_seconds(), verdict.objective)
}

/// The timetable with exactly the breaches listed that it has.
fn listed(instance: &Instance, timetable: &Timetable) -> (Timetable, Verdict) {
    let look = |timetable: &Timetable| {
        check(instance, timetable).expect("what is read is a timetable of the instance")
    };
    let mut timetable = timetable.clone();
    let mut verdict = look(&timetable);
    if !verdict.is_valid() {
        timetable.breaches.clone_from(&verdict.breaches);
        verdict = look(&timetable);
    }
    (timetable, verdict)
}

fn text(answer: &Answer, labels: &Labels) -> String {
    let Answer {
        name,
        by_eye,
        seed,
        threads,
        evaluations,
        objective,
        parts,
        breaches,
        breach_seconds,
        warm,
        out,
        svg,
        evening,
    } = answer;
    let mut said = if breaches.is_empty() {
        format!("{name}: every rule is kept\n")
    } else {
        format!("{name}: {} breaches of {breach_seconds} s\n", breaches.len())
    };
    for breach in breaches.iter().take(TOLD) {
        let _ = match evening {
            None => writeln!(said, "  {breach}"),
            Some(_) => writeln!(said, "  {}", breach.named(labels)),
        };
    }
    if let Some(more) = breaches.len().checked_sub(TOLD).filter(|more| *more > 0) {
        let _ = writeln!(said, "  and {more} more");
    }
    said.push_str(&costs::table(*objective, parts));
    if let Some(cap) = by_eye {
        let _ = writeln!(said, "by eye, at most {cap} clients at a pair of stations: nothing was searched");
    }
    if let Some((seed, threads)) = seed.zip(*threads) {
        let _ = writeln!(said, "{evaluations} orders looked at, threads {threads}, seed {seed}");
    }
    if let Some(Warm { objective, breach_seconds, kept }) = warm {
        let breaches =
            if *breach_seconds == 0 { String::new() } else { format!(" and breaches of {breach_seconds} s") };
        let kept = if *kept { "nothing better was found" } else { "gone on from" };
        let _ = writeln!(said, "warm timetable: objective {objective}{breaches}, {kept}");
    }
    if let Some(evening) = evening {
        said.push_str(&evening.text());
    }
    if let Some(out) = out {
        let _ = writeln!(said, "timetable: {out}");
    }
    if let Some(svg) = svg {
        let _ = writeln!(said, "picture: {svg}");
    }
    said
}

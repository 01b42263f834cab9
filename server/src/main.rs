//! The command line of the server, and nothing else.

use std::fs;
use std::io::{self, Write as _};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand};
use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
use tokio::net::TcpListener;
use tokio::signal::unix::{SignalKind, signal};
use turnabout_protocol::ids::{CoachId, Key};
use turnabout_server::cli::{self, error::CliError};
use turnabout_server::demo::{Cast, Summary};
use turnabout_server::floor::config::{Coach, Floor, Person, Station};
use turnabout_server::floor::event::Entry;
use turnabout_server::journal::{self, Storage};
use turnabout_server::live::{Files, MOST_RATE, Pace, Planning, StartError, Stored};
use turnabout_server::setup::{self, FilePair, Mistake, Mistakes, ProgrammeFile};
use turnabout_server::web::{self, EndError, ServeError, Server, listen};

/// The port of a floor whose command line names none.
const LISTEN: &str = "127.0.0.1:7474";

/// Coordinates a gym floor: paired sets, stations, spotters, rests.
///
/// Without a command it shows a demo evening: an invented floor whose coaches and clients take their sets by
/// themselves.
#[derive(Parser)]
#[command(version, args_conflicts_with_subcommands = true)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    demo: Demo,
}

#[derive(Subcommand)]
enum Command {
    /// Run a real floor from its own files.
    Serve(Serve),
    /// Look for mistakes in a floor file and a programme file, and tell all of them.
    Check {
        /// The floor file.
        floor: PathBuf,
        /// The programme file.
        programme: Option<PathBuf>,
    },
    /// Tell which plates make a load at a station, and what to change on the bar; or where the pin goes.
    Load(cli::load::Ask),
    /// Estimate from a set to failure what goes once.
    Estimate(cli::estimate::Ask),
    /// Propose the load for the next set, with the reason.
    Next(cli::next::Ask),
    /// Look for a good timetable for a whole floor, or check one.
    ///
    /// Ends with 0 where every rule is kept, with 1 where the timetable lists rules that it breaks (it is written then
    /// too), and with 2 where the question or a file is wrong: nothing is written then.
    Plan(cli::plan::Ask),
    /// Let evenings happen in which sets take other times than planned, and run the floor in four ways.
    ///
    /// By eye whoever is ready first goes first; three a pair is the same with at most three clients in the middle of their
    /// rounds at a pair of stations; planned goes by the plan of what is expected, all-knowing by a plan that knows how long
    /// every set will last. Of a floor file and a programme file on the floor's real core: people arrive, load, go and tap,
    /// and what came of it is read off the journal.
    Rehearse(cli::rehearse::Ask),
}

#[derive(Args)]
struct Demo {
    /// Where the demo keeps its journal and its files; a fresh temporary folder if not said.
    #[arg(long)]
    data: Option<PathBuf>,
    /// How fast the evening goes: 1 is natural, 10 is ten times.
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_RATE)))]
    pace: u32,
    /// Where to listen.
    #[arg(long, default_value = LISTEN)]
    listen: SocketAddr,
    /// Which evening: the same number gives people of the same habits.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Be one of the coaches yourself, by key or name: nobody taps for that coach but you. Ctrl-C ends the demo, which then
    /// tells what was late and why.
    #[arg(long, value_name = "NAME")]
    coach_me: Option<String>,
}

#[derive(Args)]
struct Serve {
    /// The floor file.
    #[arg(long)]
    floor: PathBuf,
    /// The programme file; without one the evening that the journal knows goes on.
    #[arg(long)]
    programme: Option<PathBuf>,
    /// Where the journal is kept.
    #[arg(long)]
    data: PathBuf,
    /// Where to listen.
    #[arg(long, default_value = LISTEN)]
    listen: SocketAddr,
    /// 1 is a real evening; 0 leaves the clock to whoever asks for `/clock/advance`, as tests do.
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u32).range(0..=i64::from(MOST_RATE)))]
    pace: u32,
}

/// Why the program ends with a failure.
#[derive(Debug, thiserror::Error)]
enum Failure {
    /// Told with a picture of the place.
    #[error("the files have mistakes")]
    Files(Vec<Mistakes>),
    #[error("{what}: {source}")]
    Io { what: String, source: io::Error },
    #[error(transparent)]
    Start(#[from] StartError),
    #[error(transparent)]
    Serve(#[from] ServeError),
    #[error(transparent)]
    Listen(#[from] listen::ListenError),
    #[error(transparent)]
    End(#[from] EndError),
    #[error(transparent)]
    Cli(CliError),
    #[error("--coach-me: found {found:?}, allowed {allowed}")]
    NoCoach { found: String, allowed: String },
}

impl From<CliError> for Failure {
    fn from(error: CliError) -> Self {
        match error {
            // Told like those of any other command that reads a floor file.
            CliError::Floor(mistakes) => Self::Files(mistakes),
            CliError::BadInput(_) | CliError::Load(_) | CliError::NoProposal(_) | CliError::Plan(_) => {
                Self::Cli(error)
            }
        }
    }
}

impl From<Vec<Mistakes>> for Failure {
    fn from(mistakes: Vec<Mistakes>) -> Self {
        Self::Files(mistakes)
    }
}

/// An I/O error with what was being done.
fn doing(what: impl Into<String>) -> impl FnOnce(io::Error) -> Failure {
    let what = what.into();
    |source| Failure::Io { what, source }
}

fn main() -> ExitCode {
    let filter = tracing_subscriber::EnvFilter::try_from_default_env()
        .unwrap_or_else(|_| tracing_subscriber::EnvFilter::new("warn"));
    tracing_subscriber::fmt().with_env_filter(filter).with_writer(io::stderr).init();
    match run(Cli::parse()) {
        Ok(code) => code,
        Err(Failure::Files(mistakes)) => {
            for of_one_file in &mistakes {
                // With standard error gone there is nobody to tell.
                let _ = setup::report::to_stderr(of_one_file);
            }
            ExitCode::FAILURE
        }
        Err(failure) => {
            eprintln!("turnabout: {failure}");
            if let Failure::Cli(error) = failure {
                ExitCode::from(error.exit_code())
            } else {
                ExitCode::FAILURE
            }
        }
    }
}

fn run(cli: Cli) -> Result<ExitCode, Failure> {
    match cli.command {
        None => demo(&cli.demo)?,
        Some(Command::Serve(serve)) => self::serve(&serve)?,
        Some(Command::Check { floor, programme }) => check(&floor, programme.as_deref())?,
        Some(Command::Load(ask)) => return answer(&cli::load::tell(&ask)?),
        Some(Command::Estimate(ask)) => return answer(&cli::estimate::tell(&ask)?),
        Some(Command::Next(ask)) => return answer(&cli::next::tell(&ask)?),
        Some(Command::Plan(ask)) => return answer(&cli::plan::tell(&ask)?),
        Some(Command::Rehearse(ask)) => return answer(&cli::rehearse::tell(&ask)?),
    }
    Ok(ExitCode::SUCCESS)
}

/// The answer to a question, and whether what was asked for can be done.
fn answer(told: &cli::Told) -> Result<ExitCode, Failure> {
    io::stdout().write_all(told.text.as_bytes()).map_err(doing("cannot write"))?;
    Ok(told.exit())
}

fn check(path: &Path, programme: Option<&Path>) -> Result<(), Failure> {
    let files = setup::read_pair(path, programme, None)?;
    hints(path, &files.floor.hints)?;
    if let Some((path, file)) = programme.zip(files.programme.as_ref()) {
        hints(path, &file.hints)?;
    }
    let floor = &files.floor.floor;
    say(format_args!("{} stations, {} coaches", floor.stations.len(), floor.coaches.len()))?;
    if let Some(ProgrammeFile { programme, .. }) = &files.programme {
        say(format_args!("{} groups, {} clients", programme.groups.len(), programme.clients.len()))?;
    }
    say(format_args!("no mistakes"))
}

/// What is no mistake in a file and still asks for a second look, a line each.
fn hints(path: &Path, hints: &[Mistake]) -> Result<(), Failure> {
    hints.iter().try_for_each(|hint| {
        let place = hint.place.as_ref().map(|place| format!("{place}: ")).unwrap_or_default();
        say(format_args!("{}:{place}{hint}", path.display()))
    })
}

fn serve(serve: &Serve) -> Result<(), Failure> {
    listen::check(serve.listen)?;
    fs::create_dir_all(&serve.data).map_err(doing(format!("cannot make {}", serve.data.display())))?;
    let stored = Stored::open(&Storage::Folder(serve.data.clone()), journal::Options::default())?;
    let files = read(&stored, &serve.floor, serve.programme.as_deref())?;
    let pace = if serve.pace == 0 { Pace::Driven } else { Pace::Running(serve.pace) };
    runtime()?.block_on(async {
        let server = start(serve.listen, stored, files, pace).await?;
        say(format_args!("serving on http://{}", server.address()))?;
        say(format_args!("{}", server.programme()))?;
        until_asked(server).await
    })
}

/// The files of a floor; stations and coaches keep the numbers that the journal knows them by. What a coach has entered
/// since the programme file was taken must go with the floor file too.
fn read(stored: &Stored, floor: &Path, programme: Option<&Path>) -> Result<Files, Failure> {
    let known = stored.floor();
    let FilePair { floor, programme } = setup::read_pair(floor, programme, known)?;
    let entered = programme.as_ref().and_then(|file| stored.entered_since(&file.programme));
    if let (Some((entered, names)), Some(known)) = (entered, known) {
        setup::check_entered(entered, names, known, &floor.floor).map_err(|mistakes| vec![mistakes])?;
    }
    let mut names = floor.names;
    let programme = programme.map(|file| {
        names.extend(file.names);
        file.programme
    });
    Ok(Files { floor: floor.floor, programme, names })
}

fn runtime() -> Result<tokio::runtime::Runtime, Failure> {
    tokio::runtime::Builder::new_multi_thread().enable_all().build().map_err(doing("cannot start"))
}

/// Files beside the sockets: the journal, its log, the listener, standard streams, and some to spare.
const OTHER_FILES: u64 = 64;

/// Asks for as many open files as there may be sockets. The usual limit of 1,024 is below that.
fn allow_sockets() {
    let wanted = u64::try_from(web::SOCKETS).unwrap_or(u64::MAX) + OTHER_FILES;
    let limit = getrlimit(Resource::Nofile);
    if limit.current.is_none_or(|current| current >= wanted) {
        return;
    }
    let current = Some(limit.maximum.map_or(wanted, |most| most.min(wanted)));
    let raised = setrlimit(Resource::Nofile, Rlimit { current, ..limit });
    if raised.is_err() || current < Some(wanted) {
        tracing::warn!(wanted, "too few open files are allowed for all the displays a floor may have");
    }
}

async fn start(address: SocketAddr, stored: Stored, files: Files, pace: Pace) -> Result<Server, Failure> {
    allow_sockets();
    let listener = TcpListener::bind(address).await.map_err(doing(format!("cannot listen on {address}")))?;
    let options = web::Options { pace, planning: Planning::of(pace), ..web::Options::default() };
    Ok(Server::start(listener, stored, files, options)?)
}

/// Serves until Ctrl-C, or a polite kill; then finishes what was begun.
async fn until_asked(mut server: Server) -> Result<(), Failure> {
    let mut terminate = signal(SignalKind::terminate()).map_err(doing("cannot wait for signals"))?;
    tokio::select! {
        asked = tokio::signal::ctrl_c() => asked.map_err(doing("cannot wait for Ctrl-C"))?,
        _ = terminate.recv() => {}
        () = server.failed() => return Err(EndError::FloorEnded.into()),
    }
    Ok(server.shutdown().await?)
}

/// One line to standard output. A reader that has gone away is told of like any other I/O error.
fn say(line: std::fmt::Arguments<'_>) -> Result<(), Failure> {
    writeln!(io::stdout(), "{line}").map_err(doing("cannot write"))
}

/// The demo's own files, written out so that they are read like anybody's, and may be changed and read again.
const DEMO_FILES: [(&str, &str); 2] = [
    ("floor.toml", include_str!("../examples/floor.toml")),
    ("programme.toml", include_str!("../examples/programme.toml")),
];

fn demo(demo: &Demo) -> Result<(), Failure> {
    listen::check(demo.listen)?;
    // Kept until the end: the folder goes with it.
    let fresh;
    let data = match &demo.data {
        Some(data) => data.as_path(),
        None => {
            fresh = tempfile::Builder::new()
                .prefix("turnabout-demo-")
                .tempdir()
                .map_err(doing("cannot make a temporary folder"))?;
            fresh.path()
        }
    };
    fs::create_dir_all(data).map_err(doing(format!("cannot make {}", data.display())))?;
    let [floor, programme] = DEMO_FILES.map(|(name, content)| {
        let path = data.join(name);
        let written = if path.exists() { Ok(()) } else { fs::write(&path, content) };
        written.map_err(doing(format!("cannot write {}", path.display()))).map(|()| path)
    });
    let stored = Stored::open(&Storage::Folder(data.to_owned()), journal::Options::default())?;
    let files = read(&stored, &floor?, Some(&programme?))?;
    let me = demo.coach_me.as_deref().map(|me| practising(&files, me)).transpose()?;
    let others = files.floor.coaches.iter().filter(|(id, _)| me != Some(**id));
    let cast = Cast {
        coaches: others.map(|(_, coach)| coach.key.clone()).collect(),
        stations: files.floor.stations.values().map(|station| station.key.clone()).collect(),
    };
    let (floor, names) = (files.floor.clone(), files.names.clone());
    runtime()?.block_on(async {
        let server = start(demo.listen, stored, files, Pace::Running(demo.pace)).await?;
        let own = me.and_then(|me| floor.coaches.get(&me)).map(|coach| &coach.key);
        invite(&floor, server.address(), data, demo.pace, own)?;
        let evening = tokio::spawn(evening(server.address(), cast, demo.seed, me.is_some()));
        // Summaries are read and printed when all is over, so the server stays until somebody ends it.
        let ended = until_asked(server).await;
        evening.abort();
        ended
    })?;
    let Some(me) = me else { return Ok(()) };
    let entries = entries(data)?;
    write!(io::stdout(), "{}", cli::practice::told(&entries, &floor, &names, me))
        .map_err(doing("cannot write"))
}

/// The coach of that key or name.
fn practising(files: &Files, me: &str) -> Result<CoachId, Failure> {
    let name = |id: &CoachId| files.names.get(&Person::Coach(*id));
    let is_me = |(id, coach): &(&CoachId, &Coach)| {
        coach.key.as_str() == me || name(id).is_some_and(|name| name.eq_ignore_ascii_case(me))
    };
    let coaches = &files.floor.coaches;
    coaches.iter().find(is_me).map(|(id, _)| *id).ok_or_else(|| {
        let named = |(id, coach): (&CoachId, &Coach)| match name(id) {
            Some(name) => format!("{} ({name})", coach.key.as_str()),
            None => coach.key.as_str().to_owned(),
        };
        Failure::NoCoach {
            found: me.to_owned(),
            allowed: coaches.iter().map(named).collect::<Vec<_>>().join(", "),
        }
    })
}

/// All entries of a journal that nobody has open.
fn entries(data: &Path) -> Result<Vec<Entry>, Failure> {
    let journal = journal::Journal::open(&Storage::Folder(data.to_owned()), journal::Options::default())
        .map_err(StartError::from)?;
    let mut entries = Vec::new();
    journal.rows_after(0, |row| -> Result<(), StartError> {
        entries.push(journal::codec::decode(&row)?);
        Ok(())
    })?;
    Ok(entries)
}

/// The simulated people, until everybody has finished. The server goes on: there is something to look at.
async fn evening(server: SocketAddr, cast: Cast, seed: u64, practises: bool) {
    let line = match turnabout_server::demo::run(server, cast, seed, std::future::pending()).await {
        Ok(Summary { taps, finished_groups, groups, .. }) => {
            let then = if practises {
                "The summaries are on your page. Ctrl-C ends and tells what was late and why."
            } else {
                "Ctrl-C ends."
            };
            format!("The evening is over: {finished_groups} of {groups} groups finished, {taps} taps. {then}")
        }
        Err(error) => format!("The demo's people have left: {error}"),
    };
    // Nobody reads: nobody needs to be told.
    let _ = say(format_args!("{line}"));
}

/// The first station and the first with other gear: two between which people go over.
fn pair(floor: &Floor) -> (&str, &str) {
    let mut stations = floor.stations.values();
    let first = stations.next();
    let other = stations.find(|s| first.is_some_and(|first| first.gear.kind() != s.gear.kind()));
    (key(first), key(other.or(first)))
}

/// A station's key; a floor file names at least one station.
fn key(station: Option<&Station>) -> &str {
    station.map_or("", |station| station.key.as_str())
}

/// What there is to open.
fn invite(
    floor: &Floor,
    server: SocketAddr,
    data: &Path,
    pace: u32,
    me: Option<&Key>,
) -> Result<(), Failure> {
    let name = &floor.name;
    say(format_args!("{name}: a demo evening at {pace} times natural pace\n"))?;
    for Coach { key: coach, .. } in floor.coaches.values() {
        say(format_args!("  coach page    http://{server}/coach?me={coach}"))?;
    }
    say(format_args!("  floor board   http://{server}/board"))?;
    let kiosk = format!("cargo run --profile kiosk -p turnabout-kiosk -- --server http://{server}");
    let (first, second) = pair(floor);
    say(format_args!("  a kiosk       {kiosk} --station {first}"))?;
    say(format_args!("  two stations  {kiosk} --station {first},{second}"))?;
    say(format_args!("  wall board    {kiosk} --board"))?;
    say(format_args!("  journal       {}\n", data.display()))?;
    let people = match me {
        None => "Coaches and clients tap by themselves; every tap of yours counts as well.".to_owned(),
        Some(me) => {
            format!(
                "You are {}: nobody taps for that coach but you. All others tap by themselves.",
                me.as_str()
            )
        }
    };
    say(format_args!("{people} Ctrl-C ends."))
}

//! From a journal and the floor's files to a floor that runs.
//!
//! What a start writes is one batch: that the floor was down, which UTC its time is, and what has changed in
//! its files. A start that is refused writes nothing.

use std::fmt;
use std::sync::Arc;

use tokio::task::JoinHandle;
use turnabout_protocol::ids::Key;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

use super::clock::{FloorClock, Pace, Wall, after_restart};
use super::handle::FloorHandle;
use super::keeper::Keeper;
use super::ledger::{BodyHash, Given, Ledger, MOST_AGE};
use super::planner::Planner;
use super::snapshot;
use super::task::{Parts, Task};
use super::truth::{Happening, Truth, Unsound, caught};
use super::zone::Zone;
use crate::floor::changes::{self, InUse};
use crate::floor::config::{Floor, Names, Notes, Person, Programme};
use crate::floor::event::Event;
use crate::floor::evolve::evolve;
use crate::floor::state::{MOST_NOTES, Stamp, State};
use crate::journal::codec::{self, CodecError};
use crate::journal::{
    Batch, Journal, NameChange, OpenError, Options, ReadError, Storage, StoredAnswer, WriteError,
};

/// Why a floor did not start. Nothing was written.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// The journal could not be opened.
    #[error(transparent)]
    Open(#[from] OpenError),
    /// It could not be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// One of its entries means nothing to this program.
    #[error(transparent)]
    Entry(#[from] CodecError),
    /// One of its entries cannot be taken into the state: a fault of the program.
    #[error("the journal could not be replayed")]
    Replay,
    /// An answer in it means nothing to this program.
    #[error("an answer kept after entry {sequence} of the journal cannot be read: {cause}")]
    Answer {
        /// The entry it rests on.
        sequence: u64,
        /// What is wrong with it.
        cause: serde_json::Error,
    },
    /// The files take away what is in use.
    #[error("the files change what is in use: {}", list(.0))]
    InUse(Vec<InUse>),
    /// The state would break what must always hold: a fault of the program or of the files' check.
    #[error("the floor cannot be set up so: {0}")]
    Unsound(String),
    /// The journal did not take the first entries.
    #[error(transparent)]
    Write(#[from] WriteError),
}

fn list(in_use: &[InUse]) -> String {
    in_use.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

/// A journal that has been read: the floor as it was left.
#[derive(Debug)]
pub struct Stored {
    journal: Journal,
    state: State,
    /// The entry of the snapshot it was read from; 0 for none.
    saved: u64,
    names: Names,
    notes: Notes,
    answers: Vec<StoredAnswer>,
}

/// What the floor's files say now.
#[derive(Clone, Debug)]
pub struct Files {
    /// The floor.
    pub floor: Floor,
    /// The evening; without one, what the journal has goes on.
    pub programme: Option<Programme>,
    /// The names in both.
    pub names: Names,
}

impl Stored {
    /// Opens a journal and replays it.
    ///
    /// # Errors
    /// [`StartError::Open`], [`StartError::Read`], [`StartError::Entry`], [`StartError::Replay`].
    pub fn open(storage: &Storage, options: Options) -> Result<Self, StartError> {
        Self::read(Journal::open(storage, options)?)
    }

    /// Replays a journal that is open.
    ///
    /// # Errors
    /// [`StartError::Read`], [`StartError::Entry`], [`StartError::Replay`].
    pub fn read(journal: Journal) -> Result<Self, StartError> {
        let mut state = saved_state(&journal)?;
        let saved = state.sequence;
        journal.rows_after(state.sequence, |row| -> Result<(), StartError> {
            let entry = codec::decode(&row)?;
            caught("replay", || evolve(&mut state, &entry)).ok_or(StartError::Replay)
        })?;
        let since = journal.last().map_or(FloorMs::default(), |last| last.recorded - MOST_AGE);
        let mut answers = Vec::new();
        journal.answers_since(since, |answer| -> Result<(), StartError> {
            answers.push(answer);
            Ok(())
        })?;
        let names = journal.names()?;
        let notes = journal.notes(MOST_NOTES)?;
        Ok(Self { journal, state, saved, names, notes, answers })
    }

    /// The floor as the journal knows it, so that its files keep their numbers; `None` before the first.
    #[must_use]
    pub fn floor(&self) -> Option<&Floor> {
        (self.state.sequence > 0).then_some(&self.state.floor)
    }

    /// What holds over a file that says this, because a coach has entered it since the file was taken; `None` where
    /// the file holds.
    #[must_use]
    pub fn entered_since(&self, file: &Programme) -> Option<(&Programme, &Names)> {
        self.state.source.stands_over(file).then_some((&self.state.programme, &self.names))
    }

    /// Writes the first entries of this run. From now on the floor's clock runs.
    ///
    /// # Errors
    /// [`StartError`]; nothing was written.
    pub fn begin(
        self,
        files: Files,
        pace: Pace,
        wall: Arc<dyn Wall>,
    ) -> Result<(Journal, Beginning), StartError> {
        let Self { mut journal, state, saved, mut names, notes, answers } = self;
        let utc_ms = wall.utc_ms();
        let zone = Zone::of(&files.floor);
        let known = state.sequence;
        // Floor time begins with the first entry.
        let now = match known {
            0 => FloorMs::default(),
            _ => after_restart(state.recorded, state.clock, utc_ms, pace),
        };
        let mut truth = Truth::new(state);
        if known > 0 {
            let down = now.since(truth.state().recorded);
            happen(&mut truth, now, Event::Resumed { down })?;
        }
        happen(&mut truth, now, Event::ClockMapped { utc_ms, offset_secs: zone.offset_secs(utc_ms) })?;
        if let Some(event) = changes::set_floor(truth.state(), files.floor).map_err(StartError::InUse)? {
            happen(&mut truth, now, event)?;
        }
        let Files { programme, names: mut said, .. } = files;
        let whose = match programme.filter(|file| !truth.state().source.stands_over(file)) {
            Some(file) => {
                let event = changes::set_programme(truth.state(), file).map_err(StartError::InUse)?;
                event.into_iter().try_for_each(|event| happen(&mut truth, now, event))?;
                Whose::File
            }
            // Without a file, or where it says what it said when it was taken, what was entered since is not thrown
            // away, and neither are the names that came with it.
            None => {
                said.retain(|person, _| matches!(person, Person::Coach(_)) || !names.contains_key(person));
                Whose::of(truth.state())
            }
        };
        let rows = truth.pending_after(known).map(codec::encode).collect::<Result<_, _>>()?;
        let ledger = ledger(answers)?;
        let batch = Batch { rows, names: renamed(&names, &said), ..Batch::default() };
        journal.append(&batch)?;
        truth.settle(truth.state().sequence);
        names.extend(said);
        let clock = FloorClock::start(pace, now);
        tracing::info!(known, sequence = truth.durable().sequence, floor_ms = now.0, "the floor is set up");
        let state = truth.durable().clone();
        Ok((journal, Beginning { state, saved, names, notes, ledger, clock, wall, whose }))
    }
}

/// A floor whose first entries are on disk.
pub struct Beginning {
    state: State,
    saved: u64,
    names: Names,
    notes: Notes,
    ledger: Ledger,
    clock: FloorClock,
    wall: Arc<dyn Wall>,
    whose: Whose,
}

/// Whose programme holds at a start.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whose {
    /// Nobody has set any.
    Nobodys,
    /// That of the file of this start, or that of an earlier one where there is none.
    File,
    /// What a coach has entered on a page: the file has not changed since it was taken.
    Entered {
        /// The coach; nothing where the floor has that coach no more.
        coach: Option<Key>,
        /// When, in the floor's zone (RFC 3339).
        when: String,
    },
}

impl Whose {
    fn of(state: &State) -> Self {
        match state.source.set {
            None => Self::Nobodys,
            Some(Stamp { by: Actor::Coach { coach }, when }) => Self::Entered {
                coach: state.floor.coaches.get(&coach).map(|coach| coach.key.clone()),
                when: state.clock.rfc3339(when),
            },
            Some(_) => Self::File,
        }
    }
}

impl fmt::Display for Whose {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nobodys => f.write_str("there is no programme yet"),
            Self::File => f.write_str("the programme is the file's"),
            Self::Entered { coach, when } => {
                f.write_str("the programme is what ")?;
                match coach {
                    Some(coach) => write!(f, "{coach}")?,
                    None => f.write_str("a coach who is not here any more")?,
                }
                write!(f, " entered at {when}; the file is taken again when it changes")
            }
        }
    }
}

/// A floor that runs.
#[derive(Debug)]
pub struct RunningFloor {
    /// To speak to it.
    pub handle: FloorHandle,
    /// Its clock.
    pub clock: FloorClock,
    /// Whose programme holds.
    pub whose: Whose,
    /// Its name and what has a key, as its files say.
    pub floor: Arc<Floor>,
    /// The names of people at this start.
    pub names: Arc<Names>,
    /// Ends with the floor.
    pub task: JoinHandle<()>,
}

impl Beginning {
    /// Starts the floor's task, which hands its batches to `keeper` and has better orders looked for by `planner`. `epoch`
    /// names this start and no other.
    #[must_use]
    pub fn run(self, keeper: Box<dyn Keeper>, planner: Box<dyn Planner>, epoch: Uuid) -> RunningFloor {
        let Self { state, saved, names, notes, ledger, clock, wall, whose } = self;
        let (handle, inbox) = FloorHandle::new();
        let floor = Arc::new(state.floor.clone());
        let shared_names = Arc::new(names.clone());
        let clock_there = clock.clone();
        let parts = Parts {
            state,
            saved,
            names,
            notes,
            ledger,
            epoch,
            clock: clock_there,
            wall,
            keeper,
            planner,
            inbox,
        };
        let task = tokio::spawn(Task::new(parts).run());
        RunningFloor { handle, clock, whose, floor, names: shared_names, task }
    }
}

/// The newest state that was saved in this program's form, or none.
fn saved_state(journal: &Journal) -> Result<State, ReadError> {
    let Some(saved) = journal.latest_snapshot(&snapshot::schema_hash())? else {
        return Ok(State::new());
    };
    let state = snapshot::decode(&saved.bytes).filter(|state| state.sequence == saved.sequence);
    if state.is_none() {
        tracing::warn!(sequence = saved.sequence, "a snapshot of another shape is passed over");
    }
    Ok(state.unwrap_or_default())
}

fn happen(truth: &mut Truth, now: FloorMs, event: Event) -> Result<(), StartError> {
    let happening = Happening { by: Actor::Floor, at: now, recorded: now, events: vec![event] };
    truth.take(happening).map_err(|unsound| match unsound {
        Unsound::Panicked => StartError::Replay,
        Unsound::Broken(broken) => StartError::Unsound(broken),
    })
}

fn ledger(answers: Vec<StoredAnswer>) -> Result<Ledger, StartError> {
    let mut ledger = Ledger::default();
    for StoredAnswer { device, command, body_hash, recorded, sequence, json } in answers {
        let outcome = serde_json::from_str(&json).map_err(|cause| StartError::Answer { sequence, cause })?;
        let given = Given { body: BodyHash(body_hash), outcome, rests_on: sequence, recorded };
        ledger.accept((device, command), given);
    }
    Ok(ledger)
}

/// The names that are new. Names that are gone from the files stay: erasing is asked for by itself.
fn renamed(known: &Names, now: &Names) -> Vec<NameChange> {
    let new = now.iter().filter(|(person, name)| known.get(person) != Some(name));
    new.map(|(person, name)| NameChange::Set { person: *person, name: name.clone() }).collect()
}

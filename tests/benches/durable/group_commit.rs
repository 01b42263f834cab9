//! What the database can do: threads that hand rows to one writer, which commits all that wait at once.
//!
//! The rows, tables and settings are the journal's own; there is no socket, no rule and no state.

use std::path::Path;
use std::sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel};
use std::thread;
use std::time::{Duration, Instant};

use rusqlite::{Connection, TransactionBehavior, params};
use turnabout_protocol::ids::{ClientId, GroupId, TurnId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::journal::{Row, codec};
use uuid::Uuid;

use crate::Done;
use crate::floor::COACH;

const TABLES: &str = "
    PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA secure_delete = ON;
    CREATE TABLE entries (sequence INTEGER PRIMARY KEY, recorded INTEGER NOT NULL, kind TEXT NOT NULL,
        version INTEGER NOT NULL, json TEXT NOT NULL) STRICT;
    CREATE TABLE answers (id INTEGER PRIMARY KEY, device BLOB NOT NULL, command BLOB NOT NULL,
        body_hash BLOB NOT NULL, recorded INTEGER NOT NULL, sequence INTEGER NOT NULL, json TEXT NOT NULL,
        UNIQUE (device, command)) STRICT;
    CREATE INDEX answers_recorded ON answers (recorded);
";

/// Whom to tell once it is durable.
type Waiting = SyncSender<()>;

/// The database, between runs.
pub(crate) struct GroupCommit {
    connection: Connection,
    sequence: i64,
    row: Row,
    answer: String,
}

impl GroupCommit {
    pub(crate) fn in_folder(folder: &Path) -> Self {
        let connection = Connection::open(folder.join("bare.db")).expect("a folder that can be written");
        connection.execute_batch(TABLES).expect("the journal's own tables");
        let turn = TurnId { group: GroupId(50), client: ClientId(100), block: 0, round: 0, leg: 0 };
        let event = Event::StartPutOff { turn, ready: FloorMs(1_000_000) };
        let (at, by) = (FloorMs(10_000), Actor::Coach { coach: COACH });
        let row = codec::encode(&Entry { sequence: 1, recorded: at, at, by, event }).expect("plain JSON");
        let answer = serde_json::to_string(&Outcome::Accepted { recorded: at }).expect("plain JSON");
        Self { connection, sequence: 0, row, answer }
    }

    /// Lets so many threads write for that long.
    pub(crate) fn run(mut self, clients: u16, time: Duration, done: &mut Done) -> Self {
        let (requests, inbox) = channel();
        let writer = thread::spawn(move || {
            self.write(&inbox);
            self
        });
        let started = Instant::now();
        let client = |_| {
            let requests = requests.clone();
            thread::spawn(move || client(&requests, started + time))
        };
        let threads: Vec<_> = (0..clients).map(client).collect();
        drop(requests);
        for thread in threads {
            done.times.extend(thread.join().expect("a client does not fail"));
        }
        done.took += started.elapsed();
        writer.join().expect("the writer does not fail")
    }

    fn write(&mut self, inbox: &Receiver<Waiting>) {
        let mut batch = Vec::new();
        while let Ok(first) = inbox.recv() {
            batch.push(first);
            batch.extend(inbox.try_iter());
            self.commit(batch.len()).expect("a disk that works");
            for waiting in batch.drain(..) {
                let _ = waiting.send(());
            }
        }
    }

    fn commit(&mut self, rows: usize) -> rusqlite::Result<()> {
        let Self { connection, sequence, row, answer } = self;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        for _ in 0..rows {
            *sequence += 1;
            transaction.prepare_cached("INSERT INTO entries VALUES (?, ?, ?, ?, ?)")?.execute(params![
                *sequence,
                *sequence,
                row.kind,
                row.version,
                row.json
            ])?;
            let (device, command) = (Uuid::from_u128(1), Uuid::new_v4());
            transaction
                .prepare_cached(
                    "INSERT INTO answers (device, command, body_hash, recorded, sequence, json) VALUES (?, ?, ?, ?, ?, ?)",
                )?
                .execute(params![
                    device.as_bytes(),
                    command.as_bytes(),
                    [7_u8; 32],
                    *sequence,
                    *sequence,
                    &*answer
                ])?;
        }
        transaction.commit()
    }
}

fn client(requests: &Sender<Waiting>, until: Instant) -> Vec<Duration> {
    let (reply, durable) = sync_channel(1);
    let mut times = Vec::new();
    while Instant::now() < until {
        let started = Instant::now();
        requests.send(reply.clone()).expect("the writer outlives its clients");
        durable.recv().expect("the writer answers");
        times.push(started.elapsed());
    }
    times
}

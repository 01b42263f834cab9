//! How long a start takes on a journal of a million entries, without a snapshot and with one.

#[path = "../common/floor.rs"]
mod floor;
#[path = "../common/random.rs"]
mod random;
#[path = "../common/spread.rs"]
mod spread;
#[path = "../common/table.rs"]
mod table;

mod evenings;

use std::path::Path;
use std::time::{Duration, Instant};

use evenings::{Evenings, GROUPS};
use spread::{Spread, ms};
use turnabout_server::journal::{Journal, Options, Storage};
use turnabout_server::live::Stored;
use turnabout_server::web;

const ENTRIES: u64 = 1_000_000;
/// Entries after a snapshot, one below the number at which the next is saved.
const AFTER: u64 = 4_999;
const TRIES: usize = 5;

fn main() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let storage = Storage::Folder(folder.path().to_owned());
    let mut journal = open(&storage);
    let mut evenings = Evenings::new();
    let started = Instant::now();
    evenings.fill(&mut journal, ENTRIES);
    println!(
        "{} entries of {} evenings made and written in {:.1} s; {:.0} MB on the disk",
        evenings.sequence(),
        evenings.number(),
        started.elapsed().as_secs_f64(),
        megabytes(folder.path()),
    );
    journal.close().expect("a disk that works");
    let mut rows = vec![measure(&storage, "no snapshot")];
    run_once(&storage);
    rows.push(measure(&storage, "a snapshot at the end"));
    let mut journal = open(&storage);
    evenings.catch_up(&journal);
    let last = evenings.sequence();
    evenings.fill(&mut journal, last + AFTER);
    journal.close().expect("a disk that works");
    rows.push(measure(&storage, "a snapshot 4,999 entries back"));
    let head =
        ["start with", "whole start, ms", "longest", "of it opening", "reading and replay", "entries/s"];
    let title = format!("{TRIES} starts each, the file in the system's cache");
    table::print(&title, &head, &rows);
}

fn open(storage: &Storage) -> Journal {
    Journal::open(storage, Options::default()).expect("a journal that opens")
}

fn megabytes(folder: &Path) -> f64 {
    let files = std::fs::read_dir(folder).expect("it is there").flatten();
    let kilobytes: u64 = files.filter_map(|file| Some(file.metadata().ok()?.len() / 1_024)).sum();
    f64::from(u32::try_from(kilobytes).unwrap_or(u32::MAX)) / 1_024.0
}

/// Opens it again and again.
fn measure(storage: &Storage, name: &str) -> Vec<String> {
    let (mut whole, mut opening) = (Vec::new(), Vec::new());
    for _ in 0..TRIES {
        let started = Instant::now();
        drop(Stored::open(storage, Options::default()).expect("a journal that replays"));
        whole.push(started.elapsed());
        let started = Instant::now();
        drop(open(storage));
        opening.push(started.elapsed());
    }
    let (whole, opening) = (Spread::of(whole), Spread::of(opening).at(50));
    let replay = whole.at(50).saturating_sub(opening);
    let entries = entries_read(storage);
    let rate = if entries == 0 { "-".to_owned() } else { format!("{:.0}", a_second(entries, replay)) };
    vec![name.to_owned(), ms(whole.at(50)), ms(whole.at(100)), ms(opening), ms(replay), rate]
}

/// How many entries a start reads: those after the newest snapshot.
fn entries_read(storage: &Storage) -> u32 {
    let connection = match storage {
        Storage::Folder(folder) => rusqlite::Connection::open(folder.join("floor.db")),
        Storage::Memory => rusqlite::Connection::open_in_memory(),
    };
    let count = "SELECT count(*) FROM entries
                 WHERE sequence > (SELECT coalesce(max(sequence), 0) FROM snapshots)";
    let counted = connection.and_then(|connection| connection.query_row(count, [], |row| row.get(0)));
    counted.expect("a journal")
}

fn a_second(entries: u32, time: Duration) -> f64 {
    f64::from(entries) / time.as_secs_f64()
}

/// Starts a server and ends it in order, which saves a snapshot.
fn run_once(storage: &Storage) {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().expect("threads");
    runtime.block_on(async {
        let stored = Stored::open(storage, Options::default()).expect("a journal that replays");
        let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.expect("a free port");
        let mut files = floor::files(GROUPS);
        // What the journal has goes on.
        files.programme = None;
        web::run(listener, stored, files, web::Options::default(), async {}).await.expect("an orderly end");
    });
}

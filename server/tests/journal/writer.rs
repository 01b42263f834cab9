//! The thread: commits in order, says what a failure came to, and resumes.

use std::fs;

use turnabout_protocol::units::FloorMs;
use turnabout_server::journal::{
    Batch, CommitError, Failure, Fault, Journal, NameChange, Options, PART_ITEMS, Part, QUEUE, ReadError,
    Refusal, Row, Storage, SubmitError, Writer,
};

use crate::made::{answer, answers_since, client, open, row, rows, rows_after};

const HASH: [u8; 32] = [1; 32];

fn commit(writer: &Writer, batch: Batch) -> Result<u64, CommitError> {
    writer.commit(batch).unwrap().blocking_recv().unwrap()
}

fn probe(writer: &Writer) -> Result<u64, Failure> {
    writer.probe().unwrap().blocking_recv().unwrap()
}

fn set_max_pages(writer: &Writer, max_pages: Option<u32>) {
    writer.set_max_pages(max_pages).unwrap().blocking_recv().unwrap().unwrap();
}

fn replay(writer: &Writer) -> Result<Vec<Part>, ReadError> {
    let mut stream = writer.replay(HASH, FloorMs(0)).unwrap();
    std::iter::from_fn(|| stream.blocking_recv()).collect()
}

fn too_large_for_the_room(sequence: u64) -> Batch {
    let large = Row { json: "x".repeat(100_000), ..row(sequence) };
    Batch { rows: vec![large], ..Batch::default() }
}

#[test]
fn what_waits_at_shutdown_is_committed_and_the_folder_is_free_afterwards() {
    let folder = tempfile::tempdir().unwrap();
    let writer = Writer::start(open(folder.path()).unwrap()).unwrap();
    let outcomes: Vec<_> =
        [1..=2, 3..=3, 4..=7].into_iter().map(|range| writer.commit(rows(range)).unwrap()).collect();
    writer.shutdown().blocking_recv().unwrap().unwrap();
    let durable: Vec<u64> =
        outcomes.into_iter().map(|reply| reply.blocking_recv().unwrap().unwrap()).collect();
    assert_eq!(durable, [2, 3, 7]);
    let log = folder.path().join("floor.db-wal");
    assert!(!log.exists() || fs::metadata(log).unwrap().len() == 0);
    assert_eq!(rows_after(&open(folder.path()).unwrap(), 0).len(), 7);
}

#[test]
fn a_replay_gives_snapshot_rows_answers_and_names_in_that_order() {
    let writer = Writer::start(Journal::open(&Storage::Memory, Options::default()).unwrap()).unwrap();
    assert_eq!(replay(&writer).unwrap(), [Part::Names([].into())]);
    let count = PART_ITEMS as u64 + 5;
    let name = NameChange::Set { person: client(2), name: "Hana".to_owned() };
    let batch = Batch { answers: vec![answer(1, 2)], names: vec![name], ..rows(1..=count) };
    assert_eq!(commit(&writer, batch).unwrap(), count);
    writer.save_snapshot(3, HASH, b"three".to_vec()).unwrap().blocking_recv().unwrap().unwrap();
    let parts = replay(&writer).unwrap();
    let [
        Part::Snapshot(snapshot),
        Part::Rows(first),
        Part::Rows(second),
        Part::Answers(answers),
        Part::Names(names),
    ] = parts.as_slice()
    else {
        panic!("{parts:?}");
    };
    assert_eq!((snapshot.sequence, snapshot.bytes.as_slice()), (3, &b"three"[..]));
    assert_eq!(first.len(), PART_ITEMS);
    let replayed: Vec<Row> = first.iter().chain(second).cloned().collect();
    assert_eq!(replayed, (4..=count).map(row).collect::<Vec<_>>());
    assert_eq!(answers.as_slice(), [answer(1, 2)]);
    assert_eq!(names[&client(2)], "Hana");
}

#[test]
fn a_refused_batch_does_not_stop_the_next() {
    let writer = Writer::start(Journal::open(&Storage::Memory, Options::default()).unwrap()).unwrap();
    let gap = commit(&writer, rows(2..=2)).unwrap_err();
    assert!(matches!(gap, CommitError::Refused(Refusal::Sequence { expected: 1, found: 2 })), "{gap}");
    assert_eq!(commit(&writer, rows(1..=1)).unwrap(), 1);
}

#[test]
fn a_full_disk_is_said_with_what_counts_and_writing_resumes_by_itself() {
    let folder = tempfile::tempdir().unwrap();
    let writer = Writer::start(open(folder.path()).unwrap()).unwrap();
    assert_eq!(commit(&writer, rows(1..=3)).unwrap(), 3);
    set_max_pages(&writer, Some(1));
    let batch = too_large_for_the_room(4);
    match commit(&writer, batch.clone()).unwrap_err() {
        CommitError::Failed(Failure { fault: Fault::Full, durable_upto: Some(3) }) => {}
        other => panic!("{other:?}"),
    }
    assert!(matches!(probe(&writer), Err(Failure { fault: Fault::Full, durable_upto: Some(3) })));
    assert_eq!(replay(&writer).unwrap(), [Part::Rows(rows(1..=3).rows), Part::Names([].into())]);
    set_max_pages(&writer, None);
    assert_eq!(probe(&writer).unwrap(), 3);
    assert_eq!(commit(&writer, batch).unwrap(), 4);
    writer.shutdown().blocking_recv().unwrap().unwrap();
    open(folder.path()).unwrap().verify().unwrap();
}

#[test]
fn while_the_file_cannot_be_opened_nothing_counts_as_known() {
    let folder = tempfile::tempdir().unwrap();
    let (here, away) = (folder.path().join("floor.db"), folder.path().join("away.db"));
    let writer = Writer::start(open(folder.path()).unwrap()).unwrap();
    commit(&writer, Batch { answers: vec![answer(1, 3)], ..rows(1..=3) }).unwrap();
    set_max_pages(&writer, Some(1));
    fs::rename(&here, &away).unwrap();
    match commit(&writer, too_large_for_the_room(4)).unwrap_err() {
        CommitError::Failed(Failure { fault: Fault::Full | Fault::Io(_), durable_upto: None }) => {}
        other => panic!("{other:?}"),
    }
    assert!(matches!(probe(&writer), Err(Failure { fault: Fault::Closed, durable_upto: None })));
    assert!(matches!(replay(&writer), Err(ReadError::Closed)));
    assert!(!here.exists(), "no new journal in place of the missing one");
    fs::rename(&away, &here).unwrap();
    // Any request opens it again.
    assert_eq!(replay(&writer).unwrap().len(), 3);
    set_max_pages(&writer, None);
    assert_eq!(probe(&writer).unwrap(), 3);
    assert_eq!(commit(&writer, rows(4..=4)).unwrap(), 4);
    writer.shutdown().blocking_recv().unwrap().unwrap();
    let journal = open(folder.path()).unwrap();
    assert_eq!(rows_after(&journal, 0).len(), 4);
    assert_eq!(answers_since(&journal, FloorMs(0)), [answer(1, 3)]);
}

#[test]
fn a_full_queue_refuses_at_once_and_a_taker_who_leaves_frees_the_thread() {
    let writer = Writer::start(Journal::open(&Storage::Memory, Options::default()).unwrap()).unwrap();
    commit(&writer, rows(1..=6 * PART_ITEMS as u64)).unwrap();
    let mut stream = writer.replay(HASH, FloorMs(0)).unwrap();
    // The thread is in the replay now and cannot finish it: more parts wait than it may read ahead.
    assert!(stream.blocking_recv().unwrap().is_ok());
    let waiting: Vec<_> = (0..QUEUE).map(|_| writer.probe().unwrap()).collect();
    assert_eq!(writer.probe().unwrap_err(), SubmitError::Busy);
    drop(stream);
    for reply in waiting {
        reply.blocking_recv().unwrap().unwrap();
    }
}

//! What goes in comes out, in order, and what does not follow is refused whole.

use proptest::prelude::*;
use turnabout_protocol::units::FloorMs;
use turnabout_server::journal::{
    Batch, Journal, Last, MAX_BATCH_BYTES, MAX_BATCH_ITEMS, MAX_NAME_BYTES, NameChange, Options, Refusal,
    Row, Storage, WriteError,
};

use crate::made::{answer, answers_since, client, open, row, rows, rows_after};

/// Rows of any content, cut into batches, each with the answer of one command.
fn batches() -> impl Strategy<Value = Vec<Batch>> {
    let content = ("[a-z_]{1,20}", any::<u16>(), any::<String>(), 0_i64..5_000);
    let batch = prop::collection::vec(content, 0..6);
    prop::collection::vec(batch, 0..12).prop_map(|batches| {
        let (mut sequence, mut now, mut number) = (0, FloorMs(0), 0);
        batches
            .into_iter()
            .map(|contents| {
                let mut batch = Batch::default();
                for (kind, version, json, later) in contents {
                    sequence += 1;
                    now = FloorMs(now.0 + later);
                    batch.rows.push(Row { sequence, recorded: now, kind: kind.into(), version, json });
                }
                if sequence > 0 {
                    number += 1;
                    batch.answers.push(turnabout_server::journal::StoredAnswer {
                        recorded: now,
                        ..answer(number, sequence)
                    });
                }
                batch
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn everything_comes_back_after_a_restart(batches in batches(), after in 0_u64..40, since in 0_i64..50_000) {
        let folder = tempfile::tempdir().unwrap();
        let mut journal = open(folder.path()).unwrap();
        for batch in &batches {
            journal.append(batch).unwrap();
        }
        drop(journal);
        let journal = open(folder.path()).unwrap();
        let all: Vec<Row> = batches.iter().flat_map(|batch| batch.rows.clone()).collect();
        let answers: Vec<_> = batches.iter().flat_map(|batch| batch.answers.clone()).collect();
        prop_assert_eq!(
            journal.last(),
            all.last().map(|row| Last { sequence: row.sequence, recorded: row.recorded })
        );
        prop_assert_eq!(&rows_after(&journal, 0), &all);
        let later: Vec<Row> = all.iter().filter(|row| row.sequence > after).cloned().collect();
        prop_assert_eq!(rows_after(&journal, after), later);
        let recent: Vec<_> = answers.into_iter().filter(|answer| answer.recorded.0 >= since).collect();
        prop_assert_eq!(answers_since(&journal, FloorMs(since)), recent);
        journal.verify().unwrap();
    }
}

#[test]
fn what_does_not_follow_is_refused_whole() {
    let good = row(4);
    let (device, command) = (answer(1, 1).device, answer(1, 1).command);
    let long = "x".repeat(MAX_BATCH_BYTES);
    let batch = |rows: Vec<Row>| Batch { rows, ..Batch::default() };
    let cases = [
        (batch(vec![row(5)]), Refusal::Sequence { expected: 4, found: 5 }),
        (batch(vec![row(3)]), Refusal::Sequence { expected: 4, found: 3 }),
        (batch(vec![good.clone(), row(6)]), Refusal::Sequence { expected: 5, found: 6 }),
        (
            batch(vec![Row { recorded: FloorMs(29), ..good.clone() }]),
            Refusal::Backwards { sequence: 4, before: FloorMs(30), found: FloorMs(29) },
        ),
        (
            Batch { answers: vec![answer(2, 5)], ..batch(vec![good.clone()]) },
            Refusal::Ahead { last: 4, found: 5 },
        ),
        (
            Batch { answers: vec![answer(2, 4), answer(1, 4)], ..batch(vec![good.clone()]) },
            Refusal::Duplicate { device, command },
        ),
        (
            Batch { answers: vec![answer(2, 4), answer(2, 4)], ..batch(vec![good.clone()]) },
            Refusal::Duplicate { device, command: answer(2, 4).command },
        ),
        (
            batch(vec![Row { json: long, ..good.clone() }]),
            Refusal::TooLarge { what: "bytes of a batch", limit: MAX_BATCH_BYTES },
        ),
        (
            batch((4..5 + MAX_BATCH_ITEMS as u64).map(row).collect()),
            Refusal::TooLarge { what: "items of a batch", limit: MAX_BATCH_ITEMS },
        ),
        (
            Batch {
                names: vec![NameChange::Set { person: client(1), name: "x".repeat(MAX_NAME_BYTES + 1) }],
                ..batch(vec![good.clone()])
            },
            Refusal::TooLarge { what: "bytes of a name", limit: MAX_NAME_BYTES },
        ),
    ];
    let mut journal = Journal::open(&Storage::Memory, Options::default()).unwrap();
    journal.append(&Batch { answers: vec![answer(1, 3)], ..rows(1..=3) }).unwrap();
    for (batch, expected) in cases {
        match journal.append(&batch).unwrap_err() {
            WriteError::Refused(refusal) => assert_eq!(refusal, expected),
            WriteError::Fault(fault) => panic!("{expected}: {fault}"),
        }
        assert_eq!(rows_after(&journal, 0), [row(1), row(2), row(3)], "{expected}");
        assert_eq!(answers_since(&journal, FloorMs(0)), [answer(1, 3)], "{expected}");
        assert!(journal.names().unwrap().is_empty(), "{expected}");
    }
    journal.append(&Batch { answers: vec![answer(2, 4)], ..batch(vec![good]) }).unwrap();
    assert_eq!(journal.last(), Some(Last { sequence: 4, recorded: FloorMs(40) }));
}

#[test]
fn an_answer_may_rest_on_an_older_row_but_not_on_none() {
    let mut journal = Journal::open(&Storage::Memory, Options::default()).unwrap();
    let alone = |number, sequence| Batch { answers: vec![answer(number, sequence)], ..Batch::default() };
    let early = journal.append(&alone(1, 1)).unwrap_err();
    assert!(matches!(early, WriteError::Refused(Refusal::Ahead { last: 0, found: 1 })), "{early}");
    journal.append(&rows(1..=2)).unwrap();
    journal.append(&alone(1, 1)).unwrap();
    assert_eq!(answers_since(&journal, FloorMs(0)), [answer(1, 1)]);
}

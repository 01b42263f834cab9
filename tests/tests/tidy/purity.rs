//! Nothing in the pure rooms, nor in what both sides share, reads a clock, a socket, a file or a random source.

use crate::{
    mentions::{Mention, mentions},
    repository, rooms,
    rust_text::shipped,
    source::{Fault, Source, demand, expect_lines},
};

/// Where the outside world begins.
const WORLDS: [&str; 16] = [
    "std::env",
    "std::fs",
    "std::io",
    "std::net",
    "std::os",
    "std::process",
    "std::thread",
    "std::time::*",
    "axum",
    "getrandom",
    "rand",
    "rusqlite",
    "tempfile",
    "tokio",
    "tokio_tungstenite",
    "std::collections::hash_map::RandomState",
];

/// Names that read a clock or a random source wherever they come from, and macros that write.
const NAMES: [&str; 13] = [
    "Instant",
    "SystemTime",
    "OsRng",
    "ThreadRng",
    "thread_rng",
    "new_v4",
    "now_v1",
    "now_v6",
    "now_v7",
    "print!",
    "println!",
    "eprint!",
    "eprintln!",
];

fn breaks(mention: &Mention) -> bool {
    WORLDS.iter().any(|world| mention.is_within(world))
        || mention.segments().any(|name| NAMES.contains(&name))
}

fn impurities(sources: &[Source]) -> Vec<Fault> {
    let pure = shipped(sources).into_iter().filter(rooms::is_pure);
    pure.flat_map(|source| {
        let broken = mentions(&source.text).into_iter().filter(breaks);
        broken.map(|mention| Fault::new(&source.path, mention.line, mention.path)).collect::<Vec<_>>()
    })
    .collect()
}

#[test]
fn pure_rooms_touch_nothing_outside() {
    let rule = "no clock, socket, file, thread, random source or output here: pass it in as an argument";
    demand(rule, &impurities(&repository::sources()));
}

#[test]
fn a_planted_clock_is_found_and_one_in_test_code_is_not() {
    let text = "use std::time::Duration;\nuse std::{cmp, fs};\nfn f() { Instant::now(); } // SystemTime\n\
                fn g() { Uuid::new_v4(); println!(\"tokio\"); let operand = 1; }\n\
                #[cfg(test)]\nmod tests { use std::thread; }\nfn h() { tokio::spawn(x) }";
    for path in ["server/src/floor/a.rs", "server/src/training.rs", "protocol/src/a/b.rs"] {
        expect_lines(&impurities(&[Source::new(path, text)]), &[2, 3, 4, 4, 7]);
    }
    for path in ["server/src/journal/a.rs", "kiosk/src/a.rs", "protocol/tests/a.rs"] {
        expect_lines(&impurities(&[Source::new(path, text)]), &[]);
    }
}

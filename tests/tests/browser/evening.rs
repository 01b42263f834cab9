//! A whole evening in two browsers: two coaches take three groups through it by the large buttons of their pages, with
//! what an evening brings on the way. Afterwards the floor itself is asked what came of it.
//!
//! Source of the rules for everybody's eyes and hands: axe-core, by its WCAG 2.0 to 2.2 tags, levels A and AA.

use std::net::SocketAddr;
use std::time::Duration;

use serde_json::Value;
use turnabout_protocol::command::{Ending, NoteAbout};
use turnabout_protocol::view::{NoteText, NotesPart, SetPart, SetsPart, Stage};
use turnabout_tests::harness::request;

use super::{driven, page, repository, serve};

/// Some hundred taps, each of which waits until a button can be read. A loaded build machine takes minutes.
const PATIENCE: Duration = Duration::from_secs(600);

/// What comes once in the evening, in the words of the script.
const HAPPENS: [&str; 10] =
    ["undone", "noted", "listed", "watched", "on_top", "opened", "corrected", "stopped", "helped", "cut"];

/// What a coach tapped of a client, by the titles of the buttons.
fn taps_about<'s>(summary: &'s Value, client: &str) -> Vec<&'s str> {
    let of = |tap: &'s Value| tap[1].as_str().filter(|said| said.contains(client));
    summary["taps"].as_array().unwrap().iter().filter_map(of).collect()
}

/// The sets that a client has done, as the floor has them.
async fn sets(address: SocketAddr, group: u32, client: u32) -> Vec<SetPart> {
    let path = format!("/coaches/coach-1/groups/{group}/clients/{client}/sets");
    let reply = request(address, "GET", &path, "").await;
    let told: SetsPart =
        serde_json::from_str(&reply.body).unwrap_or_else(|error| panic!("{error}: {reply:?}"));
    told.sets
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn two_coaches_take_three_groups_through_an_evening_by_their_large_buttons() {
    let folder = tempfile::tempdir().unwrap();
    let pictures = repository("target/pages");
    std::fs::create_dir_all(&pictures).unwrap();
    let (server, address) = serve("tests/tests/browser/programme.toml", folder.path()).await;
    let arguments = [format!("http://{address}"), pictures.display().to_string()];
    let Some(summary) = driven("evening.mjs", &arguments, PATIENCE).await else { return };
    for happens in HAPPENS {
        assert!(summary["seen"][happens].is_number(), "{happens} never came: {}", summary["seen"]);
    }
    assert!(summary["rules"].as_u64().unwrap() >= 20, "axe-core looked at hardly anything: {summary}");

    // One sheet for each client of the group, and one for the client who is chosen.
    let papers = &summary["papers"];
    assert_eq!((papers["summary"].as_u64(), papers["one"].as_u64()), (Some(2), Some(1)), "{papers}");
    for name in ["session", "briefing"] {
        assert!(papers[name].as_u64().is_some_and(|sheets| (1..=3).contains(&sheets)), "{name}: {papers}");
    }
    // A header, and two clients with six sets each.
    let csv = summary["csv"].as_str().unwrap();
    assert_eq!((csv.matches("\r\n").count(), csv.matches("\"Edda\"").count()), (13, 6), "{csv}");

    // What was written down by taps is about whom it was said of.
    let notes = request(address, "GET", "/coaches/coach-1/notes", "").await;
    let notes: NotesPart =
        serde_json::from_str(&notes.body).unwrap_or_else(|error| panic!("{error}: {notes:?}"));
    let about = |text: &str| {
        let whole = NoteText::Whole { text: text.to_owned() };
        notes.notes.iter().filter(|note| note.text == whole).map(|note| note.about).collect::<Vec<_>>()
    };
    assert!(matches!(about("sore from last time")[..], [NoteAbout::Client { .. }]), "{notes:?}");
    assert!(matches!(about("clean")[..], [NoteAbout::Set { turn }] if turn.round == 0), "{notes:?}");

    let page = page(address).await;
    assert!(page.groups.iter().all(|group| group.stage == Stage::Finished), "{page:?}");
    for (group, client, name) in [(1, 101, "Bram"), (2, 102, "Chidi"), (3, 103, "Dara"), (3, 104, "Edda")] {
        let sets = sets(address, group, client).await;
        let ended = |ending: Ending| sets.iter().filter(|set| set.said.ending == ending).count();
        // Two rounds of two exercises, and a light set of both before. In one of them everybody was stopped.
        let stopped = usize::from(name == "Bram");
        assert_eq!(
            (ended(Ending::Complete), ended(Ending::Stopped)),
            (6 - stopped, stopped),
            "{name}: {sets:?}"
        );
        let taps = taps_about(&summary, name);
        let count = |title: &str| taps.iter().filter(|said| said.starts_with(title)).count();
        assert_eq!(count("Done: "), 6, "once is once, {name}: {taps:?}");
        // One client's round costs four taps; what is confirmed for safety comes on top.
        let last = taps.iter().filter(|said| said.contains("set\u{a0}2\u{a0}of\u{a0}2"));
        let round = last.filter(|said| said.starts_with("Go: ") || said.starts_with("Done: ")).count();
        assert_eq!(round, 4, "{name}: {taps:?}");
        // One set was put right, and what was said first is kept.
        let first: Vec<u8> = sets.iter().filter_map(|set| set.first?.reps).collect();
        let right = sets.iter().filter(|set| set.first.is_some()).filter_map(|set| set.said.reps);
        assert_eq!(
            (first, right.collect()),
            if name == "Chidi" { (vec![4], vec![5]) } else { (vec![], vec![]) }
        );
    }
    assert!(server.interrupt().await.success());
}

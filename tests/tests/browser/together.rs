//! Two coaches tap the same thing in two browsers at one instant: it happens once, both pages show it, and each coach is
//! told what became of the tap.

use std::time::Duration;

use serde_json::Value;

use super::{driven, journaled, repository, serve};

/// Three pages and some twenty taps. A loaded build machine takes minutes.
const PATIENCE: Duration = Duration::from_secs(300);

/// What was tapped by two, with the kind of the entry that it led to, and what the coach is told who came second.
const TWICE: [(&str, &str, &str); 5] = [
    ("here", "clients_arrived", "Already done."),
    ("on the way", "call_answered", "Already done."),
    ("there", "call_attended", "This call is over"),
    ("done", "turn_done", "Already done."),
    ("taken over", "group_handed_over", "It is yours already."),
];

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_two_coaches_tap_at_once_happens_once_and_both_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let pictures = repository("target/pages");
    std::fs::create_dir_all(&pictures).unwrap();
    let (server, address) = serve("tests/tests/browser/programme.toml", folder.path()).await;
    let arguments = [format!("http://{address}"), pictures.display().to_string()];
    let Some(summary) = driven("together.mjs", &arguments, PATIENCE).await else { return };
    assert!(server.interrupt().await.success());

    let entries = journaled::entries(folder.path());
    let of_group = |kind: &str, group: u32| {
        let about = |row: &&Value| {
            let body = &row["body"];
            body["group"] == group || body["turn"]["group"] == group
        };
        entries.get(kind).map_or(0, |rows| rows.iter().filter(about).count())
    };
    for (name, kind, second) in TWICE {
        let told: Vec<&str> =
            summary["told"][name].as_array().unwrap().iter().filter_map(|one| one.as_str()).collect();
        let saved = told.iter().filter(|one| one.ends_with(": Saved.")).count();
        let later = told.iter().filter(|one| one.contains(second)).count();
        assert_eq!((told.len(), saved, later), (2, 1, 1), "{name}: {told:?}");
        let happened = match name {
            "on the way" | "there" => entries.get(kind).map_or(0, Vec::len),
            // The group changes hands twice: taken over by two devices at once, and given back when it is asked for.
            "taken over" => of_group(kind, 1) - 1,
            "done" => of_group(kind, 2),
            _ => of_group(kind, 1),
        };
        assert_eq!(happened, 1, "{name}: {:?}", entries.get(kind));
    }
}

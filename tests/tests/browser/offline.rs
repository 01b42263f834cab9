//! Half a minute of the floor without a link, on a clock that runs, with a page that is closed meanwhile and another coach who
//! says the same; then a device that sleeps and wakes.

use std::collections::BTreeSet;
use std::time::Duration;

use serde_json::Value;

use super::{driven, journaled, repository, serve_at};

/// A dozen taps, some seconds away and some asleep. A loaded build machine takes minutes.
const PATIENCE: Duration = Duration::from_secs(300);
/// Half a minute of the floor is five seconds of a wall's clock.
const PACE: &str = "6";
/// Two pages are read one after the other, and draw four times a second: a second and a half of this floor each.
const APART: u64 = 4;

fn texts(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().filter_map(Value::as_str).collect()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_page_without_a_link_counts_on_keeps_what_may_be_late_and_says_what_became_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let pictures = repository("target/pages");
    std::fs::create_dir_all(&pictures).unwrap();
    let floor = repository("server/examples/floor.toml");
    let (server, address) = serve_at(PACE, &floor, "tests/tests/browser/programme.toml", folder.path()).await;
    let arguments = [format!("http://{address}"), pictures.display().to_string()];
    let Some(summary) = driven("offline.mjs", &arguments, PATIENCE).await else { return };
    assert!(server.interrupt().await.success());

    let set = |list: &Value| texts(list).into_iter().map(str::to_owned).collect::<BTreeSet<_>>();
    let kept = set(&summary["kept"]);
    assert_eq!(kept.len(), 2, "{summary}");
    assert_eq!(kept, set(&summary["sent"]), "what was kept is sent under the ids it had, once");
    // What led to something is remembered under the id it was tapped with: the call.
    let accepted = journaled::accepted(folder.path());
    assert_eq!(accepted.iter().filter(|id| kept.contains(*id)).count(), 1, "{kept:?}, {accepted:?}");
    // The other coach was sooner, and the page says who; the call still makes sense.
    let answers = texts(&summary["answers"]);
    let done = answers.iter().find(|text| text.starts_with("Done, Chidi")).unwrap();
    assert!(done.contains("Already done. (Ayla, "), "{answers:?}");
    assert!(answers.contains(&"Call, Coach, please, Bench 1: Saved."), "{answers:?}");
    let entries = journaled::entries(folder.path());
    assert_eq!(entries["turn_done"].len(), 1, "{:?}", entries["turn_done"]);
    assert_eq!(entries["call_made"].len(), 1, "{:?}", entries["call_made"]);
    assert!(summary["apart"].as_u64().unwrap() <= APART, "{summary}");
}

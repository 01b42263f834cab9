//! The coach's page for somebody who does not see it, cannot use a mouse, or wants nothing to move.
//!
//! Sources: WCAG 2.2, 2.2.2 and 2.3.3 (nothing moves where that was asked for), 1.3.2 (reading order), 4.1.3 (what is read
//! out), 2.4.3 (where the keyboard is) and 2.5.5 (targets of 44 by 44 pixels).

use std::time::Duration;

use super::{driven, serve};

/// A dozen taps, a minute in steps of a second, and ten views. A loaded build machine takes minutes.
const PATIENCE: Duration = Duration::from_secs(300);

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_set_is_coached_by_keys_and_ears_with_nothing_moving() {
    let folder = tempfile::tempdir().unwrap();
    let (server, address) = serve("tests/tests/browser/programme.toml", folder.path()).await;
    let Some(summary) = driven("access.mjs", &[format!("http://{address}")], PATIENCE).await else { return };
    assert!(summary["looks"].as_u64().unwrap() >= 10, "motion was hardly looked for: {summary}");
    assert!(summary["order"].as_array().unwrap().len() >= 50, "hardly anything can be read: {summary}");
    // While nothing happens nothing is said.
    assert!(summary["minute"].as_array().unwrap().len() <= 2, "{}", summary["minute"]);
    assert_eq!(summary["kept"].as_object().unwrap().len(), 5, "{summary}");
    assert!(summary["targets"].as_u64().unwrap() >= 100, "hardly anything to tap was looked at: {summary}");
    assert!(server.interrupt().await.success());
}

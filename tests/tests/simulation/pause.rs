//! Waiting in simulated time, where a second takes nobody any time.

use std::time::Duration;

pub(crate) async fn pause(ms: u64) {
    tokio::time::sleep(Duration::from_millis(ms)).await;
}

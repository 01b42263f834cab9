//! What a process costs, as the kernel counts it.

use std::fs;
use std::time::Duration;

/// CPU time that all threads of a process have used.
pub(crate) fn cpu(pid: u32) -> Duration {
    let threads = fs::read_dir(format!("/proc/{pid}/task")).expect("the process runs");
    // The first number of `schedstat` is nanoseconds on a CPU.
    let used = threads.filter_map(|thread| {
        let text = fs::read_to_string(thread.ok()?.path().join("schedstat")).ok()?;
        text.split(' ').next()?.parse::<u64>().ok()
    });
    Duration::from_nanos(used.sum())
}

//! What a process has in memory, as the kernel counts it.

use std::fs;

/// Resident memory of a process, in kilobytes of 1,024 bytes.
pub(crate) fn resident_kb(pid: u32) -> u64 {
    let status = fs::read_to_string(format!("/proc/{pid}/status")).expect("the process runs");
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:")).expect("every process has memory");
    line.trim().trim_end_matches(" kB").parse().expect("a number")
}

//! What the disk itself takes.

use std::fs::File;
use std::io::Write;
use std::path::Path;
use std::time::{Duration, Instant};

/// A file to which 4 KiB are appended and synced, again and again.
pub(crate) struct Appends(File);

impl Appends {
    pub(crate) fn in_folder(folder: &Path) -> Self {
        Self(File::create(folder.join("appends")).expect("a folder that can be written"))
    }

    /// Appends once, and gives how long it took until that was on the disk.
    pub(crate) fn append(&mut self) -> Duration {
        let started = Instant::now();
        self.0.write_all(&[7; 4_096]).expect("room on the disk");
        self.0.sync_data().expect("a disk that works");
        started.elapsed()
    }
}

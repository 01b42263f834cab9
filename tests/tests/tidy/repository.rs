//! The repository's own files.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use crate::source::Source;

/// The top of the repository.
pub(crate) fn root() -> PathBuf {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    tests.parent().expect("the tests package lies in the repository").to_path_buf()
}

/// Paths of all files that are or would be committed, sorted. Git knows; without a checkout (a source
/// archive) everything counts but what builds leave behind.
pub(crate) fn paths() -> Vec<String> {
    let root = root();
    let mut paths = from_git(&root).unwrap_or_else(|| {
        let mut found = Vec::new();
        walk(&root, &root, &mut found);
        found
    });
    // Git also lists files that were deleted but not yet committed so.
    paths.retain(|path| root.join(path).is_file());
    paths.sort();
    paths.dedup();
    assert!(paths.iter().any(|path| path == "Cargo.toml"), "found no repository at {}", root.display());
    paths
}

/// All text files. Pictures and the like are no text.
pub(crate) fn sources() -> Vec<Source> {
    let root = root();
    let read = |path: String| {
        let bytes = fs::read(root.join(&path)).unwrap_or_else(|error| panic!("{path}: {error}"));
        String::from_utf8(bytes).ok().map(|text| Source { path, text })
    };
    paths().into_iter().filter_map(read).collect()
}

fn from_git(root: &Path) -> Option<Vec<String>> {
    if !root.join(".git").exists() {
        return None;
    }
    let output = Command::new("git")
        .args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"])
        .current_dir(root)
        .output()
        .ok()?;
    let listing = String::from_utf8(output.stdout).ok().filter(|_| output.status.success())?;
    Some(listing.split('\0').filter(|path| !path.is_empty()).map(str::to_owned).collect())
}

fn walk(root: &Path, folder: &Path, found: &mut Vec<String>) {
    let entries = fs::read_dir(folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    for entry in entries {
        let path = entry.expect("a readable folder has readable entries").path();
        let name = path.strip_prefix(root).expect("found below the root").to_string_lossy().into_owned();
        if name == ".git" || name == "target" {
            continue;
        }
        if path.is_dir() { walk(root, &path, found) } else { found.push(name) }
    }
}

#[test]
fn a_source_archive_without_git_lists_the_same_kind_of_paths() {
    let mut found = Vec::new();
    walk(&root(), &root(), &mut found);
    assert!(found.iter().any(|path| path == "tests/tests/tidy/repository.rs"), "{found:?}");
    assert!(!found.iter().any(|path| path.starts_with("target/") || path.starts_with(".git/")));
}

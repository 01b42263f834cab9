//! The modules of the web pages, tried by Node.js's own test runner.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use turnabout_tests::outside;

/// The scripts, in the order of their names.
fn scripts() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/page");
    let mut scripts: Vec<PathBuf> = fs::read_dir(folder)
        .expect("the folder is part of the repository")
        .map(|entry| entry.expect("a readable folder").path())
        .filter(|path| path.to_string_lossy().ends_with(".test.mjs"))
        .collect();
    scripts.sort();
    scripts
}

#[test]
fn the_pages_modules_pass_their_own_tests() {
    let Some(node) = outside::node() else { return };
    let scripts = scripts();
    assert!(scripts.len() >= 6, "too few scripts: {scripts:?}");
    let answer = Command::new(node).arg("--test").args(&scripts).output().unwrap();
    let told = String::from_utf8_lossy(&answer.stdout);
    assert!(answer.status.success(), "{told}{}", String::from_utf8_lossy(&answer.stderr));
}

//! The modules of the web pages, tried by Node.js's own test runner.

use std::{
    env,
    ffi::OsString,
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// The scripts, in the order of their names.
fn scripts() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/page");
    let mut scripts: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().ends_with(".test.mjs"))
        .collect();
    scripts.sort();
    scripts
}

/// Node.js: the one that the run script names, else the one on the path; nothing where there is none.
fn node() -> Option<OsString> {
    let node = env::var_os("TURNABOUT_OUTSIDE_NODE").unwrap_or_else(|| "node".into());
    if Command::new(&node).arg("--version").output().is_ok_and(|answer| answer.status.success()) {
        return Some(node);
    }
    assert!(env::var_os("CI").is_none_or(|ci| ci != "true"), "Node.js is missing");
    println!("SKIPPED: page_modules, node: not found");
    None
}

#[test]
fn the_pages_modules_pass_their_own_tests() {
    let Some(node) = node() else { return };
    let scripts = scripts();
    assert!(scripts.len() >= 6, "too few scripts: {scripts:?}");
    let answer = Command::new(node).arg("--test").args(&scripts).output().unwrap();
    let told = String::from_utf8_lossy(&answer.stdout);
    assert!(answer.status.success(), "{told}{}", String::from_utf8_lossy(&answer.stderr));
}

//! The units that start a display: what they promise, and that systemd reads them.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

const UNITS: [&str; 2] = ["turnabout-kiosk.service", "turnabout-x.service"];

fn text(unit: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("systemd").join(unit)).unwrap()
}

/// The values of a unit, by section and key.
fn values(unit: &str) -> BTreeMap<(String, String), String> {
    let (mut section, mut values) = (String::new(), BTreeMap::new());
    for line in text(unit).lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        if let Some(name) = line.strip_prefix('[').and_then(|line| line.strip_suffix(']')) {
            name.clone_into(&mut section);
            continue;
        }
        let (key, value) = line.split_once('=').unwrap_or_else(|| panic!("{unit}: {line}"));
        let twice = values.insert((section.clone(), key.to_owned()), value.to_owned());
        assert_eq!(twice, None, "{unit}: {key} is said twice");
    }
    values
}

#[test]
fn a_display_is_watched_started_again_for_ever_and_is_not_root() {
    let values = values("turnabout-kiosk.service");
    let of = |section: &str, key: &str| values[&(section.to_owned(), key.to_owned())].as_str();
    assert_eq!(of("Service", "Type"), "notify");
    assert_eq!(of("Service", "Restart"), "always");
    assert_eq!(of("Unit", "StartLimitIntervalSec"), "0");
    assert!(of("Service", "WatchdogSec").parse::<u32>().unwrap() >= 5, "a slow board is not a dead one");
    assert!(!matches!(of("Service", "User"), "" | "root" | "0"));
    // Its settings lie where systemd lets that user write.
    let folder = of("Service", "StateDirectory");
    let start = of("Service", "ExecStart");
    assert!(start.contains(&format!("--settings %S/{folder}/")) && start.contains("--fullscreen"), "{start}");
}

#[test]
fn the_command_line_of_the_unit_is_one_that_the_program_takes() {
    let values = values("turnabout-kiosk.service");
    let start = &values[&("Service".to_owned(), "ExecStart".to_owned())];
    let line: Vec<String> = start
        .split(' ')
        .skip(1)
        .map(|word| word.replace("%S", "/var/lib"))
        .chain(["--help".into()])
        .collect();
    let run = Command::new(env!("CARGO_BIN_EXE_turnabout-kiosk")).args(line).output().unwrap();
    assert_eq!(run.status.code(), Some(0), "{}", String::from_utf8_lossy(&run.stderr));
}

#[test]
fn systemd_reads_the_units() {
    let folder = tempfile::tempdir().unwrap();
    for unit in UNITS {
        // The programs are not installed where tests run: systemd would say so and nothing else.
        let text = text(unit);
        let lines = text.lines().map(|line| {
            let start = line.starts_with("ExecStart=");
            if start { "ExecStart=/bin/true".to_owned() } else { line.to_owned() }
        });
        fs::write(folder.path().join(unit), lines.collect::<Vec<_>>().join("\n")).unwrap();
    }
    let paths = UNITS.map(|unit| folder.path().join(unit));
    let run = Command::new("systemd-analyze").arg("verify").args(&paths).output();
    // Without systemd there is nobody to ask, and the other tests have read the keys.
    let Ok(run) = run else { return };
    let told = String::from_utf8_lossy(&run.stderr);
    let ours: Vec<&str> = told.lines().filter(|line| line.contains("turnabout")).collect();
    assert!(run.status.success() && ours.is_empty(), "{told}");
}

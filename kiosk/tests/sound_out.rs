//! The player with the machine's own sound library, into a device that is none: built with the feature `sound` alone, and
//! run by `tests/run` where the machine has that library.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use turnabout_kiosk::sound::player::{DEFAULT, Player};
use turnabout_kiosk::sound::{Cue, Speaker, Tone};

/// Where a run of this test inside itself writes what was played.
const HEARD: &str = "TURNABOUT_HEARD";

/// Runs one of the tests here anew, on a machine whose sound is set up so: the library reads that once in a process.
fn on_a_machine(test: &str, folder: &Path, setup: &str) -> Output {
    let config = folder.join("asound.conf");
    fs::write(&config, setup).unwrap();
    let mut run = Command::new(std::env::current_exe().unwrap());
    run.args([test, "--exact", "--nocapture"]);
    run.env("ALSA_CONFIG_PATH", config).env(HEARD, folder.join("heard.raw")).output().unwrap()
}

#[test]
fn every_cue_comes_out_as_its_tone_and_nothing_else() {
    if let Some(heard) = std::env::var_os(HEARD) {
        return plays_every_cue(Path::new(&heard));
    }
    let folder = tempfile::tempdir().unwrap();
    // What is played goes into a file, as it is, and then nowhere.
    let heard = folder.path().join("heard.raw");
    let setup = format!(
        "pcm.!default {{ type file slave.pcm {{ type null }} file \"{}\" format raw }}\n",
        heard.display()
    );
    let run = on_a_machine("every_cue_comes_out_as_its_tone_and_nothing_else", folder.path(), &setup);
    assert!(run.status.success(), "{run:?}");
    assert!(!String::from_utf8_lossy(&run.stderr).contains("no sound"), "{run:?}");
}

/// Within the run inside, with a device that is none.
fn plays_every_cue(heard: &Path) {
    for cue in Cue::ALL {
        let mut player = Player::begin(DEFAULT);
        player.soon();
        player.play(cue);
        assert_eq!(player.finish(), None, "{cue:?}");
        let bytes = fs::read(heard).unwrap();
        let played: Vec<i16> =
            bytes.chunks_exact(2).map(|two| i16::from_le_bytes([two[0], two[1]])).collect();
        let tone = Tone::of(cue).samples(48_000);
        assert!(played.starts_with(&tone), "{cue:?}: {} samples of {}", played.len(), tone.len());
        // What is left of the last block is silence.
        assert!(played.len() < tone.len() + 480 && played[tone.len()..].iter().all(|sample| *sample == 0));
    }
}

#[test]
fn a_machine_without_a_device_is_told_of_once_and_goes_on() {
    if std::env::var_os(HEARD).is_some() {
        return finds_no_device();
    }
    let folder = tempfile::tempdir().unwrap();
    let run = on_a_machine(
        "a_machine_without_a_device_is_told_of_once_and_goes_on",
        folder.path(),
        "# No sound at all.\n",
    );
    assert!(run.status.success(), "{run:?}");
    let log = String::from_utf8_lossy(&run.stderr).into_owned();
    let told: Vec<&str> = log.lines().filter(|line| !line.is_empty()).collect();
    assert_eq!(told.len(), 1, "{log}");
    assert!(told[0].starts_with("turnabout-kiosk: no sound: "), "{log}");
}

/// Within the run inside, without a device.
fn finds_no_device() {
    let mut player = Player::begin(DEFAULT);
    for cue in Cue::ALL {
        player.soon();
        player.play(cue);
    }
    assert!(player.finish().is_some());
}

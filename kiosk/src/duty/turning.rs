//! Who turns the picture of a screen that hangs on its side, and how the program is told.

use std::env;
use std::io;
use std::os::unix::process::CommandExt;
use std::process::Command;

use crate::settings::Rotation;

/// What the toolkit reads when it opens a screen without X: degrees, clockwise.
const ROTATION: &str = "SLINT_KMS_ROTATION";

/// Who turns the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turner {
    /// This program, from its next start on.
    Program,
    /// X or the desktop: no program turns in a window of theirs.
    Desktop,
}

impl Turner {
    /// Who it is here.
    #[must_use]
    pub fn here() -> Self {
        let backend = env::var("SLINT_BACKEND").unwrap_or_default();
        Self::of(
            cfg!(feature = "kms-display"),
            cfg!(feature = "x11"),
            &backend.to_lowercase(),
            env::var_os("DISPLAY").is_some_and(|display| !display.is_empty()),
        )
    }

    /// Who it is in a program that can do without X (`kms`) or with it (`x11`), told to use `backend`, where an X
    /// display is named or not.
    #[must_use]
    pub fn of(kms: bool, x11: bool, backend: &str, display: bool) -> Self {
        let desktop = x11 && (backend.starts_with("winit") || (backend.is_empty() && display));
        if kms && !desktop { Self::Program } else { Self::Desktop }
    }
}

/// Whether the program must begin anew for the picture to be turned as it is set; `told` is what the toolkit was told.
#[must_use]
pub fn must_begin_anew(turner: Turner, set: Option<Rotation>, told: Option<&str>) -> bool {
    let Some(set) = set else { return false };
    turner == Turner::Program && told.unwrap_or("0") != set.to_string()
}

/// What the toolkit was told at this start.
#[must_use]
pub fn told() -> Option<String> {
    env::var(ROTATION).ok()
}

/// Begins anew in place of this program, with the same command line and the same process number. Returns only if that
/// fails.
#[must_use]
pub fn begin_anew(rotation: Option<Rotation>) -> io::Error {
    let program = match env::current_exe() {
        Ok(program) => program,
        Err(error) => return error,
    };
    let mut command = Command::new(program);
    command.args(env::args_os().skip(1));
    if let Some(rotation) = rotation {
        command.env(ROTATION, rotation.to_string());
    }
    command.exec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_program_without_a_desktop_turns_its_picture() {
        for (kms, x11, backend, display, turner) in [
            (false, true, "", true, Turner::Desktop),
            (false, true, "", false, Turner::Desktop),
            (true, false, "", true, Turner::Program),
            (true, true, "", true, Turner::Desktop),
            (true, true, "", false, Turner::Program),
            (true, true, "linuxkms-software", true, Turner::Program),
            (true, true, "winit", false, Turner::Desktop),
        ] {
            assert_eq!(Turner::of(kms, x11, backend, display), turner, "{kms} {x11} {backend:?} {display}");
        }
    }

    #[test]
    fn it_begins_anew_once_and_not_for_ever() {
        let program = Turner::Program;
        assert!(must_begin_anew(program, Some(Rotation::Quarter), None));
        assert!(!must_begin_anew(program, Some(Rotation::Quarter), Some("90")));
        assert!(must_begin_anew(program, Some(Rotation::Upright), Some("90")));
        assert!(!must_begin_anew(program, Some(Rotation::Upright), None));
        assert!(!must_begin_anew(program, None, Some("90")), "the surroundings decide");
        assert!(!must_begin_anew(Turner::Desktop, Some(Rotation::Quarter), None));
    }
}

//! Tools that are not ours: where they are, or a skip that somebody will see.
//!
//! `tests/run` installs the tools and names each in an environment variable. A test asks for what it needs and
//! returns early when there is none:
//!
//! ```no_run
//! let Some(python) = turnabout_tests::outside::python() else { return };
//! ```
//!
//! A skip is never silent. It goes to standard error past the test harness's capture, and to the file named in
//! `TURNABOUT_SKIPS`, from which `tests/run` counts. With `CI=true` it is a panic instead.

use std::{
    env,
    ffi::OsString,
    fs::OpenOptions,
    io::{self, Write},
    path::PathBuf,
    thread,
};

/// The file to which skips are appended, one line each.
const SKIPS: &str = "TURNABOUT_SKIPS";

/// The Python of the virtual environment that holds the packages of `tests/outside/requirements.txt`.
///
/// # Panics
/// With `CI=true`, if there is none.
#[must_use]
pub fn python() -> Option<PathBuf> {
    tool("python", "TURNABOUT_OUTSIDE_PYTHON")
}

/// The Node.js that runs scripts which use [`node_modules`].
///
/// # Panics
/// With `CI=true`, if there is none.
#[must_use]
pub fn node() -> Option<PathBuf> {
    tool("node", "TURNABOUT_OUTSIDE_NODE")
}

/// The folder with the packages of `tests/outside/package-lock.json`, for `NODE_PATH`.
///
/// # Panics
/// With `CI=true`, if there is none.
#[must_use]
pub fn node_modules() -> Option<PathBuf> {
    tool("npm packages", "TURNABOUT_OUTSIDE_NODE_MODULES")
}

/// Debian's Chromium.
///
/// # Panics
/// With `CI=true`, if there is none.
#[must_use]
pub fn chromium() -> Option<PathBuf> {
    tool("chromium", "TURNABOUT_CHROMIUM")
}

/// The WebDriver server that belongs to [`chromium`].
///
/// # Panics
/// With `CI=true`, if there is none.
#[must_use]
pub fn chromedriver() -> Option<PathBuf> {
    tool("chromedriver", "TURNABOUT_CHROMEDRIVER")
}

/// What came of looking for a tool.
#[derive(Debug, PartialEq, Eq)]
enum Found {
    /// It is there.
    At(PathBuf),
    /// It is missing, and the test is skipped with this line.
    Skip(String),
    /// It is missing where nothing may be.
    Fail(String),
}

fn tool(name: &str, variable: &str) -> Option<PathBuf> {
    let ci = env::var_os("CI").is_some_and(|value| value == "true");
    let thread = thread::current();
    let test = thread.name().unwrap_or("a test");
    match find(test, name, variable, env::var_os(variable), ci) {
        Found::At(path) => Some(path),
        Found::Skip(line) => {
            report(&line);
            None
        }
        Found::Fail(why) => panic!("{why}"),
    }
}

fn find(test: &str, name: &str, variable: &str, value: Option<OsString>, ci: bool) -> Found {
    let why = match value.map(PathBuf::from) {
        Some(path) if path.exists() => return Found::At(path),
        Some(path) => format!("{variable} names {}, which does not exist", path.display()),
        None => format!("{variable} is not set (tests/run sets it)"),
    };
    if ci {
        return Found::Fail(format!("{name} is missing: {why}"));
    }
    // The test comes before the first comma: the script counts tests, not tools.
    Found::Skip(format!("SKIPPED: {test}, {name}: {why}"))
}

fn report(line: &str) {
    // Not `eprintln!`, which the test harness captures and drops for a test that passes.
    let _ = writeln!(io::stderr(), "{line}");
    let Some(path) = env::var_os(SKIPS) else { return };
    let written = OpenOptions::new()
        .create(true)
        .append(true)
        .open(&path)
        .and_then(|mut file| file.write_all(format!("{line}\n").as_bytes()));
    // An uncounted skip would let the run look complete.
    if let Err(error) = written {
        panic!("cannot note a skip in {}: {error}", PathBuf::from(path).display());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn look(value: Option<&str>, ci: bool) -> Found {
        find("page::opens", "chromium", "THE_VARIABLE", value.map(OsString::from), ci)
    }

    #[test]
    fn a_tool_that_exists_is_found_everywhere() {
        let here = env!("CARGO_MANIFEST_DIR");
        assert_eq!(look(Some(here), false), Found::At(PathBuf::from(here)));
        assert_eq!(look(Some(here), true), Found::At(PathBuf::from(here)));
    }

    #[test]
    fn a_missing_tool_is_a_skip_that_names_test_tool_and_variable() {
        let Found::Skip(line) = look(None, false) else { panic!("not a skip") };
        assert!(line.starts_with("SKIPPED: page::opens, chromium: THE_VARIABLE"), "{line}");
        let Found::Skip(line) = look(Some("/no/such/file"), false) else { panic!("not a skip") };
        assert!(line.contains("/no/such/file"), "{line}");
    }

    #[test]
    fn a_missing_tool_fails_on_the_build_machine() {
        assert!(matches!(look(None, true), Found::Fail(_)));
        assert!(matches!(look(Some("/no/such/file"), true), Found::Fail(_)));
    }
}

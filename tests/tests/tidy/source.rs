//! A file as a rule sees it, and what a rule finds wrong with it.

use std::fmt;

/// One text file, its path relative to the repository with forward slashes.
#[derive(Debug, Clone)]
pub(crate) struct Source {
    pub(crate) path: String,
    pub(crate) text: String,
}

impl Source {
    pub(crate) fn new(path: &str, text: &str) -> Self {
        Self { path: path.to_owned(), text: text.to_owned() }
    }

    /// What follows the last dot of the name, or nothing.
    pub(crate) fn extension(&self) -> &str {
        self.path.rsplit('/').next().and_then(|name| name.rsplit_once('.')).map_or("", |(_, end)| end)
    }

    /// Whether the file lies in this folder, at any depth.
    pub(crate) fn is_under(&self, folder: &str) -> bool {
        self.path.strip_prefix(folder).is_some_and(|rest| rest.starts_with('/'))
    }

    /// Lines with their numbers from 1.
    pub(crate) fn lines(&self) -> impl Iterator<Item = (usize, &str)> {
        self.text.lines().enumerate().map(|(index, line)| (index + 1, line))
    }
}

/// Something that breaks a rule. Line 0 means the file as a whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Fault {
    pub(crate) path: String,
    pub(crate) line: usize,
    pub(crate) what: String,
}

impl Fault {
    pub(crate) fn new(path: &str, line: usize, what: impl Into<String>) -> Self {
        Self { path: path.to_owned(), line, what: what.into() }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            0 => write!(f, "{}: {}", self.path, self.what),
            line => write!(f, "{}:{line}: {}", self.path, self.what),
        }
    }
}

/// Fails the test with every fault, or passes.
pub(crate) fn demand(rule: &str, faults: &[Fault]) {
    let list: Vec<String> = faults.iter().map(|fault| format!("  {fault}")).collect();
    assert!(faults.is_empty(), "{rule}\n{}", list.join("\n"));
}

/// For planted samples: exactly these lines of a single file are at fault.
#[track_caller]
pub(crate) fn expect_lines(faults: &[Fault], lines: &[usize]) {
    let found: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
    assert_eq!(found, lines, "{faults:?}");
}

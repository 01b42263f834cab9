//! `turnabout plan`: timetables for a whole floor.

use clap::{Args, Subcommand};

use super::Told;
use super::error::CliError;

pub mod chart;
pub mod check;
mod file;

pub use file::{BadFile, Wrong};

/// What is asked of a timetable.
#[derive(Clone, Debug, Args)]
pub struct Ask {
    #[command(subcommand)]
    what: What,
}

#[derive(Clone, Debug, Subcommand)]
enum What {
    /// Check a timetable against every rule of its instance, and tell what it costs.
    ///
    /// Ends with 0 where the timetable is valid, with 1 where it breaks what it does not list, and with 2 where one of
    /// the files cannot be read as what it should be.
    Check(check::Ask),
}

/// Answers.
///
/// # Errors
/// A file cannot be read, or has mistakes.
pub fn tell(ask: &Ask) -> Result<Told, CliError> {
    match &ask.what {
        What::Check(ask) => check::tell(ask),
    }
}

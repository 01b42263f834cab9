//! `turnabout plan`: timetables for a whole floor.

use clap::{Args, Subcommand};

use super::Told;
use super::error::CliError;

pub mod breach;
pub mod chart;
pub mod check;
pub mod costs;
mod effort;
mod evening;
pub(super) mod file;
pub mod make;
mod output;
pub mod told;
mod too_large;

pub use file::{BadFile, Wrong};

/// What is asked of timetables: without a word in front, one is made.
#[derive(Clone, Debug, Args)]
#[command(args_conflicts_with_subcommands = true)]
pub struct Ask {
    #[command(subcommand)]
    what: Option<What>,
    #[command(flatten)]
    make: make::Ask,
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
/// A file cannot be read or written, or has mistakes, or an argument is out of its range.
pub fn tell(ask: &Ask) -> Result<Told, CliError> {
    match &ask.what {
        Some(What::Check(ask)) => check::tell(ask),
        None => make::tell(&ask.make),
    }
}

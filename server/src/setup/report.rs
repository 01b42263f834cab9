//! The picture of the mistakes of a file: each with the lines around it.

use std::io::{self, IsTerminal, Write};

use miette::{GraphicalReportHandler, GraphicalTheme};

use super::mistake::{Headed, Mistakes};

/// How the picture is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// For a terminal.
    Colour,
    /// For a file or a pipe.
    Plain,
}

/// Columns of the picture: most terminals have at least these.
const WIDTH: usize = 100;

/// Draws every mistake with the lines around it.
#[must_use]
pub fn picture(mistakes: &Mistakes, look: Look) -> String {
    let theme = match look {
        Look::Colour => GraphicalTheme::unicode(),
        Look::Plain => GraphicalTheme::unicode_nocolor(),
    };
    let mut drawn = String::new();
    let handler = GraphicalReportHandler::new_themed(theme).with_width(WIDTH);
    match handler.render_report(&mut drawn, &Headed(mistakes)) {
        Ok(()) => drawn,
        // A place that the drawing cannot show is still told in words.
        Err(_) => format!("{mistakes}\n"),
    }
}

/// Writes the picture to standard error, with colours if that is a terminal.
///
/// # Errors
/// Standard error cannot be written to.
pub fn to_stderr(mistakes: &Mistakes) -> io::Result<()> {
    let mut stderr = io::stderr().lock();
    let look = if stderr.is_terminal() { Look::Colour } else { Look::Plain };
    stderr.write_all(picture(mistakes, look).as_bytes())
}

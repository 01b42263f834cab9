//! From text to the tables of a file.

use toml::de::{DeTable, Error};

use super::fields::Fields;
use super::findings::Findings;
use super::limits;
use super::mistake::{Mistake, Mistakes};
use super::problem::Problem;
use super::spot::{Spot, Told};

/// Reads `text` as TOML and then with `read`, which must give a value unless it finds a mistake. `told`: how places are
/// named to whoever wrote it.
pub(super) fn parse<T>(
    file: &str,
    text: &str,
    told: Told,
    read: impl FnOnce(Fields<'_>, &mut Findings<'_>) -> Option<T>,
) -> Result<T, Mistakes> {
    if text.len() as u64 > limits::FILE_BYTES {
        return Err(Mistakes::new(file, "", vec![Mistake::of_the_file(Problem::TooLarge)], 0));
    }
    // Some editors put a byte order mark before the text; nobody sees it, so it does not count.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (table, errors) = DeTable::parse_recoverable(text);
    let mut found = Findings::new(text, told);
    if !errors.is_empty() {
        take_down(&mut found, &errors);
        return found.end(file, None);
    }
    let top = Spot { bytes: 0..0, path: String::new() };
    let value = read(Fields::new(table.get_ref(), top), &mut found);
    found.end(file, value)
}

/// What the format itself does not allow. Where it is nested too deep, all else that is told follows from that.
fn take_down(found: &mut Findings<'_>, errors: &[Error]) {
    let spot = |error: &Error| Spot { bytes: error.span().unwrap_or(0..0), path: String::new() };
    if let Some(deep) = errors.iter().find(|error| error.message().contains("recurs")) {
        found.add(&spot(deep), Problem::TooDeep);
        return;
    }
    for error in errors {
        let message = error.message().lines().collect::<Vec<_>>().join(", ");
        found.add(&spot(error), Problem::Syntax(message));
    }
}

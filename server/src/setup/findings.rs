//! What has been found wrong so far while a file is read.

use std::collections::BTreeMap;
use std::fmt;

use toml::de::DeTable;

use super::fields::Fields;
use super::mistake::{Mistake, Mistakes};
use super::problem::Problem;
use super::spot::{Place, Said, Spot};

/// The mistakes of the file that is being read.
pub(super) struct Findings<'t> {
    text: &'t str,
    list: Vec<Mistake>,
}

impl Findings<'_> {
    /// Takes one down.
    pub(super) fn add(&mut self, spot: &Spot, problem: Problem) {
        let place = Some(Place::of(self.text, spot.bytes.clone()));
        self.list.push(Mistake { place, field: spot.path.clone(), problem });
    }

    /// How many there are so far.
    pub(super) const fn count(&self) -> usize {
        self.list.len()
    }

    /// Takes down that something must be unique and is not; says whether it is.
    pub(super) fn once<T: Clone + Ord + fmt::Display>(
        &mut self,
        seen: &mut BTreeMap<T, Spot>,
        said: &Said<T>,
    ) -> bool {
        if let Some(first) = seen.get(&said.what) {
            let line = Place::of(self.text, first.bytes.clone()).line;
            self.add(&said.spot, Problem::Again { found: said.what.to_string(), line });
            return false;
        }
        seen.insert(said.what.clone(), said.spot.clone());
        true
    }
}

/// Reads `text` as TOML and then with `read`, which must give a value unless it finds a mistake.
pub(super) fn parse<T>(
    file: &str,
    text: &str,
    read: impl FnOnce(Fields<'_>, &mut Findings<'_>) -> Option<T>,
) -> Result<T, Mistakes> {
    if text.len() as u64 > super::limits::FILE_BYTES {
        let mistake = Mistake { place: None, field: String::new(), problem: Problem::TooLarge };
        return Err(Mistakes::new(file, "", vec![mistake]));
    }
    // Some editors put a byte order mark before the text; nobody sees it, so it does not count.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (table, errors) = DeTable::parse_recoverable(text);
    let mut found = Findings { text, list: Vec::new() };
    if !errors.is_empty() {
        for error in &errors {
            let bytes = error.span().unwrap_or(0..0);
            let message = error.message().lines().collect::<Vec<_>>().join(", ");
            found.add(&Spot { bytes, path: String::new() }, Problem::Syntax(message));
        }
        return Err(Mistakes::new(file, text, found.list));
    }
    let top = Spot { bytes: 0..0, path: String::new() };
    let value = read(Fields::new(table.get_ref(), top), &mut found);
    match value {
        Some(value) if found.list.is_empty() => Ok(value),
        Some(_) | None => Err(Mistakes::new(file, text, found.list)),
    }
}

//! The catalogue of exercises, read as a floor file's exercises are.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use super::document;
use super::exercise_fields;
use super::exercise_table;
use super::mistake::Mistakes;
use super::spot::Told;
use crate::floor::config::limits;
use crate::training::catalogue::{Catalogue, TEXT};

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| {
    parse_catalogue("exercises.toml", TEXT).expect("the text is part of the program, and a test reads it")
});

/// The exercises that every floor can choose from.
#[must_use]
pub fn catalogue() -> &'static Catalogue {
    &CATALOGUE
}

/// Reads a catalogue: `[[exercise]]` tables, each whole, without stations.
///
/// # Errors
/// Every mistake in the text.
pub fn parse_catalogue(file: &str, text: &str) -> Result<Catalogue, Mistakes> {
    document::parse(file, text, Told::ByLine, |mut top, found| {
        let nothing = Catalogue::default();
        let mut seen = BTreeMap::new();
        let mut entries = Vec::new();
        let mut opposing = Vec::new();
        for mut table in top.sections(found, "exercise", "exercise", 1, limits::EXERCISES) {
            let draft = exercise_fields::draft(&mut table, found, &nothing);
            table.finish(found);
            let Some(mut draft) = draft else { continue };
            opposing.extend(draft.opposing.take());
            let (key, entry) = draft.entry();
            found.once(&mut seen, &key);
            entries.extend(entry);
        }
        let keys: BTreeSet<_> = seen.keys().collect();
        exercise_table::demand_known(found, &opposing, &keys);
        top.finish(found);
        Some(Catalogue::new(entries))
    })
}

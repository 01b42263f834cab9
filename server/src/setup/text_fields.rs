//! Texts that displays show in more than one language.

use turnabout_protocol::words::Words;

use super::allowed::Allowed;
use super::fields::{Entry, Fields};
use super::findings::Findings;
use super::form;
use super::problem::Problem;

/// A text that is the same in every language, or one for each.
pub(super) fn words(entry: Entry<'_>, found: &mut Findings<'_>, most: usize) -> Option<Words> {
    if !entry.is_table() {
        let form = form::Form { allowed: Allowed::Words { most }, read: form::text(most).read };
        return entry.read(found, &form).map(|said| Words::same(&said.what));
    }
    let mut table = entry.table(found)?;
    let text = form::text(most);
    let (en, de) = (table.required(found, "en", &text), table.required(found, "de", &text));
    table.finish(found);
    Some(Words { en: en?, de: de? })
}

/// A text that may be there.
pub(super) fn optional(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    name: &'static str,
    most: usize,
) -> Option<Words> {
    words(table.entry(name)?, found, most)
}

/// A text that must be there.
pub(super) fn required(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    name: &'static str,
    most: usize,
) -> Option<Words> {
    let entry = table.entry(name);
    if entry.is_none() {
        table.missing(found, name, Problem::Missing(Allowed::Words { most }));
    }
    words(entry?, found, most)
}

/// A list of texts that may be left out.
pub(super) fn list(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    name: &'static str,
    texts: usize,
    most: usize,
) -> Option<Vec<Words>> {
    let entries = table.optional_list(found, name, 1, texts)?;
    Some(entries.into_iter().filter_map(|entry| words(entry, found, most)).collect())
}

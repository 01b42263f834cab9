//! The fields of one table, read one after the other. What nobody asked for is not known.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::{DeTable, DeValue};
use turnabout_protocol::ids::{Key, KeyError};

use super::allowed::Allowed;
use super::findings::Findings;
use super::form::{self, Form};
use super::found::Found;
use super::problem::Problem;
use super::spot::{Said, Spot};
use crate::floor::config::limits::NAME;

/// One table of the file.
pub(super) struct Fields<'d> {
    table: &'d DeTable<'d>,
    pub(super) spot: Spot,
    asked: Vec<&'static str>,
}

/// One value of the file.
pub(super) struct Entry<'d> {
    value: &'d DeValue<'d>,
    pub(super) spot: Spot,
}

impl<'d> Fields<'d> {
    pub(super) fn new(table: &'d DeTable<'d>, spot: Spot) -> Self {
        Self { table, spot, asked: Vec::new() }
    }

    /// The value of a field, if it is there.
    pub(super) fn entry(&mut self, name: &'static str) -> Option<Entry<'d>> {
        self.asked.push(name);
        let value: &Spanned<DeValue<'d>> = self.table.get(name)?;
        let spot = Spot { bytes: value.span(), path: self.spot.field(name) };
        Some(Entry { value: value.get_ref(), spot })
    }

    /// Whether a field is there, without asking for it.
    pub(super) fn has(&self, name: &str) -> bool {
        self.table.contains_key(name)
    }

    fn needed(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        allowed: Allowed,
    ) -> Option<Entry<'d>> {
        let entry = self.entry(name);
        if entry.is_none() {
            self.missing(found, name, Problem::Missing(allowed));
        }
        entry
    }

    /// Takes down that a field is not there, at the table that should have it.
    pub(super) fn missing(&self, found: &mut Findings<'_>, name: &str, problem: Problem) {
        found.add(&Spot { bytes: self.spot.bytes.clone(), path: self.spot.field(name) }, problem);
    }

    /// A field that must be there, and where it stands.
    pub(super) fn said<T, F: Fn(&DeValue<'_>) -> Option<T>>(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        form: &Form<F>,
    ) -> Option<Said<T>> {
        self.needed(found, name, form.allowed.clone())?.read(found, form)
    }

    /// A field that must be there.
    pub(super) fn required<T, F: Fn(&DeValue<'_>) -> Option<T>>(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        form: &Form<F>,
    ) -> Option<T> {
        self.said(found, name, form).map(|said| said.what)
    }

    /// A field that may be there, and where it stands.
    pub(super) fn optional<T, F: Fn(&DeValue<'_>) -> Option<T>>(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        form: &Form<F>,
    ) -> Option<Said<T>> {
        self.entry(name)?.read(found, form)
    }

    /// A name on displays, `name`, which must be there, and which nothing of its kind may share: displays tell
    /// people and places apart by nothing else.
    pub(super) fn display_name(
        &mut self,
        found: &mut Findings<'_>,
        taken: &mut BTreeMap<String, Spot>,
    ) -> Option<String> {
        let name = self.said(found, "name", &form::text(NAME))?;
        found.once(taken, &name);
        Some(name.what)
    }

    /// A table that must be there.
    pub(super) fn table(&mut self, found: &mut Findings<'_>, name: &'static str) -> Option<Self> {
        let heading = Allowed::Heading(self.spot.field(name));
        self.needed(found, name, heading)?.table(found)
    }

    /// A table that may be there.
    pub(super) fn optional_table(&mut self, found: &mut Findings<'_>, name: &'static str) -> Option<Self> {
        self.entry(name)?.table(found)
    }

    /// A list; none at all is a list of nothing, and a mistake if `least` is above that.
    pub(super) fn list(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        least: usize,
        most: usize,
    ) -> Vec<Entry<'d>> {
        let allowed = Allowed::List { least, most };
        let entry = if least > 0 { self.needed(found, name, allowed) } else { self.entry(name) };
        entry.map(|entry| entry.list(found, least, most)).unwrap_or_default()
    }

    /// A list that may be left out, which is not the same as a list of nothing.
    pub(super) fn optional_list(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        least: usize,
        most: usize,
    ) -> Option<Vec<Entry<'d>>> {
        Some(self.entry(name)?.list(found, least, most))
    }

    /// Tables under headings of their own, `[[name]]`.
    pub(super) fn sections(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        heading: &'static str,
        least: usize,
        most: usize,
    ) -> Vec<Self> {
        let allowed = Allowed::Sections { name: heading, least, most };
        self.tables_as(found, name, &allowed, least, most)
    }

    /// A list of tables.
    pub(super) fn tables(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        least: usize,
        most: usize,
    ) -> Vec<Self> {
        self.tables_as(found, name, &Allowed::List { least, most }, least, most)
    }

    fn tables_as(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        allowed: &Allowed,
        least: usize,
        most: usize,
    ) -> Vec<Self> {
        let entry = if least > 0 { self.needed(found, name, allowed.clone()) } else { self.entry(name) };
        let entries = entry.map(|entry| entry.list_as(found, allowed, least, most)).unwrap_or_default();
        entries.into_iter().filter_map(|entry| entry.table(found)).collect()
    }

    /// Every field, where the names are keys that the file gives. At most so many.
    pub(super) fn keyed(&mut self, found: &mut Findings<'_>, most: usize) -> Vec<(Key, Entry<'d>)> {
        let mut keyed = Vec::new();
        for (n, (name, value)) in self.table.iter().enumerate() {
            let spot = |bytes| Spot { bytes, path: self.spot.field(&plain(name.get_ref())) };
            if n == most {
                found.add(&spot(name.span()), Problem::TooManyFields { most });
                break;
            }
            match name.get_ref().parse() {
                Ok(key) => keyed.push((key, Entry { value: value.get_ref(), spot: spot(value.span()) })),
                Err(KeyError) => {
                    let wrong = Found::text(name.get_ref());
                    found.add(&spot(name.span()), Problem::Value { found: wrong, allowed: Allowed::Key });
                }
            }
        }
        keyed
    }

    /// Takes down every field that nobody asked for. Comes last.
    pub(super) fn finish(&self, found: &mut Findings<'_>) {
        for name in self.table.keys() {
            if self.asked.iter().any(|asked| asked == name.get_ref()) {
                continue;
            }
            let meant = found.meant(name.get_ref(), self.asked.iter().copied());
            let spot = Spot { bytes: name.span(), path: self.spot.field(&plain(name.get_ref())) };
            found.add(&spot, Problem::UnknownField { allowed: self.asked.clone(), meant });
        }
    }
}

impl<'d> Entry<'d> {
    /// Whether it is a table.
    pub(super) const fn is_table(&self) -> bool {
        matches!(self.value, DeValue::Table(_))
    }

    /// The whole number that it is, if it is one.
    pub(super) fn whole(&self) -> Option<i64> {
        (form::whole(i64::MIN, i64::MAX).read)(self.value)
    }

    /// Whether it is a list.
    pub(super) fn is_list(&self) -> bool {
        self.value.is_array()
    }

    /// The value in this form.
    pub(super) fn read<T, F: Fn(&DeValue<'_>) -> Option<T>>(
        self,
        found: &mut Findings<'_>,
        form: &Form<F>,
    ) -> Option<Said<T>> {
        let Some(what) = (form.read)(self.value) else {
            let problem = Problem::Value { found: Found::of(self.value), allowed: form.allowed.clone() };
            found.add(&self.spot, problem);
            return None;
        };
        Some(Said { what, spot: self.spot })
    }

    fn list(self, found: &mut Findings<'_>, least: usize, most: usize) -> Vec<Self> {
        self.list_as(found, &Allowed::List { least, most }, least, most)
    }

    /// The entries of a list, at most so many; what is too many is told at the first of them.
    pub(super) fn list_as(
        self,
        found: &mut Findings<'_>,
        allowed: &Allowed,
        least: usize,
        most: usize,
    ) -> Vec<Self> {
        let Self { value, spot } = self;
        let problem = || Problem::Value { found: Found::of(value), allowed: allowed.clone() };
        let Some(array) = value.as_array() else {
            found.add(&spot, problem());
            return Vec::new();
        };
        if let Some(over) = array.get(most) {
            found.add(&Spot { bytes: over.span(), path: spot.path.clone() }, problem());
        } else if array.len() < least {
            found.add(&spot, problem());
        }
        let entries = array.iter().take(most).enumerate();
        entries
            .map(|(n, item)| {
                let path = format!("{}[{}]", spot.path, n + 1);
                Entry { value: item.get_ref(), spot: Spot { bytes: item.span(), path } }
            })
            .collect()
    }

    /// The value as a table.
    pub(super) fn table(self, found: &mut Findings<'_>) -> Option<Fields<'d>> {
        let Some(table) = self.value.as_table() else {
            found.add(&self.spot, Problem::Value { found: Found::of(self.value), allowed: Allowed::Table });
            return None;
        };
        Some(Fields::new(table, self.spot))
    }
}

/// A field's name as it can stand in a path: with quotation marks where it needs them.
fn plain(name: &str) -> String {
    let bare = !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_' || b == b'-');
    if bare { form::shortened(name) } else { form::quoted(name) }
}

//! The fields of one table, read one after the other. What nobody asked for is not known.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::allowed::Allowed;
use super::findings::Findings;
use super::form::{Form, describe};
use super::problem::Problem;
use super::spot::{Said, Spot};
use super::suggest;

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

    /// A table that must be there.
    pub(super) fn table(&mut self, found: &mut Findings<'_>, name: &'static str) -> Option<Self> {
        self.needed(found, name, Allowed::Table)?.table(found)
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

    /// A list of tables.
    pub(super) fn tables(
        &mut self,
        found: &mut Findings<'_>,
        name: &'static str,
        least: usize,
        most: usize,
    ) -> Vec<Self> {
        let entries = self.list(found, name, least, most);
        entries.into_iter().filter_map(|entry| entry.table(found)).collect()
    }

    /// Takes down every field that nobody asked for. Comes last.
    pub(super) fn finish(&self, found: &mut Findings<'_>) {
        for name in self.table.keys() {
            if self.asked.iter().any(|asked| asked == name.get_ref()) {
                continue;
            }
            let meant = suggest::meant(name.get_ref(), self.asked.iter().copied());
            let spot = Spot { bytes: name.span(), path: self.spot.field(&plain(name.get_ref())) };
            found.add(&spot, Problem::UnknownField { allowed: self.asked.clone(), meant });
        }
    }
}

impl<'d> Entry<'d> {
    /// The value in this form.
    pub(super) fn read<T, F: Fn(&DeValue<'_>) -> Option<T>>(
        self,
        found: &mut Findings<'_>,
        form: &Form<F>,
    ) -> Option<Said<T>> {
        let Some(what) = (form.read)(self.value) else {
            let problem = Problem::Value { found: describe(self.value), allowed: form.allowed.clone() };
            found.add(&self.spot, problem);
            return None;
        };
        Some(Said { what, spot: self.spot })
    }

    fn list(self, found: &mut Findings<'_>, least: usize, most: usize) -> Vec<Self> {
        let Self { value, spot } = self;
        let wrong = || Problem::Value { found: describe(value), allowed: Allowed::List { least, most } };
        let Some(array) = value.as_array() else {
            found.add(&spot, wrong());
            return Vec::new();
        };
        if !(least..=most).contains(&array.len()) {
            found.add(&spot, wrong());
        }
        let entries = array.iter().take(most).enumerate();
        entries
            .map(|(n, item)| {
                let path = format!("{}[{}]", spot.path, n + 1);
                Entry { value: item.get_ref(), spot: Spot { bytes: item.span(), path } }
            })
            .collect()
    }

    fn table(self, found: &mut Findings<'_>) -> Option<Fields<'d>> {
        let Some(table) = self.value.as_table() else {
            found.add(&self.spot, Problem::Value { found: describe(self.value), allowed: Allowed::Table });
            return None;
        };
        Some(Fields::new(table, self.spot))
    }
}

/// A field's name as it can stand in a path: with quotation marks where it needs them.
fn plain(name: &str) -> String {
    let bare = !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_' || b == b'-');
    if bare { name.to_owned() } else { super::form::quoted(name) }
}

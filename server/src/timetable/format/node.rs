//! One value of a text with its place: what may stand there, or a mistake that says so.

use serde_json::{Map, Value};
use turnabout_protocol::units::Secs;

use super::limits;
use super::mistake::{Notes, Path};
use super::problem::{Many, Problem};
use crate::timetable::instance::{At, Window};

/// Characters of a value that are told again.
const TOLD: usize = 40;

/// A value and where it stands.
#[derive(Clone, Copy)]
pub(super) struct Node<'a> {
    pub(super) value: &'a Value,
    pub(super) at: Path<'a>,
}

/// An object of which every field is known.
pub(super) struct Fields<'a> {
    map: &'a Map<String, Value>,
    pub(super) at: Path<'a>,
}

/// All that was read, or nothing where one could not be. Each is looked at, so that every mistake is told.
pub(super) fn every<T>(items: impl Iterator<Item = Option<T>>) -> Option<Vec<T>> {
    let read: Vec<Option<T>> = items.collect();
    read.into_iter().collect()
}

fn shortened(text: &str) -> String {
    match text.char_indices().nth(TOLD) {
        Some((end, _)) => format!("{}...", &text[..end]),
        None => text.to_owned(),
    }
}

impl<'a> Node<'a> {
    /// The value as it stands there, shortened.
    pub(super) fn found(&self) -> String {
        match self.value {
            // A long one would be written out whole before it is cut.
            Value::Array(list) if list.len() > TOLD => format!("a list of {}", list.len()),
            Value::Object(_) => "an object".to_owned(),
            Value::String(text) => format!("{:?}", shortened(text)),
            other => shortened(&other.to_string()),
        }
    }

    /// An object with the fields of `need`, perhaps those of `may`, and any that begin with `x_`. What is missing or
    /// not known is noted, and what is there can be read all the same.
    pub(super) fn object(
        &self,
        need: &[&'static str],
        may: &[&'static str],
        notes: &mut Notes,
    ) -> Option<Fields<'a>> {
        let Some(map) = self.value.as_object() else {
            notes.add(self.at, Problem::Object { found: self.found() });
            return None;
        };
        for name in need.iter().filter(|name| !map.contains_key(**name)) {
            notes.add(self.at, Problem::Missing(name));
        }
        let known = |name: &str| name.starts_with("x_") || need.iter().chain(may).any(|known| *known == name);
        for name in map.keys().filter(|name| !known(name)) {
            let allowed = need.iter().chain(may).copied().collect();
            notes.add(self.at, Problem::Unknown { name: shortened(name), allowed });
        }
        Some(Fields { map, at: self.at })
    }

    /// A list of at most so many.
    pub(super) fn list(&self, what: Many, notes: &mut Notes) -> Option<&'a [Value]> {
        let list = self.any_list(notes)?;
        if list.len() > what.most() {
            notes.add(self.at, Problem::TooMany { what, found: list.len() });
            return None;
        }
        Some(list)
    }

    /// A list of at least one and at most so many.
    pub(super) fn some(&self, what: Many, notes: &mut Notes) -> Option<&'a [Value]> {
        let list = self.list(what, notes)?;
        if list.is_empty() {
            notes.add(self.at, Problem::Empty);
            return None;
        }
        Some(list)
    }

    /// A list of exactly so many.
    pub(super) fn list_of(&self, wanted: usize, notes: &mut Notes) -> Option<&'a [Value]> {
        let list = self.any_list(notes)?;
        if list.len() != wanted {
            notes.add(self.at, Problem::Length { wanted, found: list.len() });
            return None;
        }
        Some(list)
    }

    fn any_list(&self, notes: &mut Notes) -> Option<&'a [Value]> {
        let list = self.value.as_array();
        if list.is_none() {
            notes.add(self.at, Problem::List { found: self.found() });
        }
        list.map(Vec::as_slice)
    }

    /// The values of a list that stands here, with their places.
    pub(super) fn each<'s>(&'s self, list: &'s [Value]) -> impl Iterator<Item = Node<'s>> {
        list.iter().enumerate().map(|(place, value)| Node { value, at: Path::Item(&self.at, place) })
    }

    /// A whole number of at least `least`.
    pub(super) fn whole(&self, least: u32, notes: &mut Notes) -> Option<u32> {
        self.number(least, limits::NUMBER, false, notes)
    }

    /// A whole number within these.
    pub(super) fn number(&self, least: u32, most: u32, or_null: bool, notes: &mut Notes) -> Option<u32> {
        match self.value.as_u64() {
            Some(found) if found > u64::from(most) => {
                notes.add(self.at, Problem::TooLarge { most, found });
                None
            }
            Some(found) if found >= u64::from(least) => u32::try_from(found).ok(),
            Some(_) | None => {
                notes.add(self.at, Problem::Whole { least, or_null, found: self.found() });
                None
            }
        }
    }

    /// The position of one of `count` things, from `least` on.
    pub(super) fn position(&self, least: usize, count: usize, notes: &mut Notes) -> Option<usize> {
        self.position_or(least, count, false, notes)
    }

    fn position_or(&self, least: usize, count: usize, or_null: bool, notes: &mut Notes) -> Option<usize> {
        let found = self.value.as_u64().and_then(|found| usize::try_from(found).ok());
        let read = found.filter(|found| (least..count).contains(found));
        if read.is_none() {
            notes.add(self.at, Problem::Range { least, most: count, or_null, found: self.found() });
        }
        read
    }

    /// The same, or null.
    pub(super) fn position_or_null(&self, count: usize, notes: &mut Notes) -> Option<Option<usize>> {
        if self.value.is_null() { Some(None) } else { self.position_or(0, count, true, notes).map(Some) }
    }

    /// Seconds.
    pub(super) fn secs(&self, notes: &mut Notes) -> Option<Secs> {
        self.whole(0, notes).map(Secs)
    }

    /// Seconds, or null.
    pub(super) fn secs_or_null(&self, notes: &mut Notes) -> Option<Option<Secs>> {
        if self.value.is_null() {
            return Some(None);
        }
        self.number(0, limits::NUMBER, true, notes).map(|secs| Some(Secs(secs)))
    }

    /// An instant.
    pub(super) fn instant(&self, notes: &mut Notes) -> Option<At> {
        self.whole(0, notes).map(At)
    }

    /// An instant, or null.
    pub(super) fn instant_or_null(&self, notes: &mut Notes) -> Option<Option<At>> {
        self.secs_or_null(notes).map(|secs| secs.map(|secs| At(secs.0)))
    }

    /// True or false.
    pub(super) fn flag(&self, notes: &mut Notes) -> Option<bool> {
        let flag = self.value.as_bool();
        if flag.is_none() {
            notes.add(self.at, Problem::Flag { found: self.found() });
        }
        flag
    }

    /// Text.
    pub(super) fn text(&self, notes: &mut Notes) -> Option<String> {
        let text = self.value.as_str();
        if text.is_none() {
            notes.add(self.at, Problem::Text { found: self.found() });
        }
        text.map(str::to_owned)
    }

    /// Two whole numbers.
    pub(super) fn pair(&self, notes: &mut Notes) -> Option<(u32, u32)> {
        let list = self.list_of(2, notes)?;
        let both = every(self.each(list).map(|one| one.whole(0, notes)))?;
        Some((both[0], both[1]))
    }

    /// Busy windows.
    pub(super) fn windows(&self, notes: &mut Notes) -> Option<Vec<Window>> {
        let list = self.list(Many::Windows, notes)?;
        every(self.each(list).map(|one| {
            let (from, to) = one.pair(notes)?;
            if from >= to {
                notes.add(one.at, Problem::Window { from, to });
                return None;
            }
            Some(Window { from: At(from), to: At(to) })
        }))
    }
}

impl Fields<'_> {
    /// A field that must be there; that it is missing has been noted.
    pub(super) fn need(&self, name: &'static str) -> Option<Node<'_>> {
        self.map.get(name).map(|value| Node { value, at: Path::Field(&self.at, name) })
    }

    /// A field that may be absent: nothing within something where it is.
    pub(super) fn may<T>(
        &self,
        name: &'static str,
        read: impl FnOnce(Node<'_>) -> Option<T>,
    ) -> Option<Option<T>> {
        match self.need(name) {
            Some(node) => read(node).map(Some),
            None => Some(None),
        }
    }

    /// The `id`, which is the position in the list.
    pub(super) fn id(&self, position: usize, notes: &mut Notes) -> Option<usize> {
        self.need("id")?.position(position, position + 1, notes)
    }
}

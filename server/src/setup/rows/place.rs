//! Which cell a field of the document comes from.

use std::collections::BTreeMap;

/// Which row and column each part of the document comes from, by its path.
#[derive(Default)]
pub(super) struct Places {
    by_path: BTreeMap<String, (usize, Option<&'static str>)>,
}

impl Places {
    /// Takes down that a part of the document is what this row says, or one of its cells.
    pub(super) fn add(&mut self, path: String, row: usize, column: Option<&'static str>) {
        self.by_path.insert(path, (row, column));
    }

    /// The row of a field, and its column: the cell itself, or else the name of the field in what the row says. Nothing
    /// for what no row of the table says.
    pub(super) fn of(&self, field: &str) -> Option<(usize, String)> {
        let mut path = field;
        loop {
            if let Some((row, column)) = self.by_path.get(path) {
                let below = field.get(path.len()..).unwrap_or_default().trim_start_matches('.');
                let name = below.split(['.', '[']).next().unwrap_or_default();
                return Some((*row, column.unwrap_or(name).to_owned()));
            }
            path = path.get(..path.rfind(['.', '['])?)?;
        }
    }
}

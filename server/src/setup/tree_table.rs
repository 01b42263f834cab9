//! Plates that stations share: `[[tree]]` of a floor file.

use std::collections::BTreeMap;

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::plates_table;
use super::problem::Thing;
use super::shared::Shared;
use crate::floor::config::{Tree, limits as floor_limits};

/// Reads every tree.
pub(super) fn trees(top: &mut Fields<'_>, found: &mut Findings<'_>) -> Shared<Tree> {
    let mut trees = Shared::new(Thing::Tree);
    let mut taken = BTreeMap::new();
    for mut table in top.sections(found, "tree", "tree", 0, floor_limits::TREES) {
        let key = table.said(found, "key", &form::key());
        let name = table.display_name(found, &mut taken);
        let before = found.count();
        let (unit, plates) = plates_table::plates(&mut table, found, None, None, 1);
        let whole = found.count() == before;
        table.finish(found);
        let tree = name.zip(unit).filter(|_| whole).map(|(name, unit)| Tree { name, unit, plates });
        trees.add(found, key, tree);
    }
    trees
}

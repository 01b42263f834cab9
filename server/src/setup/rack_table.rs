//! Dumbbells that stations share: `[[rack]]` of a floor file.

use std::collections::BTreeMap;

use super::dumbbell_table;
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::problem::Thing;
use super::shared::Shared;
use crate::floor::config::{Rack, limits as floor_limits};

/// Reads every rack.
pub(super) fn racks(top: &mut Fields<'_>, found: &mut Findings<'_>) -> Shared<Rack> {
    let mut racks = Shared::new(Thing::Rack);
    let mut taken = BTreeMap::new();
    for mut table in top.sections(found, "rack", "rack", 0, floor_limits::RACKS) {
        let key = table.said(found, "key", &form::key());
        let name = table.display_name(found, &mut taken);
        let before = found.count();
        let dumbbells = dumbbell_table::pairs(&mut table, found);
        let whole = found.count() == before;
        table.finish(found);
        let rack = name.zip(dumbbells).filter(|_| whole);
        racks.add(found, key, rack.map(|(name, (unit, pairs))| Rack { name, unit, pairs }));
    }
    racks
}

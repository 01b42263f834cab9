//! What an exercise's table says about it beside what the floor decides by.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::Key;
use turnabout_protocol::view::PhaseWords;

use super::exercise_words::{self as words, MUSCLE};
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::limits;
use super::spot::Said;
use super::text_fields;
use crate::training::about::About;
use crate::training::muscle::{Muscle, Muscles};

/// What was read.
pub(super) struct Read {
    pub(super) about: About,
    /// The exercise that is named as its opposite, so that a name for nothing can be found.
    pub(super) opposing: Option<Said<Key>>,
    /// The settings that the table itself names, for the same reason.
    pub(super) settings: Option<Vec<Said<Key>>>,
}

/// What the table says, and what `before` said where the table is silent.
pub(super) fn about(table: &mut Fields<'_>, found: &mut Findings<'_>, before: &About) -> Read {
    let muscles = table.optional_table(found, "muscles").map(|table| muscles(table, found));
    let phases = table.optional_table(found, "phases").map(|table| phases(table, found));
    let breathing = table.optional(found, "breathing", &form::one_of(words::BREATHING));
    let set_up = text_fields::list(table, found, "set_up", limits::SET_UP_POINTS, limits::SENTENCE);
    let cautions = text_fields::list(table, found, "cautions", limits::CAUTIONS, limits::SENTENCE);
    let settings = settings(table, found);
    let opposing = table.optional(found, "opposing", &form::key());
    let about = About {
        implement: before.implement,
        muscles: muscles.unwrap_or_else(|| before.muscles.clone()),
        phases: phases.unwrap_or_else(|| before.phases.clone()),
        breathing: breathing.map_or(before.breathing, |said| said.what),
        set_up: set_up.unwrap_or_else(|| before.set_up.clone()),
        cautions: cautions.unwrap_or_else(|| before.cautions.clone()),
        settings: settings.as_ref().map_or_else(
            || before.settings.clone(),
            |own| own.iter().map(|said| said.what.clone()).collect(),
        ),
        opposing: opposing.as_ref().map(|said| said.what.clone()).or_else(|| before.opposing.clone()),
    };
    Read { about, opposing, settings }
}

/// Four lists that replace those of the catalogue together, since one muscle plays one part.
fn muscles(mut table: Fields<'_>, found: &mut Findings<'_>) -> Muscles {
    let mut seen = BTreeMap::new();
    let mut part = |name, least| {
        let entries = table.list(found, name, least, limits::MUSCLES);
        let mut muscles: BTreeSet<Muscle> = BTreeSet::new();
        for entry in entries {
            let Some(said) = entry.read(found, &form::one_of(MUSCLE)) else { continue };
            let word = Said { what: words::word(MUSCLE, said.what), spot: said.spot };
            if found.once(&mut seen, &word) {
                muscles.insert(said.what);
            }
        }
        muscles
    };
    let prime_movers = part("prime_movers", 1);
    let antagonists = part("antagonists", 0);
    let synergists = part("synergists", 0);
    let stabilisers = part("stabilisers", 0);
    table.finish(found);
    Muscles { prime_movers, antagonists, synergists, stabilisers }
}

fn phases(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<PhaseWords> {
    let eccentric = text_fields::required(&mut table, found, "eccentric", limits::PHASE);
    let concentric = text_fields::required(&mut table, found, "concentric", limits::PHASE);
    table.finish(found);
    Some(PhaseWords { eccentric: eccentric?, concentric: concentric? })
}

fn settings(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<Vec<Said<Key>>> {
    let entries = table.optional_list(found, "settings", 0, limits::SETTINGS)?;
    let mut seen = BTreeMap::new();
    let mut settings = Vec::new();
    for entry in entries {
        let Some(key) = entry.read(found, &form::key()) else { continue };
        if found.once(&mut seen, &key) {
            settings.push(key);
        }
    }
    Some(settings)
}

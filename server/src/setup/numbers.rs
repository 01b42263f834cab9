//! The numbers that stand for keys in the journal.

use std::collections::BTreeMap;

use turnabout_protocol::ids::Key;

use super::findings::Findings;
use super::problem::Problem;
use super::spot::Said;

/// The numbers that keys have already.
pub(super) type Known<'k> = BTreeMap<&'k Key, u16>;

/// A number for each key, in order: its old one, or else the next above all old ones. Keys that come twice
/// are a mistake.
pub(super) fn number(found: &mut Findings<'_>, keys: &[Said<Key>], known: &Known<'_>) -> Vec<u16> {
    let mut highest = known.values().copied().max().unwrap_or(0);
    let mut seen = BTreeMap::new();
    let mut numbers = Vec::with_capacity(keys.len());
    for key in keys {
        found.once(&mut seen, key);
        let number = known.get(&key.what).copied().or_else(|| {
            highest = highest.checked_add(1)?;
            Some(highest)
        });
        if number.is_none() {
            found.add(&key.spot, Problem::NumbersUsedUp);
        }
        numbers.push(number.unwrap_or(u16::MAX));
    }
    numbers
}

//! What an exercise of a floor file wants by its own words, and whether the floor has it.
//!
//! Only what the file says beyond the catalogue is looked at: the catalogue names everything that any floor might
//! have.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{Key, StationId};

use super::findings::Findings;
use super::policy_table::Handles;
use super::problem::{Problem, Thing};
use super::spot::Said;
use super::suggest;
use crate::floor::config::Station;
use crate::training::catalogue::Entry;

/// What the table of an exercise says beyond the catalogue.
#[derive(Default)]
pub(super) struct Wants {
    /// Settings of a station.
    pub(super) settings: Vec<Said<Key>>,
    /// A handle.
    pub(super) handle: Option<Said<Key>>,
}

impl Wants {
    /// What a table says, without what the catalogue's entry says too.
    pub(super) fn beyond(
        entry: Option<&Entry>,
        mut settings: Vec<Said<Key>>,
        handle: Option<Said<Key>>,
    ) -> Self {
        settings.retain(|said| entry.is_none_or(|entry| !entry.about.settings.contains(&said.what)));
        let usual = entry.and_then(|entry| entry.handle.as_ref());
        Self { settings, handle: handle.filter(|said| usual != Some(&said.what)) }
    }
}

/// The same, with the stations of the exercise.
pub(super) struct Wanted {
    pub(super) wants: Wants,
    pub(super) stations: BTreeSet<StationId>,
}

/// Takes down settings that no station of the exercise has. `stations` are all that there are.
pub(super) fn check_settings(
    found: &mut Findings<'_>,
    wanted: &[Wanted],
    stations: &BTreeMap<StationId, Station>,
) {
    for Wanted { wants, stations: suited } in wanted.iter().filter(|wanted| !wanted.stations.is_empty()) {
        let settings = suited.iter().filter_map(|id| stations.get(id)).flat_map(|station| &station.settings);
        let there: BTreeSet<String> = settings.map(|setting| as_key(&setting.name)).collect();
        for setting in wants.settings.iter().filter(|setting| !there.contains(setting.what.as_str())) {
            let meant = found.meant(setting.what.as_str(), there.iter().map(String::as_str));
            let problem = Problem::NoSuchSetting {
                found: setting.what.clone(),
                allowed: there.iter().cloned().collect(),
                meant: meant.map(str::to_owned),
            };
            found.add(&setting.spot, problem);
        }
    }
}

/// Takes down handles that a floor which counts its handles does not count, and handles that are counted and that
/// no exercise wants, of which `wanted_by_all` are. One slip is told once, where it is counted.
pub(super) fn check_handles(
    found: &mut Findings<'_>,
    wanted: &[Wanted],
    handles: &Handles,
    wanted_by_all: &BTreeSet<&Key>,
) {
    let idle: Vec<&Key> = handles.keys().filter(|key| !wanted_by_all.contains(key)).collect();
    for (key, count) in handles.iter().filter(|(key, _)| idle.contains(key)) {
        let words = wanted_by_all.iter().map(|key| key.as_str());
        found.unknown(&count.spot, Thing::Handle, key.as_str(), words);
    }
    let slip = |handle: &Key| suggest::meant(handle.as_str(), idle.iter().map(|key| key.as_str())).is_some();
    let unknown = |handle: &&Said<Key>| {
        !handles.is_empty() && !handles.contains_key(&handle.what) && !slip(&handle.what)
    };
    for handle in wanted.iter().filter_map(|wanted| wanted.wants.handle.as_ref()).filter(unknown) {
        let meant = found.meant(handle.what.as_str(), handles.keys().map(Key::as_str));
        let problem = Problem::NoSuchHandle {
            found: handle.what.clone(),
            allowed: handles.keys().cloned().collect(),
            meant: meant.map(str::to_owned),
        };
        found.add(&handle.spot, problem);
    }
}

/// The name of a setting, which people read at the station, as exercises name it: `Thigh pad` is `thigh-pad`.
fn as_key(name: &str) -> String {
    let mut plain = String::with_capacity(name.len());
    for letter in name.chars().flat_map(char::to_lowercase) {
        match letter {
            '\u{e4}' => plain.push_str("ae"),
            '\u{f6}' => plain.push_str("oe"),
            '\u{fc}' => plain.push_str("ue"),
            '\u{df}' => plain.push_str("ss"),
            letter if letter.is_ascii_alphanumeric() => plain.push(letter),
            _ => plain.push(' '),
        }
    }
    plain.split_whitespace().collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_written_as_a_key() {
        for (name, key) in [
            ("Thigh pad", "thigh-pad"),
            ("Safety-arms (rear)", "safety-arms-rear"),
            ("R\u{fc}ckenst\u{fc}tze", "rueckenstuetze"),
            ("H\u{f6}he 2", "hoehe-2"),
        ] {
            assert_eq!(as_key(name), key);
        }
    }
}

//! What the journal says afterwards, read by other means than the server's.

use std::collections::BTreeMap;
use std::path::Path;

use rusqlite::Connection;
use turnabout_protocol::ids::{CommandId, StationId, TurnId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::view::Stage;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::invariants;
use turnabout_server::floor::state::State;
use turnabout_server::journal::codec::decode;
use turnabout_server::journal::{Journal, Options, Storage};

/// Looks at everything that must hold after the evening.
pub(crate) fn holds(folder: &Path, accepted: &[(CommandId, Outcome)]) {
    let data = folder.join("data");
    let journal = Journal::open(&Storage::Folder(data.clone()), Options::default()).unwrap();
    let mut entries = Vec::new();
    journal
        .rows_after(0, |row| -> Result<(), turnabout_server::journal::ReadError> {
            entries.push(decode(&row).unwrap());
            Ok(())
        })
        .unwrap();
    drop(journal);
    every_acknowledged_command_is_there_once(&data, accepted, &entries);
    no_station_is_occupied_twice(&entries);
    everybody_finished(&entries);
}

fn every_acknowledged_command_is_there_once(
    data: &Path,
    accepted: &[(CommandId, Outcome)],
    entries: &[Entry],
) {
    assert!(accepted.len() > 30, "only {} commands", accepted.len());
    let raw = Connection::open(data.join("floor.db")).unwrap();
    for (id, answer) in accepted {
        let Outcome::Accepted { recorded } = answer else { panic!("{answer:?}") };
        let found: Vec<(i64, i64)> = raw
            .prepare("SELECT sequence, recorded FROM answers WHERE command = ?")
            .unwrap()
            .query_map([id.0.as_bytes().as_slice()], |row| Ok((row.get(0)?, row.get(1)?)))
            .unwrap()
            .collect::<Result<_, _>>()
            .unwrap();
        let [(sequence, stored)] = found.as_slice() else { panic!("{id:?} is there {} times", found.len()) };
        assert_eq!(*stored, recorded.0);
        let entry = entries
            .iter()
            .find(|entry| i64::try_from(entry.sequence) == Ok(*sequence))
            .expect("its entry is there");
        assert_eq!(entry.recorded, *recorded, "{id:?} rests on {entry:?}");
    }
}

fn no_station_is_occupied_twice(entries: &[Entry]) {
    let mut on: BTreeMap<StationId, TurnId> = BTreeMap::new();
    let mut ended: BTreeMap<TurnId, StationId> = BTreeMap::new();
    let mut sets = 0;
    for entry in entries {
        match &entry.event {
            Event::TurnWent { turn, station, .. } => {
                assert_eq!(on.insert(*station, *turn), None, "at entry {}", entry.sequence);
            }
            Event::TurnDone { turn, .. } | Event::TurnCalledOff { turn } => {
                let at = on.iter().find(|(_, on)| *on == turn).map(|(station, _)| *station);
                let at = at.unwrap_or_else(|| panic!("nobody was on {turn:?}"));
                on.remove(&at);
                ended.insert(*turn, at);
                sets += 1;
            }
            // That it was done was taken back.
            Event::TurnReopened { turn } => {
                let at = ended.remove(turn).expect("it had ended");
                assert_eq!(on.insert(at, *turn), None, "at entry {}", entry.sequence);
                sets -= 1;
            }
            _ => {}
        }
    }
    assert!(on.is_empty(), "{on:?} never ended");
    // Three clients, two exercises, a technique round and two working rounds.
    assert_eq!(sets, 3 * 2 * 3);
}

fn everybody_finished(entries: &[Entry]) {
    let mut state = State::new();
    for entry in entries {
        evolve(&mut state, entry);
        invariants::check(&state).unwrap_or_else(|broken| panic!("{broken} after {entry:?}"));
    }
    for (id, plan) in &state.programme.groups {
        assert_eq!(state.groups[id].stage(plan), Stage::Finished, "group {id}");
    }
}

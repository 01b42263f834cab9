//! What stations a group could have, and that it is too large for one pair.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::units::{FloorMs, Secs};
use turnabout_protocol::view::{AdmissionPart, LongerPart, TooLargePart};

/// A group that would do better on two pairs.
pub(crate) fn too_large() -> TooLargePart {
    let half = |ids: [u32; 2]| ids.map(ClientId).to_vec();
    TooLargePart { overrun: Secs(43), split: Some([half([102, 104]), half([103, 105])]) }
}

/// Stations that can be taken now and cost others something, and some that come free.
pub(crate) fn admissions() -> Vec<AdmissionPart> {
    let stations = vec![StationId(2), StationId(4)];
    let act = Act::TakeStations {
        group: GroupId(1),
        block: 0,
        stations: stations.clone(),
        revision: 8,
        despite: None,
    };
    let now = AdmissionPart {
        stations,
        from: FloorMs(180_000),
        works_in: Some(GroupId(2)),
        longer: vec![LongerPart { group: GroupId(2), by: Secs(80) }],
        others: 1,
        overrun: Secs(12),
        act: Some(act),
    };
    let later = AdmissionPart {
        stations: vec![StationId(1), StationId(4)],
        from: FloorMs(700_000),
        works_in: None,
        longer: Vec::new(),
        others: 0,
        overrun: Secs(0),
        act: None,
    };
    vec![now, later]
}

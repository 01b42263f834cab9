//! What has happened, every kind of it.

use turnabout_protocol::command::Defect;
use turnabout_protocol::ids::{ClientId, CoachId, StationId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{Deed, DeedPart, HappenedPart, Happening};

use crate::views::{lat_pulldown, row};

/// One of each; a server sends fewer at once.
pub(crate) fn happened() -> Vec<HappenedPart> {
    let name = |name: &str| name.to_owned();
    let all = vec![
        Happening::CameLate { client: name("Chidi") },
        Happening::CameBack { client: name("Chidi") },
        Happening::Left { client: name("Dara") },
        Happening::OtherUseBegan { station: name("Bench 2") },
        Happening::OtherUseEnded { station: name("Bench 2") },
        Happening::OutOfService { station: name("Cable row 1"), defect: Defect::Cable },
        Happening::PlatesMissing { station: name("Bench 1") },
        Happening::PlatesBack { station: name("Bench 1") },
        Happening::BackInService { station: name("Cable row 1") },
        Happening::HandedOver { group: name("Bram, Chidi"), from: name("Ayla"), to: name("Zeno") },
        Happening::SpotterHelped { client: name("Bram"), spotter: Some(name("Ayla")) },
        Happening::SpotterHelped { client: name("Bram"), spotter: None },
        Happening::ExerciseSwapped { client: name("Bram"), from: row(), to: lat_pulldown() },
        Happening::StationSwapped { group: name("Bram"), from: name("Row 1"), to: name("Row 2") },
        Happening::Stopped { who: name("Bram") },
        Happening::FloorStopped,
        Happening::Resumed { who: name("Bram") },
        Happening::StationsGivenAway { group: name("Bram") },
        Happening::WentBefore { group: name("Bram") },
    ];
    all.into_iter().zip(1..).map(|(what, n)| HappenedPart { at: FloorMs(90_000 - n * 1_000), what }).collect()
}

/// Something that another did about a client, and something about the whole group.
pub(crate) fn deeds() -> Vec<DeedPart> {
    let deed = |deed, by, at, client| DeedPart { deed, by, at: FloorMs(at), client };
    vec![
        deed(Deed::Went, Actor::Station { station: StationId(1) }, 99_000, Some(ClientId(2))),
        deed(Deed::HandedOver, Actor::Coach { coach: CoachId(2) }, 95_000, None),
    ]
}

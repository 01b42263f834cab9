//! Evenings rehearsed on the real core.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod by_hand;
mod cap;
mod knowing;
mod late;
mod laws;
mod mishaps;

use turnabout_protocol::ids::{ClientId, GroupId, TurnId};
use turnabout_server::floor::rehearse::opening::Opening;
use turnabout_server::floor::rehearse::{Chance, Looking, Way};
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::timetable::rehearse::noise::Noise;

/// Groups and clients of the demo.
pub(crate) const FIRST: GroupId = GroupId(1);
pub(crate) const CHIDI: ClientId = ClientId(101);
pub(crate) const DARA: ClientId = ClientId(102);

pub(crate) fn turn(group: GroupId, client: ClientId, round: u8, leg: u8) -> TurnId {
    TurnId { group, client, block: 0, round, leg }
}

/// The demo's own files.
pub(crate) fn demo() -> Opening {
    let floor = parse_floor("floor.toml", include_str!("../../examples/floor.toml"), None);
    let floor = floor.unwrap_or_else(|mistakes| panic!("{mistakes}"));
    let text = include_str!("../../examples/programme.toml");
    let programme = parse_programme("programme.toml", text, &floor.floor);
    let programme = programme.unwrap_or_else(|mistakes| panic!("{mistakes}"));
    Opening::of(floor.floor, programme.programme)
}

pub(crate) fn chance(percent: u8, seed: u64) -> Chance {
    Chance { noise: Noise::percent(percent).unwrap(), seed }
}

const LOOKING: Looking = Looking { seed: 1, structural: 200, event: 20 };
pub(crate) const PLANNED: Way = Way::Planned(LOOKING);
pub(crate) const ALL_KNOWING: Way = Way::AllKnowing(LOOKING);

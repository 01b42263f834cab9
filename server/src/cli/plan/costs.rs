//! What an objective is made of, in answers.

use std::fmt::Write as _;

use schemars::JsonSchema;
use serde::Serialize;

use crate::timetable::check::Parts;

/// What an objective is made of, in seconds where nothing else is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Costs {
    /// Rests beyond the longest ones.
    pub overrun: i64,
    /// What these cost.
    pub overrun_price: i64,
    /// Waiting between two exercises, up to the limit.
    pub changeover_wait: i64,
    /// Waiting beyond the limit that began before now.
    pub late: i64,
    /// From release to the end, over all members.
    pub flow: i64,
    /// The end of the last turn.
    pub makespan: i64,
    /// From release to the first start, over all who have not begun.
    pub door: i64,
    /// What that costs.
    pub door_price: i64,
    /// Finishing after one is due.
    pub tardy: i64,
    /// Starts that differ from what was told, beyond 5 s each.
    pub told: i64,
    /// Plates and pins moved.
    pub handling: i64,
}

impl From<Parts> for Costs {
    fn from(parts: Parts) -> Self {
        let Parts {
            overrun,
            overrun_price,
            changeover_wait,
            late,
            flow,
            makespan,
            door,
            door_price,
            tardy,
            told,
            handling,
        } = parts;
        Self {
            overrun,
            overrun_price,
            changeover_wait,
            late,
            flow,
            makespan,
            door,
            door_price,
            tardy,
            told,
            handling,
        }
    }
}

/// The objective and its parts, a line each.
pub(super) fn table(objective: i64, parts: &Costs) -> String {
    let mut said = format!("objective {objective}\n");
    for (what, part, price) in [
        ("rests too long", parts.overrun, Some(parts.overrun_price)),
        ("changeover waits", parts.changeover_wait, None),
        ("waits beyond the limit", parts.late, None),
        ("time of all members", parts.flow, None),
        ("end of the last set", parts.makespan, None),
        ("waits at the door", parts.door, Some(parts.door_price)),
        ("after being due", parts.tardy, None),
        ("other than told", parts.told, None),
    ] {
        let price = price.map(|price| format!(", price {price}")).unwrap_or_default();
        let _ = writeln!(said, "  {what:<22} {part:>8} s{price}");
    }
    let _ = writeln!(said, "  {:<22} {:>8}", "plates and pins moved", parts.handling);
    said
}

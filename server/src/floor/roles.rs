//! Who may ask what, and who may watch what: the one table.

use turnabout_protocol::command::Act;
use turnabout_protocol::role::{Actor, Role, Topic};

/// Whether somebody of this part may ask this at all. Whose stations and groups it is about comes later.
#[must_use]
pub const fn may(actor: Actor, act: &Act) -> bool {
    match act {
        // What a client does at a station; a coach may do it for the client.
        Act::ConfirmLoad { .. }
        | Act::Go { .. }
        | Act::NotYet { .. }
        | Act::Done { .. }
        | Act::Effort { .. }
        | Act::Reps { .. }
        | Act::Lighter { .. }
        | Act::Call { .. }
        | Act::FreeStations { .. } => {
            matches!(actor, Actor::Station { .. } | Actor::Coach { .. } | Actor::Assistant { .. })
        }
        // Anybody who works here may hold somebody back and answer a call.
        Act::Pause { .. } | Act::Stop { .. } | Act::Attend { .. } => {
            matches!(actor, Actor::Coach { .. } | Actor::Assistant { .. })
        }
        // Only a coach.
        Act::TakeStations { .. } | Act::PassTechnique { .. } | Act::Spot { .. } | Act::Resume { .. } => {
            matches!(actor, Actor::Coach { .. })
        }
    }
}

/// Whether a device of this role may watch that.
#[must_use]
pub fn may_watch(role: &Role, topic: &Topic) -> bool {
    match (role, topic) {
        (Role::Station { stations }, Topic::Station(watched)) => {
            watched.iter().all(|key| stations.contains(key))
        }
        (Role::Coach { coach } | Role::Assistant { coach }, Topic::Coach(watched)) => coach == watched,
        (Role::Station { .. } | Role::Board, Topic::Board)
        | (Role::Coach { .. } | Role::Assistant { .. } | Role::Manager, Topic::Board | Topic::Station(_))
        | (Role::Manager, Topic::Manager) => true,
        (Role::Station { .. }, Topic::Coach(_) | Topic::Manager)
        | (Role::Board, Topic::Station(_) | Topic::Coach(_) | Topic::Manager)
        | (Role::Coach { .. } | Role::Assistant { .. }, Topic::Manager)
        | (Role::Manager, Topic::Coach(_)) => false,
    }
}

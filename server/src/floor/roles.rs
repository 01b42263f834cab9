//! Who may ask what, and who may watch what: the one table.

use turnabout_protocol::command::Act;
use turnabout_protocol::role::{Actor, Role, Topic};

/// Whether somebody of this part may ask this at all. Whose stations and groups it is about comes later.
#[must_use]
pub const fn may(actor: Actor, act: &Act) -> bool {
    match act {
        // What a client does at a station; a coach may do it for the client.
        Act::ConfirmLoad { .. }
        | Act::SpotBy { .. }
        | Act::UseArms { .. }
        | Act::Go { .. }
        | Act::NotYet { .. }
        | Act::MoreRest { .. }
        | Act::Done { .. }
        | Act::Skip { .. }
        | Act::Effort { .. }
        | Act::Reps { .. }
        | Act::Lighter { .. }
        | Act::PlatesOn { .. }
        | Act::PlatesMissing { .. }
        | Act::SetSetting { .. }
        | Act::StillHere { .. }
        | Act::OtherUse { .. }
        | Act::EndOtherUse { .. }
        | Act::Call { .. }
        | Act::FreeStations { .. }
        | Act::Undo { .. } => {
            matches!(actor, Actor::Station { .. } | Actor::Coach { .. } | Actor::Assistant { .. })
        }
        // Anybody who works here may spot, see who is there, hold somebody back and answer a call.
        Act::Arrive { .. }
        | Act::WarmedUp { .. }
        | Act::Brief { .. }
        | Act::Leave { .. }
        | Act::Spot { .. }
        | Act::OutOfService { .. }
        | Act::Pause { .. }
        | Act::Stop { .. }
        | Act::Answer { .. }
        | Act::Attend { .. }
        | Act::Note { .. } => matches!(actor, Actor::Coach { .. } | Actor::Assistant { .. }),
        // Only a coach.
        Act::TakeStations { .. }
        | Act::AskStations { .. }
        | Act::WithdrawAsk { .. }
        | Act::GiveLeave { .. }
        | Act::SwapStation { .. }
        | Act::BackInService { .. }
        | Act::Screen { .. }
        | Act::MakeUp { .. }
        | Act::SetRounds { .. }
        | Act::DropBlock { .. }
        | Act::EndSession { .. }
        | Act::PassTechnique { .. }
        | Act::TechniqueAgain { .. }
        | Act::PassSpotter { .. }
        | Act::Away { .. }
        | Act::Back { .. }
        | Act::HandOver { .. }
        | Act::AcceptGroup { .. }
        | Act::DeclineGroup { .. }
        | Act::LessRest { .. }
        | Act::TreatAsRest { .. }
        | Act::SwapExercise { .. }
        | Act::Correct { .. }
        | Act::SetLoad { .. }
        | Act::SettleLoad { .. }
        | Act::EraseNote { .. }
        | Act::Resume { .. } => matches!(actor, Actor::Coach { .. }),
    }
}

/// Whether somebody of this part may enter another programme. Only a coach.
#[must_use]
pub const fn may_enter_programme(actor: Actor) -> bool {
    matches!(actor, Actor::Coach { .. })
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

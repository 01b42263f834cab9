//! Whether a client's health screening leaves something to decide. Of the screening only its date and its
//! result are known; what was asked and answered never is.

use turnabout_protocol::command::ScreeningDecision;
use turnabout_protocol::ids::ClientId;

use super::config::{Day, Screening, ScreeningPolicy, ScreeningResult};
use super::in_hand::InHand;
use super::state::State;

/// How long a screening holds. Twelve months are printed on the questionnaire in common use (from memory);
/// a change of health ends it sooner, and that is for the client to say.
const HOLDS_YEARS: u16 = 1;

/// Whether a coach has yet to decide about a client: on floors that ask for a screening, where it is missing,
/// too old, or asks for a follow-up.
#[must_use]
pub fn is_open(hand: &InHand<'_>, client: ClientId) -> bool {
    let decided = hand.client(client).and_then(|c| c.before.screening);
    !in_order(hand.state, client) && !matches!(decided, Some((ScreeningDecision::Train, _)))
}

/// Whether nothing has to be decided.
#[must_use]
pub fn in_order(state: &State, client: ClientId) -> bool {
    match state.floor.policy.screening {
        ScreeningPolicy::NotAsked => true,
        ScreeningPolicy::CoachDecides | ScreeningPolicy::Required => {
            let screening = state.programme.clients.get(&client).and_then(|c| c.screening);
            screening.is_some_and(|screening| holds(screening, today(state)))
        }
    }
}

/// Whether a screening is good on a day: cleared, not from a day to come, and at most twelve months old.
#[must_use]
pub fn holds(screening: Screening, today: Day) -> bool {
    let Day { year, month, day } = screening.on;
    let last = Day { year: year.saturating_add(HOLDS_YEARS), month, day };
    match screening.result {
        ScreeningResult::Cleared => screening.on <= today && today <= last,
        ScreeningResult::FollowUpNeeded => false,
    }
}

/// The evening's day: the programme's, or else the one at the floor when the last entry was taken down.
fn today(state: &State) -> Day {
    state.programme.day.unwrap_or_else(|| state.clock.local(state.recorded).day)
}

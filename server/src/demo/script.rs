//! What goes otherwise than planned in every evening: a list of mishaps, each with whoever brings it about.
//!
//! Chance decides what people do by the way; what an evening must show is written down here. A mishap waits
//! for its moment, which its player finds by what a display shows, and happens as soon as somebody has taken
//! it down.

mod coach;
mod station;

use turnabout_protocol::command::{Act, CallKind, Ending};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::units::{FloorMs, Millis};

use self::coach::Memory;
use self::station::Onlooker;
use super::agenda::{Offer, Rank};

/// Something that goes otherwise than planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mishap {
    /// A client of the coach's largest group comes when the others are in their second round.
    LateClient,
    /// In a later round a client of the coach's goes on with another exercise at the same station.
    SwapExercise,
    /// Between spotted sets the coach offers the smallest own group to another who has no more clients to
    /// look after; that one agrees.
    HandOver,
    /// A cable tears between sets where there is another station to go on at; later it is mended.
    BrokenCable,
    /// A set without a spotter is stopped with its whole group; after a while its coach lets it go on.
    Stop,
    /// Somebody of the public sits down at a reserved station between two sets, for a minute or two.
    OtherUse,
    /// The last repetition of a spotted set goes up with the spotter's help only.
    Helped,
    /// Before a later spotted set the smallest plates of its load cannot be found: the card changes at once, the
    /// coach takes the load that is proposed instead, and after a while they turn up.
    MissingPlate,
    /// HELP NOW in the rest before the last set of a block, and nobody is hurt: it lets whoever watches the
    /// evening see the loudest thing that the displays can show. A coach attends at once.
    HelpNow,
}

/// Who brings a mishap about: the place in the cast, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Player {
    Coach(usize),
    Station(usize),
}

/// Every evening's mishaps. Places that a cast does not have leave theirs out.
const EVENING: [(Player, Mishap); 9] = [
    (Player::Coach(0), Mishap::LateClient),
    (Player::Coach(0), Mishap::SwapExercise),
    (Player::Coach(0), Mishap::HandOver),
    (Player::Coach(1), Mishap::BrokenCable),
    (Player::Coach(1), Mishap::Stop),
    (Player::Station(0), Mishap::HelpNow),
    (Player::Station(0), Mishap::MissingPlate),
    (Player::Station(1), Mishap::Helped),
    // The pulldown of the demo's floor: the group there is the largest, somebody always waits.
    (Player::Station(6), Mishap::OtherUse),
];

/// The mishaps that one person still has to bring about, and what this person remembers for them.
#[derive(Clone, Debug, Default)]
pub struct Script {
    pending: Vec<Mishap>,
    coach: Memory,
    station: Onlooker,
}

impl Script {
    /// Of the coach at this place in the cast, from 0.
    #[must_use]
    pub fn of_coach(place: usize) -> Self {
        Self::of(Player::Coach(place))
    }

    /// Of the people at the station at this place in the cast, from 0.
    #[must_use]
    pub fn of_station(place: usize) -> Self {
        Self::of(Player::Station(place))
    }

    /// One in which nothing happens but by chance.
    #[must_use]
    pub fn none() -> Self {
        Self::default()
    }

    fn of(player: Player) -> Self {
        let pending = EVENING.iter().filter(|(who, _)| *who == player).map(|(_, mishap)| *mishap).collect();
        Self { pending, ..Self::default() }
    }

    /// Whether this is still to happen.
    fn awaits(&self, mishap: Mishap) -> bool {
        self.pending.contains(&mishap)
    }

    /// A tap was answered: what somebody has taken down does not happen again.
    pub(super) fn answered(&mut self, act: &Act, outcome: &Outcome) {
        let taken_down = !matches!(outcome, Outcome::Refused { .. });
        self.coach.answered(act, taken_down);
        let at = match outcome {
            Outcome::Accepted { recorded } => *recorded,
            Outcome::Already { .. } | Outcome::Refused { .. } => FloorMs::default(),
        };
        self.station.answered(act, taken_down, at);
        if taken_down && let Some(mishap) = mishap(act) {
            self.pending.retain(|other| *other != mishap);
        }
    }
}

/// The mishap that a tap of a script brings about. A late client is nobody's tap: it is one that waits.
fn mishap(act: &Act) -> Option<Mishap> {
    // Any other tap is part of an evening that goes as planned, or the end of a mishap.
    Some(match act {
        Act::SwapExercise { .. } => Mishap::SwapExercise,
        Act::HandOver { .. } => Mishap::HandOver,
        Act::OutOfService { .. } => Mishap::BrokenCable,
        Act::Stop { .. } => Mishap::Stop,
        Act::OtherUse { .. } => Mishap::OtherUse,
        Act::Done { ending: Some(Ending::Helped { .. }), .. } => Mishap::Helped,
        Act::Call { call: CallKind::HelpNow, .. } => Mishap::HelpNow,
        Act::PlatesMissing { count: 1.., .. } => Mishap::MissingPlate,
        _ => return None,
    })
}

/// A tap from an instant on, after so many seconds at the least and at the most.
fn offer(act: Act, from: FloorMs, (least, most): (i64, i64), rank: Rank) -> Offer {
    Offer { act, from, takes: (Millis::secs(least), Millis::secs(most)), place: None, rank }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ACCEPTED: Outcome = Outcome::Accepted { recorded: FloorMs(0) };

    #[test]
    fn every_mishap_is_in_every_evening_once() {
        let mut all: Vec<Mishap> = EVENING.iter().map(|(_, mishap)| *mishap).collect();
        all.sort_unstable();
        let len = all.len();
        all.dedup();
        assert_eq!((all.len(), all.len()), (len, 9));
    }

    #[test]
    fn what_is_taken_down_does_not_happen_again_and_what_is_refused_is_tried_anew() {
        let mut script = Script::of_station(0);
        let help = Act::Call { station: turnabout_protocol::ids::StationId(1), call: CallKind::HelpNow };
        let refusal = turnabout_protocol::refusal::Refusal::NotHere;
        script.answered(&help, &Outcome::Refused { refusal });
        assert!(script.awaits(Mishap::HelpNow));
        script.answered(&help, &ACCEPTED);
        assert!(!script.awaits(Mishap::HelpNow));
    }
}

//! What chance has in store: drawn by what it is for, so that it does not depend on the order of what happens, and every
//! way of running a floor gets the same.

use fastrand::Rng;
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{Millis, Secs};

use super::moment::Moment;
use crate::floor::outlook::SetWork;
use crate::timetable::rehearse::noise::{Dice, Noise};

/// What chance has in store for one evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Chance {
    /// By how much the lengths of sets vary.
    pub noise: Noise,
    /// Which evening: the same number gives the same one.
    pub seed: u64,
}

/// Two things drawn for one turn must not be the same number.
const LENGTH: u64 = 1;
const MOMENT: u64 = 2;

impl Chance {
    /// How long the work of a set really takes.
    pub(super) fn length(self, SetWork { turn, beside, rule }: SetWork) -> Millis {
        let expected = Secs(u32::try_from(rule.ceil_secs()).unwrap_or(1));
        let seed = self.of([LENGTH, beside as u64].into_iter().chain(parts(turn)));
        if self.noise.in_percent() == 0 {
            rule
        } else {
            Dice::new(self.noise, seed).length(expected).millis()
        }
    }

    /// How long somebody takes over a tap for a turn.
    pub(super) fn moment(self, moment: Moment, turn: TurnId) -> Millis {
        let (least, most) = moment.within();
        let seed = self.of([MOMENT, moment as u64].into_iter().chain(parts(turn)));
        Millis(Rng::with_seed(seed).i64(Millis::secs(least).0..=Millis::secs(most).0))
    }

    fn of(self, parts: impl Iterator<Item = u64>) -> u64 {
        parts.fold(self.seed, |seed, part| Rng::with_seed(seed).u64(..) ^ part)
    }
}

fn parts(turn: TurnId) -> impl Iterator<Item = u64> {
    let TurnId { group, client, block, round, leg } = turn;
    [group.0.into(), client.0.into(), block.into(), round.into(), leg.into()].into_iter()
}

//! What goes otherwise than planned.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Millis, Secs};

use crate::floor::decide::Speaker;

/// Something that goes otherwise than planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mishap {
    /// Somebody taps something at an instant that nobody expects: a station that breaks, a client who goes home. Where
    /// the floor refuses it, again a second later: whoever goes home finishes the set.
    Tap(Unexpected),
    /// A set lasts so much longer.
    Longer {
        /// Which.
        turn: TurnId,
        /// By how much.
        by: Secs,
    },
}

/// An unexpected tap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unexpected {
    /// When.
    pub at: FloorMs,
    /// Who.
    pub by: Speaker,
    /// What.
    pub act: Act,
}

/// What was refused is tried again so much later.
pub(super) const AGAIN: Millis = Millis::secs(1);

/// The unexpected taps, the first one last.
pub(super) fn taps(mishaps: &[Mishap]) -> Vec<Unexpected> {
    let mut taps: Vec<Unexpected> = mishaps
        .iter()
        .filter_map(|mishap| match mishap {
            Mishap::Tap(tap) => Some(tap.clone()),
            Mishap::Longer { .. } => None,
        })
        .collect();
    taps.reverse();
    in_order(&mut taps);
    taps
}

/// The first one last.
pub(super) fn in_order(taps: &mut [Unexpected]) {
    taps.sort_by_key(|tap| std::cmp::Reverse(tap.at));
}

/// By how much a set lasts longer.
pub(super) fn longer(mishaps: &[Mishap], turn: TurnId) -> Millis {
    let by = mishaps.iter().map(|mishap| match mishap {
        Mishap::Longer { turn: other, by } if *other == turn => by.millis().0,
        Mishap::Longer { .. } | Mishap::Tap(_) => 0,
    });
    Millis(by.sum())
}

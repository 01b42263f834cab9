//! What people are about to tap.

use turnabout_protocol::command::Act;
use turnabout_protocol::units::{FloorMs, Millis};

use crate::floor::decide::Speaker;

/// After a refusal somebody tries again so much later.
const AGAIN: Millis = Millis::secs(3);

/// A tap that somebody wants to make.
#[derive(Clone, Debug)]
pub(super) struct Want {
    pub(super) by: Speaker,
    pub(super) act: Act,
    /// Not before.
    pub(super) from: FloorMs,
    /// How long it takes from then, or from when it is first wanted.
    pub(super) takes: Millis,
}

/// A tap that somebody is about to make.
#[derive(Clone, Debug)]
pub(super) struct Coming {
    pub(super) by: Speaker,
    pub(super) act: Act,
    /// Since when it is wanted.
    since: FloorMs,
    /// When it is made.
    at: FloorMs,
}

/// Taps to come, in the order in which they are made.
#[derive(Debug, Default)]
pub(super) struct Agenda(Vec<Coming>);

impl Agenda {
    /// What is wanted now: what is not wanted any more is dropped, and what still is keeps its time.
    pub(super) fn take(&mut self, wants: Vec<Want>, now: FloorMs) {
        let before = std::mem::take(&mut self.0);
        let coming = |want: Want| {
            let known = before.iter().find(|coming| coming.act == want.act);
            let since = known.map_or(now, |coming| coming.since);
            let at = since.max(want.from) + want.takes;
            Coming { by: want.by, act: want.act, since, at }
        };
        self.0 = wants.into_iter().map(coming).collect();
        self.0.sort_by_key(|coming| coming.at);
    }

    /// When the next tap is made.
    pub(super) fn next(&self) -> Option<FloorMs> {
        Some(self.0.first()?.at)
    }

    /// Takes the next tap whose time has come.
    pub(super) fn due(&mut self, now: FloorMs) -> Option<Coming> {
        let due = self.0.first().is_some_and(|coming| coming.at <= now);
        due.then(|| self.0.remove(0))
    }

    /// A tap that led to nothing is made again a little later.
    pub(super) fn again(&mut self, mut tap: Coming, now: FloorMs) {
        tap.since = now + AGAIN;
        self.0.push(tap);
    }
}

//! What clients do of an exercise: everyone's figures, and those of one client.

use turnabout_protocol::tempo::{Part, Tempo};
use turnabout_protocol::work::Work;

use super::load_rule::Load;
use super::own_table::Own;
use super::rounds::Rounds;
use super::spot::{Said, Spot};
use super::written::Written;
use crate::training::block::{Prescription, Target, Technique};

/// Repetitions of a technique set where the file says nothing: 3 to 4 are common practice, no source.
const TECHNIQUE_REPS: u8 = 4;

/// Of a hold only the technique set has a pace: a second up, a second down.
const HOLD_TEMPO: Tempo = Tempo {
    eccentric: Part::Count(1),
    after_eccentric: Part::Count(0),
    concentric: Part::Count(1),
    after_concentric: Part::Count(0),
};

/// What all clients of the group do, unless they have something of their own.
pub(super) struct Whole {
    pub(super) reps: Option<Rounds<Work>>,
    pub(super) load: Option<Rounds<Load>>,
    pub(super) tempo: Option<Tempo>,
    pub(super) reserve: Option<u8>,
    /// Whether the file says a reserve, though it could not be read perhaps.
    pub(super) has_reserve: bool,
    pub(super) technique_reps: Option<u8>,
    pub(super) technique_load: Option<Said<Written>>,
    pub(super) ramp: Option<Said<bool>>,
}

/// What one client does: the own figures, or else everyone's.
pub(super) struct One<'r> {
    pub(super) reps: Option<&'r Rounds<Work>>,
    pub(super) load: Option<&'r Rounds<Load>>,
    pub(super) reserve: Option<u8>,
    /// Whether the file says a reserve, though it could not be read perhaps.
    pub(super) has_reserve: bool,
    pub(super) technique_load: Option<&'r Said<Written>>,
    ramp: Option<&'r Said<bool>>,
    tempo: Option<Tempo>,
    technique_reps: Option<u8>,
    own: Option<&'r Own>,
}

impl<'r> One<'r> {
    pub(super) fn of(whole: &'r Whole, own: Option<&'r Own>) -> Self {
        Self {
            reps: own.and_then(|own| own.reps.as_ref()).or(whole.reps.as_ref()),
            load: own.and_then(|own| own.load.as_ref()).or(whole.load.as_ref()),
            reserve: own.and_then(|own| own.reserve).or(whole.reserve),
            has_reserve: whole.has_reserve || own.is_some_and(|own| own.has_reserve),
            technique_load: own.and_then(|own| own.technique_load.as_ref()).or(whole.technique_load.as_ref()),
            ramp: own.and_then(|own| own.technique_ramp.as_ref()).or(whole.ramp.as_ref()),
            tempo: own.and_then(|own| own.tempo).or(whole.tempo),
            technique_reps: own.and_then(|own| own.technique_reps).or(whole.technique_reps),
            own,
        }
    }

    /// The rounds that are named: any after them are like the last.
    pub(super) fn named(&self) -> usize {
        self.reps.map_or(1, Rounds::len).max(self.load.map_or(1, Rounds::len))
    }

    /// Where a mistake of technique load and first load together is told: a client's own figure before everyone's.
    pub(super) fn spot_of_technique(&self) -> Option<&'r Spot> {
        let own_technique = self.own.and_then(|own| own.technique_load.as_ref()).map(|said| &said.spot);
        let own_first = || Some(&self.own?.load.as_ref()?.at(0)?.spot);
        own_technique.or_else(own_first).or(self.technique_load.map(|said| &said.spot))
    }

    /// Where a mistake of load and repetitions together is told, which are those of a round, from 0.
    pub(super) fn spot_of_load(&self, round: usize) -> Option<&'r Spot> {
        let own_load = self.own.and_then(|own| Some(&own.load.as_ref()?.at(round)?.spot));
        let own_reps = || self.own.and_then(|own| Some(&own.reps.as_ref()?.at(round)?.spot));
        own_load.or_else(own_reps).or_else(|| Some(&self.load?.at(round)?.spot))
    }

    /// Where the file says one more light set before the first working set, if it does.
    pub(super) fn ramp(&self) -> Option<&'r Spot> {
        self.ramp.filter(|said| said.what).map(|said| &said.spot)
    }

    /// The whole, unless something is missing or does not go together, which has its own mistake.
    pub(super) fn prescription(&self) -> Option<Prescription> {
        let reps = self.reps?;
        let target = |round| {
            let load = match self.load.and_then(|load| load.at(round)) {
                Some(load) => Some(load.what.rule(self.reserve)?),
                None => None,
            };
            Some(Target { work: reps.at(round)?.what, load })
        };
        Some(Prescription {
            tempo: self.tempo.or_else(|| is_held(reps).then_some(HOLD_TEMPO))?,
            technique: Technique {
                reps: self.technique_reps.unwrap_or(TECHNIQUE_REPS),
                load: self.technique_load.map(|load| load.what.load()),
                ramp: self.ramp().is_some(),
            },
            rounds: (0..self.named()).map(target).collect::<Option<_>>()?,
            reserve: self.reserve,
        })
    }
}

/// Whether every round is held for a time.
pub(super) fn is_held(reps: &Rounds<Work>) -> bool {
    reps.iter().all(|said| matches!(said.what, Work::Hold { .. }))
}

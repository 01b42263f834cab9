//! Where a client is.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{Ending, Reason, ScreeningDecision, Spotter};
use turnabout_protocol::ids::{ExerciseId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Proposal, Settled};
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::work::Work;

use super::{Halt, SetOver, SetRecord, Stamp};
use crate::floor::event::LegLoads;

/// Where a client is: in the evening, and in the block in hand. Sets are done in a fixed order: the technique
/// sets of all exercises, then round after round.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct ClientNow {
    /// Whether the client is there.
    pub presence: Presence,
    /// What comes before the first set of the evening.
    pub before: Before,
    /// The exercises in which the client may spot others of the group, and who said so.
    pub spots: BTreeMap<ExerciseId, Stamp>,
    /// Stopped alone.
    pub halt: Option<Halt>,
    /// Sets that are over, in order, whether done or not.
    pub sets: Vec<SetOver>,
    /// Light sets that were done once more, beside the order.
    pub again: Vec<(TurnId, SetRecord)>,
    /// The set under way.
    pub current: Option<UnderWay>,
    /// The last set that was done, as it was under way: what taking back the tap that ended it needs.
    pub last: Option<UnderWay>,
    /// What is particular to each exercise; empty while no stations are reserved.
    pub legs: Vec<LegNow>,
    /// Rounds that are made up for at the end.
    pub extra: u8,
    /// Came when others had begun their rounds: goes on with them after the light sets.
    pub late: bool,
    /// NOT YET, or more rest, moved the coming start to here.
    pub put_off: Option<FloorMs>,
    /// The coach shortened the coming rest.
    pub rest_cut: Option<RestCut>,
    /// The way to the coming set counts as a rest: who said so, and when.
    pub as_rest: Option<Stamp>,
    /// Who is at the bar for the coming set.
    pub spotter: Option<AtBar>,
    /// How much of the time since the last set the server was down: changeover limits move by it.
    pub down: Millis,
}

/// Whether a client is there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Presence {
    /// Not yet come.
    #[default]
    Expected,
    /// There, since then.
    Here(Stamp),
    /// Gone, since then.
    Left(Stamp),
}

/// What comes before a client's first set of the evening.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Before {
    /// Warmed up.
    pub warmed_up: Option<Stamp>,
    /// The exercises were explained, or are known.
    pub briefed: Option<Stamp>,
    /// What a coach decided about the screening.
    pub screening: Option<(ScreeningDecision, Stamp)>,
}

/// Who is at a bar for a set that has not begun.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct AtBar {
    /// Who, or what.
    pub who: Spotter,
    /// Only until the bar has been lifted off.
    pub lift_off: bool,
    /// Who said so, and when.
    pub said: Stamp,
}

/// A rest that the coach shortened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct RestCut {
    /// The shortest rest, for this once.
    pub least: Secs,
    /// Why.
    pub reason: Reason,
    /// Who said so, and when.
    pub said: Stamp,
}

/// What is particular to one exercise of one client.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct LegNow {
    /// Another exercise that is done instead.
    pub instead: Option<ExerciseId>,
    /// Another station where this client alone does it.
    pub elsewhere: Option<StationId>,
    /// The load of each working round from now on, one for every round of the block.
    pub loads: Vec<Option<Load>>,
    /// The load of the technique set.
    pub technique_load: Option<Load>,
    /// The load of one more light set before the first working set, where there is one.
    pub ramp: Option<Load>,
    /// That set is over, or was left out.
    pub ramped: bool,
    /// Where the first working load comes from, unless the plan says it outright.
    pub first: Option<Proposal>,
    /// What working rounds ask for, where that is other than the plan.
    pub works: BTreeMap<u8, Work>,
    /// What a coach made of the last proposal for a next load.
    pub settled: Option<SettledLoad>,
    /// Who passed the technique set.
    pub passed: Option<Stamp>,
    /// Another light set comes before the next working set.
    pub again: bool,
    /// All later sets of it are left out.
    pub dropped: Option<(Stamp, Reason)>,
}

/// What a coach made of a proposal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct SettledLoad {
    /// For which working round.
    pub round: u8,
    /// What was proposed, and what is set.
    pub settled: Settled,
    /// What the set asked for before anything was settled for it.
    pub before: Work,
    /// Who said so, and when.
    pub said: Stamp,
}

/// A set under way: from GO until somebody says that it is racked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct UnderWay {
    /// The set.
    pub turn: TurnId,
    /// Where.
    pub station: StationId,
    /// Who said GO, and when.
    pub went: Stamp,
    /// When the 3-2-1 begins.
    pub count_in: FloorMs,
    /// When the first repetition starts.
    pub starts: FloorMs,
    /// When it is prescribed to end.
    pub ends: FloorMs,
    /// Target repetitions; one for a hold.
    pub reps: u8,
    /// The load.
    pub load: Option<Load>,
    /// Who spots it, busy until it is racked.
    pub spotter: Option<Spotter>,
    /// The spotter is free from the first repetition on.
    pub lift_off: bool,
    /// The rest before it was shortened by a coach, and why.
    pub short_rest: Option<Reason>,
    /// Until when somebody had put its first repetition off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub put_off: Option<FloorMs>,
    /// Its prescribed end has come and nobody has said anything.
    pub assumed: bool,
    /// It was stopped before it can have been over: nobody knows how many repetitions there were.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub stopped: bool,
}

/// A done tap this long after the prescribed end is taken as a set that took longer; a later one as a tap
/// that was forgotten, and the prescribed end stands. Otherwise a tap two minutes late would make the rest
/// that has long been running start anew.
pub const RAN_OVER: Millis = Millis::secs(20);

impl UnderWay {
    /// What is taken for its repetitions and its ending as long as nobody says anything: as planned, unless it was
    /// stopped. Of one that was stopped nobody knows how far it came.
    #[must_use]
    pub const fn unsaid(&self) -> (Option<u8>, Ending) {
        if self.stopped { (None, Ending::Stopped) } else { (Some(self.reps), Ending::Complete) }
    }

    /// Everybody is told to rack the bar. A set whose end came long before is one of which the tap was forgotten.
    pub fn stop(&mut self, at: FloorMs) {
        self.stopped |= at.since(self.ends) <= RAN_OVER;
    }
}

impl LegNow {
    /// An exercise at the start of a block.
    #[must_use]
    pub const fn new(loads: Vec<Option<Load>>, technique_load: Option<Load>) -> Self {
        Self {
            instead: None,
            elsewhere: None,
            loads,
            technique_load,
            ramp: None,
            ramped: false,
            first: None,
            works: BTreeMap::new(),
            settled: None,
            passed: None,
            again: false,
            dropped: None,
        }
    }

    /// An exercise at the start of a block, with the loads that were worked out for it.
    #[must_use]
    pub fn of(loads: &LegLoads) -> Self {
        let mut new = Self::new(Vec::new(), None);
        new.take(loads);
        new
    }

    /// Takes over loads that were worked out. What a coach has settled was settled for other ones.
    pub fn take(&mut self, worked_out: &LegLoads) {
        let LegLoads { client: _, loads, technique_load, ramp, first, works } = worked_out;
        self.loads.clone_from(loads);
        self.technique_load = *technique_load;
        self.ramp = *ramp;
        self.settled = None;
        // Where a first load came from says nothing of pins in place of masses, nor the other way.
        let other = |was: Proposal| loads.iter().flatten().any(|load| !load.is_like(was.set.load()));
        if first.is_some() || self.first.is_some_and(other) {
            self.first = *first;
            self.works.clone_from(works);
        }
    }

    /// What a working round asks for, where that is other than the plan. Rounds past the last are like the last.
    #[must_use]
    pub fn work(&self, round: u8) -> Option<Work> {
        let last = u8::try_from(self.loads.len()).unwrap_or(u8::MAX);
        self.works.get(&round.min(last)).copied()
    }

    /// The load of the light set nearer to the working load, while it is still to be done.
    #[must_use]
    pub fn ramp_due(&self) -> Option<Load> {
        self.ramp.filter(|_| !self.ramped)
    }

    /// The load of a working round, from 1. Rounds past the last are like the last.
    #[must_use]
    pub fn load(&self, round: u8) -> Option<Load> {
        let place = usize::from(round.saturating_sub(1)).min(self.loads.len().saturating_sub(1));
        self.loads.get(place).copied().flatten()
    }
}

impl ClientNow {
    /// Whether the client is there.
    #[must_use]
    pub const fn is_here(&self) -> bool {
        matches!(self.presence, Presence::Here(_))
    }

    /// The last set that was done in this block, in or beside the order, and its place where it has one.
    #[must_use]
    pub fn last_done(&self) -> Option<(Option<usize>, &SetRecord)> {
        let in_order = self.sets.iter().enumerate().rev().find_map(|(i, s)| Some((Some(i), s.done()?)));
        let beside = self.again.last().map(|(_, record)| (None, record));
        match (in_order, beside) {
            (Some(a), Some(b)) => Some(if b.1.ended >= a.1.ended { b } else { a }),
            (a, b) => a.or(b),
        }
    }

    /// Another block begins: what was so in the one before is gone.
    pub fn next_block(&mut self) {
        *self = Self {
            presence: self.presence,
            before: self.before,
            spots: std::mem::take(&mut self.spots),
            halt: self.halt,
            ..Self::default()
        };
    }
}

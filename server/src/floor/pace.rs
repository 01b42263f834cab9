//! How fast a client really goes, by exercise: what planned lengths are learned from.
//!
//! The rule is the house's own, no source: of the last [`KEPT`] working sets of an exercise that were done to their
//! end and whose end somebody has tapped, each gives the share of its prescribed time that its work really took, and the
//! median of these shares counts, once there are [`LEAST`] of them. A median, because one forgotten tap or one talk
//! with the coach must not move anything. Shares rather than seconds, because repetitions and tempo change from round to
//! round. The tap comes when the weight is racked, and a plan adds [`RACKED`] to every set's work, so that is taken off
//! before: lead, work at this pace and [`RACKED`] are then in the median the time from GO to the tap. Holds say nothing,
//! nor do sets that ended exactly as prescribed: there nobody has looked at the clock.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::Ending;
use turnabout_protocol::ids::{ClientId, ExerciseId};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::work::Work;

use super::config::GroupPlan;
use super::outlook::RACKED;
use super::state::{GroupNow, SetOver, SetRecord, State};
use crate::training::block::{Leg, working_time};

/// Sets that count, the latest.
pub const KEPT: usize = 9;
/// With fewer sets the prescription stands.
pub const LEAST: usize = 3;
/// The least and the most that one set counts for: beyond it something else than the pace was measured.
pub const BOUNDS: (u16, u16) = (500, 2_000);

/// What working sets really took, by client and exercise, in thousandths of the prescribed time; the latest last.
pub type Paces = BTreeMap<ClientId, BTreeMap<ExerciseId, Vec<u16>>>;

/// A client's own pace in an exercise.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Pace {
    /// Thousandths of the prescribed time.
    pub per_mille: u16,
    /// From how many sets.
    pub sets: u8,
}

impl Pace {
    /// A prescribed time at this pace.
    #[must_use]
    pub fn of(self, prescribed: Millis) -> Millis {
        Millis(prescribed.0.saturating_mul(i64::from(self.per_mille)) / 1_000)
    }
}

/// The pace of a client in an exercise, from this evening and earlier ones; nothing while too little is known.
#[must_use]
pub fn of(state: &State, client: ClientId, exercise: ExerciseId) -> Option<Pace> {
    let kept = state.paces.get(&client).and_then(|kept| kept.get(&exercise)).into_iter().flatten().copied();
    let groups = state.programme.groups.iter().filter(|(_, plan)| plan.clients.contains(&client));
    let groups = groups.filter_map(|(id, plan)| Some((plan, state.groups.get(id)?)));
    let mut tonight: Vec<_> = groups
        .flat_map(|(plan, group)| measured(plan, group))
        .filter(|set| (set.client, set.exercise) == (client, exercise))
        .collect();
    tonight.sort_by_key(|set| set.ended);
    let all: Vec<u16> = kept.chain(tonight.into_iter().map(|set| set.share)).collect();
    let mut last: Vec<u16> = all.into_iter().rev().take(KEPT).collect();
    if last.len() < LEAST {
        return None;
    }
    last.sort_unstable();
    // Of an even number the lower middle one: nobody is hurried by half a set.
    let per_mille = *last.get((last.len() - 1) / 2)?;
    Some(Pace { per_mille, sets: u8::try_from(last.len()).unwrap_or(u8::MAX) })
}

/// Keeps what is known of a group's clients before the group itself is forgotten.
pub(super) fn keep(paces: &mut Paces, plan: &GroupPlan, group: &GroupNow) {
    let mut sets = measured(plan, group);
    sets.sort_by_key(|set| set.ended);
    for set in sets {
        let kept = paces.entry(set.client).or_default().entry(set.exercise).or_default();
        kept.push(set.share);
        let old = kept.len().saturating_sub(KEPT);
        kept.drain(..old);
    }
}

/// A set whose end somebody has measured.
struct Measured {
    client: ClientId,
    exercise: ExerciseId,
    ended: FloorMs,
    share: u16,
}

/// Every such set of a group this evening.
fn measured(plan: &GroupPlan, group: &GroupNow) -> Vec<Measured> {
    let mut sets = Vec::new();
    for past in &group.past {
        for (client, done) in &past.clients {
            sets.extend(of_block(plan, past.block, *client, &done.sets));
        }
    }
    for (client, now) in &group.clients {
        sets.extend(of_block(plan, group.block, *client, &now.sets));
    }
    sets
}

fn of_block<'a>(
    plan: &'a GroupPlan,
    block: u8,
    client: ClientId,
    sets: &'a [SetOver],
) -> impl Iterator<Item = Measured> + 'a {
    let legs = plan.blocks.get(usize::from(block)).map_or(&[][..], |block| &block.legs);
    // The light sets come first, and nobody goes at full pace in them.
    let working = sets.iter().zip(legs.iter().cycle()).skip(legs.len());
    working.filter_map(move |(set, leg)| of_set(leg, client, set.done()?))
}

fn of_set(leg: &Leg, client: ClientId, set: &SetRecord) -> Option<Measured> {
    let tempo = leg.sets.get(&client)?.tempo;
    let (work, reps) = (set.work, set.reps.now()?);
    let took = set.ended.since(set.started);
    let to_its_end = set.ending.now() == Ending::Complete && reps > 0;
    let reckoned = working_time(tempo, work, leg.per_side) == took;
    if !to_its_end || reckoned || matches!(work, Work::Hold { .. }) {
        return None;
    }
    let rule = working_time(tempo, Work::reps(reps), leg.per_side);
    let work = took.0 - RACKED.millis().0;
    let share = work.saturating_mul(1_000).checked_div(rule.0)?;
    let share = u16::try_from(share.clamp(BOUNDS.0.into(), BOUNDS.1.into())).ok()?;
    Some(Measured { client, exercise: set.exercise, ended: set.ended, share })
}

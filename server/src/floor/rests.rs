//! How long the rests before working rounds were, and whether they were as the block asks.

use std::collections::BTreeMap;

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{Millis, Secs};
use turnabout_protocol::view::{RestKept, RestPart};

use super::config::GroupPlan;
use super::state::SetRecord;
use crate::training::block::Block;

/// The rests of one client, each under the set that came after it: the first that was done of its round. A rest
/// counts from the end of the last set of the earlier rounds to the first repetition. Of a block's first round there is
/// none, and light sets on the way are part of the rest, as the block's own rule has it.
#[must_use]
pub fn kept(plan: &GroupPlan, done: &[(TurnId, &SetRecord)]) -> BTreeMap<TurnId, RestPart> {
    let working = done.iter().filter(|(turn, _)| turn.round > 0);
    let mut blocks: BTreeMap<u8, Vec<(TurnId, &SetRecord)>> = BTreeMap::new();
    for (turn, record) in working {
        blocks.entry(turn.block).or_default().push((*turn, record));
    }
    let mut rests = BTreeMap::new();
    for (place, sets) in blocks {
        let Some(block) = plan.blocks.get(usize::from(place)) else { continue };
        for (turn, record) in &sets {
            let first =
                sets.iter().filter(|(other, _)| other.round == turn.round).map(|(_, set)| set.started);
            let earlier = sets.iter().filter(|(other, _)| other.round < turn.round).map(|(_, set)| set.ended);
            if let Some(ended) = earlier.max().filter(|_| first.min() == Some(record.started)) {
                let put_off = record.put_off.map(|until| until.since(ended));
                rests.insert(*turn, rest(block, record.started.since(ended), put_off));
            }
        }
    }
    rests
}

/// To the second: a rest is over by the seconds that have gone by, and short by those that were missing. Where it
/// went beyond the longest and was put off on purpose beyond that too, it is measured against what it was put off to.
fn rest(block: &Block, length: Millis, put_off: Option<Millis>) -> RestPart {
    let (least, longest) = (block.rest_min.millis(), block.rest_max.millis());
    let put_off = put_off.filter(|until| *until > longest && length > longest);
    let most = put_off.unwrap_or(longest);
    let over = secs(Millis(length.0 - most.0).floor_secs());
    let missing = secs(Millis(least.0 - length.0).ceil_secs());
    let kept = match (over, missing) {
        (Secs(1..), _) => RestKept::Over { by: over },
        (Secs(0), Secs(1..)) => RestKept::Short { by: missing },
        (Secs(0), Secs(0)) => RestKept::Kept,
    };
    let put_off = put_off.map(|until| secs(until.ceil_secs()));
    RestPart { length: secs(length.floor_secs()), put_off, kept }
}

/// So many seconds; none of less than nothing.
fn secs(secs: i64) -> Secs {
    Secs(u32::try_from(secs).unwrap_or_default())
}

//! What could be done about a group that has no stations yet.

use turnabout_protocol::command::Act;
use turnabout_protocol::view::{AdmissionPart, LongerPart, TooLargePart};

use super::Context;
use crate::floor::decide;
use crate::floor::in_hand::InHand;
use crate::floor::outlook::admission::Admission;
use crate::floor::outlook::too_large::{self, TooLarge};

/// Groups that are named as waiting longer: more are not read beside a button.
pub const MOST_LONGER: usize = 3;

pub(super) fn too_large(hand: &InHand<'_>) -> Option<TooLargePart> {
    let TooLarge { overrun, split } = too_large::now(hand)?;
    Some(TooLargePart { overrun, split: split.map(|split| split.clients) })
}

/// What is planned for a group while it has no stations. A plan may be a moment older than the state.
pub(super) fn parts(context: &Context<'_>, hand: &InHand<'_>) -> Vec<AdmissionPart> {
    if hand.group.claim.is_some() {
        return Vec::new();
    }
    let own = |admission: &&Admission| (admission.group, admission.block) == (hand.id, hand.group.block);
    context.plan.admissions.iter().filter(own).map(|admission| part(hand, admission)).collect()
}

fn part(hand: &InHand<'_>, admission: &Admission) -> AdmissionPart {
    let Admission { group, block, stations, .. } = admission;
    let take = || Act::TakeStations {
        group: *group,
        block: *block,
        stations: stations.clone(),
        revision: hand.group.revision,
        despite: None,
    };
    let longer = admission.longer.iter().take(MOST_LONGER);
    AdmissionPart {
        stations: stations.clone(),
        from: admission.from,
        works_in: admission.works_in,
        longer: longer.map(|(group, by)| LongerPart { group: *group, by: *by }).collect(),
        others: u8::try_from(admission.longer.len().saturating_sub(MOST_LONGER)).unwrap_or(u8::MAX),
        overrun: admission.own_overrun,
        act: decide::may_take(hand, stations, hand.state.recorded).then(take),
    }
}

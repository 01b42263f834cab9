//! What is proposed for a coming set, in one line: that the coach decides, or why the load is what it is.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, CoachSaid, NextReason, Proposal};
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{ProposalPart, TurnPart, TurnPhase};

use super::load::many;
use super::panel::work;
use super::words::{capital, with};

/// What a station says of it while the set is to come. The load that holds stands on the card; this is never
/// another order, so what was changed after the coach spoke is not explained by what was proposed before.
pub(super) fn proposal(language: Language, turn: &TurnPart) -> String {
    // A pin may come first.
    capital(&line(language, turn))
}

fn line(language: Language, turn: &TurnPart) -> String {
    let Some(part) = turn.proposal.as_ref().filter(|_| matches!(turn.phase, TurnPhase::Coming { .. })) else {
        return String::new();
    };
    let gear = turn.load.as_ref().map_or(GearKind::Plain, |card| card.gear);
    let changed = match part.proposal.change {
        Change::Harder | Change::Easier | Change::MoreReps => true,
        Change::First | Change::Same => false,
    };
    match part.said {
        None if changed => {
            let load = aim(language, gear, part, part.proposal.set.load());
            if part.proposal.reason == NextReason::ForCoach {
                return with(language, "label.proposed_alone", &[("load", &load)]);
            }
            let reason = part.proposal.reason.sentence(language, part.unit);
            with(language, "label.proposed", &[("load", &load), ("reason", &reason)])
        }
        None => plain_reason(language, part),
        Some(said) if part.load.is_some() && part.load == decided(part, said) => {
            settled(language, gear, part, said, changed)
        }
        Some(CoachSaid::Accept | CoachSaid::Harder { .. } | CoachSaid::Easier { .. }) => String::new(),
    }
}

/// What the coach took holds.
fn settled(
    language: Language,
    gear: GearKind,
    part: &ProposalPart,
    said: CoachSaid,
    changed: bool,
) -> String {
    match (said, part.load) {
        (CoachSaid::Accept, _) if changed && part.proposal.reason == NextReason::ForCoach => {
            let load = aim(language, gear, part, part.proposal.set.load());
            with(language, "label.coach_chose", &[("load", &load)])
        }
        (CoachSaid::Accept, _) if changed => {
            let reason = after_colon(language, &part.proposal.reason.sentence(language, part.unit));
            let load = aim(language, gear, part, part.proposal.set.load());
            with(language, "label.proposed_set", &[("load", &load), ("reason", &reason)])
        }
        (CoachSaid::Accept, _) => plain_reason(language, part),
        (CoachSaid::Harder { .. } | CoachSaid::Easier { .. }, Some(load)) => {
            let load = aim(language, gear, part, load);
            with(language, "label.coach_chose", &[("load", &load)])
        }
        (CoachSaid::Harder { .. } | CoachSaid::Easier { .. }, None) => String::new(),
    }
}

/// The load that the coach decided on, as far as a display knows the steps of the gear: it is told one each way.
const fn decided(part: &ProposalPart, said: CoachSaid) -> Option<Load> {
    match said {
        CoachSaid::Accept => Some(part.proposal.set.load()),
        CoachSaid::Harder { steps: 1 } => part.harder,
        CoachSaid::Easier { steps: 1 } => part.easier,
        CoachSaid::Harder { .. } | CoachSaid::Easier { .. } => None,
    }
}

/// The reason of a load that is no change, where anybody may read it.
fn plain_reason(language: Language, part: &ProposalPart) -> String {
    let reason = part.proposal.reason.in_public();
    if reason == NextReason::ForCoach { String::new() } else { reason.sentence(language, part.unit) }
}

/// What to set and, where they change with it, how many repetitions.
fn aim(language: Language, gear: GearKind, part: &ProposalPart, load: Load) -> String {
    let load = many(load.read(language, part.unit), gear);
    let Proposal { change, work: asked, .. } = part.proposal;
    if change != Change::MoreReps && asked == part.work {
        return load;
    }
    with(language, "label.with_reps", &[("load", &load), ("work", &work(language, asked))])
}

/// A sentence after a colon: German keeps its capital, English does not.
fn after_colon(language: Language, sentence: &str) -> String {
    let mut chars = sentence.chars();
    match (language, chars.next()) {
        (Language::En, Some(first)) => first.to_lowercase().chain(chars).collect(),
        (Language::En | Language::De, _) => sentence.to_owned(),
    }
}

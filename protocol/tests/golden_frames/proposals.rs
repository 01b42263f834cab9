//! Loads that are proposed, as the golden frames have them.

use turnabout_protocol::next::{Change, NextReason, Proposal, Rule, SetTo};
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::view::ProposalPart;
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;

use crate::to_server::turn;

/// A load that is proposed.
pub(crate) fn proposed() -> Proposal {
    Proposal {
        set: SetTo::Mass { load: Mass::from_grams(62_500) },
        work: Work::reps(10),
        change: Change::Harder,
        reason: NextReason::FeltLight,
        rule: Rule::ThreeWords,
    }
}

/// The same on a coach's page.
pub(crate) fn proposal() -> ProposalPart {
    ProposalPart {
        turn: turn(3, 0),
        exercise: Words { en: "Bench press".to_owned(), de: "Bankdrücken".to_owned() },
        unit: MassUnit::Kg,
        proposal: proposed(),
        load: Some(Mass::from_grams(60_000).into()),
        work: Work::reps(10),
        easier: Some(Mass::from_grams(60_000).into()),
        harder: Some(Mass::from_grams(65_000).into()),
        said: None,
    }
}

//! The load that is proposed for a coming set, and what became of it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::TurnId;
use crate::load::Load;
use crate::next::{CoachSaid, Proposal};
use crate::units::MassUnit;
use crate::words::Words;
use crate::work::Work;

/// The load that is proposed for the next working set of one exercise. Nothing happens by it until the coach takes
/// it: unanswered, the load stays. A first load has nothing before it and holds as proposed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProposalPart {
    /// For which set.
    pub turn: TurnId,
    /// The exercise's name.
    pub exercise: Words,
    /// The unit the gear is stamped in.
    pub unit: MassUnit,
    /// What is proposed, and why: what taking it must name.
    pub proposal: Proposal,
    /// The load as it is set now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<Load>,
    /// What the set asks for now.
    pub work: Work,
    /// One step of the gear easier than proposed; absent where the gear ends.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub easier: Option<Load>,
    /// One step of the gear harder than proposed; absent where the gear ends.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub harder: Option<Load>,
    /// What the coach said; absent while nobody has.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub said: Option<CoachSaid>,
}

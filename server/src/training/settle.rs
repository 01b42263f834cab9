//! What becomes of a proposal: a coach takes it, or goes some steps off it, and both are kept.

use turnabout_protocol::next::{Change, CoachSaid, Proposal, SetTo, Settled};
use turnabout_protocol::work::Work;

use super::scale::Scale;

/// Steps of the gear that a coach goes off a proposal in one tap. More is another load, and is typed.
pub const MOST_STEPS: u8 = 10;

/// What was set before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Before {
    /// To this.
    pub set: SetTo,
    /// For this.
    pub work: Work,
}

/// Why an override cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SettleError {
    /// No step, or too many at once.
    #[error("steps: found {found}, allowed 1 to {most}")]
    Steps {
        /// What was given.
        found: u8,
        /// The most.
        most: u8,
    },
    /// The gear ends before.
    #[error("steps: the gear ends after {reached}")]
    GearEnds {
        /// So many steps can be gone.
        reached: u8,
    },
    /// The proposal is a pin and the gear has masses, or the other way.
    #[error("the proposal was made for other gear")]
    OtherGear,
}

/// What is set after all. Unanswered, what was set before; a first load has nothing before it and is taken as
/// proposed. An override is the coach's to give: no cap holds for it, but it is a load of the gear, and the work
/// is what it was before the proposal, since a repetition more was meant for another load.
///
/// # Errors
/// Where the steps are none or too many, the gear ends before, or is another.
pub fn settle(
    proposed: Proposal,
    said: Option<CoachSaid>,
    before: Option<Before>,
    scale: Scale<'_>,
) -> Result<Settled, SettleError> {
    let as_proposed = Before { set: proposed.set, work: proposed.work };
    let Before { set, work } = match said {
        Some(CoachSaid::Accept) => as_proposed,
        None => before.filter(|_| proposed.change != Change::First).unwrap_or(as_proposed),
        Some(CoachSaid::Harder { steps }) => {
            let set = off(proposed.set, steps, Way::Harder, scale)?;
            Before { set, work: before.map_or(proposed.work, |before| before.work) }
        }
        Some(CoachSaid::Easier { steps }) => {
            let set = off(proposed.set, steps, Way::Easier, scale)?;
            Before { set, work: before.map_or(proposed.work, |before| before.work) }
        }
    };
    Ok(Settled { proposed, said, set, work })
}

#[derive(Clone, Copy)]
enum Way {
    Harder,
    Easier,
}

fn off(from: SetTo, steps: u8, way: Way, scale: Scale<'_>) -> Result<SetTo, SettleError> {
    if !(1..=MOST_STEPS).contains(&steps) {
        return Err(SettleError::Steps { found: steps, most: MOST_STEPS });
    }
    let mut to = from.load();
    if !scale.is_of(to) {
        return Err(SettleError::OtherGear);
    }
    for reached in 0..steps {
        let next = match way {
            Way::Harder => scale.next_harder(to),
            Way::Easier => scale.next_easier(to),
        };
        to = next.ok_or(SettleError::GearEnds { reached })?;
    }
    Ok(to.into())
}

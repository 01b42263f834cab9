//! Why there is no load to propose.

use turnabout_protocol::units::{Mass, MassUnit};

/// Why there is no load to propose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoProposal {
    /// The set asks for everything the client has: no program proposes the load for that, a coach may.
    #[error("the set asks for a maximal attempt: no load is proposed for it")]
    Maximal,
    /// The client's one-repetition maximum is not known.
    #[error("one_rm: the rule takes a share of it, and it is not known")]
    NoMax,
    /// The gear carries part of the body: a share of a maximum says nothing there.
    #[error("gear: a share of the one-repetition maximum says nothing on assisting gear")]
    Assisted,
    /// A hold has no repetitions to look up.
    #[error("work: a hold has no repetitions to work a load out for")]
    Hold,
    /// Everything the gear can be set to is harder.
    #[error("load: everything on this gear is harder; the easiest is {}", or_none(.easiest))]
    NothingEasyEnough {
        /// The easiest it can be set to, where it can be set to anything.
        easiest: Option<Mass>,
    },
    /// The load is negative or more than can be stated.
    #[error("load: found {} kg, allowed 0 to {} kg", .found.in_unit(MassUnit::Kg), .most.in_unit(MassUnit::Kg))]
    Load {
        /// What was given.
        found: Mass,
        /// The most.
        most: Mass,
    },
    /// More repetitions than a set can have, or than the table has.
    #[error("reps: found {found}, allowed {least} to {most}")]
    Reps {
        /// What was given; in reserve included where the table is looked up.
        found: u16,
        /// The least.
        least: u8,
        /// The most.
        most: u8,
    },
    /// More in reserve than can be answered, or than a load is worked out for.
    #[error("reserve: found {found}, allowed 0 to {most}")]
    Reserve {
        /// What was given.
        found: u8,
        /// The most.
        most: u8,
    },
    /// No such share.
    #[error("share: found {found} thousandths, allowed {least} to {most}")]
    Share {
        /// What was given.
        found: u16,
        /// The least.
        least: u16,
        /// The most.
        most: u16,
    },
    /// A share of a maximum of a stack whose labels are mere numbers.
    #[error("load: a share of the one-repetition maximum says nothing where labels are numbers")]
    Numbered,
    /// The load is a pin and the gear has masses, or the other way.
    #[error("load: found a pin where the gear has masses, or a mass where it has pins")]
    OtherScale,
    /// No such pin on the stack.
    #[error("pin: found {found}, allowed 1 to {most}")]
    Pin {
        /// What was given.
        found: u16,
        /// The heaviest.
        most: u16,
    },
}

fn or_none(mass: &Option<Mass>) -> String {
    mass.map_or_else(|| "none".to_owned(), |mass| format!("{} kg", mass.in_unit(MassUnit::Kg)))
}

//! What the loads of some gear are, masses or mere pins, and the rules of this room asked of either.

use turnabout_protocol::load::Load;
use turnabout_protocol::next::{LoadQuestion, Proposal};
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::work::Work;

use super::light::{LightSets, light_sets};
use super::loads::{Loads, at_hardest, easiest, harder, next_easier, next_harder};
use super::next::policy::Policy;
use super::next::{self, Ground, Set};
use super::no_proposal::NoProposal;
use super::pins::{self, Pins};
use super::rule::find::{self, Found};
use super::rule::{self, LoadRule};
use super::session::History;
use super::typed::ask_again;

/// What the loads of some gear are.
#[derive(Clone, Copy)]
pub enum Scale<'a> {
    /// Masses.
    Loads(&'a dyn Loads),
    /// Pins of a stack whose labels are mere numbers.
    Pins(Pins),
}

impl Scale<'_> {
    /// Whether a load is one of this kind, there or not.
    #[must_use]
    pub const fn is_of(self, load: Load) -> bool {
        matches!((self, load), (Self::Loads(_), Load::Mass(_)) | (Self::Pins(_), Load::Pin { .. }))
    }

    /// The unit its labels are stamped in; of pins the usual one, which says nothing.
    #[must_use]
    pub fn unit(self) -> MassUnit {
        match self {
            Self::Loads(loads) => loads.unit(),
            Self::Pins(_) => MassUnit::default(),
        }
    }

    /// Whether the first load is harder than the second. Loads of two kinds compare with nothing.
    #[must_use]
    pub fn harder(self, one: Load, other: Load) -> bool {
        match (self, one, other) {
            (Self::Loads(loads), Load::Mass(one), Load::Mass(other)) => harder(loads, one, other),
            (Self::Pins(pins), Load::Pin { pin: one }, Load::Pin { pin: other }) => pins.harder(one, other),
            (Self::Loads(_) | Self::Pins(_), Load::Mass(_) | Load::Pin { .. }, _) => false,
        }
    }

    /// The next harder load; nothing where the gear ends, and of a load of the other kind.
    #[must_use]
    pub fn next_harder(self, load: Load) -> Option<Load> {
        self.moved(load, next_harder, Pins::next_harder)
    }

    /// The next easier load; nothing where the gear ends, and of a load of the other kind.
    #[must_use]
    pub fn next_easier(self, load: Load) -> Option<Load> {
        self.moved(load, next_easier, Pins::next_easier)
    }

    /// This load or the nearest easier one of the gear; nothing of a load of the other kind.
    #[must_use]
    pub fn at_hardest(self, load: Load) -> Option<Load> {
        self.moved(load, at_hardest, Pins::at_hardest)
    }

    fn moved(
        self,
        load: Load,
        mass: impl FnOnce(&dyn Loads, Mass) -> Option<Mass>,
        pin: impl FnOnce(Pins, u16) -> Option<u16>,
    ) -> Option<Load> {
        match (self, load) {
            (Self::Loads(loads), Load::Mass(at)) => mass(loads, at).map(Load::Mass),
            (Self::Pins(pins), Load::Pin { pin: at }) => pin(pins, at).map(|pin| Load::Pin { pin }),
            (Self::Loads(_), Load::Pin { .. }) | (Self::Pins(_), Load::Mass(_)) => None,
        }
    }

    /// The easiest load.
    #[must_use]
    pub fn easiest(self) -> Option<Load> {
        match self {
            Self::Loads(loads) => easiest(loads).map(Load::Mass),
            Self::Pins(pins) => pins.easiest().map(|pin| Load::Pin { pin }),
        }
    }

    /// The light sets before a working load; nothing where there is no load that is no harder.
    #[must_use]
    pub fn light_sets(self, work: Load) -> Option<LightSets<Load>> {
        match (self, work) {
            (Self::Loads(loads), Load::Mass(work)) => Some(light_sets(work, loads)?.map(Load::Mass)),
            (Self::Pins(pins), Load::Pin { pin }) => Some(pins.light_sets(pin)?.map(|pin| Load::Pin { pin })),
            (Self::Loads(_), Load::Pin { .. }) | (Self::Pins(_), Load::Mass(_)) => None,
        }
    }
}

/// What a proposal stands on, whatever the loads are.
#[derive(Clone, Copy)]
pub struct Footing<'a> {
    /// What the station can be set to.
    pub scale: Scale<'a>,
    /// What the floor has set.
    pub policy: &'a Policy,
    /// The client's one-repetition maximum of this exercise, where it is known; of pins it says nothing.
    pub one_rm: Option<Mass>,
}

impl Footing<'_> {
    const fn ground<'s>(&'s self, loads: &'s dyn Loads) -> Ground<'s> {
        Ground { loads, policy: self.policy, one_rm: self.one_rm }
    }

    /// The load for the set after this one, see [`next::after`] and [`next::pins::after`].
    ///
    /// # Errors
    /// As they say, and where the load is of the other kind.
    pub fn after(&self, load: Load, set: &Set) -> Result<Proposal, NoProposal> {
        match (self.scale, load) {
            (Scale::Loads(loads), Load::Mass(load)) => next::after(load, set, &self.ground(loads)),
            (Scale::Pins(pins), Load::Pin { pin }) => next::pins::after(pin, pins, set, self.policy),
            (Scale::Loads(_), Load::Pin { .. }) | (Scale::Pins(_), Load::Mass(_)) => {
                Err(NoProposal::OtherScale)
            }
        }
    }

    /// What comes after a set on the way up, see [`find::on`] and [`pins::find_on`].
    ///
    /// # Errors
    /// As they say, and where the load is of the other kind.
    pub fn find_on(&self, load: Load, set: &Set) -> Result<Found, NoProposal> {
        match (self.scale, load) {
            (Scale::Loads(loads), Load::Mass(load)) => find::on(load, set, &self.ground(loads)),
            (Scale::Pins(pins), Load::Pin { pin }) => pins::find_on(pin, set, pins, self.policy),
            (Scale::Loads(_), Load::Pin { .. }) | (Scale::Pins(_), Load::Mass(_)) => {
                Err(NoProposal::OtherScale)
            }
        }
    }

    /// The load of the first working set, see [`rule::first`] and [`pins::first`].
    ///
    /// # Errors
    /// As they say.
    pub fn first(
        &self,
        rule: LoadRule,
        work: Work,
        history: Option<&History>,
    ) -> Result<Proposal, NoProposal> {
        match self.scale {
            Scale::Loads(loads) => rule::first(rule, work, history, &self.ground(loads)),
            Scale::Pins(pins) => pins::first(rule, work, history, pins, self.policy),
        }
    }

    /// What to ask before a typed load is taken, see [`ask_again`] and [`Pins::asks_again`]. A last load of the other
    /// kind says nothing.
    #[must_use]
    pub fn ask_again(&self, typed: Load, last: Load) -> Option<LoadQuestion> {
        match (self.scale, typed, last) {
            (Scale::Loads(loads), Load::Mass(typed), Load::Mass(last)) => {
                ask_again(typed, last, &self.ground(loads))
            }
            (Scale::Pins(pins), Load::Pin { pin }, Load::Pin { pin: before }) => pins
                .asks_again(pin, before, self.policy)
                .then_some(LoadQuestion::FarFromLast { load: typed, below: last }),
            (Scale::Loads(_) | Scale::Pins(_), Load::Mass(_) | Load::Pin { .. }, _) => None,
        }
    }
}

//! Light sets before the working sets: the technique set that a coach watches, and one on the way up.
//!
//! 40 % and 80 % of the working load (Ribeiro et al. 2020, Int J Environ Res Public Health 17(18):6882, verified:
//! two sets of six at 40 % and 80 % of the training load; the bench press went best with both, the squat with 80 %
//! alone). Rounded down to what can be put on, the careful way: 80 kg gives 30 and 62.5 kg on steps of 2.5 kg,
//! where the nearest would be 32.5 and 65. Never below the lightest load of the gear.
//!
//! On assisting gear a share of the assistance says nothing without the body's mass, which is not kept: there the
//! technique set is one step easier. Our own rule.

use turnabout_protocol::next::PerMille;
use turnabout_protocol::units::Mass;

use super::loads::{Direction, Loads, next_easier};

pub(super) const TECHNIQUE: PerMille = PerMille(400);
pub(super) const RAMP: PerMille = PerMille(800);

/// The light sets before one working load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LightSets<L = Mass> {
    /// The one that a coach watches.
    pub technique: L,
    /// One more, where there is a load between the technique set and the working load.
    pub ramp: Option<L>,
}

impl<L> LightSets<L> {
    /// The same, each made into something else.
    pub(super) fn map<M>(self, to: impl Fn(L) -> M) -> LightSets<M> {
        LightSets { technique: to(self.technique), ramp: self.ramp.map(to) }
    }
}

/// The light sets before a working load; nothing where the gear has no load that is no harder.
#[must_use]
pub fn light_sets(work: Mass, loads: &dyn Loads) -> Option<LightSets> {
    match loads.direction() {
        Direction::Resists => {
            let technique = down_to(TECHNIQUE.of(work), loads).filter(|load| *load <= work)?;
            let ramp = down_to(RAMP.of(work), loads).filter(|load| technique < *load && *load < work);
            Some(LightSets { technique, ramp })
        }
        Direction::Assists => {
            let technique = next_easier(loads, work).or_else(|| loads.at_least(work))?;
            Some(LightSets { technique, ramp: None })
        }
    }
}

fn down_to(share: Mass, loads: &dyn Loads) -> Option<Mass> {
    loads.at_most(share).or_else(|| loads.at_least(Mass::ZERO))
}

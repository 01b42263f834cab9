//! The pins of a stack whose labels are mere numbers, and the rules that go by them.
//!
//! What a pin weighs nobody knows, so no share of a load can be worked out, no cap held and nothing added up. All of
//! these rules are our own, without a source:
//! - **Between sets** never more than one pin, either way ([`super::next::pins`]).
//! - **First**: as last time at this very stack, one pin lower after a long time away (by the floor's share of the
//!   number, rounded up), one pin harder where the 2-for-2 rule asks for more; where the client has never been, the
//!   easiest pin. A load by its reserve begins so too, and goes on by the answers: there is no maximum to start from.
//! - **Light sets**: 40 and 80 % of the number, rounded down to a pin and at least the first, as if pins weighed
//!   alike. Where the stack helps, one pin easier, as on other assisting gear.
//! - **Typed**: two pins or more above the last one and by the floor's share of its number or more is asked about
//!   once. One pin never is: it is the step that these rules go themselves.

use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, NextReason, PerMille, Proposal, Rule, SetTo};
use turnabout_protocol::work::Work;

use super::light::{LightSets, RAMP, TECHNIQUE};
use super::loads::Direction;
use super::next::judge::{Wish, judge};
use super::next::pins::{after, proposed};
use super::next::policy::Policy;
use super::next::{Set, not_maximal};
use super::no_proposal::NoProposal;
use super::percent::MOST_RESERVE;
use super::rule::LoadRule;
use super::rule::find::Found;
use super::session::{History, OVER_THE_GOAL};

/// The pins of one stack: from 1 up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pins {
    /// How many there are.
    pub count: u16,
    /// Which way is harder.
    pub direction: Direction,
}

impl Pins {
    /// So many, a higher one being harder.
    #[must_use]
    pub const fn resisting(count: u16) -> Self {
        Self { count, direction: Direction::Resists }
    }

    /// Whether there is such a pin.
    #[must_use]
    pub fn has(self, pin: u16) -> bool {
        (1..=self.count).contains(&pin)
    }

    /// Whether the first pin is harder than the second.
    #[must_use]
    pub const fn harder(self, one: u16, other: u16) -> bool {
        match self.direction {
            Direction::Resists => one > other,
            Direction::Assists => one < other,
        }
    }

    /// The next harder pin.
    #[must_use]
    pub fn next_harder(self, pin: u16) -> Option<u16> {
        self.beside(pin, self.direction)
    }

    /// The next easier pin.
    #[must_use]
    pub fn next_easier(self, pin: u16) -> Option<u16> {
        let down = match self.direction {
            Direction::Resists => Direction::Assists,
            Direction::Assists => Direction::Resists,
        };
        self.beside(pin, down)
    }

    fn beside(self, pin: u16, way: Direction) -> Option<u16> {
        let next = match way {
            Direction::Resists => pin.checked_add(1),
            Direction::Assists => pin.checked_sub(1),
        };
        next.filter(|next| self.has(*next))
    }

    /// This pin or the nearest easier one.
    #[must_use]
    pub fn at_hardest(self, pin: u16) -> Option<u16> {
        match self.direction {
            Direction::Resists => Some(pin.min(self.count)),
            Direction::Assists => Some(pin.max(1)),
        }
        .filter(|pin| self.has(*pin))
    }

    /// The easiest pin; nothing of a stack without any.
    #[must_use]
    pub fn easiest(self) -> Option<u16> {
        match self.direction {
            Direction::Resists => Some(1),
            Direction::Assists => Some(self.count),
        }
        .filter(|pin| self.has(*pin))
    }

    pub(super) fn checked(self, pin: u16) -> Result<u16, NoProposal> {
        if self.has(pin) { Ok(pin) } else { Err(NoProposal::Pin { found: pin, most: self.count }) }
    }

    /// The light sets before a working set with this pin; nothing where the stack has no such pin.
    #[must_use]
    pub fn light_sets(self, work: u16) -> Option<LightSets<u16>> {
        self.has(work).then_some(())?;
        Some(match self.direction {
            Direction::Resists => {
                let technique = TECHNIQUE.of_pins(work).max(1);
                let ramp = Some(RAMP.of_pins(work)).filter(|pin| technique < *pin && *pin < work);
                LightSets { technique, ramp }
            }
            Direction::Assists => LightSets { technique: self.next_easier(work).unwrap_or(work), ramp: None },
        })
    }

    /// Whether a typed pin is asked about once more, `last` being what the client did there last.
    #[must_use]
    pub fn asks_again(self, typed: u16, last: u16, policy: &Policy) -> bool {
        let more = if self.harder(typed, last) { typed.abs_diff(last) } else { 0 };
        let share = u32::from(policy.ask_again.0) * u32::from(last);
        more >= 2 && u32::from(more) * u32::from(PerMille::WHOLE.0) >= share
    }
}

/// The pin of the first working set. `history` is the client's of this exercise at this very station.
///
/// # Errors
/// Where the rule takes a share of a maximum or gives a mass, a number is out of its range, it asks for a maximal
/// attempt, or the stack has no pin easy enough.
pub fn first(
    rule: LoadRule,
    work: Work,
    history: Option<&History>,
    pins: Pins,
    policy: &Policy,
) -> Result<Proposal, NoProposal> {
    match rule {
        LoadRule::Fixed { load: Load::Pin { pin } } => planned(pin, work, pins),
        LoadRule::Fixed { load: Load::Mass(_) } => Err(NoProposal::OtherScale),
        LoadRule::ShareOfMax { .. } => Err(NoProposal::Numbered),
        LoadRule::ForReserve { reserve } => {
            if reserve > MOST_RESERVE {
                return Err(NoProposal::Reserve { found: reserve, most: MOST_RESERVE });
            }
            not_maximal(work, Some(reserve))?;
            as_last_time(work, history, pins, policy)
        }
        LoadRule::AsLastTime => as_last_time(work, history, pins, policy),
        LoadRule::FindIt => start(work, pins),
    }
}

fn planned(pin: u16, work: Work, pins: Pins) -> Result<Proposal, NoProposal> {
    let none = NoProposal::Pin { found: pin, most: pins.count };
    let at = pins.at_hardest(pin).ok_or(none)?;
    let reason =
        if at == pin { NextReason::AsPlanned } else { NextReason::NotOnGear { load: Load::Pin { pin } } };
    Ok(Proposal { set: SetTo::Pin { pin: at }, work, change: Change::First, reason, rule: Rule::Plan })
}

fn start(work: Work, pins: Pins) -> Result<Proposal, NoProposal> {
    let pin = pins.easiest().ok_or(NoProposal::NothingEasyEnough { easiest: None })?;
    let set = SetTo::Pin { pin };
    Ok(Proposal { set, work, change: Change::First, reason: NextReason::NeverHere, rule: Rule::FindIt })
}

/// What was a mass there says nothing: the stack was labelled anew.
fn as_last_time(
    work: Work,
    history: Option<&History>,
    pins: Pins,
    policy: &Policy,
) -> Result<Proposal, NoProposal> {
    let Some((history, last)) = history.and_then(|known| Some((known, known.last.load.pin()?))) else {
        return start(work, pins);
    };
    let now = pins.at_hardest(last).ok_or(NoProposal::Pin { found: last, most: pins.count })?;
    let days = history.days;
    let (to, reason, rule) = if days > policy.away_days {
        (lowered(now, policy.away_less, pins), NextReason::LongAway { days }, Rule::Practice)
    } else if now != last {
        (now, NextReason::NotOnGear { load: history.last.load }, Rule::TwoForTwo)
    } else if history.two_for_two() {
        match pins.next_harder(now) {
            Some(up) => (up, NextReason::OverTheGoal { reps: OVER_THE_GOAL }, Rule::TwoForTwo),
            None => (now, NextReason::NothingHarder, Rule::TwoForTwo),
        }
    } else {
        (now, NextReason::AsLastTime, Rule::TwoForTwo)
    };
    Ok(proposed((now, to), work, reason, rule, (pins, policy)))
}

/// Easier by a share of the number, rounded up to a pin, as far as the stack goes.
fn lowered(pin: u16, share: PerMille, pins: Pins) -> u16 {
    let fewer = pin - (PerMille(PerMille::WHOLE.0.saturating_sub(share.0))).of_pins(pin);
    (0..fewer).try_fold(pin, |pin, _| pins.next_easier(pin).ok_or(pin)).unwrap_or_else(|easiest| easiest)
}

/// What comes after a set on the way up to a pin that was never known here: one pin more as long as too much was
/// left. Without an answer, the same once more.
///
/// # Errors
/// As for [`after`].
pub fn find_on(pin: u16, set: &Set, pins: Pins, policy: &Policy) -> Result<Found, NoProposal> {
    let settled = after(pin, pins, set, policy)?;
    let verdict = judge(set, turnabout_protocol::units::MassUnit::default());
    Ok(match (verdict.wish, verdict.reason) {
        (Wish::Rise(_), _) if settled.change == Change::Harder => {
            Found::Onward(Proposal { rule: Rule::FindIt, ..settled })
        }
        (Wish::Stay, NextReason::NoAnswer | NextReason::GearFailed | NextReason::TooFewReps { .. }) => {
            Found::Onward(settled)
        }
        (Wish::Rise(_) | Wish::Stay | Wish::Fall(_), _) => Found::Here(settled),
    })
}

//! A load on a stack, of a pair of dumbbells, or on a belt.

use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::ids::Key;

use super::{Answer, Obstacle, on_now};
use crate::cli::amount::Amount;
use crate::cli::error::BadInput;
use crate::loading::gear::{Belt, Dumbbells, Gear, Stack};

/// How to set a load on a stack.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct StackCard {
    /// The label at the pin, as stamped.
    pub label: Amount,
    /// Small weights on top, the heaviest first; left out where there are none.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub add_ons: Vec<OnTop>,
    /// Label and small weights together in the other unit: converted.
    pub about: Amount,
    /// Which pin, counted from 1 at the lightest.
    pub pin: u16,
    /// Where the pin is now; absent where nobody has said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pin_now: Option<u16>,
    /// About what reaches the hand over the pulleys, without friction; absent where that is all of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_the_hand: Option<Amount>,
}

/// Small weights of one mass.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct OnTop {
    /// One of them.
    pub mass: Amount,
    /// How many.
    pub count: u8,
}

/// A pair of dumbbells.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct PairCard {
    /// What is stamped on each of the two.
    pub each: Amount,
    /// The same in the other unit: converted.
    pub about: Amount,
}

/// Plates that hang on a belt.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct BeltCard {
    /// The plates, the heaviest first, as stamped; none for body mass alone.
    pub plates: Vec<Amount>,
    /// All of them in the other unit: converted.
    pub about: Amount,
}

pub(super) fn answer(
    station: Key,
    stack: &Stack,
    target: Amount,
    on: Option<&str>,
) -> Result<Answer, BadInput> {
    let amount = |mass| Amount::new(mass, stack.unit);
    let labels = stack.labels();
    let pin_now = on.map(|on| on_now::pin(on, stack.unit, &labels)).transpose()?;
    let Some(set) = stack.pin(target.ng) else {
        return Ok(not_built(station, &Gear::Stack(stack.clone()), target, Obstacle::NoSuchLabel));
    };
    let place = labels.partition_point(|label| *label < set.label);
    let top = set.add_ons.iter().map(|top| OnTop { mass: amount(top.mass), count: top.count });
    let card = StackCard {
        label: amount(set.label),
        add_ons: top.collect(),
        about: amount(target.ng).in_the_other_unit(),
        pin: on_now::number(place),
        pin_now,
        at_the_hand: (!stack.ratio.is_straight()).then(|| amount(stack.ratio.at_hand(target.ng))),
    };
    Ok(Answer::Stack { station, card })
}

/// A pair of exactly this mass each. Nothing is on a pair, so nobody says what is on now.
pub(super) fn pair(station: Key, rack: &Dumbbells, target: Amount) -> Answer {
    if rack.pairs.iter().any(|pairs| pairs.mass == target.ng) {
        let each = Amount::new(target.ng, rack.unit);
        return Answer::Dumbbells { station, card: PairCard { each, about: each.in_the_other_unit() } };
    }
    not_built(station, &Gear::Dumbbells(rack.clone()), target, Obstacle::NoSuchPair)
}

/// Plates on a belt. Nothing stays there between sets, so nobody says what is on now.
pub(super) fn hung(station: Key, belt: &Belt, target: Amount) -> Answer {
    let amount = |mass| Amount::new(mass, belt.unit);
    match belt.plates_for(target.ng) {
        Some(plates) => {
            let about = amount(target.ng).in_the_other_unit();
            let plates = plates.into_iter().map(amount).collect();
            Answer::Belt { station, card: BeltCard { plates, about } }
        }
        None => not_built(station, &Gear::Belt(belt.clone()), target, Obstacle::NoPlatesMakeIt),
    }
}

fn not_built(station: Key, gear: &Gear, target: Amount, why: Obstacle) -> Answer {
    let amount = |mass| Amount::new(mass, gear.unit());
    Answer::NotBuilt {
        station,
        target,
        why,
        below: gear.nearest_at_most(target.ng).map(amount),
        above: gear.nearest_at_least(target.ng).map(amount),
    }
}

//! A load on a stack.

use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::ids::Key;
use turnabout_protocol::units::Stamped;

use super::{Answer, Obstacle, on_now};
use crate::cli::amount::Amount;
use crate::cli::error::BadInput;
use crate::loading::gear::{Gear, Stack};

/// How to set a load on a stack.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct StackCard {
    /// The label at the pin, as stamped.
    pub label: Amount,
    /// The same in the other unit: converted.
    pub about: Amount,
    /// Which pin, counted from 1 at the lightest.
    pub pin: u16,
    /// Where the pin is now; absent where nobody has said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pin_now: Option<u16>,
}

pub(super) fn answer(
    station: Key,
    stack: &Stack,
    target: Amount,
    on: Option<&str>,
) -> Result<Answer, BadInput> {
    let amount = |mass| Amount::new(mass, stack.unit);
    let pin_now = on.map(|on| on_now::pin(on, stack, |pin| label(stack, pin))).transpose()?;
    if let Some(pin) = (1..=stack.labels).find(|pin| label(stack, *pin).mass == target.ng) {
        let label = amount(target.ng);
        let card = StackCard { label, about: label.in_the_other_unit(), pin, pin_now };
        return Ok(Answer::Stack { station, card });
    }
    let gear = Gear::Stack(stack.clone());
    Ok(Answer::NotBuilt {
        station,
        target,
        why: Obstacle::NoSuchLabel,
        below: gear.lighter_than(target.ng).map(amount),
        above: gear.nearest_at_least(target.ng).map(amount),
    })
}

/// What is stamped at a pin, counted from 1.
fn label(stack: &Stack, pin: u16) -> Stamped {
    let above = stack.step.times(i64::from(pin) - 1).expect("a floor file's labels are below 9000 kg");
    Stamped { mass: stack.first + above, unit: stack.unit }
}

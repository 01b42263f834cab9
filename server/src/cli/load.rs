//! `turnabout load`: how to set a load at a station.

use std::path::PathBuf;

use clap::Args;
use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::ids::Key;
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::amount::Amount;
use super::error::{Allowed, BadInput, CliError, shortened};
use super::station::{self, Found, Loadable};
use super::{Told, read};
use crate::loading::bar::Starts;
use crate::loading::gear::Gear;

mod bar;
mod on_now;
mod stack;
mod text;

pub use bar::{BarCard, Collars, Do, Side, Step};
pub use stack::{BeltCard, OnTop, PairCard, StackCard};

/// Which load, and where.
#[derive(Clone, Debug, Args)]
pub struct Ask {
    /// The floor file.
    #[arg(long)]
    floor: PathBuf,
    /// The station's key.
    #[arg(long)]
    station: String,
    /// The whole load: bar, collars and plates of both sides, the label at the pin with what
    /// is on top, what is stamped on each dumbbell of a pair, or what hangs on the belt.
    #[arg(long, allow_negative_numbers = true)]
    target: String,
    /// The unit of the target: kg or lb; the station's own if not said.
    #[arg(long, value_parser = read::unit)]
    unit: Option<MassUnit>,
    /// What is on now, as stamped: the plates of one side from the inside out, such as "20,5", or "" for the empty
    /// bar; of a stack the label at the pin.
    #[arg(long, allow_negative_numbers = true)]
    on: Option<String>,
    /// The bar is pulled from the floor: the innermost plates must be full ones.
    #[arg(long)]
    from_the_floor: bool,
    /// Answer with JSON.
    #[arg(long)]
    json: bool,
}

/// How to set a load, or what is nearest to it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "outcome", rename_all = "snake_case")]
#[schemars(deny_unknown_fields, title = "Answer of turnabout load --json")]
pub enum Answer {
    /// On a bar.
    Bar {
        /// The station.
        station: Key,
        /// How.
        card: BarCard,
    },
    /// On a stack.
    Stack {
        /// The station.
        station: Key,
        /// How.
        card: StackCard,
    },
    /// A pair of dumbbells.
    Dumbbells {
        /// The station.
        station: Key,
        /// Which.
        card: PairCard,
    },
    /// Plates on a belt.
    Belt {
        /// The station.
        station: Key,
        /// Which.
        card: BeltCard,
    },
    /// It cannot be set exactly.
    NotBuilt {
        /// The station.
        station: Key,
        /// What was asked for, in the unit it was asked in.
        target: Amount,
        /// What stands in the way.
        why: Obstacle,
        /// The heaviest lighter load that can be set; absent where there is none.
        #[serde(skip_serializing_if = "Option::is_none")]
        below: Option<Amount>,
        /// The lightest heavier load that can be set; absent where there is none.
        #[serde(skip_serializing_if = "Option::is_none")]
        above: Option<Amount>,
    },
}

/// What stands in the way of a load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Obstacle {
    /// It is lighter than the bar with its collars: a lighter bar or dumbbells go as light as that.
    BelowTheBar,
    /// There is no pair of plates.
    NoPlates,
    /// The plates that there are do not make it.
    NoPlatesMakeIt,
    /// The bar takes no plates.
    FixedBar,
    /// A pull from the floor needs full plates innermost, and none of these loads has them.
    NeedsFullPlates,
    /// The plates that make it are longer than the sleeve.
    SleeveFull,
    /// The bar is rated for less.
    AboveRating,
    /// The stack has no such label, nor with its small weights on top.
    NoSuchLabel,
    /// There is no such pair.
    NoSuchPair,
}

/// Answers.
///
/// # Errors
/// An argument is out of its range, or the floor file has mistakes.
pub fn tell(ask: &Ask) -> Result<Told, CliError> {
    let Found { key, name, gear: loadable, policy: _ } = station::find(&ask.floor, &ask.station)?;
    let gear = loadable.gear();
    let target = target(ask, &gear)?;
    let on = ask.on.as_deref();
    let answer = match &loadable {
        Loadable::Bar(bar) => {
            let starts = if ask.from_the_floor { Starts::FromTheFloor } else { Starts::Racked };
            bar::answer(key, bar, target, on, starts)?
        }
        Loadable::Stack(_) | Loadable::Dumbbells(_) | Loadable::Belt(_) if ask.from_the_floor => {
            let (field, with) = ("from-the-floor", "a station with a bar");
            return Err(BadInput::OnlyWith { field, with }.into());
        }
        Loadable::Stack(stack) => stack::answer(key, stack, target, on)?,
        Loadable::Dumbbells(_) | Loadable::Belt(_) if on.is_some() => {
            let (field, with) = ("on", "a station with a bar or a stack");
            return Err(BadInput::OnlyWith { field, with }.into());
        }
        Loadable::Dumbbells(rack) => stack::pair(key, rack, target),
        Loadable::Belt(belt) => stack::hung(key, belt, target),
    };
    let done = match answer {
        Answer::Bar { .. } | Answer::Stack { .. } | Answer::Dumbbells { .. } | Answer::Belt { .. } => true,
        Answer::NotBuilt { .. } => false,
    };
    Ok(Told::new(&answer, ask.json, done, |answer| text::of(answer, &name, gear.unit())))
}

/// The target, if the gear can hold as much at all. Less than its lightest load has an answer: what is nearest.
fn target(ask: &Ask, gear: &Gear) -> Result<Amount, BadInput> {
    let unit = ask.unit.unwrap_or(gear.unit());
    let [least, most] = [gear.lightest(), gear.nearest_at_most(Mass::MAX)].map(Option::unwrap_or_default);
    // Only on a belt is nothing at all a load: body mass alone.
    let above = if least == Mass::ZERO { least } else { Mass::from_nanograms(1) };
    let target = read::plain(&ask.target, unit).filter(|mass| *mass >= above && *mass <= most);
    target.map(|target| Amount::new(target, unit)).ok_or_else(|| {
        let stamped = |mass| Stamped { mass, unit: gear.unit() };
        let allowed = Allowed::Masses { least: stamped(least), most: stamped(most) };
        let found = format!("{} {}", shortened(&ask.target), unit.symbol());
        BadInput::Field { field: "target", found, allowed }
    })
}

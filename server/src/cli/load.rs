//! `turnabout load`: how to set a load at a station.

use std::path::PathBuf;

use clap::Args;
use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::ids::Key;
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::amount::Amount;
use super::error::{Allowed, BadInput, CliError, shortened};
use super::station::{self, Found, Loadable};
use super::{Told, read};
use crate::loading::bar::Starts;
use crate::loading::gear::Gear;

mod bar;
mod on_now;
mod order;
mod stack;
mod text;
mod turn;
mod turns;
mod turns_text;

pub use bar::{BarCard, Collars, Do, Side, Step};
pub use order::{Handling, Least, NoTurn, Row, RowBar, Saved, TurnCard};
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
    target: Option<String>,
    /// Instead of one load all turns at a bar in order, such as "Ayla 60 kg, Bram 42.5 kg, Ayla 60 kg": what each takes,
    /// and the order with the least handling in which turns of the same name keep their order. Turns without a name
    /// may go anywhere.
    #[arg(long, allow_hyphen_values = true)]
    turns: Option<String>,
    /// The unit of the target, and of turns that name none: kg or lb; the station's own if not said.
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
    /// An order of turns on one bar.
    Turns {
        /// The station.
        station: Key,
        /// The bar that stays for all turns.
        bar: RowBar,
        /// The given order.
        given: Row,
        /// The order with the fewest plate moves.
        least: Least,
    },
    /// Loads of an order of turns that cannot be set exactly.
    TurnsNotBuilt {
        /// The station.
        station: Key,
        /// The bar that they were tried on.
        bar: RowBar,
        /// Which turns, and why.
        turns: Vec<NoTurn>,
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
    let answer = match (&ask.target, &ask.turns) {
        (Some(target), None) => one(ask, key, &loadable, self::target(ask, target, &gear)?)?,
        (None, Some(turns)) => {
            let Loadable::Bar(bar) = &loadable else {
                return Err(BadInput::OnlyWith { field: "turns", with: BAR }.into());
            };
            let (least, most) = bounds(&gear);
            let turns = turn::read(turns, ask.unit.unwrap_or(gear.unit()), least, most)?;
            turns::answer(key, bar, &turns, ask.on.as_deref(), starts(ask))?
        }
        (None, None) | (Some(_), Some(_)) => return Err(BadInput::OneOf("target", "turns").into()),
    };
    let done = match answer {
        Answer::Bar { .. }
        | Answer::Stack { .. }
        | Answer::Dumbbells { .. }
        | Answer::Belt { .. }
        | Answer::Turns { .. } => true,
        Answer::TurnsNotBuilt { .. } | Answer::NotBuilt { .. } => false,
    };
    Ok(Told::new(&answer, ask.json, done, |answer| text::of(answer, &name, gear.unit())))
}

/// What has a bar, in words of a refusal.
const BAR: &str = "a station with a bar";

const fn starts(ask: &Ask) -> Starts {
    if ask.from_the_floor { Starts::FromTheFloor } else { Starts::Racked }
}

/// One load.
fn one(ask: &Ask, key: Key, loadable: &Loadable, target: Amount) -> Result<Answer, CliError> {
    let on = ask.on.as_deref();
    match loadable {
        Loadable::Bar(bar) => bar::answer(key, bar, target, on, starts(ask)),
        Loadable::Stack(_) | Loadable::Dumbbells(_) | Loadable::Belt(_) if ask.from_the_floor => {
            Err(BadInput::OnlyWith { field: "from-the-floor", with: BAR }.into())
        }
        Loadable::Stack(stack) => Ok(stack::answer(key, stack, target, on)?),
        Loadable::Dumbbells(_) | Loadable::Belt(_) if on.is_some() => {
            let (field, with) = ("on", "a station with a bar or a stack");
            Err(BadInput::OnlyWith { field, with }.into())
        }
        Loadable::Dumbbells(rack) => Ok(stack::pair(key, rack, target)),
        Loadable::Belt(belt) => Ok(stack::hung(key, belt, target)),
    }
}

/// The target, if the gear can hold as much at all. Less than its lightest load has an answer: what is nearest.
fn target(ask: &Ask, text: &str, gear: &Gear) -> Result<Amount, BadInput> {
    let unit = ask.unit.unwrap_or(gear.unit());
    let (least, most) = bounds(gear);
    // Only on a belt is nothing at all a load: body mass alone.
    let above = if least.mass == Mass::ZERO { least.mass } else { Mass::from_nanograms(1) };
    let target = read::plain(text, unit).filter(|mass| *mass >= above && *mass <= most.mass);
    target.map(|target| Amount::new(target, unit)).ok_or_else(|| {
        let found = format!("{} {}", shortened(text), unit.symbol());
        BadInput::Field { field: "target", found, allowed: Allowed::Masses { least, most } }
    })
}

/// The least and the most that the gear can hold.
fn bounds(gear: &Gear) -> (Stamped, Stamped) {
    let stamped = |mass: Option<Mass>| Stamped { mass: mass.unwrap_or_default(), unit: gear.unit() };
    (stamped(gear.lightest().and_then(Load::mass)), stamped(gear.nearest_at_most(Mass::MAX)))
}

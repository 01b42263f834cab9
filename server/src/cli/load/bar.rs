//! A load on a bar.

use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::ids::Key;
use turnabout_protocol::units::{MassUnit, Secs};

use super::{Answer, Obstacle, on_now};
use crate::cli::amount::Amount;
use crate::cli::error::CliError;
use crate::loading::bar::{
    self, BarNo, BarSet, End, Finder, Free, LoadError, Loaded, NotBuilt, Plate, Standing, Starts, Why,
};
use crate::loading::gear;

/// How to set a load on a bar. **Load and strip both sides in turn:** a bar loaded on one side tips.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct BarCard {
    /// Everything that is then on the bar: itself, both collars, the plates of both sides.
    pub total: Amount,
    /// The same in the other unit: converted.
    pub about: Amount,
    /// The bar alone.
    pub bar: Amount,
    /// One collar; zero for clips that are not counted.
    pub collar: Amount,
    /// The plates of each side from the inside out, as stamped.
    pub each_side: Vec<Amount>,
    /// What is on each side now, from the inside out; absent where nobody has said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_now: Option<Vec<Amount>>,
    /// What comes off each side, from the outside in. Where nobody has said what is on, all of it comes off first.
    pub strip: Vec<Amount>,
    /// What goes on each side, from the inside out.
    pub add: Vec<Amount>,
    /// Which collars are handled.
    pub collars: Collars,
    /// What one person does, in order; two do each pair at once.
    pub steps: Vec<Step>,
    /// Plates handled, both sides together.
    pub plates_handled: u32,
    /// Seconds of one person; what it takes to strip an unknown bar comes on top.
    pub seconds_alone: Secs,
    /// Seconds of two people, one at each side.
    pub seconds_together: Secs,
}

/// Which collars are handled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Collars {
    /// Both come off first.
    pub off: bool,
    /// Both go on last.
    pub on: bool,
}

/// One thing that hands do.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Step {
    /// What.
    #[serde(rename = "do")]
    pub what: Do,
    /// At which end, as seen by whoever stands before the bar; absent where it is about all of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end: Option<Side>,
    /// Which plate; absent where it is about none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plate: Option<Amount>,
}

/// What hands do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Do {
    /// Take whatever is there off, both sides in turn.
    StripWhatIsThere,
    /// Take the collar off.
    CollarOff,
    /// Take the outermost plate off.
    Strip,
    /// Put the bar away and take the one on the card.
    TakeBar,
    /// Put a plate on.
    Add,
    /// Put the collar on.
    CollarOn,
}

/// An end of the bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The left one.
    Left,
    /// The right one.
    Right,
}

/// The usual bar of a station.
pub(super) const USUAL: BarNo = BarNo(0);

pub(super) fn answer(
    station: Key,
    gear: &gear::Bar,
    target: Amount,
    on: Option<&str>,
    starts: Starts,
) -> Result<Answer, CliError> {
    let set = gear.set().expect("a floor file with more loads than can be searched is refused");
    let now = on.map(|on| on_now::side(on, &set)).transpose()?;
    let now = now.map(|side| Loaded { bar: USUAL, side });
    let finder = Finder::new(&set, &Free::all(set.inventory()), starts);
    match finder.find(target.ng, USUAL, now.as_ref()) {
        Ok(found) => Ok(Answer::Bar { station, card: card(&found, now.as_ref(), &set) }),
        Err(LoadError::NotBuilt(not_built)) => Ok(refusal(station, target, &not_built)),
        Err(error @ (LoadError::Target { .. } | LoadError::Bar { .. })) => Err(error.into()),
    }
}

pub(super) fn card(found: &bar::BarCard, now: Option<&Loaded>, set: &BarSet) -> BarCard {
    let bar = set.bar(found.loaded.bar).expect("the search names bars of its own choice");
    let unit = set.unit();
    let amount = |mass| Amount::new(mass, unit);
    let plates = |plates: &[Plate]| plates.iter().map(|plate| amount(plate.mass)).collect::<Vec<_>>();
    let change = &found.change;
    let effort = change.effort();
    let total = amount(found.total);
    BarCard {
        total,
        about: total.in_the_other_unit(),
        bar: amount(bar.mass),
        collar: amount(bar.collar()),
        each_side: plates(found.loaded.side.plates()),
        on_now: now.map(|now| plates(now.side.plates())),
        strip: plates(&change.strip),
        add: plates(&change.add),
        collars: Collars { off: change.collars.off, on: change.collars.on },
        steps: change.steps().into_iter().map(|one| step(one, unit)).collect(),
        plates_handled: effort.moves,
        seconds_alone: effort.alone,
        seconds_together: effort.together,
    }
}

fn step(step: bar::Step, unit: MassUnit) -> Step {
    let at = |end| {
        Some(match end {
            End::Left => Side::Left,
            End::Right => Side::Right,
        })
    };
    let plate = |plate: Plate| Some(Amount::new(plate.mass, unit));
    match step {
        bar::Step::StripWhatIsThere(_) => Step { what: Do::StripWhatIsThere, end: None, plate: None },
        bar::Step::CollarOff(end) => Step { what: Do::CollarOff, end: at(end), plate: None },
        bar::Step::Strip(end, one) => Step { what: Do::Strip, end: at(end), plate: plate(one) },
        bar::Step::TakeBar(_) => Step { what: Do::TakeBar, end: None, plate: None },
        bar::Step::Add(end, one) => Step { what: Do::Add, end: at(end), plate: plate(one) },
        bar::Step::CollarOn(end) => Step { what: Do::CollarOn, end: at(end), plate: None },
    }
}

fn refusal(station: Key, target: Amount, not_built: &NotBuilt) -> Answer {
    let (below, above) = nearest(not_built);
    Answer::NotBuilt { station, target, why: obstacle(not_built.why), below, above }
}

/// The nearest loads below and above.
pub(super) fn nearest(not_built: &NotBuilt) -> (Option<Amount>, Option<Amount>) {
    let amount = |standing: Standing| Amount::new(standing.total, not_built.unit);
    (not_built.nearest.below.map(amount), not_built.nearest.above.map(amount))
}

pub(super) const fn obstacle(why: Why) -> Obstacle {
    match why {
        Why::BelowTheBar { .. } => Obstacle::BelowTheBar,
        Why::NoPlates => Obstacle::NoPlates,
        Why::FixedBar => Obstacle::FixedBar,
        Why::NoPlatesMakeIt => Obstacle::NoPlatesMakeIt,
        Why::NeedsFullPlates => Obstacle::NeedsFullPlates,
        Why::SleeveFull { .. } => Obstacle::SleeveFull,
        Why::AboveRating { .. } => Obstacle::AboveRating,
    }
}

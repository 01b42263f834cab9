//! The card as text.

use std::fmt::Write as _;

use turnabout_protocol::units::{Mass, MassUnit};

use super::bar::{Do, Side, Step};
use super::{Answer, BarCard, Obstacle, StackCard, turns_text};
use crate::cli::amount::{Amount, numbers};

/// What is said below every card of a bar.
pub(super) const CAUTION: &str = "Load and strip both sides in turn: a bar loaded on one side tips. Collars on both ends, and \
                       check the plates:\nwhat is asked for is no proof of what is on the bar.\n";

/// The answer in lines. `unit` is what plates and pins are stamped in.
pub(super) fn of(answer: &Answer, name: &str, unit: MassUnit) -> String {
    match answer {
        Answer::Bar { station, card } => format!("{name} ({station}): {}", bar(card, unit)),
        Answer::Stack { station, card } => format!("{name} ({station}): {}", stack(card)),
        Answer::Dumbbells { station, card } => {
            format!("{name} ({station}): two of {} (about {})\n", card.each, card.about)
        }
        Answer::Belt { station, card } => {
            let plates = numbers(&card.plates, "nothing, body mass alone");
            format!(
                "{name} ({station}): on the belt {plates} (stamped in {}; about {})\n",
                unit.symbol(),
                card.about
            )
        }
        Answer::Turns { station, bar, given, least } => {
            format!("{name} ({station}): {}", turns_text::rows(bar, given, least, unit))
        }
        Answer::TurnsNotBuilt { station, bar, turns } => {
            format!("{name} ({station}): {}", turns_text::not_built(bar, turns, unit))
        }
        Answer::NotBuilt { station, target, why, below, above } => {
            let nearest = nearest(*below, *above);
            let target = asked(*target, unit);
            format!("{name} ({station}): {target} cannot be set: {}.\n{nearest}\n", obstacle(*why))
        }
    }
}

/// A load as it was asked for, and about what that is in the unit of the gear.
pub(super) fn asked(target: Amount, unit: MassUnit) -> String {
    if target.unit == unit {
        target.to_string()
    } else {
        format!("{target} (about {})", target.in_the_other_unit())
    }
}

fn bar(card: &BarCard, unit: MassUnit) -> String {
    let symbol = unit.symbol();
    let mut said = format!("{} (about {})\n", card.total, card.about);
    let collar =
        if card.collar.ng == Mass::ZERO { "not counted".to_owned() } else { format!("{} each", card.collar) };
    let _ = writeln!(said, "  bar        {}", card.bar);
    let _ = writeln!(said, "  collars    {collar}");
    let _ = writeln!(
        said,
        "  each side  {} (stamped in {symbol}, from the inside out)",
        numbers(&card.each_side, "no plates")
    );
    match &card.on_now {
        None => {
            let _ = writeln!(said, "  on now     nobody has said: strip whatever is there first");
        }
        Some(on) => {
            let _ = writeln!(said, "  on now     {}", numbers(on, "no plates"));
            let _ = writeln!(said, "  strip      {}", numbers(&card.strip, "nothing"));
        }
    }
    let _ = writeln!(said, "  add        {}", numbers(&card.add, "nothing"));
    let _ = writeln!(
        said,
        "  time       about {} s alone, {} s with two people",
        card.seconds_alone.0, card.seconds_together.0
    );
    for (at, step) in card.steps.iter().enumerate() {
        let _ = writeln!(said, "  {:>2}. {}", at + 1, hands(step));
    }
    said + CAUTION
}

fn hands(step: &Step) -> String {
    let end = match step.end {
        Some(Side::Left) => "left: ",
        Some(Side::Right) => "right: ",
        None => "",
    };
    let plate = step.plate.map(|plate| plate.to_string()).unwrap_or_default();
    match step.what {
        Do::StripWhatIsThere => "take whatever is there off, both sides in turn".to_owned(),
        Do::CollarOff => format!("{end}collar off"),
        Do::Strip => format!("{end}{plate} off"),
        Do::TakeBar => "put the bar away and take this one".to_owned(),
        Do::Add => format!("{end}{plate} on"),
        Do::CollarOn => format!("{end}collar on"),
    }
}

fn stack(card: &StackCard) -> String {
    let mut said = format!("{} (about {})\n  pin        {}", card.label, card.about, card.pin);
    let move_it = match card.pin_now {
        None => String::new(),
        Some(now) if now == card.pin => ", where it is now".to_owned(),
        Some(now) => format!(", now at {now}"),
    };
    said.push_str(&move_it);
    said.push_str(" (counted from the lightest)\n");
    for top in &card.add_ons {
        let _ = writeln!(said, "  on top     {} x {}", top.count, top.mass);
    }
    if let Some(hand) = card.at_the_hand {
        let _ = writeln!(said, "  at the hand about {hand}");
    }
    said + "Push the pin in as far as it goes, and never change it while somebody lifts.\n"
}

pub(super) fn nearest(below: Option<Amount>, above: Option<Amount>) -> String {
    match (below, above) {
        (Some(below), Some(above)) => format!("Nearest: {below} below, {above} above."),
        (Some(below), None) => format!("Nearest: {below} below; there is nothing above."),
        (None, Some(above)) => format!("Nearest: {above} above; there is nothing below."),
        (None, None) => "Nothing else can be set there.".to_owned(),
    }
}

pub(super) const fn obstacle(why: Obstacle) -> &'static str {
    match why {
        Obstacle::BelowTheBar => {
            "it is less than the bar with its collars; a lighter bar or dumbbells go as light as that"
        }
        Obstacle::NoPlates => "there is no pair of plates",
        Obstacle::NoPlatesMakeIt => "the plates that there are do not make it",
        Obstacle::FixedBar => "the bar takes no plates",
        Obstacle::NeedsFullPlates => "a pull from the floor needs full plates innermost",
        Obstacle::SleeveFull => "the plates are longer than the sleeve",
        Obstacle::AboveRating => "the bar is rated for less",
        Obstacle::NoSuchLabel => "the stack has no such label",
        Obstacle::NoSuchPair => "there is no such pair",
    }
}

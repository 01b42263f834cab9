//! An order of turns as text.

use std::fmt::Write as _;

use turnabout_protocol::units::{Mass, MassUnit};

use super::bar::Do;
use super::order::{Handling, Least, NoTurn, Row, RowBar, Saved, TurnCard};
use super::{BarCard, text};
use crate::cli::amount::numbers;

/// What is said of every order: the plates are no reason to rest less.
const REST: &str =
    "Only plates are counted. Who should rest how long between two turns is for the coach to say.\n";

pub(super) fn rows(bar: &RowBar, given: &Row, least: &Least, unit: MassUnit) -> String {
    let symbol = unit.symbol();
    let mut said = format!(
        "{} on {}, plates of each side stamped in {symbol}, from the inside out\n",
        turns(given.turns.len()),
        bar_words(bar)
    );
    said += &row("in the given order", given);
    match least {
        Least::AsGiven => said.push_str("No allowed order has fewer plates to handle.\n"),
        Least::Other { order, saves } => {
            said += &row("with the least handling", order);
            said += &saved(saves);
        }
        Least::TooManyOrders { product, most } => {
            let _ = writeln!(
                said,
                "These turns can go in too many orders to look for a better one: everybody's turns, each with one \
                 more,\nmultiply to {product}, and at most {most} are looked at. Fewer turns, or a name for more of \
                 them, make it less."
            );
        }
    }
    said + REST + text::CAUTION
}

pub(super) fn not_built(bar: &RowBar, turns: &[NoTurn], unit: MassUnit) -> String {
    let mut said = format!("not every load can be set on {}\n", bar_words(bar));
    for NoTurn { turn, name, target, why, below, above } in turns {
        let target = text::asked(*target, unit);
        let _ = writeln!(
            said,
            "  turn {turn}: {}{target}: {}. {}",
            whose(name.as_deref()),
            text::obstacle(*why),
            text::nearest(*below, *above)
        );
    }
    said
}

fn turns(count: usize) -> String {
    if count == 1 { "1 turn".to_owned() } else { format!("{count} turns") }
}

fn bar_words(bar: &RowBar) -> String {
    if bar.collar.ng == Mass::ZERO {
        format!("the bar of {}, collars not counted", bar.bar)
    } else {
        format!("the bar of {}, collars {} each", bar.bar, bar.collar)
    }
}

fn whose(name: Option<&str>) -> String {
    name.map(|name| format!("{name} ")).unwrap_or_default()
}

fn row(title: &str, row: &Row) -> String {
    let mut said = format!("  {title}\n");
    for TurnCard { turn, name, card } in &row.turns {
        let _ =
            writeln!(said, "    turn {turn:>2}  {}{}: {}", whose(name.as_deref()), card.total, change(card));
    }
    let Handling { plates_handled, seconds_alone, seconds_together } = row.altogether;
    let _ = writeln!(
        said,
        "    together {plates_handled} plates to handle; about {} s alone, {} s with two people",
        seconds_alone.0, seconds_together.0
    );
    if !row.all_ways {
        said.push_str("    the plates can be combined in more ways than were looked at\n");
    }
    said
}

/// What hands do for one turn.
fn change(card: &BarCard) -> String {
    if card.steps.is_empty() {
        return "stays as it is".to_owned();
    }
    let strip = match card.on_now {
        None => "strip whatever is there".to_owned(),
        Some(_) => format!("strip {}", numbers(&card.strip, "nothing")),
    };
    let bar = if card.steps.iter().any(|step| step.what == Do::TakeBar) { ", take this bar" } else { "" };
    format!(
        "{strip}{bar}, add {}; then {} on each side; about {} s alone, {} s with two",
        numbers(&card.add, "nothing"),
        numbers(&card.each_side, "no plates"),
        card.seconds_alone.0,
        card.seconds_together.0
    )
}

fn saved(saves: &Saved) -> String {
    let seconds = |seconds: i64| match seconds {
        0 => "as long".to_owned(),
        1.. => format!("about {seconds} s less"),
        i64::MIN..0 => format!("about {} s more", -seconds),
    };
    format!(
        "That is {} plates less to handle. One person takes {}, two {}.\n",
        saves.plates_handled,
        seconds(saves.seconds_alone),
        seconds(saves.seconds_together)
    )
}

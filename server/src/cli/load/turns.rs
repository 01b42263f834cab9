//! An order of turns at one bar: what each takes, and the order with the least handling.

use turnabout_protocol::ids::Key;

use super::order::{Handling, Least, NoTurn, Row, RowBar, Saved, TurnCard};
use super::turn::Named;
use super::{Answer, Obstacle, bar, on_now};
use crate::cli::amount::Amount;
use crate::cli::error::CliError;
use crate::loading::bar::{
    Bar, BarNo, BarSet, Effort, Finder, Free, LoadError, Loaded, MOST_STANDS, NotBuilt, OwnOrder, Sequence,
    SequenceError, Starts, Turn, WaysAllowed,
};
use crate::loading::gear;

/// Answers on the usual bar, or, where a load is lighter than that, on the heaviest lighter one that makes all loads;
/// where none does, says what the usual one cannot hold.
pub(super) fn answer(
    station: Key,
    gear: &gear::Bar,
    turns: &[Named],
    on: Option<&str>,
    starts: Starts,
) -> Result<Answer, CliError> {
    let set = gear.set().expect("a floor file with more loads than can be searched is refused");
    let now = on.map(|on| on_now::side(on, &set)).transpose()?;
    let now = now.map(|side| Loaded { bar: bar::USUAL, side });
    let finder = Finder::new(&set, &Free::all(set.inventory()), starts);
    let why_not = not_built(&finder, bar::USUAL, turns)?;
    let mut number = bar::USUAL;
    if !why_not.is_empty() {
        let below = why_not.iter().any(|turn| turn.why == Obstacle::BelowTheBar);
        let mut others = if below { lighter(&set) } else { Vec::new() }.into_iter();
        let makes_all = |number: &BarNo| not_built(&finder, *number, turns).is_ok_and(|none| none.is_empty());
        let Some(other) = others.find(makes_all) else {
            return Ok(Answer::TurnsNotBuilt { station, bar: row_bar(&set, bar::USUAL), turns: why_not });
        };
        number = other;
    }
    let order = finder.own_order(number, now.as_ref(), &clients(turns), WaysAllowed::Fewest);
    let order = order.expect("the turns were counted when they were read, and each load was tried");
    let told = Rows { turns, set: &set, now: now.as_ref() };
    let (given, least) = (told.row(&order.given), told.least(&order));
    Ok(Answer::Turns { station, bar: row_bar(&set, number), given, least })
}

/// The bars that stand in for the usual one where a load is lighter, the heaviest first, as they do for one load.
fn lighter(set: &BarSet) -> Vec<BarNo> {
    let empty = |number: &BarNo| set.bar(*number).map(Bar::empty);
    let usual = empty(&bar::USUAL);
    let numbers = (0..).map(BarNo).take(set.bars().len());
    let mut lighter: Vec<BarNo> = numbers.filter(|number| empty(number) < usual).collect();
    lighter.sort_by_key(|number| std::cmp::Reverse(empty(number)));
    lighter
}

/// The turns that a bar cannot hold.
fn not_built(finder: &Finder, number: BarNo, turns: &[Named]) -> Result<Vec<NoTurn>, LoadError> {
    let mut all = Vec::new();
    for (turn, named) in (1..).zip(turns) {
        let alone = [Turn { client: 0, target: named.target }];
        match finder.own_order(number, None, &alone, WaysAllowed::Fewest) {
            Err(SequenceError::Turn { error: LoadError::NotBuilt(why), .. }) => {
                all.push(no_turn(turn, named, &why));
            }
            Err(SequenceError::Turn { error, .. }) => return Err(error),
            Ok(_)
            | Err(
                SequenceError::TooManyTurns(_)
                | SequenceError::TooManyClients(_)
                | SequenceError::Twice { .. },
            ) => {}
        }
    }
    Ok(all)
}

fn no_turn(turn: usize, named: &Named, not_built: &NotBuilt) -> NoTurn {
    let (below, above) = bar::nearest(not_built);
    let (target, why) = (named.amount(), bar::obstacle(not_built.why));
    NoTurn { turn, name: named.name.clone(), target, why, below, above }
}

/// The turns with a number for every client; each turn without a name has its own.
fn clients(turns: &[Named]) -> Vec<Turn> {
    let number = |at: usize, named: &Named| {
        let first = turns[..at].iter().position(|other| other.same_client(named));
        u8::try_from(first.unwrap_or(at)).unwrap_or(u8::MAX)
    };
    let turn = |(at, named): (usize, &Named)| Turn { client: number(at, named), target: named.target };
    turns.iter().enumerate().map(turn).collect()
}

fn row_bar(set: &BarSet, number: BarNo) -> RowBar {
    let bar = set.bar(number).expect("only bars of the choice are tried");
    let amount = |mass| Amount::new(mass, set.unit());
    RowBar { bar: amount(bar.mass), collar: amount(bar.collar()) }
}

/// What orders are told with.
struct Rows<'a> {
    turns: &'a [Named],
    set: &'a BarSet,
    now: Option<&'a Loaded>,
}

impl Rows<'_> {
    fn row(&self, sequence: &Sequence) -> Row {
        let mut before = self.now;
        let mut turns = Vec::with_capacity(sequence.turns.len());
        for planned in &sequence.turns {
            let card = bar::card(&planned.card, before, self.set);
            before = Some(&planned.card.loaded);
            let name = self.turns[planned.round].name.clone();
            turns.push(TurnCard { turn: planned.round + 1, name, card });
        }
        let Effort { moves, alone, together } = sequence.effort;
        let altogether = Handling { plates_handled: moves, seconds_alone: alone, seconds_together: together };
        Row { turns, altogether, all_ways: sequence.whole }
    }

    fn least(&self, OwnOrder { given, best, stands }: &OwnOrder) -> Least {
        let Some(best) = best else {
            return Least::TooManyOrders { product: *stands, most: MOST_STANDS };
        };
        if best == given {
            return Least::AsGiven;
        }
        let less = |of: fn(&Effort) -> u32| i64::from(of(&given.effort)) - i64::from(of(&best.effort));
        let saves = Saved {
            plates_handled: given.effort.moves - best.effort.moves,
            seconds_alone: less(|effort| effort.alone.0),
            seconds_together: less(|effort| effort.together.0),
        };
        Least::Other { order: self.row(best), saves }
    }
}

//! Turns at one bar of clients who each keep the order of their own: with the least handling.

use super::bars::BarNo;
use super::finder::Finder;
use super::looked::{Looked, not_too_many};
use super::path::Path;
use super::sequence::{Sequence, SequenceError, Turn, WaysAllowed};
use super::side::Loaded;

/// Stands of all orders that are looked at: a stand is how far every client has come, so there are as many as the
/// product of everybody's turns, each with one more. Two clients with twelve turns each have 169, ten loads that are
/// free of each other 1,024, a full group with five turns each 1,296, which takes about a second: for the command
/// line, and not for a tap. Work grows with the square of it and more.
pub const MOST_STANDS: usize = 1_300;

/// The given order, and the best of those in which every client keeps their own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnOrder {
    /// As asked.
    pub given: Sequence,
    /// With the fewest plate moves; the given one where none has fewer. Nothing where there are more than
    /// [`MOST_STANDS`], so that nobody has looked.
    pub best: Option<Sequence>,
    /// How many stands the orders have.
    pub stands: usize,
}

impl Finder {
    /// The given order of turns beside the one with the fewest plate moves. Turns of one client number keep their
    /// order; a turn of a number of its own may go anywhere. The `round` of a planned turn is its place in the given
    /// order. What clients rest between two turns of theirs is not looked at.
    ///
    /// # Errors
    /// See [`SequenceError`]; any number of clients will do.
    pub fn own_order(
        &self,
        bar: BarNo,
        on_now: Option<&Loaded>,
        turns: &[Turn],
        ways: WaysAllowed,
    ) -> Result<OwnOrder, SequenceError> {
        not_too_many(turns.len())?;
        let looked = Looked::new(self, bar, on_now, turns.iter().copied().enumerate().collect(), ways)?;
        let lines = lines(turns);
        let stands = lines.iter().fold(1_usize, |all, line| all.saturating_mul(line.len() + 1));
        let given = looked.sequence(&looked.given());
        let best = (stands <= MOST_STANDS).then(|| {
            let best = looked.best(&Path::own_orders(&lines)).map(|best| looked.sequence(&best));
            best.filter(|best| best.effort.moves < given.effort.moves).unwrap_or_else(|| given.clone())
        });
        Ok(OwnOrder { given, best, stands })
    }
}

/// Everybody's turns, by their places. Clients with one turn each and the same load go in one line: which of them
/// is first makes no difference to the bar.
fn lines(turns: &[Turn]) -> Vec<Vec<usize>> {
    let alone = |turn: &Turn| turns.iter().filter(|other| other.client == turn.client).count() == 1;
    let together =
        |a: &Turn, b: &Turn| a.client == b.client || (a.target == b.target && alone(a) && alone(b));
    let mut lines: Vec<Vec<usize>> = Vec::new();
    for (at, turn) in turns.iter().enumerate() {
        match lines.iter_mut().find(|line| together(&turns[line[0]], turn)) {
            Some(line) => line.push(at),
            None => lines.push(vec![at]),
        }
    }
    lines
}

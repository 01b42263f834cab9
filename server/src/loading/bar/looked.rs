//! Everything that the orders of a sequence are looked at with.

use turnabout_protocol::units::Mass;

use super::bars::BarNo;
use super::bottoms::{Bottoms, LoadWays, holds, size};
use super::card::BarCard;
use super::finder::Finder;
use super::handling::Effort;
use super::nested::{Best, Stays, best};
use super::path::Path;
use super::plates::Plate;
use super::sequence::{MOST_CLIENTS, MOST_TURNS, Order, Planned, Sequence, SequenceError, Turn, WaysAllowed};
use super::side::{Loaded, Side};
use super::ways::Counts;

/// Turns on one bar, with every way of every load.
pub(super) struct Looked<'a> {
    finder: &'a Finder,
    bar: BarNo,
    on_now: Option<&'a Loaded>,
    /// All turns in the given order, with their rounds.
    turns: Vec<(usize, Turn)>,
    /// For each turn which load it is.
    loads: Vec<usize>,
    ways: Vec<LoadWays>,
    bottoms: Bottoms,
    /// What is on now and may stay.
    inside: Vec<Plate>,
    whole: bool,
}

impl<'a> Looked<'a> {
    pub(super) fn new(
        finder: &'a Finder,
        bar: BarNo,
        on_now: Option<&'a Loaded>,
        turns: Vec<(usize, Turn)>,
        allowed: WaysAllowed,
    ) -> Result<Self, SequenceError> {
        let mut targets: Vec<Mass> = Vec::new();
        let (mut loads, mut ways, mut whole) = (Vec::new(), Vec::new(), true);
        for (round, Turn { client, target }) in turns.iter().copied() {
            let known = targets.iter().position(|known| *known == target);
            loads.push(known.unwrap_or(targets.len()));
            if known.is_none() {
                let found = finder.ways(target, bar, allowed);
                let (found, all) = found.map_err(|error| SequenceError::Turn { round, client, error })?;
                targets.push(target);
                ways.push(found);
                whole &= all;
            }
        }
        let here = on_now.filter(|now| now.bar == bar).map_or(&[][..], |now| now.side.plates());
        let beginnings = finder.beginnings(here);
        let inside = beginnings.last().map(|(plates, _)| plates.clone()).unwrap_or_default();
        let beginnings: Vec<Counts> = beginnings.into_iter().map(|(_, counts)| counts).collect();
        let (bottoms, all) = finder.bottoms(&mut ways, &beginnings);
        Ok(Self { finder, bar, on_now, turns, loads, ways, bottoms, inside, whole: whole && all })
    }

    /// The best order of these; nothing where there is none.
    pub(super) fn best(&self, path: &Path) -> Option<Best> {
        let on_now = i32::try_from(self.inside.len()).unwrap_or(i32::MAX);
        best(path, &self.bottoms, &self.loads, on_now)
    }

    /// The given order.
    pub(super) fn given(&self) -> Best {
        let order: Vec<usize> = (0..self.turns.len()).collect();
        self.best(&Path::one_order(&order)).expect("every load has a way, and one order has an end")
    }

    /// The best of the allowed orders; nothing where there is none.
    pub(super) fn best_of(&self, order: Order) -> Option<Best> {
        match order {
            Order::SameEachRound => self.same_each_round(),
            Order::InsideRounds => self.inside_rounds(),
        }
    }

    fn same_each_round(&self) -> Option<Best> {
        let mut clients: Vec<u8> = Vec::new();
        for (_, turn) in &self.turns {
            if !clients.contains(&turn.client) {
                clients.push(turn.client);
            }
        }
        let orders = permutations(&clients).into_iter().filter_map(|clients| {
            let mut order: Vec<usize> = (0..self.turns.len()).collect();
            let place = |client| clients.iter().position(|other| *other == client);
            order.sort_by_key(|turn| (self.turns[*turn].0, place(self.turns[*turn].1.client)));
            self.best(&Path::one_order(&order))
        });
        orders.min_by_key(|best| best.cost)
    }

    fn inside_rounds(&self) -> Option<Best> {
        let mut rounds: Vec<Vec<(usize, u8)>> = Vec::new();
        let mut before = None;
        for (at, (round, turn)) in self.turns.iter().enumerate() {
            if before != Some(*round) {
                rounds.push(Vec::new());
            }
            before = Some(*round);
            rounds.last_mut()?.push((at, turn.client));
        }
        if rounds.is_empty() { None } else { self.best(&Path::any_order_in_rounds(&rounds)) }
    }

    /// The cards of an order.
    pub(super) fn sequence(&self, best: &Best) -> Sequence {
        let (mut turns, mut effort) = (Vec::with_capacity(best.turns.len()), Effort::default());
        let mut now = self.on_now.cloned();
        for (at, stays) in &best.turns {
            let (round, turn) = self.turns[*at];
            let side = self.side(self.loads[*at], stays);
            let loaded = Loaded { bar: self.bar, side };
            let card = BarCard::new(&self.finder.set, self.bar, now.as_ref(), loaded, turn.target);
            effort = effort + card.change.effort();
            now = Some(card.loaded.clone());
            turns.push(Planned { round, client: turn.client, card });
        }
        Sequence { turns, effort, whole: self.whole }
    }

    /// The plates of one load over what stays for the stretches around it, the longest stretch innermost.
    fn side(&self, load: usize, stays: &[Stays]) -> Side {
        let mut plates = Vec::new();
        for Stays { set, from_now } in stays.iter().copied() {
            let counts = &self.bottoms.sets[set];
            // What is on now stays as it is; a set that is on now is a beginning of it.
            plates = if from_now {
                self.inside.iter().copied().take(usize::try_from(size(counts)).unwrap_or(0)).collect()
            } else {
                self.finder.nest(plates, counts)
            };
        }
        let inside = stays.last().map(|stays| &self.bottoms.sets[stays.set]);
        let ways = self.ways[load].iter().filter(|way| inside.is_none_or(|inside| holds(way, inside)));
        let way = ways.min_by_key(|way| size(way));
        Side::new(way.map_or(Vec::new(), |way| self.finder.nest(plates, way)))
    }
}

/// All turns in their order, with their rounds.
pub(super) fn in_rounds(rounds: &[Vec<Turn>]) -> Result<Vec<(usize, Turn)>, SequenceError> {
    let count = not_too_many(rounds.iter().map(Vec::len).sum())?;
    let mut clients: Vec<u8> = rounds.iter().flatten().map(|turn| turn.client).collect();
    clients.sort_unstable();
    clients.dedup();
    if clients.len() > MOST_CLIENTS {
        return Err(SequenceError::TooManyClients(clients.len()));
    }
    let mut turns = Vec::with_capacity(count);
    for (round, of_round) in rounds.iter().enumerate() {
        for (at, turn) in of_round.iter().enumerate() {
            if of_round[..at].iter().any(|other| other.client == turn.client) {
                return Err(SequenceError::Twice { round, client: turn.client });
            }
            turns.push((round, *turn));
        }
    }
    Ok(turns)
}

/// So many turns, if they can be looked at together.
pub(super) const fn not_too_many(count: usize) -> Result<usize, SequenceError> {
    if count > MOST_TURNS { Err(SequenceError::TooManyTurns(count)) } else { Ok(count) }
}

/// Every order of at most [`MOST_CLIENTS`] clients, the given one first.
fn permutations(clients: &[u8]) -> Vec<Vec<u8>> {
    let Some((first, rest)) = clients.split_first() else { return vec![Vec::new()] };
    let mut all = Vec::new();
    for place in 0..clients.len() {
        for mut order in permutations(rest) {
            order.insert(place, *first);
            all.push(order);
        }
    }
    all
}

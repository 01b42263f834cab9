//! The orders in which turns may go, as ways through a small graph: a stand is what has been done so far, a
//! step is one turn.

/// One turn from one stand to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Step {
    pub(super) from: usize,
    pub(super) to: usize,
    /// Which turn; nothing for what is on the bar before the first.
    pub(super) turn: Option<usize>,
    /// Nothing comes after it.
    pub(super) last: bool,
}

/// All allowed orders. Every way from the first stand to the last one is one of them, and between any two
/// stands the same turns lie on every way.
pub(super) struct Path {
    pub(super) stands: usize,
    pub(super) steps: Vec<Step>,
}

impl Path {
    /// What is on now, and then this order.
    pub(super) fn one_order(turns: &[usize]) -> Self {
        let step =
            |(at, turn): (usize, Option<usize>)| Step { from: at, to: at + 1, turn, last: at == turns.len() };
        let all = std::iter::once(None).chain(turns.iter().copied().map(Some));
        Self { stands: turns.len() + 2, steps: all.enumerate().map(step).collect() }
    }

    /// What is on now, and then the turns of these lines, each line in its order and free of the others: a stand
    /// is how far every line has come.
    pub(super) fn own_orders(lines: &[Vec<usize>]) -> Self {
        let stands: usize = lines.iter().map(|line| line.len() + 1).product();
        let mut path =
            Self { stands: stands + 1, steps: vec![Step { from: 0, to: 1, turn: None, last: stands == 1 }] };
        for stand in 0..stands {
            let mut weight = 1;
            for line in lines {
                let come = stand / weight % (line.len() + 1);
                if let Some(turn) = line.get(come) {
                    let next = stand + weight;
                    let (from, to, last) = (stand + 1, next + 1, next + 1 == stands);
                    path.steps.push(Step { from, to, turn: Some(*turn), last });
                }
                weight *= line.len() + 1;
            }
        }
        path
    }

    /// What is on now, and then round after round, each in any order; nobody goes twice running from one
    /// round to the next, unless both rounds are only theirs. `rounds` are (turn, client).
    pub(super) fn any_order_in_rounds(rounds: &[Vec<(usize, u8)>]) -> Self {
        let mut path = Self { stands: 2, steps: vec![Step { from: 0, to: 1, turn: None, last: false }] };
        // Where the rounds so far may end, with who goes last.
        let mut ends: Vec<(usize, Option<u8>)> = vec![(1, None)];
        let mut alone = false;
        for (number, round) in rounds.iter().enumerate() {
            let last = number + 1 == rounds.len();
            let alone_before = std::mem::replace(&mut alone, round.len() == 1);
            ends = path.round(round, &ends, alone_before && alone, last);
        }
        path
    }

    /// One round in any order, from where the one before ended.
    fn round(
        &mut self,
        round: &[(usize, u8)],
        before: &[(usize, Option<u8>)],
        twice_running: bool,
        last: bool,
    ) -> Vec<(usize, Option<u8>)> {
        let whole = (1_usize << round.len()) - 1;
        // A stand for every part of the round that is neither nothing nor all; sets grow with their number.
        let first_part = self.stands;
        self.stands += whole - 1;
        let part = |done: usize| first_part + done - 1;
        let first_end = self.stands;
        self.stands += if last { 1 } else { round.len() };
        let end = |turn: usize| if last { first_end } else { first_end + turn };
        for done in 0..whole {
            for (at, (turn, client)) in round.iter().enumerate().filter(|(at, _)| done & (1 << at) == 0) {
                let now = done | (1 << at);
                let is_end = now == whole;
                let to = if is_end { end(at) } else { part(now) };
                let step = |from| Step { from, to, turn: Some(*turn), last: last && is_end };
                if done > 0 {
                    self.steps.push(step(part(done)));
                    continue;
                }
                let may_follow = |last: &Option<u8>| twice_running || *last != Some(*client);
                let from = before.iter().filter(|(_, last)| may_follow(last));
                self.steps.extend(from.map(|(stand, _)| step(*stand)));
            }
        }
        let ends = round.iter().enumerate().map(|(at, (_, client))| (end(at), Some(*client)));
        ends.collect()
    }
}

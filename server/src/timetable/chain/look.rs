//! Looks for a good timetable of a chain.

use super::{Chain, Chained, rank};
use crate::timetable::check::Misfit;
use crate::timetable::instance::{At, Instance};
use crate::timetable::order::Order;
use crate::timetable::plan::MOST_BY_EYE;
use crate::timetable::problem::Problem;
use crate::timetable::search::{Effort, Found, improve};

/// Where along the way of the whole search each of its parts ends. After each of them releases are worked out anew, and
/// the next goes on from the best order in hand.
const PARTS: [f64; 6] = [0.4, 0.55, 0.7, 0.8, 0.9, 1.0];
/// The first orders of a long chain take no more of the way than this, by the clock.
const FIRST: f64 = 0.3;

impl Chain {
    /// Looks for a good timetable, from first orders by eye and from those given.
    ///
    /// Where nobody comes after others that is one search. Otherwise it is some after one another, in each of which the
    /// releases stand; what each finds is settled with releases of its own, and kept where that is better. The effort is
    /// that of all of them together.
    ///
    /// # Errors
    ///
    /// As [`plan`](super::super::plan::plan).
    pub fn plan(&self, warm: &[Order], effort: &Effort<'_>) -> Result<Chained, Vec<Misfit>> {
        let (mut best, mut starts) = self.first(warm, effort)?;
        let parts = if self.is_loose() { &[1.0][..] } else { &PARTS };
        let (mut evaluations, mut from) = (0, 0.0);
        for (part, until) in (0_u64..).zip(parts) {
            let before = evaluations / effort.threads.get() as u64;
            let done = |more: u64| ((effort.done)(before + more) - from) / (until - from);
            let own = Effort { seed: effort.seed.wrapping_add(part << 32), done: &done, ..*effort };
            let instance = self.urged(&best.instance);
            let found = improve(&Problem::new(&instance), &starts, &own);
            let Found { order, evaluations: more, .. } = found;
            evaluations += more;
            let settled = self.settled(&order, &best.instance)?;
            best = better(best, settled);
            starts = vec![best.plan.order.clone()];
            from = *until;
        }
        best.plan.evaluations = evaluations;
        Ok(best)
    }

    /// The best timetable without a search, and the orders that a search begins from.
    fn first(&self, warm: &[Order], effort: &Effort<'_>) -> Result<(Chained, Vec<Order>), Vec<Misfit>> {
        let mut best = self.seen(1)?;
        let mut starts = warm.to_vec();
        for cap in 1..=MOST_BY_EYE {
            if cap > 1 && !self.is_loose() && (effort.done)(0) > FIRST {
                break;
            }
            let seen = if cap == 1 { best.clone() } else { self.seen(cap)? };
            starts.push(seen.plan.order.clone());
            best = better(best, Some(seen));
        }
        for order in &starts {
            let settled = self.settled(order, &best.instance)?;
            best = better(best, settled);
        }
        if !self.is_loose() {
            // Of the others nobody knows what they cost with the releases of the best.
            starts = vec![best.plan.order.clone()];
        }
        Ok((best, starts))
    }

    /// An instance in which it costs something where somebody comes too late for those who come after.
    ///
    /// In a search releases stand: who comes after others does not begin later where these end later, and that is no gain
    /// once releases are worked out anew. So they are due when the others are released.
    fn urged(&self, instance: &Instance) -> Instance {
        let mut urged = instance.clone();
        for (group, before) in self.after.iter().enumerate() {
            let from = instance.groups[group].members.iter().map(|member| member.release).min();
            let due = At(from.unwrap_or_default().0.saturating_sub(self.pause.0));
            for other in before {
                for member in &mut urged.groups[*other].members {
                    member.due = Some(member.due.map_or(due, |own| own.min(due)));
                }
            }
        }
        urged
    }
}

/// The better of two; the first where both are as good.
fn better(one: Chained, other: Option<Chained>) -> Chained {
    other.filter(|other| rank(other) < rank(&one)).unwrap_or(one)
}

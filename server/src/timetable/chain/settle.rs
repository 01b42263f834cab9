//! Times and releases that agree with each other.

use super::{Chain, Chained};
use crate::timetable::check::Misfit;
use crate::timetable::decode::{Cost, Decoder};
use crate::timetable::instance::{At, Instance};
use crate::timetable::order::Order;
use crate::timetable::plan::timetable_of;
use crate::timetable::problem::Problem;

/// So often times are worked out before releases only move to later ones, and so often after that. They agree after as
/// many as blocks follow each other, but for the few that the decoder's later passes move.
const TIMES: usize = 24;

impl Chain {
    /// The timetable of an order in which everybody begins when those before them are over. It begins from an instance of
    /// the chain with releases that may be too early or too late. Nothing where no releases are found that agree.
    ///
    /// In the sequence nobody comes before those they wait for. Its times are worked out from the front to the back, so
    /// with each time at least one more group has the release that it keeps, but for what the decoder moves back; where
    /// that goes to and fro, releases stop moving to earlier ones. A timetable in which nobody begins before they may is
    /// kept while others are tried, for fewer waits.
    pub(super) fn settled(&self, order: &Order, from: &Instance) -> Result<Option<Chained>, Vec<Misfit>> {
        let mut order = order.clone();
        self.sort(&mut order, &Problem::new(from));
        let mut instance = from.clone();
        let mut kept = None;
        for time in 0..2 * TIMES {
            let problem = Problem::new(&instance);
            let mut decoder = Decoder::new(&problem);
            let _: Cost = decoder.decode(&problem, &order);
            let timetable = timetable_of(&instance, &problem, &order, |op| decoder.start(op));
            let next = self.released(&timetable);
            let (agree, valid) = (releases(&next).eq(releases(&instance)), no_later(&next, &instance));
            if valid {
                kept = Some(timetable);
            }
            if agree || (valid && time >= TIMES) {
                break;
            }
            instance = if time < TIMES { next } else { later(next, &instance) };
        }
        kept.map(|timetable| self.chained(order, timetable, 1)).transpose()
    }

    /// Puts nobody before those whom they come after, and leaves the others as they are.
    fn sort(&self, order: &mut Order, problem: &Problem) {
        let mut behind = vec![0; problem.groups.len()];
        let mut places: Vec<(usize, usize, u32)> = Vec::with_capacity(order.sequence.len());
        for group in 0..problem.groups.len() {
            let from = self.before(group).iter().map(|other| behind[*other]).max().unwrap_or(0);
            for (place, slot) in order.sequence.iter().enumerate() {
                if usize::from(problem.slots[*slot as usize].group) == group {
                    let place = place.max(from);
                    behind[group] = behind[group].max(place);
                    places.push((place, group, *slot));
                }
            }
            behind[group] = behind[group].max(from);
        }
        // A member's rounds keep their order: the sort is stable.
        places.sort_by_key(|(place, group, _)| (*place, *group));
        order.sequence = places.into_iter().map(|(_, _, slot)| slot).collect();
    }
}

fn releases(instance: &Instance) -> impl Iterator<Item = At> + '_ {
    instance.groups.iter().flat_map(|group| &group.members).map(|member| member.release)
}

/// Whether nobody is released later than in another instance of the same chain.
fn no_later(instance: &Instance, other: &Instance) -> bool {
    releases(instance).zip(releases(other)).all(|(own, other)| own <= other)
}

/// The later of two releases of everybody.
fn later(mut instance: Instance, other: &Instance) -> Instance {
    for (group, of) in instance.groups.iter_mut().zip(&other.groups) {
        for (member, other) in group.members.iter_mut().zip(&of.members) {
            member.release = member.release.max(other.release);
        }
    }
    instance
}

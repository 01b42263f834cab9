//! Groups that begin when others are over: the later blocks of a session, and a client's next session.
//!
//! Neither an instance nor the planner has a word for that, and neither needs one. A group that comes after others is
//! released when these are over, and rule 1 of the checker is then the order in which they come. Only when they are over
//! is not known before there is a timetable, so times and releases are worked out in turns until they agree
//! ([`settle`]), and what is answered is an instance whose releases are those of its own timetable
//! ([`Chain::released`]), looked at by the checker. What such a timetable costs can be compared with what others of the
//! same chain cost: in each of them everybody waits from when they could have gone on.
//!
//! There is always an answer. An evening by eye ([`eye`]) is worked out from its beginning on, and whoever comes after
//! others joins it when they are over; a search ([`look`]) takes nothing that is worse than that.

mod eye;
mod look;
mod settle;

use super::answer::Timetable;
use super::check::Misfit;
use super::instance::{At, Instance};
use super::order::Order;
use super::plan::{Plan, with_breaches};
use turnabout_protocol::units::Secs;

/// Groups of which some begin when others are over.
#[derive(Clone, Debug)]
pub struct Chain {
    /// The groups, each released when it could begin if nothing came before it.
    instance: Instance,
    /// For each group those that are over before it begins, each of them earlier in the instance.
    after: Vec<Vec<usize>>,
    /// How long it takes after the last turn of a group until it is over.
    pause: Secs,
}

/// A timetable of a chain.
#[derive(Clone, Debug)]
pub struct Chained {
    /// The instance that it is a timetable of: whoever comes after others is released when these are over in it.
    pub instance: Instance,
    /// The timetable, with the checker's word on it.
    pub plan: Plan,
}

impl Chain {
    /// Groups that wait for nobody.
    #[must_use]
    pub const fn loose(instance: Instance) -> Self {
        Self { instance, after: Vec::new(), pause: Secs(0) }
    }

    /// Groups that begin `pause` after the last turn of those that `after` names for each of them, by position.
    ///
    /// Nothing where a group comes after one that is not earlier in the list: then nobody could say who begins.
    #[must_use]
    pub fn new(instance: Instance, after: Vec<Vec<usize>>, pause: Secs) -> Option<Self> {
        let earlier = |(group, before): (usize, &Vec<usize>)| before.iter().all(|other| *other < group);
        let ordered = after.len() <= instance.groups.len() && after.iter().enumerate().all(earlier);
        ordered.then_some(Self { instance, after, pause })
    }

    /// The groups, each released when it could begin if nothing came before it.
    #[must_use]
    pub const fn instance(&self) -> &Instance {
        &self.instance
    }

    /// The instance in which whoever comes after others is released when these are over in a timetable.
    #[must_use]
    pub fn released(&self, timetable: &Timetable) -> Instance {
        let mut instance = self.instance.clone();
        let over = self.over(timetable);
        for (group, from) in self.froms(&over) {
            for member in &mut instance.groups[group].members {
                member.release = member.release.max(from);
            }
        }
        instance
    }

    /// Whether any group comes after another.
    fn is_loose(&self) -> bool {
        self.after.iter().all(Vec::is_empty)
    }

    /// Whom a group comes after.
    fn before(&self, group: usize) -> &[usize] {
        self.after.get(group).map_or(&[], Vec::as_slice)
    }

    /// When each group is over; zero for one without a turn.
    fn over(&self, timetable: &Timetable) -> Vec<At> {
        let ends = ends(&self.instance, timetable).into_iter();
        ends.map(|end| end.map_or(At(0), |end| At(end.0 + self.pause.0))).collect()
    }

    /// From when each group that comes after others may begin.
    fn froms<'a>(&'a self, over: &'a [At]) -> impl Iterator<Item = (usize, At)> + 'a {
        let from = |(group, before): (usize, &Vec<usize>)| {
            Some((group, before.iter().filter_map(|other| over.get(*other)).copied().max()?))
        };
        self.after.iter().enumerate().filter_map(from)
    }

    /// A timetable with the releases that it leads to itself.
    fn chained(
        &self,
        order: Order,
        mut timetable: Timetable,
        evaluations: u64,
    ) -> Result<Chained, Vec<Misfit>> {
        timetable.breaches.clear();
        let instance = self.released(&timetable);
        let plan = with_breaches(&instance, order, timetable, evaluations)?;
        Ok(Chained { instance, plan })
    }
}

/// By what timetables of one chain are better or worse: rules first.
fn rank(made: &Chained) -> (u64, i64) {
    (made.plan.verdict.breach_seconds(), made.plan.verdict.objective)
}

/// When the last turn of each group ends.
fn ends(instance: &Instance, timetable: &Timetable) -> Vec<Option<At>> {
    last(instance, timetable, |start, length| At(start.0.saturating_add(length.0)))
}

/// The last of something that is known of each turn, by group.
fn last(instance: &Instance, timetable: &Timetable, of: impl Fn(At, Secs) -> At) -> Vec<Option<At>> {
    let mut last = vec![None; instance.groups.len()];
    for row in &timetable.turns {
        let round = instance.groups.get(row.group).and_then(|group| group.members.get(row.member));
        let Some(round) = round.and_then(|member| member.rounds.get(row.round)) else { continue };
        for (start, turn) in row.starts.iter().zip(&round.legs) {
            if let Some((start, turn)) = start.zip(turn.as_ref()) {
                last[row.group] = last[row.group].max(Some(of(start, turn.length)));
            }
        }
    }
    last
}

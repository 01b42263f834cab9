//! An evening by eye, from its beginning on.

use super::{Chain, Chained, ends, last};
use crate::timetable::answer::Timetable;
use crate::timetable::check::Misfit;
use crate::timetable::instance::{At, Instance};
use crate::timetable::plan::seen;

impl Chain {
    /// The timetable of a floor that is run by eye, with at most `cap` clients at a pair of stations, without any search.
    ///
    /// It is worked out with those alone who come after nobody, then again with those who begin when the first of these
    /// are over, and so on. By eye whoever is ready first goes first and nobody looks ahead, so what begins before
    /// somebody joins stays as it was: the last of these timetables is the one in which everybody began when they could.
    /// One group at least joins each time, so that there are at most as many times as groups.
    ///
    /// # Errors
    ///
    /// As [`plan`](super::super::plan::plan).
    pub fn seen(&self, cap: usize) -> Result<Chained, Vec<Misfit>> {
        let mut evening = Growing::new(self);
        loop {
            let here: Vec<usize> = (0..evening.is_in.len()).filter(|group| evening.is_in[*group]).collect();
            let part = evening.part(&here);
            let plan = seen(&part, cap)?;
            if here.len() == evening.is_in.len() {
                return self.chained(plan.order, plan.timetable, 1);
            }
            evening.join(self, &here, &part, &plan.timetable);
        }
    }
}

/// An evening of which more and more groups are known when they begin.
struct Growing {
    instance: Instance,
    is_in: Vec<bool>,
}

impl Growing {
    fn new(chain: &Chain) -> Self {
        let instance = chain.instance.clone();
        let is_in = (0..instance.groups.len()).map(|group| chain.before(group).is_empty()).collect();
        Self { instance, is_in }
    }

    /// The same floor with these groups alone.
    fn part(&self, here: &[usize]) -> Instance {
        let groups = here.iter().map(|group| self.instance.groups[*group].clone()).collect();
        Instance { groups, ..self.instance.clone() }
    }

    /// Takes in whoever comes after groups that are through before anybody who is not in yet could begin.
    fn join(&mut self, chain: &Chain, here: &[usize], part: &Instance, timetable: &Timetable) {
        let mut over = vec![None; self.is_in.len()];
        let mut begun = vec![None; self.is_in.len()];
        let starts = last(part, timetable, |start, _| start);
        for ((group, end), start) in here.iter().zip(ends(part, timetable)).zip(starts) {
            // Whoever has nothing to do keeps nobody waiting.
            over[*group] = Some(end.map_or(At(0), |end| At(end.0 + chain.pause.0)));
            begun[*group] = Some(start.unwrap_or_default());
        }
        let latest = |of: &[Option<At>], group: usize| {
            let all: Option<Vec<At>> = chain.before(group).iter().map(|other| of[*other]).collect();
            all?.into_iter().max()
        };
        let next: Vec<(usize, At)> = (0..self.is_in.len())
            .filter(|group| !self.is_in[*group])
            .filter_map(|group| Some((group, latest(&over, group)?.max(self.release(group)))))
            .collect();
        let Some(first) = next.iter().map(|(_, from)| *from).min() else { return };
        for (group, from) in next {
            // The one that begins first is among these: nobody's last turn begins after it is over.
            if from == first || latest(&begun, group).is_some_and(|last| last < first) {
                self.is_in[group] = true;
                for member in &mut self.instance.groups[group].members {
                    member.release = member.release.max(from);
                }
            }
        }
    }

    /// When the first of a group could begin.
    fn release(&self, group: usize) -> At {
        self.instance.groups[group].members.iter().map(|member| member.release).min().unwrap_or_default()
    }
}

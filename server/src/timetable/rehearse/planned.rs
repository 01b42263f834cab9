//! A floor run by a plan.
//!
//! People begin when the times in hand say. Those are worked out anew whenever a turn ends at another instant than they
//! took it to, and whenever one should have ended and has not: from a snapshot of the evening, in the order that is
//! kept. While all goes as planned nothing is worked out, so an evening without noise is the plan.

use super::Looking;
use super::begun::Happened;
use super::kept::Kept;
use super::promises::{self, FIRM, Promises};
use crate::timetable::answer::Timetable;
use crate::timetable::instance::Instance;
use crate::timetable::plan::Plan;

/// So many times as long as usual is looked for a better order where something does not fit any more.
const UPSET: u64 = 8;

/// An evening of `real` lengths by a plan of those that `instance` has.
pub(super) fn run(
    instance: &Instance,
    real: &Instance,
    plan: &Plan,
    looking: Looking,
) -> (Timetable, promises::Kept) {
    let happened = Happened::new(instance, real);
    let promises = Promises::new(happened.members.len());
    let mut floor = Floor { happened, promises, kept: Kept::new(instance, plan.order.clone()), looking };
    while let Some(at) = floor.next() {
        floor.tell(at);
        floor.happened.now = at;
        floor.notice();
        floor.begin();
    }
    (floor.kept.timetable(instance), floor.promises.kept())
}

struct Floor<'i> {
    happened: Happened<'i>,
    promises: Promises,
    kept: Kept,
    looking: Looking,
}

impl Floor<'_> {
    /// When a member begins the next turn, by the times in hand.
    fn start(&self, who: usize) -> Option<u32> {
        self.kept.next(who, self.happened.members[who].turns)
    }

    /// The next instant at which somebody begins, something is not as taken, or a round is to be told to the second.
    fn next(&self) -> Option<u32> {
        let members = 0..self.happened.members.len();
        let begins = members.clone().filter_map(|who| self.start(who));
        let differs = members.clone().filter_map(|who| self.happened.members[who].last?.differs_at());
        let rounds = members.filter(|&who| self.happened.begins_round(who));
        let told = rounds.filter_map(|who| self.start(who)?.checked_sub(FIRM));
        let told = told.filter(|&at| at > self.happened.now);
        begins.chain(differs).chain(told).min()
    }

    /// Tells what the times in hand say of the minute from `now` on.
    fn tell(&mut self, now: u32) {
        for who in 0..self.happened.members.len() {
            if self.happened.begins_round(who)
                && let Some(start) = self.start(who)
            {
                self.promises.tell(who, start, now);
            }
        }
    }

    /// Works the times out anew where something is not as they took it.
    fn notice(&mut self) {
        let now = self.happened.now;
        let turns = || self.happened.members.iter().filter_map(|member| member.last);
        let differ = || turns().filter(|turn| turn.differs_at() == Some(now));
        if differ().next().is_none() {
            return;
        }
        let ended = differ().any(|turn| turn.end == now);
        self.happened.look();
        let left = self.kept.left(&self.happened, &self.promises.told());
        let evaluations = match (self.kept.is_upset(&left), ended) {
            (true, _) => self.looking.event.saturating_mul(UPSET),
            (false, true) => self.looking.event,
            (false, false) => 0,
        };
        if evaluations > 0 {
            self.kept.search(self.happened.instance, left, evaluations, self.looking.seed);
        }
        let left = self.kept.left(&self.happened, &self.promises.told());
        self.kept.retime(&left);
        self.tell(now);
    }

    fn begin(&mut self) {
        for who in 0..self.happened.members.len() {
            if self.start(who) != Some(self.happened.now) {
                continue;
            }
            if self.happened.begins_round(who) {
                self.promises.begin(who, self.happened.now);
            }
            let width = self.kept.whole.width;
            self.happened.begin(who, &self.kept.order.stations[who * width..][..width]);
        }
    }
}

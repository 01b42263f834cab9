//! The plan that stands, from one event to the next.

use std::num::NonZeroUsize;

use turnabout_protocol::command::Act;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::invariants;
use turnabout_server::floor::outlook::{OVERDUE, RACKED, because};
use turnabout_server::floor::planning::{
    ADOPTED_EVERY, CLEAR_GAIN, Offer, Quest, Sight, Standing, Taken, structural,
};
use turnabout_server::floor::promises::{FIRM, MOVES_BY, may_move};
use turnabout_server::floor::state::{Promise, State};
use turnabout_server::timetable::search::{Effort, in_turn};

use crate::histories::always_the_same;
use crate::world::*;

/// What a search of so many orders offers.
fn found(standing: &Standing, sight: &Sight, evaluations: u64) -> Option<Offer> {
    let kept = standing.order()?.clone();
    let quest = Quest::new(sight.clone(), kept, standing.is_loose(), None);
    let done = move |looked_at: u64| looked_at as f64 / evaluations as f64;
    let effort = Effort { seed: 1, threads: NonZeroUsize::MIN, done: &done, beside: &in_turn };
    quest.has_order().then(|| quest.offer(quest.search(&[], &effort), true))
}

/// The price of a sight: broken rules first.
fn price(sight: &Sight) -> (u64, i64) {
    (sight.plan.verdict.breach_seconds(), sight.plan.verdict.objective)
}

/// By how much a sight starts a set at another time than was told.
fn off(sight: &Sight, told: &Promise) -> Millis {
    let starts = because::Starts::of(&sight.outlook, &sight.plan.timetable);
    let planned = starts.next().find(|(_, turn, _)| *turn == told.turn).map(|next| next.2);
    let start = planned.map(|start| sight.outlook.who.instant(start));
    start.map_or(Millis(i64::MAX), |start| Millis(start.since(told.start).0.abs()))
}

fn start_of(sight: &Sight, client: turnabout_protocol::ids::ClientId) -> Option<FloorMs> {
    let starts = because::Starts::of(&sight.outlook, &sight.plan.timetable);
    starts.next().find(|(_, turn, _)| turn.client == client).map(|next| sight.outlook.who.instant(next.2))
}

impl World {
    /// What the floor's task does after whatever happens.
    fn looked_at(&mut self, standing: &mut Standing) -> Sight {
        let sight = standing.look(&self.state, self.now).unwrap();
        if let Some(event) = sight.promised(&self.state, self.now) {
            self.take(Actor::Floor, self.now, event);
        }
        sight
    }

    fn promised_to(&self, client: turnabout_protocol::ids::ClientId) -> Promise {
        *self.state.promises.iter().find(|told| told.turn.client == client).unwrap()
    }
}

/// A floor of any history with a plan that follows it.
#[derive(Default)]
struct Followed {
    state: State,
    standing: Standing,
    moved: usize,
    adopted: usize,
    put_off: usize,
    last: Option<FloorMs>,
}

impl Followed {
    fn take(&mut self, mut entry: Entry) {
        // What is told between two entries has a number of its own.
        entry.sequence = self.state.sequence + 1;
        self.standing.note(&entry.event);
        self.lawfully(&entry);
        self.look(entry.recorded);
        if entry.sequence.is_multiple_of(7) {
            self.search(entry.recorded, 4);
            self.search(entry.recorded, 256);
        }
    }

    /// Takes an entry in, after which what was told is as steady as it must be.
    fn lawfully(&mut self, entry: &Entry) {
        let before = self.state.promises.clone();
        evolve(&mut self.state, entry);
        for told in before {
            let after = self.state.promises.iter().find(|after| after.turn == told.turn);
            if let Some(after) = after.filter(|after| after.start != told.start) {
                assert!(may_move(&told, after.start, entry.recorded), "{told:?} became {after:?}");
                self.moved += 1;
            }
        }
    }

    fn look(&mut self, now: FloorMs) -> Sight {
        let sight = self.standing.look(&self.state, now).unwrap();
        assert!(sight.again.is_none_or(|again| again > now), "time passes before it is looked at again");
        if let Some(event) = sight.promised(&self.state, now) {
            let sequence = self.state.sequence + 1;
            self.lawfully(&Entry { sequence, recorded: now, at: now, by: Actor::Floor, event });
            invariants::check(&self.state).unwrap();
            assert_eq!(sight.promised(&self.state, now), None, "said once");
        }
        sight
    }

    fn search(&mut self, now: FloorMs, evaluations: u64) {
        let present = self.look(now);
        let Some(offer) = found(&self.standing, &present, evaluations) else { return };
        let loose = self.standing.is_loose();
        match self.standing.consider(offer, &present, &self.state, now) {
            Taken::Adopted => {
                assert!(self.last.is_none_or(|last| now >= last + ADOPTED_EVERY));
                self.last = Some(now);
                self.adopted += 1;
                let told = self.state.promises.clone();
                let found = self.look(now);
                for told in told.iter().filter(|told| told.start > now && !told.about) {
                    let (kept, moved) = (off(&present, told), off(&found, told));
                    assert!(moved < MOVES_BY.millis() || moved <= kept, "{told:?}: {kept:?}, then {moved:?}");
                }
                let (before, after) = (price(&present), price(&found));
                let gain = before.1 - after.1;
                let clear = loose && gain > 0 || gain * 1_000 > before.1 * CLEAR_GAIN;
                assert!(after.0 < before.0 || (after.0 == before.0 && clear), "{before:?} to {after:?}");
            }
            Taken::NotBefore(until) => {
                assert_eq!(Some(until), self.last.map(|last| last + ADOPTED_EVERY));
                self.put_off += 1;
            }
            Taken::Left => {}
        }
    }
}

#[test]
fn whatever_happens_the_plan_stands_and_what_was_told_is_steady() {
    let (mut moved, mut adopted, mut put_off) = (0, 0, 0);
    for entries in always_the_same(40) {
        let mut followed = Followed::default();
        entries.into_iter().for_each(|entry| followed.take(entry));
        moved += followed.moved;
        adopted += followed.adopted;
        put_off += followed.put_off;
    }
    assert!(moved > 50 && adopted > 10 && put_off > 0, "{moved} moved, {adopted} adopted, {put_off} put off");
}

#[test]
fn an_order_for_what_is_no_longer_left_to_do_is_not_taken() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    let sight = world.looked_at(&mut standing);
    let offer = found(&standing, &sight, 16).unwrap();
    world.whole_set(AYLA, turn(PAIR, DARA, 0, 0));
    let present = world.looked_at(&mut standing);
    assert_eq!(standing.consider(offer, &present, &world.state, world.now), Taken::Left);
    assert!(standing.is_loose(), "a search for the floor as it is has not come to its end");
    let offer = found(&standing, &present, 16).unwrap();
    standing.consider(offer, &present, &world.state, world.now);
    assert!(!standing.is_loose());
}

#[test]
fn whoever_was_told_a_start_to_the_second_is_held_to_it() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    let sight = world.looked_at(&mut standing);
    assert_eq!(start_of(&sight, DARA), Some(sight.outlook.who.instant(sight.outlook.instance.now)));
    let told = Promise { start: world.now + FIRM, ..world.promised_to(DARA) };
    world.take(Actor::Floor, world.now, Event::Promised { made: vec![told], taken_back: Vec::new() });
    let sight = world.looked_at(&mut standing);
    assert_eq!(start_of(&sight, DARA), Some(told.start), "it is planned as it was told");
    assert_eq!(world.promised_to(DARA), told, "and told no other way");
    // Told about only it may come earlier.
    for (ahead, about) in [(FIRM.0 + 1, true), (4, false)] {
        let mut world = World::with_pair_on();
        let mut standing = Standing::default();
        world.looked_at(&mut standing);
        let told = Promise { start: world.now + Secs(ahead), about, ..world.promised_to(DARA) };
        world.take(Actor::Floor, world.now, Event::Promised { made: vec![told], taken_back: Vec::new() });
        world.looked_at(&mut standing);
        assert_eq!(world.promised_to(DARA).start != told.start, about, "{ahead} s ahead");
    }
}

#[test]
fn who_may_go_and_does_not_is_told_nothing_new() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    let sight = world.looked_at(&mut standing);
    let told = world.promised_to(DARA);
    assert_eq!(
        (told.start, told.reason),
        (sight.outlook.who.instant(sight.outlook.instance.now), StartReason::Ready)
    );
    let edda = start_of(&sight, EDDA).unwrap();
    for _ in 0..4 {
        let again = world.looked_at(&mut standing).again.unwrap();
        assert!(again <= world.now + MOVES_BY);
        world.pass_to(again);
    }
    let sight = world.looked_at(&mut standing);
    assert_eq!(world.promised_to(DARA), told);
    // For whoever comes after it takes longer, and that is planned.
    assert!(start_of(&sight, EDDA) >= Some(edda + MOVES_BY));
}

#[test]
fn what_was_told_about_is_told_to_the_second_when_it_is_near() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    world.looked_at(&mut standing);
    let press = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, press);
    // Ayla is to watch Dara at the row, too, before she can watch Edda.
    world.looked_at(&mut standing);
    let row = world.promised_to(DARA);
    assert!(row.about && row.start > world.now + FIRM, "{row:?}");
    while world.promised_to(DARA).about {
        let again = world.looked_at(&mut standing).again.unwrap();
        assert!(again <= row.start - FIRM.millis(), "no later than that");
        world.pass_to(again);
        world.looked_at(&mut standing);
    }
    let told = world.promised_to(DARA);
    assert_eq!((told.turn, told.start), (row.turn, world.now + FIRM), "it is looked at again in time");
}

#[test]
fn a_set_that_lasts_too_long_is_looked_at_again_and_again() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    world.looked_at(&mut standing);
    let press = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, press);
    let ends = world.current(press).ends;
    let sight = world.looked_at(&mut standing);
    assert!(sight.again <= Some(ends + RACKED));
    world.pass_to(ends + RACKED);
    let sight = world.looked_at(&mut standing);
    assert_eq!(sight.again, Some(world.now + OVERDUE));
    let before = world.promised_to(EDDA);
    assert!(before.start >= world.now, "the bench is not free yet");
    world.pass(20);
    world.looked_at(&mut standing);
    let told = world.promised_to(EDDA);
    assert!(told.start > world.now && told.start >= before.start + MOVES_BY);
    assert_eq!(told.reason, StartReason::SpotterBusy, "and why: Ayla still watches Dara");
}

#[test]
fn what_is_structural_lets_any_better_order_in() {
    let mut world = World::with_pair_on();
    let mut standing = Standing::default();
    let sight = world.looked_at(&mut standing);
    let offer = found(&standing, &sight, 16).unwrap();
    standing.consider(offer, &sight, &world.state, world.now);
    assert!(!standing.is_loose());
    let before = world.state.sequence;
    world.whole_set(AYLA, turn(PAIR, DARA, 0, 0));
    world.note(&mut standing, before);
    assert!(!standing.is_loose(), "a set as planned is nothing structural");
    let before = world.state.sequence;
    world.accept(&coach(AYLA), Act::Leave { group: PAIR, client: EDDA });
    world.note(&mut standing, before);
    assert!(standing.is_loose());
}

impl World {
    /// Lets a plan take note of what has happened since.
    fn note(&self, standing: &mut Standing, since: u64) {
        let news: Vec<&Entry> = self.entries.iter().filter(|entry| entry.sequence > since).collect();
        assert!(!news.is_empty());
        news.iter().for_each(|entry| standing.note(&entry.event));
        assert_eq!(standing.is_loose(), news.iter().any(|entry| structural::is(&entry.event)));
    }
}

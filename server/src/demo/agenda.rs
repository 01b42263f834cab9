//! What one person means to do, one thing at a time.
//!
//! A person's display offers things to do. For each the person needs a while, drawn once when the offer is
//! first seen; then goes there, and taps. What is offered no more is forgotten, what was refused is tried
//! again after a growing pause.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::units::{FloorMs, Millis};

use super::dice::Dice;

/// Things a person keeps in mind at once: every expected tap of a coach with a handful of groups.
const WISHES: usize = 64;
/// From one tap to the next of the same person at the least.
const BETWEEN_TAPS: Millis = Millis(1_200);
/// From one station to another.
const WALK: (Millis, Millis) = (Millis::secs(5), Millis::secs(10));
/// After an accepted tap the display shows the new state at once. If it does not, the person taps again.
const ACCEPTED_AGAIN: Millis = Millis::secs(20);
/// The pause after a first refusal; each further one doubles it.
const REFUSED_AGAIN: Millis = Millis::secs(4);
/// The longest pause after refusals, as a number of doublings: about a minute.
const MOST_DOUBLINGS: u32 = 4;
/// An errand that turns out to be this far off is given up for something nearer.
const TOO_FAR_OFF: Millis = Millis::secs(15);

/// How pressing a thing is; of several the first goes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Rank {
    /// Somebody needs help: drop everything else.
    Emergency,
    /// Somebody waits at a bar.
    AtTheBar,
    /// A group waits.
    Soon,
    /// When there is a moment.
    Later,
    /// What somebody else usually does.
    Spare,
}

/// Something that could be done now or later.
#[derive(Clone, Debug)]
pub(super) struct Offer {
    /// The tap.
    pub(super) act: Act,
    /// Not before that.
    pub(super) from: FloorMs,
    /// How long the person then needs, at the least and at the most.
    pub(super) takes: (Millis, Millis),
    /// Where one must be for it.
    pub(super) place: Option<StationId>,
    /// How pressing it is.
    pub(super) rank: Rank,
}

#[derive(Clone, Debug)]
struct Wish {
    offer: Offer,
    seen: FloorMs,
    takes: Millis,
    walk: Millis,
    not_before: FloorMs,
    refused: u32,
    hopeless: bool,
}

impl Wish {
    fn due(&self) -> FloorMs {
        (self.offer.from.max(self.seen) + self.takes).max(self.not_before)
    }
}

#[derive(Clone, Debug)]
struct Errand {
    act: Act,
    arrives: FloorMs,
    rank: Rank,
}

/// One person's agenda.
#[derive(Clone, Debug)]
pub(super) struct Agenda {
    dice: Dice,
    wishes: Vec<Wish>,
    at: Option<StationId>,
    errand: Option<Errand>,
    waiting: Option<Act>,
    free_from: FloorMs,
}

impl Agenda {
    pub(super) fn new(dice: Dice) -> Self {
        Self {
            dice,
            wishes: Vec::new(),
            at: None,
            errand: None,
            waiting: None,
            free_from: FloorMs::default(),
        }
    }

    /// Takes in what is offered now. Of what was known the draws and refusals are kept.
    pub(super) fn consider(&mut self, offers: Vec<Offer>, now: FloorMs) {
        let mut known = std::mem::take(&mut self.wishes);
        for offer in offers.into_iter().take(WISHES) {
            let place = known.iter().position(|wish| same_deed(&wish.offer.act, &offer.act));
            let wish = match place.map(|at| known.swap_remove(at)) {
                // What the person meant to say stays; when and how pressing may have changed.
                Some(wish) => Wish { offer: Offer { act: wish.offer.act, ..offer }, ..wish },
                None => self.new_wish(offer, now),
            };
            self.wishes.push(wish);
        }
        let gone = |errand: &Errand| !self.wishes.iter().any(|wish| wish.offer.act == errand.act);
        if self.errand.as_ref().is_some_and(gone) {
            self.errand = None;
        }
    }

    fn new_wish(&mut self, offer: Offer, now: FloorMs) -> Wish {
        let takes = self.dice.between(offer.takes.0, offer.takes.1);
        let walk = self.dice.between(WALK.0, WALK.1);
        Wish { offer, seen: now, takes, walk, not_before: now, refused: 0, hopeless: false }
    }

    /// When this person must be asked again; nothing while an answer is awaited or there is nothing to do.
    pub(super) fn next(&self) -> Option<FloorMs> {
        if self.waiting.is_some() {
            return None;
        }
        let sets_out = self.open().filter(|wish| self.interrupts(wish)).map(|wish| self.leaves(wish)).min();
        let errand = self.errand.as_ref().and_then(|errand| self.errand_due(errand));
        errand.into_iter().chain(sets_out).min()
    }

    /// The tap whose time has come. The next one comes after the answer.
    pub(super) fn take(&mut self, now: FloorMs) -> Option<Act> {
        if self.waiting.is_some() {
            return None;
        }
        self.choose(now);
        let errand = self.errand.as_ref()?;
        if self.errand_due(errand)? > now {
            return None;
        }
        let act = self.errand.take()?.act;
        let place = self.wish(&act).and_then(|wish| wish.offer.place);
        self.at = place.or(self.at);
        self.waiting = Some(act.clone());
        self.free_from = now + BETWEEN_TAPS;
        Some(act)
    }

    /// The answer to the last tap came. Gives back what was tapped.
    pub(super) fn hear(&mut self, outcome: &Outcome, now: FloorMs) -> Option<Act> {
        let act = self.waiting.take()?;
        let wish = self.wishes.iter_mut().find(|wish| wish.offer.act == act);
        if let Some(wish) = wish {
            match outcome {
                Outcome::Accepted { .. } | Outcome::Already { .. } => wish.not_before = now + ACCEPTED_AGAIN,
                Outcome::Refused { refusal } => {
                    let doublings = wish.refused.min(MOST_DOUBLINGS);
                    wish.not_before = now + Millis(REFUSED_AGAIN.0 << doublings);
                    wish.refused = wish.refused.saturating_add(1);
                    wish.hopeless = hopeless(refusal);
                }
            }
        }
        Some(act)
    }

    /// The last tap will never be answered.
    pub(super) fn lose(&mut self, now: FloorMs) {
        let Some(act) = self.waiting.take() else { return };
        if let Some(wish) = self.wishes.iter_mut().find(|wish| wish.offer.act == act) {
            wish.not_before = now + REFUSED_AGAIN;
        }
    }

    /// Sets out for the most pressing thing for which it is time to leave.
    fn choose(&mut self, now: FloorMs) {
        let far_off = |errand: &Errand| {
            self.errand_due(errand).is_none_or(|due| due.since(now.max(errand.arrives)) > TOO_FAR_OFF)
        };
        if self.errand.as_ref().is_some_and(far_off) {
            self.errand = None;
        }
        let ripe = self.open().filter(|wish| self.leaves(wish) <= now && self.interrupts(wish));
        let best = ripe.min_by_key(|wish| (wish.offer.rank, wish.due()));
        let errand = best.map(|wish| Errand {
            act: wish.offer.act.clone(),
            arrives: now + self.way(wish),
            rank: wish.offer.rank,
        });
        self.errand = errand.or(self.errand.take());
    }

    /// Whether the person would drop what they are about for this: anything if that is nothing, an emergency
    /// if it is something else.
    fn interrupts(&self, wish: &Wish) -> bool {
        let emergency = |rank| rank == Rank::Emergency;
        self.errand.as_ref().is_none_or(|errand| emergency(wish.offer.rank) && !emergency(errand.rank))
    }

    fn open(&self) -> impl Iterator<Item = &Wish> {
        self.wishes.iter().filter(|wish| !wish.hopeless)
    }

    fn wish(&self, act: &Act) -> Option<&Wish> {
        self.wishes.iter().find(|wish| wish.offer.act == *act)
    }

    fn errand_due(&self, errand: &Errand) -> Option<FloorMs> {
        self.wish(&errand.act).map(|wish| wish.due().max(errand.arrives))
    }

    /// When the person sets out for it.
    fn leaves(&self, wish: &Wish) -> FloorMs {
        (wish.due() - self.way(wish)).max(self.free_from)
    }

    fn way(&self, wish: &Wish) -> Millis {
        let elsewhere = wish.offer.place.is_some_and(|place| self.at.is_some_and(|at| at != place));
        if elsewhere { wish.walk } else { Millis(0) }
    }
}

/// Whether two taps are the same deed, whatever is said with it. A set that ends otherwise is another.
fn same_deed(a: &Act, b: &Act) -> bool {
    match (a, b) {
        (Act::Done { turn: a, ending: a_end, .. }, Act::Done { turn: b, ending: b_end, .. }) => {
            (a, a_end) == (b, b_end)
        }
        (Act::Effort { turn: a, .. }, Act::Effort { turn: b, .. }) => a == b,
        (a, b) => a == b,
    }
}

/// Refusals that waiting does not change.
fn hopeless(refusal: &Refusal) -> bool {
    matches!(
        refusal,
        Refusal::RoleMayNot | Refusal::NotHere | Refusal::AtLightest { .. } | Refusal::NoLoad | Refusal::Over
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnabout_protocol::ids::GroupId;

    const NONE: (Millis, Millis) = (Millis(0), Millis(0));
    const ACCEPTED: Outcome = Outcome::Accepted { recorded: FloorMs(0) };
    const PAUSED: Outcome = Outcome::Refused { refusal: Refusal::Paused };

    fn offer(group: u32, from: i64, place: Option<u16>, rank: Rank) -> Offer {
        let act = Act::Resume { group: GroupId(group), client: None };
        Offer { act, from: FloorMs(from), takes: NONE, place: place.map(StationId), rank }
    }

    /// Asks again and again until there is a tap.
    fn tap(agenda: &mut Agenda) -> (i64, u32) {
        let mut now = FloorMs(0);
        for _ in 0..10 {
            now = now.max(agenda.next().expect("there is something to do"));
            if let Some(Act::Resume { group, .. }) = agenda.take(now) {
                return (now.0, group.0);
            }
        }
        panic!("asked ten times, and no tap");
    }

    #[test]
    fn the_most_pressing_goes_first_and_one_answer_is_awaited() {
        let mut agenda = Agenda::new(Dice::new(1));
        agenda.consider(
            vec![offer(1, 0, None, Rank::Later), offer(2, 0, None, Rank::AtTheBar)],
            FloorMs(1_000),
        );
        assert_eq!(tap(&mut agenda), (1_000, 2));
        assert_eq!(agenda.next(), None);
        agenda.hear(&ACCEPTED, FloorMs(1_010));
        assert_eq!(tap(&mut agenda), (1_000 + BETWEEN_TAPS.0, 1));
    }

    #[test]
    fn going_elsewhere_takes_a_walk_and_staying_does_not() {
        let mut agenda = Agenda::new(Dice::new(1));
        agenda.consider(vec![offer(1, 0, Some(1), Rank::Soon)], FloorMs(0));
        assert_eq!(tap(&mut agenda), (0, 1));
        agenda.hear(&ACCEPTED, FloorMs(0));
        agenda.consider(vec![offer(2, 0, Some(2), Rank::Soon)], FloorMs(0));
        let (at, _) = tap(&mut agenda);
        assert!((WALK.0.0..=WALK.1.0 + BETWEEN_TAPS.0).contains(&at), "{at}");
        agenda.hear(&ACCEPTED, FloorMs(at));
        agenda.consider(vec![offer(3, 0, Some(2), Rank::Soon)], FloorMs(at));
        assert_eq!(tap(&mut agenda), (at + BETWEEN_TAPS.0, 3));
    }

    #[test]
    fn an_emergency_interrupts_an_errand() {
        let mut agenda = Agenda::new(Dice::new(1));
        agenda.at = Some(StationId(9));
        agenda.consider(vec![offer(1, 0, Some(1), Rank::AtTheBar)], FloorMs(0));
        assert_eq!(agenda.take(FloorMs(0)), None, "on the way");
        let both = vec![offer(1, 0, Some(1), Rank::AtTheBar), offer(2, 0, Some(2), Rank::Emergency)];
        agenda.consider(both, FloorMs(500));
        assert_eq!(tap(&mut agenda).1, 2);
    }

    #[test]
    fn what_is_offered_no_more_is_forgotten() {
        let mut agenda = Agenda::new(Dice::new(1));
        agenda.at = Some(StationId(9));
        agenda.consider(vec![offer(1, 0, Some(1), Rank::Soon)], FloorMs(0));
        assert_eq!(agenda.take(FloorMs(0)), None, "on the way");
        agenda.consider(vec![], FloorMs(10));
        assert_eq!((agenda.next(), agenda.take(FloorMs(60_000))), (None, None));
    }

    #[test]
    fn refusals_are_retried_after_growing_pauses_and_hopeless_ones_are_not() {
        let mut agenda = Agenda::new(Dice::new(1));
        agenda.consider(vec![offer(1, 0, None, Rank::Soon)], FloorMs(0));
        let mut at = vec![];
        for _ in 0..7 {
            let (now, _) = tap(&mut agenda);
            agenda.hear(&PAUSED, FloorMs(now));
            at.push(now);
        }
        let pauses: Vec<i64> = at.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert_eq!(pauses, [4_000, 8_000, 16_000, 32_000, 64_000, 64_000]);
        tap(&mut agenda);
        agenda.hear(&Outcome::Refused { refusal: Refusal::Over }, FloorMs(0));
        assert_eq!(agenda.next(), None);
    }

    #[test]
    fn a_tap_whose_answer_is_lost_is_made_again() {
        let mut agenda = Agenda::new(Dice::new(1));
        agenda.consider(vec![offer(1, 0, None, Rank::Soon)], FloorMs(0));
        assert_eq!(tap(&mut agenda), (0, 1));
        agenda.lose(FloorMs(100));
        assert_eq!(tap(&mut agenda), (100 + REFUSED_AGAIN.0, 1));
    }
}

//! A tap that somebody may yet take back, and taking it back as the running server does: by what it remembers of
//! the last taps.
//!
//! Beside the floor as everybody sees it goes one on which that tap was never made. At most one such tap is
//! open: what it comes to depends on no other tap that might be taken back too.

use std::hash::{Hash, Hasher};

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{CommandId, DeviceId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::Millis;
use turnabout_server::floor::decide::Verdict;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::state::State;
use turnabout_server::floor::undo::{RecentTaps, TappedBy, WINDOW};
use turnabout_server::loading::gear::Gear;
use uuid::Uuid;

use crate::asks::{Ask, Who};
use crate::canonical;
use crate::clock::NOW;
use crate::core::Core;
use crate::real::Real;

const SLIP: CommandId = CommandId(Uuid::from_u128(1));
const LATER: CommandId = CommandId(Uuid::from_u128(2));
const UNDO: CommandId = CommandId(Uuid::from_u128(3));

/// A tap that can still be taken back.
#[derive(Clone, Debug)]
pub(crate) struct Slip {
    ask: Ask,
    /// The floor before it, as if it had been at [`NOW`].
    before: State,
    /// The floor with it, in its own time.
    with: Real,
    /// The floor without it.
    without: Real,
    recent: RecentTaps,
}

/// What a slip was and how long ago tells all that is remembered of it, as long as nothing rests on it.
impl PartialEq for Slip {
    fn eq(&self, other: &Self) -> bool {
        self.ask == other.ask
            && self.with.now == other.with.now
            && self.before == other.before
            && self.without.seen() == other.without.seen()
    }
}

impl Eq for Slip {}

impl Hash for Slip {
    fn hash<H: Hasher>(&self, hasher: &mut H) {
        self.with.now.hash(hasher);
        canonical::hash(&self.before, hasher);
        canonical::hash(&self.without.seen(), hasher);
    }
}

/// A tap was taken back.
pub(crate) struct TakenBack {
    /// What that led to.
    pub(crate) events: Vec<Event>,
    /// The floor after it.
    pub(crate) state: State,
    /// Whether the same can be said once more.
    pub(crate) again: bool,
    /// Whether the floor is as if it had never been, and it was in time.
    pub(crate) as_if_never: bool,
}

impl Slip {
    /// The tap is made now; nothing where it could not be taken back at once.
    pub(crate) fn made(core: Core, before: &State, ask: &Ask) -> Option<Self> {
        let real = || Real { state: before.clone(), now: NOW };
        let (ask, before, recent) = (ask.clone(), before.clone(), RecentTaps::default());
        let mut slip = Self { with: real(), without: real(), before, ask, recent };
        let ask = slip.ask.clone();
        slip.tapped(core, &ask, SLIP);
        slip.open(core)
    }

    /// Somebody taps something else.
    pub(crate) fn then(mut self, core: Core, ask: &Ask) -> Option<Self> {
        self.tapped(core, ask, LATER);
        let now = self.without.now;
        let tap = ask.tap(now);
        if let Verdict::Accepted(events) = core.decide(&self.without.state, &tap, now) {
            self.without.take(core, tap.speaker.actor, now, events);
        }
        settle_without(&mut self.without, core);
        self.open(core)
    }

    /// Time goes on.
    pub(crate) fn wait(mut self, core: Core, passed: Millis) -> Option<Self> {
        self.with.now = self.with.now + passed;
        self.without.now = self.with.now;
        self.settle(core);
        settle_without(&mut self.without, core);
        self.open(core)
    }

    /// Whoever made it takes it back.
    pub(crate) fn taken_back(mut self, core: Core) -> Option<TakenBack> {
        let (by, now) = (self.by(), self.with.now);
        let events = self.inverse(core).ok()?;
        self.recent.taken_back((SLIP, UNDO), by, &self.with.state, &events, now);
        self.with.take(core, by.actor, now, events.clone());
        let state = self.with.seen();
        let again = self.recent.undo(by, SLIP, &self.with.state, now).is_ok();
        self.settle(core);
        let as_if_never = self.excepted(self.with.seen()) == self.excepted(self.without.seen());
        let in_time = now.since(NOW) <= WINDOW;
        Some(TakenBack { events, state, again, as_if_never: as_if_never && in_time })
    }

    fn by(&self) -> TappedBy {
        let device = match self.ask.who {
            Who::Coach(coach) => u128::from(coach.0),
            Who::Kiosk(station) => 100 + u128::from(station.0),
        };
        TappedBy { device: DeviceId(Uuid::from_u128(device)), actor: self.ask.tap(NOW).speaker.actor }
    }

    fn inverse(&self, core: Core) -> Result<Vec<Event>, Refusal> {
        core.undo(&self.recent, (self.by(), SLIP), &self.with.state, self.with.now)
    }

    /// Whoever is refused once does not try again.
    fn open(self, core: Core) -> Option<Self> {
        self.inverse(core).is_ok().then_some(self)
    }

    fn tapped(&mut self, core: Core, ask: &Ask, command: CommandId) {
        let now = self.with.now;
        let tap = ask.tap(now);
        let Verdict::Accepted(events) = core.decide(&self.with.state, &tap, now) else {
            panic!("what is accepted on the canonical floor is on the real one: {ask:?}");
        };
        let by = TappedBy { actor: tap.speaker.actor, ..self.by() };
        self.recent.remember(by, command, &self.with.state, &events, now);
        self.with.take(core, tap.speaker.actor, now, events);
        self.settle(core);
    }

    fn settle(&mut self, core: Core) {
        let recent = &mut self.recent;
        self.with.settle(core, |before, events, now| recent.note_floor(before, events, now));
        as_on_displays(&mut self.with.state);
    }

    /// What taking back leaves as it is: a pin where it was set, and a load that is confirmed anew.
    fn excepted(&self, mut state: State) -> State {
        let anew = matches!(self.ask.act, Act::ConfirmLoad { .. });
        for (id, now) in &mut state.stations {
            if matches!(state.floor.stations[id].gear, Gear::Stack(_)) {
                now.load = None;
            }
            now.confirmed = now.confirmed.filter(|_| !anew);
        }
        state
    }
}

fn settle_without(without: &mut Real, core: Core) {
    without.settle(core, |_, _, _| {});
    as_on_displays(&mut without.state);
}

/// Every tap of the model names the revision of the moment, which is none on the canonical floor.
fn as_on_displays(state: &mut State) {
    for group in state.groups.values_mut() {
        group.revision = 0;
    }
}

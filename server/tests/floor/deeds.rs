//! What tests have people do, and what they look at, beyond single taps.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::Millis;
use turnabout_server::floor::decide::{Speaker, Verdict};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::{ClientNow, Stamp};

use crate::world::*;

impl World {
    /// Sets of a client one after the other, each begun as early as the rest before it allows.
    pub(crate) fn sets(&mut self, by: CoachId, group: GroupId, client: ClientId, which: &[(u8, u8)]) {
        for (round, leg) in which {
            let block = self.state.groups[&group].block;
            self.rest(group, client);
            self.whole_set(by, TurnId { group, client, block, round: *round, leg: *leg });
        }
    }

    /// Until a client may begin the coming set.
    pub(crate) fn rest(&mut self, group: GroupId, client: ClientId) {
        let hand = InHand::of(&self.state, group).expect("a session that goes on");
        let ready = hand.coming(client).expect("a set to do").go_from;
        self.pass_to(ready.max(self.now));
    }

    /// Says that a set is over, without anything about it.
    pub(crate) fn done(&mut self, by: CoachId, turn: TurnId) {
        self.accept(&coach(by), Act::Done { turn, reps: None, effort: None, ending: None });
    }

    pub(crate) fn client(&self, group: GroupId, client: ClientId) -> &ClientNow {
        &self.state.groups[&group].clients[&client]
    }

    pub(crate) fn next(&self, group: GroupId, client: ClientId) -> Option<TurnId> {
        InHand::of(&self.state, group)?.next(client)
    }

    pub(crate) fn revision(&self, group: GroupId) -> u32 {
        self.state.groups[&group].revision
    }

    pub(crate) fn already(&mut self, speaker: &Speaker, act: Act) -> Stamp {
        let verdict = self.tap(speaker, act.clone());
        let Verdict::Already(stamp) = verdict else { panic!("{act:?} led to {verdict:?}") };
        stamp
    }

    /// The server was down for so long.
    pub(crate) fn down(&mut self, secs: i64) {
        let down = Millis::secs(secs);
        self.now = self.now + down;
        self.take(Actor::Floor, self.now, Event::Resumed { down });
        self.settle();
    }
}

/// Somebody who helps a coach.
pub(crate) fn assistant(coach: CoachId) -> Speaker {
    Speaker { actor: Actor::Assistant { coach }, stations: Vec::new() }
}

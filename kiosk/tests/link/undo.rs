//! Which tap can be taken back.

use turnabout_kiosk::face::Tap;
use turnabout_kiosk::link::Action;
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::{ToDisplay, ToServer};
use turnabout_protocol::ids::CommandId;
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::role::Actor;
use uuid::Uuid;

use crate::scenes::*;
use crate::*;

impl Desk {
    fn answer(&mut self, id: CommandId, answer: Outcome) {
        self.frame(ToDisplay::Answer { id, answer });
    }

    /// A tap that is accepted at once.
    fn accepted(&mut self, act: Act) -> CommandId {
        let (id, _) = self.tap(act);
        self.answer(id, Outcome::Accepted { recorded: NOW });
        id
    }

    /// The tap that the display offers to take back.
    fn offered(&mut self) -> Option<CommandId> {
        match self.face().undo?.act {
            Act::Undo { command } => Some(command),
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn the_last_accepted_tap_is_offered_until_ten_seconds_after_it_was_taken_down() {
    let mut desk = Desk::up();
    let (id, _) = desk.tap(go());
    assert_eq!(desk.offered(), None, "nobody knows yet whether it was taken");
    desk.answer(id, Outcome::Accepted { recorded: NOW });
    assert_eq!(desk.offered(), Some(id));
    desk.frame(ToDisplay::Clock { now: at(9) });
    assert_eq!(desk.offered(), Some(id));
    desk.frame(ToDisplay::Clock { now: at(10) });
    assert_eq!(desk.offered(), None);
}

#[test]
fn another_tap_that_was_answered_takes_its_place_whatever_the_answer() {
    let mut desk = Desk::up();
    let first = desk.accepted(go());
    let (second, _) = desk.tap(done());
    assert_eq!(desk.offered(), Some(first), "as long as there is no answer");
    desk.answer(second, Outcome::Accepted { recorded: NOW });
    assert_eq!(desk.offered(), Some(second));
    let lighter = Act::Lighter { turn: turn_id(1, 2, 0), revision: 7 };
    desk.accepted(lighter);
    assert_eq!(desk.offered(), None, "what is not taken back");
    for outcome in
        [Outcome::Refused { refusal: Refusal::Over }, Outcome::Already { by: Actor::Floor, when: NOW }]
    {
        desk.accepted(go());
        let (other, _) = desk.tap(done());
        desk.answer(other, outcome.clone());
        assert_eq!(desk.offered(), None, "{outcome:?}");
    }
    desk.accepted(go());
    desk.answer(CommandId(Uuid::from_u128(1)), Outcome::Refused { refusal: Refusal::Busy });
    assert!(desk.offered().is_some(), "an answer to nobody");
}

#[test]
fn taking_back_names_that_tap_and_is_over_with_its_answer() {
    let mut desk = Desk::up();
    let id = desk.accepted(go());
    let act = desk.face().button(Tap::Undo, None).unwrap().act.clone();
    let (undo, actions) = desk.tap(act);
    let [Action::Send(ToServer::Command(sent))] = actions.as_slice() else { panic!("{actions:?}") };
    assert_eq!((sent.id, &sent.act), (undo, &Act::Undo { command: id }));
    assert!(desk.face().button(Tap::Undo, None).is_none(), "once is enough");
    desk.answer(undo, Outcome::Refused { refusal: Refusal::LaterRestsOnIt });
    assert_eq!(desk.offered(), None);
    assert_eq!(desk.face().notice, "Something later rests on that. Correct it instead.");
}

#[test]
fn a_link_that_comes_back_in_time_takes_it_back_but_a_server_that_started_anew_does_not() {
    for (epoch, kept) in [(Uuid::from_u128(7), true), (Uuid::from_u128(8), false)] {
        let mut desk = Desk::up();
        let id = desk.accepted(go());
        desk.close();
        assert_eq!(desk.offered(), Some(id));
        assert!(desk.face().button(Tap::Undo, None).is_none(), "it cannot be sent");
        desk.epoch = epoch;
        desk.connect();
        assert_eq!(desk.offered(), kept.then_some(id));
        assert_eq!(desk.face().button(Tap::Undo, None).is_some(), kept);
    }
}

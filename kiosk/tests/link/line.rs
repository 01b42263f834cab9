//! Views, silences, new tries and servers that do not want this display.

use turnabout_kiosk::face::{LinkState, Panel};
use turnabout_kiosk::link::limits::{CONNECT_MS, RETRY_MOST_MS, SILENCE_MS};
use turnabout_kiosk::link::{Action, Event};
use turnabout_protocol::frame::{Fault, PROTOCOL, Revision, ToDisplay};
use turnabout_protocol::role::Topic;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::View;
use uuid::Uuid;

use crate::scenes::*;
use crate::*;

#[test]
fn older_and_doubled_views_are_ignored_and_a_new_epoch_replaces() {
    let mut desk = Desk::up();
    for (sequence, plan, name, shown) in [
        (5, 0, "Bram", "Bram"),
        (5, 0, "Chidi", "Bram"),
        (4, 9, "Dara", "Bram"),
        (5, 1, "Edda", "Edda"),
        (5, 0, "Farid", "Edda"),
        (6, 0, "Greta", "Greta"),
    ] {
        desk.view(sequence, plan, named(name));
        assert_eq!(desk.who(), shown, "{sequence}.{plan}");
    }
    desk.epoch = Uuid::from_u128(9);
    desk.view(1, 0, named("Hana"));
    assert_eq!(desk.who(), "Hana");
}

#[test]
fn a_view_of_something_else_is_ignored() {
    let mut desk = Desk::up();
    let revision = Revision { epoch: desk.epoch, sequence: 99, plan: 0 };
    desk.frame(ToDisplay::View { topic: Topic::Board, revision, as_of: NOW, view: View::Board(board(1)) });
    assert_eq!(desk.who(), "Ayla");
}

#[test]
fn a_silent_link_is_lost_and_counted_from_when_it_was_last_heard() {
    let mut desk = Desk::new();
    desk.rate = 1;
    let asked = questions(&desk.connect());
    desk.frame(ToDisplay::Time { t1: asked[0], t2: NOW, t3: NOW });
    desk.view(1, 0, ready());
    desk.real += SILENCE_MS - 1;
    desk.on(Event::Heard);
    assert!(!desk.tick_after(SILENCE_MS - 1).contains(&Action::Close));
    assert_eq!(desk.link.state(), LinkState::Up);
    assert!(desk.tick_after(1).contains(&Action::Close));
    // The welcome came when a try was due, and the last sign almost a whole silence after NOW.
    let silence = i64::try_from(SILENCE_MS).unwrap();
    assert_eq!(desk.link.state(), LinkState::Lost { since: FloorMs(NOW.0 + silence - 1) });
    assert_eq!(desk.link.now(desk.real), Some(FloorMs(NOW.0 + 2 * silence - 1)), "and goes on counting");
    assert_eq!(desk.who(), "Ayla");
}

#[test]
fn tries_come_soon_then_slower_and_never_slower_than_the_limit() {
    let mut desk = Desk::new();
    let mut waits = Vec::new();
    for _ in 0..8 {
        assert_eq!(desk.tick_after(RETRY_MOST_MS), [Action::Open]);
        desk.close();
        let wait = (1..).find(|_| desk.tick_after(1) == [Action::Open]).unwrap();
        waits.push(wait);
        desk.close();
    }
    assert!(waits.is_sorted(), "{waits:?}");
    assert!(waits[0] <= 200 && waits[7] <= RETRY_MOST_MS && waits[7] > RETRY_MOST_MS / 2, "{waits:?}");
}

#[test]
fn a_connection_that_does_not_open_is_given_up() {
    let mut desk = Desk::new();
    assert_eq!(desk.tick_after(1), [Action::Open]);
    assert_eq!(desk.tick_after(CONNECT_MS - 1), []);
    assert_eq!(desk.tick_after(1), [Action::Close]);
    assert_eq!(desk.tick_after(RETRY_MOST_MS), [Action::Open]);
}

#[test]
fn a_server_that_does_not_want_this_display_is_shown_and_asked_again() {
    let mut desk = Desk::new();
    desk.tick_after(1);
    desk.on(Event::Opened);
    desk.frame(ToDisplay::Fault { fault: Fault::UnknownTopic });
    desk.close();
    assert_eq!(desk.who(), "No such station or coach on this floor.");
    desk.connect();
    assert_eq!(desk.link.state(), LinkState::Up);
}

#[test]
fn whoever_is_not_let_in_shows_nothing_of_anybody_and_asks_again() {
    let mut desk = Desk::up();
    let shown = desk.who();
    desk.close();
    assert_eq!(desk.who(), shown, "a loss is no revocation");
    desk.tick_after(RETRY_MOST_MS);
    desk.on(Event::NotLetIn { dice: 0 });
    assert_eq!(desk.link.state(), LinkState::NotLetIn);
    assert!(desk.who().starts_with("The server does not let this display in any more."), "{}", desk.who());
    assert!(desk.link.known().is_none());
    // That nobody is there says nothing else.
    assert_eq!(desk.tick_after(RETRY_MOST_MS), [Action::Open]);
    desk.close();
    assert_eq!(desk.link.state(), LinkState::NotLetIn);
    desk.connect();
    assert_eq!(desk.link.state(), LinkState::Up);
    desk.view(1, 0, ready());
    assert_eq!(desk.who(), "Ayla");
}

#[test]
fn another_version_of_the_wire_is_not_spoken() {
    let mut desk = Desk::new();
    desk.tick_after(1);
    desk.on(Event::Opened);
    let epoch = desk.epoch;
    let actions = desk.frame(ToDisplay::Welcome { protocol: PROTOCOL + 1, epoch, rate: 1, now: NOW });
    assert_eq!(actions, [Action::Close]);
    desk.close();
    assert!(desk.who().contains("needs an update"));
}

#[test]
fn a_bad_frame_of_ours_is_said_and_the_link_lives_on() {
    let mut desk = Desk::up();
    desk.frame(ToDisplay::Fault { fault: Fault::Malformed { line: 1, column: 2 } });
    assert_eq!(desk.face().notice, "This display sent something unreadable.");
    assert_eq!(desk.link.state(), LinkState::Up);
}

#[test]
fn a_loss_and_a_return_change_nothing_but_what_the_link_allows() {
    let mut desk = Desk::up();
    let before = desk.face();
    let texts = |face: &Face| {
        let Body::Stations { panels } = &face.body else { panic!("{:?}", face.body) };
        let of = |panel: &Panel| (panel.who.clone(), panel.phase, panel.count.clone(), panel.load.clone());
        panels.iter().map(of).collect::<Vec<_>>()
    };
    desk.close();
    let lost = desk.face();
    assert!(!lost.link.is_empty());
    assert_eq!(texts(&lost), texts(&before));
    assert_eq!(desk.tick_after(RETRY_MOST_MS), [Action::Open]);
    assert_eq!(desk.face(), lost, "while it tries");
    desk.on(Event::Opened);
    assert_eq!(desk.face(), lost, "while it greets");
    let epoch = desk.epoch;
    desk.frame(ToDisplay::Welcome { protocol: PROTOCOL, epoch, rate: 0, now: NOW });
    assert_eq!(desk.face(), before, "before the view has come again");
    desk.view(1, 0, ready());
    assert_eq!(desk.face(), before);
}

//! A display whose settings were broken says so beside its usual face, and gives way to a call for help while it is set
//! up. One test: a process has one such loop.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "common/hand.rs"]
mod hand;
mod scenes;
#[path = "common/server.rs"]
mod server;

use std::rc::Rc;

use hand::{find, used_by};
use scenes::*;
use server::Server;
use slint::{ComponentHandle, Global, Weak};
use tokio::net::TcpListener;
use turnabout_kiosk::gate::NoGate;
use turnabout_kiosk::settings::store::Store;
use turnabout_kiosk::settings::{Over, Shows};
use turnabout_kiosk::surroundings::Plain;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_kiosk::window::{Opening, Running, Start};
use turnabout_protocol::frame::{Revision, ToDisplay};
use turnabout_protocol::text::Language;
use uuid::Uuid;

async fn play(listener: TcpListener, window: Weak<KioskWindow>) {
    let epoch = Uuid::from_u128(3);
    let (mut server, _) = Server::meet(&listener, epoch).await;
    server.show(epoch, 1, coming(rest(30), 30, 30, &[])).await;
    find(&window, "The settings could not be read. They are kept as kiosk.json.broken-1", false);
    window.upgrade_in_event_loop(|window| Kiosk::get(&window).invoke_setup_wanted()).unwrap();
    find(&window, "Set up this display", false);
    let help = all().into_iter().find(|sample| sample.face(Language::En).help.is_some()).unwrap();
    let said = help.face(Language::En).help.unwrap().title;
    let revision = Revision { epoch, sequence: 2, plan: 0 };
    let topic = "station/bench-1".parse().unwrap();
    server.say(&ToDisplay::View { topic, revision, as_of: NOW, view: help.view.unwrap() }).await;
    find(&window, &said, false);
}

#[test]
fn broken_settings_are_told_on_the_face_and_help_comes_before_setting_up() {
    let (window, listener) = (hand::window(), hand::listener());
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("kiosk.json");
    std::fs::write(&file, "{\"language\": \"de\"").unwrap();
    let (store, settings, aside) = Store::open(Some(file)).unwrap();
    let over = Over {
        server: Some(format!("http://{}", listener.local_addr().unwrap()).parse().unwrap()),
        shows: Some(Shows::Stations("bench-1".parse().unwrap())),
        ..Over::default()
    };
    let (settings, setup, opening) = (settings.with(over), false, Opening::Preferred);
    let start = Start {
        settings,
        store,
        aside,
        setup,
        opening,
        gate: Rc::new(NoGate),
        surroundings: Rc::new(Plain),
        speakers: None,
    };
    let _running = Running::begin(&window, start).unwrap();
    let weak = window.as_weak();
    used_by(&window, move || play(TcpListener::from_std(listener).unwrap(), weak));
}

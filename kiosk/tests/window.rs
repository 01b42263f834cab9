//! The window's own loop with the link as its task, on a screen that is only memory. One test: a process has
//! one such loop.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "common/hand.rs"]
mod hand;
mod scenes;
#[path = "common/server.rs"]
mod server;

use hand::{find, used_by};
use scenes::*;
use server::Server;
use slint::{ComponentHandle, Weak};
use tokio::net::TcpListener;
use turnabout_kiosk::link::address::socket_url;
use turnabout_kiosk::link::{Identity, Link};
use turnabout_kiosk::ui::KioskWindow;
use turnabout_kiosk::window::connect;
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::{ToDisplay, ToServer};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::role::{Role, Topic};
use turnabout_protocol::text::Language;
use uuid::Uuid;

async fn play(listener: TcpListener, window: Weak<KioskWindow>) {
    find(&window, "Looking for the server", false);
    let epoch = Uuid::from_u128(3);
    let (mut server, _) = Server::meet(&listener, epoch).await;
    server.show(epoch, 1, coming(rest(30), 30, 30, &[])).await;
    find(&window, "0:30", false);
    server.say(&ToDisplay::Clock { now: at(30) }).await;
    find(&window, "When you are ready", false);
    find(&window, "Go", true);
    let ToServer::Command(go) = server.hear().await else { panic!("a command") };
    assert_eq!((go.act, go.at), (Act::Go { turn: turn_id(1, 2, 0) }, at(30)));
    drop(server);
    find(&window, "No link to the server, as of 18:50:30. Counting on.", false);
}

#[test]
fn a_window_follows_its_server_sends_taps_and_says_when_the_link_is_lost() {
    let (window, listener) = (hand::window(), hand::listener());
    let url = socket_url(&format!("http://{}", listener.local_addr().unwrap())).unwrap();
    let stations = vec!["bench-1".parse().unwrap()];
    let identity = Identity {
        device: DeviceId(Uuid::from_u128(1)),
        role: Role::Station { stations: stations.clone() },
        topic: Topic::Station(stations),
    };
    connect(&window, url, Link::new(identity), Language::En).unwrap();
    let weak = window.as_weak();
    used_by(&window, move || play(TcpListener::from_std(listener).unwrap(), weak));
}

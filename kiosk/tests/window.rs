//! The window's own loop with the link as its task, on a screen that is only memory. One test: a process has
//! one such loop.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "common/hand.rs"]
mod hand;
mod scenes;
#[path = "common/server.rs"]
mod server;

use hand::{Quit, find};
use i_slint_backend_testing::{TestingBackend, TestingBackendOptions};
use scenes::*;
use server::Server;
use slint::{ComponentHandle, PhysicalSize, Weak};
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
    let options =
        TestingBackendOptions { mock_time: false, threading: true, renderer_name: Some("software".into()) };
    slint::platform::set_platform(Box::new(TestingBackend::new(options))).unwrap();
    let listener = std::net::TcpListener::bind(("127.0.0.1", 0)).unwrap();
    listener.set_nonblocking(true).unwrap();
    let url = socket_url(&format!("http://{}", listener.local_addr().unwrap())).unwrap();
    let stations = vec!["bench-1".parse().unwrap()];
    let identity = Identity {
        device: DeviceId(Uuid::from_u128(1)),
        role: Role::Station { stations: stations.clone() },
        topic: Topic::Station(stations),
    };
    let window = KioskWindow::new().unwrap();
    window.window().set_size(PhysicalSize::new(1920, 1080));
    connect(&window, url, Link::new(identity), Language::En).unwrap();
    let weak = window.as_weak();
    let player = std::thread::spawn(move || {
        let _quit = Quit;
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        runtime.block_on(async { play(TcpListener::from_std(listener).unwrap(), weak).await });
    });
    window.run().unwrap();
    player.join().unwrap();
}

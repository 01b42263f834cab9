//! A window that knows nothing is set up by touch, follows its server, and is set up again. One test: a process has one
//! such loop.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "common/hand.rs"]
mod hand;
mod scenes;
#[path = "common/server.rs"]
mod server;

use std::path::Path;
use std::rc::Rc;
use std::sync::{Arc, Mutex};
use std::time::Instant;

use hand::{find, used_by};
use scenes::*;
use server::{PATIENCE, Server};
use slint::{ComponentHandle, Global, Weak};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpListener;
use turnabout_kiosk::gate::NoGate;
use turnabout_kiosk::settings::Shows;
use turnabout_kiosk::settings::file::read;
use turnabout_kiosk::settings::store::Store;
use turnabout_kiosk::sound::{Cue, Digit, Speaker, Speakers};
use turnabout_kiosk::surroundings::Plain;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_kiosk::window::{End, Opening, Running, Start};
use turnabout_protocol::frame::{ToDisplay, ToServer};
use turnabout_protocol::text::Language;
use uuid::Uuid;

/// A speaker that takes down what it is asked for.
#[derive(Clone, Debug, Default)]
struct Paper(Arc<Mutex<Vec<Cue>>>);

impl Speaker for Paper {
    fn soon(&mut self) {}

    fn play(&mut self, cue: Cue) {
        self.0.lock().unwrap().push(cue);
    }

    fn trouble(&self) -> Option<String> {
        None
    }
}

impl Paper {
    /// What it was asked for since, once that is something.
    fn wait(&self) -> Vec<Cue> {
        let began = Instant::now();
        loop {
            let heard = std::mem::take(&mut *self.0.lock().unwrap());
            if !heard.is_empty() {
                return heard;
            }
            assert!(began.elapsed() < PATIENCE, "nothing was ever played");
            std::thread::yield_now();
        }
    }
}

/// Answers one question for the stations.
async fn name_stations(listener: &TcpListener) {
    let (mut stream, _) = listener.accept().await.unwrap();
    let mut asked = Vec::new();
    while !asked.ends_with(b"\r\n\r\n") {
        asked.push(stream.read_u8().await.unwrap());
    }
    let floor = r#"{"stations":[{"key":"bench-1","name":"Bench 1"},{"key":"row-1","name":"Row 1"}]}"#;
    let answer = format!("HTTP/1.1 200 OK\r\ncontent-length: {}\r\n\r\n{floor}", floor.len());
    stream.write_all(answer.as_bytes()).await.unwrap();
}

async fn play(listener: TcpListener, window: Weak<KioskWindow>, file: &Path, paper: Paper) {
    let press = |label: &str| find(&window, label, true);
    let see = |label: &str| find(&window, label, false);
    see("First choose the server");
    press("Server: not chosen yet");
    let address = listener.local_addr().unwrap().to_string();
    for letter in address.chars() {
        press(&letter.to_string());
    }
    see(&format!("{address}|"));
    press("Done");
    name_stations(&listener).await;
    press("Shows: not chosen yet");
    press("Bench 1");
    press("Done");
    press("Language: English");
    press("Deutsch");
    press("Start");
    let epoch = Uuid::from_u128(3);
    let (mut server, hello) = Server::meet(&listener, epoch).await;
    let ToServer::Hello { topic, device, .. } = hello else { panic!("{hello:?}") };
    assert_eq!(topic.to_string(), "station/bench-1");
    let kept = read(&std::fs::read(file).unwrap()).unwrap();
    assert_eq!((kept.device, kept.language), (device, Language::De));
    assert_eq!(kept.shows, Some(Shows::Stations("bench-1".parse().unwrap())));
    server.show(epoch, 1, coming(rest(30), 30, 30, &[])).await;
    see("0:30");

    // Left as it was, nothing changes: the same socket goes on.
    let wanted = || window.upgrade_in_event_loop(|window| Kiosk::get(&window).invoke_setup_wanted()).unwrap();
    wanted();
    see("Diesen Bildschirm einrichten");
    name_stations(&listener).await;
    press("Lassen wie es war");
    see("0:30");

    // Another language is only another language: the link stays as well.
    wanted();
    name_stations(&listener).await;
    press("Sprache: Deutsch");
    press("English");
    press("Start");
    server.show(epoch, 2, coming(rest(20), 20, 20, &[])).await;
    see("0:20");

    // Sound is heard as soon as it is chosen, and then with the floor.
    wanted();
    name_stations(&listener).await;
    press("Sound: off");
    press("on");
    assert_eq!(paper.wait(), [Cue::Go]);
    press("Start");
    for (secs, left) in [(16, "0:04"), (17, "0:03"), (18, "0:02")] {
        server.say(&ToDisplay::Clock { now: at(secs) }).await;
        see(left);
    }
    assert_eq!(paper.wait(), [Cue::RestEnds(Digit::Three), Cue::RestEnds(Digit::Two)]);

    // Other stations are another link.
    wanted();
    name_stations(&listener).await;
    press("Shows: Bench 1");
    press("Row 1");
    press("Done");
    press("Start");
    let (_server, hello) = Server::meet(&listener, epoch).await;
    let ToServer::Hello { topic, .. } = hello else { panic!("{hello:?}") };
    assert_eq!(topic.to_string(), "station/bench-1,row-1");
}

#[test]
fn a_display_is_set_up_by_touch_and_again_while_it_runs() {
    let (window, listener) = (hand::window(), hand::listener());
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("kiosk.json");
    let (store, settings, aside) = Store::open(Some(file.clone())).unwrap();
    let (setup, opening, gate, surroundings) = (false, Opening::Preferred, Rc::new(NoGate), Rc::new(Plain));
    let heard = Paper::default();
    let own = heard.clone();
    let speakers: Option<Speakers> = Some(Rc::new(move || Box::new(own.clone())));
    let start = Start { settings, store, aside, setup, opening, gate, surroundings, speakers };
    let running = Running::begin(&window, start).unwrap();
    let weak = window.as_weak();
    let user = async move || play(TcpListener::from_std(listener).unwrap(), weak, &file, heard).await;
    used_by(&window, user);
    assert_eq!(running.end(), End::Closed);
}

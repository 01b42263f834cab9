//! Setting a display up: what is asked, what a touch does, and what comes of it.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod scenes;

use proptest::prelude::*;
use scenes::*;
use turnabout_kiosk::duty::turning::Turner;
use turnabout_kiosk::settings::{Inches, Rotation, Settings, Shows};
use turnabout_kiosk::setup::{
    Choice, Effect, NoAnswer, Page, Plain, Setup, SetupKey, Step, Surroundings, ask,
};
use turnabout_kiosk::sound::Ability;
use turnabout_protocol::text::Language;

/// The key with that label, pressed.
fn press(setup: &mut Setup, label: &str) -> Option<Effect> {
    let face = setup.face();
    let key = face.keys.iter().chain(&face.row).find(|key| key.label == label);
    let key = key.unwrap_or_else(|| panic!("no {label} on {face:#?}"));
    let key = face.key(&key.name).unwrap_or_else(|| panic!("{label} cannot be pressed"));
    setup.take(&key.step, &Plain)
}

fn key<'f>(keys: &'f [SetupKey], label: &str) -> &'f SetupKey {
    keys.iter().find(|key| key.label == label).unwrap()
}

#[test]
fn a_coach_goes_from_nothing_to_four_stations() {
    let settings = unset(Language::En);
    let mut setup = Setup::new(&settings, Turner::Program, false, None);
    assert_eq!(setup.begin(&Plain), None, "nobody is asked before a server is known");
    assert_eq!(setup.face().note, "First choose the server");
    press(&mut setup, "Server");
    for letter in "10.0.0.5:7474x".chars() {
        press(&mut setup, &letter.to_string());
    }
    assert_eq!(setup.face().note, "Behind the colon belongs a number from 1 to 65535");
    press(&mut setup, "←");
    assert_eq!(setup.face().typed.as_deref(), Some("10.0.0.5:7474"));
    let effect = press(&mut setup, "Done");
    let Some(Effect::Ask(_, server)) = &effect else { panic!("{effect:?}") };
    assert_eq!(server.url(), "ws://10.0.0.5:7474/socket");
    assert_eq!(setup.face().note, "Now choose what it shows");
    press(&mut setup, "Shows");
    assert_eq!(setup.face().note, "Asking the server which stations there are");
    answer(&mut setup, effect.as_ref(), Ok(some_stations(17)));
    press(&mut setup, "The board");
    for name in ["Bench 1", "Row 1", "Rack 1"] {
        press(&mut setup, name);
    }
    press(&mut setup, "More stations");
    press(&mut setup, "Platform 3");
    let face = setup.face();
    assert!(
        face.keys.iter().all(|k| k.chosen || !k.enabled || !matches!(k.step, Step::Station(_))),
        "four are all"
    );
    assert!(!key(&face.keys, "The board").chosen);
    press(&mut setup, "Done");
    press(&mut setup, "Language");
    press(&mut setup, "Deutsch");
    press(&mut setup, "Größe");
    press(&mut setup, "15,6 Zoll");
    press(&mut setup, "Bild");
    press(&mut setup, "Ein Viertel nach rechts");
    assert_eq!(key(&setup.face().keys, "Zeigt").value, "Bench 1, Row 1, Rack 1, Platform 3");
    let Some(Effect::Save(saved)) = press(&mut setup, "Start") else { panic!("settings") };
    assert_eq!(
        *saved,
        Settings {
            device: settings.device,
            server: Some("http://10.0.0.5:7474".parse().unwrap()),
            shows: Some(Shows::Stations("bench-1,row-1,rack-1,platform-3".parse().unwrap())),
            rotation: Some(Rotation::Quarter),
            language: Language::De,
            inches: Inches::of(15.6).unwrap(),
            sound: false,
        }
    );
}

#[test]
fn a_station_is_typed_where_no_server_names_any() {
    let mut setup = set_up(&with_server(Language::En), &Plain, Some(Err(NoAnswer::Unreachable)), &[]);
    assert_eq!(setup.face().note, "Now choose what it shows");
    // Whoever looks again has the server asked again.
    let effect = press(&mut setup, "Shows");
    answer(&mut setup, effect.as_ref(), Err(NoAnswer::Stranger));
    assert_eq!(setup.face().note, "What answers at 192.168.0.20:7474 is no Turnabout server");
    press(&mut setup, "Type a station");
    for letter in "-1".chars() {
        press(&mut setup, &letter.to_string());
    }
    assert!(!key(&setup.face().row, "Done").enabled, "a key begins with a letter");
    for _ in 0..2 {
        press(&mut setup, "←");
    }
    for letter in "b1".chars() {
        press(&mut setup, &letter.to_string());
    }
    press(&mut setup, "Done");
    assert!(key(&setup.face().keys, "b1").chosen);
    press(&mut setup, "Done");
    let Some(Effect::Save(saved)) = press(&mut setup, "Start") else { panic!("settings") };
    assert_eq!(saved.shows, Some(Shows::Stations("b1".parse().unwrap())));
}

#[test]
fn an_answer_that_comes_after_another_server_was_asked_is_nobodys() {
    let mut setup = Setup::new(&with_server(Language::En), Turner::Program, false, None);
    let old = setup.begin(&Plain);
    press(&mut setup, "Server");
    press(&mut setup, "←");
    let new = press(&mut setup, "Done");
    answer(&mut setup, old.as_ref(), Ok(some_stations(3)));
    press(&mut setup, "Shows");
    assert_eq!(setup.face().note, "Asking the server which stations there are");
    answer(&mut setup, new.as_ref(), Ok(some_stations(3)));
    assert_eq!(setup.face().note, "The board, or one to four stations");
}

#[test]
fn what_the_surroundings_do_not_offer_is_not_there() {
    let full = with_stations(Language::En);
    let plain = set_up(&full, &Plain, Some(Ok(some_stations(7))), &[]);
    assert_eq!(plain.face().note, "Start keeps all of this");
    assert_eq!(key(&plain.face().keys, "Server").step, Step::Open(Page::Of(Choice::Server)));
    let mut helpful = set_up(&full, &Helpful, Some(Ok(some_stations(7))), &[]);
    assert_eq!(helpful.face().note, "Tell the server this code: 482 913");
    press(&mut helpful, "Server");
    let found = helpful.face().keys;
    assert_eq!(
        found.iter().map(|key| key.label.as_str()).collect::<Vec<_>>(),
        ["192.168.0.20:7474", "floor.local:7474", "Type it"]
    );
    let effect = helpful.take(&found[1].step, &Helpful);
    let Some(Effect::Ask(_, server)) = effect else { panic!("{effect:?}") };
    assert_eq!(server.written(), "http://floor.local:7474");
    press(&mut helpful, "Server");
    press(&mut helpful, "Type it");
    assert_eq!(helpful.face().typed.as_deref(), Some("floor.local:7474"));
}

#[test]
fn the_picture_is_turned_only_where_the_program_can() {
    let setup = Setup::new(&with_stations(Language::En), Turner::Desktop, true, None);
    let picture = key(&setup.face().keys, "Picture").clone();
    assert!(!picture.enabled);
    assert_eq!(picture.value, "the desktop turns it");
}

#[test]
fn sound_is_asked_of_a_display_that_can_be_heard_and_of_no_other() {
    let full = with_stations(Language::En);
    let told = || set_up(&full, &Plain, Some(Ok(some_stations(17))), &[]);
    assert!(told().face().keys.iter().all(|key| key.label != "Sound"), "built without it");
    let mut setup = told().heard(Ability::Works);
    assert_eq!(key(&setup.face().keys, "Sound").value, "off", "off unless somebody wants it");
    press(&mut setup, "Sound");
    assert!(key(&setup.face().keys, "off").chosen);
    press(&mut setup, "on");
    assert_eq!(key(&setup.face().keys, "Sound").value, "on");
    assert_eq!(setup.face().note, "Start keeps all of this");
    let Some(Effect::Save(saved)) = press(&mut setup, "Start") else { panic!("settings") };
    assert_eq!(*saved, Settings { sound: true, ..full });
    // A setting that came from another board stays as it is, also where nothing can be heard.
    let mut silent = set_up(&saved, &Plain, Some(Ok(some_stations(17))), &[]);
    let Some(Effect::Save(again)) = press(&mut silent, "Start") else { panic!("settings") };
    assert_eq!(again, saved);
}

#[test]
fn why_nothing_is_heard_is_said_where_somebody_wants_to_hear() {
    let off = with_stations(Language::En);
    let on = Settings { sound: true, ..off.clone() };
    let fails = |settings: &Settings| {
        let setup = set_up(settings, &Plain, Some(Ok(some_stations(17))), &[]);
        setup.heard(Ability::Fails("No such file or directory".into()))
    };
    let note = |setup: &Setup| (setup.face().note, setup.face().warns);
    let silent = ("No sound: No such file or directory".to_owned(), true);
    assert_eq!(note(&fails(&on)), silent);
    assert_eq!(note(&fails(&off)).0, "Start keeps all of this");
    let mut setup = fails(&off);
    press(&mut setup, "Sound");
    assert_eq!(note(&setup), silent);
}

#[test]
fn there_is_no_way_back_to_a_face_that_is_not_there() {
    let mut first = Setup::new(&unset(Language::En), Turner::Program, false, None);
    assert_eq!(first.face().row.len(), 1);
    assert_eq!(first.take(&Step::Leave, &Plain), None);
    assert_eq!(first.take(&Step::Save, &Plain), None, "nor is anything kept that is not complete");
    let mut again = Setup::new(&with_stations(Language::En), Turner::Program, true, None);
    assert_eq!(press(&mut again, "Leave as it was"), Some(Effect::Leave));
}

#[test]
fn what_could_not_be_kept_is_said() {
    let mut setup = set_up(&with_stations(Language::En), &Plain, Some(Ok(some_stations(7))), &[]);
    setup.not_saved("the disk is full".into());
    assert_eq!((setup.face().note.as_str(), setup.face().warns), ("Not saved: the disk is full", true));
    press(&mut setup, "Language");
    press(&mut setup, "Back");
    assert_eq!(setup.face().note, "Start keeps all of this");
}

#[test]
fn every_word_is_in_every_catalogue() {
    for (name, setup) in Language::ALL.into_iter().flat_map(setups) {
        let face = setup.face();
        let keys = face.keys.iter().chain(&face.row).flat_map(|key| [&key.label, &key.value]);
        for text in keys.chain([&face.title, &face.note]) {
            assert!(!text.contains("label.") && !text.contains('{'), "{name}: {text}");
        }
        assert!(face.keys.iter().chain(&face.row).all(|key| !key.label.is_empty()), "{name}");
    }
}

fn take(setup: &mut Setup, step: &Step, helpful: bool) -> Option<Effect> {
    if helpful { setup.take(step, &Helpful) } else { setup.take(step, &Plain) }
}

proptest! {
    /// Whatever is pressed in whatever order: what can be chosen are keys of the face, each of them once, there is always
    /// one, what is kept can be read from a file again, and no word is missing.
    #[test]
    fn no_order_of_touches_leads_into_a_corner(
        touches in prop::collection::vec(any::<prop::sample::Index>(), 0..60),
        helpful in any::<bool>(),
        german in any::<bool>(),
        answered in any::<bool>(),
    ) {
        let language = if german { Language::De } else { Language::En };
        let mut setup = Setup::new(&unset(language), Turner::Program, false, None);
        if helpful { setup.begin(&Helpful) } else { setup.begin(&Plain) };
        for touch in touches {
            let choices = setup.choices();
            prop_assert!(!choices.is_empty());
            let face = setup.face();
            let name = touch.get(&choices);
            prop_assert_eq!(choices.iter().filter(|other| *other == name).count(), 1);
            prop_assert!(!face.title.starts_with("label."));
            let step = face.key(name).unwrap().step.clone();
            match take(&mut setup, &step, helpful) {
                Some(Effect::Ask(number, _)) => {
                    setup.answered(number, if answered { Ok(some_stations(11)) } else { Err(NoAnswer::Unreachable) });
                }
                Some(Effect::Save(saved)) => {
                    let text = turnabout_kiosk::settings::file::write(&saved);
                    prop_assert_eq!(turnabout_kiosk::settings::file::read(text.as_bytes()), Ok(*saved));
                }
                Some(Effect::Leave) => prop_assert!(false, "there is nothing to go back to"),
                None => {}
            }
        }
    }
}

/// A server that gives one answer to one question; what it was asked.
async fn once(listener: tokio::net::TcpListener, answer: String) -> String {
    use tokio::io::{AsyncReadExt, AsyncWriteExt};
    let (mut stream, _) = listener.accept().await.unwrap();
    let mut asked = Vec::new();
    while !asked.ends_with(b"\r\n\r\n") {
        asked.push(stream.read_u8().await.unwrap());
    }
    stream.write_all(answer.as_bytes()).await.unwrap();
    String::from_utf8(asked).unwrap()
}

#[tokio::test]
async fn a_server_is_asked_for_its_stations_and_a_stranger_is_told_from_nobody() {
    let floor = r#"{"name":"Hall","coaches":[],"stations":[{"key":"bench-1","name":"Bench 1"}]}"#;
    let whole = format!("HTTP/1.1 200 OK\r\ncontent-length: {}\r\n\r\n{floor}", floor.len());
    let (first, second) = floor.split_at(20);
    let pieces = format!(
        "HTTP/1.1 200 OK\r\ntransfer-encoding: chunked\r\n\r\n{:x}\r\n{first}\r\n{:x}\r\n{second}\r\n0\r\n\r\n",
        first.len(),
        second.len()
    );
    let stranger = Err(NoAnswer::Stranger);
    for (told, answer) in [
        (whole, Ok(some_stations(1))),
        (pieces, Ok(some_stations(1))),
        ("HTTP/1.1 404 Not Found\r\ncontent-length: 0\r\n\r\n".to_owned(), stranger.clone()),
        ("HTTP/1.1 200 OK\r\ncontent-length: 2\r\n\r\n{}".to_owned(), stranger.clone()),
        ("HTTP/1.1 200 OK\r\ncontent-length: 99\r\n\r\n{".to_owned(), stranger.clone()),
        ("SSH-2.0-something\r\n".to_owned(), stranger),
    ] {
        let listener = tokio::net::TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
        let server = format!("http://{}", listener.local_addr().unwrap()).parse().unwrap();
        let (stations, asked) = tokio::join!(ask::stations(&server), once(listener, told.clone()));
        assert_eq!(stations, answer, "{told}");
        assert!(asked.starts_with("GET /floor.json HTTP/1.1\r\nhost: 127.0.0.1:"), "{asked}");
    }
    let listener = tokio::net::TcpListener::bind(("127.0.0.1", 0)).await.unwrap();
    let server = format!("http://{}", listener.local_addr().unwrap()).parse().unwrap();
    drop(listener);
    assert_eq!(ask::stations(&server).await, Err(NoAnswer::Unreachable));
    assert!(Plain.found().is_empty());
}

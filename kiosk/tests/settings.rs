//! The file of settings: what it holds, what it refuses, and what becomes of it when it is broken.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use turnabout_kiosk::link::token::{NoToken, Token};
use turnabout_kiosk::settings::file::{read, write};
use turnabout_kiosk::settings::store::{Store, default_path};
use turnabout_kiosk::settings::{Inches, Over, Rotation, Settings, Shows, StationList};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::text::Language;
use uuid::Uuid;

fn full() -> Settings {
    Settings {
        device: DeviceId(Uuid::from_u128(7)),
        server: Some("http://192.168.0.20:7474".parse().unwrap()),
        shows: Some(Shows::Stations("bench-1,row-1".parse().unwrap())),
        rotation: Some(Rotation::Quarter),
        language: Language::De,
        inches: Inches::of(15.6).unwrap(),
        sound: true,
        token: Some("kx8Dq0Zc1mYw5tLr7vUe2A==".parse().unwrap()),
    }
}

const FULL: &str = r#"{
  "device": "00000000-0000-0000-0000-000000000007",
  "server": "http://192.168.0.20:7474",
  "shows": ["bench-1","row-1"],
  "rotation": 90,
  "language": "de",
  "diagonal": 15.6,
  "sound": true,
  "token": "kx8Dq0Zc1mYw5tLr7vUe2A=="
}
"#;

#[test]
fn a_file_is_written_as_a_person_would() {
    assert_eq!(write(&full()), FULL);
    assert_eq!(read(FULL.as_bytes()), Ok(full()));
}

fn settings() -> impl Strategy<Value = Settings> {
    let shows = prop_oneof![
        Just(None),
        Just(Some(Shows::Board)),
        prop::collection::btree_set("[a-z][a-z0-9-]{0,31}", 1..=4).prop_map(|keys| {
            let keys: Vec<_> = keys.iter().map(|key| key.parse().unwrap()).collect();
            Some(Shows::Stations(StationList::new(&keys).unwrap()))
        }),
    ];
    let server =
        prop::option::of("(http|ws)://[a-z]{1,9}(:[1-9][0-9]{0,3})?".prop_map(|s| s.parse().unwrap()));
    let rotation = prop::option::of(prop::sample::select(Rotation::ALL.to_vec()));
    let language = prop::sample::select(Language::ALL.to_vec());
    let token = prop::option::of("[A-Za-z0-9._~+/-]{1,60}={0,2}".prop_map(|text| text.parse().unwrap()));
    let own = (any::<bool>(), token);
    (any::<u128>(), server, shows, rotation, language, Inches::LEAST..=Inches::MOST, own).prop_map(
        |(device, server, shows, rotation, language, tenths, (sound, token))| Settings {
            device: DeviceId(Uuid::from_u128(device)),
            server,
            shows,
            rotation,
            language,
            inches: Inches::of_tenths(tenths).unwrap(),
            sound,
            token,
        },
    )
}

proptest! {
    #[test]
    fn what_is_written_is_read_and_half_of_it_never(settings in settings(), cut in 0.0..1.0_f64) {
        let text = write(&settings);
        prop_assert_eq!(read(text.as_bytes()), Ok(settings));
        // Without the last brace at the latest.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "a short text")]
        let half = ((text.len() - 2) as f64 * cut) as usize;
        prop_assert!(read(&text.as_bytes()[..half]).is_err(), "{}", &text[..half]);
    }

    #[test]
    fn no_bytes_are_too_strange_to_be_refused(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        if let Err(broken) = read(&bytes) {
            prop_assert!(!broken.to_string().is_empty());
        }
    }
}

#[test]
fn what_is_wrong_is_told_by_line_or_field_with_what_was_found_and_what_is_allowed() {
    for (text, told) in [
        ("", "line 1, column 0: EOF while parsing a value; allowed is a JSON object"),
        ("{\n  \"language\": tru", "line 2, column 17: EOF while parsing a value; allowed is a JSON object"),
        (
            "[1]",
            "found [1], allowed is a JSON object of device, server, shows, rotation, language, diagonal, sound, \
             token",
        ),
        (
            r#"{"volume": 3}"#,
            "field `volume`: there is no such setting; allowed are device, server, shows, rotation, language, \
             diagonal, sound, token",
        ),
        (r#"{"device": "me"}"#, "field `device`: found \"me\", allowed is a UUID"),
        (
            r#"{"server": "https://floor"}"#,
            "field `server`: found \"https://floor\", allowed is an address such as http://192.168.0.20:7474",
        ),
        (
            r#"{"shows": ["a", "a"]}"#,
            "field `shows`: found [\"a\",\"a\"], allowed is \"board\", or a list of one to four station keys, none \
             twice",
        ),
        (r#"{"rotation": 45}"#, "field `rotation`: found 45, allowed is 0, 90, 180 or 270"),
        (r#"{"language": "xx"}"#, "field `language`: found \"xx\", allowed is \"en\" or \"de\""),
        (r#"{"sound": "loud"}"#, "field `sound`: found \"loud\", allowed is true or false"),
        (
            r#"{"token": "two words"}"#,
            "field `token`: found something else, allowed is 1 to 512 letters, digits and -._~+/, with = at the end only",
        ),
        (r#"{"diagonal": 4.9}"#, "field `diagonal`: found 4.9, allowed is inches, 5 to 120, such as 15.6"),
    ] {
        assert_eq!(read(text.as_bytes()).unwrap_err().to_string(), told, "{text}");
    }
}

#[test]
fn the_command_line_goes_over_the_file() {
    let over = Over {
        server: Some("http://floor:1".parse().unwrap()),
        shows: Some(Shows::Board),
        rotation: Some(Rotation::Half),
        language: Some(Language::En),
        inches: Inches::of(10.1),
        sound: Some(false),
    };
    let settings = full().with(over.clone());
    let same = Over { server: full().server, ..Over::default() };
    assert_eq!(full().with(same), full(), "its own server goes on knowing it");
    assert_eq!(settings.device, full().device);
    assert_eq!(
        settings,
        Settings {
            device: full().device,
            server: over.server,
            shows: over.shows,
            rotation: over.rotation,
            language: Language::En,
            inches: Inches::of(10.1).unwrap(),
            sound: false,
            token: None,
        },
        "what one server knows the display by is not told another"
    );
    assert_eq!(full().with(Over::default()), full());
    assert_eq!(full().goal().unwrap().door.url, "ws://192.168.0.20:7474/socket");
    assert_eq!(Settings::new(full().device).goal(), None);
    assert!(!Settings::new(full().device).sound, "a display is silent unless somebody wants to hear it");
}

#[test]
fn settings_lie_where_the_desktop_says() {
    let path = |config: Option<&str>, home: Option<&str>| {
        default_path(config.map(Into::into), home.map(Into::into)).map(|path| path.display().to_string())
    };
    let said = |path: &str| Some(path.to_owned());
    assert_eq!(path(Some("/c"), Some("/h")), said("/c/turnabout/kiosk.json"));
    assert_eq!(path(None, Some("/h")), said("/h/.config/turnabout/kiosk.json"));
    assert_eq!(
        path(Some("c"), Some("/h")),
        said("/h/.config/turnabout/kiosk.json"),
        "a relative one is none"
    );
    assert_eq!(path(None, Some("")), None);
    assert_eq!(path(None, None), None);
}

fn file_in(folder: &Path) -> PathBuf {
    folder.join("new").join("kiosk.json")
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<_> = entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_display_is_the_same_one_after_every_start() {
    let folder = tempfile::tempdir().unwrap();
    let path = file_in(folder.path());
    let (store, first, aside) = Store::open(Some(path.clone())).unwrap();
    assert_eq!((aside, &first), (None, &Settings::new(first.device)));
    drop(store);
    let (store, again, _) = Store::open(Some(path.clone())).unwrap();
    assert_eq!(again, first);
    store.save(&full()).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), FULL);
    let mode = fs::metadata(&path).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600, "there is a secret in it: {mode:o}");
    drop(store);
    assert_eq!(Store::open(Some(path.clone())).unwrap().1, full());
    assert_eq!(names(path.parent().unwrap()), ["kiosk.json", "kiosk.json.lock"]);
}

#[test]
fn a_file_written_by_hand_without_a_device_gets_one_that_stays() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hall.json");
    fs::write(&path, r#"{"server": "http://floor:7474", "shows": "board"}"#).unwrap();
    let (store, first, aside) = Store::open(Some(path.clone())).unwrap();
    assert_eq!((aside, &first.shows), (None, &Some(Shows::Board)));
    drop(store);
    assert_eq!(Store::open(Some(path)).unwrap().1, first);
}

#[test]
fn a_broken_file_is_set_aside_and_kept_as_often_as_there_is_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kiosk.json");
    for (n, broken) in ["", &FULL[..40], "{\"language\": 1}", "\u{0}\u{0}\u{0}\u{0}"].into_iter().enumerate()
    {
        fs::write(&path, broken).unwrap();
        let (store, settings, aside) = Store::open(Some(path.clone())).unwrap();
        let aside = aside.unwrap();
        assert_eq!(settings, Settings::new(settings.device), "a new display");
        assert_eq!(aside.kept, folder.path().join(format!("kiosk.json.broken-{}", n + 1)));
        assert_eq!(fs::read_to_string(&aside.kept).unwrap(), broken);
        let told = aside.to_string();
        assert!(
            told.contains(aside.kept.to_str().unwrap()) && told.contains(path.to_str().unwrap()),
            "{told}"
        );
        drop(store);
        assert_eq!(
            Store::open(Some(path.clone())).unwrap().1,
            settings,
            "and the next start is that display"
        );
    }
}

#[test]
fn what_was_half_written_before_the_power_went_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kiosk.json");
    fs::write(&path, FULL).unwrap();
    fs::write(folder.path().join("kiosk.json.new"), &FULL[..30]).unwrap();
    let (store, settings, aside) = Store::open(Some(path.clone())).unwrap();
    assert_eq!((settings, aside), (full(), None));
    store.save(&full()).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), FULL);
}

#[test]
fn only_one_kiosk_goes_by_a_file_and_the_other_says_who_holds_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kiosk.json");
    let (store, _, _) = Store::open(Some(path.clone())).unwrap();
    let told = Store::open(Some(path.clone())).unwrap_err().to_string();
    assert!(told.contains(&format!("(process {})", std::process::id())), "{told}");
    assert!(told.contains("kiosk.json.lock") && told.contains("--settings"), "{told}");
    drop(store);
    assert!(Store::open(Some(path)).is_ok());
}

#[test]
fn a_folder_that_takes_no_file_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let wrong = folder.path().join("a-file");
    fs::write(&wrong, "").unwrap();
    let told = Store::open(Some(wrong.join("kiosk.json"))).unwrap_err().to_string();
    assert!(told.contains("a-file/kiosk.json") && told.contains("--settings"), "{told}");
    // A folder in place of the file.
    let told = Store::open(Some(folder.path().to_owned())).unwrap_err().to_string();
    assert!(told.starts_with("cannot read the settings"), "{told}");
}

#[test]
fn a_token_is_as_the_standard_has_it_and_says_nothing_of_itself() {
    // RFC 6750, section 2.1: b64token = 1*( ALPHA / DIGIT / "-" / "." / "_" / "~" / "+" / "/" ) *"=", and its example.
    for token in ["mF_9.B5f-4.1JqM", "a", "~+/==", &"x".repeat(Token::MOST)] {
        assert_eq!(token.parse::<Token>().map(|token| token.secret().to_owned()), Ok(token.to_owned()));
    }
    for no_token in ["", "=", "a=b", "two words", "a\r\nx", "\u{e9}", &"x".repeat(Token::MOST + 1)] {
        assert_eq!(no_token.parse::<Token>(), Err(NoToken), "{no_token:?}");
    }
    assert!(!format!("{:?}", full()).contains("kx8Dq0"), "{:?}", full());
}

//! From the disk: what is no text, no file, or too much.

use std::fs;

use turnabout_server::setup::{limits, read_floor, read_programme, report};

use crate::small;

/// What is told about a file with these bytes, without the folder it lies in.
fn told(bytes: &[u8]) -> String {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("floor.toml");
    fs::write(&path, bytes).expect("a temporary file");
    let folder = format!("{}/", folder.path().display());
    read_floor(&path, None).map_or_else(|m| m.to_string().replace(&folder, ""), |_| String::new())
}

#[test]
fn files_are_read_from_the_disk() {
    let folder = tempfile::tempdir().unwrap();
    let (floor, programme) = (folder.path().join("f.toml"), folder.path().join("p.toml"));
    fs::write(&floor, small::FLOOR).unwrap();
    fs::write(&programme, small::PROGRAMME).unwrap();
    let floor = read_floor(&floor, None).unwrap();
    assert_eq!(floor, small::floor());
    assert_eq!(read_programme(&programme, &floor.floor).unwrap().programme.groups.len(), 1);
}

#[test]
fn a_file_that_is_not_there_is_said_to_be() {
    let mistakes = read_floor("no/such/floor.toml".as_ref(), None).unwrap_err();
    assert_eq!(mistakes.to_string(), "no/such/floor.toml: cannot be read: entity not found");
    assert!(report::picture(&mistakes, report::Look::Plain).contains("cannot be read"));
}

#[test]
fn what_is_not_utf_8_is_told_by_its_byte() {
    let bytes = b"[floor]\nname = \"H\xfcgel\"\n";
    let expected = "floor.toml:2:10: found a byte that is not text (byte 18 of the file), allowed UTF-8 \
                    (save the file as UTF-8)";
    assert_eq!(told(bytes), expected);
}

#[test]
fn a_file_may_have_its_limit_and_no_more() {
    let most = usize::try_from(limits::FILE_BYTES).unwrap();
    let mut text = format!("{}#", small::FLOOR);
    text.extend(std::iter::repeat_n('x', most - text.len()));
    assert_eq!(told(text.as_bytes()), "");
    text.push('x');
    assert_eq!(told(text.as_bytes()), "floor.toml: found more than 1048576 bytes, allowed at most 1048576");
}

#[test]
fn a_byte_order_mark_and_carriage_returns_change_nothing() {
    let text = format!("\u{feff}{}", small::FLOOR.replace('\n', "\r\n"));
    assert_eq!(told(text.as_bytes()), "");
    let wrong = text.replace("\"UTC\"", "3");
    assert!(
        told(wrong.as_bytes()).starts_with("floor.toml:3:8: floor.zone: found 3"),
        "{}",
        told(wrong.as_bytes())
    );
}

#[test]
fn the_picture_shows_the_line_and_what_may_help() {
    let text = small::changed(small::FLOOR, "count = 4", "cuont = 4");
    let mistakes = turnabout_server::setup::parse_floor("floor.toml", &text, None).unwrap_err();
    let picture = report::picture(&mistakes, report::Look::Plain);
    for part in [
        "2 mistakes in floor.toml",
        "floor.toml:17:",
        "{ mass = \"2.5 kg\", cuont = 4 }",
        "station[1].bar.plates[2].cuont: found a field that is not known",
        "did you mean count?",
    ] {
        assert!(picture.contains(part), "{part} is not in\n{picture}");
    }
    assert!(!picture.contains('\u{1b}'), "no colours where none are wanted");
}

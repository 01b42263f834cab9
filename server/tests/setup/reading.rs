//! From the disk: what is no text, no file, or too much.

use std::fs;

use turnabout_server::setup::{FilePair, limits, read_pair, report};

use crate::small;

/// What is told about a floor file with these bytes and a programme file with those, line by line, without the
/// folder they lie in.
fn told_of_both(floor: &[u8], programme: Option<&[u8]>) -> Vec<String> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = |name: &str, bytes: &[u8]| {
        let path = folder.path().join(name);
        fs::write(&path, bytes).expect("a temporary file");
        path
    };
    let floor = path("floor.toml", floor);
    let programme = programme.map(|bytes| path("programme.toml", bytes));
    let told = read_pair(&floor, programme.as_deref(), None).err().unwrap_or_default();
    let folder = format!("{}/", folder.path().display());
    told.iter()
        .flat_map(|m| m.to_string().lines().map(|l| l.replace(&folder, "")).collect::<Vec<_>>())
        .collect()
}

fn told(bytes: &[u8]) -> String {
    told_of_both(bytes, None).join("\n")
}

#[test]
fn files_are_read_from_the_disk() {
    let folder = tempfile::tempdir().unwrap();
    let (floor, programme) = (folder.path().join("f.toml"), folder.path().join("p.toml"));
    fs::write(&floor, small::FLOOR).unwrap();
    fs::write(&programme, small::PROGRAMME).unwrap();
    let FilePair { floor, programme } = read_pair(&floor, Some(&programme), None).unwrap();
    assert_eq!(floor, small::floor());
    assert_eq!(programme.unwrap().programme.groups.len(), 1);
}

#[test]
fn what_cannot_be_read_is_said_with_what_may_help() {
    let folder = tempfile::tempdir().unwrap();
    let gone = folder.path().join("gone.toml");
    fs::write(&gone, small::FLOOR).unwrap();
    fs::remove_file(&gone).unwrap();
    let told = |path: &std::path::Path| {
        let mistakes = read_pair(path, None, None).unwrap_err();
        assert!(report::picture(&mistakes[0], report::Look::Plain).contains("cannot be read"));
        mistakes[0].to_string().replace(&folder.path().display().to_string(), "FOLDER")
    };
    assert_eq!(
        told(&gone),
        "FOLDER/gone.toml: cannot be read: entity not found (look for a slip in the path; it goes from the folder where this is run)"
    );
    assert_eq!(told(folder.path()), "FOLDER: cannot be read: is a directory (name the file in that folder)");
}

#[test]
fn both_files_are_told_at_once_and_of_the_programme_what_the_floor_has_no_part_in() {
    let floor = small::changed(small::FLOOR, "\"UTC\"", "3");
    // The coach and the exercise may be in the part of the floor file that could not be read.
    let programme = small::changed(small::PROGRAMME, "coach-1", "coach-9");
    let programme = small::changed(&programme, "\"cable-row\"\nreps = 12", "\"cabel-row\"\nreps = 0");
    let told = told_of_both(floor.as_bytes(), Some(programme.as_bytes()));
    assert_eq!(
        told,
        [
            "floor.toml:3:8: floor.zone: found 3, allowed an IANA time zone such as \"Europe/Berlin\" (write it in quotation marks: \"3\")",
            "programme.toml:29:8: group[1].block[1].exercise[2].reps: found 0, allowed repetitions such as 10 or \"8-12\", 1 to 100, or a time such as \"30 s\", 1 s to 600 s",
        ]
    );
    let told = told_of_both(small::FLOOR.as_bytes(), Some(programme.as_bytes()));
    assert_eq!(told.len(), 3, "{told:#?}");
    // A programme that is no text is told beside the floor's mistakes too.
    let told = told_of_both(floor.as_bytes(), Some(b"\xff"));
    assert!(told.len() == 2 && told[1].starts_with("programme.toml:1:1: found a byte"), "{told:#?}");
}

#[test]
fn an_endless_file_is_told_soon() {
    let mistakes = read_pair("/dev/zero".as_ref(), None, None).unwrap_err();
    assert!(mistakes[0].to_string().starts_with("/dev/zero: found more than 1048576 bytes"));
}

#[test]
fn what_is_not_utf_8_is_told_by_its_byte() {
    let bytes = b"[floor]\nname = \"H\xfcgel\"\n";
    let expected = "floor.toml:2:10: found a byte that is not text (byte 18 of the file), allowed UTF-8 \
                    (save the file as UTF-8)";
    assert_eq!(told(bytes), expected);
}

#[test]
fn every_byte_that_is_no_text_is_told_and_shown() {
    // From outside: 0xfc is u-umlaut in ISO 8859-1, and no byte of UTF-8 (RFC 3629, section 3).
    let bytes = b"[floor]\nname = \"H\xfcgel\" # \xc3\xbc\n\xfc = 1\n";
    let lines: Vec<String> =
        told(bytes).lines().map(|line| line.split(" (").next().unwrap().to_owned()).collect();
    let byte = |place| format!("floor.toml:{place}: found a byte that is not text");
    assert_eq!(lines, [byte("2:10"), byte("3:1")]);
    assert!(told(&[b"\xfc".as_slice(); 300].concat()).ends_with("floor.toml: and 200 more"));
}

#[test]
fn text_of_two_bytes_a_character_is_said_to_be() {
    let bytes: Vec<u8> = "\u{feff}[floor]".encode_utf16().flat_map(u16::to_le_bytes).collect();
    let expected =
        "floor.toml: found text of two bytes a character (UTF-16), allowed UTF-8 (save the file as UTF-8)";
    assert_eq!(told(&bytes), expected);
}

#[test]
fn a_file_may_have_its_limit_and_no_more() {
    let most = usize::try_from(limits::FILE_BYTES).unwrap();
    let mut text = format!("{}#", small::FLOOR);
    text.extend(std::iter::repeat_n('x', most - text.len()));
    assert_eq!(told(text.as_bytes()), "");
    text.push('x');
    let limit = "floor.toml: found more than 1048576 bytes, allowed at most 1048576 (a floor or an evening as large as this server runs fits: look for what is there twice)";
    assert_eq!(told(text.as_bytes()), limit);
    // Ten megabytes are not even read.
    text.extend(std::iter::repeat_n('x', 10_000_000));
    assert_eq!(told(text.as_bytes()), limit);
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

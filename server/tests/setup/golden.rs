//! The whole report on a file of many mistakes, word for word.
//!
//! `GOLDEN=write cargo test -p turnabout-server --test setup golden` writes the reports anew.

use std::fs;
use std::path::{Path, PathBuf};

use turnabout_server::setup::{Mistake, Mistakes, parse_floor, parse_programme, report};

use crate::small;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/mistakes")
}

fn same(name: &str, told: &str) {
    let path = folder().join(name);
    if std::env::var("GOLDEN").as_deref() == Ok("write") {
        fs::write(&path, told).expect("a golden report");
    }
    let golden = fs::read_to_string(&path).expect("a golden report");
    assert_eq!(told, golden, "{name}");
}

/// Twenty mistakes or more, told as lines and as a picture.
fn check(name: &str, mistakes: &Mistakes) {
    assert!(mistakes.list().len() >= 20 && mistakes.left_out() == 0);
    same(&format!("{name}.txt"), &format!("{mistakes}\n"));
    same(&format!("{name}.picture.txt"), &report::picture(mistakes, report::Look::Plain));
}

#[test]
fn a_floor_file_of_many_mistakes() {
    let text = include_str!("../golden/mistakes/floor.toml");
    check("floor", &parse_floor("floor.toml", text, None).unwrap_err());
}

#[test]
fn a_programme_file_of_many_mistakes() {
    let text = include_str!("../golden/mistakes/programme.toml");
    let floor = small::floor().floor;
    check("programme", &parse_programme("programme.toml", text, &floor).unwrap_err());
}

#[test]
fn a_group_that_is_too_large_is_a_hint_and_no_mistake() {
    let text = small::changed(small::PROGRAMME, "[104, 105]", "[104, 105, 106, 107]");
    let text = small::changed(&text, "[[group]]", "[[client]]\nnumber = 107\nname = \"Greta\"\n\n[[group]]");
    let told = |text: &str| -> String {
        let read = parse_programme("programme.toml", text, &small::floor().floor);
        let hints = read.unwrap_or_else(|mistakes| panic!("{mistakes}")).hints;
        let place = |hint: &Mistake| hint.place.as_ref().map(ToString::to_string).unwrap_or_default();
        hints.iter().map(|hint| format!("programme.toml:{}: {hint}\n", place(hint))).collect()
    };
    assert_eq!(told(small::PROGRAMME), "");
    same("too_large.txt", &told(&text));
}

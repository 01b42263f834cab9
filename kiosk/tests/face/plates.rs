//! What a station says of plates: what is on each side, and what hands do.

use turnabout_kiosk::face::Load;
use turnabout_protocol::card::{LoadCard, UnbuiltPart};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{Secs, Stamped};
use turnabout_protocol::view::After;

use crate::panels;
use crate::scenes::*;

/// What the station shows of this load before a set.
fn shown(card: LoadCard, language: Language) -> Load {
    let mut part = bench_1(coming(After::Nothing, -5, -5, &[]));
    part.turn.as_mut().unwrap().load = Some(card);
    let face = Sample::new("", view(vec![part])).face(language);
    panels(&face)[0].load.clone()
}

#[test]
fn plates_are_named_from_the_inside_out_with_what_to_take_off_and_put_on() {
    let on = |confirmed| card("82.5 kg", Some("40 kg"), confirmed);
    let change = shown(with_plates(&on(false), "20 10 1.25", "10", "20 10 1.25"), Language::En);
    let each = "each side 20 + 10 + 1.25";
    assert_eq!((change.how.as_str(), change.on_now.as_str()), (each, "off 10, on 20 + 10 + 1.25"));
    let strip = shown(with_plates(&on(false), "20", "1.25 2.5", ""), Language::En);
    assert_eq!(strip.on_now, "off 1.25 + 2.5");
    let german = shown(with_plates(&on(false), "20 10 1.25", "", "1.25"), Language::De);
    assert_eq!((german.how.as_str(), german.on_now.as_str()), ("je Seite 20 + 10 + 1.25", "drauf 1.25"));
    let done = shown(with_plates(&on(true), "20 10 1.25", "", ""), Language::En);
    assert_eq!((done.how.as_str(), done.on_now.as_str()), (each, ""));
}

#[test]
fn where_nobody_knows_what_is_on_all_of_it_comes_off_first() {
    let unknown = card("25 kg", None, false);
    assert_eq!(
        shown(with_plates(&unknown, "2.5", "", "2.5"), Language::En).on_now,
        "take all off, then on 2.5"
    );
    let bar = shown(with_plates(&card("20 kg", None, false), "", "", ""), Language::En);
    assert_eq!((bar.how.as_str(), bar.on_now.as_str()), ("bar only", "take all off"));
}

#[test]
fn what_the_plates_do_not_make_is_said_with_what_they_do() {
    let mass = |text: &str| Some(text.parse::<Stamped>().unwrap().mass);
    let says = |below, above| {
        let unbuilt = Some(UnbuiltPart { below, above, at: Vec::new() });
        let load = shown(LoadCard { unbuilt, ..card("82.5 kg", Some("40 kg"), false) }, Language::En);
        assert_eq!(load.how, "");
        load.on_now
    };
    assert_eq!(says(mass("80 kg"), mass("85 kg")), "The plates do not make it: 80 kg or 85 kg");
    assert_eq!(says(mass("80 kg"), None), "The plates do not make it: 80 kg");
    assert_eq!(says(None, None), "The plates do not make it");
}

#[test]
fn another_bar_than_the_usual_one_is_named() {
    let mut light = with_plates(&card("17.5 kg", None, false), "1.25", "", "1.25");
    let bar = light.bar.as_mut().unwrap();
    (bar.bar, bar.other_bar) = ("15 kg".parse::<Stamped>().unwrap().mass, true);
    assert_eq!(shown(light, Language::En).how, "bar of 15 kg: each side 1.25");
}

#[test]
fn where_plates_change_it_says_how_long_that_takes_and_that_sides_are_loaded_in_turn() {
    let on = |confirmed| card("82.5 kg", Some("40 kg"), confirmed);
    let notes = |card, language| shown(card, language).notes;
    let change = with_plates(&on(false), "20 10 1.25", "10", "20 10 1.25");
    let said = "about 35 s alone, 13 s with two\nload and strip both sides in turn";
    assert_eq!(notes(change.clone(), Language::En), said);
    let said = "etwa 35 s allein, 13 s zu zweit\nbeide Seiten im Wechsel be- und entladen";
    assert_eq!(notes(change.clone(), Language::De), said);
    assert_eq!(notes(LoadCard { confirmed: true, ..change }, Language::En), "");
    // How long it takes to strip what nobody knows, nobody knows either.
    let unknown = with_plates(&card("25 kg", None, false), "2.5", "", "2.5");
    assert_eq!(notes(unknown, Language::En), "load and strip both sides in turn");
    let mut there = with_plates(&card("82.5 kg", Some("82.5 kg"), false), "20 10 1.25", "", "");
    let bar = there.bar.as_mut().unwrap();
    (bar.alone, bar.together) = (Secs(0), Secs(0));
    assert_eq!(notes(there, Language::En), "", "nothing is to be moved");
}

#[test]
fn the_caution_stays_until_the_load_is_confirmed_though_the_rest_is_nearly_over() {
    let mut part = bench_1(coming(rest(5), 5, 5, &[]));
    let load = with_plates(&card("82.5 kg", Some("40 kg"), false), "20 10 1.25", "10", "20 10 1.25");
    part.turn.as_mut().unwrap().load = Some(load);
    let face = Sample::new("", view(vec![part.clone()])).face(Language::En);
    assert!(panels(&face)[0].load.notes.contains("in turn") && panels(&face)[0].cue.is_empty());
    part.turn.as_mut().unwrap().load.as_mut().unwrap().confirmed = true;
    let face = Sample::new("", view(vec![part])).face(Language::En);
    assert_eq!((panels(&face)[0].load.notes.as_str(), panels(&face)[0].cue.as_str()), ("", "to your place"));
}

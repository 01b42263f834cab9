//! The plates of a side as a picture.

use turnabout_kiosk::face::{Disc, Does, Paint, Tap};
use turnabout_protocol::card::{LoadCard, PlatePart, UnbuiltPart};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{MassUnit, Stamped};
use turnabout_protocol::view::{After, Need};

use crate::panels;
use crate::scenes::*;

fn drawn(card: LoadCard) -> Vec<Disc> {
    let mut part = bench_1(coming(After::Nothing, -5, -5, &[Need::ConfirmLoad]));
    part.turn.as_mut().unwrap().load = Some(card);
    panels(&Sample::new("", view(vec![part])).face(Language::De))[0].load.sleeve.clone()
}

/// The numbers, each with what is done with its plate.
fn hands(discs: &[Disc]) -> Vec<(&str, Does)> {
    discs.iter().map(|disc| (disc.number.as_str(), disc.does)).collect()
}

#[test]
fn what_stays_what_comes_and_what_goes_stand_in_the_order_of_hands() {
    use Does::{Comes, Goes, Stays};
    let on = card("62.5 kg", Some("60 kg"), false);
    let discs = drawn(with_plates(&on, "20 1.25", "5 2.5", "1.25"));
    // A label is a label: with its point in German too.
    assert_eq!(hands(&discs), [("20", Stays), ("1.25", Comes), ("5", Goes), ("2.5", Goes)]);
    // Where nobody knows what is on, all of it comes off and all of the load goes on.
    let unknown = drawn(with_plates(&card("25 kg", None, false), "2.5", "", "2.5"));
    assert_eq!(hands(&unknown), [("2.5", Comes)]);
    let strip = drawn(with_plates(&on, "20", "1.25", ""));
    assert_eq!(hands(&strip), [("20", Stays), ("1.25", Goes)]);
    assert_eq!(drawn(with_plates(&card("62.5 kg", Some("62.5 kg"), true), "20 1.25", "", "")), []);
}

#[test]
fn discs_are_as_high_and_as_coloured_as_the_rules_say() {
    // IWF Technical and Competition Rules and Regulations, 3.3: discs of 10 kg and more are 450 mm high; 25 red, 20 blue,
    // 15 yellow, 10 green, 5 white, and the same again at a tenth.
    let all = "25 20 15 10 5 2.5 2 1.5 1 0.5 1.25";
    let discs = drawn(with_plates(&card("200 kg", Some("20 kg"), false), all, "", all));
    let paints: Vec<_> = discs.iter().map(|disc| disc.paint).collect();
    let five = [Paint::Red, Paint::Blue, Paint::Yellow, Paint::Green, Paint::White];
    assert_eq!(paints, [&five[..], &five, &[Paint::Plain]].concat());
    assert!(
        discs[..4].iter().all(|disc| disc.height == 1000) && discs[4..].iter().all(|disc| disc.height < 1000)
    );
    assert!(discs[4..10].is_sorted_by(|a, b| a.height >= b.height), "{discs:?}");
    // Discs of one thickness: half the mass is half the area.
    assert_eq!(discs[4].height, 707);
}

#[test]
fn pounds_have_no_colours() {
    let mass = |text: &str| text.parse::<Stamped>().unwrap().mass;
    let kilos = with_plates(&card("60 kg", None, false), "20", "", "20");
    let mut pounds = LoadCard { unit: MassUnit::Lb, ..kilos };
    pounds.bar.as_mut().unwrap().side = vec![PlatePart { mass: mass("45 lb"), full: true }];
    let discs = drawn(pounds);
    assert_eq!((discs[0].number.as_str(), discs[0].paint), ("45", Paint::Plain));
}

#[test]
fn what_the_plates_do_not_make_is_not_to_be_confirmed() {
    let mut part = bench_1(coming(After::Nothing, -5, -5, &[Need::ConfirmLoad]));
    let offers = |part| {
        let face = Sample::new("", view(vec![part])).face(Language::En);
        panels(&face)[0].buttons.iter().map(|button| button.tap).collect::<Vec<_>>()
    };
    assert!(offers(part.clone()).contains(&Tap::ConfirmLoad));
    let unbuilt = Some(UnbuiltPart { below: None, above: None, at: Vec::new() });
    part.turn.as_mut().unwrap().load = Some(LoadCard { unbuilt, ..card("82.5 kg", Some("40 kg"), false) });
    assert!(!offers(part).contains(&Tap::ConfirmLoad));
}

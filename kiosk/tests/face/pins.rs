//! What a station says of a stack and of dumbbells: where the pin goes, what lies on top, and what the hand feels.

use turnabout_kiosk::face::Load;
use turnabout_protocol::card::{GearKind, LoadCard, UnbuiltPart};
use turnabout_protocol::text::Language;

use crate::panels;
use crate::scenes::*;

/// What the station shows of this load before a set.
fn shown(load: LoadCard, language: Language) -> Load {
    let face = Sample::new("", view(vec![row_with(load)])).face(language);
    panels(&face)[0].load.clone()
}

#[test]
fn a_stack_says_where_the_pin_goes_and_from_where() {
    let moved = on_stack("55 kg", pin("55", ""), Some(("40 kg", pin("40", ""))));
    let english = shown(moved.clone(), Language::En);
    assert_eq!((english.number.as_str(), english.how.as_str()), ("55", "pin at 55"));
    assert_eq!((english.on_now.as_str(), english.notes.as_str()), ("pin from 40 to 55", ""));
    let german = shown(moved, Language::De);
    assert_eq!((german.how.as_str(), german.on_now.as_str()), ("Stift bei 55", "Stift von 40 auf 55"));
    let there = on_stack("55 kg", pin("55", ""), Some(("55 kg", pin("55", ""))));
    assert_eq!(shown(LoadCard { confirmed: true, ..there }, Language::En).on_now, "");
    assert_eq!(shown(on_stack("55 kg", pin("55", ""), None), Language::En).on_now, "", "nobody knows");
}

#[test]
fn small_weights_on_top_are_counted_and_only_what_differs_is_moved() {
    let one = on_stack("56.25 kg", pin("55", "1.25"), Some(("55 kg", pin("55", ""))));
    let said = shown(one, Language::En);
    assert_eq!((said.how.as_str(), said.on_now.as_str()), ("pin at 55, + 1.25 kg on top", "on top 1.25 kg"));
    let many = on_stack("58.25 kg", pin("55", "2x1.25 0.75"), Some(("50.75 kg", pin("50", "0.75"))));
    let said = shown(many, Language::De);
    assert_eq!(said.how, "Stift bei 55, + 2 × 1.25 + 0.75 kg obendrauf");
    assert_eq!(said.on_now, "Stift von 50 auf 55, oben drauf 2 × 1.25 kg");
    let fewer = on_stack("40 kg", pin("40", ""), Some(("42.5 kg", pin("40", "2x1.25"))));
    assert_eq!(shown(fewer, Language::En).on_now, "off the top 2 × 1.25 kg");
}

#[test]
fn what_reaches_the_hand_is_said_as_about() {
    let halved = halved(on_stack("50 kg", pin("50", ""), None), "25 kg");
    assert_eq!(shown(halved.clone(), Language::En).notes, "about 25 kg at the hand");
    assert_eq!(shown(halved, Language::De).notes, "etwa 25 kg an der Hand");
}

#[test]
fn where_a_stack_carries_part_of_the_body_more_is_easier() {
    let card = assisting(on_stack("30 kg", pin("30", ""), None));
    assert_eq!(shown(card.clone(), Language::En).notes, "assisting 30 kg: more is easier");
    assert_eq!(shown(card.clone(), Language::De).notes, "hilft mit 30 kg: mehr ist leichter");
    let both = shown(halved(card, "15 kg"), Language::En).notes;
    assert_eq!(both, "about 15 kg at the hand\nassisting 30 kg: more is easier");
}

#[test]
fn dumbbells_are_taken_in_pairs_and_one_of_them_carries_the_number() {
    let english = shown(pair("14 kg"), Language::En);
    assert_eq!((english.number.as_str(), english.unit.as_str()), ("2 × 14", "kg"));
    assert_eq!((english.notes.as_str(), english.on_now.as_str()), ("one in each hand", ""));
    let german = shown(pair("22.5 kg"), Language::De);
    assert_eq!((german.number.as_str(), german.notes.as_str()), ("2 × 22,5", "eine in jeder Hand"));
}

#[test]
fn a_pair_of_a_shared_rack_is_said_with_the_rack_and_with_where_it_is() {
    let shared = LoadCard { rack: Some("Rack A".into()), ..pair("14 kg") };
    assert_eq!(shown(shared.clone(), Language::En).how, "from Rack A");
    let unbuilt = UnbuiltPart { below: Some(stamped("12 kg")), above: None, at: vec!["Row 2".into()] };
    let out = shown(LoadCard { unbuilt: Some(unbuilt), ..shared }, Language::En);
    assert_eq!(out.on_now, "The pair is out; taken at Row 2; free: 12 kg");
}

#[test]
fn plates_on_a_belt_are_named_and_body_mass_alone_is_said() {
    let belt = |hung: &[&str]| {
        let hung = hung.iter().map(|kg| stamped(&format!("{kg} kg"))).collect();
        LoadCard { gear: GearKind::Belt, belt: Some(hung), ..card("25 kg", None, false) }
    };
    assert_eq!(shown(belt(&["20", "5"]), Language::En).how, "on the belt 20 + 5");
    assert_eq!(shown(belt(&[]), Language::De).how, "nur Körpergewicht");
}

#[test]
fn who_counts_in_another_unit_reads_about_how_much_it_is() {
    let said = |load, language| shown(in_pounds(load), language).about;
    let stack = on_stack("60 kg", pin("60", ""), None);
    assert_eq!(said(stack.clone(), Language::En), "about 132 lb");
    assert_eq!(said(stack.clone(), Language::De), "etwa 132 lb");
    assert_eq!(said(pair("14 kg"), Language::En), "about 2 × 31 lb");
    assert_eq!(shown(stack, Language::En).about, "");
}

#[test]
fn of_a_stack_of_numbers_the_pin_is_all_there_is_to_say() {
    let moved = on_numbers(7, Some(5));
    let english = shown(moved.clone(), Language::En);
    assert_eq!((english.number.as_str(), english.unit.as_str(), english.how.as_str()), ("pin 7", "", ""));
    assert_eq!((english.on_now.as_str(), english.about.as_str()), ("pin from 5 to 7", ""));
    assert_eq!(shown(moved.clone(), Language::De).number, "Pin 7");
    assert_eq!(shown(on_numbers(7, None), Language::En).on_now, "", "nobody knows");
    assert_eq!(shown(on_numbers(7, Some(7)), Language::En).on_now, "");
    assert_eq!(shown(assisting(moved), Language::De).notes, "hilft: ein höherer Pin ist leichter");
}

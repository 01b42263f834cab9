//! Every variant has its words in every language.

mod common;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{
    Act, BarLeft, CallKind, Defect, Effort, Ending, Reason, ScreeningDecision, SkipScope,
};
use turnabout_protocol::entry::{
    BlockWrong, EarlierWrong, Fits, FoundThere, Help, LoadWrong, Nearest, RowWrong, SheetWrong, Split,
    TimesWrong, ValueWrong, Wrong,
};
use turnabout_protocol::frame::Fault;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::next::{Change, LoadQuestion, NextReason, PerMille, Rule};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::refusal::{Refusal, WriteTrouble};
use turnabout_protocol::text::{self, Language};
use turnabout_protocol::units::{FloorMs, Mass, MassUnit};
use turnabout_protocol::view::{
    Attendance, Deed, HaltKind, Happening, Need, NotCounted, RestKept, SetName, Stage, StationState,
};

use common::variants;

fn all() -> Vec<(&'static str, BTreeMap<String, BTreeSet<String>>)> {
    vec![
        ("refusal", variants::<Refusal>("because")),
        ("writing", variants::<WriteTrouble>("")),
        ("need", variants::<Need>("need")),
        ("fault", variants::<Fault>("fault")),
        ("act", variants::<Act>("do")),
        ("ending", variants::<Ending>("end")),
        ("reason", variants::<Reason>("")),
        ("defect", variants::<Defect>("")),
        ("skip", variants::<SkipScope>("")),
        ("bar", variants::<BarLeft>("")),
        ("screening", variants::<ScreeningDecision>("")),
        ("effort", variants::<Effort>("felt")),
        ("call", variants::<CallKind>("")),
        ("stage", variants::<Stage>("")),
        ("state", variants::<StationState>("")),
        ("set", variants::<SetName>("set")),
        ("attendance", variants::<Attendance>("")),
        ("happened", variants::<Happening>("happened")),
        ("halt", variants::<HaltKind>("")),
        ("next", variants::<NextReason>("because")),
        ("rule", variants::<Rule>("")),
        ("start", variants::<StartReason>("because")),
        ("change", variants::<Change>("")),
        ("question", variants::<LoadQuestion>("because")),
        ("rest_kept", variants::<RestKept>("is")),
        ("not_counted", variants::<NotCounted>("")),
        ("wrong_value", variants::<ValueWrong>("because")),
        ("wrong_block", variants::<BlockWrong>("because")),
        ("wrong_load", variants::<LoadWrong>("because")),
        ("wrong_earlier", variants::<EarlierWrong>("because")),
        ("wrong_times", variants::<TimesWrong>("because")),
        ("wrong_row", variants::<RowWrong>("because")),
        ("wrong_sheet", variants::<SheetWrong>("because")),
        ("help", variants::<Help>("is")),
        ("fits", variants::<Fits>("is")),
        ("found", variants::<FoundThere>("is")),
        ("nearest", variants::<Nearest>("is")),
        ("split", variants::<Split>("is")),
        ("gear", variants::<GearKind>("")),
        ("deed", variants::<Deed>("")),
    ]
}

#[test]
fn whatever_a_coach_enters_is_told_by_a_kind_with_words() {
    let kinds: BTreeSet<String> = all().iter().map(|(kind, _)| (*kind).to_owned()).collect();
    let told: BTreeSet<String> = variants::<Wrong>("about").into_keys().collect();
    // What no entry comes to is told in the words of files.
    let without: Vec<&String> =
        told.iter().filter(|about| !kinds.contains(&format!("wrong_{about}"))).collect();
    assert_eq!(without, ["other"]);
}

fn catalogue(language: Language) -> BTreeMap<String, String> {
    serde_json::from_str(language.source()).expect("a catalogue is a JSON object of strings")
}

fn places(message: &str) -> BTreeSet<String> {
    message.split('{').skip(1).map(|rest| rest.split("}").next().unwrap_or_default().to_owned()).collect()
}

#[test]
fn every_variant_has_words_in_every_language_and_asks_only_for_its_own_fields() {
    for language in Language::ALL {
        let words = catalogue(language);
        for (kind, variants) in all() {
            for (variant, fields) in variants {
                let id = format!("{kind}.{variant}");
                let message = words.get(&id).unwrap_or_else(|| panic!("{} lacks {id}", language.tag()));
                assert!(!message.trim().is_empty(), "{} {id} is empty", language.tag());
                assert!(places(message).is_subset(&fields), "{} {id} asks for {message}", language.tag());
            }
        }
    }
}

#[test]
fn the_catalogues_have_the_same_messages_with_the_same_places() {
    let english = catalogue(Language::En);
    for language in Language::ALL {
        let words = catalogue(language);
        let names = |c: &BTreeMap<String, String>| c.keys().cloned().collect::<BTreeSet<_>>();
        assert_eq!(names(&english), names(&words), "{}", language.tag());
        for (id, message) in &words {
            assert_eq!(places(message), places(&english[id]), "{} {id}", language.tag());
        }
    }
}

#[test]
fn no_message_is_left_that_nothing_says() {
    let known: BTreeSet<String> = all()
        .iter()
        .flat_map(|(kind, variants)| variants.keys().map(move |v| format!("{kind}.{v}")))
        .collect();
    for id in catalogue(Language::En).keys() {
        let by_hand = id.starts_with("label.") || id.starts_with("phase.");
        assert!(by_hand || known.contains(id), "{id} belongs to nothing");
    }
}

#[test]
fn an_argument_is_put_where_it_belongs() {
    let refusal = Refusal::RestNotOver { until: FloorMs(5_000) };
    let argument = |name: &str, value: &Value| format!("<{name} {value}>");
    assert_eq!(text::say(Language::En, "refusal", &refusal, argument), "Rest until <until 5000>.");
    let unfit = Refusal::LoadUnfit { below: Some(Mass::from_grams(20_000).into()), above: None };
    let said = text::say(Language::En, "refusal", &unfit, argument);
    assert!(said.ends_with("<below 20000000000000> or <above null>."), "{said}");
    // A name that looks like a place stays a name.
    let busy = Refusal::StationUnfit { station: StationId(1) };
    let said = text::say(Language::En, "refusal", &busy, |_, _| "{station}".to_owned());
    assert_eq!(said, "{station} does not suit that exercise.");
    let set = SetName::Working { n: 2, of: 3 };
    assert_eq!(text::say(Language::De, "set", &set, |_, v| v.to_string()), "Satz 2 von 3");
}

#[test]
fn the_reason_for_a_load_is_a_sentence_in_the_gears_unit() {
    let step = NextReason::StepTooBig { above: Mass::from_grams(22_500), share: PerMille(100) };
    let (kg, lb) = (MassUnit::Kg, MassUnit::Lb);
    assert_eq!(step.sentence(Language::En, kg), "The next step, 22.5 kg, is more than 10 % at once.");
    assert_eq!(
        step.sentence(Language::De, kg),
        "Der nächste Schritt, 22,5 kg, ist mehr als 10 % auf einmal."
    );
    let share = NextReason::ShareOfMax { share: PerMille(825) };
    assert_eq!(share.sentence(Language::De, lb), "82,5 % der besten einzelnen Wiederholung.");
    let away = NextReason::LongAway { days: 30 };
    assert_eq!(away.sentence(Language::En, kg), "Last here 30 days ago: start lower.");
    let (load, below) = (Mass::from_grams(60_000).into(), Mass::from_grams(50_000).into());
    let far = LoadQuestion::FarFromLast { load, below };
    assert_eq!(far.sentence(Language::En, lb), "132.28 lb is far from the 110.23 lb done here last. Really?");
    // Every place is filled by a word, in every language.
    for reason in [
        NextReason::ForReserve { reps: 5, wanted: 2 },
        NextReason::MoreInReserve { reps: 4, wanted: 2 },
        NextReason::TooFewReps { least: 8 },
        NextReason::NotOnGear { load },
    ] {
        for language in Language::ALL {
            let said = reason.sentence(language, kg);
            assert!(!said.contains('{') && !said.contains("null") && !said.contains("next."), "{said}");
        }
    }
}

#[test]
fn no_message_is_written_twice() {
    for language in Language::ALL {
        // The reader would take the last one and say nothing.
        let keys: Vec<&str> = language
            .source()
            .lines()
            .filter_map(|line| line.trim().split_once("\": "))
            .map(|(k, _)| k)
            .collect();
        let distinct: BTreeSet<&str> = keys.iter().copied().collect();
        assert_eq!(keys.len(), catalogue(language).len(), "{}", language.tag());
        assert_eq!(keys.len(), distinct.len(), "{}", language.tag());
    }
}

//! What is an instance at all.

use std::collections::BTreeMap;

use serde_json::Value;
use turnabout_server::timetable::format::{Mistakes, Problem, read_instance};
use turnabout_tests::outside;

use crate::dice::Dice;
use crate::documents::changed;
use crate::python::{Cases, text};

/// Documents that are looked at.
const DOCUMENTS: usize = 4_000;

/// Evenings small enough that a change hits something that matters; the snapshots have all that an instance can have.
const EVENINGS: [&str; 3] =
    ["instances/small-2.json", "instances/medium-9-snapshot.json", "instances/medium-10-snapshot.json"];

/// Whether every mistake is one that we alone forbid: limits of our own, walks with a shorter way around, rests that
/// nothing fits in, loads of no form at a plain station, `x_free_start` that is neither true nor false.
fn ours_alone(mistakes: &Mistakes) -> bool {
    mistakes.list.iter().all(|mistake| match mistake.problem {
        Problem::TooLong { .. }
        | Problem::TooMany { .. }
        | Problem::TooLarge { .. }
        | Problem::Horizon { .. }
        | Problem::Detour { .. }
        | Problem::RestWindow { .. }
        | Problem::TogetherNowhere { .. } => true,
        Problem::Flag { .. } => mistake.at == "weights.x_free_start",
        Problem::Load { .. } | Problem::Whole { .. } => mistake.at.contains(".load"),
        Problem::NotJson(_)
        | Problem::Format { .. }
        | Problem::Object { .. }
        | Problem::Missing(_)
        | Problem::Unknown { .. }
        | Problem::List { .. }
        | Problem::Length { .. }
        | Problem::Empty
        | Problem::Range { .. }
        | Problem::Text { .. }
        | Problem::Word { .. }
        | Problem::Window { .. }
        | Problem::Ascending { .. }
        | Problem::LoadOfOtherKind { .. }
        | Problem::Spot { .. }
        | Problem::HeldTwice { .. }
        | Problem::NoRoundUnderWay
        | Problem::ToldForNothing
        | Problem::NothingLeft
        | Problem::DoneLegSkipped
        | Problem::TogetherDiffers
        | Problem::OrderTwice(_)
        | Problem::OrderNotBegun(_)
        | Problem::Misfit(_) => false,
    })
}

#[test]
fn our_reader_takes_what_the_published_checker_takes() {
    let Some(python) = outside::python() else { return };
    let mut dice = Dice::new(2);
    let documents: Vec<Value> =
        EVENINGS.iter().map(|path| serde_json::from_str(&text(path)).unwrap()).collect();
    let (mut cases, mut ours) = (Cases::default(), Vec::new());
    for _ in 0..DOCUMENTS {
        let document = changed(dice.one(&documents), &mut dice).to_string();
        cases.instance(&document);
        ours.push((read_instance(&document), document));
    }
    let mut seen = BTreeMap::<(bool, bool), usize>::new();
    for (theirs, (ours, document)) in cases.ask(&python).iter().zip(&ours) {
        let taken = theirs["errors"].as_array().unwrap().is_empty();
        *seen.entry((taken, ours.is_ok())).or_default() += 1;
        match ours {
            Ok(_) => assert!(taken, "{theirs}\n{document}"),
            Err(mistakes) => assert!(!taken || ours_alone(mistakes), "{mistakes}\n{document}"),
        }
    }
    assert!(seen[&(true, true)] >= 500 && seen[&(false, false)] >= 500, "{seen:?}");
}

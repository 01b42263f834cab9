//! Verdict, objective, parts and breaches of thousands of timetables.

use std::collections::BTreeMap;

use serde_json::Value;
use turnabout_server::timetable::answer::{Breach, Timetable};
use turnabout_server::timetable::check::{Misfit, Verdict, check};
use turnabout_server::timetable::format::{read_instance, read_timetable, write_instance, write_timetable};
use turnabout_server::timetable::instance::Instance;
use turnabout_tests::outside;

use crate::dice::Dice;
use crate::dispatch::dispatched;
use crate::python::{Cases, text};
use crate::{evenings, plans};

/// The evenings that are changed, and how often; the large ones take the published checker long.
const EVENINGS: [(&str, usize); 12] = [
    ("instances/small-2.json", 60),
    ("instances/small-4.json", 60),
    ("instances/small-8.json", 60),
    ("instances/small-12.json", 60),
    ("instances/medium-1.json", 25),
    ("instances/medium-3.json", 25),
    ("instances/medium-9-snapshot.json", 60),
    ("instances/medium-10-snapshot.json", 60),
    ("instances/large-1.json", 6),
    ("instances/large-2.json", 4),
    ("classic/ft06-jobshop.json", 15),
    ("classic/la01-nowait.json", 15),
];

/// Timetables of each changed evening.
const TIMETABLES: usize = 8;

type Ours = Result<Verdict, Vec<Misfit>>;

/// The timetables of one changed evening, with what is found of each.
fn of_one(
    instance: &Instance,
    published: Option<&Timetable>,
    dice: &mut Dice,
    cases: &mut Cases,
) -> Vec<Ours> {
    let written = write_instance(instance);
    assert_eq!(read_instance(&written).as_ref(), Ok(instance), "a change leaves an instance");
    cases.instance(&written);
    let mut ours = Vec::new();
    for _ in 0..TIMETABLES {
        let dispatched = dispatched(instance, dice);
        // Rounds and legs that a change took out are none of its timetable any more.
        let base = published.filter(|published| check(instance, published).is_ok()).unwrap_or(&dispatched);
        let timetable = plans::changed(instance, if dice.once_in(3) { &dispatched } else { base }, dice);
        let written = write_timetable(&timetable);
        let found = check(instance, &timetable);
        let read = read_timetable(&written, instance);
        match (&found, read) {
            (Ok(_), Ok(read)) => assert_eq!(read, timetable),
            (Err(_), Err(_)) => {}
            (found, read) => panic!("{found:?} {read:?}"),
        }
        cases.timetable(&written);
        ours.push(found);
    }
    ours
}

fn numbers(verdict: &Verdict) -> [(&'static str, i64); 14] {
    let parts = verdict.parts;
    [
        ("objective", verdict.objective),
        ("overrun", parts.overrun),
        ("overrun_price", parts.overrun_price),
        ("changeover_wait", parts.changeover_wait),
        ("late", parts.late),
        ("flow", parts.flow),
        ("makespan", parts.makespan),
        ("door", parts.door),
        ("door_price", parts.door_price),
        ("tardy", parts.tardy),
        ("told", parts.told),
        ("handling", parts.handling),
        ("breaches", i64::try_from(verdict.breaches.len()).unwrap()),
        ("breach_seconds", i64::try_from(verdict.breach_seconds()).unwrap()),
    ]
}

fn breach(found: &Value) -> Breach {
    let number = |name: &str| found[name].as_u64().unwrap();
    let position = |name: &str| usize::try_from(number(name)).unwrap();
    Breach {
        rule: u8::try_from(number("rule")).unwrap(),
        group: position("group"),
        member: position("member"),
        round: position("round"),
        leg: position("leg"),
        seconds: u32::try_from(number("seconds")).unwrap(),
    }
}

/// The published checker says the same. What it was about is noted, so that nothing is left out unseen.
fn same(theirs: &Value, ours: &Ours, seen: &mut BTreeMap<String, usize>) {
    let mut note = |what: &str| *seen.entry(what.to_owned()).or_default() += 1;
    let verdict = match ours {
        Err(misfits) => {
            assert!(theirs["objective"].is_null() && theirs["ok"] == false, "{misfits:?} {theirs}");
            return note("of another instance");
        }
        Ok(verdict) => verdict,
    };
    for (name, number) in numbers(verdict) {
        assert_eq!(theirs[name].as_i64(), Some(number), "{name}: {theirs} {verdict:?}");
        if number > 0 {
            note(name);
        }
    }
    let found: Vec<Breach> = theirs["found"].as_array().unwrap().iter().map(breach).collect();
    assert_eq!(found, verdict.breaches, "{theirs}");
    assert_eq!(theirs["ok"].as_bool(), Some(verdict.is_valid()), "{theirs} {:?}", verdict.faults);
    for rule in 1..=7 {
        if found.iter().any(|breach| breach.rule == rule) {
            note(&format!("rule {rule}"));
        }
    }
    note(match (verdict.is_valid(), found.is_empty()) {
        (true, true) => "keeps every rule",
        (true, false) => "lists what it breaks",
        (false, _) => "not valid",
    });
}

#[test]
fn our_checker_says_what_the_published_one_says() {
    let Some(python) = outside::python() else { return };
    let mut dice = Dice::new(1);
    let (mut cases, mut ours) = (Cases::default(), Vec::new());
    for (path, times) in EVENINGS {
        let instance = read_instance(&text(path)).unwrap();
        let published = path.contains("snapshot").then(|| text(&path.replace("instances", "solutions")));
        let published = published.map(|text| read_timetable(&text, &instance).unwrap());
        for _ in 0..times {
            let changed = evenings::changed(&instance, &mut dice);
            ours.push(of_one(&changed, published.as_ref(), &mut dice, &mut cases));
        }
    }
    let theirs = cases.ask(&python);
    let mut theirs = theirs.iter();
    let mut seen = BTreeMap::new();
    for of_one in &ours {
        let instance = theirs.next().unwrap();
        assert_eq!(instance["errors"].as_array().unwrap().len(), 0, "{instance}");
        for ours in of_one {
            same(theirs.next().unwrap(), ours, &mut seen);
        }
    }
    assert_eq!(ours.len() * TIMETABLES, 3_600);
    let everything = [
        "rule 1",
        "rule 2",
        "rule 3",
        "rule 4",
        "rule 5",
        "rule 6",
        "rule 7",
        "overrun",
        "overrun_price",
        "changeover_wait",
        "late",
        "door_price",
        "tardy",
        "told",
        "handling",
        "keeps every rule",
        "lists what it breaks",
        "not valid",
        "of another instance",
    ];
    for what in everything {
        let times = seen.get(what).copied().unwrap_or(0);
        assert!(times >= 50, "{what}: looked at {times} times; {seen:?}");
    }
}

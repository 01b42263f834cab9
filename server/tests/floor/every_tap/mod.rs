//! Every tap in every phase of a client and a group: accepted, already done, or refused, and why. There is no
//! hole: the table is the full product, and whoever changes a cell sees it in `tests/golden/every_tap.txt`
//! (`GOLDEN=write cargo test -p turnabout-server --test floor every_tap`).

mod odd;
mod phases;
mod taken_back;
mod taps;
mod wander;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

use serde::de::DeserializeOwned;
use turnabout_protocol::refusal::Refusal;
use turnabout_server::floor::decide::{Speaker, Tap, Verdict, decide};

use self::odd::{Odd, odd_taps};
use self::phases::{Phase, phases};
use self::taps::{Named, WATCHED, at_the_station, by_the_coach};
use crate::world::World;

/// Refusals that the floor's core never gives: they are about taps and rows, not about the floor.
const OF_THE_LIVE_ROOM: [&str; 8] =
    ["no_undo", "later_rests_on_it", "too_old", "in_future", "reused_id", "busy", "not_saving", "internal"];

/// What a tap leads to, in a word or two.
fn said(verdict: &Verdict) -> String {
    match verdict {
        Verdict::Accepted(_) => "accepted".to_owned(),
        Verdict::Already(_) => "already".to_owned(),
        Verdict::Refused(refusal) => tag(refusal),
    }
}

/// A refusal's name on the wire.
fn tag(refusal: &Refusal) -> String {
    serde_json::to_value(refusal).unwrap()["because"].as_str().unwrap().to_owned()
}

/// The names of all variants of a closed list, as its own reader tells them.
fn variants<T: DeserializeOwned + std::fmt::Debug>(tag: &str) -> BTreeSet<String> {
    let error = serde_json::from_value::<T>(serde_json::json!({ tag: "?" })).unwrap_err().to_string();
    let (_, names) = error.split_once("expected one of ").expect("it names what it knows");
    names.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}

/// Decides a tap, takes in what it leads to, and has the invariants looked at.
fn try_out(world: &World, speaker: &Speaker, named: &Named) -> Verdict {
    let tap = Tap { speaker: speaker.clone(), at: world.now, act: named.act.clone() };
    let verdict = decide(&world.state, &tap, world.now);
    let mut after = world.clone();
    assert_eq!(after.tap(speaker, named.act.clone()), verdict, "the same state, the same answer");
    assert_eq!(after.replayed(), after.state, "{}", named.name);
    verdict
}

/// The whole table, and what occurs in it.
#[derive(Default)]
struct Table {
    text: String,
    /// What was found in a phase, and in which it was found first.
    pages: BTreeMap<String, &'static str>,
    acts: BTreeSet<String>,
    answers: BTreeSet<String>,
}

impl Table {
    fn phase(&mut self, phase: &Phase) {
        let world = (phase.world)();
        let by_coach = self.answers(&world, by_the_coach(&world, WATCHED));
        let mut at_station = self.answers(&world, at_the_station(&world, WATCHED));
        // Of the station only what is answered otherwise there.
        at_station.retain(|(name, answer)| !by_coach.contains(&(*name, answer.clone())));
        let page = lines(&by_coach, "  ") + "  at the station\n" + &lines(&at_station, "    ");
        match self.pages.get(&page) {
            Some(first) => writeln!(self.text, "{}\n  as: {first}\n", phase.name).unwrap(),
            None => writeln!(self.text, "{}\n{page}", phase.name).unwrap(),
        }
        self.pages.entry(page).or_insert(phase.name);
    }

    fn answers(&mut self, world: &World, taps: Vec<(Speaker, Named)>) -> Vec<(&'static str, String)> {
        let mut answers = Vec::new();
        for (speaker, named) in taps {
            let answer = said(&try_out(world, &speaker, &named));
            self.acts.insert(taps::tag(&named.act));
            self.answers.insert(answer.clone());
            answers.push((named.name, answer));
        }
        answers
    }

    fn odd(&mut self, odd: &Odd) {
        let answer = said(&try_out(&odd.world, &odd.speaker, &odd.named));
        writeln!(self.text, "{}, {}: {answer}", odd.what, odd.named.name).unwrap();
        self.answers.insert(answer);
    }
}

/// The names of taps after the answer that they get.
fn lines(answers: &[(&'static str, String)], indent: &str) -> String {
    let mut by_answer: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (name, answer) in answers {
        by_answer.entry(answer).or_default().push(name);
    }
    let line = |(answer, names): (&str, Vec<&str>)| format!("{indent}{answer}: {}\n", names.join(", "));
    by_answer.into_iter().map(line).collect()
}

#[test]
fn every_tap_in_every_phase_has_its_answer() {
    let mut table = Table::default();
    for phase in phases() {
        table.phase(&phase);
    }
    for odd in odd_taps() {
        table.odd(&odd);
    }
    let Table { text: table, acts, answers: refusals, .. } = table;
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/every_tap.txt");
    if std::env::var("GOLDEN").as_deref() == Ok("write") {
        std::fs::write(&path, &table).unwrap();
    }
    let all = variants::<turnabout_protocol::command::Act>("do");
    let missing: Vec<_> = all.difference(&acts).collect();
    assert!(missing.is_empty(), "taps that are never tried: {missing:?}");
    let elsewhere: BTreeSet<String> = OF_THE_LIVE_ROOM.iter().map(|name| (*name).to_owned()).collect();
    let known = variants::<Refusal>("because");
    let never: Vec<_> = known.difference(&refusals).filter(|name| !elsewhere.contains(*name)).collect();
    assert!(never.is_empty(), "refusals that no tap leads to: {never:?}");
    let both: Vec<_> = elsewhere.intersection(&refusals).collect();
    assert!(both.is_empty(), "the core gives these after all: {both:?}");
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    for (line, (is, was)) in table.lines().zip(kept.lines()).enumerate() {
        assert_eq!(is, was, "line {} of {}", line + 1, path.display());
    }
    assert_eq!(table.lines().count(), kept.lines().count(), "{}", path.display());
}

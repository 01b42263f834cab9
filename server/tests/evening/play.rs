//! Plays a script on the real core in driven time.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::command::{Act, Effort, Ending};
use turnabout_protocol::ids::{CommandId, DeviceId, GroupId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::config::{Names, Person};
use turnabout_server::floor::decide::{Speaker, Tap, Verdict, decide};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::State;
use turnabout_server::floor::undo::{RecentTaps, TappedBy};
use turnabout_server::floor::{due, invariants};
use turnabout_server::setup::{parse_floor, parse_programme};
use uuid::Uuid;

use crate::acts::{Reader, speaker};
use crate::book;
use crate::script::{Line, Mistake, Outcome, When};
use crate::words::Words;

/// 2026-11-25, a Wednesday, 17:55 at the floor: floor time begins.
const BEGINS_UTC_MS: i64 = 1_795_625_700_000;
const BEGINS_AT: i64 = (17 * 60 + 55) * 60;
/// How long a line waits for the set it names.
const PATIENCE: Millis = Millis::secs(45 * 60);

/// How sets go that do not go as they should.
pub(crate) type Fates = BTreeMap<TurnId, (Option<u8>, Option<Effort>, Option<Ending>)>;

/// An evening as it goes on.
pub(crate) struct Evening {
    pub(crate) state: State,
    pub(crate) entries: Vec<Entry>,
    pub(crate) names: Names,
    now: FloorMs,
    by_the_book: BTreeSet<GroupId>,
    fates: Fates,
    recent: RecentTaps,
    /// The last tap of each that is written down.
    last: BTreeMap<Actor, CommandId>,
    taps: u128,
}

/// The time of day at a floor time, in seconds.
pub(crate) const fn time_of_day(at: FloorMs) -> i64 {
    BEGINS_AT + at.0.div_euclid(1_000)
}

impl Evening {
    /// The floor and the programme of the files beside this.
    pub(crate) fn new() -> Self {
        let floor = parse_floor("floor.toml", include_str!("floor.toml"), None);
        let floor = floor.unwrap_or_else(|mistakes| panic!("{mistakes}"));
        let programme = parse_programme("programme.toml", include_str!("programme.toml"), &floor.floor);
        let programme = programme.unwrap_or_else(|mistakes| panic!("{mistakes}"));
        let mut names = floor.names;
        names.extend(programme.names);
        let mut evening = Self {
            state: State::new(),
            entries: Vec::new(),
            names,
            now: FloorMs(0),
            by_the_book: BTreeSet::new(),
            fates: Fates::new(),
            recent: RecentTaps::default(),
            last: BTreeMap::new(),
            taps: 0,
        };
        evening.take(Actor::Floor, evening.now, Event::FloorSet(Box::new(floor.floor)));
        let mapping = Event::ClockMapped { utc_ms: BEGINS_UTC_MS, offset_secs: 3_600 };
        evening.take(Actor::Floor, evening.now, mapping);
        evening.take(Actor::Floor, evening.now, Event::ProgrammeSet(Box::new(programme.programme)));
        evening
    }

    fn take(&mut self, by: Actor, at: FloorMs, event: Event) {
        let sequence = self.state.sequence + 1;
        let entry = Entry { sequence, recorded: self.now, at, by, event };
        evolve(&mut self.state, &entry);
        invariants::check(&self.state).unwrap_or_else(|broken| panic!("{broken} after {entry:?}"));
        self.entries.push(entry);
    }

    /// What is due by now happens.
    fn settle(&mut self) {
        while let Some(due) = due::due(&self.state, self.now) {
            self.recent.note_floor(&self.state, &due.events, self.now);
            for event in due.events {
                self.take(Actor::Floor, due.at, event);
            }
        }
    }

    /// A second after the other, each with what people do by the book.
    fn pass_to(&mut self, to: FloorMs) {
        while self.now < to {
            self.now = (self.now + Millis::secs(1)).min(to);
            self.settle();
            let groups: Vec<GroupId> = self.by_the_book.iter().copied().collect();
            for group in groups {
                let hand = InHand::of(&self.state, group);
                let next = hand.and_then(|hand| book::next(&self.state, &hand, &self.fates, self.now));
                let Some((speaker, act)) = next else { continue };
                let verdict = self.tap(&speaker, act.clone());
                assert!(
                    matches!(verdict, Verdict::Accepted(_)),
                    "{}: by the book group {group} does {act:?}: {verdict:?}",
                    crate::summary::clock(self.now)
                );
            }
        }
    }

    fn tap(&mut self, speaker: &Speaker, act: Act) -> Verdict {
        let tap = Tap { speaker: speaker.clone(), at: self.now, act };
        let verdict = decide(&self.state, &tap, self.now);
        if let Verdict::Accepted(events) = &verdict {
            self.taps += 1;
            let command = CommandId(Uuid::from_u128(self.taps));
            self.recent.remember(tapped_by(speaker), command, &self.state, events, self.now);
            for event in events.clone() {
                self.take(speaker.actor, self.now, event);
            }
            self.settle();
        }
        verdict
    }

    /// Plays one line.
    pub(crate) fn play(&mut self, line: &Line) -> Result<(), Mistake> {
        self.wait_for(line)?;
        let words = || line.what.iter().map(String::as_str);
        if line.who == "evening" {
            return self.directs(line, Words::new(line.number, words()));
        }
        let speaker = speaker(&self.state, &line.who, line.number)?;
        let verdict = if line.what == ["undo"] {
            self.undo(&speaker)
        } else {
            let words = Words::new(line.number, words());
            let act = Reader { state: &self.state, names: &self.names, words }.act()?;
            let verdict = self.tap(&speaker, act);
            if matches!(verdict, Verdict::Accepted(_)) {
                self.last.insert(speaker.actor, CommandId(Uuid::from_u128(self.taps)));
            }
            verdict
        };
        let outcome = match &verdict {
            Verdict::Accepted(_) => Outcome::Accepted,
            Verdict::Already(_) => Outcome::Already,
            Verdict::Refused(refusal) => {
                let json = serde_json::to_value(refusal).unwrap();
                Outcome::Refused(json["because"].as_str().unwrap().to_owned())
            }
        };
        if outcome == line.outcome {
            Ok(())
        } else {
            let at = crate::summary::clock(self.now);
            Err(Mistake { line: line.number, what: format!("at {at} the floor answers {verdict:?}") })
        }
    }

    fn undo(&mut self, speaker: &Speaker) -> Verdict {
        let by = tapped_by(speaker);
        let command = self.last.get(&speaker.actor).copied().unwrap_or(CommandId(Uuid::nil()));
        match self.recent.undo(by, command, &self.state, self.now) {
            Err(refusal) => Verdict::Refused(refusal),
            Ok(events) => {
                self.taps += 1;
                let undo = CommandId(Uuid::from_u128(self.taps));
                self.recent.taken_back((command, undo), by, &self.state, &events, self.now);
                for event in events.clone() {
                    self.take(speaker.actor, self.now, event);
                }
                self.settle();
                Verdict::Accepted(events)
            }
        }
    }

    fn wait_for(&mut self, line: &Line) -> Result<(), Mistake> {
        let mistake = |what: &str| Mistake { line: line.number, what: what.to_owned() };
        let to = match &line.when {
            When::At(secs) => FloorMs((secs - BEGINS_AT) * 1_000),
            When::After(secs) => self.now + Millis::secs(*secs),
            When::Go { set, secs } => {
                self.wait(line, set, |state, turn| {
                    let current = state.groups.get(&turn.group)?.clients.get(&turn.client)?.current?;
                    (current.turn == turn).then_some(current.went.when)
                })? + Millis::secs(*secs)
            }
            When::Over { set, secs } => {
                self.wait(line, set, |state, turn| Some(state.record(turn)?.done.when))? + Millis::secs(*secs)
            }
        };
        // After a set means no earlier: what came between may have taken longer.
        let at_once = matches!(line.when, When::Go { .. } | When::Over { .. });
        if to < self.now && !at_once {
            return Err(mistake(&format!("it is {} already", crate::summary::clock(self.now))));
        }
        self.pass_to(to.max(self.now));
        Ok(())
    }

    fn wait(
        &mut self,
        line: &Line,
        set: &str,
        when: impl Fn(&State, TurnId) -> Option<FloorMs>,
    ) -> Result<FloorMs, Mistake> {
        let words = Words::new(line.number, std::iter::once(set));
        let turn = Reader { state: &self.state, names: &self.names, words }.set()?;
        let until = self.now + PATIENCE;
        while self.now < until {
            if let Some(at) = when(&self.state, turn) {
                return Ok(at);
            }
            self.pass_to(self.now + Millis::secs(1));
        }
        Err(Mistake { line: line.number, what: format!("nobody comes to {set}") })
    }

    /// What the script itself does: `book GROUP..`, `hand GROUP..`, `fate SET ...`, `down SECONDS`, `goes on`.
    fn directs(&mut self, line: &Line, mut words: Words<'_>) -> Result<(), Mistake> {
        let what = words.next("what happens")?;
        match what {
            "book" | "hand" => {
                for group in words.rest() {
                    let group = group.parse().map(GroupId);
                    let group = group.map_err(|_| words.mistake("a group is a number"))?;
                    if what == "book" {
                        self.by_the_book.insert(group);
                    } else {
                        self.by_the_book.remove(&group);
                    }
                }
            }
            "fate" => {
                let mut reader = Reader { state: &self.state, names: &self.names, words };
                let (turn, how) = (reader.set()?, reader.how()?);
                self.fates.insert(turn, how);
            }
            "down" => {
                let down = Millis::secs(words.number("seconds")?);
                self.now = self.now + down;
                self.take(Actor::Floor, self.now, Event::Resumed { down });
                self.settle();
            }
            "goes-on" => {}
            other => {
                return Err(Mistake { line: line.number, what: format!("an evening does not `{other}`") });
            }
        }
        Ok(())
    }

    /// What somebody is called.
    pub(crate) fn name(&self, person: Person) -> &str {
        self.names.get(&person).map_or("?", String::as_str)
    }
}

/// Everybody taps on a display of their own.
fn tapped_by(speaker: &Speaker) -> TappedBy {
    let device = match speaker.actor {
        Actor::Coach { coach } => u128::from(coach.0),
        Actor::Assistant { coach } => 1_000 + u128::from(coach.0),
        Actor::Station { station } => 2_000 + u128::from(station.0),
        Actor::Board | Actor::Manager | Actor::Floor => 0,
    };
    TappedBy { device: DeviceId(Uuid::from_u128(device)), actor: speaker.actor }
}

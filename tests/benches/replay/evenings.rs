//! Evening after evening on the invented floor, through the real rules: what a year of a floor's journal is.
//!
//! Every group taps its way through its session; who taps next is drawn from a seeded sequence.

use std::collections::VecDeque;

use turnabout_protocol::command::{Act, Effort};
use turnabout_protocol::ids::{CommandId, DeviceId, GroupId, TurnId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::decide::{Speaker, Tap, Verdict, decide};
use turnabout_server::floor::due;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::state::State;
use turnabout_server::journal::{Batch, Journal, ReadError, StoredAnswer, codec};
use uuid::Uuid;

use crate::floor::{self, COACH};
use crate::random::Random;

/// Groups of an evening.
pub(crate) const GROUPS: u16 = 10;
/// Rows written at once.
const BATCH: usize = 4_096;
/// From the end of one evening to the start of the next.
const UNTIL_NEXT: Millis = Millis::secs(20 * 3_600);
/// Taps in vain, one after the other, after which something is wrong with the script.
const IN_VAIN: usize = 10_000;

/// The floor and where its groups are.
pub(crate) struct Evenings {
    state: State,
    now: FloorMs,
    random: Random,
    number: u32,
    /// What each group is still to do, in order.
    scripts: Vec<VecDeque<Act>>,
    batch: Batch,
    in_vain: usize,
}

impl Evenings {
    /// A floor of which the journal knows nothing yet.
    pub(crate) fn new() -> Self {
        let mut evenings = Self {
            state: State::new(),
            now: FloorMs(0),
            random: Random::new(20),
            number: 0,
            scripts: Vec::new(),
            batch: Batch::default(),
            in_vain: 0,
        };
        let floor = floor::files(GROUPS).floor;
        evenings.take(Actor::Floor, Event::FloorSet(Box::new(floor)));
        evenings.begin();
        evenings
    }

    /// The last entry.
    pub(crate) const fn sequence(&self) -> u64 {
        self.state.sequence
    }

    /// Evenings so far.
    pub(crate) const fn number(&self) -> u32 {
        self.number
    }

    /// Goes on until there are so many entries, or a few more, and writes them.
    pub(crate) fn fill(&mut self, journal: &mut Journal, entries: u64) {
        while self.state.sequence < entries {
            self.step();
            if self.batch.rows.len() >= BATCH {
                self.write(journal);
            }
        }
        self.write(journal);
    }

    /// Takes in what somebody else has written.
    pub(crate) fn catch_up(&mut self, journal: &Journal) {
        let taken = journal.rows_after(self.state.sequence, |row| -> Result<(), ReadError> {
            evolve(&mut self.state, &codec::decode(&row).expect("an entry"));
            Ok(())
        });
        taken.expect("a journal that reads");
        self.now = self.now.max(self.state.recorded);
    }

    fn write(&mut self, journal: &mut Journal) {
        journal.append(&self.batch).expect("a disk that works");
        self.batch = Batch::default();
    }

    fn begin(&mut self) {
        self.take(Actor::Floor, Event::ClockMapped { utc_ms: self.now.0, offset_secs: 0 });
        let programme = floor::programme(GROUPS, self.number);
        self.scripts = programme.groups.keys().map(|group| self.script(*group)).collect();
        self.take(Actor::Floor, Event::ProgrammeSet(Box::new(programme)));
        self.number += 1;
    }

    /// A session from the first reservation to the last set.
    fn script(&mut self, group: GroupId) -> VecDeque<Act> {
        let plan = floor::programme(GROUPS, self.number).groups.remove(&group).expect("one of tonight's");
        let place = u16::try_from((group.0 - 1) % u32::from(GROUPS)).expect("below ten") + 1;
        let mut script = VecDeque::new();
        for (block, content) in (0..).zip(&plan.blocks) {
            let stations = floor::stations(place).into();
            script.push_back(Act::TakeStations { group, block, stations, revision: 0, despite: None });
            for round in 0..=content.rounds {
                for client in floor::clients(place) {
                    for leg in [0, 1] {
                        self.set(TurnId { group, client, block, round, leg }, &mut script);
                    }
                }
            }
        }
        script
    }

    fn set(&mut self, turn: TurnId, script: &mut VecDeque<Act>) {
        script.push_back(Act::ConfirmLoad { turn });
        if self.random.once_in(5) {
            script.push_back(Act::NotYet { turn });
        }
        script.push_back(Act::Go { turn });
        let effort = Some([Effort::Light, Effort::Right, Effort::Heavy][self.random.below(3)]);
        let reps = self.random.once_in(3).then_some(9);
        script.push_back(Act::Done { turn, reps, effort, ending: None });
        if self.random.once_in(5) {
            script.push_back(Act::Reps { turn, reps: 8 });
        }
        if turn.round == 0 {
            script.push_back(Act::PassTechnique { turn });
        }
    }

    fn step(&mut self) {
        self.now = self.now + Millis::secs(1 + i64::from(self.random.once_in(2)));
        while let Some(due) = due::due(&self.state, self.now) {
            for event in due.events {
                self.take(Actor::Floor, event);
            }
        }
        let busy: Vec<usize> = (0..self.scripts.len()).filter(|n| !self.scripts[*n].is_empty()).collect();
        if let Some(group) = busy.get(self.random.below(busy.len().max(1))) {
            self.tap(*group);
        } else if self.state.stations.values().all(|station| station.claim.is_none()) {
            self.now = self.now + UNTIL_NEXT;
            self.begin();
        }
    }

    /// The group's next tap. One whose time has not come stays; a load that needs no confirming passes.
    fn tap(&mut self, group: usize) {
        let Some(mut act) = self.scripts[group].front().cloned() else { return };
        if let Act::TakeStations { group, revision, .. } = &mut act {
            *revision = self.state.groups.get(group).map_or(0, |now| now.revision);
        }
        let confirms = matches!(act, Act::ConfirmLoad { .. });
        let speaker = Speaker { actor: Actor::Coach { coach: COACH }, stations: Vec::new() };
        match decide(&self.state, &Tap { speaker, at: self.now, act }, self.now) {
            Verdict::Accepted(events) => {
                for event in events {
                    self.take(Actor::Coach { coach: COACH }, event);
                }
                self.answered();
            }
            Verdict::Already(_) => {}
            Verdict::Refused(_) if confirms => {}
            Verdict::Refused(refusal) => {
                self.in_vain += 1;
                assert!(self.in_vain < IN_VAIN, "nobody gets on: {refusal:?}");
                return;
            }
        }
        self.in_vain = 0;
        self.scripts[group].pop_front();
    }

    fn take(&mut self, by: Actor, event: Event) {
        let sequence = self.state.sequence + 1;
        let entry = Entry { sequence, recorded: self.now, at: self.now, by, event };
        evolve(&mut self.state, &entry);
        self.batch.rows.push(codec::encode(&entry).expect("plain JSON"));
    }

    /// The answer to the last tap, which the journal keeps too.
    fn answered(&mut self) {
        let outcome = Outcome::Accepted { recorded: self.now };
        let mut body_hash = [0; 32];
        for part in body_hash.chunks_mut(8) {
            part.copy_from_slice(&self.random.next().to_le_bytes());
        }
        let (device, command) = (DeviceId(self.uuid()), CommandId(self.uuid()));
        self.batch.answers.push(StoredAnswer {
            device,
            command,
            body_hash,
            recorded: self.now,
            sequence: self.state.sequence,
            json: serde_json::to_string(&outcome).expect("plain JSON"),
        });
    }

    fn uuid(&mut self) -> Uuid {
        Uuid::from_u64_pair(self.random.next(), self.random.next())
    }
}

//! What must be so, looked up in the journal alone.

use std::collections::BTreeMap;

use turnabout_protocol::ids::CommandId;
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::role::Topic;
use turnabout_protocol::view::View;
use turnabout_server::floor::config::Names;
use turnabout_server::floor::event::Entry;
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::invariants;
use turnabout_server::floor::planned;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::{self, Context};
use turnabout_server::journal::codec;

use crate::disk::Disk;
use crate::hand::{Asked, Hand};

/// Something that must never happen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Wrong {
    /// A display did not show in time what the journal says. Times are milliseconds.
    Stale { display: String, at: u64, current_until: Option<u64> },
    /// Two displays showed different content for the same revision of the same topic.
    Apart { display: String, sequence: u64 },
    /// The journal leads to a state that must not be.
    Broken { sequence: u64, what: String },
    /// A command was acknowledged, and the journal has no such answer, or another.
    Lost { by: String, command: CommandId },
    /// Two accepted commands rest on the same entry: one of them did nothing.
    Shared { sequence: u64 },
    /// A command got two different answers.
    Unlike { by: String, command: CommandId, answers: Vec<Outcome> },
    /// A command got no answer.
    Unanswered { by: String, command: CommandId },
    /// An accepted command was not answered when it was sent again.
    NotAgain { by: String, command: CommandId },
}

/// The state that the journal leads to, followed as it grows.
pub(crate) struct Truth {
    disk: Disk,
    names: Names,
    state: State,
    entries: Vec<Entry>,
    views: BTreeMap<Topic, View>,
}

impl Truth {
    pub(crate) fn new(disk: Disk, names: Names) -> Self {
        Self { disk, names, state: State::new(), entries: Vec::new(), views: BTreeMap::new() }
    }

    /// Takes what was written since. Whatever a commit leaves behind is a state that must hold.
    pub(crate) fn follow(&mut self) -> Result<(), Wrong> {
        for row in self.disk.rows_after(self.state.sequence) {
            let entry = codec::decode(&row).expect("an entry of this version");
            evolve(&mut self.state, &entry);
            self.entries.push(entry);
            self.views.clear();
        }
        let sequence = self.state.sequence;
        invariants::check(&self.state).map_err(|broken| Wrong::Broken { sequence, what: broken.to_string() })
    }

    /// What a display of this topic should show now.
    pub(crate) fn view(&mut self, topic: &Topic) -> &View {
        let Self { state, names, views, .. } = self;
        views.entry(topic.clone()).or_insert_with(|| {
            // The invented floor's zone is UTC here.
            let context = Context { names, notes: &BTreeMap::new(), zone_offset: 0, plan: &planned::NOTHING };
            let watch = views::resolve(&state.floor, topic).expect("a topic of this floor");
            views::view(state, &context, &watch).expect("a view")
        })
    }

    /// How many entries there are.
    pub(crate) fn entries(&self) -> usize {
        self.entries.len()
    }

    /// What is wrong with the answers that were given, once everything is over.
    pub(crate) fn answers(&self, hands: &[Hand]) -> Vec<Wrong> {
        let stored = self.disk.answers();
        let mut wrong = Vec::new();
        let mut sequences: Vec<u64> = stored.iter().map(|answer| answer.sequence).collect();
        sequences.sort_unstable();
        let shared = sequences.windows(2).filter(|pair| pair[0] == pair[1]);
        wrong.extend(shared.map(|pair| Wrong::Shared { sequence: pair[0] }));
        for hand in hands {
            for asked in hand.asked() {
                let same = stored
                    .iter()
                    .filter(|answer| answer.device == hand.device() && answer.command == asked.command.id);
                let kept: Vec<Outcome> = same
                    .filter(|answer| self.holds(answer.sequence, &asked))
                    .map(|answer| serde_json::from_str(&answer.json).expect("an outcome"))
                    .collect();
                wrong.extend(check(hand.name(), &asked, &kept));
            }
        }
        wrong
    }

    /// Whether the entry that an accepted command rests on is there, from a coach and of that moment.
    fn holds(&self, sequence: u64, asked: &Asked) -> bool {
        let entry = self.entries.iter().find(|entry| entry.sequence == sequence);
        entry.is_some_and(|entry| {
            asked.answers.iter().all(|(_, answer)| match answer {
                Outcome::Accepted { recorded } => entry.recorded == *recorded,
                Outcome::Already { .. } | Outcome::Refused { .. } => true,
            })
        })
    }
}

fn check(by: &str, asked: &Asked, kept: &[Outcome]) -> Vec<Wrong> {
    let (by, command) = (by.to_owned(), asked.command.id);
    let answers: Vec<Outcome> = asked.answers.iter().map(|(_, answer)| answer.clone()).collect();
    let mut wrong = Vec::new();
    let Some(first) = answers.first() else { return vec![Wrong::Unanswered { by, command }] };
    if asked.accepted() && kept != [first.clone()] {
        wrong.push(Wrong::Lost { by: by.clone(), command });
    }
    if asked.accepted() && !asked.answered_again() {
        wrong.push(Wrong::NotAgain { by: by.clone(), command });
    }
    // Refusals are remembered for the server's run alone, and these two for no time at all.
    let lasting = |(_, answer): &&(uuid::Uuid, Outcome)| {
        !matches!(answer, Outcome::Refused { refusal: Refusal::Busy | Refusal::NotSaving { .. } })
    };
    let mut pairs = asked.answers.iter().filter(lasting).zip(asked.answers.iter().filter(lasting).skip(1));
    let unlike = pairs.any(|((epoch, before), (later, after))| {
        let must = asked.accepted() || epoch == later;
        must && before != after
    });
    if unlike {
        wrong.push(Wrong::Unlike { by, command, answers });
    }
    wrong
}

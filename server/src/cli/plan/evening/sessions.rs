//! What each group of a programme waits for, block after block.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::text::{Language, say};
use turnabout_protocol::units::FloorMs;

use crate::floor::config::GroupPlan;
use crate::floor::decide::{Speaker, Tap, Verdict, decide};
use crate::floor::event::{Entry, Event};
use crate::floor::evolve::evolve;
use crate::floor::outlook::Outlook;
use crate::floor::outlook::limits::{BLOCKS, SESSIONS};
use crate::floor::state::State;

/// The sessions of an evening, in the order in which they begin.
#[derive(Debug, Default)]
pub(super) struct Sessions {
    /// Those that are planned.
    pub(super) planned: Vec<Session>,
    /// What of the others, and of these, is not.
    pub(super) left_out: Vec<LeftOut>,
}

/// A session that is planned.
#[derive(Debug)]
pub(super) struct Session {
    pub(super) group: GroupId,
    clients: Vec<ClientId>,
    /// For each of its blocks that are planned the floor as it is when the group waits for the stations of that block;
    /// at least one.
    pub(super) blocks: Vec<State>,
}

/// A group that is not planned, or not to its end.
#[derive(Debug)]
pub(in crate::cli::plan) struct LeftOut {
    pub(in crate::cli::plan) group: GroupId,
    /// The first of its blocks that is not, from 0.
    pub(in crate::cli::plan) block: u8,
    pub(in crate::cli::plan) why: String,
}

impl Sessions {
    /// All of an evening that is about to begin. Each of them comes to an empty floor here: what they take from each
    /// other is for the plan to say.
    pub(super) fn of(opening: &State) -> Self {
        let at = |(id, _): (&GroupId, &GroupPlan)| (opening.starts_at(*id).unwrap_or(FloorMs(0)), *id);
        let mut groups: Vec<(FloorMs, GroupId)> = opening.programme.groups.iter().map(at).collect();
        groups.sort_unstable();
        let blocks = |(_, id): &(FloorMs, GroupId)| {
            opening.programme.groups.get(id).map_or(0, |plan| plan.blocks.len())
        };
        let each = most_of_each(&groups.iter().take(SESSIONS).map(blocks).collect::<Vec<_>>());
        let mut sessions = Self::default();
        for (at, group) in groups {
            sessions.come(opening, group, at, each);
        }
        sessions
    }

    /// A group comes at its time; no more than so many of its blocks are planned.
    fn come(&mut self, opening: &State, group: GroupId, at: FloorMs, each: usize) {
        let Some(plan) = opening.programme.groups.get(&group) else { return };
        if self.planned.len() >= SESSIONS {
            let why = format!("only the first {SESSIONS} groups of an evening are planned");
            self.left_out.push(LeftOut { group, block: 0, why });
            return;
        }
        let clients = plan.clients.clone();
        let mut core = Core { state: opening.clone(), at, coach: Actor::Coach { coach: plan.coach } };
        let mut blocks = Vec::new();
        let mut waits = core.tap(Act::Arrive { group, clients: clients.clone() });
        for block in (0..plan.blocks.len()).map_while(|block| u8::try_from(block).ok()) {
            if usize::from(block) >= each {
                let why =
                    format!("only {BLOCKS} blocks of an evening are planned, here {each} of each group");
                self.left_out.push(LeftOut { group, block, why });
                break;
            }
            match waits.and_then(|()| core.waits(group, block)) {
                Ok(()) => blocks.push(core.state.clone()),
                Err(why) => {
                    self.left_out.push(LeftOut { group, block, why });
                    break;
                }
            }
            core.over(group, block);
            waits = Ok(());
        }
        if !blocks.is_empty() {
            self.planned.push(Session { group, clients, blocks });
        }
    }

    /// For each block, all sessions one after another, by position those that are over before it begins: the block before,
    /// and for the first of a session the last of every session that one of its clients has before. A client trains
    /// with one group at a time, so a session begins when all its clients are free.
    pub(super) fn after(&self) -> Vec<Vec<usize>> {
        let mut after = Vec::new();
        let mut lasts: Vec<(&Session, usize)> = Vec::new();
        for session in &self.planned {
            let shares = |earlier: &Session| session.clients.iter().any(|id| earlier.clients.contains(id));
            let before = lasts.iter().filter(|(earlier, _)| shares(earlier));
            after.push(before.map(|(_, last)| *last).collect());
            for _ in 1..session.blocks.len() {
                after.push(vec![after.len() - 1]);
            }
            lasts.push((session, after.len() - 1));
        }
        after
    }
}

/// How many blocks of each session are planned, so that all of them together are no more than [`BLOCKS`]; at least one.
fn most_of_each(blocks: &[usize]) -> usize {
    let fits = |each: &usize| blocks.iter().map(|own| own.min(each)).sum::<usize>() <= BLOCKS;
    (1..=blocks.iter().copied().max().unwrap_or(1)).take_while(fits).last().unwrap_or(1)
}

/// The floor's core with one group, which comes at its time.
struct Core {
    state: State,
    at: FloorMs,
    coach: Actor,
}

impl Core {
    fn happen(&mut self, by: Actor, event: Event) {
        let (at, sequence) = (self.at, self.state.sequence + 1);
        evolve(&mut self.state, &Entry { sequence, recorded: at, at, by, event });
    }

    /// The coach says something. The error is why not.
    fn tap(&mut self, act: Act) -> Result<(), String> {
        let speaker = Speaker { actor: self.coach, stations: Vec::new() };
        match decide(&self.state, &Tap { speaker, at: self.at, act }, self.at) {
            Verdict::Accepted(events) => {
                events.into_iter().for_each(|event| self.happen(self.coach, event));
                Ok(())
            }
            Verdict::Already(_) => Ok(()),
            Verdict::Refused(refusal) => {
                Err(say(Language::En, "refusal", &refusal, |_, value| value.to_string()))
            }
        }
    }

    /// The group asks for the stations of a block. The error is why it cannot.
    fn waits(&mut self, group: GroupId, block: u8) -> Result<(), String> {
        let revision = self.state.groups.get(&group).map_or(0, |now| now.revision);
        self.tap(Act::AskStations { group, block, revision })?;
        let suits = Outlook::waits(&self.state, group);
        if suits { Ok(()) } else { Err("no stations suit it".to_owned()) }
    }

    /// The block is behind the group, as the floor says it of itself: all sets are done, and the stations free again.
    fn over(&mut self, group: GroupId, block: u8) {
        self.happen(Actor::Floor, Event::SetsFinished { group, block });
        self.happen(Actor::Floor, Event::StationsFreed { group, block, bar: None });
    }
}

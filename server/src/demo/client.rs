//! Whoever is at a station's display: loads, says GO and done, and now and then wants something else.

use std::collections::VecDeque;

use turnabout_protocol::command::{Act, CallKind, Effort, Ending};
use turnabout_protocol::ids::{ClientId, TurnId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{
    After, HaltKind, HaltPart, Need, StationPart, StationView, TurnPart, TurnPhase,
};

use super::agenda::{Offer, Rank};
use super::dice::Dice;
use super::script::Script;
use super::told;

/// Sets whose mood is kept: those under way, coming and asked about at four stations, twice over.
const MOODS: usize = 24;
/// Sets remembered as heavy: more clients and exercises than one station sees in a block.
const HEAVY: usize = 16;

/// How often in a thousand sets: nobody taps done, so that the coach must.
const FORGETS_DONE: u64 = 60;
/// How often in a thousand sets: NOT YET.
const NOT_YET: u64 = 60;
/// How often in a thousand sets: COACH PLEASE.
const CALLS: u64 = 25;
/// How often in a thousand heavy sets the next is made lighter.
const LIGHTER: u64 = 600;

/// The people at one station's display.
#[derive(Clone, Debug)]
pub(super) struct Clients {
    dice: Dice,
    moods: VecDeque<Mood>,
    heavy: VecDeque<(ClientId, u8)>,
    script: Script,
}

/// What chance has in store for one set, drawn when it is first seen.
#[derive(Clone, Debug)]
struct Mood {
    turn: TurnId,
    /// How long it really lasts, of the prescribed time; drawn on GO, when that is known.
    lasts: Option<Millis>,
    forgets: bool,
    not_yet: bool,
    calls: bool,
    lighter: bool,
    effort: Effort,
    answers: Answers,
    /// Repetitions short of the target.
    short: u8,
}

/// When a client says how a set felt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Answers {
    WithDone,
    Afterwards,
    Never,
}

impl Clients {
    pub(super) fn new(dice: Dice, script: Script) -> Self {
        Self { dice, moods: VecDeque::new(), heavy: VecDeque::new(), script }
    }

    /// Everything that could be tapped at this display.
    pub(super) fn offers(&mut self, view: &StationView) -> Vec<Offer> {
        let mut offers = Vec::new();
        for part in &view.stations {
            self.script.station(part, &mut offers);
            if let Some(turn) = &part.turn {
                self.call(part, turn, &mut offers);
                self.set(turn, part.halt, &mut offers);
            }
            for ask in &part.ask_efforts {
                let mood = self.mood(ask.turn);
                let (effort, answers) = (mood.effort, mood.answers);
                if answers == Answers::Afterwards {
                    let act = Act::Effort { turn: ask.turn, effort };
                    offers.push(offer(act, FloorMs::default(), (5, 20), Rank::Later));
                }
            }
        }
        offers
    }

    /// A tap was answered: what was meant to happen once does not happen again.
    pub(super) fn answered(&mut self, act: &Act, outcome: &Outcome) {
        self.script.answered(act, outcome);
        match act {
            Act::NotYet { turn } => self.mood(*turn).not_yet = false,
            Act::Lighter { turn, .. } => self.mood(*turn).lighter = false,
            Act::Call { call: CallKind::CoachPlease, .. } => {
                for mood in &mut self.moods {
                    mood.calls = false;
                }
            }
            Act::Done { turn, effort: Some(Effort::Heavy), .. }
            | Act::Effort { turn, effort: Effort::Heavy } => {
                if self.heavy.len() == HEAVY {
                    self.heavy.pop_front();
                }
                self.heavy.push_back((turn.client, turn.leg));
            }
            // Moods are about these taps only; every other one, of today or to come, leaves them as they are.
            _ => {}
        }
    }

    fn set(&mut self, part: &TurnPart, halt: Option<HaltPart>, offers: &mut Vec<Offer>) {
        match &part.phase {
            TurnPhase::Coming { after, ready, go_from, needs } => {
                if !needs.iter().any(blocks) {
                    self.coming(part, *after, (*ready, *go_from), needs, offers);
                }
            }
            TurnPhase::UnderWay { starts, ends, .. } => {
                if let Some(halt) = halt.filter(|halt| halt.halt == HaltKind::Stop) {
                    return offers.push(racked(part, halt.since, (*starts, *ends)));
                }
                if let Some(helped) = self.script.helped(part) {
                    return offers.push(helped);
                }
                let whole = ends.since(*starts);
                let lasts = match self.mood(part.turn).lasts {
                    Some(lasts) => lasts,
                    None => self.dice.varied(whole),
                };
                let mood = self.mood(part.turn);
                mood.lasts = Some(lasts);
                if !mood.forgets {
                    let act = done(mood, part.reps);
                    offers.push(offer(act, *starts + lasts, (2, 5), Rank::Soon));
                }
            }
        }
    }

    fn coming(
        &mut self,
        part: &TurnPart,
        after: After,
        (ready, go_from): (FloorMs, FloorMs),
        needs: &[Need],
        offers: &mut Vec<Offer>,
    ) {
        let turn = part.turn;
        let mood = self.mood(turn);
        if mood.lighter && part.load.is_some() {
            // Nobody loads what is to become lighter.
            let act = Act::Lighter { turn, revision: part.revision };
            return offers.push(offer(act, FloorMs::default(), (4, 12), Rank::Soon));
        }
        // What cannot be put on waits for another load.
        let there = part.load.as_ref().is_some_and(|load| load.unbuilt.is_none());
        if there && needs.contains(&Need::ConfirmLoad) {
            offers.push(offer(Act::ConfirmLoad { turn }, FloorMs::default(), (12, 30), Rank::Soon));
        }
        if mood.not_yet {
            let shortly_before = ready - Millis::secs(4);
            offers.push(offer(Act::NotYet { turn }, shortly_before, (0, 3), Rank::Soon));
        } else if needs.is_empty() && !part.spotted {
            // At a spotted set it is the spotter who asks "ready?" and says GO.
            let takes = match after {
                // Walking over and setting the pin.
                After::Changeover { .. } => (6, 12),
                After::Nothing | After::Rest { .. } => (2, 6),
            };
            offers.push(offer(Act::Go { turn }, told::goes(part, ready).max(go_from), takes, Rank::Soon));
        }
    }

    fn call(&mut self, part: &StationPart, turn: &TurnPart, offers: &mut Vec<Offer>) {
        let TurnPhase::Coming { after: After::Rest { since, .. }, .. } = &turn.phase else { return };
        if self.mood(turn.turn).calls && part.calls.is_empty() {
            let act = Act::Call { station: part.station, call: CallKind::CoachPlease };
            offers.push(offer(act, *since + Millis::secs(10), (0, 10), Rank::Later));
        }
    }

    fn mood(&mut self, turn: TurnId) -> &mut Mood {
        let at = match self.moods.iter().position(|mood| mood.turn == turn) {
            Some(at) => at,
            None => {
                if self.moods.len() == MOODS {
                    self.moods.pop_front();
                }
                let mood = self.draw(turn);
                self.moods.push_back(mood);
                self.moods.len() - 1
            }
        };
        &mut self.moods[at]
    }

    fn draw(&mut self, turn: TurnId) -> Mood {
        let working = turn.round > 0;
        let heavy = self.heavy.iter().position(|felt| *felt == (turn.client, turn.leg));
        let heavy = heavy.and_then(|at| self.heavy.remove(at)).is_some();
        let dice = &mut self.dice;
        let effort = effort(dice);
        let answers = match dice.below(100) {
            0..75 => Answers::WithDone,
            75..95 => Answers::Afterwards,
            _ => Answers::Never,
        };
        Mood {
            turn,
            lasts: None,
            forgets: dice.chance(FORGETS_DONE),
            not_yet: working && dice.chance(NOT_YET),
            calls: working && dice.chance(CALLS),
            lighter: heavy && dice.chance(LIGHTER),
            effort,
            answers: if working { answers } else { Answers::Never },
            short: if effort == Effort::Heavy && dice.chance(400) { 1 } else { 0 },
        }
    }
}

fn effort(dice: &mut Dice) -> Effort {
    match dice.below(100) {
        0..8 => Effort::Light,
        8..63 => Effort::Right,
        63..75 => Effort::Heavy,
        75..80 => Effort::Rir { reps: 0 },
        80..90 => Effort::Rir { reps: 1 },
        90..96 => Effort::Rir { reps: 2 },
        _ => Effort::Rir { reps: 3 },
    }
}

/// What the people at a station cannot do anything about.
const fn blocks(need: &Need) -> bool {
    match need {
        Need::Stations
        | Need::StationFree
        | Need::Racked
        | Need::Pair
        | Need::Resume
        | Need::Arrival
        | Need::Briefing
        | Need::Coach
        | Need::OtherUse
        | Need::Service
        | Need::Help => true,
        Need::TechniquePass | Need::ConfirmLoad | Need::Spotter => false,
    }
}

/// RACK THE BAR: the set is over at once, with as many repetitions as there was time for.
fn racked(part: &TurnPart, stopped: FloorMs, (starts, ends): (FloorMs, FloorMs)) -> Offer {
    let whole = ends.since(starts).0.max(1);
    let reps = i64::from(part.reps) * stopped.since(starts).0.clamp(0, whole) / whole;
    let reps = u8::try_from(reps).unwrap_or(0).min(part.reps.saturating_sub(1));
    let act = Act::Done { turn: part.turn, reps: Some(reps), effort: None, ending: Some(Ending::Short) };
    offer(act, stopped, (3, 8), Rank::AtTheBar)
}

/// What a client says at the end of a set. Nobody counts a technique set.
fn done(mood: &Mood, target: u8) -> Act {
    let effort = (mood.answers == Answers::WithDone).then_some(mood.effort);
    let short = mood.turn.round > 0 && mood.short > 0;
    let reps = short.then(|| target.saturating_sub(mood.short));
    Act::Done { turn: mood.turn, reps, effort, ending: None }
}

fn offer(act: Act, from: FloorMs, (least, most): (i64, i64), rank: Rank) -> Offer {
    Offer { act, from, takes: (Millis::secs(least), Millis::secs(most)), place: None, rank }
}

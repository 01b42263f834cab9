//! A coach's run sheet: who needs me, where, from when. What has been told comes from the state; what comes after that
//! from the plan, which is no floor state and is handed in.

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{CoachId, StationId, TurnId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::units::{FloorMs, Secs};

use super::in_hand::InHand;
use super::outlook::because::Starts;
use super::state::State;

/// A sheet looks so far ahead: what comes later will be another anyway.
pub const AHEAD: Secs = Secs(600);
/// Lines of one sheet: more are not read between two sets.
pub const LINES: usize = 12;

/// A turn of the plan that a coach is needed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlannedTurn {
    /// Which set.
    pub turn: TurnId,
    /// Where.
    pub station: StationId,
    /// Who is needed.
    pub coach: CoachId,
    /// From when.
    pub start: FloorMs,
    /// Why not earlier.
    pub reason: StartReason,
}

/// The turns of a timetable that need a coach within [`AHEAD`], of groups that have their stations, in order of time;
/// [`LINES`] of each coach at most.
#[must_use]
pub fn planned(starts: &Starts<'_>, now: FloorMs) -> Vec<PlannedTurn> {
    let mut lines: Vec<PlannedTurn> = Vec::new();
    for turn in starts.spotted() {
        let line = turn.line();
        let of_coach = |line: &PlannedTurn| lines.iter().filter(|other| other.coach == line.coach).count();
        if let Some(line) = line.filter(|line| line.start <= now + AHEAD && of_coach(line) < LINES) {
            lines.push(line);
        }
    }
    lines
}

/// One line, and whether it has been told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// Which set, where, from when and why then.
    pub turn: PlannedTurn,
    /// Whether it has been told.
    pub told: bool,
    /// Whether the start is about then only: told so, or not told at all.
    pub about: bool,
}

/// The sheet of a coach in order of time: what has been told, and what is planned of sets of which nothing has.
#[must_use]
pub fn of(state: &State, plan: &[PlannedTurn], coach: CoachId) -> Vec<Line> {
    let told = state.promises.iter().filter(|told| told.spotter == Some(Spotter::Coach { coach }));
    let told = told.map(|told| Line {
        turn: PlannedTurn {
            turn: told.turn,
            station: told.station,
            coach,
            start: told.start,
            reason: told.reason,
        },
        told: true,
        about: told.about,
    });
    let known = |turn: TurnId| state.promises.iter().any(|told| told.turn == turn);
    let planned =
        plan.iter().filter(|line| line.coach == coach && !known(line.turn) && is_open(state, line.turn));
    let mut lines: Vec<Line> =
        told.chain(planned.map(|turn| Line { turn: *turn, told: false, about: true })).collect();
    lines.sort_by_key(|line| (line.turn.start, line.turn.turn));
    lines.truncate(LINES);
    lines
}

/// Whether a set of the plan has not begun, and nobody is held: a plan may be a moment older than the state, and it counts
/// on who is held as if they went on now.
pub(in crate::floor) fn is_open(state: &State, turn: TurnId) -> bool {
    let Some(hand) = InHand::of(state, turn.group).filter(|hand| hand.group.halt.is_none()) else {
        return false;
    };
    let goes_on = hand.client(turn.client).is_some_and(|client| client.is_here() && client.halt.is_none());
    let next = hand.next(turn.client).filter(|_| goes_on);
    next.is_some_and(|next| (next.block, next.round, next.leg) <= (turn.block, turn.round, turn.leg))
}

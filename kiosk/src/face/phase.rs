//! Where a set stands, from its instants and the present alone.

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{After, HaltKind, Need, StationPart, StationState, TurnPart, TurnPhase};

use super::leaving;

/// What is going on. Each has its own word, hue and shape on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PhaseKind {
    /// The station is for everyone.
    Free,
    /// A group has the station, and nobody of it is to come yet.
    Reserved,
    /// Something other than time is waited for.
    Held,
    /// The client has hands to lend: the load is to be put on and confirmed.
    GetReady,
    /// The first set is to come.
    Coming,
    /// The rest after a round.
    Rest,
    /// The way from one exercise to the next.
    Changeover,
    /// Who has just done a set here is on the way to the next exercise elsewhere.
    Leaving,
    /// The client may start when ready.
    Ready,
    /// GO was said.
    GetSet,
    /// Three, two, one.
    CountIn,
    /// Repetitions.
    Working,
    /// The prescribed end is past and nobody has said that it is over.
    Assumed,
    /// The group is done here.
    WipeDown,
    /// Nothing starts.
    Paused,
    /// Rack what is under way; nothing starts.
    Stopped,
    /// Somebody of the public is on the station.
    OtherUse,
    /// The station must not be used.
    OutOfService,
    /// The client is not there any more.
    Gone,
}

impl PhaseKind {
    /// The id of its word in the catalogues.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Free => "label.free_station",
            Self::Reserved => "state.reserved",
            Self::Held => "phase.held",
            Self::GetReady => "phase.get_ready",
            Self::Coming => "phase.coming",
            Self::Rest => "phase.rest",
            // The same way, seen from where it begins.
            Self::Changeover | Self::Leaving => "phase.changeover",
            Self::Ready => "phase.ready",
            Self::GetSet => "phase.get_set",
            Self::CountIn => "phase.count_in",
            Self::Working => "phase.working",
            Self::Assumed => "phase.assumed",
            Self::WipeDown => "state.wipe_down",
            Self::Paused => "halt.pause",
            Self::Stopped => "halt.stop",
            Self::OtherUse => "state.other_use",
            Self::OutOfService => "state.out_of_service",
            Self::Gone => "attendance.left",
        }
    }
}

/// The number pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tally {
    /// So much is left.
    Down(Millis),
    /// About so much is left.
    About(Millis),
    /// So much is past.
    Up(Millis),
}

/// A phase with its numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Phase {
    /// What is going on.
    pub kind: PhaseKind,
    /// The number pair, where there is one.
    pub tally: Option<Tally>,
    /// When something happens next, or was to happen: the earliest of several stations is shown large.
    /// Nothing where somebody elsewhere must act first.
    pub due: Option<FloorMs>,
}

/// The cue of a rest, and of the wait for a start that was told: from so long before its end the client is told to
/// get ready. Common practice, no source.
pub(super) const CUE: Millis = Millis::secs(30);

/// From so long before on to be in place. Common practice, no source.
const LAST_CUE: Millis = Millis::secs(10);

/// That a rest is about to end, or else the wait for a start that was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cue {
    /// Get ready.
    Soon,
    /// Be in place.
    Now,
}

impl Phase {
    /// How near the end of a rest is, or else of the wait for a start that was told.
    #[must_use]
    pub fn cue(&self, is_told: bool) -> Option<Cue> {
        let waits = self.kind == PhaseKind::Rest || is_told && self.kind == PhaseKind::Coming;
        let (Some(Tally::Down(left) | Tally::About(left)), true) = (self.tally, waits) else {
            return None;
        };
        let soon = (left <= CUE).then_some(Cue::Soon);
        if left <= LAST_CUE { Some(Cue::Now) } else { soon }
    }

    const fn plain(kind: PhaseKind) -> Self {
        Self { kind, tally: None, due: None }
    }
}

/// The phase of a station.
#[must_use]
pub fn of_station(part: &StationPart, now: FloorMs) -> Phase {
    let own = of_whose_turn(part, now);
    leaving::phase(part, own, now).unwrap_or(own)
}

/// The phase of a station by whose turn it is there.
fn of_whose_turn(part: &StationPart, now: FloorMs) -> Phase {
    let under_way = matches!(&part.turn, Some(TurnPart { phase: TurnPhase::UnderWay { .. }, .. }));
    // What is under way is racked first, whatever else is so.
    match (part.turn.as_ref().filter(|_| under_way || !is_barred(part)), part.state) {
        (Some(turn), _) => of_turn(turn, part.halt.map(|h| h.halt), now),
        (None, StationState::Free) => Phase::plain(PhaseKind::Free),
        (None, StationState::OtherUse) => Phase::plain(PhaseKind::OtherUse),
        (None, StationState::OutOfService) => Phase::plain(PhaseKind::OutOfService),
        (None, StationState::WipeDown) => Phase::plain(PhaseKind::WipeDown),
        (None, StationState::Reserved | StationState::InUse) => {
            Phase::plain(match part.halt.map(|h| h.halt) {
                Some(HaltKind::Stop) => PhaseKind::Stopped,
                Some(HaltKind::Pause) => PhaseKind::Paused,
                None => PhaseKind::Reserved,
            })
        }
    }
}

/// Whether no set can be done at a station, because others are on it or it is broken.
#[must_use]
pub(super) const fn is_barred(part: &StationPart) -> bool {
    matches!(part.state, StationState::OtherUse | StationState::OutOfService)
}

/// The phase of a set whose group may be held.
#[must_use]
pub fn of_turn(turn: &TurnPart, halt: Option<HaltKind>, now: FloorMs) -> Phase {
    match (&turn.phase, halt) {
        (_, Some(HaltKind::Stop)) => Phase { due: Some(now), ..Phase::plain(PhaseKind::Stopped) },
        (TurnPhase::UnderWay { count_in, starts, ends, .. }, Some(HaltKind::Pause) | None) => {
            under_way(*count_in, *starts, *ends, now)
        }
        (TurnPhase::Coming { after, ready, go_from, needs }, halt) => {
            let phase = match turn.promise.as_ref() {
                Some(told) => {
                    let start = told.start.max(*go_from);
                    let ahead = if told.about { Tally::About } else { Tally::Down };
                    promised(*after, *ready, (start, ahead(start.since(now))), needs, now)
                }
                None => coming(*after, *ready, *go_from, needs, now),
            };
            // Rest goes on while a group is paused, and so does its countdown.
            if halt.is_some() { Phase { kind: PhaseKind::Paused, ..phase } } else { phase }
        }
    }
}

fn under_way(count_in: FloorMs, starts: FloorMs, ends: FloorMs, now: FloorMs) -> Phase {
    if now < starts {
        let kind = if now < count_in { PhaseKind::GetSet } else { PhaseKind::CountIn };
        return Phase { kind, tally: Some(Tally::Down(starts.since(now))), due: Some(now) };
    }
    if now < ends {
        return Phase {
            kind: PhaseKind::Working,
            tally: Some(Tally::Down(ends.since(now))),
            due: Some(ends),
        };
    }
    Phase { kind: PhaseKind::Assumed, tally: Some(Tally::Up(now.since(ends))), due: Some(ends) }
}

/// What a client does until a set, and until when.
fn until(after: After, ready: FloorMs, now: FloorMs) -> (PhaseKind, FloorMs) {
    match after {
        After::Nothing => (PhaseKind::Coming, ready),
        // Announced while the set before is still under way: nobody goes over or rests yet.
        After::Changeover { since, .. } | After::Rest { since, .. } if now < since => {
            (PhaseKind::Coming, ready)
        }
        After::Changeover { limit, .. } => (PhaseKind::Changeover, limit.max(ready)),
        After::Rest { .. } => (PhaseKind::Rest, ready),
    }
}

/// What somebody does who cannot go for want of something: wait, unless nothing but the load and a spotter is missing.
/// Whoever spots comes while the plates are put on.
fn kept_by(needs: &[Need]) -> PhaseKind {
    let at_the_bar = needs.iter().all(|need| matches!(need, Need::ConfirmLoad | Need::Spotter));
    if at_the_bar && needs.contains(&Need::ConfirmLoad) { PhaseKind::GetReady } else { PhaseKind::Held }
}

/// A coming set whose start has been told, with what is left until then; `start` is no earlier than GO is taken, so that
/// nobody is said to be ready who cannot go. Whoever can go before is next: what is told bars nothing.
fn promised(
    after: After,
    ready: FloorMs,
    (start, ahead): (FloorMs, Tally),
    needs: &[Need],
    now: FloorMs,
) -> Phase {
    let (waiting, over) = until(after, ready, now);
    // The rest may end before the start: then the client is next.
    let held = !needs.is_empty() && now >= ready.min(start);
    let kind = match (now < start, held) {
        (_, true) => kept_by(needs),
        (true, false) if now < over => waiting,
        (true, false) => PhaseKind::Coming,
        (false, false) => PhaseKind::Ready,
    };
    let tally = if now < start { ahead } else { Tally::Up(now.since(start)) };
    let due = (kind != PhaseKind::Held || needs.contains(&Need::ConfirmLoad)).then_some(start);
    Phase { kind, tally: Some(tally), due }
}

fn coming(after: After, ready: FloorMs, go_from: FloorMs, needs: &[Need], now: FloorMs) -> Phase {
    let (waiting, target) = until(after, ready, now);
    // GO is taken as soon as one is over there, so the way counts to its limit while GO is live.
    let on_the_way = waiting == PhaseKind::Changeover && now < target;
    let kind = if now < ready {
        waiting
    } else if !needs.is_empty() {
        kept_by(needs)
    } else if on_the_way || now < go_from {
        waiting
    } else {
        PhaseKind::Ready
    };
    let tally = if now < target {
        Some(Tally::Down(target.since(now)))
    } else if matches!(after, After::Nothing) {
        // Before a first set there was no rest that could be over.
        None
    } else {
        Some(Tally::Up(now.since(target)))
    };
    // What waits for somebody else moves when they come; confirming the load is done at the station itself.
    let due = (kind != PhaseKind::Held || needs.contains(&Need::ConfirmLoad)).then(|| ready.max(go_from));
    Phase { kind, tally, due }
}

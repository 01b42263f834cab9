//! What a tap leads to. Pure: the state, the tap and the time in, events or a refusal out.

mod call;
mod claim;
mod finish;
mod hold;
mod load;
mod start;
mod target;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};

pub(super) use claim::suited;

use super::event::Event;
use super::roles;
use super::state::{Stamp, State};

/// Who speaks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Speaker {
    /// The part, as the journal keeps it.
    pub actor: Actor,
    /// The stations of a station's display; empty for everyone else.
    pub stations: Vec<StationId>,
}

/// One tap as it reached the floor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tap {
    /// Who.
    pub speaker: Speaker,
    /// When, as the display says.
    pub at: FloorMs,
    /// What.
    pub act: Act,
}

/// What a tap leads to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It happens: at least one event.
    Accepted(Vec<Event>),
    /// Somebody had done the same before.
    Already(Stamp),
    /// Nothing happens.
    Refused(Refusal),
}

impl From<Refusal> for Verdict {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

/// How far back the instant of a tap is believed: longer than a display is likely to be without its server
/// during one set.
pub const BELIEVED_BACK: Millis = Millis::secs(120);

/// Decides a tap at `now`.
#[must_use]
pub fn decide(state: &State, tap: &Tap, now: FloorMs) -> Verdict {
    if !roles::may(tap.speaker.actor, &tap.act) {
        return Refusal::RoleMayNot.into();
    }
    let speaker = &tap.speaker;
    let verdict = match &tap.act {
        Act::TakeStations { group, block, stations, revision } => {
            claim::take(state, *group, *block, stations, *revision)
        }
        Act::FreeStations { group, block } => claim::free(state, speaker, *group, *block),
        Act::PassTechnique { turn } => finish::pass_technique(state, speaker, *turn, now),
        Act::ConfirmLoad { turn } => load::confirm(state, speaker, *turn),
        Act::Lighter { turn, revision } => load::lighter(state, speaker, *turn, *revision),
        Act::Spot { turn } => start::spot(state, speaker, *turn),
        Act::Go { turn } => start::go(state, speaker, *turn, now),
        Act::NotYet { turn } => start::not_yet(state, speaker, *turn, now),
        Act::Done { turn, reps, effort } => {
            let said = finish::Said { reps: *reps, effort: *effort, at: tap.at };
            finish::done(state, speaker, *turn, said, now)
        }
        Act::Effort { turn, effort } => finish::effort(state, speaker, *turn, *effort),
        Act::Reps { turn, reps } => finish::reps(state, speaker, *turn, *reps),
        Act::Pause { group } => hold::pause(state, *group, now),
        Act::Stop { scope } => hold::stop(state, *scope, now),
        Act::Resume { group } => hold::resume(state, *group),
        Act::Call { station, call } => call::call(state, speaker, *station, *call),
        Act::Attend { call } => call::attend(state, *call),
    };
    verdict.unwrap_or_else(Verdict::Refused)
}

/// When a tap happened: as its display says if that lies between `from` and `now` and is at most
/// [`BELIEVED_BACK`] ago, else now.
#[must_use]
pub fn happened(at: FloorMs, from: FloorMs, now: FloorMs) -> FloorMs {
    let believed = at >= from && at <= now && now.since(at) <= BELIEVED_BACK;
    if believed { at } else { now }
}

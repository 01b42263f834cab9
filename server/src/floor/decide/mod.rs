//! What a tap leads to. Pure: the state, the tap and the time in, events or a refusal out.

mod call;
mod claim;
mod correct;
mod finish;
mod hold;
mod load;
mod note;
mod people;
mod rest;
mod session;
mod settle;
mod skip;
mod start;
mod station;
mod swap;
mod target;

use turnabout_protocol::command::{Act, Spotter};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};

pub(super) use claim::{first_loads, in_last_round, may_take, suited};
pub(super) use session::owed;

use self::start::AtTheBar;
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
        Act::TakeStations { group, block, stations, revision, despite } => {
            let (group, block, revision, despite) = (*group, *block, *revision, *despite);
            claim::take(state, claim::Wanted { group, block, stations, revision, despite }, now)
        }
        Act::AskStations { group, block, revision } => claim::ask(state, *group, *block, *revision),
        Act::WithdrawAsk { group } => claim::withdraw(state, *group),
        Act::GiveLeave { station, group } => claim::give_leave(state, *station, *group),
        Act::SwapStation { group, leg, to, revision } => {
            swap::station(state, *group, *leg, *to, *revision, now)
        }
        Act::FreeStations { group, block, bar } => claim::free(state, speaker, *group, *block, *bar),
        Act::OtherUse { station, minutes } => station::other_use(state, speaker, *station, *minutes, now),
        Act::EndOtherUse { station } => station::end_other_use(state, speaker, *station),
        Act::OutOfService { station, defect } => station::out_of_service(state, *station, *defect),
        Act::BackInService { station } => station::back_in_service(state, *station),
        Act::SetSetting { station, client, setting, value } => {
            station::set(state, speaker, (*station, *client), *setting, *value)
        }
        Act::Arrive { group, clients } => session::arrive(state, *group, clients),
        Act::WarmedUp { group, client } => session::warmed_up(state, *group, *client),
        Act::Brief { group, clients, skipped } => session::brief(state, *group, clients, *skipped),
        Act::Screen { group, client, decision } => session::screen(state, (*group, *client), *decision, now),
        Act::Leave { group, client } => session::leave(state, *group, *client, now),
        Act::MakeUp { group, client, rounds, revision } => {
            session::make_up(state, *group, *client, *rounds, *revision)
        }
        Act::SetRounds { group, block, rounds, revision } => {
            session::set_rounds(state, *group, *block, *rounds, *revision)
        }
        Act::DropBlock { group, block, revision } => session::drop_block(state, *group, *block, *revision),
        Act::EndSession { group, reason } => session::end(state, *group, *reason),
        Act::StillHere { group } => session::still_here(state, speaker, *group),
        Act::Away { coach, minutes } => people::away(state, *coach, *minutes, now),
        Act::Back { coach } => people::back(state, *coach),
        Act::HandOver { groups, from, to } => people::hand_over(state, speaker, groups, *from, *to, now),
        Act::AcceptGroup { group, from } => people::accept(state, speaker, *group, *from, now),
        Act::DeclineGroup { group } => people::decline(state, speaker, *group),
        Act::Pause { group } => hold::pause(state, *group, now),
        Act::Stop { scope } => hold::stop(state, *scope, now),
        Act::Resume { group, client } => hold::resume(state, *group, *client),
        Act::Call { station, call } => call::call(state, speaker, *station, *call),
        Act::Answer { call } => call::answer(state, speaker, *call, now),
        Act::Attend { call } => call::attend(state, *call),
        Act::Note { note, text } => note::keep(state, *note, text),
        Act::EraseNote { note } => note::erase(state, speaker.actor, *note),
        Act::PassTechnique { turn } => finish::pass_technique(state, speaker, *turn, now),
        Act::ConfirmLoad { turn } => load::confirm(state, speaker, *turn),
        Act::Lighter { turn, revision } => load::lighter(state, speaker, *turn, *revision),
        Act::SetLoad { turn, load, sure, revision } => {
            load::set(state, speaker, *turn, load::Typed { load: *load, sure: *sure }, *revision, now)
        }
        Act::SettleLoad { turn, proposed, said } => settle::settle(state, speaker, *turn, *proposed, *said),
        Act::PlatesOn { station, side, bar } => load::plates_on(state, speaker, *station, side, *bar),
        Act::PlatesMissing { station, plate, count } => {
            load::plates_missing(state, speaker, *station, *plate, *count)
        }
        Act::Spot { turn, lift_off } => start::spot(state, speaker, *turn, *lift_off, now),
        Act::SpotBy { turn, client } => {
            let at = AtTheBar { spotter: Spotter::Client { client: *client }, lift_off: false };
            start::name(state, speaker, *turn, at, now)
        }
        Act::UseArms { turn } => {
            let at = AtTheBar { spotter: Spotter::Arms, lift_off: false };
            start::name(state, speaker, *turn, at, now)
        }
        Act::PassSpotter { group, client, exercise } => {
            start::pass_spotter(state, *group, *client, *exercise)
        }
        Act::Go { turn } => start::go(state, speaker, *turn, now),
        Act::NotYet { turn } => start::not_yet(state, speaker, *turn, now),
        Act::MoreRest { turn, secs } => rest::more(state, speaker, *turn, *secs, now),
        Act::LessRest { turn, secs, reason } => rest::less(state, speaker, *turn, *secs, *reason),
        Act::TreatAsRest { turn } => rest::treat_as_rest(state, speaker, *turn),
        Act::Done { turn, reps, effort, ending } => {
            let said = finish::Said { reps: *reps, effort: *effort, ending: *ending, at: tap.at };
            finish::done(state, speaker, *turn, said, now)
        }
        Act::Skip { turn, skip, reason } => skip::skip(state, speaker, *turn, *skip, *reason),
        Act::SwapExercise { group, client, leg, exercise, station, load, sure, revision } => {
            let wanted = swap::Instead {
                group: *group,
                client: *client,
                leg: *leg,
                exercise: *exercise,
                station: *station,
                load: load.map(|load| load::Typed { load, sure: *sure }),
                revision: *revision,
            };
            swap::exercise(state, wanted, now)
        }
        Act::TechniqueAgain { turn } => skip::technique_again(state, speaker, *turn),
        Act::Correct { turn, reps, load, effort, ending } => {
            let known = correct::Known { reps: *reps, load: *load, effort: *effort, ending: *ending };
            correct::correct(state, *turn, known)
        }
        Act::Effort { turn, effort } => finish::effort(state, speaker, *turn, *effort),
        Act::Reps { turn, reps } => finish::reps(state, speaker, *turn, *reps),
        // Which tap that was and what it led to is not part of the floor: whoever keeps taps asks `undo`
        // instead of coming here.
        Act::Undo { .. } => Err(Refusal::NothingToUndo),
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

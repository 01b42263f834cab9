//! Taking back the last tap of a display: for ten seconds, by the same display, and only where nothing later
//! rests on it.
//!
//! The inverse of what a tap led to is worked out when it happens, from the state before it, and is an entry
//! like any other when it is taken back: nothing is ever removed from the journal.

use std::collections::VecDeque;

use turnabout_protocol::ids::{CommandId, DeviceId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::{FloorMs, Millis};

use super::event::{Event, Subject};
use super::state::State;

/// How long a tap can be taken back.
pub const WINDOW: Millis = Millis::secs(10);
/// Taps that are remembered: all displays of the largest floor tapping twice within the window.
const MOST_TAPS: usize = 2_048;

/// A tap that can still be taken back.
#[derive(Clone, Debug)]
struct Recent {
    device: DeviceId,
    command: CommandId,
    recorded: FloorMs,
    /// The last entry it led to.
    sequence: u64,
    about: Vec<Subject>,
    inverse: Option<Vec<Event>>,
}

/// The taps of the last seconds, and what has happened since.
#[derive(Clone, Debug, Default)]
pub struct RecentTaps {
    taps: VecDeque<Recent>,
    /// What people did after the oldest of them, by entry.
    later: VecDeque<(u64, Vec<Subject>)>,
}

impl RecentTaps {
    /// Remembers a tap that was accepted: `before` is the state before it, `sequence` its last entry.
    pub fn remember(
        &mut self,
        (device, command): (DeviceId, CommandId),
        before: &State,
        events: &[Event],
        (recorded, sequence): (FloorMs, u64),
    ) {
        self.forget_before(recorded);
        let about: Vec<Subject> = events.iter().flat_map(Event::subjects).collect();
        let inverse = events.iter().rev().map(|event| inverse(before, event)).collect::<Option<Vec<_>>>();
        let inverse = inverse.map(|events| events.into_iter().flatten().collect::<Vec<_>>());
        self.later.push_back((sequence, about.clone()));
        let inverse = inverse.filter(|events| !events.is_empty());
        self.taps.push_back(Recent { device, command, recorded, sequence, about, inverse });
        while self.taps.len() > MOST_TAPS {
            self.taps.pop_front();
        }
    }

    fn forget_before(&mut self, now: FloorMs) {
        while self.taps.front().is_some_and(|tap| now.since(tap.recorded) > WINDOW) {
            self.taps.pop_front();
        }
        let oldest = self.taps.front().map(|tap| tap.sequence);
        while self.later.front().is_some_and(|(sequence, _)| oldest.is_none_or(|oldest| *sequence < oldest)) {
            self.later.pop_front();
        }
    }

    /// What takes back a tap of this device.
    ///
    /// # Errors
    /// It was another device's, or too long ago; its kind is not taken back; or something later rests on it.
    pub fn undo(&self, device: DeviceId, command: CommandId, now: FloorMs) -> Result<Vec<Event>, Refusal> {
        let tap = self.taps.iter().rev().find(|tap| (tap.device, tap.command) == (device, command));
        let tap = tap.filter(|tap| now.since(tap.recorded) <= WINDOW).ok_or(Refusal::NothingToUndo)?;
        let inverse = tap.inverse.clone().ok_or(Refusal::NoUndo)?;
        let touches = |about: &[Subject]| about.iter().any(|a| tap.about.iter().any(|b| a.touches(*b)));
        let rests = self.later.iter().any(|(sequence, about)| *sequence > tap.sequence && touches(about));
        if rests { Err(Refusal::LaterRestsOnIt) } else { Ok(inverse) }
    }

    /// A tap that was taken back cannot be taken back again.
    pub fn taken_back(&mut self, device: DeviceId, command: CommandId) {
        self.taps.retain(|tap| (tap.device, tap.command) != (device, command));
    }
}

/// What makes an event as if it had never been, by the state before it; nothing where there is no such thing.
/// An empty list says that there is nothing to do.
#[must_use]
pub fn inverse(before: &State, event: &Event) -> Option<Vec<Event>> {
    let client = |turn: TurnId| before.groups.get(&turn.group)?.clients.get(&turn.client);
    let one = |event| Some(vec![event]);
    match event {
        Event::StationsTaken { group, block, .. } => {
            let waited = before.line.iter().any(|ask| ask.group == *group);
            let back = Event::StationsGivenBack { group: *group, block: *block };
            // A place in the wait list would be lost.
            (!waited).then(|| vec![back])
        }
        Event::StationsAsked { group, .. } => one(Event::AskWithdrawn { group: *group }),
        Event::OtherUseBegan { station, .. } => one(Event::OtherUseEnded { station: *station }),
        Event::OtherUseEnded { station } => {
            let until = before.stations.get(station)?.other_use?.until;
            one(Event::OtherUseBegan { station: *station, until })
        }
        Event::TakenOutOfService { station, .. } => one(Event::PutBackInService { station: *station }),
        Event::PutBackInService { station } => {
            let defect = before.stations.get(station)?.out?.defect;
            one(Event::TakenOutOfService { station: *station, defect })
        }
        Event::SettingKept { station, client, setting, .. } => {
            let kept = before.settings.get(client).and_then(|kept| kept.get(station));
            let value = kept.and_then(|kept| kept.get(setting)).copied();
            one(Event::SettingKept { station: *station, client: *client, setting: *setting, value })
        }
        Event::ClientsArrived { group, clients } => {
            one(Event::ArrivalTakenBack { group: *group, clients: clients.clone() })
        }
        // Comes with an arrival; whoever knows the exercises knows them still.
        Event::ClientsBriefed { skipped: true, .. } => Some(Vec::new()),
        Event::ClientLeft { group, client } => {
            one(Event::ClientsArrived { group: *group, clients: vec![*client] })
        }
        Event::TechniquePassed { turn } => one(Event::TechniqueNotPassed { turn: *turn }),
        Event::LoadConfirmed { station, .. } => one(Event::LoadUnconfirmed { station: *station }),
        Event::SpotterNamed { turn, .. } => one(Event::SpotterGone { turn: *turn }),
        Event::CoachWentAway { coach, .. } => one(Event::CoachCameBack { coach: *coach }),
        Event::CoachCameBack { coach } => {
            let until = before.coaches.get(coach)?.away?.until;
            one(Event::CoachWentAway { coach: *coach, until })
        }
        Event::GroupOffered { group, .. } => one(Event::OfferWithdrawn { group: *group }),
        Event::TurnWent { turn, .. } => one(Event::TurnCalledOff { turn: *turn }),
        Event::StartPutOff { turn, .. } => {
            let ready = client(*turn)?.put_off.unwrap_or_default();
            one(Event::StartPutOff { turn: *turn, ready })
        }
        Event::TurnDone { turn, .. } => one(Event::TurnReopened { turn: *turn }),
        Event::EffortGiven { turn, .. } => {
            let effort = before.record(*turn)?.said.effort?;
            one(Event::EffortGiven { turn: *turn, effort })
        }
        Event::RepsCorrected { turn, .. } => {
            one(Event::RepsCorrected { turn: *turn, reps: before.record(*turn)?.said.reps })
        }
        Event::SetCorrected { turn, .. } => {
            let said = before.record(*turn)?.said;
            let (reps, load, effort, ending) = (said.reps, said.load, said.effort, said.ending);
            one(Event::SetCorrected { turn: *turn, reps, load, effort, ending })
        }
        Event::RoundsSet { group, block, .. } => {
            let (plan, now) = before.group(*group)?;
            one(Event::RoundsSet { group: *group, block: *block, rounds: now.rounds_of(plan, *block) })
        }
        Event::RoundsMadeUp { group, client, .. } => {
            let rounds = before.groups.get(group)?.clients.get(client)?.extra;
            one(Event::RoundsMadeUp { group: *group, client: *client, rounds })
        }
        Event::GroupPaused { group } => one(Event::GroupResumed { group: *group }),
        Event::CallMade { call, .. } => one(Event::CallTakenBack { call: *call }),
        // What a coach stopped, resumed, skipped, swapped, handed over or ended is said anew, not taken back:
        // people have acted on it by then. What the floor did of itself nobody tapped.
        Event::FloorSet(_)
        | Event::ProgrammeSet(_)
        | Event::ClockMapped { .. }
        | Event::Resumed { .. }
        | Event::StationsGivenBack { .. }
        | Event::AskWithdrawn { .. }
        | Event::LeaveGiven { .. }
        | Event::StationSwapped { .. }
        | Event::ArrivalTakenBack { .. }
        | Event::ClientWarmedUp { .. }
        | Event::ClientsBriefed { .. }
        | Event::ScreeningDecided { .. }
        | Event::SetsMissed { .. }
        | Event::BlockDropped { .. }
        | Event::SessionEnded { .. }
        | Event::LapseWarned { .. }
        | Event::GroupStillHere { .. }
        | Event::GroupLapsed { .. }
        | Event::GroupNotComing { .. }
        | Event::TechniqueNotPassed { .. }
        | Event::TechniqueAsked { .. }
        | Event::LoadUnconfirmed { .. }
        | Event::SpotterGone { .. }
        | Event::SpotterPassed { .. }
        | Event::OfferWithdrawn { .. }
        | Event::GroupHandedOver { .. }
        | Event::TurnCalledOff { .. }
        | Event::RestShortened { .. }
        | Event::TreatedAsRest { .. }
        | Event::TurnAssumed { .. }
        | Event::TurnReopened { .. }
        | Event::TurnsSkipped { .. }
        | Event::ExerciseSkipped { .. }
        | Event::ExerciseSwapped { .. }
        | Event::LoadLightened { .. }
        | Event::SetsFinished { .. }
        | Event::StationsFreed { .. }
        | Event::GroupStopped { .. }
        | Event::GroupResumed { .. }
        | Event::ClientStopped { .. }
        | Event::ClientResumed { .. }
        | Event::CallAnswered { .. }
        | Event::CallTakenBack { .. }
        | Event::CallAttended { .. }
        | Event::NoteKept { .. } => None,
    }
}

//! The table of inverses: for every kind of event what makes it as if it had never been.

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::load::Load;

use crate::floor::event::Event;
use crate::floor::in_hand::InHand;
use crate::floor::state::{AtBar, ClientNow, Presence, State};

/// What takes back all events of one tap, the last first; nothing where one of them is not taken back, or where
/// there would be nothing to do.
pub(super) fn of_all(before: &State, events: &[Event]) -> Option<Vec<Event>> {
    let back = events.iter().rev().map(|event| inverse(before, event)).collect::<Option<Vec<_>>>()?;
    let back: Vec<Event> = back.into_iter().flatten().collect();
    (!back.is_empty()).then_some(back)
}

/// What makes an event as if it had never been, by the state before its tap; nothing where there is no such
/// thing. An empty list says that there is nothing to do.
///
/// As it was, with these exceptions: who said it and when; the group's revision and when it was last heard of;
/// numbers of calls, which are not used again; a load that was confirmed is confirmed anew; how a machine's pin
/// and settings are set is as somebody last said; whoever knows the exercises knows them still; a group that was
/// not coming is waited for again; a way over that was longer because the server was down is so no more; the board
/// tells what it has told; and what people are told of coming sets is told anew.
#[must_use]
#[expect(clippy::too_many_lines, reason = "one arm for every kind of event, each a line or a few")]
pub fn inverse(before: &State, event: &Event) -> Option<Vec<Event>> {
    let one = |event| Some(vec![event]);
    match event {
        Event::StationsTaken { group, block, stations, .. } => {
            given_back(before, *group, *block, stations).and_then(one)
        }
        Event::StationsAsked { group, .. } => {
            // Another place in the wait list would be lost.
            let waited = before.place_in_line(*group).is_some();
            (!waited).then(|| vec![Event::AskWithdrawn { group: *group }])
        }
        Event::OtherUseBegan { station, .. } => one(match before.stations.get(station)?.other_use {
            Some(other) => Event::OtherUseBegan { station: *station, until: other.until },
            None => Event::OtherUseEnded { station: *station },
        }),
        Event::OtherUseEnded { station } => {
            let until = before.stations.get(station)?.other_use?.until;
            one(Event::OtherUseBegan { station: *station, until })
        }
        Event::TakenOutOfService { station, .. } => one(match before.stations.get(station)?.out {
            Some(out) => Event::TakenOutOfService { station: *station, defect: out.defect },
            None => Event::PutBackInService { station: *station },
        }),
        Event::PutBackInService { station } => {
            let defect = before.stations.get(station)?.out?.defect;
            one(Event::TakenOutOfService { station: *station, defect })
        }
        Event::SettingKept { station, client, setting, .. } => {
            let kept = before.settings.get(client).and_then(|kept| kept.get(station));
            let value = kept.and_then(|kept| kept.get(setting)).copied();
            one(Event::SettingKept { station: *station, client: *client, setting: *setting, value })
        }
        Event::ClientsArrived { group, clients } => Some(not_arrived(before, *group, clients)),
        // Comes with an arrival; whoever knows the exercises knows them still.
        Event::ClientsBriefed { skipped: true, .. } => Some(Vec::new()),
        Event::ClientLeft { group, client } => not_left(before, *group, *client),
        Event::TechniquePassed { turn } => {
            let again = client(before, *turn)?.legs.get(usize::from(turn.leg))?.again;
            (!again).then(|| vec![Event::TechniqueNotPassed { turn: *turn }])
        }
        Event::LoadConfirmed { station, .. } => {
            let now = before.stations.get(station)?;
            one(Event::LoadUnconfirmed {
                station: *station,
                load: now.load.and_then(Load::mass),
                plates: now.plates.clone(),
            })
        }
        Event::SpotterNamed { turn, spotter, .. } => {
            let was = client(before, *turn)?.spotter;
            let mut back = vec![was.map_or(Event::SpotterGone { turn: *turn }, |at| named(*turn, at))];
            back.extend(elsewhere(before, *spotter, *turn));
            Some(back)
        }
        Event::SpotterGone { turn } => one(named(*turn, client(before, *turn)?.spotter?)),
        Event::CoachWentAway { coach, .. } => {
            let back = match before.coaches.get(coach)?.away {
                Some(away) => Event::CoachWentAway { coach: *coach, until: away.until },
                None => Event::CoachCameBack { coach: *coach },
            };
            Some(std::iter::once(back).chain(bars_of(before, Spotter::Coach { coach: *coach })).collect())
        }
        Event::CoachCameBack { coach } => {
            let until = before.coaches.get(coach)?.away?.until;
            one(Event::CoachWentAway { coach: *coach, until })
        }
        Event::GroupOffered { group, .. } => one(match before.groups.get(group)?.offer {
            Some(offer) => Event::GroupOffered { group: *group, to: offer.to, asks: offer.asks },
            None => Event::OfferWithdrawn { group: *group },
        }),
        Event::TurnWent { turn, spotter, .. } => Some(not_gone(before, *turn, *spotter)),
        Event::StartPutOff { turn, .. } => {
            let ready = client(before, *turn)?.put_off.unwrap_or_default();
            one(Event::StartPutOff { turn: *turn, ready })
        }
        Event::TurnDone { turn, .. } => one(Event::TurnReopened { turn: *turn }),
        Event::EffortGiven { turn, .. } => {
            one(Event::EffortGiven { turn: *turn, effort: before.record(*turn)?.effort.now() })
        }
        Event::RepsCorrected { turn, .. } => {
            one(Event::RepsCorrected { turn: *turn, reps: before.record(*turn)?.reps.now() })
        }
        Event::SetCorrected { turn, .. } => {
            let record = before.record(*turn)?;
            let (reps, load) = (record.reps.now(), record.load.now());
            let (effort, ending) = (record.effort.now(), record.ending.now());
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
        // Whoever was stopped alone stays so.
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
        | Event::LoadSet { .. }
        | Event::LoadSettled { .. }
        | Event::PlatesSeen { .. }
        | Event::PlatesMissing { .. }
        | Event::SetsFinished { .. }
        | Event::StationsFreed { .. }
        | Event::GroupStopped { .. }
        | Event::GroupResumed { .. }
        | Event::ClientStopped { .. }
        | Event::ClientResumed { .. }
        | Event::CallAnswered { .. }
        | Event::CallTakenBack { .. }
        | Event::CallAttended { .. }
        | Event::Promised { .. }
        | Event::NoteKept { .. }
        | Event::NoteErased { .. } => None,
    }
}

fn client(before: &State, turn: TurnId) -> Option<&ClientNow> {
    before.groups.get(&turn.group)?.clients.get(&turn.client)
}

const fn named(turn: TurnId, at: AtBar) -> Event {
    Event::SpotterNamed { turn, spotter: at.who, lift_off: at.lift_off }
}

/// Where somebody stands at a bar, said anew.
fn bars_of(before: &State, who: Spotter) -> Vec<Event> {
    if who == Spotter::Arms {
        return Vec::new();
    }
    let of_group = |id: &GroupId| InHand::of(before, *id);
    let bars = before.groups.keys().filter_map(of_group).flat_map(|hand| {
        let at = move |(id, c): (&ClientId, &ClientNow)| {
            let at = c.spotter.filter(|at| at.who == who)?;
            Some(named(hand.next(*id)?, at))
        };
        hand.group.clients.iter().filter_map(at)
    });
    bars.collect()
}

/// The same of every bar but that of one client.
fn elsewhere(before: &State, who: Spotter, turn: TurnId) -> Vec<Event> {
    let own = |event: &Event| matches!(event, Event::SpotterNamed { turn: of, .. } if (of.group, of.client) == (turn.group, turn.client));
    bars_of(before, who).into_iter().filter(|event| !own(event)).collect()
}

/// Nothing where something would be lost: a place in the wait list, leave to work in, or the loads of a group
/// that had begun the block elsewhere.
fn given_back(before: &State, id: GroupId, block: u8, stations: &[StationId]) -> Option<Event> {
    let group = before.groups.get(&id)?;
    let leave = |station: &StationId| {
        before.stations.get(station).is_some_and(|s| s.leave.is_some_and(|leave| leave.group == id))
    };
    let begun = group.block == block && group.clients.values().any(|c| !c.legs.is_empty());
    let lost = begun || before.place_in_line(id).is_some() || stations.iter().any(leave);
    (!lost).then_some(Event::StationsGivenBack { group: id, block })
}

fn not_arrived(before: &State, group: GroupId, clients: &[ClientId]) -> Vec<Event> {
    let now = before.groups.get(&group);
    let had_left = |client: &&ClientId| {
        let presence = now.and_then(|group| group.clients.get(*client)).map(|c| c.presence);
        matches!(presence, Some(Presence::Left(_)))
    };
    let (left, expected): (Vec<&ClientId>, Vec<&ClientId>) = clients.iter().partition(had_left);
    let leave = |id: &ClientId| {
        let left = Event::ClientLeft { group, client: *id };
        std::iter::once(left).chain(on_the_way(before, group, *id)).collect::<Vec<_>>()
    };
    let mut back: Vec<Event> = left.into_iter().flat_map(leave).collect();
    if !expected.is_empty() {
        let clients = expected.into_iter().copied().collect();
        back.push(Event::ArrivalTakenBack { group, clients });
    }
    back
}

/// Who was there is there again, at the bar, put off or stopped as before. Nothing where the others would seem
/// to have gone on meanwhile.
fn not_left(before: &State, group: GroupId, id: ClientId) -> Option<Vec<Event>> {
    let now = before.groups.get(&group)?.clients.get(&id)?;
    let clients = vec![id];
    if !now.is_here() {
        return Some(vec![Event::ArrivalTakenBack { group, clients }]);
    }
    let hand = InHand::of(before, group);
    if hand.is_some_and(|hand| hand.is_behind_others(id)) != now.late {
        return None;
    }
    let back = std::iter::once(Event::ClientsArrived { group, clients });
    let back = back.chain(on_the_way(before, group, id));
    Some(back.chain(bars_of(before, Spotter::Client { client: id })).collect())
}

/// What was said of a client's way to the coming set, said anew.
fn on_the_way(before: &State, group: GroupId, id: ClientId) -> Vec<Event> {
    let Some(hand) = InHand::of(before, group) else { return Vec::new() };
    let (Some(now), next) = (hand.client(id), hand.next(id)) else { return Vec::new() };
    let put_off = next.zip(now.put_off).map(|(turn, ready)| Event::StartPutOff { turn, ready });
    let spotter = next.zip(now.spotter).map(|(turn, at)| named(turn, at));
    put_off.into_iter().chain(spotter).collect()
}

/// The set has not begun, and what was said of the way to it holds again.
fn not_gone(before: &State, turn: TurnId, spotter: Option<Spotter>) -> Vec<Event> {
    let mut back = vec![Event::TurnCalledOff { turn }];
    let Some(now) = client(before, turn) else { return back };
    if spotter.is_some() && now.spotter.is_none() {
        back.push(Event::SpotterGone { turn });
    }
    back.extend(now.put_off.map(|ready| Event::StartPutOff { turn, ready }));
    back.extend(now.rest_cut.map(|cut| Event::RestShortened { turn, least: cut.least, reason: cut.reason }));
    back.extend(now.as_rest.map(|_| Event::TreatedAsRest { turn }));
    back.extend(spotter.into_iter().flat_map(|who| elsewhere(before, who, turn)));
    back
}

//! What an entry tells whoever looks at the wall, by the state before it. What was taken back was never news.

use std::collections::BTreeSet;

use turnabout_protocol::command::Ending;
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, StationId, TurnId};

use crate::floor::event::{Entry, Event};
use crate::floor::gear_now;
use crate::floor::in_hand::InHand;
use crate::floor::state::{MOST_NEWS, News, NewsItem, Presence, State};
use crate::loading::bar::Plate;

/// Takes down what an entry tells. Called with the state before the entry.
pub(super) fn take(state: &mut State, entry: &Entry) {
    take_back(state, &entry.event);
    let told = told(state, entry);
    for news in told {
        if !joins(state, entry, &news) {
            state.news.push_back(NewsItem { at: entry.recorded, news });
        }
    }
    while state.news.len() > MOST_NEWS {
        state.news.pop_front();
    }
}

/// Several groups that one person stops at once are one piece of news.
fn joins(state: &mut State, entry: &Entry, news: &News) -> bool {
    let News::Stopped { groups, by } = news else { return false };
    match state.news.back_mut() {
        Some(NewsItem { at, news: News::Stopped { groups: before, by: who } })
            if *at == entry.recorded && who == by =>
        {
            before.extend(groups);
            true
        }
        Some(_) | None => false,
    }
}

fn take_back(state: &mut State, event: &Event) {
    if let Event::ArrivalTakenBack { clients, .. } = event {
        let of = |news: &News| matches!(news, News::CameLate(c) | News::CameBack(c) if clients.contains(c));
        state.news.retain(|item| !of(&item.news));
    }
    if let Event::TurnReopened { turn } | Event::SetCorrected { turn, .. } = event {
        let of = |news: &News| matches!(news, News::SpotterHelped { turn: of, .. } if of == turn);
        state.news.retain(|item| !of(&item.news));
    }
}

fn told(before: &State, entry: &Entry) -> Vec<News> {
    let one = |news| vec![news];
    match &entry.event {
        Event::ClientsArrived { group, clients } => {
            clients.iter().filter_map(|client| arrived(before, *group, *client)).collect()
        }
        Event::ClientLeft { client, .. } => one(News::Left(*client)),
        Event::OtherUseBegan { station, .. } => {
            // A longer use of the same station is the same use.
            let known = before.stations.get(station).is_some_and(|s| s.other_use.is_some());
            if known { Vec::new() } else { one(News::OtherUseBegan(*station)) }
        }
        Event::OtherUseEnded { station } => one(News::OtherUseEnded(*station)),
        Event::TakenOutOfService { station, defect } => one(News::OutOfService(*station, *defect)),
        Event::PutBackInService { station } => one(News::BackInService(*station)),
        Event::PlatesMissing { station, plate, count } => one(missing(before, *station, *plate, *count)),
        Event::GroupHandedOver { group, from, to } => {
            one(News::HandedOver { group: *group, from: *from, to: *to })
        }
        Event::TurnDone { turn, ending: Ending::Helped { .. }, .. }
        | Event::SetCorrected { turn, ending: Ending::Helped { .. }, .. } => one(helped(before, *turn)),
        Event::ExerciseSwapped { group, client, leg, exercise, .. } => {
            let from = exercise_of(before, *group, *client, *leg);
            from.map(|from| News::ExerciseSwapped { client: *client, from, to: *exercise })
                .into_iter()
                .collect()
        }
        Event::StationSwapped { group, from, to, .. } => {
            one(News::StationSwapped { group: *group, from: *from, to: *to })
        }
        Event::GroupStopped { group } => {
            one(News::Stopped { groups: BTreeSet::from([*group]), by: entry.by })
        }
        Event::ClientStopped { client, .. } => one(News::ClientStopped(*client)),
        Event::GroupResumed { group } => one(News::Resumed(*group)),
        Event::ClientResumed { client, .. } => one(News::ClientResumed(*client)),
        Event::GroupLapsed { group } => {
            let had = before.groups.get(group).is_some_and(|g| g.claim.is_some());
            if had { one(News::StationsGivenAway(*group)) } else { Vec::new() }
        }
        Event::StationsTaken { group, despite: Some(_), .. } => one(News::WentBefore(*group)),
        // All else is seen where the group stands, or is nobody else's business.
        Event::FloorSet(_)
        | Event::ProgrammeSet(_)
        | Event::ClockMapped { .. }
        | Event::Resumed { .. }
        | Event::StationsTaken { .. }
        | Event::StationsGivenBack { .. }
        | Event::StationsAsked { .. }
        | Event::AskWithdrawn { .. }
        | Event::LeaveGiven { .. }
        | Event::SettingKept { .. }
        | Event::ArrivalTakenBack { .. }
        | Event::ClientWarmedUp { .. }
        | Event::ClientsBriefed { .. }
        | Event::ScreeningDecided { .. }
        | Event::SetsMissed { .. }
        | Event::RoundsMadeUp { .. }
        | Event::RoundsSet { .. }
        | Event::BlockDropped { .. }
        | Event::SessionEnded { .. }
        | Event::LapseWarned { .. }
        | Event::GroupStillHere { .. }
        | Event::GroupNotComing { .. }
        | Event::TechniquePassed { .. }
        | Event::TechniqueNotPassed { .. }
        | Event::TechniqueAsked { .. }
        | Event::LoadConfirmed { .. }
        | Event::LoadUnconfirmed { .. }
        | Event::SpotterNamed { .. }
        | Event::SpotterGone { .. }
        | Event::SpotterPassed { .. }
        | Event::CoachWentAway { .. }
        | Event::CoachCameBack { .. }
        | Event::GroupOffered { .. }
        | Event::OfferWithdrawn { .. }
        | Event::TurnWent { .. }
        | Event::TurnCalledOff { .. }
        | Event::RestShortened { .. }
        | Event::TreatedAsRest { .. }
        | Event::StartPutOff { .. }
        | Event::TurnAssumed { .. }
        | Event::TurnDone { .. }
        | Event::TurnReopened { .. }
        | Event::TurnsSkipped { .. }
        | Event::ExerciseSkipped { .. }
        | Event::SetCorrected { .. }
        | Event::EffortGiven { .. }
        | Event::RepsCorrected { .. }
        | Event::LoadLightened { .. }
        | Event::LoadSet { .. }
        | Event::LoadSettled { .. }
        | Event::PlatesSeen { .. }
        | Event::SetsFinished { .. }
        | Event::StationsFreed { .. }
        | Event::GroupPaused { .. }
        | Event::CallMade { .. }
        | Event::CallAnswered { .. }
        | Event::CallTakenBack { .. }
        | Event::CallAttended { .. }
        | Event::Promised { .. }
        | Event::NoteKept { .. }
        | Event::NoteErased { .. } => Vec::new(),
    }
}

/// More are missing than before, or fewer.
fn missing(before: &State, station: StationId, plate: Plate, count: u8) -> News {
    let known = gear_now::missing(before, station).iter().find(|missing| missing.plate == plate);
    let more = count > known.map_or(0, |missing| missing.count);
    if more { News::PlatesMissing(station) } else { News::PlatesBack(station) }
}

/// Who comes to a group that has its stations already is late; who had left is back.
fn arrived(before: &State, group: GroupId, client: ClientId) -> Option<News> {
    let group = before.groups.get(&group)?;
    match group.clients.get(&client)?.presence {
        Presence::Expected if group.has_begun() => Some(News::CameLate(client)),
        Presence::Left(_) => Some(News::CameBack(client)),
        Presence::Expected | Presence::Here(_) => None,
    }
}

fn helped(before: &State, turn: TurnId) -> News {
    let current = before.groups.get(&turn.group).and_then(|g| g.clients.get(&turn.client)?.current);
    let spotter = match current.filter(|u| u.turn == turn) {
        Some(under_way) => under_way.spotter,
        None => before.record(turn).and_then(|record| record.spotter),
    };
    News::SpotterHelped { turn, spotter }
}

fn exercise_of(before: &State, group: GroupId, client: ClientId, leg: u8) -> Option<ExerciseId> {
    let hand = InHand::of(before, group)?;
    let turn = TurnId { group, client, block: hand.group.block, round: 0, leg };
    hand.exercise(turn).map(|exercise| exercise.id)
}

//! What has happened lately, with names, for a wall.

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::view::{HappenedPart, Happening};

use super::{Context, part};
use crate::floor::state::{News, State};

/// How much is told at once: more is not read in passing.
const MOST: usize = 5;

/// The latest first.
pub(super) fn happened(state: &State, context: &Context<'_>) -> Vec<HappenedPart> {
    let told = state.news.iter().rev().take(MOST);
    told.map(|item| HappenedPart { at: item.at, what: happening(state, context, &item.news) }).collect()
}

fn happening(state: &State, context: &Context<'_>, news: &News) -> Happening {
    let client = |id| part::client_name(context, id);
    let coach = |id| part::coach_name(context, id);
    let station = |id| station_name(state, id);
    let group = |id| group_name(state, context, id);
    match news {
        News::CameLate(id) => Happening::CameLate { client: client(*id) },
        News::CameBack(id) => Happening::CameBack { client: client(*id) },
        News::Left(id) => Happening::Left { client: client(*id) },
        News::OtherUseBegan(id) => Happening::OtherUseBegan { station: station(*id) },
        News::OtherUseEnded(id) => Happening::OtherUseEnded { station: station(*id) },
        News::OutOfService(id, defect) => Happening::OutOfService { station: station(*id), defect: *defect },
        News::BackInService(id) => Happening::BackInService { station: station(*id) },
        News::PlatesMissing(id) => Happening::PlatesMissing { station: station(*id) },
        News::PlatesBack(id) => Happening::PlatesBack { station: station(*id) },
        News::HandedOver { group: of, from, to } => {
            Happening::HandedOver { group: group(*of), from: coach(*from), to: coach(*to) }
        }
        News::SpotterHelped { turn, spotter } => {
            let spotter = spotter.and_then(|who| match who {
                Spotter::Coach { coach: id } | Spotter::Assistant { coach: id } => Some(coach(id)),
                Spotter::Client { client: id } => Some(client(id)),
                Spotter::Arms => None,
            });
            Happening::SpotterHelped { client: client(turn.client), spotter }
        }
        News::ExerciseSwapped { client: id, from, to } => Happening::ExerciseSwapped {
            client: client(*id),
            from: part::exercise_name(state, *from),
            to: part::exercise_name(state, *to),
        },
        News::StationSwapped { group: of, from, to } => {
            Happening::StationSwapped { group: group(*of), from: station(*from), to: station(*to) }
        }
        News::Stopped { groups, .. } => match groups.iter().collect::<Vec<_>>().as_slice() {
            [one] => Happening::Stopped { who: group(**one) },
            _ => Happening::FloorStopped,
        },
        News::ClientStopped(id) => Happening::Stopped { who: client(*id) },
        News::Resumed(id) => Happening::Resumed { who: group(*id) },
        News::ClientResumed(id) => Happening::Resumed { who: client(*id) },
        News::StationsGivenAway(id) => Happening::StationsGivenAway { group: group(*id) },
        News::WentBefore(id) => Happening::WentBefore { group: group(*id) },
    }
}

fn station_name(state: &State, id: StationId) -> String {
    state.floor.stations.get(&id).map_or_else(|| format!("#{id}"), |station| station.name.clone())
}

/// A group is called by its clients.
fn group_name(state: &State, context: &Context<'_>, id: GroupId) -> String {
    let clients = state.programme.groups.get(&id).map(|plan| plan.clients.as_slice()).unwrap_or_default();
    clients.iter().map(|client| part::client_name(context, *client)).collect::<Vec<_>>().join(", ")
}

//! What a coach is needed for beside a row of the floor's own sheet: a load to confirm or to decide on, somebody to explain
//! to, a set that nobody has ended. The rows and their times are those of the coach's page (`soft_needs.js` there); what is
//! not for everybody is left out, and so is what nobody can do anything for.

use turnabout_protocol::card::{GearKind, LoadCard};
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::next::Change;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{
    Attendance, CoachClient, CoachGroup, CoachTask, Need as Open, ProposalPart, SetName, Stage, TurnPart,
    TurnPhase,
};

use super::eye::{Eye, does};
use super::{Absent, Need, Proposed, What, Why, named, place};

/// So long after a told start a GO that nobody has said is asked for. As on the coach's page.
const UNSAID: Millis = Millis::secs(10);

/// So long before its start it is decided what is put on instead. As on the coach's page.
const UNBUILT: Millis = Millis::secs(60);

/// What concerns the coach's own groups, where it is due at once what is to be done first.
pub(super) fn needs(eye: &Eye<'_>) -> Vec<Need> {
    let own = || eye.view.groups.iter().filter(|group| eye.is_mine(group) && group.stage != Stage::Finished);
    let mine = || own().filter(|group| group.halt.is_none());
    let clients = || mine().flat_map(|group| &group.clients);
    let of_group = |group| {
        let sets = move |client| of_set(eye, group, client);
        together(group).into_iter().chain(group.clients.iter().flat_map(sets))
    };
    let free = mine().filter_map(|group| to_free(eye, group));
    let held = own().filter(|group| group.halt.is_some());
    let held = held.map(|group| Need::new(names(group), What::Resume));
    // What keeps the coach at another bar is done before the set that waits for it.
    let waits = clients().filter_map(|client| waiting(eye, client));
    free.chain(mine().flat_map(of_group)).chain(held).chain(waits).collect()
}

fn names(group: &CoachGroup) -> String {
    joined(group.clients.iter())
}

fn joined<'v>(clients: impl Iterator<Item = &'v CoachClient>) -> String {
    clients.map(|client| client.name.as_str()).collect::<Vec<_>>().join(", ")
}

/// Stations that are done with: until somebody says so they are nobody else's, and whoever waits for some is named.
fn to_free(eye: &Eye<'_>, group: &CoachGroup) -> Option<Need> {
    if group.stage != Stage::WipeDown {
        return None;
    }
    let places: Vec<String> = group.stations.iter().filter_map(|id| named(eye.view, Some(*id))).collect();
    let waiting = eye.view.groups.iter().filter_map(|group| Some((group.waits?.place, group)));
    let first = waiting.min_by_key(|(place, _)| *place);
    let why = first.map(|(_, group)| Why::Awaited(names(group)));
    Some(Need { place: places.join(" + "), why, ..Need::new(names(group), What::Free) })
}

/// What concerns some of a group at once. Of who is not there nothing is said.
fn together(group: &CoachGroup) -> Vec<Need> {
    let awaited = group.clients.iter().all(|client| client.attendance == Attendance::Expected);
    if group.stage == Stage::Expected || (awaited && group.lapses.is_some()) {
        return Vec::new();
    }
    // Its stations go to others then, unless somebody says that it is still here.
    let why = if group.stations.is_empty() { Why::GoneThen } else { Why::FreedThen };
    let silent = group.lapses.map(|lapses| Need {
        start: Some(lapses),
        why: Some(why),
        ..Need::new(names(group), What::Heard)
    });
    let unbriefed = joined(group.clients.iter().filter(|client| is_here(client) && !client.briefed));
    let brief = (!unbriefed.is_empty())
        .then(|| Need { exercises: group.block.exercises.clone(), ..Need::new(unbriefed, What::Brief) });
    let takes = does(group, |act| matches!(act, Act::TakeStations { .. }));
    let asks = group.stage == Stage::Waiting && does(group, |act| matches!(act, Act::AskStations { .. }));
    let stations = (takes || asks).then(|| Need {
        exercises: group.block.exercises.clone(),
        ..Need::new(names(group), What::Stations)
    });
    silent.into_iter().chain(brief).chain(stations).collect()
}

fn is_here(client: &CoachClient) -> bool {
    client.attendance == Attendance::Here
}

/// The set of a client who is there and not stopped.
fn turn_of(client: &CoachClient) -> Option<&TurnPart> {
    client.turn.as_ref().filter(|_| is_here(client) && client.halt.is_none())
}

/// When a coming set is to start: as was told, or else when the client is asked for GO.
fn start_of(turn: &TurnPart, ready: FloorMs) -> FloorMs {
    turn.promise.as_ref().map_or(ready, |told| told.start)
}

/// What concerns a client's set.
fn of_set(eye: &Eye<'_>, group: &CoachGroup, client: &CoachClient) -> Vec<Need> {
    let Some(turn) = turn_of(client) else { return Vec::new() };
    let row = |what| Need {
        place: place(eye.view, turn.station),
        exercises: vec![turn.exercise.clone()],
        set: Some(turn.set),
        ..Need::new(client.name.clone(), what)
    };
    match &turn.phase {
        // What nobody has ended keeps those behind it waiting; until it should be over it needs nobody.
        TurnPhase::UnderWay { ends, .. } => {
            let passes = does(group, |act| *act == Act::PassTechnique { turn: turn.turn });
            let what = if passes { What::Pass } else { What::Done };
            let mut all = unpassed(eye, group, client, Some(turn.turn));
            all.push(Need { start: Some(*ends), from: Some(*ends), ..row(what) });
            all
        }
        TurnPhase::Coming { ready, needs, .. } => {
            let start = start_of(turn, *ready);
            let about = turn.promise.as_ref().is_none_or(|told| told.about);
            let mut all = Vec::new();
            all.extend(decide(group, client, turn).map(|(unbuilt, proposed)| {
                // What cannot be put on is decided before anybody goes to load it.
                let by = if unbuilt { start - UNBUILT } else { start };
                let load = turn.load.clone().filter(|_| unbuilt).map(Box::new);
                Need { start: Some(by), about, load, ..row(What::Decide(proposed)) }
            }));
            all.extend(unpassed(eye, group, client, None));
            let load = || turn.load.clone().map(Box::new);
            if is_to_confirm(group, turn, needs) {
                // Loading takes its time before the start, and begins when the bar is free.
                let by = (start - change_time(turn.load.as_ref())).max(freed_at(group, turn));
                all.push(Need { start: Some(by), about, load: load(), ..row(What::Confirm) });
            }
            let goes = does(group, |act| *act == Act::Go { turn: turn.turn });
            if needs.is_empty() && goes && !eye.sees_a_set() && !is_on_sheet(eye, turn) {
                let from = Some(start + UNSAID);
                all.push(Need { start: Some(start), from, load: load(), ..row(What::Go) });
            }
            all
        }
    }
}

fn is_on_sheet(eye: &Eye<'_>, turn: &TurnPart) -> bool {
    eye.view.run_sheet.iter().any(|row| row.turn == turn.turn)
}

/// Whether the floor expects that load to be confirmed now, and nothing else is in the way: the plates on a bar are for the
/// one who is next there.
fn is_to_confirm(group: &CoachGroup, turn: &TurnPart, needs: &[Open]) -> bool {
    needs.contains(&Open::ConfirmLoad)
        && needs.iter().all(|need| matches!(need, Open::ConfirmLoad | Open::Spotter))
        && does(group, |act| *act == Act::ConfirmLoad { turn: turn.turn })
}

/// How long one person takes to change a bar; a pin takes no time worth telling.
fn change_time(load: Option<&LoadCard>) -> Millis {
    let alone = load.and_then(|card| card.bar.as_ref()).map_or(0, |bar| i64::from(bar.alone.0));
    Millis::secs(alone)
}

/// When the station of a coming set was last left by somebody of its group.
fn freed_at(group: &CoachGroup, turn: &TurnPart) -> FloorMs {
    let last = group.clients.iter().filter_map(|client| client.last.as_ref());
    let there = last.filter(|last| last.turn.block == turn.turn.block && last.turn.leg == turn.turn.leg);
    there.map(|last| last.ended).max().unwrap_or_default()
}

/// Whether the load of a coming set cannot be put on, and what is proposed for it, where the coach has to say something.
fn decide(group: &CoachGroup, client: &CoachClient, turn: &TurnPart) -> Option<(bool, Option<Proposed>)> {
    let unbuilt = is_unbuilt(group, turn);
    let proposed = client.proposals.iter().find(|part| is_asked(part, turn)).map(|part| {
        let load = part.proposal.set.load();
        Proposed {
            load,
            unit: part.unit,
            gear: turn.load.as_ref().map_or(GearKind::Plain, |card| card.gear),
            reps: (part.proposal.change == Change::MoreReps).then_some(part.proposal.work),
            now: part.load.filter(|now| *now != load),
        }
    });
    (unbuilt || proposed.is_some()).then_some((unbuilt, proposed))
}

/// Whether a proposal is for that set, is another than it would be anyway, and nobody has said anything of it.
fn is_asked(part: &ProposalPart, turn: &TurnPart) -> bool {
    part.said.is_none()
        && (part.turn.leg, part.turn.round) == (turn.turn.leg, turn.turn.round)
        && !matches!(part.proposal.change, Change::Same | Change::First)
}

/// Whether the plates do not make the load of who is next at the bar: the floor names one that they make, if there is any.
fn is_unbuilt(group: &CoachGroup, turn: &TurnPart) -> bool {
    let Some(unbuilt) = turn.load.as_ref().and_then(|card| card.unbuilt.as_ref()) else { return false };
    let none = unbuilt.below.is_none() && unbuilt.above.is_none();
    none || does(group, |act| matches!(act, Act::SetLoad { turn: of, .. } if *of == turn.turn))
}

/// The light sets of a client that were done and not passed, from their ends on, but for one.
fn unpassed(eye: &Eye<'_>, group: &CoachGroup, client: &CoachClient, but: Option<TurnId>) -> Vec<Need> {
    let passes = group.taps.iter().filter_map(|tap| match tap.act {
        Act::PassTechnique { turn } if turn.client == client.client && Some(turn) != but => {
            Some((turn, tap.from))
        }
        _ => None,
    });
    passes
        .map(|(turn, from)| {
            let leg = usize::from(turn.leg);
            let ended = client.last.as_ref().map(|last| last.ended);
            Need {
                // Where that was, which is not where the client is now.
                place: place(eye.view, group.stations.get(leg).copied()),
                start: if from > FloorMs::default() { Some(from) } else { ended },
                exercises: group.block.exercises.get(leg).cloned().into_iter().collect(),
                ..Need::new(client.name.clone(), What::Pass)
            }
        })
        .collect()
}

/// Who has the load on and waits for nothing but whoever spots or watches, where the sheet has it not: the row of that set,
/// with why nobody is there. Where the coach is at another bar it can begin no earlier than that one is done.
fn waiting(eye: &Eye<'_>, client: &CoachClient) -> Option<Need> {
    let turn = turn_of(client)?;
    let TurnPhase::Coming { ready, needs, .. } = &turn.phase else { return None };
    if turn.station.is_none() || is_on_sheet(eye, turn) {
        return None;
    }
    let watch = turn.set == SetName::Technique;
    let mine = turn.spotter.as_ref().is_some_and(|name| eye.is_me(name));
    let wanted = watch || mine || needs.contains(&Open::Spotter);
    if !wanted || needs.iter().any(|need| *need != Open::Spotter) {
        return None;
    }
    let elsewhere = eye.at_my_bar().filter(|other| other.turn != turn.turn);
    let free = elsewhere.map(|other| match &other.phase {
        TurnPhase::UnderWay { ends, .. } => *ends,
        TurnPhase::Coming { ready, .. } => start_of(other, *ready),
    });
    let start = start_of(turn, *ready);
    let task = if watch { CoachTask::Watch } else { CoachTask::Spot };
    Some(Need {
        place: place(eye.view, turn.station),
        start: Some(free.map_or(start, |free| free.max(start))),
        about: turn.promise.as_ref().is_none_or(|told| told.about),
        exercises: vec![turn.exercise.clone()],
        set: Some(turn.set),
        load: turn.load.clone().map(Box::new),
        why: absent(eye, turn, elsewhere.is_some()),
        ..Need::new(client.name.clone(), What::Stand { task, planned: false })
    })
}

/// Why nobody is at a bar yet: the coach is at another or away, somebody else is to come, or nobody knows who.
fn absent(eye: &Eye<'_>, turn: &TurnPart, elsewhere: bool) -> Option<Why> {
    let named_one = turn.promise.as_ref().and_then(|told| told.spotter.as_ref());
    if let Some(name) = named_one.filter(|name| !eye.is_me(name)) {
        return Some(Why::WillSpot(name.clone()));
    }
    if turn.spotter.is_some() {
        return None;
    }
    let away = eye.me.and_then(|me| me.away).map(Absent::Away);
    let busy = || elsewhere.then(|| Absent::Busy(named(eye.view, eye.station())));
    let absent = away.or_else(busy);
    if turn.set == SetName::Technique { absent.map(Why::Absent) } else { Some(Why::NoSpotter(absent)) }
}

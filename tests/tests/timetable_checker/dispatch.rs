//! A timetable as a floor without a plan would have it: whoever can begin next does. It knows neither windows nor
//! coaches nor anybody's turn in the rotation, so that it breaks some rules and keeps many.

use turnabout_server::timetable::answer::{RoundStarts, Timetable};
use turnabout_server::timetable::instance::{At, Group, Instance, Member};

use crate::dice::Dice;

/// How long a station takes between two turns here.
const BETWEEN: u32 = 12;

/// A timetable with stations by chance.
pub(crate) fn dispatched(instance: &Instance, dice: &mut Dice) -> Timetable {
    let stations: Vec<Vec<Vec<usize>>> = instance.groups.iter().map(|group| stations(group, dice)).collect();
    let mut free: Vec<u32> = instance.stations.iter().map(|station| station.free_at.0).collect();
    let mut turns = Vec::new();
    let mut ready: Vec<Vec<u32>> = instance.groups.iter().map(|group| ready(group, instance.now)).collect();
    let rounds = |member: &Member| member.rounds.len();
    let most = instance.groups.iter().flat_map(|group| group.members.iter().map(rounds)).max().unwrap_or(0);
    for round in 0..most {
        for (id, group) in instance.groups.iter().enumerate() {
            for (member, client) in
                group.members.iter().enumerate().filter(|(_, client)| rounds(client) > round)
            {
                let own = &stations[id][member];
                let mut at = ready[id][member].max(client.rounds[round].not_before.unwrap_or_default().0);
                let done = client.under_way.filter(|_| round == 0).map_or(0, |way| way.legs_done);
                let mut before = done.checked_sub(1);
                let mut starts = vec![None; own.len()];
                for (leg, turn) in client.rounds[round].legs.iter().enumerate().skip(done) {
                    let Some(turn) = turn else { continue };
                    let walk = before.map_or(0, |before| instance.walk[own[before]][own[leg]].0);
                    let start = (at + walk).max(free[own[leg]]);
                    starts[leg] = Some(At(start));
                    at = start + turn.length.0;
                    free[own[leg]] = at + BETWEEN;
                    before = Some(leg);
                }
                ready[id][member] = at + group.rest_min.0;
                turns.push(RoundStarts { group: id, member, round, starts });
            }
        }
    }
    Timetable { instance: instance.name.clone(), stations, turns, breaches: Vec::new() }
}

/// From when each member can begin.
fn ready(group: &Group, now: At) -> Vec<u32> {
    let one = |client: &Member| {
        let rested = client.last_round_end.map_or(0, |end| end.0 + group.rest_min.0);
        let way = client.under_way.map_or(0, |way| way.last_end.0);
        now.0.max(client.release.0).max(rested).max(way)
    };
    group.members.iter().map(one).collect()
}

/// Stations that suit, the same for all who train together.
fn stations(group: &Group, dice: &mut Dice) -> Vec<Vec<usize>> {
    let mut draw = || -> Vec<usize> { group.eligible.iter().map(|eligible| *dice.one(eligible)).collect() };
    let fixed = group.members.iter().find_map(|member| member.stations.clone());
    let together = fixed.filter(|_| group.together).unwrap_or_else(&mut draw);
    let one = |member: &Member| match &member.stations {
        Some(fixed) => fixed.clone(),
        None if group.together => together.clone(),
        None => draw(),
    };
    group.members.iter().map(one).collect()
}

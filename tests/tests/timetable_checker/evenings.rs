//! Small changes of an instance that leave it one, so that everything the format has comes together in some way.

use turnabout_protocol::units::Secs;
use turnabout_server::timetable::instance::{At, Instance, Load, Spot, StationKind, UnderWay, Window};

use crate::dice::Dice;

/// What can be changed.
const CHANGES: [fn(&mut Instance, &mut Dice); 20] = [
    station_busy,
    coach_busy,
    no_working_in,
    order,
    told,
    spotted,
    under_way,
    had_a_round,
    hand_over,
    missed_round,
    not_before,
    own_rest,
    no_longest_rest,
    wait,
    later,
    due,
    skipped_leg,
    drop_set,
    free_at,
    prices,
];

/// Changes up to six things.
pub(crate) fn changed(instance: &Instance, dice: &mut Dice) -> Instance {
    let mut changed = instance.clone();
    for _ in 0..dice.below(7) {
        dice.one(&CHANGES)(&mut changed, dice);
    }
    changed
}

fn window(instance: &Instance, dice: &mut Dice) -> Window {
    let from = instance.now.0 + dice.from(0, 2_000);
    Window { from: At(from), to: At(from + dice.from(1, 300)) }
}

fn station_busy(instance: &mut Instance, dice: &mut Dice) {
    let window = window(instance, dice);
    let id = dice.below(instance.stations.len());
    instance.stations[id].busy.push(window);
}

fn coach_busy(instance: &mut Instance, dice: &mut Dice) {
    let window = window(instance, dice);
    let id = dice.below(instance.coaches.len());
    instance.coaches[id].busy.push(window);
}

fn no_working_in(instance: &mut Instance, dice: &mut Dice) {
    let id = dice.below(instance.stations.len());
    instance.stations[id].work_in = false;
    let held = instance.groups.iter().any(|group| group.holds.contains(&id));
    if !held && dice.once_in(2) {
        let group = dice.below(instance.groups.len());
        instance.groups[group].holds.push(id);
    }
}

/// Who has begun, in an order by chance, perhaps not all of them.
fn order(instance: &mut Instance, dice: &mut Dice) {
    let id = dice.below(instance.groups.len());
    let group = &mut instance.groups[id];
    let mut begun: Vec<usize> =
        (0..group.members.len()).filter(|member| group.members[*member].has_begun()).collect();
    for last in (1..begun.len()).rev() {
        begun.swap(last, dice.below(last + 1));
    }
    begun.truncate(dice.below(begun.len() + 1));
    group.order = begun;
}

/// One member of one group, and one of their rounds where they have any.
fn somebody(instance: &Instance, dice: &mut Dice) -> Option<(usize, usize, usize)> {
    let group = dice.below(instance.groups.len());
    let member = dice.below(instance.groups[group].members.len());
    let rounds = instance.groups[group].members[member].rounds.len();
    (rounds > 0).then(|| (group, member, dice.below(rounds)))
}

fn told(instance: &mut Instance, dice: &mut Dice) {
    let Some((group, member, round)) = somebody(instance, dice) else { return };
    let at = instance.now.0 + dice.from(0, 1_500);
    let client = &mut instance.groups[group].members[member];
    let done = client.under_way.filter(|_| round == 0).map_or(0, |way| way.legs_done);
    let round = &mut client.rounds[round];
    for leg in done..round.legs.len() {
        round.told[leg] = round.legs[leg].is_some().then_some(At(at));
    }
}

fn spotted(instance: &mut Instance, dice: &mut Dice) {
    let Some((group, member, round)) = somebody(instance, dice) else { return };
    for turn in instance.groups[group].members[member].rounds[round].legs.iter_mut().flatten() {
        let to = dice.from(1, turn.length.0);
        turn.spot = match dice.below(3) {
            0 => None,
            1 => Some(Spot { from: Secs(0), to: turn.length }),
            _ => Some(Spot { from: Secs(dice.from(0, to - 1)), to: Secs(to) }),
        };
    }
}

fn under_way(instance: &mut Instance, dice: &mut Dice) {
    let Some((group, member, _)) = somebody(instance, dice) else { return };
    let now = instance.now.0;
    let client = &mut instance.groups[group].members[member];
    let first = &mut client.rounds[0];
    let done = 1 + dice.below(first.legs.len());
    if done < first.legs.len()
        && first.legs[done - 1].is_some()
        && first.legs[done..].iter().any(Option::is_some)
    {
        let last_end = At((now + dice.from(0, 40)).saturating_sub(20));
        client.under_way = Some(UnderWay { legs_done: done, last_end });
        first.told[..done].fill(None);
    }
}

fn had_a_round(instance: &mut Instance, dice: &mut Dice) {
    let Some((group, member, _)) = somebody(instance, dice) else { return };
    let end = (instance.now.0 + dice.from(0, 60)).saturating_sub(100);
    let client = &mut instance.groups[group].members[member];
    // The round before the first that is left.
    if client.rounds[0].number == 0 {
        client.rounds.iter_mut().for_each(|round| round.number += 1);
    }
    client.last_round_end = Some(At(end));
}

fn hand_over(instance: &mut Instance, dice: &mut Dice) {
    let coach = dice.below(instance.coaches.len());
    let Some((group, member, round)) = somebody(instance, dice) else { return };
    instance.groups[group].members[member].rounds[round].coach = Some(coach);
}

fn missed_round(instance: &mut Instance, dice: &mut Dice) {
    let Some((group, member, round)) = somebody(instance, dice) else { return };
    let client = &mut instance.groups[group].members[member];
    if round == 0 && client.under_way.is_some() {
        return;
    }
    client.rounds.remove(round);
}

fn not_before(instance: &mut Instance, dice: &mut Dice) {
    let at = At(instance.now.0 + dice.from(0, 1_000));
    let Some((group, member, round)) = somebody(instance, dice) else { return };
    instance.groups[group].members[member].rounds[round].not_before = Some(at);
}

fn own_rest(instance: &mut Instance, dice: &mut Dice) {
    let Some((group, member, round)) = somebody(instance, dice) else { return };
    let round = &mut instance.groups[group].members[member].rounds[round];
    let least = dice.from(0, 200);
    round.rest_min = Some(Secs(least));
    round.rest_max = Some((!dice.once_in(3)).then(|| Secs(least + dice.from(0, 60))));
}

fn no_longest_rest(instance: &mut Instance, dice: &mut Dice) {
    let group = dice.below(instance.groups.len());
    instance.groups[group].rest_max = None;
}

fn wait(instance: &mut Instance, dice: &mut Dice) {
    instance.changeover_wait_max = *dice.one(&[None, Some(Secs(0)), Some(Secs(5)), Some(Secs(40))]);
}

fn later(instance: &mut Instance, dice: &mut Dice) {
    instance.now.0 += dice.from(0, 400);
}

fn due(instance: &mut Instance, dice: &mut Dice) {
    let at = At(instance.now.0 + dice.from(0, 3_000));
    let Some((group, member, _)) = somebody(instance, dice) else { return };
    instance.groups[group].members[member].due = Some(at);
}

fn skipped_leg(instance: &mut Instance, dice: &mut Dice) {
    let Some((group, member, round)) = somebody(instance, dice) else { return };
    let client = &mut instance.groups[group].members[member];
    let done = client.under_way.filter(|_| round == 0).map_or(0, |way| way.legs_done);
    let round = &mut client.rounds[round];
    let leg = dice.below(round.legs.len());
    let left =
        round.legs.iter().enumerate().skip(done).filter(|(other, turn)| *other != leg && turn.is_some());
    if leg >= done && left.count() > 0 {
        round.legs[leg] = None;
        round.told[leg] = None;
    }
}

/// A whole group does all its legs on the first one's station, with loads that can be set there.
fn drop_set(instance: &mut Instance, dice: &mut Dice) {
    let id = dice.below(instance.groups.len());
    let fixed = instance.groups[id].members.iter().any(|member| member.stations.is_some());
    let station = *dice.one(&instance.groups[id].eligible[0]);
    if fixed {
        return;
    }
    let group = &mut instance.groups[id];
    group.eligible.fill(vec![station]);
    let rounds = group.members.iter_mut().flat_map(|member| &mut member.rounds);
    for turn in rounds.flat_map(|round| round.legs.iter_mut().flatten()) {
        let grams = 2_500 * dice.from(1, 4);
        turn.load = match instance.stations[station].kind {
            StationKind::Bar => Some(Load::Plates(vec![20_000, grams])),
            StationKind::Stack => Some(Load::Label(grams)),
            StationKind::Plain => None,
        };
        if dice.once_in(5) {
            turn.load = None;
        }
    }
    if dice.once_in(2) {
        instance.walk[station][station] = Secs(3);
    }
}

fn free_at(instance: &mut Instance, dice: &mut Dice) {
    let at = instance.now.0 + dice.from(0, 300);
    let (station, coach) = (dice.below(instance.stations.len()), dice.below(instance.coaches.len()));
    instance.stations[station].free_at = At(at);
    instance.stations[station].load = None;
    instance.coaches[coach].free_at = At(at);
    instance.coaches[coach].at = (!dice.once_in(3)).then_some(station);
}

fn prices(instance: &mut Instance, dice: &mut Dice) {
    let (first, second) = (dice.from(0, 20), dice.from(21, 100));
    instance.weights.overrun = vec![(Secs(first), dice.from(0, 50)), (Secs(second), dice.from(0, 400))];
    instance.weights.door = vec![(Secs(first), dice.from(0, 50))];
    instance.weights.told = dice.from(0, 30);
    instance.weights.free_start = dice.once_in(3);
}

//! Small changes of a timetable.

use turnabout_server::timetable::answer::{Breach, Timetable};
use turnabout_server::timetable::check::check;
use turnabout_server::timetable::instance::{At, Instance};

use crate::dice::Dice;

/// Changes up to five things; now and then so that it is a timetable of the instance no more.
pub(crate) fn changed(instance: &Instance, timetable: &Timetable, dice: &mut Dice) -> Timetable {
    let mut changed = timetable.clone();
    for _ in 0..dice.below(6) {
        match dice.below(10) {
            0..5 => shift(&mut changed, dice),
            5 | 6 => swap(&mut changed, dice),
            7 | 8 => other_station(instance, &mut changed, dice),
            _ => shift_from(&mut changed, dice),
        }
    }
    match dice.below(12) {
        0 => drop(changed.turns.pop()),
        1 => changed.turns.extend(changed.turns.first().cloned()),
        2 => breach(&mut changed, dice),
        3..8 => list(instance, &mut changed, dice),
        _ => {}
    }
    changed
}

/// One start of one turn.
fn start<'t>(timetable: &'t mut Timetable, dice: &mut Dice) -> Option<&'t mut At> {
    if timetable.turns.is_empty() {
        return None;
    }
    let turn = dice.below(timetable.turns.len());
    let leg = dice.below(timetable.turns[turn].starts.len());
    timetable.turns[turn].starts[leg].as_mut()
}

fn shift(timetable: &mut Timetable, dice: &mut Dice) {
    let most = *dice.one(&[2, 20, 200, 1_000]);
    let by = dice.from(0, most);
    let earlier = dice.once_in(2);
    let Some(start) = start(timetable, dice) else { return };
    start.0 = if earlier { start.0.saturating_sub(by) } else { start.0 + by };
}

/// Everything from an instant on comes later: a plan around a break.
fn shift_from(timetable: &mut Timetable, dice: &mut Dice) {
    let Some(from) = start(timetable, dice).map(|start| *start) else { return };
    let by = dice.from(1, 100);
    for start in timetable.turns.iter_mut().flat_map(|turn| turn.starts.iter_mut().flatten()) {
        if *start >= from {
            start.0 += by;
        }
    }
}

fn swap(timetable: &mut Timetable, dice: &mut Dice) {
    if timetable.turns.is_empty() {
        return;
    }
    let (one, other) = (dice.below(timetable.turns.len()), dice.below(timetable.turns.len()));
    // Starts of rounds with the same legs, or the timetable is none of the instance.
    let legs = |turn: usize| timetable.turns[turn].starts.iter().map(Option::is_some).collect::<Vec<_>>();
    if legs(one) == legs(other) {
        let starts = timetable.turns[one].starts.clone();
        timetable.turns[one].starts = std::mem::replace(&mut timetable.turns[other].starts, starts);
    }
}

fn other_station(instance: &Instance, timetable: &mut Timetable, dice: &mut Dice) {
    let group = dice.below(instance.groups.len());
    let leg = dice.below(instance.groups[group].eligible.len());
    let suiting = &instance.groups[group].eligible[leg];
    let station = if dice.once_in(12) { dice.below(instance.stations.len()) } else { *dice.one(suiting) };
    let member = dice.below(instance.groups[group].members.len());
    let together = instance.groups[group].together && !dice.once_in(8);
    for (id, stations) in timetable.stations[group].iter_mut().enumerate() {
        if (together || id == member)
            && (instance.groups[group].members[id].stations.is_none() || dice.once_in(8))
        {
            stations[leg] = station;
        }
    }
}

fn breach(timetable: &mut Timetable, dice: &mut Dice) {
    let rule = u8::try_from(dice.from(1, 7)).unwrap();
    let breach =
        Breach { rule, group: 0, member: 0, round: 0, leg: dice.below(2), seconds: dice.from(0, 30) };
    timetable.breaches.push(breach);
    if dice.once_in(6) {
        timetable.breaches.push(breach);
    }
}

/// Lists what is broken, and now and then one of it wrongly.
fn list(instance: &Instance, timetable: &mut Timetable, dice: &mut Dice) {
    let Ok(verdict) = check(instance, timetable) else { return };
    timetable.breaches = verdict.breaches;
    if timetable.breaches.is_empty() || !dice.once_in(3) {
        return;
    }
    let at = dice.below(timetable.breaches.len());
    match dice.below(3) {
        0 => drop(timetable.breaches.remove(at)),
        1 => timetable.breaches[at].seconds += 1,
        _ => timetable.breaches.reverse(),
    }
}

//! Rules 1 to 3, which go along one member's turns, and most of what a timetable costs.

use super::super::instance::{Group, Instance, Load, Member, Round};
use super::change::change;
use super::found::{Found, Rule};
use super::parts::{Parts, rising};
use super::slots::{Slot, Slots, secs};
use super::windows::overlap;

/// A difference from what was told that nobody minds, in seconds.
const TOLD_WITHIN: i64 = 5;

/// Goes along every member.
pub(super) fn check(instance: &Instance, slots: &Slots<'_>, parts: &mut Parts, found: &mut Found) {
    for (group, one) in instance.groups.iter().enumerate() {
        for (member, client) in one.members.iter().enumerate() {
            let stations = &slots.stations[group][member];
            let mut walk = Along { instance, group: one, client, stations, parts, found };
            walk.all((group, member), slots);
        }
    }
}

/// The way along one member's turns.
struct Along<'a> {
    instance: &'a Instance,
    group: &'a Group,
    client: &'a Member,
    stations: &'a [usize],
    parts: &'a mut Parts,
    found: &'a mut Found,
}

/// The leg before within the round.
#[derive(Clone, Copy)]
struct Before<'a> {
    leg: usize,
    end: i64,
    /// What it left on its station.
    left: Option<&'a Load>,
    /// Whether it was done before now, so that some of the wait may be over already.
    past: bool,
}

/// The round before.
#[derive(Clone, Copy)]
struct LastRound {
    end: i64,
    station: usize,
}

impl Along<'_> {
    fn all(&mut self, (group, member): (usize, usize), slots: &Slots<'_>) {
        let release = i64::from(self.client.release.0);
        let last_leg = self.stations.len() - 1;
        let mut last = self
            .client
            .last_round_end
            .map(|end| LastRound { end: i64::from(end.0), station: self.stations[last_leg] });
        let mut finish = release;
        for (position, round) in self.client.rounds.iter().enumerate() {
            let turns = slots.round(group, member, position);
            let mut before = if position == 0 { self.under_way(round) } else { None };
            for slot in turns {
                let now = i64::from(self.instance.now.0);
                self.found.above_zero(Rule::Release, slot.place, now - slot.start);
                match before {
                    None => self.first_leg(slot, position, last),
                    Some(before) => self.next_leg(slot, before),
                }
                if let Some(told) = round.told[slot.place.leg] {
                    let off = (slot.start - i64::from(told.0)).abs();
                    self.parts.told += (off - TOLD_WITHIN).max(0);
                }
                finish = slot.end;
                last = Some(LastRound { end: slot.end, station: slot.station });
                before = Some(Before { leg: slot.place.leg, end: slot.end, left: slot.after, past: false });
            }
        }
        self.parts.flow += finish - release;
        if !self.client.rounds.is_empty() {
            self.parts.makespan = self.parts.makespan.max(finish);
            let due = self.client.due.map(|due| i64::from(due.0));
            self.parts.tardy += due.map_or(0, |due| (finish - due).max(0));
        }
    }

    /// The leg done last of a round that is under way.
    fn under_way<'s>(&self, round: &'s Round) -> Option<Before<'s>>
    where
        Self: 's,
    {
        let way = self.client.under_way?;
        let leg = way.legs_done - 1;
        let own = round.legs[leg].as_ref().and_then(|turn| turn.load.as_ref());
        let left = own.or(self.instance.stations[self.stations[leg]].load.as_ref());
        Some(Before { leg, end: i64::from(way.last_end.0), left, past: true })
    }

    /// Rules 1 and 3, and what the rest or the waiting at the door costs.
    fn first_leg(&mut self, slot: &Slot<'_>, position: usize, last: Option<LastRound>) {
        let round = &self.client.rounds[position];
        let earliest = self.client.release.max(round.not_before.unwrap_or_default());
        self.found.above_zero(Rule::Release, slot.place, i64::from(earliest.0) - slot.start);
        let weights = &self.instance.weights;
        let Some(last) = last else {
            let door = (slot.start - i64::from(self.client.release.0)).max(0);
            self.parts.door += door;
            self.parts.door_price = self.parts.door_price.saturating_add(rising(&weights.door, door));
            return;
        };
        let rest = slot.start - last.end;
        let shortest = secs(round.rest_min.unwrap_or(self.group.rest_min));
        let least = shortest.max(secs(self.instance.walk[last.station][slot.station]));
        self.found.above_zero(Rule::Rest, slot.place, least - rest);
        let missed = position
            .checked_sub(1)
            .is_some_and(|before| self.client.rounds[before].number.checked_add(1) != Some(round.number));
        if let Some(longest) = round.rest_max.unwrap_or(self.group.rest_max).filter(|_| !missed) {
            let over = (rest - secs(longest)).max(0);
            self.parts.overrun += over;
            self.parts.overrun_price =
                self.parts.overrun_price.saturating_add(rising(&weights.overrun, over));
        }
    }

    /// Rule 2, and what the wait costs.
    fn next_leg(&mut self, slot: &Slot<'_>, before: Before<'_>) {
        let came_from = self.stations[before.leg];
        let mut ready = before.end + secs(self.instance.walk[came_from][slot.station]);
        if came_from == slot.station {
            // A drop set: changing the load is the member's own work and no waiting.
            ready += change(self.instance, slot.station, before.left, slot.load).secs;
        }
        self.found.above_zero(Rule::Changeover, slot.place, ready - slot.start);
        let mut wait = slot.start - ready;
        let limit = self.group.changeover_wait_max.unwrap_or(self.instance.changeover_wait_max);
        if let Some(limit) = limit.map(secs).filter(|limit| wait > *limit) {
            if before.past {
                self.parts.late += wait - limit;
            } else {
                self.found.above_zero(Rule::Changeover, slot.place, wait - limit);
            }
            wait = limit;
        }
        self.parts.changeover_wait += wait.max(0);
        if !self.instance.weights.free_start {
            let could = self.earliest(slot, ready.max(i64::from(self.instance.now.0)));
            self.found.above_zero(Rule::Changeover, slot.place, slot.start - could);
        }
    }

    /// The first start from `ready` on that the station and the coach allow, after those who come before.
    fn earliest(&self, slot: &Slot<'_>, ready: i64) -> i64 {
        let station = &self.instance.stations[slot.station].busy;
        let mut start = ready.max(slot.station_free + slot.change);
        if let Some(spotted) = slot.spotted {
            start = start.max(spotted.coach_there - spotted.from);
        }
        loop {
            // Each turn of the loop leaves at least one window behind for good.
            if let Some(busy) = overlap(station, start - slot.change, start + slot.length()) {
                start = busy.clear + slot.change;
                continue;
            }
            let Some(spotted) = slot.spotted else { return start };
            let coach = &self.instance.coaches[spotted.coach].busy;
            match overlap(coach, start + spotted.from, start + spotted.to) {
                Some(busy) => start = busy.clear - spotted.from,
                None => return start,
            }
        }
    }
}

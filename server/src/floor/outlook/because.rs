//! Why a turn of a timetable does not start earlier: the one thing that truly binds.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::units::Secs;

use super::Outlook;
use super::handling::takes;
use super::who::TurnPlace;
use crate::floor::ribbon::PlannedSet;
use crate::floor::run_sheet::PlannedTurn;
use crate::timetable::answer::Timetable;
use crate::timetable::instance::{At, Instance, Member, Round, Turn, Window};

/// The starts of a timetable, ready to be asked about.
#[derive(Debug)]
pub struct Starts<'o> {
    outlook: &'o Outlook,
    /// In the order in which they start.
    turns: Vec<Planned<'o>>,
}

/// One turn with its start.
#[derive(Clone, Copy, Debug)]
struct Planned<'o> {
    place: TurnPlace,
    station: usize,
    coach: usize,
    start: u32,
    turn: &'o Turn,
}

impl Planned<'_> {
    const fn end(&self) -> u32 {
        self.start + self.turn.length.0
    }
}

/// A turn that needs a coach.
pub(in crate::floor) struct Spotted<'s> {
    starts: &'s Starts<'s>,
    planned: &'s Planned<'s>,
}

impl Spotted<'_> {
    /// As a line of a run sheet.
    pub(in crate::floor) fn line(&self) -> Option<PlannedTurn> {
        let who = &self.starts.outlook.who;
        let Planned { place, station, coach, start, turn } = *self.planned;
        let from = At(start + turn.spot?.from.0);
        Some(PlannedTurn {
            turn: who.turn(place)?,
            station: *who.stations().get(station)?,
            coach: *who.coaches().get(coach)?,
            start: who.instant(from),
            reason: self.starts.reason(place, At(start)),
        })
    }
}

/// Something that must be before a start, and from when it is.
type Bound = (u32, StartReason);

impl<'o> Starts<'o> {
    /// Those of a timetable of this outlook; what it says of turns that are not in it is left out.
    #[must_use]
    pub fn of(outlook: &'o Outlook, timetable: &Timetable) -> Self {
        let mut turns = Vec::new();
        for row in &timetable.turns {
            let stations = timetable.stations.get(row.group).and_then(|group| group.get(row.member));
            for (leg, start) in row.starts.iter().enumerate() {
                let place = TurnPlace { group: row.group, member: row.member, round: row.round, leg };
                let planned = || {
                    let (_, round, turn) = at(&outlook.instance, place)?;
                    let coach = round.coach.unwrap_or(outlook.instance.groups.get(row.group)?.coach);
                    Some(Planned { place, station: *stations?.get(leg)?, coach, start: (*start)?.0, turn })
                };
                turns.extend(planned());
            }
        }
        turns.sort_by_key(|planned| (planned.start, planned.end(), planned.place));
        Self { outlook, turns }
    }

    /// The next set of every client of a group that has its stations, with its start.
    pub fn next(&self) -> impl Iterator<Item = (TurnPlace, TurnId, At)> {
        let who = &self.outlook.who;
        self.turns.iter().filter_map(|planned| {
            let (place, turn) = who.next(planned.place.group, planned.place.member)?;
            let is_it = place == planned.place && who.has_stations(place.group);
            is_it.then_some((place, turn, At(planned.start)))
        })
    }

    /// Every turn of groups that have their stations.
    pub(in crate::floor) fn sets(&self) -> impl Iterator<Item = PlannedSet> {
        let who = &self.outlook.who;
        self.turns.iter().filter(|planned| who.has_stations(planned.place.group)).filter_map(|planned| {
            let turn = who.turn(planned.place)?;
            Some(PlannedSet {
                turn,
                start: who.instant(At(planned.start)),
                until: who.instant(At(planned.end())),
            })
        })
    }

    /// Every turn that needs a coach, of groups that have their stations.
    pub(in crate::floor) fn spotted(&self) -> impl Iterator<Item = Spotted<'_>> {
        let has_stations = |planned: &&Planned<'_>| self.outlook.who.has_stations(planned.place.group);
        let spotted = self.turns.iter().filter(|planned| planned.turn.spot.is_some()).filter(has_stations);
        spotted.map(|planned| Spotted { starts: self, planned })
    }

    /// Why the turn at a place, which starts then, does not start earlier. Of several things that bind until the same
    /// second the most particular. While an overdue set holds the station, no load is changed there and nothing else
    /// that comes to an end before is worth telling.
    #[must_use]
    pub fn reason(&self, place: TurnPlace, start: At) -> StartReason {
        let Some(of) = self.turns.iter().find(|planned| planned.place == place) else {
            return StartReason::Ready;
        };
        let mut bounds = vec![(self.outlook.instance.now.0, StartReason::Ready)];
        bounds.extend(self.own(of));
        let overdue = self.overdue(of);
        if overdue.is_none() {
            bounds.extend(self.station(of));
        }
        bounds.extend(self.other_use(of));
        if of.turn.spot.is_some() {
            bounds.extend(self.coach(of));
        }
        bounds.extend(overdue);
        // The last of equal ones.
        let binds = bounds.into_iter().filter(|(from, _)| *from <= start.0).max_by_key(|(from, _)| *from);
        let (from, reason) = binds.unwrap_or((start.0, StartReason::Ready));
        if from == start.0 || overdue == Some((from, reason)) {
            return reason;
        }
        let first_leg = |other: &&Planned<'_>| {
            other.place.group == place.group
                && other.place.member != place.member
                && other.station == of.station
                && (from..start.0).contains(&other.start)
        };
        if self.turns.iter().any(|other| first_leg(&other)) { StartReason::Turns } else { StartReason::Later }
    }

    /// What binds the client.
    fn own(&self, of: &Planned<'_>) -> Vec<Bound> {
        let instance = &self.outlook.instance;
        let TurnPlace { group, member: m, round: r, leg } = of.place;
        let Some((member, round, _)) = at(instance, of.place) else { return Vec::new() };
        let Some(group) = instance.groups.get(group) else { return Vec::new() };
        let in_round = |other: &&Planned<'_>| {
            (other.place.group, other.place.member, other.place.round) == (of.place.group, m, r)
                && other.place.leg < leg
        };
        let way = member.under_way.filter(|_| r == 0);
        let before = self.turns.iter().filter(in_round).max_by_key(|other| other.place.leg);
        let before = before.map(|other| (other.end(), other.station));
        let stood = |way: crate::timetable::instance::UnderWay| {
            Some((way.last_end.0, *member.stations.as_ref()?.get(way.legs_done - 1)?))
        };
        if let Some((ended, station)) = before.or_else(|| way.and_then(stood)) {
            return vec![(ended + walk(instance, station, of.station), StartReason::Way)];
        }
        let mut bounds = Vec::new();
        let earlier = self.turns.iter().filter(|other| {
            (other.place.group, other.place.member) == (of.place.group, m) && other.place.round < r
        });
        let last = earlier.max_by_key(|other| (other.place.round, other.place.leg));
        let last = last.map(|other| (other.end(), other.station));
        let stands = || Some((member.last_round_end?.0, *member.stations.as_ref()?.last()?));
        if let Some((ended, station)) = last.or_else(stands) {
            let rest = round.rest_min.unwrap_or(group.rest_min).0;
            let back = walk(instance, station, of.station);
            let reason = if rest >= back { StartReason::Rest } else { StartReason::Way };
            bounds.push((ended + rest.max(back), reason));
        }
        let put_off = round.not_before.filter(|_| !self.outlook.held.contains(&of.place));
        bounds.extend(put_off.map(|from| (from.0, StartReason::PutOff)));
        bounds
    }

    /// The turns that are done before at the same station.
    fn before(&self, of: &Planned<'_>) -> impl Iterator<Item = &Planned<'o>> {
        let (place, station) = (of.place, of.station);
        let before = self.turns.iter().take_while(move |other| other.place != place);
        before.filter(move |other| other.station == station)
    }

    /// How long the load is changed before a turn.
    fn change(&self, of: &Planned<'_>) -> Secs {
        let instance = &self.outlook.instance;
        let Some(station) = instance.stations.get(of.station) else { return Secs(0) };
        let on = self.before(of).filter_map(|other| other.turn.load.as_ref()).last();
        let hands = (instance.plate, instance.collar, instance.pin);
        takes(hands, station.kind, on.or(station.load.as_ref()), of.turn.load.as_ref())
    }

    /// The overdue set that holds the station of a turn which comes right after it: until the load for this turn could be
    /// on, as far as anybody can guess.
    fn overdue(&self, of: &Planned<'_>) -> Option<Bound> {
        let held = self.outlook.overdue.contains(&of.station) && self.before(of).next().is_none();
        let station = self.outlook.instance.stations.get(of.station).filter(|_| held)?;
        Some((station.free_at.0 + self.change(of).0, StartReason::StationInUse))
    }

    /// What binds the station.
    fn station(&self, of: &Planned<'_>) -> Vec<Bound> {
        let instance = &self.outlook.instance;
        let Some(station) = instance.stations.get(of.station) else { return Vec::new() };
        let free = self.before(of).map(Planned::end).fold(station.free_at.0, u32::max);
        let change = self.change(of);
        let mut bounds = Vec::new();
        if free > instance.now.0 {
            bounds.push((free, StartReason::StationInUse));
        }
        if change.0 > 0 {
            bounds.push((free + change.0, StartReason::LoadChange { takes: change }));
        }
        bounds
    }

    /// Who has the station before, or what.
    fn other_use(&self, of: &Planned<'_>) -> Option<Bound> {
        let change = self.change(of).0;
        let station = self.outlook.instance.stations.get(of.station)?;
        let window = last_over(&station.busy, of.start.saturating_sub(change))?;
        let until = self.outlook.who.instant(window.to);
        Some((window.to.0 + change, StartReason::OtherUse { until }))
    }

    /// What binds whoever spots.
    fn coach(&self, of: &Planned<'_>) -> Vec<Bound> {
        let instance = &self.outlook.instance;
        let Some((coach, spot)) = instance.coaches.get(of.coach).zip(of.turn.spot) else { return Vec::new() };
        let spotted = self.turns.iter().take_while(|other| other.place != of.place);
        let before = spotted.filter(|other| other.coach == of.coach);
        let last =
            before.filter_map(|other| Some((other.start + other.turn.spot?.to.0, other.station))).max();
        let (free, stands) = last.map_or((coach.free_at.0, coach.at), |(free, at)| (free, Some(at)));
        let walk = stands.map_or(0, |at| {
            instance.coach_walk.get(at).and_then(|row| row.get(of.station)).map_or(0, |walk| walk.0)
        });
        let mut bounds = Vec::new();
        if free > instance.now.0 {
            bounds.push(((free + walk).saturating_sub(spot.from.0), StartReason::SpotterBusy));
        }
        bounds.extend(last_over(&coach.busy, of.start + spot.from.0).map(|window| {
            let until = self.outlook.who.instant(window.to);
            (window.to.0.saturating_sub(spot.from.0), StartReason::SpotterAway { until })
        }));
        bounds
    }
}

/// The last window that is over by then.
fn last_over(busy: &[Window], by: u32) -> Option<&Window> {
    busy.iter().rev().find(|window| window.to.0 <= by)
}

fn walk(instance: &Instance, from: usize, to: usize) -> u32 {
    instance.walk.get(from).and_then(|row| row.get(to)).map_or(0, |walk| walk.0)
}

fn at(instance: &Instance, place: TurnPlace) -> Option<(&Member, &Round, &Turn)> {
    let member = instance.groups.get(place.group)?.members.get(place.member)?;
    let round = member.rounds.get(place.round)?;
    Some((member, round, round.legs.get(place.leg)?.as_ref()?))
}

//! What is left of a group's session, for a sheet of paper that goes on where no display works.

use std::collections::BTreeSet;

use turnabout_protocol::card::LoadCard;
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::view::{
    SessionSheet, SetName, SheetBlock, SheetClient, SheetElsewhere, SheetExercise, SheetOver, SheetSet,
    SheetSetting, SheetSettings,
};
use turnabout_protocol::work::Work;

use super::card::Later;
use super::{Context, part};
use crate::floor::config::GroupPlan;
use crate::floor::decide;
use crate::floor::event::LegLoads;
use crate::floor::first_loads;
use crate::floor::in_hand::InHand;
use crate::floor::state::{Claim, GroupNow, SetOver, SetRecord, State};
use crate::loading::bar::Starts;
use crate::training::block::{Block, Leg, Prescription};
use crate::training::exercise::Exercise;

/// The session of a group from the block in hand on; nothing for an unknown group.
#[must_use]
pub fn sheet(state: &State, context: &Context<'_>, group: GroupId) -> Option<SessionSheet> {
    let (plan, now) = state.group(group)?;
    let mut later = Later::default();
    let places = now.block..now.blocks;
    let blocks = places.filter_map(|place| {
        let block = plan.blocks.get(usize::from(place))?;
        let planned = Planned { state, context, id: group, plan, now, block, place };
        Some(planned.sheet(&mut later))
    });
    Some(SessionSheet {
        floor: state.floor.name.clone(),
        group,
        coach: part::coach_name(context, now.coach),
        as_of: state.clock.rfc3339(state.recorded),
        starts: state.starts_at(group).map(|at| state.clock.rfc3339(at)),
        emergency: state.floor.emergency.clone(),
        clients: plan.clients.iter().map(|client| part::client_name(context, *client)).collect(),
        blocks: blocks.collect(),
    })
}

/// One block of a group, in hand or to come.
struct Planned<'s> {
    state: &'s State,
    context: &'s Context<'s>,
    id: GroupId,
    plan: &'s GroupPlan,
    now: &'s GroupNow,
    block: &'s Block,
    place: u8,
}

/// Where an exercise of the block is done, and with which loads clients begin there.
struct Place<'s> {
    leg: &'s Leg,
    /// The one that is reserved, or else all that suit, each with the loads there.
    stations: Vec<(StationId, Vec<LegLoads>)>,
    reserved: bool,
}

impl Place<'_> {
    /// With which loads a client begins at the station that is named first.
    fn loads(&self, client: ClientId) -> Option<&LegLoads> {
        loads_of(&self.stations.first()?.1, client)
    }

    /// The same at every other station.
    fn elsewhere(&self, client: ClientId) -> impl Iterator<Item = (StationId, Option<&LegLoads>)> {
        self.stations.iter().skip(1).map(move |(station, loads)| (*station, loads_of(loads, client)))
    }
}

fn loads_of(loads: &[LegLoads], client: ClientId) -> Option<&LegLoads> {
    loads.iter().find(|loads| loads.client == client)
}

/// A set with what there is to write down of it.
struct Line {
    turn: TurnId,
    set: SetName,
    exercise: ExerciseId,
    station: Option<StationId>,
    work: Work,
    load: Option<Load>,
    elsewhere: Vec<Elsewhere>,
}

/// What there is to write down of it at another station.
#[derive(Clone, Copy)]
struct Elsewhere {
    station: StationId,
    work: Work,
    load: Option<Load>,
}

impl<'s> Planned<'s> {
    fn sheet(&self, later: &mut Later<'s>) -> SheetBlock {
        let places: Vec<Place<'s>> =
            self.block.legs.iter().enumerate().map(|(n, leg)| self.place(n, leg)).collect();
        SheetBlock {
            n: self.place.saturating_add(1),
            of: self.now.blocks,
            rounds: self.now.rounds_of(self.plan, self.place),
            rest_min: self.block.rest_min,
            rest_max: self.block.rest_max,
            changeover: self.block.changeover,
            exercises: places.iter().filter_map(|place| self.exercise(place)).collect(),
            clients: self.plan.clients.iter().map(|client| self.client(*client, &places, later)).collect(),
        }
    }

    /// The block in hand, where this is it.
    fn hand(&self) -> Option<InHand<'s>> {
        InHand::of(self.state, self.id).filter(|hand| hand.group.block == self.place)
    }

    fn claim(&self) -> Option<&'s Claim> {
        if self.now.block == self.place { self.now.claim.as_ref() } else { self.ahead() }
    }

    /// Stations that it has got ahead for the block after the one in hand.
    fn ahead(&self) -> Option<&'s Claim> {
        self.now.ahead.as_ref().filter(|_| self.now.block.checked_add(1) == Some(self.place))
    }

    fn place(&self, n: usize, leg: &'s Leg) -> Place<'s> {
        let reserved = self.claim().and_then(|claim| claim.stations.get(n)).copied();
        let stations: Vec<StationId> =
            reserved.map_or_else(|| decide::suited(self.state, leg).collect(), |one| vec![one]);
        let rounds = self.now.rounds_of(self.plan, self.place);
        let with_loads = |station| {
            let loads = first_loads::of_leg(self.state, leg, station, rounds, self.state.recorded);
            (station, loads.unwrap_or_default())
        };
        let stations = stations.into_iter().map(with_loads).collect();
        Place { leg, stations, reserved: reserved.is_some() }
    }

    fn exercise(&self, place: &Place<'s>) -> Option<SheetExercise> {
        let exercise = self.state.floor.exercises.get(&place.leg.exercise)?;
        let name = |(station, _): &(StationId, Vec<LegLoads>)| self.station_name(*station);
        Some(SheetExercise {
            exercise: exercise.name.clone(),
            stations: place.stations.iter().filter_map(name).collect(),
            reserved: place.reserved,
            per_side: place.leg.per_side,
            spotted: exercise.spotted(),
        })
    }

    fn station_name(&self, station: StationId) -> Option<String> {
        Some(self.state.floor.stations.get(&station)?.name.clone())
    }

    fn client(&self, client: ClientId, places: &[Place<'s>], later: &mut Later<'s>) -> SheetClient {
        let lines = self.lines(client, places);
        let others = lines.iter().flat_map(|line| &line.elsewhere).map(|other| other.station);
        let stations: BTreeSet<StationId> =
            lines.iter().filter_map(|line| line.station).chain(others).collect();
        let settings = stations.into_iter().filter_map(|station| self.settings(client, station));
        SheetClient {
            client,
            name: part::client_name(self.context, client),
            settings: settings.collect(),
            sets: lines.iter().filter_map(|line| self.set(line, later)).collect(),
        }
    }

    fn settings(&self, client: ClientId, id: StationId) -> Option<SheetSettings> {
        let station = self.state.floor.stations.get(&id)?;
        let kept = self.state.settings.get(&client)?.get(&id)?;
        let value = |(place, value): (&u8, &u8)| {
            let setting = station.settings.get(usize::from(*place))?;
            let value = setting.values.get(usize::from(*value))?.clone();
            Some(SheetSetting { name: setting.name.clone(), value })
        };
        let values: Vec<SheetSetting> = kept.iter().filter_map(value).collect();
        (!values.is_empty()).then(|| SheetSettings { station: station.name.clone(), values })
    }

    /// The sets of a client in the order in which they are done: light ones, those nearer to the first load, rounds.
    fn lines(&self, client: ClientId, places: &[Place<'s>]) -> Vec<Line> {
        let hand = self.hand();
        let planned = self.now.rounds_of(self.plan, self.place);
        let rounds = hand.map_or(planned, |hand| hand.rounds_for(client));
        let legs = || places.iter().zip(0_u8..);
        let turn = |round, leg| TurnId { group: self.id, client, block: self.place, round, leg };
        let technique = legs().filter_map(|(place, leg)| self.line(place, turn(0, leg), SetName::Technique));
        let ramps = legs().filter_map(|(place, leg)| self.ramp(place, turn(0, leg)));
        let working = (1..=rounds).flat_map(|n| {
            legs().filter_map(move |(place, leg)| {
                self.line(place, turn(n, leg), SetName::Working { n, of: rounds })
            })
        });
        technique.chain(ramps).chain(working).collect()
    }

    fn line(&self, place: &Place<'s>, turn: TurnId, set: SetName) -> Option<Line> {
        let prescribed = place.leg.sets.get(&turn.client)?;
        // Stations that have been taken have the loads as they stand; without them what would be set is worked out.
        let taken = self.hand().and_then(|hand| Some((hand, hand.leg_now(turn)?)));
        if let Some((hand, now)) = taken {
            let (exercise, station) = (hand.exercise(turn)?.id, hand.station(turn));
            // The light set nearer to the first load has a line of its own.
            let load = if turn.round == 0 { now.technique_load } else { now.load(turn.round) };
            let (work, elsewhere) = (hand.work(turn)?, Vec::new());
            return Some(Line { turn, set, exercise, station, work, load, elsewhere });
        }
        let (exercise, station) = (place.leg.exercise, place.stations.first().map(|(station, _)| *station));
        let (work, load) = ahead(prescribed, turn, place.loads(turn.client))?;
        let elsewhere = place.elsewhere(turn.client).filter_map(|(station, loads)| {
            let (work, load) = ahead(prescribed, turn, loads)?;
            Some(Elsewhere { station, work, load })
        });
        Some(Line { turn, set, exercise, station, work, load, elsewhere: elsewhere.collect() })
    }

    /// One more light set, nearer to the first load, where one is still to be done.
    fn ramp(&self, place: &Place<'s>, turn: TurnId) -> Option<Line> {
        let line = self.line(place, turn, SetName::Ramp)?;
        let taken = self.hand().and_then(|hand| hand.leg_now(turn));
        let load =
            taken.map_or_else(|| place.loads(turn.client)?.ramp, |leg| leg.ramp.filter(|_| !leg.ramped))?;
        let others = place.elsewhere(turn.client).filter(|_| taken.is_none());
        let elsewhere = others.map(|(station, loads)| Elsewhere {
            station,
            work: line.work,
            load: loads.and_then(|loads| loads.ramp),
        });
        Some(Line { load: Some(load), elsewhere: elsewhere.collect(), ..line })
    }

    /// Nothing of a set that will not be done because its exercise has been left out.
    fn set(&self, line: &Line, later: &mut Later<'s>) -> Option<SheetSet> {
        let exercise = self.state.floor.exercises.get(&line.exercise)?;
        let place = usize::from(line.turn.leg);
        let leg = self.block.legs.get(place)?;
        let over = self.over(line);
        let dropped =
            self.hand().and_then(|hand| hand.leg_now(line.turn)).is_some_and(|leg| leg.dropped.is_some());
        if dropped && over.is_none() {
            return None;
        }
        Some(SheetSet {
            set: line.set,
            exercise: exercise.name.clone(),
            station: line.station.and_then(|station| self.station_name(station)),
            work: line.work,
            per_side: leg.per_side,
            spotted: exercise.spotted(),
            tempo: leg.sets.get(&line.turn.client)?.tempo,
            load: self.card(line.turn.client, exercise, (line.station, line.load), later),
            elsewhere: self.elsewhere(line, exercise, later),
            over,
        })
    }

    fn card(
        &self,
        client: ClientId,
        exercise: &Exercise,
        (station, load): (Option<StationId>, Option<Load>),
        later: &mut Later<'s>,
    ) -> Option<LoadCard> {
        later.card(self.state, client, (station?, Starts::of(exercise)), load?)
    }

    fn elsewhere(&self, line: &Line, exercise: &Exercise, later: &mut Later<'s>) -> Vec<SheetElsewhere> {
        let other = |other: &Elsewhere| {
            let at = (Some(other.station), other.load);
            Some(SheetElsewhere {
                station: self.station_name(other.station)?,
                work: other.work,
                load: self.card(line.turn.client, exercise, at, later),
            })
        };
        line.elsewhere.iter().filter_map(other).collect()
    }

    /// How a set went; of a ramp set, which stands beside the order, nothing.
    fn over(&self, line: &Line) -> Option<SheetOver> {
        let hand = self.hand().filter(|_| line.set != SetName::Ramp)?;
        let over = hand.client(line.turn.client)?.sets.get(hand.place(line.turn)?)?;
        Some(match over {
            SetOver::Done(record) => self.done(record),
            SetOver::Skipped { .. } | SetOver::Missed => SheetOver::LeftOut,
        })
    }

    fn done(&self, record: &SetRecord) -> SheetOver {
        SheetOver::Done {
            reps: record.reps.now(),
            load: record.load.now(),
            effort: record.effort.now(),
            ending: record.ending.now(),
            ended: self.state.clock.rfc3339(record.ended),
        }
    }
}

/// What a set asks for at a station that is not taken yet, and the load that would be set there.
fn ahead(prescribed: &Prescription, turn: TurnId, loads: Option<&LegLoads>) -> Option<(Work, Option<Load>)> {
    let target = prescribed.target(turn.round.max(1))?;
    Some(match (turn.round.checked_sub(1), loads) {
        (None, Some(loads)) => (Work::reps(prescribed.technique.reps), loads.technique_load),
        (None, None) => (Work::reps(prescribed.technique.reps), prescribed.technique.load),
        (Some(n), Some(loads)) => {
            let work = loads.works.get(&turn.round).copied().unwrap_or(target.work);
            (work, loads.loads.get(usize::from(n)).copied().flatten())
        }
        (Some(_), None) => (target.work, target.fixed()),
    })
}

//! The block a group has in hand: which sets it has, in which order, and when each may start.

use turnabout_protocol::card::{GearKind, LoadCard};
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{FloorMs, Mass, Millis};
use turnabout_protocol::view::{After, Need};
use turnabout_protocol::work::Work;

use super::config::{GroupPlan, Settings, Station};
use super::gear_now;
use super::pairs_now;
use super::promises;
use super::screening;
use super::state::{ClientNow, GroupNow, LegNow, Presence, SetRecord, State, StationNow};
use crate::loading::bar::Starts;
use crate::training::block::{Block, Leg, Prescription};
use crate::training::exercise::Exercise;

/// A group with the block it has in hand. Whoever holds one has a group whose session is not over.
#[derive(Clone, Copy, Debug)]
pub struct InHand<'s> {
    /// The floor.
    pub state: &'s State,
    /// The group.
    pub id: GroupId,
    /// Its plan.
    pub plan: &'s GroupPlan,
    /// Its present.
    pub group: &'s GroupNow,
    /// The block.
    pub block: &'s Block,
}

/// When a set that has not begun may start, and what the client does until then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Coming {
    /// What the client does until then.
    pub after: After,
    /// The first repetition starts no earlier.
    pub earliest: FloorMs,
    /// When the client is told to be ready: `earliest`, moved by every NOT YET.
    pub ready: FloorMs,
    /// From when GO is taken.
    pub go_from: FloorMs,
    /// When the client is asked for GO: `go_from`, moved by every NOT YET. What people are told of a start is GO too.
    pub go: FloorMs,
}

impl<'s> InHand<'s> {
    /// The block that a group has in hand; nothing for an unknown group or one whose session is over.
    #[must_use]
    pub fn of(state: &'s State, id: GroupId) -> Option<Self> {
        let (plan, group) = state.group(id)?;
        let block = group.block_of(plan)?;
        Some(Self { state, id, plan, group, block })
    }

    /// How many working rounds the block has now.
    #[must_use]
    pub fn rounds(&self) -> u8 {
        self.group.rounds_of(self.plan, self.group.block)
    }

    /// How many working rounds a client has: the block's, and those that are made up for.
    #[must_use]
    pub fn rounds_for(&self, client: ClientId) -> u8 {
        self.rounds().saturating_add(self.client(client).map_or(0, |c| c.extra))
    }

    /// How many sets a client has in this block, technique sets included.
    #[must_use]
    pub fn sets(&self, client: ClientId) -> usize {
        (usize::from(self.rounds_for(client)) + 1) * self.block.legs.len()
    }

    /// Whether anybody who is there has a set to do or to finish.
    #[must_use]
    pub fn has_sets_left(&self) -> bool {
        let left = |(id, c): (&ClientId, &ClientNow)| {
            c.current.is_some() || (c.is_here() && c.sets.len() < self.sets(*id))
        };
        self.group.clients.iter().any(left)
    }

    /// Whether a client has a set of an exercise that has not begun.
    #[must_use]
    pub fn has_left(&self, client: ClientId, leg: u8) -> bool {
        let last =
            TurnId { group: self.id, client, block: self.group.block, round: self.rounds_for(client), leg };
        let begun =
            |c: &ClientNow| c.sets.len() + usize::from(c.current.is_some_and(|u| !self.is_again(u.turn)));
        self.client(client).zip(self.place(last)).is_some_and(|(c, place)| place >= begun(c))
    }

    /// The round that the others have reached: the lowest in which somebody else who is there has a set to do.
    #[must_use]
    pub fn round_of_others(&self, client: ClientId) -> Option<u8> {
        let others = self.group.clients.iter().filter(|(id, c)| **id != client && c.is_here() && !c.late);
        let round = |(id, c): (&ClientId, &ClientNow)| {
            c.current.map(|u| u.turn.round).or_else(|| self.turn(*id, c.sets.len()).map(|turn| turn.round))
        };
        others.filter_map(round).min()
    }

    /// Whether a client who comes now finds the others further on: they do not wait for the light sets.
    #[must_use]
    pub fn is_behind_others(&self, client: ClientId) -> bool {
        let own = self.client(client).and_then(|c| self.turn(client, c.sets.len())).map(|turn| turn.round);
        let others = self.round_of_others(client);
        self.group.claim.is_some() && others.is_some_and(|round| round > 0) && own < others
    }

    /// The place of a set among its client's; nothing where the block has no such set.
    #[must_use]
    pub fn place(&self, turn: TurnId) -> Option<usize> {
        let known = turn.group == self.id
            && turn.block == self.group.block
            && usize::from(turn.leg) < self.block.legs.len()
            && self.group.clients.contains_key(&turn.client)
            && turn.round <= self.rounds_for(turn.client);
        known.then(|| usize::from(turn.round) * self.block.legs.len() + usize::from(turn.leg))
    }

    /// The set at a place; nothing past the last.
    #[must_use]
    pub fn turn(&self, client: ClientId, place: usize) -> Option<TurnId> {
        let legs = self.block.legs.len();
        if place >= self.sets(client) {
            return None;
        }
        let round = u8::try_from(place / legs).ok()?;
        let leg = u8::try_from(place % legs).ok()?;
        Some(TurnId { group: self.id, client, block: self.group.block, round, leg })
    }

    /// What is so for a client of the group.
    #[must_use]
    pub fn client(&self, client: ClientId) -> Option<&'s ClientNow> {
        self.group.clients.get(&client)
    }

    /// Whether a light set is done once more, beside the order, because its place is behind already. One that
    /// is under way is, even when the coach has passed it before its end.
    #[must_use]
    pub fn is_again(&self, turn: TurnId) -> bool {
        let done_before = |c: &ClientNow| self.place(turn).is_some_and(|place| place < c.sets.len());
        turn.round == 0
            && self.client(turn.client).is_some_and(|c| {
                let leg = c.legs.get(usize::from(turn.leg));
                let under_way = c.current.is_some_and(|u| u.turn == turn);
                let due = |leg: &LegNow| leg.again || leg.ramp_due().is_some();
                done_before(c) && (under_way || leg.is_some_and(due))
            })
    }

    /// The set that comes next for a client, after the one under way if there is one.
    #[must_use]
    pub fn next(&self, client: ClientId) -> Option<TurnId> {
        let now = self.client(client)?;
        let again = now.current.filter(|u| self.is_again(u.turn)).map(|u| u.turn);
        let in_order = usize::from(now.current.is_some() && again.is_none());
        let coming =
            (now.sets.len() + in_order..self.sets(client)).filter_map(|place| self.turn(client, place));
        // Sets of an exercise that is left out are over as soon as the one before them is.
        let dropped =
            |turn: &TurnId| now.legs.get(usize::from(turn.leg)).is_some_and(|l| l.dropped.is_some());
        let turn = coming.into_iter().find(|turn| !dropped(turn))?;
        if turn.round == 0 {
            return Some(turn);
        }
        // What leads up to a later exercise of the round is done before the first, so that nothing comes between
        // them.
        let legs = if turn.leg == 0 { 0..self.legs() } else { turn.leg..turn.leg.saturating_add(1) };
        let lights = legs.map(|leg| TurnId { round: 0, leg, ..turn });
        let asked = |light: &TurnId| light.leg == turn.leg && self.is_again(*light);
        let due = |light: &TurnId| {
            again != Some(*light) && !dropped(light) && (asked(light) || self.is_ramp(*light))
        };
        Some(lights.into_iter().find(due).unwrap_or(turn))
    }

    /// How many exercises the block has.
    #[must_use]
    pub fn legs(&self) -> u8 {
        u8::try_from(self.block.legs.len()).unwrap_or(u8::MAX)
    }

    /// Whether a light set is the second one, nearer to the working load.
    #[must_use]
    pub fn is_ramp(&self, turn: TurnId) -> bool {
        let Some(leg) = self.leg_now(turn).filter(|leg| leg.ramp_due().is_some()) else { return false };
        turn.round == 0 && !leg.again && self.is_again(turn)
    }

    /// The exercise of a set as prescribed.
    #[must_use]
    pub fn leg(&self, turn: TurnId) -> Option<&'s Leg> {
        self.block.legs.get(usize::from(turn.leg))
    }

    /// What is particular to an exercise of one client.
    #[must_use]
    pub fn leg_now(&self, turn: TurnId) -> Option<&'s LegNow> {
        self.client(turn.client)?.legs.get(usize::from(turn.leg))
    }

    /// What a client does of an exercise, as prescribed.
    #[must_use]
    pub fn prescribed(&self, turn: TurnId) -> Option<&'s Prescription> {
        self.leg(turn)?.sets.get(&turn.client)
    }

    /// The exercise of a set: as prescribed, or what is done instead.
    #[must_use]
    pub fn exercise(&self, turn: TurnId) -> Option<&'s Exercise> {
        let instead = self.leg_now(turn).and_then(|leg| leg.instead);
        self.state.floor.exercises.get(&instead.unwrap_or(self.leg(turn)?.exercise))
    }

    /// Where the lifts of a set begin.
    #[must_use]
    pub fn starts(&self, turn: TurnId) -> Starts {
        self.exercise(turn).map(Starts::of).unwrap_or_default()
    }

    /// Whether an exercise can be done at a station.
    #[must_use]
    pub fn done_at(&self, exercise: ExerciseId, station: StationId) -> bool {
        self.state.floor.exercises.get(&exercise).is_some_and(|exercise| exercise.stations.contains(&station))
    }

    /// Where a set is done: where the group does the exercise, or where this client alone does.
    #[must_use]
    pub fn station(&self, turn: TurnId) -> Option<StationId> {
        let claim = self.group.claim.as_ref()?;
        let elsewhere = self.leg_now(turn).and_then(|leg| leg.elsewhere);
        elsewhere.or_else(|| claim.stations.get(usize::from(turn.leg)).copied())
    }

    /// That station as the floor file has it and as it is now.
    #[must_use]
    pub fn station_now(&self, turn: TurnId) -> Option<(&'s Station, &'s StationNow)> {
        let id = self.station(turn)?;
        Some((self.state.floor.stations.get(&id)?, self.state.stations.get(&id)?))
    }

    /// What a set asks for.
    #[must_use]
    pub fn work(&self, turn: TurnId) -> Option<Work> {
        let prescribed = self.prescribed(turn)?;
        match turn.round {
            0 => Some(Work::reps(prescribed.technique.reps)),
            round => self
                .leg_now(turn)
                .and_then(|leg| leg.work(round))
                .or_else(|| prescribed.target(round).map(|target| target.work)),
        }
    }

    /// The load of a set from now on; nothing where the exercise has none.
    #[must_use]
    pub fn load(&self, turn: TurnId) -> Option<Load> {
        match (turn.round, self.leg_now(turn)) {
            (0, Some(now)) if self.is_ramp(turn) => now.ramp,
            (0, Some(now)) => now.technique_load,
            (0, None) => self.prescribed(turn)?.technique.load,
            (round, Some(now)) => now.load(round),
            (round, None) => self.prescribed(turn)?.target(round)?.fixed(),
        }
    }

    /// Whether a coach has passed the technique set of this exercise.
    #[must_use]
    pub fn technique_passed(&self, turn: TurnId) -> bool {
        self.leg_now(turn).is_some_and(|leg| leg.passed.is_some())
    }

    /// From GO to the first repetition: get set, then 3-2-1.
    #[must_use]
    pub fn lead(&self, turn: TurnId) -> Millis {
        self.get_set(turn) + Settings::COUNT_IN.millis()
    }

    /// From GO to the 3-2-1.
    #[must_use]
    pub fn get_set(&self, turn: TurnId) -> Millis {
        let settings = &self.state.floor.settings;
        let spotted = self.exercise(turn).is_some_and(Exercise::spotted);
        if spotted { settings.get_set_spotted } else { settings.get_set }.millis()
    }

    /// The last set that a client did in this block, in or beside the order.
    #[must_use]
    pub fn last_done(&self, client: ClientId) -> Option<(TurnId, &'s SetRecord)> {
        let now = self.client(client)?;
        match now.last_done()? {
            (Some(place), record) => Some((self.turn(client, place)?, record)),
            (None, record) => Some((now.again.last()?.0, record)),
        }
    }

    /// The last set that a client did or is doing, and when it ended or is prescribed to.
    fn before(&self, client: ClientId) -> Option<(TurnId, FloorMs)> {
        let now = self.client(client)?;
        if let Some(current) = now.current {
            return Some((current.turn, current.ends));
        }
        self.last_done(client).map(|(turn, record)| (turn, record.ended))
    }

    /// When the last working set of an earlier round ended: the rest counts from there.
    fn round_ended(&self, turn: TurnId) -> Option<FloorMs> {
        let now = self.client(turn.client)?;
        let legs = self.block.legs.len();
        let earlier = |place: usize| place >= legs && place < usize::from(turn.round) * legs;
        let done = now.sets.iter().enumerate().rev().filter(|(place, _)| earlier(*place));
        let current = now.current.filter(|u| u.turn.round > 0 && u.turn.round < turn.round);
        current.map(|u| u.ends).or_else(|| Some(done.into_iter().find_map(|(_, set)| set.done())?.ended))
    }

    /// When a client has rested for a set as long as the block asks for; the beginning of time where no rest is
    /// due before it.
    #[must_use]
    pub fn rested(&self, turn: TurnId) -> FloorMs {
        self.round_ended(turn).map_or(FloorMs::default(), |ended| ended + self.block.rest_min)
    }

    /// When the next set of a client may start. Nothing where no stations are reserved or all are done.
    #[must_use]
    pub fn coming(&self, client: ClientId) -> Option<Coming> {
        let turn = self.next(client)?;
        let now = self.client(client)?;
        let taken = self.group.claim.as_ref()?.taken.when;
        let arrived = match now.presence {
            Presence::Here(stamp) => stamp.when,
            Presence::Expected | Presence::Left(_) => taken,
        };
        let before = self.before(client);
        let since = before.map_or(taken.max(arrived), |(_, ended)| ended);
        let least = now.rest_cut.map_or(self.block.rest_min, |cut| cut.least);
        let rested = self.round_ended(turn).map(|ended| ended + least);
        let latest = since + self.block.rest_max;
        let (after, earliest) = match before {
            Some((before, _)) if before.round == turn.round && before != turn && now.as_rest.is_none() => {
                let limit = since + self.block.changeover + now.down;
                (After::Changeover { since, limit }, since)
            }
            Some((before, _)) if before.round == turn.round && before != turn => {
                (After::Rest { since, latest }, since)
            }
            Some((before, _)) if before.round > 0 && turn.round > 0 => {
                (After::Rest { since, latest }, rested.unwrap_or(since))
            }
            // The technique sets are light: no rest is due after them, but the one before them still is.
            Some(_) | None => (After::Nothing, rested.unwrap_or(since).max(since)),
        };
        let ready = now.put_off.map_or(earliest, |put_off| put_off.max(earliest));
        let lead = self.lead(turn);
        let go_from = (earliest - lead).max(since);
        Some(Coming { after, earliest, ready, go_from, go: (ready - lead).max(go_from) })
    }

    /// The sets of the group that come next at a station, in the order in which they are to be done: whoever was told
    /// a start first, in order of the starts; then the client who has done fewer rounds, then who is ready first, then
    /// who is named first in the group. Of those who are not there, or stopped alone, none.
    #[must_use]
    pub fn queue(&self, station: StationId) -> Vec<(TurnId, Coming)> {
        let coming = |client: &ClientId| {
            self.client(*client).filter(|c| c.is_here() && c.halt.is_none())?;
            let turn = self.next(*client).filter(|turn| self.station(*turn) == Some(station))?;
            Some((turn, self.coming(*client)?))
        };
        let mut queue: Vec<_> = self.plan.clients.iter().filter_map(coming).collect();
        queue.sort_by_key(|(turn, coming)| {
            let told = promises::of(self.state, *turn).map(|told| told.start);
            (told.is_none(), told, turn.round, coming.ready)
        });
        queue
    }

    /// What must happen before the next set of a client can start, in the usual order.
    #[must_use]
    pub fn needs(&self, turn: TurnId) -> Vec<Need> {
        let mut needs = Vec::new();
        let client = self.client(turn.client);
        if !client.is_some_and(ClientNow::is_here) {
            needs.push(Need::Arrival);
        } else if screening::is_open(self, turn.client) {
            needs.push(Need::Coach);
        } else if client.is_some_and(|c| c.before.briefed.is_none()) {
            needs.push(Need::Briefing);
        }
        let Some((station, at)) = self.station_now(turn) else {
            needs.push(Need::Stations);
            return needs;
        };
        if self.group.halt.is_some() || client.is_some_and(|c| c.halt.is_some()) {
            needs.push(Need::Resume);
        }
        if at.out.is_some() {
            needs.push(Need::Service);
        }
        if at.other_use.is_some() {
            needs.push(Need::OtherUse);
        }
        if self.station(turn).is_some_and(|station| self.state.help_at(&[station])) {
            needs.push(Need::Help);
        }
        if turn.round > 0 && !self.technique_passed(turn) {
            needs.push(Need::TechniquePass);
        }
        if self.must_be_racked_before(turn).is_some() {
            needs.push(Need::Racked);
        }
        if at.on.is_some_and(|on| (on.group, on.client) != (turn.group, turn.client)) {
            needs.push(Need::StationFree);
        }
        if station.gear.kind() == GearKind::Bar && !self.card(turn).is_none_or(|card| card.confirmed) {
            needs.push(Need::ConfirmLoad);
        }
        if self.pair_out(turn).is_some() {
            needs.push(Need::Pair);
        }
        let spotted = self.exercise(turn).is_some_and(Exercise::spotted);
        if spotted && self.client(turn.client).is_none_or(|c| c.spotter.is_none()) {
            needs.push(Need::Spotter);
        }
        needs
    }

    /// The load of a set whose pair is out at another station of the rack, and where.
    #[must_use]
    pub fn pair_out(&self, turn: TurnId) -> Option<(Mass, StationId)> {
        let (station, load) = (self.station(turn)?, self.load(turn)?.mass()?);
        Some((load, *pairs_now::out(self.state, station, load).first()?))
    }

    /// A set of the same client that somebody must say is racked before this one can start: GO at the next
    /// station says it of a set without a spotter, but a spotter is free only by a tap of its own.
    #[must_use]
    pub fn must_be_racked_before(&self, turn: TurnId) -> Option<TurnId> {
        let current = self.client(turn.client)?.current?;
        let same_place = self.station(turn) == Some(current.station);
        (current.turn != turn && (current.spotter.is_some() || same_place)).then_some(current.turn)
    }

    /// How to set the load of a set, without the plates that make it; nothing where there is none.
    #[must_use]
    pub fn card(&self, turn: TurnId) -> Option<LoadCard> {
        let total = self.load(turn)?;
        let Some((station, at)) = self.station_now(turn) else {
            let unit = turnabout_protocol::units::MassUnit::Kg;
            return Some(LoadCard::new(self.exercise(turn)?.gear, total, unit));
        };
        let gear = station.gear.kind();
        let set = at.load == Some(total);
        // The right weight with small plates innermost lies too low to be pulled from the floor.
        let begins = at.plates.as_ref().is_none_or(|on| gear_now::begins(on, self.starts(turn)));
        let confirmed = set && (gear != GearKind::Bar || (begins && at.confirmed.is_some()));
        Some(LoadCard { on_now: at.load, confirmed, ..LoadCard::new(gear, total, station.gear.unit()) })
    }
}

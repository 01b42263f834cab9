//! What a line says, as a tap: names become numbers, and the group's revision and block are those of now.

use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{Act, Effort, Ending, NoteAbout, Scope};
use turnabout_protocol::ids::{
    CallId, ClientId, CoachId, ExerciseId, GroupId, Key, NoteId, StationId, TurnId,
};
use turnabout_protocol::next::CoachSaid;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{Mass, Stamped};
use turnabout_server::floor::config::{Names, Person};
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::next_load::{self, Ladders};
use turnabout_server::floor::state::State;

use crate::script::Mistake;
use crate::words::Words;

/// What the names of a line stand for.
pub(crate) struct Reader<'s, 'w> {
    pub(crate) state: &'s State,
    pub(crate) names: &'s Names,
    pub(crate) words: Words<'w>,
}

type Read<T> = Result<T, Mistake>;

/// Who speaks.
pub(crate) fn speaker(state: &State, who: &str, line: usize) -> Read<Speaker> {
    let unknown = || Mistake { line, what: format!("nobody is called `{who}`") };
    let key: Key = who.replace("assistant", "coach").parse().map_err(|_| unknown())?;
    if let Some(coach) = state.floor.coach(&key) {
        let actor =
            if who.starts_with("assistant") { Actor::Assistant { coach } } else { Actor::Coach { coach } };
        return Ok(Speaker { actor, stations: Vec::new() });
    }
    let station = state.floor.station(&key).ok_or_else(unknown)?;
    Ok(Speaker { actor: Actor::Station { station }, stations: vec![station] })
}

impl Reader<'_, '_> {
    fn key(&mut self, what: &str) -> Read<Key> {
        let word = self.words.next(what)?;
        word.parse().map_err(|_| self.words.mistake(&format!("`{word}` is no {what}")))
    }

    fn station(&mut self) -> Read<StationId> {
        let key = self.key("station")?;
        self.state.floor.station(&key).ok_or_else(|| self.words.mistake(&format!("no station `{key}`")))
    }

    fn coach(&mut self) -> Read<CoachId> {
        let key = self.key("coach")?;
        self.state.floor.coach(&key).ok_or_else(|| self.words.mistake(&format!("no coach `{key}`")))
    }

    fn exercise(&mut self) -> Read<ExerciseId> {
        let key = self.key("exercise")?;
        let found = self.state.floor.exercises.values().find(|e| e.key == key).map(|e| e.id);
        found.ok_or_else(|| self.words.mistake(&format!("no exercise `{key}`")))
    }

    fn group(&mut self) -> Read<GroupId> {
        let group = GroupId(self.words.number("group")?);
        if self.state.groups.contains_key(&group) {
            Ok(group)
        } else {
            Err(self.words.mistake(&format!("no group {group}")))
        }
    }

    fn named(&self, name: &str) -> Read<(GroupId, ClientId)> {
        let is = |(person, known): (&Person, &String)| match person {
            Person::Client(id) if known.to_lowercase() == name => Some(*id),
            Person::Client(_) | Person::Coach(_) => None,
        };
        let client = self.names.iter().find_map(is);
        let group = client
            .and_then(|id| self.state.programme.groups.iter().find(|(_, plan)| plan.clients.contains(&id)));
        match (group, client) {
            (Some((group, _)), Some(client)) => Ok((*group, client)),
            _ => Err(self.words.mistake(&format!("no client `{name}`"))),
        }
    }

    fn client(&mut self) -> Read<(GroupId, ClientId)> {
        let name = self.words.next("client")?;
        self.named(name)
    }

    /// All clients that are left on the line.
    fn clients(&mut self) -> Read<Vec<ClientId>> {
        self.words.rest().iter().map(|name| Ok(self.named(name)?.1)).collect()
    }

    fn stations(&mut self) -> Read<Vec<StationId>> {
        let mut stations = vec![self.station()?];
        while let Some(word) = self.words.maybe() {
            if word == "despite" {
                return Err(self.words.mistake("`despite REASON` comes before the stations"));
            }
            let station = word.parse().ok().and_then(|key: Key| self.state.floor.station(&key));
            stations.push(station.ok_or_else(|| self.words.mistake(&format!("no station `{word}`")))?);
        }
        Ok(stations)
    }

    /// A set: `dara/2a`, or of an earlier block `dara/b0/2a`.
    pub(crate) fn set(&mut self) -> Read<TurnId> {
        let word = self.words.next("set")?;
        let parts: Vec<&str> = word.split('/').collect();
        let none = || self.words.mistake(&format!("`{word}` is no set"));
        let (name, block, place) = match parts.as_slice() {
            [name, place] => (*name, None, *place),
            [name, block, place] => (*name, Some(block.strip_prefix('b').ok_or_else(none)?), *place),
            _ => return Err(none()),
        };
        let (group, client) = self.named(name)?;
        let leg = place.chars().last().filter(char::is_ascii_lowercase).ok_or_else(none)?;
        let leg = u8::try_from(u32::from(leg) - u32::from('a')).map_err(|_| none())?;
        let round = place.get(..place.len() - 1).and_then(|round| round.parse().ok()).ok_or_else(none)?;
        let block = match block {
            Some(block) => block.parse().map_err(|_| none())?,
            None => self.state.groups.get(&group).map_or(0, |group| group.block),
        };
        Ok(TurnId { group, client, block, round, leg })
    }

    fn leg(&mut self) -> Read<u8> {
        let word = self.words.next("exercise of the block")?;
        let place = word.bytes().next().filter(|_| word.len() == 1).and_then(|b| b.checked_sub(b'a'));
        place.ok_or_else(|| self.words.mistake(&format!("`{word}` is no exercise of the block: a, b ...")))
    }

    fn load(&mut self) -> Read<Mass> {
        let word = self.words.next("load")?;
        let load = word.parse::<Stamped>().map(|stamped| stamped.mass);
        load.map_err(|error| self.words.mistake(&format!("`{word}`: {error}")))
    }

    /// A plate by its mass; from 10 kg on it is of full diameter, as on this floor.
    fn plate(&mut self) -> Read<PlatePart> {
        let mass = self.load()?;
        Ok(PlatePart { mass, full: mass >= Mass::from_grams(10_000) })
    }

    fn revision(&self, group: GroupId) -> u32 {
        self.state.groups.get(&group).map_or(0, |group| group.revision)
    }

    fn block(&self, group: GroupId) -> u8 {
        self.state.groups.get(&group).map_or(0, |group| group.block)
    }

    /// How a set went: `reps 7 helped 2 rir 0`, in any order.
    pub(crate) fn how(&mut self) -> Read<(Option<u8>, Option<Effort>, Option<Ending>)> {
        let (mut reps, mut effort, mut ending) = (None, None, None);
        while let Some(word) = self.words.maybe() {
            match word {
                "reps" => reps = Some(self.words.number("repetitions")?),
                "rir" => effort = Some(Effort::Rir { reps: self.words.number("reserve")? }),
                "light" => effort = Some(Effort::Light),
                "right" => effort = Some(Effort::Right),
                "heavy" => effort = Some(Effort::Heavy),
                "complete" => ending = Some(Ending::Complete),
                "short" => ending = Some(Ending::Short),
                "helped" => ending = Some(Ending::Helped { reps: self.words.number("repetitions")? }),
                "failed" => ending = Some(Ending::Failed),
                "form-broken" => ending = Some(Ending::FormBroken),
                "equipment-fault" => ending = Some(Ending::EquipmentFault),
                other => return Err(self.words.mistake(&format!("`{other}` says nothing of a set"))),
            }
        }
        Ok((reps, effort, ending))
    }

    /// The tap of this line.
    pub(crate) fn act(&mut self) -> Read<Act> {
        let verb = self.words.next("what happens")?;
        let act = match self.of_stations(verb)? {
            Some(act) => act,
            None => match self.of_sessions(verb)? {
                Some(act) => act,
                None => match self.of_sets(verb)? {
                    Some(act) => act,
                    None => self.of_people(verb)?,
                },
            },
        };
        match self.words.maybe() {
            None => Ok(act),
            Some(word) => Err(self.words.mistake(&format!("`{word}` is too much"))),
        }
    }

    fn of_stations(&mut self, verb: &str) -> Read<Option<Act>> {
        Ok(Some(match verb {
            "take" | "take-next" => {
                let group = self.group()?;
                let block = self.block(group) + u8::from(verb == "take-next");
                let despite =
                    if self.words.is("despite") { Some(self.words.one_of("reason")?) } else { None };
                let stations = self.stations()?;
                Act::TakeStations { group, block, stations, revision: self.revision(group), despite }
            }
            "ask" | "ask-next" => {
                let group = self.group()?;
                let block = self.block(group) + u8::from(verb == "ask-next");
                Act::AskStations { group, block, revision: self.revision(group) }
            }
            "withdraw" => Act::WithdrawAsk { group: self.group()? },
            "lend" => Act::GiveLeave { station: self.station()?, group: self.group()? },
            "swap-station" => {
                let (group, leg, to) = (self.group()?, self.leg()?, self.station()?);
                Act::SwapStation { group, leg, to, revision: self.revision(group) }
            }
            "other-use" => Act::OtherUse { station: self.station()?, minutes: self.words.number("minutes")? },
            "other-use-over" => Act::EndOtherUse { station: self.station()? },
            "out" => Act::OutOfService { station: self.station()?, defect: self.words.one_of("defect")? },
            "back-in" => Act::BackInService { station: self.station()? },
            "set" => {
                let (station, client) = (self.station()?, self.client()?.1);
                let (setting, value) = (self.words.number("setting")?, self.words.number("value")?);
                Act::SetSetting { station, client, setting, value }
            }
            "plates" => {
                let (station, mut side) = (self.station()?, Vec::new());
                while !self.words.is_over() {
                    side.push(self.plate()?);
                }
                Act::PlatesOn { station, side, bar: 0 }
            }
            "plates-missing" => {
                let (station, plate) = (self.station()?, self.plate()?);
                Act::PlatesMissing { station, plate, count: self.words.number("count")? }
            }
            "call" => Act::Call { station: self.station()?, call: self.words.one_of("call")? },
            "answer" => Act::Answer { call: CallId(self.words.number("call")?) },
            "attend" => Act::Attend { call: CallId(self.words.number("call")?) },
            "free" => {
                let group = self.group()?;
                let bar = if self.words.is("stripped") {
                    Some(turnabout_protocol::command::BarLeft::Stripped)
                } else if self.words.is("as-it-is") {
                    Some(turnabout_protocol::command::BarLeft::AsItIs)
                } else {
                    None
                };
                Act::FreeStations { group, block: self.block(group), bar }
            }
            _ => return Ok(None),
        }))
    }

    fn of_sessions(&mut self, verb: &str) -> Read<Option<Act>> {
        Ok(Some(match verb {
            "arrive" => Act::Arrive { group: self.group()?, clients: self.clients()? },
            "warm" => {
                let (group, client) = self.client()?;
                Act::WarmedUp { group, client }
            }
            "brief" => Act::Brief { group: self.group()?, clients: self.clients()?, skipped: false },
            "know-it" => Act::Brief { group: self.group()?, clients: self.clients()?, skipped: true },
            "screen" => {
                let (group, client) = self.client()?;
                Act::Screen { group, client, decision: self.words.one_of("decision")? }
            }
            "leave" => {
                let (group, client) = self.client()?;
                Act::Leave { group, client }
            }
            "make-up" => {
                let (group, client) = self.client()?;
                let rounds = self.words.number("rounds")?;
                Act::MakeUp { group, client, rounds, revision: self.revision(group) }
            }
            "rounds" => {
                let (group, rounds) = (self.group()?, self.words.number("rounds")?);
                Act::SetRounds { group, block: self.block(group), rounds, revision: self.revision(group) }
            }
            "drop" => {
                let (group, block) = (self.group()?, self.words.number("block")?);
                Act::DropBlock { group, block, revision: self.revision(group) }
            }
            "end" => Act::EndSession { group: self.group()?, reason: self.words.one_of("reason")? },
            "still-here" => Act::StillHere { group: self.group()? },
            "note" => self.note()?,
            "erase" => Act::EraseNote { note: NoteId(self.words.number("note")?) },
            _ => return Ok(None),
        }))
    }

    fn note(&mut self) -> Read<Act> {
        let note = match self.words.next("what the note is about")? {
            "incident" => {
                let station = self.station()?;
                let call =
                    if self.words.is("call") { Some(CallId(self.words.number("call")?)) } else { None };
                NoteAbout::Incident { station, call }
            }
            "set" => NoteAbout::Set { turn: self.set()? },
            "client" => {
                let (group, client) = self.client()?;
                NoteAbout::Client { group, client }
            }
            "station" => NoteAbout::Station { station: self.station()? },
            other => return Err(self.words.mistake(&format!("no note is about `{other}`"))),
        };
        let text = self.words.rest().join(" ");
        Ok(Act::Note { note, text })
    }

    fn of_sets(&mut self, verb: &str) -> Read<Option<Act>> {
        Ok(Some(match verb {
            "pass" => Act::PassTechnique { turn: self.set()? },
            "confirm" => Act::ConfirmLoad { turn: self.set()? },
            "spot" => Act::Spot { turn: self.set()?, lift_off: self.words.is("lift-off") },
            "spot-by" => Act::SpotBy { turn: self.set()?, client: self.client()?.1 },
            "arms" => Act::UseArms { turn: self.set()? },
            "go" => Act::Go { turn: self.set()? },
            "more-rest" => Act::MoreRest { turn: self.set()?, secs: self.words.number("seconds")? },
            "less-rest" => {
                let (turn, secs) = (self.set()?, self.words.number("seconds")?);
                Act::LessRest { turn, secs, reason: self.words.one_of("reason")? }
            }
            "as-rest" => Act::TreatAsRest { turn: self.set()? },
            "not-yet" => Act::NotYet { turn: self.set()? },
            "done" => {
                let turn = self.set()?;
                let (reps, effort, ending) = self.how()?;
                Act::Done { turn, reps, effort, ending }
            }
            "skip" => {
                let (turn, skip) = (self.set()?, self.words.one_of("how much")?);
                Act::Skip { turn, skip, reason: self.words.one_of("reason")? }
            }
            "swap" => {
                let ((group, client), leg) = (self.client()?, self.leg()?);
                let exercise = self.exercise()?;
                let station = if self.words.is("at") { Some(self.station()?) } else { None };
                let load = if self.words.is("load") { Some(self.load()?.into()) } else { None };
                let revision = self.revision(group);
                Act::SwapExercise { group, client, leg, exercise, station, load, sure: false, revision }
            }
            "technique-again" => Act::TechniqueAgain { turn: self.set()? },
            "correct" => {
                let turn = self.set()?;
                let load = if self.words.is("load") { Some(self.load()?.into()) } else { None };
                let (reps, effort, ending) = self.how()?;
                let ending = ending.unwrap_or(Ending::Complete);
                Act::Correct { turn, reps: reps.unwrap_or_default(), load, effort, ending }
            }
            "felt" => {
                let turn = self.set()?;
                let effort = self.how()?.1.ok_or_else(|| self.words.mistake("how it felt is missing"))?;
                Act::Effort { turn, effort }
            }
            "reps" => Act::Reps { turn: self.set()?, reps: self.words.number("repetitions")? },
            "lighter" => {
                let turn = self.set()?;
                Act::Lighter { turn, revision: self.revision(turn.group) }
            }
            "set-load" => {
                let (turn, load) = (self.set()?, self.load()?.into());
                let sure = self.words.is("sure");
                Act::SetLoad { turn, load, sure, revision: self.revision(turn.group) }
            }
            "settle" => {
                let turn = self.set()?;
                let next = InHand::of(self.state, turn.group).and_then(|hand| {
                    next_load::of_leg(&hand, turn.client, turn.leg, &mut Ladders::default())
                });
                let proposed = next.ok_or_else(|| self.words.mistake("no load is proposed"))?.proposal;
                let steps = |words: &mut Words<'_>| words.number("steps");
                let said = match self.words.next("accept, harder or easier")? {
                    "accept" => CoachSaid::Accept,
                    "harder" => CoachSaid::Harder { steps: steps(&mut self.words)? },
                    "easier" => CoachSaid::Easier { steps: steps(&mut self.words)? },
                    other => return Err(self.words.mistake(&format!("`{other}` is nothing to say"))),
                };
                Act::SettleLoad { turn, proposed, said }
            }
            _ => return Ok(None),
        }))
    }

    fn of_people(&mut self, verb: &str) -> Read<Act> {
        Ok(match verb {
            "pass-spotter" => {
                let (group, client) = self.client()?;
                Act::PassSpotter { group, client, exercise: self.exercise()? }
            }
            "away" => Act::Away { coach: self.coach()?, minutes: self.words.number("minutes")? },
            "back" => Act::Back { coach: self.coach()? },
            "hand-over" => {
                let (from, to) = (self.coach()?, self.coach()?);
                let groups = if self.words.is("all") {
                    let of = self.state.groups.iter().filter(|(_, group)| group.coach == from);
                    let going = |id: &GroupId| InHand::of(self.state, *id).is_some();
                    of.map(|(id, _)| *id).filter(going).collect()
                } else {
                    vec![self.group()?]
                };
                Act::HandOver { groups, from, to }
            }
            "accept" => Act::AcceptGroup { group: self.group()?, from: self.coach()? },
            "decline" => Act::DeclineGroup { group: self.group()? },
            "pause" => Act::Pause { group: self.group()? },
            "stop" if self.words.is("floor") => Act::Stop { scope: Scope::Floor },
            "stop" if self.words.is("group") => Act::Stop { scope: Scope::Group { group: self.group()? } },
            "stop" => {
                let (group, client) = self.client()?;
                Act::Stop { scope: Scope::Client { group, client } }
            }
            "resume" if self.words.is("group") => Act::Resume { group: self.group()?, client: None },
            "resume" => {
                let (group, client) = self.client()?;
                Act::Resume { group, client: Some(client) }
            }
            other => return Err(self.words.mistake(&format!("nothing is called `{other}`"))),
        })
    }
}

//! The taps of the simple floor: what each leads to, and the real tap that it stands for.

use turnabout_protocol::command::{Act, CallKind, Defect, Reason, Scope, SkipScope};
use turnabout_protocol::ids::{CallId, TurnId};
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::state::State;

use super::model::{Answer, COACHES, GROUPS, Help, Model, STATIONS, WHO, load, team_of};
use crate::world::*;

/// Something that somebody does. Clients, teams, stations and coaches are places in the model's lists.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Move {
    /// Time goes on, in seconds.
    Pass(i64),
    Arrive(usize),
    Leave(usize),
    Take {
        team: usize,
        bench: usize,
        row: usize,
    },
    Ask(usize),
    Withdraw(usize),
    Free(usize),
    Confirm {
        person: usize,
        set: usize,
    },
    Spot {
        coach: usize,
        person: usize,
        set: usize,
    },
    Go {
        coach: Option<usize>,
        person: usize,
        set: usize,
    },
    NotYet {
        person: usize,
        set: usize,
    },
    Done {
        person: usize,
        set: usize,
    },
    PassTechnique {
        person: usize,
        leg: usize,
    },
    Skip {
        person: usize,
        set: usize,
    },
    Pause(usize),
    Stop(usize),
    Resume(usize),
    OtherUse {
        place: usize,
        minutes: u8,
    },
    OtherUseOver(usize),
    Break(usize),
    Mend(usize),
    Away {
        coach: usize,
        minutes: u8,
    },
    Back(usize),
    Help(usize),
    Answer {
        coach: usize,
        place: usize,
    },
    Attend(usize),
}

fn given(accepted: bool) -> Answer {
    if accepted { Answer::Accepted } else { Answer::Refused }
}

impl Model {
    /// What is answered, and what comes of it.
    pub(crate) fn make(&mut self, step: Move) {
        self.answer = match step {
            Move::Pass(secs) => {
                for _ in 0..secs {
                    self.now += 1;
                    self.settle();
                }
                Answer::Accepted
            }
            Move::Confirm { .. }
            | Move::Spot { .. }
            | Move::Go { .. }
            | Move::NotYet { .. }
            | Move::Done { .. }
            | Move::PassTechnique { .. }
            | Move::Skip { .. } => self.of_sets(step),
            Move::Arrive(_)
            | Move::Leave(_)
            | Move::Take { .. }
            | Move::Ask(_)
            | Move::Withdraw(_)
            | Move::Free(_)
            | Move::Pause(_)
            | Move::Stop(_)
            | Move::Resume(_) => self.of_teams(step),
            Move::OtherUse { .. }
            | Move::OtherUseOver(_)
            | Move::Break(_)
            | Move::Mend(_)
            | Move::Away { .. }
            | Move::Back(_)
            | Move::Help(_)
            | Move::Answer { .. }
            | Move::Attend(_) => self.of_places(step),
        };
        self.settle();
    }

    fn of_teams(&mut self, step: Move) -> Answer {
        match step {
            Move::Arrive(person) if self.people[person].here => Answer::Already,
            Move::Arrive(person) => {
                self.arrives(person);
                Answer::Accepted
            }
            Move::Leave(person) if self.people[person].left => Answer::Already,
            Move::Leave(person) => {
                let idle = self.people[person].lift.is_none();
                if idle {
                    self.people[person].here = false;
                    self.people[person].left = true;
                    self.people[person].at_bar = None;
                }
                given(idle)
            }
            Move::Take { team, bench, row } if self.teams[team].held == Some([bench, row]) => Answer::Already,
            Move::Take { team, bench, row } => {
                let may = self.may_take(team, bench, row);
                if may {
                    self.take(team, bench, row);
                }
                given(may)
            }
            // Whoever has been served asked before.
            Move::Ask(team) if self.line.contains(&team) || self.teams[team].held.is_some() => {
                Answer::Already
            }
            Move::Ask(team) => {
                let may = self.wants(team);
                if may {
                    self.line.push(team);
                }
                given(may)
            }
            Move::Withdraw(team) => {
                let waits = self.line.contains(&team);
                self.line.retain(|other| *other != team);
                given(waits)
            }
            Move::Free(team) => {
                let may = self.teams[team].wipe_since.is_some();
                if may {
                    self.gives_back(team);
                }
                given(may)
            }
            Move::Pause(team) | Move::Stop(team) if self.teams[team].over => Answer::Refused,
            Move::Pause(team) if self.teams[team].halt > 0 => Answer::Already,
            Move::Stop(team) if self.teams[team].halt > 1 => Answer::Already,
            Move::Pause(team) | Move::Stop(team) => {
                self.teams[team].halt = if matches!(step, Move::Stop(_)) { 2 } else { 1 };
                for person in self.members(team) {
                    let counting = self.people[person].lift.as_ref().is_some_and(|l| self.now < l.starts);
                    if counting {
                        self.calls_off(person);
                    }
                }
                Answer::Accepted
            }
            Move::Resume(team) => given(std::mem::take(&mut self.teams[team].halt) > 0),
            _ => unreachable!("not of a team"),
        }
    }

    /// Whether a set is the client's next one, on stations that the team holds.
    fn is_next(&self, person: usize, set: usize) -> bool {
        let team = &self.teams[team_of(person)];
        team.held.is_some() && set == self.next(person) && set < super::model::SETS
    }

    fn of_sets(&mut self, step: Move) -> Answer {
        match step {
            Move::Confirm { person, set } => {
                let Some(place) = self.station(person, set).filter(|_| self.is_next(person, set)) else {
                    return Answer::Refused;
                };
                let at = &self.places[place];
                let unfit = at.on.is_some() || at.broken || at.public_until.is_some();
                if !set.is_multiple_of(2) || unfit {
                    return Answer::Refused;
                }
                let kg = Some(load(person, set));
                let before = std::mem::replace(&mut self.places[place].confirmed, kg);
                if before == kg { Answer::Already } else { Answer::Accepted }
            }
            Move::Spot { coach, person, set } => {
                let there = self.people[person].here;
                if !set.is_multiple_of(2) || !self.is_next(person, set) || !there || !self.may_spot(coach) {
                    return Answer::Refused;
                }
                if self.people[person].at_bar == Some(coach) {
                    return Answer::Already;
                }
                self.steps_away(coach);
                self.people[person].at_bar = Some(coach);
                Answer::Accepted
            }
            Move::Go { coach, person, set } => self.go(coach, person, set),
            Move::NotYet { person, set } => {
                let held = self.teams[team_of(person)].held.is_some();
                let lift = self.people[person].lift.clone().filter(|_| set == self.people[person].sets.len());
                match lift {
                    Some(lift) if held && self.now < lift.starts => {
                        self.calls_off(person);
                        Answer::Accepted
                    }
                    Some(_) => Answer::Refused,
                    None => given(self.is_next(person, set)),
                }
            }
            Move::Done { person, set } => {
                if self.teams[team_of(person)].held.is_none() {
                    return Answer::Refused;
                }
                if set < self.people[person].sets.len() {
                    let done = &self.people[person].sets[set..=set] == "d";
                    return if done { Answer::Already } else { Answer::Refused };
                }
                let lift = self.people[person].lift.clone().filter(|_| set == self.people[person].sets.len());
                let Some(lift) = lift.filter(|lift| self.now >= lift.starts) else { return Answer::Refused };
                let ended = if self.now - lift.ends > 20 { lift.ends } else { self.now };
                self.done(person, ended);
                Answer::Accepted
            }
            Move::PassTechnique { person, leg } => {
                let p = &self.people[person];
                let begun = p.lift.as_ref().is_some_and(|l| self.now >= l.starts) && p.sets.len() == leg;
                if self.teams[team_of(person)].held.is_none()
                    || (p.sets.len() <= leg && !begun && !p.passed[leg])
                {
                    return Answer::Refused;
                }
                let before = std::mem::replace(&mut self.people[person].passed[leg], true);
                if before { Answer::Already } else { Answer::Accepted }
            }
            Move::Skip { person, set } => {
                let may = self.is_next(person, set) && self.people[person].lift.is_none();
                if may {
                    self.people[person].at_bar = None;
                    self.leaves_out(person, 's');
                }
                given(may)
            }
            _ => unreachable!("not of a set"),
        }
    }

    fn go(&mut self, coach: Option<usize>, person: usize, set: usize) -> Answer {
        let p = &self.people[person];
        let team = &self.teams[team_of(person)];
        if team.held.is_some() && p.lift.is_some() && set == p.sets.len() {
            return Answer::Already;
        }
        let Some(place) = self.station(person, set).filter(|_| self.is_next(person, set)) else {
            return Answer::Refused;
        };
        // Only a row that has come to its end is said to be over by going on.
        let lift = p.lift.clone();
        if lift.as_ref().is_some_and(|l| self.now < l.ends || l.spotter.is_some()) {
            return Answer::Refused;
        }
        let press = set.is_multiple_of(2);
        let spotter = p.at_bar.or(coach).filter(|_| press);
        let at = &self.places[place];
        let ready = p.here
            && team.halt == 0
            && !at.broken
            && at.public_until.is_none()
            && at.help.is_none()
            && at.on.is_none()
            && (set < 2 || p.passed[set % 2])
            && (!press || (at.confirmed == Some(load(person, set)) && spotter.is_some()))
            && spotter.is_none_or(|coach| self.may_spot(coach))
            && self.now + if press { 13 } else { 11 } >= self.earliest(person);
        if ready {
            if let Some(lift) = lift {
                self.done(person, lift.ends);
            }
            self.begins(person, spotter);
        }
        given(ready)
    }

    fn of_places(&mut self, step: Move) -> Answer {
        match step {
            Move::OtherUse { place, minutes } => {
                let may = self.places[place].on.is_none() && !self.places[place].broken;
                if may {
                    self.places[place].public_until = Some(self.now + 60 * i64::from(minutes));
                }
                given(may)
            }
            Move::OtherUseOver(place) => {
                let was = self.places[place].public_until.take().is_some();
                if was {
                    self.unconfirm(place);
                }
                given(was)
            }
            Move::Break(place) if self.places[place].broken => Answer::Already,
            Move::Break(place) => {
                self.places[place].broken = true;
                self.unconfirm(place);
                Answer::Accepted
            }
            Move::Mend(place) => {
                let may = self.places[place].broken && self.places[place].on.is_none();
                if may {
                    // Whoever mended it was at the plates.
                    self.places[place].broken = false;
                    self.unconfirm(place);
                }
                given(may)
            }
            Move::Away { coach, minutes } => {
                let may = self.spots(coach).is_none();
                if may {
                    self.away[coach] = Some(self.now + 60 * i64::from(minutes));
                    self.steps_away(coach);
                }
                given(may)
            }
            Move::Back(coach) => given(self.away[coach].take().is_some()),
            Move::Help(place) if self.places[place].help.is_some() => Answer::Already,
            Move::Help(place) => {
                self.places[place].help = Some(Help { answered: None });
                Answer::Accepted
            }
            Move::Answer { coach, place } => {
                let busy = self.spots(coach).is_some();
                match &mut self.places[place].help {
                    None => Answer::Refused,
                    Some(help) if help.answered.is_some() => Answer::Already,
                    Some(_) if busy => Answer::Refused,
                    Some(help) => {
                        help.answered = Some(coach);
                        self.steps_away(coach);
                        Answer::Accepted
                    }
                }
            }
            Move::Attend(place) => given(self.places[place].help.take().is_some()),
            _ => unreachable!("not of a place"),
        }
    }
}

fn turn_of(person: usize, set: usize) -> TurnId {
    let (group, client, _) = WHO[person];
    turn(group, client, u8::try_from(set / 2).unwrap(), u8::from(set % 2 == 1))
}

/// The real tap; nothing where only time goes on.
pub(crate) fn tap(step: Move, state: &State) -> Option<(Speaker, Act)> {
    let revision = |group| state.groups[&group].revision;
    let ayla = coach(AYLA);
    let open = |place: usize| state.calls.iter().find(|(_, call)| call.station == STATIONS[place]);
    let call = |place: usize| open(place).map_or(CallId(9_999), |(id, _)| *id);
    Some(match step {
        Move::Pass(_) => return None,
        Move::Arrive(person) => {
            let (group, client, _) = WHO[person];
            (ayla, Act::Arrive { group, clients: vec![client] })
        }
        Move::Leave(person) => {
            let (group, client, _) = WHO[person];
            (ayla, Act::Leave { group, client })
        }
        Move::Take { team, bench, row } => {
            let (group, stations) = (GROUPS[team], vec![STATIONS[bench], STATIONS[row]]);
            let revision = revision(group);
            (ayla, Act::TakeStations { group, block: 0, stations, revision, despite: None })
        }
        Move::Ask(team) => {
            let group = GROUPS[team];
            (ayla, Act::AskStations { group, block: 0, revision: revision(group) })
        }
        Move::Withdraw(team) => (ayla, Act::WithdrawAsk { group: GROUPS[team] }),
        Move::Free(team) => (ayla, Act::FreeStations { group: GROUPS[team], block: 0, bar: None }),
        Move::Confirm { person, set } => (ayla, Act::ConfirmLoad { turn: turn_of(person, set) }),
        Move::Spot { coach: who, person, set } => {
            (coach(COACHES[who]), Act::Spot { turn: turn_of(person, set), lift_off: false })
        }
        Move::Go { coach: who, person, set } => {
            let speaker = who.map_or_else(|| kiosk(&STATIONS), |who| coach(COACHES[who]));
            (speaker, Act::Go { turn: turn_of(person, set) })
        }
        Move::NotYet { person, set } => (ayla, Act::NotYet { turn: turn_of(person, set) }),
        Move::Done { person, set } => {
            (ayla, Act::Done { turn: turn_of(person, set), reps: None, effort: None, ending: None })
        }
        Move::PassTechnique { person, leg } => (ayla, Act::PassTechnique { turn: turn_of(person, leg) }),
        Move::Skip { person, set } => {
            (ayla, Act::Skip { turn: turn_of(person, set), skip: SkipScope::Set, reason: Reason::Safety })
        }
        Move::Pause(team) => (ayla, Act::Pause { group: GROUPS[team] }),
        Move::Stop(team) => (ayla, Act::Stop { scope: Scope::Group { group: GROUPS[team] } }),
        Move::Resume(team) => (ayla, Act::Resume { group: GROUPS[team], client: None }),
        Move::OtherUse { place, minutes } => (ayla, Act::OtherUse { station: STATIONS[place], minutes }),
        Move::OtherUseOver(place) => (ayla, Act::EndOtherUse { station: STATIONS[place] }),
        Move::Break(place) => (ayla, Act::OutOfService { station: STATIONS[place], defect: Defect::Cable }),
        Move::Mend(place) => (ayla, Act::BackInService { station: STATIONS[place] }),
        Move::Away { coach, minutes } => (ayla, Act::Away { coach: COACHES[coach], minutes }),
        Move::Back(coach) => (ayla, Act::Back { coach: COACHES[coach] }),
        Move::Help(place) => {
            (kiosk(&[STATIONS[place]]), Act::Call { station: STATIONS[place], call: CallKind::HelpNow })
        }
        Move::Answer { coach: who, place } => (coach(COACHES[who]), Act::Answer { call: call(place) }),
        Move::Attend(place) => (ayla, Act::Attend { call: call(place) }),
    })
}

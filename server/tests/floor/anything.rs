//! Any tap there is, made from a few small numbers when it is due: so that most taps name something that is
//! really there, and so that a history that fails shrinks to a short one.

use proptest::prelude::*;
use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{
    Act, BarLeft, CallKind, Defect, Effort, Ending, NoteAbout, Reason, Scope, ScreeningDecision, SkipScope,
};
use turnabout_protocol::ids::{
    CallId, ClientId, CoachId, CommandId, ExerciseId, GroupId, NoteId, StationId, TurnId,
};
use turnabout_protocol::next::{Change, CoachSaid, NextReason, Proposal, Rule, SetTo};
use turnabout_protocol::role::Actor;
use turnabout_protocol::work::Work;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::next_load::{self, Ladders};
use turnabout_server::floor::state::State;

use crate::world::*;

/// A tap to be made.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pick {
    /// Which of the kinds below.
    kind: u8,
    /// Who speaks: a coach or assistant, or now and then the display of a station.
    by: u8,
    /// About whom.
    whose: u8,
    /// Whether it names the set that is under way or comes next, and the group's revision: not anything.
    near: bool,
    a: u8,
    b: u8,
}

const KINDS: u8 = 61;

pub(crate) fn pick() -> impl Strategy<Value = Pick> {
    let near = prop::bool::weighted(0.85);
    (0..KINDS, 0_u8..10, 0_u8..4, near, any::<u8>(), any::<u8>())
        .prop_map(|(kind, by, whose, near, a, b)| Pick { kind, by, whose, near, a, b })
}

const CLIENTS: [(GroupId, ClientId); 4] = [(PAIR, DARA), (PAIR, EDDA), (SINGLE, FARID), (LATER, GRETA)];

impl Pick {
    /// Who speaks.
    pub(crate) fn speaker(self) -> Speaker {
        let assistant = |coach| Speaker { actor: Actor::Assistant { coach }, stations: Vec::new() };
        match self.by {
            0..=2 => coach(AYLA),
            3 | 4 => coach(BRAM),
            5 => coach(CoachId(3)),
            6 => assistant(AYLA),
            7 => kiosk(&[BENCH, ROW]),
            8 => kiosk(&[BENCH_2]),
            _ => kiosk(&[ROW_2]),
        }
    }

    /// What is on a bar, or missing there: mostly what can be.
    fn plates(self) -> Act {
        let station = if self.near { BENCH } else { ROW };
        let plate = PlatePart { mass: kg([20, 10, 5, 3][usize::from(self.b & 3)]), full: self.b & 3 < 2 };
        if self.a & 1 == 0 {
            return Act::PlatesOn { station, side: vec![plate; usize::from(self.b >> 2 & 3)], bar: 0 };
        }
        Act::PlatesMissing { station, plate, count: self.b >> 2 & 7 }
    }

    fn turn(self, state: &State) -> TurnId {
        let (group, client) = self.who();
        let any = TurnId { group, client, block: self.b & 1, round: self.a & 3, leg: self.b >> 1 & 3 };
        let hand = InHand::of(state, group).filter(|_| self.near);
        let near = hand.and_then(|hand| {
            let current = hand.client(client)?.current.map(|u| u.turn).filter(|_| self.a & 1 == 0);
            let last = hand.last_done(client).map(|(turn, _)| turn).filter(|_| self.a & 7 == 1);
            current.or(last).or_else(|| hand.next(client))
        });
        near.unwrap_or(any)
    }

    fn who(self) -> (GroupId, ClientId) {
        CLIENTS[usize::from(self.whose)]
    }

    fn station(self) -> StationId {
        StationId(u16::from(self.a % 4) + 1)
    }

    fn revision(self, state: &State) -> u32 {
        let now = state.groups.get(&self.who().0).map_or(0, |group| group.revision);
        if self.near { now } else { u32::from(self.b % 4) }
    }

    /// The block in hand, or the one after it.
    fn block(self, state: &State) -> u8 {
        state.groups.get(&self.who().0).map_or(0, |group| group.block) + u8::from(self.b & 3 == 3)
    }

    fn reason(self) -> Reason {
        [Reason::ClientAsked, Reason::Safety, Reason::CoachDecides][usize::from(self.b % 3)]
    }

    fn ending(self) -> Option<Ending> {
        let endings = [
            Ending::Complete,
            Ending::Short,
            Ending::Helped { reps: self.b % 4 },
            Ending::Failed,
            Ending::FormBroken,
            Ending::EquipmentFault,
        ];
        endings.get(usize::from(self.a % 8)).copied()
    }

    fn effort(self) -> Effort {
        if self.b & 1 == 0 { Effort::Right } else { Effort::Rir { reps: self.b % 12 } }
    }

    /// What a coach makes of a proposal, or of one that was never made.
    fn settle(self, state: &State, (group, client): (GroupId, ClientId)) -> Act {
        let leg = self.b >> 1 & 1;
        let next = InHand::of(state, group)
            .and_then(|hand| next_load::of_leg(&hand, client, leg, &mut Ladders::default()));
        let any = Proposal {
            set: SetTo::Mass { load: kg(40) },
            work: Work::reps(10),
            change: Change::Harder,
            reason: NextReason::FeltLight,
            rule: Rule::ThreeWords,
        };
        let said = [
            CoachSaid::Accept,
            CoachSaid::Harder { steps: self.a % 12 },
            CoachSaid::Easier { steps: self.a % 12 },
        ][usize::from(self.b >> 2) % 3];
        let (turn, proposed) = next.map_or((self.turn(state), any), |next| (next.turn, next.proposal));
        Act::SettleLoad { turn, proposed, said }
    }

    /// The tap itself.
    pub(crate) fn act(self, state: &State) -> Act {
        let ((group, client), turn) = (self.who(), self.turn(state));
        let (station, revision) = (self.station(), self.revision(state));
        let coach = CoachId(u16::from(self.a % 3) + 1);
        match self.kind {
            0..=20 => self.of_a_set(turn, revision),
            21..=32 => self.of_a_session(state, (group, client)),
            33..=43 => self.of_a_station(state, (group, client), station),
            44 => Act::Away { coach, minutes: self.b % 130 },
            45 => Act::Back { coach },
            46 => {
                let from = state.groups[&group].coach;
                Act::HandOver { groups: vec![group], from, to: coach }
            }
            47 => Act::AcceptGroup { group, from: state.groups[&group].coach },
            48 => Act::DeclineGroup { group },
            49 => Act::Pause { group },
            50 => Act::Stop { scope: Scope::Client { group, client } },
            51 => Act::Stop { scope: if self.a > 200 { Scope::Floor } else { Scope::Group { group } } },
            52 | 53 => Act::Resume { group, client: (self.a & 1 == 0).then_some(client) },
            54 => Act::Call {
                station,
                call: if self.b & 1 == 0 { CallKind::HelpNow } else { CallKind::CoachPlease },
            },
            55 => Act::Answer { call: self.call(state) },
            56 => Act::Attend { call: self.call(state) },
            57 if self.b & 1 == 1 => Act::EraseNote { note: NoteId(state.last_note) },
            57 => Act::Note { note: self.about(turn, station), text: "x".repeat(usize::from(self.a & 1)) },
            58 => Act::SwapStation { group, leg: self.b % 3, to: station, revision },
            59 => self.settle(state, (group, client)),
            _ => Act::SwapExercise {
                group,
                client,
                leg: self.b % 3,
                exercise: ExerciseId(u16::from(self.a % 5) + 1),
                station: (self.b & 4 == 0).then_some(station),
                load: Some(kilos(i64::from(self.b % 8) * 5)),
                sure: false,
                revision: self.revision(state),
            },
        }
    }

    fn of_a_set(self, turn: TurnId, revision: u32) -> Act {
        match self.kind {
            0 => Act::Spot { turn, lift_off: self.b & 1 == 0 },
            1 => Act::SpotBy { turn, client: CLIENTS[usize::from(self.b % 4)].1 },
            2 => Act::UseArms { turn },
            3..=5 => Act::Go { turn },
            6 => Act::NotYet { turn },
            7 => Act::MoreRest { turn, secs: u16::from(self.b) },
            8 => Act::LessRest { turn, secs: u16::from(self.b % 64), reason: self.reason() },
            9 => Act::TreatAsRest { turn },
            10 | 11 => Act::Done { turn, reps: None, effort: Some(self.effort()), ending: None },
            12 => Act::Done { turn, reps: Some(self.b % 102), effort: None, ending: self.ending() },
            13 => Act::Skip { turn, skip: SkipScope::Set, reason: self.reason() },
            14 => {
                let skip = if self.b & 1 == 0 { SkipScope::Exercise } else { SkipScope::Round };
                Act::Skip { turn, skip, reason: self.reason() }
            }
            15 => Act::TechniqueAgain { turn },
            16 => Act::Correct {
                turn,
                reps: self.b % 102,
                load: (self.a & 1 == 0).then(|| kilos(40)),
                effort: None,
                ending: self.ending().unwrap_or(Ending::Complete),
            },
            17 if self.a & 12 == 12 => Act::SetLoad {
                turn,
                load: kilos(i64::from(self.b % 9) * 10),
                sure: self.b & 1 == 0,
                revision,
            },
            17 if self.a & 4 != 0 => Act::Lighter { turn, revision },
            17 if self.a & 8 != 0 => self.plates(),
            17 => Act::Effort { turn, effort: self.effort() },
            18 => Act::Reps { turn, reps: self.b % 102 },
            19 => Act::PassTechnique { turn: TurnId { round: 0, ..turn } },
            _ => Act::ConfirmLoad { turn },
        }
    }

    fn of_a_session(self, state: &State, (group, client): (GroupId, ClientId)) -> Act {
        let (block, revision) = (self.block(state), self.revision(state));
        match self.kind {
            21 | 22 => Act::Arrive { group, clients: vec![client] },
            23 => Act::WarmedUp { group, client },
            24 => Act::Brief { group, clients: vec![client], skipped: self.b & 1 == 0 },
            25 => {
                use ScreeningDecision::{NotToday, Refer, Train};
                let decision = [Train, Train, Refer, NotToday][usize::from(self.b % 4)];
                Act::Screen { group, client, decision }
            }
            26 => Act::Leave { group, client },
            27 => Act::MakeUp { group, client, rounds: self.b % 3, revision },
            28 => Act::SetRounds { group, block, rounds: self.a % 5, revision },
            29 => Act::DropBlock { group, block: 1, revision },
            30 if self.b > 200 => Act::EndSession { group, reason: self.reason() },
            30 => Act::Undo { command: CommandId(uuid(self.b)) },
            31 => Act::StillHere { group },
            _ => Act::PassSpotter { group, client, exercise: ExerciseId(u16::from(self.b & 2) + 1) },
        }
    }

    fn of_a_station(self, state: &State, (group, client): (GroupId, ClientId), station: StationId) -> Act {
        let (block, revision) = (self.block(state), self.revision(state));
        match self.kind {
            33..=35 => {
                let bench = if self.a & 1 == 0 { BENCH } else { BENCH_2 };
                let row = if self.a & 2 == 0 { ROW } else { ROW_2 };
                let mut stations = vec![bench, row];
                stations.extend((block == 1).then_some(row));
                let despite = (self.a > 200).then_some(self.reason());
                Act::TakeStations { group, block, stations, revision, despite }
            }
            36 => Act::AskStations { group, block, revision },
            37 => Act::WithdrawAsk { group },
            38 => Act::GiveLeave { station, group },
            39 => Act::OtherUse { station, minutes: self.b % 20 },
            40 => Act::EndOtherUse { station },
            41 if self.b > 128 => Act::OutOfService { station, defect: Defect::Cable },
            41 => Act::BackInService { station },
            42 => Act::SetSetting { station, client, setting: self.b & 1, value: self.b >> 1 & 3 },
            _ => {
                let bar = [None, Some(BarLeft::Stripped), Some(BarLeft::AsItIs)][usize::from(self.b % 3)];
                Act::FreeStations { group, block, bar }
            }
        }
    }

    fn call(self, state: &State) -> CallId {
        let open = state.calls.keys().nth(usize::from(self.a % 4)).copied();
        open.unwrap_or(CallId(u32::from(self.b)))
    }

    fn about(self, turn: TurnId, station: StationId) -> NoteAbout {
        let TurnId { group, client, .. } = turn;
        match self.b % 5 {
            0 => NoteAbout::Incident { station, call: None },
            1 => NoteAbout::Group { group },
            2 => NoteAbout::Client { group, client },
            3 => NoteAbout::Set { turn },
            _ => NoteAbout::Station { station },
        }
    }
}

fn uuid(n: u8) -> uuid::Uuid {
    uuid::Uuid::from_u128(u128::from(n))
}

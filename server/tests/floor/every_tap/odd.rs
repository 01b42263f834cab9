//! Taps that name what is not there or cannot be, and rules of a floor that the phases do not meet.

use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{Act, CallKind, Effort, NoteAbout, Reason, ScreeningDecision};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, ExerciseId, GroupId, NoteId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::CoachSaid;
use turnabout_server::floor::config::{KeptForMembers, Shift};
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::hours::{Hours, Window};
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::local_time::{Minute, Weekday};
use turnabout_server::floor::next_load::{self, Ladders};
use turnabout_server::training::rule::LoadRule;

use super::taps::Named;
use crate::pins::with_pins;
use crate::shared_pairs::wants_what_is_out;
use crate::world::*;

/// One such tap.
pub(super) struct Odd {
    pub what: &'static str,
    pub world: World,
    pub speaker: Speaker,
    pub named: Named,
}

fn odd(what: &'static str, world: World, speaker: Speaker, name: &'static str, act: Act) -> Odd {
    Odd { what, world, speaker, named: Named { name, act } }
}

fn take(group: GroupId, stations: &[StationId], revision: u32) -> Act {
    Act::TakeStations { group, block: 0, stations: stations.to_vec(), revision, despite: None }
}

/// Plates of this mass turn up at the bench.
fn back(mass: i64) -> Act {
    let plate = PlatePart { mass: kg(mass), full: false };
    Act::PlatesMissing { station: BENCH, plate, count: 0 }
}

/// Another bar of the bench, which has one.
fn bar(bar: u8) -> Act {
    Act::PlatesOn { station: BENCH, side: Vec::new(), bar }
}

/// All of them.
pub(super) fn odd_taps() -> Vec<Odd> {
    let all = [unknown(), out_of_range(), loads(), by_rule(), by_others(), shared()];
    all.into_iter().flatten().collect()
}

fn unknown() -> Vec<Odd> {
    let on = World::with_pair_on;
    let by = || coach(AYLA);
    let nobody = ClientId(1);
    let far = turn(PAIR, DARA, 9, 0);
    let exercise = |exercise| Act::PassSpotter { group: PAIR, client: DARA, exercise };
    vec![
        odd("no such group", on(), by(), "pause", Act::Pause { group: GroupId(9) }),
        odd("no such client", on(), by(), "leave", Act::Leave { group: PAIR, client: nobody }),
        odd("no such set", on(), by(), "go", Act::Go { turn: far }),
        odd("no such station", on(), by(), "back_in_service", Act::BackInService { station: StationId(9) }),
        odd("no such call", on(), by(), "answer", Act::Answer { call: CallId(9) }),
        odd("no such coach", on(), by(), "away", Act::Away { coach: CoachId(9), minutes: 5 }),
        odd("no such exercise", on(), by(), "pass_spotter", exercise(ExerciseId(9))),
        odd("nothing to spot", on(), by(), "pass_spotter", exercise(ExerciseId(2))),
        odd(
            "no such setting",
            on(),
            by(),
            "set_setting",
            Act::SetSetting { station: ROW, client: DARA, setting: 9, value: 0 },
        ),
        odd(
            "another station's display",
            on(),
            kiosk(&[ROW]),
            "not_yet",
            Act::NotYet { turn: turn(PAIR, DARA, 0, 0) },
        ),
        odd("a display taps what a coach does", on(), kiosk(&[ROW]), "pause", Act::Pause { group: PAIR }),
        odd("an earlier revision", World::new(), by(), "take_stations", take(PAIR, &[BENCH, ROW], 7)),
        odd("one station for two exercises", World::new(), by(), "take_stations", take(PAIR, &[BENCH], 0)),
        odd("a row for a press", World::new(), by(), "take_stations", take(PAIR, &[ROW_2, ROW], 0)),
        odd("another's station", on(), by(), "take_stations", take(LATER, &[BENCH, ROW_2], 0)),
        odd("nobody there", World::empty(), by(), "take_stations", take(PAIR, &[BENCH, ROW], 0)),
        odd("another movement", on(), by(), "swap_exercise", swap(ExerciseId(2), Some(60))),
    ]
}

fn swap(exercise: ExerciseId, load: Option<i64>) -> Act {
    let load = load.map(kilos);
    Act::SwapExercise {
        group: PAIR,
        client: DARA,
        leg: 0,
        exercise,
        station: None,
        load,
        sure: false,
        revision: 1,
    }
}

fn out_of_range() -> Vec<Odd> {
    let on = World::with_pair_on;
    let by = || coach(AYLA);
    let press = turn(PAIR, DARA, 0, 0);
    let lifting = || {
        let mut world = on();
        world.begin(AYLA, press);
        world.pass(20);
        world
    };
    let done = |reps, effort| Act::Done { turn: press, reps, effort, ending: None };
    let rir = Some(Effort::Rir { reps: 11 });
    let note = |text: String| Act::Note { note: NoteAbout::Group { group: PAIR }, text };
    let noted = || {
        let mut world = on();
        world.accept(&by(), note("Her left knee.".to_owned()));
        world
    };
    let erase = || Act::EraseNote { note: NoteId(1) };
    let mut erased = noted();
    erased.accept(&by(), erase());
    let mut rounds = on();
    let lightest = TurnId { round: 1, leg: 0, ..press };
    vec![
        odd("so many repetitions", lifting(), by(), "done", done(Some(101), None)),
        odd("so much effort", lifting(), by(), "done", done(None, rir)),
        odd("so many minutes", on(), by(), "other_use", Act::OtherUse { station: BENCH, minutes: 121 }),
        odd("so many seconds", on(), by(), "more_rest", Act::MoreRest { turn: press, secs: 4 }),
        odd(
            "so many rounds",
            on(),
            by(),
            "set_rounds",
            Act::SetRounds { group: PAIR, block: 0, rounds: 21, revision: 1 },
        ),
        odd("an empty note", on(), by(), "note", note(" ".to_owned())),
        odd("a long note", on(), by(), "note", note("x".repeat(501))),
        odd("a note that is there", noted(), by(), "erase_note", erase()),
        odd("a note that is erased", erased, by(), "erase_note", erase()),
        odd("another coach's note", noted(), coach(BRAM), "erase_note", erase()),
        odd("plates that are all there", on(), by(), "plates_missing", back(5)),
        odd("plates of another kind", on(), by(), "plates_missing", back(15)),
        odd("a bar that is not there", on(), by(), "plates_on", bar(1)),
        odd("nothing lighter", on(), by(), "lighter", Act::Lighter { turn: press, revision: 1 }),
        odd("the set after the next", on(), by(), "lighter", Act::Lighter { turn: lightest, revision: 1 }),
        {
            rounds.sets(AYLA, PAIR, DARA, &[(0, 0)]);
            let press = Act::Spot { turn: turn(PAIR, DARA, 0, 1), lift_off: false };
            odd("a row", rounds, by(), "spot", press)
        },
        odd("no plates for it", with_other(), by(), "swap_exercise", swap(ExerciseId(3), Some(57))),
        odd(
            "nothing to set",
            plain(),
            by(),
            "lighter",
            Act::Lighter { turn: turn(PAIR, DARA, 0, 0), revision: 1 },
        ),
        odd(
            "a light set before its turn",
            on(),
            by(),
            "technique_again",
            Act::TechniqueAgain { turn: lightest },
        ),
    ]
}

/// The press has another of its movement.
fn with_other() -> World {
    let mut world = World::other_with_all(|floor, _| {
        let press = floor.exercises.get_mut(&ExerciseId(1)).unwrap();
        press.movement = turnabout_server::training::movement::Movement::HorizontalPress;
        let mut other = press.clone();
        other.id = ExerciseId(3);
        floor.exercises.insert(other.id, other);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world
}

/// The pair's first exercise has no load to set.
fn plain() -> World {
    let mut world = World::other_with_all(|_, programme| {
        let leg = &mut programme.groups.get_mut(&PAIR).unwrap().blocks[0].legs[0];
        leg.sets.values_mut().for_each(|set| set.rounds[0].load = None);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world
}

/// A press that felt light, and what a coach may say of the next.
fn loads() -> Vec<Odd> {
    let by = || coach(AYLA);
    let press = turn(PAIR, DARA, 2, 0);
    let mut world = super::phases::rest();
    world.accept(&by(), Act::Effort { turn: turn(PAIR, DARA, 1, 0), effort: Effort::Light });
    let hand = InHand::of(&world.state, PAIR).unwrap();
    let next = next_load::of_leg(&hand, DARA, 0, &mut Ladders::default()).unwrap();
    let revision = hand.group.revision;
    let said = |said| Act::SettleLoad { turn: press, proposed: next.proposal, said };
    let seventh = Act::SetLoad { turn: press, load: Load::Pin { pin: 7 }, sure: true, revision };
    let mut numbers = with_pins(LoadRule::FindIt);
    numbers.sets(AYLA, PAIR, DARA, &[(0, 0)]);
    let row = turn(PAIR, DARA, 0, 1);
    let mass = Act::SetLoad { turn: row, load: kilos(40), sure: true, revision: numbers.revision(PAIR) };
    let typed = |sure| Act::SetLoad { turn: press, load: kilos(90), sure, revision };
    vec![
        odd("a proposal", world.clone(), by(), "settle_load", said(CoachSaid::Accept)),
        odd("no step at all", world.clone(), by(), "settle_load", said(CoachSaid::Harder { steps: 0 })),
        odd("far above the last load", world.clone(), by(), "set_load", typed(false)),
        odd("far above, and meant", world.clone(), by(), "set_load", typed(true)),
        odd("a pin of numbers on a bar", world, by(), "set_load", seventh),
        odd("a mass on a stack of numbers", numbers, by(), "set_load", mass),
    ]
}

fn by_rule() -> Vec<Odd> {
    let by = || coach(AYLA);
    let all_day = || {
        let window = Window::new(Minute::START, Minute::END).unwrap();
        Hours::new([(Weekday::Thursday, vec![window])].into())
    };
    let rule = KeptForMembers { stations: [BENCH, BENCH_2].into(), keep: 2, hours: all_day() };
    let members = World::other_with_all(|floor, _| floor.policy.members = vec![rule]);
    let window = Window::new(Minute::new(60).unwrap(), Minute::END).unwrap();
    let later = Hours::new([(Weekday::Thursday, vec![window])].into());
    let closed = World::other_with_all(|floor, _| floor.hours = later);
    let stations = World::other_with_all(|floor, _| floor.policy.stations_a_coach = Some(1));
    let clients = World::other_with_all(|floor, _| floor.policy.clients_a_coach = Some(1));
    let handles = World::other_with_all(|floor, _| {
        floor.handles.insert(key("v-bar"), 0);
        floor.exercises.get_mut(&ExerciseId(2)).unwrap().handle = Some(key("v-bar"));
    });
    let mut off = World::other_with_all(|floor, _| {
        let at = |minute| Minute::new(minute).unwrap();
        floor.coaches.get_mut(&BRAM).unwrap().shift = Some(Shift { from: at(60), to: at(120) });
    });
    off.accept(&by(), Act::HandOver { groups: vec![PAIR], from: AYLA, to: BRAM });
    let pair = take(PAIR, &[BENCH, ROW], 0);
    vec![
        odd("kept for members", members, by(), "take_stations", pair.clone()),
        odd("closed", closed, by(), "take_stations", pair.clone()),
        odd("more stations than a coach may have", stations, by(), "take_stations", pair.clone()),
        odd("more clients than a coach may have", clients, by(), "take_stations", pair.clone()),
        odd("no handle left", handles, by(), "take_stations", pair),
        odd("off shift", off, coach(BRAM), "accept_group", Act::AcceptGroup { group: PAIR, from: AYLA }),
        odd("no arms", arms_unset(), by(), "use_arms", Act::UseArms { turn: turn(PAIR, DARA, 0, 0) }),
        odd(
            "screening in order",
            World::new(),
            by(),
            "screen",
            Act::Screen { group: PAIR, client: DARA, decision: ScreeningDecision::Refer },
        ),
    ]
}

fn arms_unset() -> World {
    World::with_pair_on()
}

fn by_others() -> Vec<Odd> {
    let by = || coach(AYLA);
    let press = turn(PAIR, DARA, 0, 0);
    let mut both = World::with_pair_on();
    both.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    both.begin(AYLA, press);
    let spot = Act::Spot { turn: turn(SINGLE, FARID, 0, 0), lift_off: false };
    let go = Act::Go { turn: turn(PAIR, EDDA, 0, 0) };
    let offered = {
        let mut world = both.clone();
        world.accept(&by(), Act::HandOver { groups: vec![PAIR], from: AYLA, to: BRAM });
        world
    };
    let accept = Act::AcceptGroup { group: PAIR, from: AYLA };
    let mut line = World::with_pair_on();
    line.accept(&by(), Act::OtherUse { station: ROW_2, minutes: 60 });
    line.accept(&coach(BRAM), Act::AskStations { group: SINGLE, block: 0, revision: 0 });
    let swap = Act::SwapStation { group: PAIR, leg: 0, to: BENCH_2, revision: 1 };
    let mut shared = World::other_with_all(|floor, _| {
        floor.stations.get_mut(&BENCH).unwrap().sharing = turnabout_server::floor::config::Sharing::Ask;
    });
    shared.claim(AYLA, PAIR, &[BENCH, ROW]);
    let mut passed = World::with_pair_on();
    passed.accept(&by(), Act::PassSpotter { group: PAIR, client: EDDA, exercise: ExerciseId(1) });
    passed.begin(AYLA, press);
    let by_lifter = Act::SpotBy { turn: turn(PAIR, EDDA, 0, 0), client: DARA };
    passed.accept(&by(), Act::PassSpotter { group: PAIR, client: DARA, exercise: ExerciseId(1) });
    let calls = Act::Call { station: ROW_2, call: CallKind::HelpNow };
    let mut twice = World::other(|_, programme| {
        programme.groups.insert(SINGLE, programme.groups[&PAIR].clone());
    });
    twice.accept(&by(), Act::Arrive { group: PAIR, clients: vec![DARA] });
    let come = Act::Arrive { group: SINGLE, clients: vec![DARA] };
    let end = Act::EndSession { group: PAIR, reason: Reason::Safety };
    vec![
        odd("spots another bar", both.clone(), by(), "spot", spot),
        odd("another lifts there", both.clone(), by(), "go", go),
        odd("a set under way", both.clone(), by(), "end_session", end),
        odd("a spotted set under way", offered.clone(), coach(BRAM), "accept_group", accept.clone()),
        odd("the other has to agree", offered, by(), "accept_group", accept),
        odd(
            "another coach's",
            both.clone(),
            by(),
            "hand_over",
            Act::HandOver { groups: vec![SINGLE], from: AYLA, to: BRAM },
        ),
        odd("others wait for it", line, by(), "swap_station", swap),
        odd(
            "not shared",
            World::with_pair_on(),
            by(),
            "give_leave",
            Act::GiveLeave { station: ROW, group: SINGLE },
        ),
        odd(
            "the holder is not asked",
            shared,
            coach(BRAM),
            "take_stations",
            take(SINGLE, &[BENCH, ROW_2], 0),
        ),
        odd("trains with another group", twice, by(), "arrive", come),
        odd("a client who lifts", passed, by(), "spot_by", by_lifter),
        odd("another station's display", both, kiosk(&[BENCH]), "call help", calls),
    ]
}

fn shared() -> Vec<Odd> {
    let (world, go) = wants_what_is_out();
    vec![odd("a pair that is out", world, coach(BRAM), "go", go)]
}

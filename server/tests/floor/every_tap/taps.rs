//! Every tap, aimed at one client of a group as an attentive display would aim it.

use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{
    Act, BarLeft, CallKind, Defect, Effort, Ending, NoteAbout, Reason, Scope, ScreeningDecision, SkipScope,
};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, ExerciseId, GroupId, NoteId, StationId, TurnId};
use turnabout_protocol::next::{Change, CoachSaid, NextReason, Proposal, Rule, SetTo};
use turnabout_protocol::units::Mass;
use turnabout_protocol::work::Work;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::next_load::{self, Ladders};

use crate::world::*;

/// A tap with its name in the table.
pub(super) struct Named {
    pub name: &'static str,
    pub act: Act,
}

pub(super) fn tag(act: &Act) -> String {
    serde_json::to_value(act).unwrap()["do"].as_str().unwrap().to_owned()
}

/// Whom taps are about.
#[derive(Clone, Copy, Debug)]
pub(super) struct Who {
    pub group: GroupId,
    pub client: ClientId,
    /// Another of the group, who spots; or the client again where there is no other.
    pub mate: ClientId,
}

/// Dara, whose group is the pair.
pub(super) const WATCHED: Who = Who { group: PAIR, client: DARA, mate: EDDA };

/// What taps are aimed at.
#[derive(Clone, Copy)]
struct Aim {
    who: Who,
    /// Her coach, and another.
    coaches: (CoachId, CoachId),
    /// The client's set under way, or the one that comes next, or her first.
    turn: TurnId,
    /// Her last set that is over, done or not, or her first.
    last: TurnId,
    /// The one after that under way, or the one that comes next.
    next: TurnId,
    /// What is proposed for her next press, and for which set; or what nobody proposed.
    proposed: (TurnId, Proposal),
    /// Where the first is done, or would be.
    station: StationId,
    block: u8,
    revision: u32,
}

fn aim(world: &World, who: Who) -> Aim {
    let Who { group: id, client, .. } = who;
    let group = &world.state.groups[&id];
    let first = TurnId { group: id, client, block: group.block, round: 0, leg: 0 };
    let current = group.clients[&client].current.map(|u| u.turn);
    let turn = current.or_else(|| world.next(id, client)).unwrap_or(first);
    let hand = InHand::of(&world.state, id);
    let over = group.clients[&client].sets.len().checked_sub(1);
    let last = over.and_then(|place| hand?.turn(client, place)).unwrap_or(first);
    let next = world.next(id, client).unwrap_or(turn);
    let station = hand.and_then(|hand| hand.station(turn)).unwrap_or(BENCH);
    let proposed = hand.and_then(|hand| next_load::of_leg(&hand, client, 0, &mut Ladders::default()));
    let proposed = proposed.map_or((next, made_up()), |next| (next.turn, next.proposal));
    let coaches = if group.coach == AYLA { (AYLA, BRAM) } else { (group.coach, AYLA) };
    Aim { who, coaches, turn, last, next, proposed, station, block: group.block, revision: group.revision }
}

/// A load that nobody proposed.
fn made_up() -> Proposal {
    let set = SetTo::Mass { load: kg(40) };
    let (change, reason) = (Change::Harder, NextReason::FeltLight);
    Proposal { set, work: Work::reps(10), change, reason, rule: Rule::ThreeWords }
}

/// Everything, by the group's coach; what only another coach can agree to, by that one.
pub(super) fn by_the_coach(world: &World, who: Who) -> Vec<(Speaker, Named)> {
    let aim = aim(world, who);
    let all = [stations(world, aim), session(aim), spotting(aim), people(aim), sets(aim), whole(world, aim)];
    let speaker = |named: &Named| match named.name {
        "accept_group" => coach(aim.coaches.1),
        _ => coach(aim.coaches.0),
    };
    all.into_iter().flatten().map(|named| (speaker(&named), named)).collect()
}

/// The same taps at the station, where a client may do them: of the others the coach's page speaks.
pub(super) fn at_the_station(world: &World, who: Who) -> Vec<(Speaker, Named)> {
    let here = kiosk(&[aim(world, who).station]);
    let may = |named: &Named| turnabout_server::floor::roles::may(here.actor, &named.act);
    by_the_coach(world, who)
        .into_iter()
        .map(|(_, named)| named)
        .filter(may)
        .map(|named| (here.clone(), named))
        .collect()
}

fn named(name: &'static str, act: Act) -> Named {
    Named { name, act }
}

/// A plate that every bench has.
const FIVE: PlatePart = PlatePart { mass: Mass::from_grams(5_000), full: false };

fn stations(world: &World, aim: Aim) -> Vec<Named> {
    let Aim { who: Who { group, client, .. }, turn, station, block, revision, .. } = aim;
    let held = world.state.groups[&group].claim.is_some();
    let wanted = block + u8::from(held);
    let to = if turn.leg == 0 { BENCH_2 } else { ROW_2 };
    let take =
        Act::TakeStations { group, block: wanted, stations: vec![BENCH, ROW], revision, despite: None };
    vec![
        named("take_stations", take),
        named("ask_stations", Act::AskStations { group, block: wanted, revision }),
        named("withdraw_ask", Act::WithdrawAsk { group }),
        named("give_leave", Act::GiveLeave { station: BENCH, group: LATER }),
        named("swap_station", Act::SwapStation { group, leg: turn.leg, to, revision }),
        named("other_use", Act::OtherUse { station, minutes: 5 }),
        named("end_other_use", Act::EndOtherUse { station }),
        named("out_of_service", Act::OutOfService { station, defect: Defect::Bench }),
        named("back_in_service", Act::BackInService { station }),
        named("plates_on", Act::PlatesOn { station, side: vec![FIVE], bar: 0 }),
        named("plates_missing", Act::PlatesMissing { station, plate: FIVE, count: 1 }),
        named("set_setting", Act::SetSetting { station, client, setting: 0, value: 1 }),
        named("free_stations", Act::FreeStations { group, block, bar: Some(BarLeft::Stripped) }),
        named("free_stations ahead", Act::FreeStations { group, block: block.saturating_add(1), bar: None }),
    ]
}

fn session(aim: Aim) -> Vec<Named> {
    let Aim { who: Who { group, client, .. }, block, revision, .. } = aim;
    let clients = vec![client];
    vec![
        named("arrive", Act::Arrive { group, clients: clients.clone() }),
        named("warmed_up", Act::WarmedUp { group, client }),
        named("brief", Act::Brief { group, clients, skipped: false }),
        named("screen train", Act::Screen { group, client, decision: ScreeningDecision::Train }),
        named("screen not_today", Act::Screen { group, client, decision: ScreeningDecision::NotToday }),
        named("leave", Act::Leave { group, client }),
        named("make_up", Act::MakeUp { group, client, rounds: 1, revision }),
        named("set_rounds", Act::SetRounds { group, block, rounds: 3, revision }),
        named("drop_block", Act::DropBlock { group, block: 1, revision }),
        named("end_session", Act::EndSession { group, reason: Reason::ClientAsked }),
        named("still_here", Act::StillHere { group }),
    ]
}

fn spotting(aim: Aim) -> Vec<Named> {
    let Aim { who: Who { group, client, mate }, turn, .. } = aim;
    vec![
        named("spot", Act::Spot { turn, lift_off: false }),
        named("spot lift_off", Act::Spot { turn, lift_off: true }),
        named("spot_by", Act::SpotBy { turn, client: mate }),
        named("use_arms", Act::UseArms { turn }),
        named("pass_spotter", Act::PassSpotter { group, client, exercise: ExerciseId(1) }),
    ]
}

fn people(aim: Aim) -> Vec<Named> {
    let Aim { who: Who { group, .. }, coaches: (coach, other), .. } = aim;
    vec![
        named("away", Act::Away { coach, minutes: 5 }),
        named("back", Act::Back { coach }),
        named("hand_over", Act::HandOver { groups: vec![group], from: coach, to: other }),
        named("accept_group", Act::AcceptGroup { group, from: coach }),
        named("decline_group", Act::DeclineGroup { group }),
    ]
}

fn sets(aim: Aim) -> Vec<Named> {
    let Aim { who: Who { group, client, .. }, turn, last, next, proposed, revision, .. } = aim;
    let settle = |what| Act::SettleLoad { turn: proposed.0, proposed: what, said: CoachSaid::Accept };
    let reason = Reason::ClientAsked;
    let working = TurnId { round: turn.round.max(1), ..turn };
    let light = TurnId { round: 0, ..turn };
    let skip = |skip| Act::Skip { turn, skip, reason };
    let swap = Act::SwapExercise {
        group,
        client,
        leg: 0,
        exercise: ExerciseId(3),
        station: None,
        load: Some(kilos(50)),
        sure: false,
        revision,
    };
    let correct =
        Act::Correct { turn: last, reps: 2, load: Some(kilos(20)), effort: None, ending: Ending::Short };
    vec![
        named("confirm_load", Act::ConfirmLoad { turn }),
        named("go", Act::Go { turn }),
        named("go next", Act::Go { turn: next }),
        named("not_yet", Act::NotYet { turn }),
        named("more_rest", Act::MoreRest { turn, secs: 30 }),
        named("less_rest", Act::LessRest { turn, secs: 30, reason }),
        named("treat_as_rest", Act::TreatAsRest { turn }),
        named("lighter", Act::Lighter { turn, revision }),
        named("set_load", Act::SetLoad { turn, load: kilos(40), sure: true, revision }),
        named("settle_load", settle(proposed.1)),
        named("settle_load no more", settle(made_up())),
        named("done", Act::Done { turn, reps: None, effort: None, ending: None }),
        named("done last", Act::Done { turn: last, reps: None, effort: None, ending: None }),
        named("effort", Act::Effort { turn: last, effort: Effort::Light }),
        named("reps", Act::Reps { turn: last, reps: 2 }),
        named("correct", correct),
        named("pass_technique", Act::PassTechnique { turn: light }),
        named("technique_again", Act::TechniqueAgain { turn: working }),
        named("skip set", skip(SkipScope::Set)),
        named("skip round", skip(SkipScope::Round)),
        named("skip exercise", skip(SkipScope::Exercise)),
        named("swap_exercise", swap),
    ]
}

fn whole(world: &World, aim: Aim) -> Vec<Named> {
    let Aim { who: Who { group, client, .. }, station, .. } = aim;
    let call = world.state.calls.keys().next().copied().unwrap_or(CallId(1));
    let undo = serde_json::json!({ "do": "undo", "command": "00000000-0000-0000-0000-000000000000" });
    vec![
        named("pause", Act::Pause { group }),
        named("stop client", Act::Stop { scope: Scope::Client { group, client } }),
        named("stop group", Act::Stop { scope: Scope::Group { group } }),
        named("stop floor", Act::Stop { scope: Scope::Floor }),
        named("resume", Act::Resume { group, client: None }),
        named("resume client", Act::Resume { group, client: Some(DARA) }),
        named("call please", Act::Call { station, call: CallKind::CoachPlease }),
        named("call help", Act::Call { station, call: CallKind::HelpNow }),
        named("answer", Act::Answer { call }),
        named("attend", Act::Attend { call }),
        named("note", Act::Note { note: NoteAbout::Group { group }, text: "Her left knee.".to_owned() }),
        named("erase note", Act::EraseNote { note: NoteId(1) }),
        named("undo", serde_json::from_value(undo).unwrap()),
    ]
}

//! Scenes of loads that are proposed for the coming set, and of light sets before the first.

use turnabout_protocol::next::{Change, CoachSaid, NextReason, PerMille, Proposal, Rule, SetTo};

use super::*;

/// What is proposed for Ayla's coming bench press, 60 kg and ten repetitions so far, as stations are told it.
pub(crate) fn proposed(load: &str, change: Change, reason: NextReason) -> ProposalPart {
    let work = Work::reps(if change == Change::MoreReps { 11 } else { 10 });
    let set = SetTo::Mass { load: stamped(load) };
    let step = stamped("2.5 kg");
    let reason = reason.in_public();
    ProposalPart {
        turn: turn_id(1, 2, 0),
        exercise: press(),
        unit: MassUnit::Kg,
        proposal: Proposal { set, work, change, reason, rule: Rule::ThreeWords },
        load: Some(stamped("60 kg").into()),
        work: Work::reps(10),
        easier: Some((stamped(load) - step).into()),
        harder: Some((stamped(load) + step).into()),
        said: None,
    }
}

/// The same once the coach has spoken and this load and work hold.
pub(crate) fn said(part: ProposalPart, said: CoachSaid, load: &str) -> ProposalPart {
    ProposalPart { said: Some(said), load: Some(stamped(load).into()), work: part.proposal.work, ..part }
}

/// The bench with its load on and a proposal for the coming set.
pub(crate) fn bench_with(part: ProposalPart) -> StationPart {
    let mut station = bench_1(coming(rest(57), 57, 57, &[]));
    let turn = station.turn.as_mut().unwrap();
    let load = part.load.unwrap().mass().unwrap();
    let plates = if load == stamped("60 kg") { "20" } else { "20 1.25" };
    turn.load = Some(with_plates(
        &card(&format!("{} kg", load.in_unit(MassUnit::Kg)), Some("60 kg"), true),
        plates,
        "",
        "",
    ));
    turn.proposal = Some(part);
    station
}

/// The longest that can be said of a step that is too big.
pub(crate) fn too_big() -> ProposalPart {
    let reason = NextReason::StepTooBig { above: stamped("62.5 kg"), share: PerMille(25) };
    proposed("60 kg", Change::MoreReps, reason)
}

/// Every reason there is, the numbers as long as they come.
pub(crate) fn reasons() -> Vec<NextReason> {
    let (share, load) = (PerMille(825), stamped("122.5 kg"));
    vec![
        NextReason::AsPlanned,
        NextReason::ShareOfMax { share },
        NextReason::ForReserve { reps: 10, wanted: 3 },
        NextReason::AsLastTime,
        NextReason::NeverHere,
        NextReason::LongAway { days: 120 },
        NextReason::OverTheGoal { reps: 2 },
        NextReason::AsItShould,
        NextReason::NoAnswer,
        NextReason::FeltLight,
        NextReason::FeltHeavy,
        NextReason::MoreInReserve { reps: 4, wanted: 2 },
        NextReason::LessInReserve { reps: 0, wanted: 2 },
        NextReason::TooFewReps { least: 10 },
        NextReason::NotMade,
        NextReason::Helped { reps: 10 },
        NextReason::FormBroke,
        NextReason::GearFailed,
        NextReason::StepTooBig { above: load, share },
        NextReason::NothingHarder,
        NextReason::NothingEasier,
        NextReason::NearMax,
        NextReason::NotOnGear { load: load.into() },
        NextReason::ForCoach,
    ]
}

/// Missing plates of some kinds at a station.
pub(crate) fn lacking(part: StationPart, kinds: &[(&str, u8, u8, u8)]) -> StationPart {
    StationPart { plates: Some(rack(kinds)), ..part }
}

fn with_settings(part: StationPart) -> StationPart {
    let mut part = part;
    let name = "safety arms".into();
    part.turn.as_mut().unwrap().settings =
        vec![SettingPart { setting: 1, name, value: "7".into(), change: true }];
    part
}

/// Every scene of them.
pub(crate) fn proposals() -> Vec<Sample> {
    let light = || proposed("62.5 kg", Change::Harder, NextReason::FeltLight);
    let taken = || said(light(), CoachSaid::Accept, "62.5 kg");
    let first = |reason| {
        let mut part = bench_with(proposed("60 kg", Change::First, reason));
        let turn = part.turn.as_mut().unwrap();
        turn.set = SetName::Working { n: 1, of: 3 };
        turn.phase = coming(After::Nothing, -5, -5, &[]);
        part
    };
    let ramp = {
        let mut part = bench_1(coming(rest(20), 20, 20, &[Need::ConfirmLoad]));
        let turn = part.turn.as_mut().unwrap();
        turn.set = SetName::Ramp;
        turn.work = Work::reps(4);
        turn.load =
            Some(with_plates(&card("47.5 kg", Some("25 kg"), false), "10 2.5 1.25", "2.5", "10 2.5 1.25"));
        part
    };
    let one_pair = [("20", 4, 0, 1), ("2.5", 2, 2, 0), ("1.25", 4, 0, 0)];
    let many = [("20", 4, 2, 1), ("10", 4, 2, 0), ("5", 4, 4, 0), ("2.5", 2, 2, 0)];
    let one = |name, part: StationPart| Sample::new(name, view(vec![part]));
    let two =
        |name, part: StationPart| Sample::new(name, view(vec![part, row_1(coming(rest(90), 90, 90, &[]))]));
    vec![
        one("proposal", bench_with(light())),
        two("proposal-two", bench_with(light())),
        one("proposal-reps", bench_with(too_big())),
        two("proposal-reps-two", bench_with(too_big())),
        one("proposal-taken", bench_with(taken())),
        two("proposal-taken-two", bench_with(taken())),
        one("proposal-first", first(NextReason::AsLastTime)),
        two("proposal-first-two", first(NextReason::AsLastTime)),
        one("proposal-never-here", first(NextReason::NeverHere)),
        Sample {
            last: tapped(done_right()),
            ..one("proposal-undo", lacking(with_settings(bench_with(too_big())), &many))
        },
        two("proposal-settings-two", with_settings(bench_with(light()))),
        one("proposal-effort", asked(bench_with(too_big()))),
        one("ramp", ramp),
        one("missing", lacking(bench_with(taken()), &one_pair)),
        two("missing-two", lacking(bench_1(coming(rest(57), 57, 57, &[])), &one_pair)),
        one("missing-many", lacking(bench_1(coming(rest(57), 57, 57, &[])), &many)),
    ]
}

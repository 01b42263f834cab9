//! Scenes of coming sets whose start has been told.

use turnabout_protocol::promise::StartReason;

use super::*;

/// Every reason there is, the arguments as long as they come.
pub(crate) fn start_reasons() -> Vec<StartReason> {
    vec![
        StartReason::Ready,
        StartReason::Way,
        StartReason::Rest,
        StartReason::PutOff,
        StartReason::StationInUse,
        StartReason::LoadChange { takes: Secs(116) },
        StartReason::SpotterBusy,
        StartReason::SpotterAway { until: at(754) },
        StartReason::OtherUse { until: at(754) },
        StartReason::Turns,
        StartReason::Later,
    ]
}

/// The set to come at a station is to start so many seconds from now.
pub(crate) fn told(part: StationPart, start: i64, reason: StartReason) -> StationPart {
    let mut part = part;
    part.turn.as_mut().unwrap().promise =
        Some(PromisePart { start: at(start), about: false, spotter: None, reason });
    part
}

/// The same, and that is about then only.
pub(crate) fn about(part: StationPart) -> StationPart {
    let mut part = part;
    if let Some(told) = part.turn.as_mut().and_then(|turn| turn.promise.as_mut()) {
        told.about = true;
    }
    if let Some(told) = part.next.as_mut().and_then(|next| next.promise.as_mut()) {
        told.about = true;
    }
    part
}

/// The same, and who is to spot it has not come yet.
pub(crate) fn spotted_by(part: StationPart, name: &str) -> StationPart {
    let mut part = part;
    let turn = part.turn.as_mut().unwrap();
    turn.spotter = None;
    turn.promise.as_mut().unwrap().spotter = Some(name.into());
    part
}

/// Ayla is at the bench, and Bram has been told when he goes.
pub(crate) fn next_told(start: i64, reason: StartReason) -> StationPart {
    let promise = Some(StartPart { start: at(start), about: false, reason });
    let next = Some(NextPart { client: "Bram".into(), ready: at(9), promise });
    StationPart { next, ..bench_1(under_way(-13)) }
}

/// Resting for so many seconds more.
pub(crate) fn resting(secs: i64) -> StationPart {
    bench_1(coming(rest(secs), secs, secs - 11, &[]))
}

/// The load is still to be changed, from 40 kg to 82.5 kg.
fn to_load(secs: i64) -> StationPart {
    let mut part = bench_with_plates();
    part.turn.as_mut().unwrap().phase =
        coming(rest(secs), secs, secs - 11, &[Need::ConfirmLoad, Need::Spotter]);
    part
}

/// A board on which most have been told.
pub(crate) fn told_board() -> BoardView {
    let mut view = board(5);
    view.groups[0].clients[1].turn.as_mut().unwrap().phase = coming(rest(34), 34, 23, &[]);
    let told =
        [(0, 1, 23, StartReason::Rest), (1, 0, 18, StartReason::SpotterBusy), (3, 0, 47, StartReason::Later)];
    for (group, client, start, reason) in told {
        let turn = view.groups[group].clients[client].turn.as_mut().unwrap();
        let about = start > 15;
        turn.promise = Some(PromisePart { start: at(start), about, spotter: None, reason });
    }
    view
}

/// Every scene of them.
pub(crate) fn promises() -> Vec<Sample> {
    let one = |name, part: StationPart| Sample::new(name, view(vec![part]));
    let two = |name, part: StationPart| {
        let row = told(row_1(coming(rest(-3), -3, -14, &[])), 74, StartReason::StationInUse);
        Sample::new(name, view(vec![part, row]))
    };
    let until = at(58);
    let load = || spotted_by(told(to_load(12), 41, StartReason::LoadChange { takes: Secs(13) }), "Edda");
    let spotter = || {
        let part = bench_1(coming(rest(-3), -3, -14, &[Need::Spotter]));
        spotted_by(told(part, 28, StartReason::SpotterBusy), "Edda")
    };
    let later = || told(resting(20), 47, StartReason::Later);
    let way = coming(After::Changeover { since: at(-12), limit: at(18) }, -12, -12, &[]);
    let crowded = {
        let part = bench_with(too_big());
        let promise = Some(StartPart { start: at(88), about: false, reason: StartReason::SpotterBusy });
        let next = Some(NextPart { client: "Bram".into(), ready: at(80), promise });
        told(StationPart { next, ..part }, 59, StartReason::Later)
    };
    vec![
        one("told-rest", told(resting(34), 23, StartReason::Rest)),
        one("told-about", about(told(resting(44), 43, StartReason::Rest))),
        one("told-way", told(row_1(way), 9, StartReason::Way)),
        one("told-put-off", told(resting(64), 53, StartReason::PutOff)),
        one("told-in-use", told(resting(20), 35, StartReason::StationInUse)),
        one("told-load", load()),
        two("told-load-two", load()),
        one("told-spotter", spotter()),
        two("told-spotter-two", spotter()),
        one("told-away", told(resting(20), 58, StartReason::SpotterAway { until })),
        one("told-other-use", told(resting(20), 58, StartReason::OtherUse { until })),
        one("told-turns", told(resting(-4), 21, StartReason::Turns)),
        one("told-later", later()),
        two("told-later-two", later()),
        one("told-crowded", crowded.clone()),
        two("told-crowded-two", crowded.clone()),
        Sample { last: tapped(done_right()), ..one("told-undo", crowded) },
        one("told-now", told(resting(-4), -4, StartReason::SpotterBusy)),
        one("next-told", about(next_told(40, StartReason::StationInUse))),
        one("next-told-later", next_told(40, StartReason::Later)),
        two("next-told-two", next_told(40, StartReason::SpotterBusy)),
        Sample::new("board-told", View::Board(told_board())),
    ]
}

//! Scenes of the pacer of a set under way.

use turnabout_protocol::command::CallKind;

use super::*;

/// A set under way at a tempo that began so many seconds ago, and is prescribed to end when its repetitions are over.
pub(crate) fn paced(part: StationPart, tempo: &str, ago: i64) -> StationPart {
    let mut part = StationPart { state: StationState::InUse, ..part };
    let turn = part.turn.as_mut().unwrap();
    turn.tempo = tempo.parse().unwrap();
    // Of an explosive part a second, as this project has it.
    let rep: i64 = tempo.split('-').map(|part| if part == "X" { 1 } else { part.parse().unwrap() }).sum();
    let sides = if turn.per_side { 2 } else { 1 };
    let TurnPhase::UnderWay { went, count_in, starts, .. } = under_way(-ago) else { unreachable!() };
    let ends = at(rep * i64::from(turn.reps) * sides - ago);
    turn.phase = TurnPhase::UnderWay { went, count_in, starts, ends };
    part
}

/// A press of ten repetitions that began so many seconds ago.
pub(crate) fn press_at(tempo: &str, ago: i64) -> StationPart {
    paced(bench_1(under_way(0)), tempo, ago)
}

/// A row of ten repetitions.
pub(crate) fn row_at(tempo: &str, ago: i64) -> StationPart {
    paced(row_1(under_way(0)), tempo, ago)
}

/// Ten repetitions of a row for each side.
pub(crate) fn sided_at(tempo: &str, ago: i64) -> StationPart {
    let mut part = row_1(under_way(0));
    part.turn.as_mut().unwrap().per_side = true;
    paced(part, tempo, ago)
}

/// The same with other words.
pub(crate) fn in_words(part: StationPart, cues: Option<CuesPart>) -> StationPart {
    let mut part = part;
    part.turn.as_mut().unwrap().cues = cues;
    part
}

/// A position held for forty seconds, breathing evenly.
pub(crate) fn held_evenly() -> StationPart {
    let mut part = in_words(bench_1(under_way(-13)), Some(even(None)));
    let turn = part.turn.as_mut().unwrap();
    (turn.work, turn.reps) = (Work::Hold { secs: Secs(40) }, 1);
    part
}

/// Breathing evenly.
pub(crate) fn even(phases: Option<PhaseWords>) -> CuesPart {
    CuesPart { phases, breathing: Breathing::Even }
}

/// The longest words of the catalogue, in both languages.
pub(crate) fn long_words() -> CuesPart {
    cues(("straighten", "absenken"), ("straighten", "schließen"))
}

/// Every scene of it.
pub(crate) fn paces() -> Vec<Sample> {
    let one = |name, part: StationPart| Sample::new(name, view(vec![part]));
    let with_row = |name, part: StationPart| {
        Sample::new(name, view(vec![part, row_1(coming(rest(125), 125, 125, &[]))]))
    };
    let long = || in_words(press_at("3-1-2-0", 59), Some(long_words()));
    let evenly = |words: CuesPart| Some(even(words.phases));
    let mut other = press_at("3-1-2-0", 5);
    other.next = None;
    other.turn.as_mut().unwrap().then = None;
    let unpaced = || BTreeSet::from([turn_id(1, 2, 0)]);
    vec![
        one("pace-lower", press_at("3-1-2-0", 14)),
        one("pace-hold", press_at("3-1-2-0", 15)),
        one("pace-press", press_at("3-1-2-0", 17)),
        one("pace-row", row_at("3-1-2-0", 1)),
        one("pace-side", sided_at("3-1-2-0", 115)),
        one("pace-plain", in_words(press_at("3-1-2-0", 5), None)),
        one("pace-explosive", press_at("3-1-X-0", 10)),
        one("pace-one-way", press_at("3-0-0-0", 4)),
        one("pace-long", long()),
        one("pace-long-evenly", in_words(long(), evenly(long_words()))),
        one("pace-held", held_evenly()),
        one("pace-called", called(press_at("3-1-2-0", 17), CallKind::CoachPlease, Some("Zeno"))),
        Sample { unpaced: unpaced(), ..one("pace-off", press_at("3-1-2-0", 17)) },
        Sample { last: tapped(done_right()), ..one("pace-undo", press_at("3-1-2-0", 17)) },
        Sample { saving: true, ..one("pace-saving", press_at("3-1-2-0", 17)) },
        Sample { asking: true, ..one("pace-asking", press_at("3-1-2-0", 17)) },
        with_row("pace-two", other),
        with_row("pace-two-long", in_words(long(), evenly(long_words()))),
        Sample { unpaced: unpaced(), ..with_row("pace-two-off", press_at("3-1-2-0", 17)) },
        Sample::new(
            "pace-two-side",
            view(vec![sided_at("3-1-2-0", 1), bench_1(coming(rest(125), 125, 125, &[]))]),
        ),
    ]
}

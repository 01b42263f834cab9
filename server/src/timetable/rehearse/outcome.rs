//! What an evening was like, by the checker.

pub use super::promises::Kept as Promised;
use crate::timetable::answer::Timetable;
use crate::timetable::check::{Misfit, Verdict, check};
use crate::timetable::instance::{At, Instance, Window};

/// One evening run in one way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// Everything that happened.
    pub timetable: Timetable,
    /// What the checker says of it.
    pub verdict: Verdict,
    /// What it cost: the checker's objective, and the price of a wait between two exercises for each second beyond the
    /// limit, which the checker calls a breach of rule 2.
    pub objective: i64,
    /// The same without what was told and without handling.
    pub bare: i64,
    /// The longest rest beyond the longest good one, in seconds.
    pub worst_overrun: u32,
    /// Seconds of waiting between two exercises, those beyond the limit too.
    pub changeover_wait: i64,
    /// Seconds by which other rules than the limit of that wait are broken, without a price.
    pub breach_seconds: u64,
    /// When a member finishes on average, in seconds of the instance's axis.
    pub mean_finish: u32,
    /// What became of what people were told, where anybody was told anything.
    pub promised: Option<Promised>,
}

/// The rule of the wait between two exercises.
const CHANGEOVER: u8 = 2;

/// Looks at an evening of these lengths.
///
/// A set that is under way when its station or its coach should go away is finished: windows begin where it ends.
pub(super) fn of(
    real: &Instance,
    mut timetable: Timetable,
    promised: Option<Promised>,
) -> Result<Outcome, Vec<Misfit>> {
    let real = &with_sets_finished(real, &timetable);
    timetable.breaches = Vec::new();
    timetable.breaches = check(real, &timetable)?.breaches;
    let verdict = check(real, &timetable)?;
    let of_rule = |two: bool| {
        let breaches = verdict.breaches.iter().filter(move |breach| (breach.rule == CHANGEOVER) == two);
        breaches.map(|breach| u64::from(breach.seconds)).sum::<u64>()
    };
    let beyond = i64::try_from(of_rule(true)).unwrap_or(i64::MAX);
    let weights = &real.weights;
    let objective =
        verdict.objective.saturating_add(beyond.saturating_mul(i64::from(weights.changeover_wait)));
    let aside =
        verdict.parts.told * i64::from(weights.told) + verdict.parts.handling * i64::from(weights.handling);
    let (worst_overrun, mean_finish) = rests_and_finishes(real, &timetable);
    Ok(Outcome {
        objective,
        bare: objective - aside,
        worst_overrun,
        changeover_wait: verdict.parts.changeover_wait + beyond,
        breach_seconds: of_rule(false),
        mean_finish,
        promised,
        timetable,
        verdict,
    })
}

/// By group, member and round: the first start and the last end.
fn spans(real: &Instance, timetable: &Timetable) -> Vec<(usize, usize, usize, u32, u32)> {
    let span = |row: &crate::timetable::answer::RoundStarts| {
        let legs = &real.groups[row.group].members[row.member].rounds[row.round].legs;
        let mut turns =
            legs.iter().zip(&row.starts).filter_map(|(turn, start)| Some((turn.as_ref()?, (*start)?.0)));
        let first = turns.clone().next()?.1;
        let end = turns.next_back().map(|(turn, start)| start + turn.length.0)?;
        Some((row.group, row.member, row.round, first, end))
    };
    let mut all: Vec<_> = timetable.turns.iter().filter_map(span).collect();
    all.sort_unstable();
    all
}

/// The worst rest beyond the longest good one, and the mean finish.
fn rests_and_finishes(real: &Instance, timetable: &Timetable) -> (u32, u32) {
    let spans = spans(real, timetable);
    let (mut worst, mut sum, mut members) = (0, 0_u64, 0_u64);
    for one in spans.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
        let (g, m) = (one[0].0, one[0].1);
        let (group, member) = (&real.groups[g], &real.groups[g].members[m]);
        let under_way = member.under_way.is_some();
        let mut last = if under_way { None } else { member.last_round_end.map(|end| end.0) };
        for &(_, _, r, start, end) in one {
            let round = &member.rounds[r];
            let missed = r > 0 && member.rounds[r - 1].number + 1 != round.number;
            let longest = round.rest_max.unwrap_or(group.rest_max).filter(|_| !missed);
            if let (Some(last), Some(longest)) = (last, longest) {
                worst = worst.max(start.saturating_sub(last).saturating_sub(longest.0));
            }
            last = Some(end);
        }
        sum += u64::from(last.unwrap_or(0));
        members += 1;
    }
    (worst, u32::try_from(sum / members.max(1)).unwrap_or(u32::MAX))
}

/// The instance with every window that begins in the middle of a set begun where that set ends.
fn with_sets_finished(real: &Instance, timetable: &Timetable) -> Instance {
    let mut moved = real.clone();
    for row in &timetable.turns {
        let group = &real.groups[row.group];
        let round = &group.members[row.member].rounds[row.round];
        for (leg, start) in row.starts.iter().enumerate() {
            let (Some(turn), Some(start)) = (&round.legs[leg], start) else { continue };
            let station = timetable.stations[row.group][row.member][leg];
            finish(&mut moved.stations[station].busy, *start, At(start.0 + turn.length.0));
            if let Some(spot) = turn.spot {
                let coach = round.coach.unwrap_or(group.coach);
                let (from, to) = (At(start.0 + spot.from.0), At(start.0 + spot.to.0));
                finish(&mut moved.coaches[coach].busy, from, to);
            }
        }
    }
    moved
}

fn finish(windows: &mut Vec<Window>, from: At, to: At) {
    for window in windows.iter_mut().filter(|window| from < window.from && window.from < to) {
        window.from = to;
    }
    windows.retain(|window| window.from < window.to);
}

//! Whether the loads of one client's sets can be found as the file says.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::ClientId;
use turnabout_protocol::work::Work;

use super::exercise_in_block::Around;
use super::findings::Findings;
use super::load_problem::{LoadProblem, NoRamp};
use super::load_rule::Load;
use super::prescribed::One;
use super::problem::Problem;
use super::spot::Spot;
use crate::training::exercise::Exercise;
use crate::training::percent::{MOST_REPS, MOST_RESERVE};

/// What has been told of one exercise: what holds for all clients is told once.
#[derive(Default)]
pub(super) struct Told(Vec<(usize, LoadProblem)>);

impl Told {
    fn add(&mut self, found: &mut Findings<'_>, spot: &Spot, problem: LoadProblem) {
        let this = (spot.bytes.start, problem);
        if !self.0.contains(&this) {
            found.add(spot, this.1.clone());
            self.0.push(this);
        }
    }
}

/// Takes down what no load could be found for, round by round.
pub(super) fn check(
    found: &mut Findings<'_>,
    told: &mut Told,
    around: &Around<'_>,
    exercise: Option<&Exercise>,
    client: ClientId,
    one: &One<'_>,
) {
    // A load where there is nothing to set has its own mistake.
    let set = exercise.is_none_or(|exercise| exercise.gear != GearKind::Plain);
    let Some(loads) = one.load.filter(|_| set) else { return };
    for round in 0..one.named() {
        let Some(load) = loads.at(round) else { continue };
        if load.what == Load::ByReserve
            && let Some(work) = one.reps.and_then(|reps| reps.at(round))
            && let Some(problem) = by_reserve(work.what, one)
            // By pins nothing is looked up in the table.
            && !(matches!(problem, LoadProblem::TooManyReps { .. })
                && exercise.is_some_and(|exercise| around.fit.only_pins(exercise).is_some()))
            && let Some(spot) = one.spot_of_load(round)
        {
            told.add(found, spot, problem);
        }
        if let Some(exercise) = exercise.filter(|_| load.what.takes_a_share())
            && !around.fit.may_go_by_pins(exercise, load.what)
        {
            if let Some(most) = around.fit.only_pins(exercise) {
                let (load_said, exercise) = (load.what, exercise.key.clone());
                told.add(found, &load.spot, LoadProblem::OnlyPins { load: load_said, exercise, most });
            } else if around.fit.helps(exercise) {
                told.add(found, &load.spot, LoadProblem::ShareOnAssisting(load.what));
            } else if !around.people.may_have_max(client, exercise.id) {
                let (load_said, exercise) = (load.what, exercise.key.clone());
                let problem = LoadProblem::NoMax { load: load_said, client: client.0, exercise };
                told.add(found, &load.spot, problem);
            }
        }
    }
}

/// Why no load can be worked out for such a set with the client's reserve, if none can.
fn by_reserve(work: Work, one: &One<'_>) -> Option<LoadProblem> {
    let Work::Reps { most: reps, .. } = work else { return Some(LoadProblem::ReserveOfHold) };
    // A reserve that could not be read has its own mistake.
    let Some(reserve) = one.reserve else { return (!one.has_reserve).then_some(LoadProblem::NoReserve) };
    if reserve > MOST_RESERVE {
        Some(LoadProblem::TooMuchReserve { reserve })
    } else if reps.saturating_add(reserve) > MOST_REPS {
        Some(LoadProblem::TooManyReps { reps, reserve })
    } else if reps == 1 && reserve == 0 {
        Some(LoadProblem::Maximal)
    } else {
        None
    }
}

/// Takes down a light set on the way up where there is no way: before a hold, where nothing is set, and where the
/// load helps.
pub(super) fn check_ramp(
    found: &mut Findings<'_>,
    told: &mut Told,
    helps: bool,
    exercise: Option<&Exercise>,
    one: &One<'_>,
) {
    let Some(spot) = one.ramp() else { return };
    let first = one.reps.and_then(|reps| reps.at(0)).map(|said| said.what);
    if exercise.is_some_and(|exercise| exercise.gear == GearKind::Plain) {
        told.add(found, spot, LoadProblem::Ramp(NoRamp::NothingSet));
    } else if helps {
        told.add(found, spot, LoadProblem::Ramp(NoRamp::Helps));
    } else if matches!(first, Some(Work::Hold { .. })) {
        told.add(found, spot, LoadProblem::Ramp(NoRamp::Hold));
    }
}

/// Takes down a technique set that is heavier than the client's first working set, where that is said outright;
/// where the load helps, one with less help.
pub(super) fn check_technique(found: &mut Findings<'_>, helps: bool, client: ClientId, one: &One<'_>) {
    let first = one.load.and_then(|load| load.at(0)).and_then(|said| said.what.fixed());
    let (Some(load), Some(technique)) = (first, one.technique_load.map(|said| said.what)) else { return };
    let (lighter, heavier) = if helps { (load, technique) } else { (technique, load) };
    let (lighter, heavier) = (lighter.load(), heavier.load());
    if lighter.is_like(heavier)
        && lighter > heavier
        && let Some(spot) = one.spot_of_technique()
    {
        found.add(spot, Problem::TechniqueHeavier { technique, client: client.0, load, helps });
    }
}

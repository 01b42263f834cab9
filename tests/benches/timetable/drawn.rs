//! Evenings of any size, drawn from a seed: floors that grow with their groups.

use turnabout_protocol::units::Secs;
use turnabout_server::timetable::instance::{
    At, Coach, Group, Instance, Load, Member, Round, Spot, Station, StationKind, Turn, Weights,
};

use crate::random::Random;

/// Loads of one side of a bar, in grams from the inside out.
const PLATES: [&[u32]; 6] =
    [&[], &[20_000], &[20_000, 2_500], &[20_000, 5_000, 1_250], &[10_000, 2_500], &[25_000, 5_000]];
/// Every so many groups have a bar, a stack and a coach of their own: as on the published medium evenings.
const GROUPS_A_PAIR: usize = 2;
/// Seconds in which everybody comes.
const COMING: usize = 1_800;

/// An evening of so many groups.
pub(crate) fn evening(groups: usize, seed: u64) -> Instance {
    let pairs = groups.div_ceil(GROUPS_A_PAIR);
    let mut random = Random::new(seed);
    let station = |kind| Station { kind, free_at: At(0), load: None, busy: Vec::new(), work_in: true };
    let stations: Vec<Station> = [StationKind::Bar, StationKind::Stack]
        .into_iter()
        .flat_map(|kind| (0..pairs).map(move |_| station(kind)))
        .collect();
    let walk = |each: usize, most: usize| -> Vec<Vec<Secs>> {
        let place = |at: usize| (at % pairs, at / pairs);
        let between = |a: usize, b: usize| {
            let ((x, row), (other, below)) = (place(a), place(b));
            if a == b {
                Secs(0)
            } else {
                secs((3 + x.abs_diff(other) * each + row.abs_diff(below)).min(most))
            }
        };
        (0..2 * pairs).map(|a| (0..2 * pairs).map(|b| between(a, b)).collect()).collect()
    };
    Instance {
        name: format!("drawn of {groups}"),
        now: At(0),
        weights: weights(),
        plate: Secs(4),
        collar: Secs(4),
        pin: Secs(3),
        changeover_wait_max: Some(Secs(15)),
        walk: walk(3, 25),
        coach_walk: walk(2, 20),
        coaches: (0..pairs).map(|_| Coach { free_at: At(0), at: None, busy: Vec::new() }).collect(),
        groups: (0..groups).map(|_| group(&mut random, pairs)).collect(),
        stations,
    }
}

/// The usual prices of `tests/published/timetable/README.md`.
fn weights() -> Weights {
    Weights {
        overrun: vec![(Secs(0), 30), (Secs(15), 100), (Secs(45), 300)],
        changeover_wait: 60,
        flow: 10,
        makespan: 10,
        handling: 1,
        late: 1_000,
        door: vec![(Secs(300), 20)],
        tardy: 20,
        told: 20,
        free_start: false,
    }
}

fn secs(seconds: usize) -> Secs {
    Secs(u32::try_from(seconds).unwrap_or(u32::MAX))
}

fn group(random: &mut Random, pairs: usize) -> Group {
    let (here, beside) = (random.below(pairs), random.once_in(2));
    let suits = |first: usize| {
        let next = first + (here + 1) % pairs;
        if beside && pairs > 1 { vec![first + here, next] } else { vec![first + here] }
    };
    let rest_min = 45 + 15 * random.below(3);
    let release = secs(random.below(COMING)).0;
    let rounds = 3 + random.below(3);
    Group {
        coach: random.below(pairs),
        together: random.once_in(2),
        eligible: vec![suits(0), suits(pairs)],
        rest_min: secs(rest_min),
        rest_max: Some(secs(rest_min + 30)),
        order: Vec::new(),
        holds: Vec::new(),
        changeover_wait_max: None,
        members: (0..=random.below(3)).map(|_| member(random, release, rounds)).collect(),
    }
}

fn member(random: &mut Random, release: u32, rounds: usize) -> Member {
    let plates = PLATES[random.below(PLATES.len())].to_vec();
    let label = 5_000 * secs(4 + random.below(12)).0;
    let spotted = !random.once_in(4);
    let mut turn = |least: usize, load: Load, spotted: bool| {
        let length = secs(least + random.below(20));
        Some(Turn { length, load: Some(load), spot: spotted.then_some(Spot { from: Secs(0), to: length }) })
    };
    let round = |number: usize| Round {
        number: secs(number).0,
        coach: None,
        rest_min: None,
        rest_max: None,
        not_before: None,
        told: vec![None, None],
        legs: vec![turn(48, Load::Plates(plates.clone()), spotted), turn(38, Load::Label(label), false)],
    };
    Member {
        release: At(release),
        due: None,
        stations: None,
        last_round_end: None,
        under_way: None,
        rounds: (0..rounds).map(round).collect(),
    }
}

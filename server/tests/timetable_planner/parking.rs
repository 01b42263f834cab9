//! Plans must not park people: neither at the door nor at a free row so that the clock of their rest starts later. The
//! cases and their bars are our own; lengths and rest windows are those of the closed forms in
//! `tests/published/timetable/README.md`.

use turnabout_protocol::units::Secs;
use turnabout_server::timetable::format::read_instance;
use turnabout_server::timetable::instance::{At, Group, Instance, Member, Round, Turn};
use turnabout_server::timetable::plan::Plan;

use crate::files::{searched, text};

fn member(release: u32, rounds: u32) -> Member {
    let turn = |length| Some(Turn { length: Secs(length), load: None, spot: None });
    let round = |number| Round {
        number,
        coach: None,
        rest_min: None,
        rest_max: None,
        not_before: None,
        told: vec![None, None],
        legs: vec![turn(55), turn(45)],
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

/// One pair of stations and these groups, each of members who come at these times.
fn pair(groups: &[&[u32]]) -> Instance {
    let mut evening = read_instance(&text("instances/small-2.json")).expect("as published");
    evening.groups = groups
        .iter()
        .map(|releases| Group {
            coach: 0,
            together: true,
            eligible: vec![vec![0], vec![1]],
            rest_min: Secs(75),
            rest_max: Some(Secs(105)),
            order: Vec::new(),
            holds: Vec::new(),
            changeover_wait_max: None,
            members: releases.iter().map(|&r| member(r, 4)).collect(),
        })
        .collect();
    evening
}

/// The longest overrun of a rest and the longest time at the door, in seconds.
fn worst(evening: &Instance, plan: &Plan) -> (u32, u32) {
    let (mut over, mut door) = (0, 0);
    for (g, group) in evening.groups.iter().enumerate() {
        for (m, member) in group.members.iter().enumerate() {
            let mut rows: Vec<_> =
                plan.timetable.turns.iter().filter(|t| (t.group, t.member) == (g, m)).collect();
            rows.sort_by_key(|t| t.round);
            door = door.max(rows[0].starts[0].expect("as published").0 - member.release.0);
            for pair in rows.windows(2) {
                let end = pair[0].starts[1].expect("as published").0 + 45;
                over = over.max((pair[1].starts[0].expect("as published").0 - end).saturating_sub(105));
            }
        }
    }
    (over, door)
}

#[test]
fn nobody_is_parked() {
    for (name, groups) in [
        ("four singles on one pair", &[&[0][..], &[0], &[0], &[0]][..]),
        ("two pairs on one pair of stations", &[&[0, 0], &[0, 0]]),
    ] {
        let evening = pair(groups);
        for seed in 0..3 {
            let plan = searched(&evening, &[], seed, 10_000);
            let (over, _) = worst(&evening, &plan);
            assert!(over <= 15, "{name}, seed {seed}: a rest {over} s over");
            assert!(plan.verdict.breaches.is_empty());
        }
    }
}

#[test]
fn nobody_is_held_for_a_late_one() {
    let evening = pair(&[&[0, 0, 400]]);
    for seed in 0..3 {
        let plan = searched(&evening, &[], seed, 10_000);
        let (over, door) = worst(&evening, &plan);
        assert!(over <= 15, "seed {seed}: a rest {over} s over");
        assert!(door <= 210, "seed {seed}: {door} s at the door");
        let second_round = plan.timetable.turns.iter().filter(|t| t.member < 2 && t.round == 1);
        for turn in second_round {
            assert!(turn.starts[0].expect("as published").0 < 400, "seed {seed}: held for the late one");
        }
    }
}

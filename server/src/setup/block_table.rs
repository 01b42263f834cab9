//! One block of a group: `[[group.block]]` with its exercises.

use turnabout_protocol::units::Secs;

use super::drop_set;
use super::exercise_in_block::{Around, Read, exercise};
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::problem::Problem;
use crate::training::block::{Block, limits};

/// Reads a block; `around` is what is around it, with the rounds of any other.
pub(super) fn block(mut table: Fields<'_>, found: &mut Findings<'_>, around: &Around<'_>) -> Option<Block> {
    let before = found.count();
    let rounds = table.required(found, "rounds", &form::whole(1, limits::ROUNDS));
    let rest = read_rest(&mut table, found);
    let around = Around { rounds, ..*around };
    let exercises = table.sections(found, "exercise", "group.block.exercise", 1, limits::LEGS);
    let reads: Vec<Read<'_>> = exercises.into_iter().map(|table| exercise(table, found, &around)).collect();
    let changeover_form = form::duration(0, limits::CHANGEOVER_SECS);
    // With one station there is nowhere to go over to.
    let changeover = if drop_set::stations_needed(&reads) > 1 {
        table.required(found, "changeover", &changeover_form)
    } else {
        Some(table.optional(found, "changeover", &changeover_form).map_or(Secs(0), |said| said.what))
    };
    table.finish(found);
    drop_set::check_in_place(found, &around, &reads);
    let (rest_min, rest_max) = rest?;
    let legs = reads.iter().map(|read| read.leg.clone()).collect::<Option<_>>()?;
    let block = Block { legs, rounds: rounds?, rest_min, rest_max, changeover: changeover? };
    // What is wrong with one exercise is told there.
    if found.count() == before {
        drop_set::check_stations(found, &around, &table.spot, &reads, &block);
    }
    Some(block)
}

fn read_rest(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<(Secs, Secs)> {
    let mut ends = table.list(found, "rest", 2, 2).into_iter();
    let mut next = || ends.next()?.read(found, &form::duration(0, limits::REST_SECS));
    let (least, most) = (next(), next());
    let (least, most) = (least?.what, most?);
    if most.what < least {
        found.add(&most.spot, Problem::RestOrder { least: least.0, most: most.what.0 });
    }
    Some((least, most.what))
}

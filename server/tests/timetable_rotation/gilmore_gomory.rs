//! Gilmore and Gomory's algorithm of 1964, beside trying every order. It takes the best assignment of followers and
//! joins its loops by the cheapest exchanges of neighbours.

use proptest::prelude::*;
use turnabout_server::timetable::rotation::shortest_cycle;

use crate::{pace, pair};

/// The least length of a tour where going from `i` to `j` costs `max(0, leaves[i] - takes[j])`.
fn least_tour(leaves: &[i64], takes: &[i64]) -> i64 {
    let count = leaves.len();
    let mut by_leaves: Vec<usize> = (0..count).collect();
    by_leaves.sort_by_key(|&job| leaves[job]);
    let leaves: Vec<i64> = by_leaves.iter().map(|&job| leaves[job]).collect();
    let takes: Vec<i64> = by_leaves.iter().map(|&job| takes[job]).collect();
    let mut follower: Vec<usize> = (0..count).collect();
    follower.sort_by_key(|&job| takes[job]);

    // Exchanging the followers of neighbours costs what their two spans have in common.
    let exchange = |i: usize| {
        let low = leaves[i].max(takes[follower[i]]);
        (leaves[i + 1].min(takes[follower[i + 1]]) - low).max(0)
    };
    let mut loops: Vec<usize> = (0..count).collect();
    let join = |loops: &mut Vec<usize>, a: usize, b: usize| {
        let (from, to) = (loops[a], loops[b]);
        loops.iter_mut().filter(|name| **name == from).for_each(|name| *name = to);
        from != to
    };
    for (i, &next) in follower.iter().enumerate() {
        join(&mut loops, i, next);
    }
    let mut exchanges: Vec<usize> = (0..count.saturating_sub(1)).collect();
    exchanges.sort_by_key(|&i| exchange(i));
    exchanges.retain(|&i| join(&mut loops, i, i + 1));

    // Where the follower takes at least what is left: from the top down; the others after that, from the bottom up.
    let (mut above, mut below): (Vec<usize>, Vec<usize>) =
        exchanges.into_iter().partition(|&i| takes[follower[i]] >= leaves[i]);
    above.sort_unstable_by(|a, b| b.cmp(a));
    below.sort_unstable();
    let sequence: Vec<usize> = above.into_iter().chain(below).collect();
    let final_follower = |job: usize| {
        let swapped = sequence.iter().rev().fold(job, |at, &i| match at {
            at if at == i => i + 1,
            at if at == i + 1 => i,
            at => at,
        });
        follower[swapped]
    };
    let mut at = 0;
    let mut length = 0;
    for step in 1..=count {
        let next = final_follower(at);
        length += (leaves[at] - takes[next]).max(0);
        at = next;
        assert_eq!(at == 0, step == count, "the followers make one loop");
    }
    length
}

proptest! {
    #[test]
    fn the_algorithm_and_every_order_agree(
        lengths in prop::collection::vec([1_u32..60, 1_u32..60], 1..=5),
        changes in [0_u32..30, 0_u32..30],
        walk in 0_u32..10,
    ) {
        let long = |value: u32| i64::from(value);
        let first: i64 = lengths.iter().map(|[a, _]| long(*a) + long(changes[0])).sum();
        let leaves: Vec<i64> = lengths.iter().map(|[_, b]| long(b + changes[1]) - long(changes[0])).collect();
        let takes: Vec<i64> = lengths.iter().map(|[a, _]| long(*a)).collect();
        let own = lengths.iter().map(|[a, b]| long(a + b + 2 * walk)).max().unwrap();
        let expected = (first + least_tour(&leaves, &takes)).max(own);
        let members: Vec<_> = lengths.iter().map(|&lengths| pace(lengths, 0, 3_600)).collect();
        let found = shortest_cycle(&pair(walk, changes), &members).unwrap().length;
        prop_assert_eq!(long(found.0), expected);
    }
}

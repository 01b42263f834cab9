//! A whole round of a paired set at one display with both stations, as it is heard.

use turnabout_protocol::view::After;

use crate::scenes::*;
use crate::*;

#[test]
fn a_round_of_a_pair_is_heard_from_its_rest_to_the_next() {
    // Ayla presses and rows; the times are those of a floor with 8 s to get set and 30 s to go over.
    let bench = |phase| bench_1(phase);
    let row = |phase| {
        let mut part = row_1(phase);
        let turn = part.turn.as_mut().unwrap();
        (turn.client, turn.turn) = ("Ayla".into(), turn_id(1, 2, 1));
        part
    };
    let free = || station(1, "Bench 1", turnabout_protocol::card::GearKind::Bar, None);
    let over = |limit| {
        coming(After::Changeover { since: at(limit - 30), limit: at(limit) }, limit - 30, limit - 30, &[])
    };
    let mut listener = Listener::at(vec![bench(coming(rest(20), 20, 20, &[])), row(over(120))]);
    // The rest ends at 20 s; GO at 22 s, the press from 33 to 73 s.
    listener
        .listen(0..22_000, 100)
        .told(vec![bench(under_way(33)), row(coming(After::Nothing, 200, 200, &[]))]);
    // DONE at 72 s; GO at the row at 90 s, the row from 101 to 141 s.
    listener.listen(22_000..72_000, 100).told(vec![free(), row(over(102))]);
    listener.listen(72_000..90_000, 100).told(vec![free(), row(under_way(101))]);
    // DONE at 140 s, and the rest until 230 s.
    listener.listen(90_000..140_000, 100).told(vec![bench(coming(rest(230), 230, 230, &[])), free()]);
    listener.listen(140_000..235_000, 100);
    let wanted = [
        (17_000, REST_THREE),
        (18_000, REST_TWO),
        (19_000, REST_ONE),
        (30_000, THREE),
        (31_000, TWO),
        (32_000, ONE),
        (33_000, Cue::Go),
        (98_000, THREE),
        (99_000, TWO),
        (100_000, ONE),
        (101_000, Cue::Go),
        (227_000, REST_THREE),
        (228_000, REST_TWO),
        (229_000, REST_ONE),
    ];
    assert_eq!(listener.heard, wanted);
}

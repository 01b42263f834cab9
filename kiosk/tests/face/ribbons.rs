//! The strip of a client's time: where its blocks stand. The same cases with the same numbers as those of the pages, in
//! `tests/outside/page/ribbon.test.mjs`: places are parts of the strip's width there too, but from an instant of their
//! own, so here they are farther to the right by the part of it from that instant to now.

use proptest::prelude::*;
use turnabout_kiosk::face::{AHEAD, BEHIND, Block, BlockIs, Body, Pattern, SPAN, STEP, Window, pieces};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{RestWindow, RibbonIs, RibbonSet, View};

use crate::scenes::*;

/// A set of 36 s, which is a tenth of the strip.
fn set(is: RibbonIs, from: i64) -> RibbonSet {
    let (from, until) = (FloorMs(from), FloorMs(from + 36_000));
    RibbonSet { leg: 0, round: 1, is, from, until, spotted: false, window: None }
}

fn blocks(set: RibbonSet, now: i64) -> Vec<Block> {
    pieces(&[set], FloorMs(now)).0
}

fn windows(set: RibbonSet, now: i64) -> Vec<Window> {
    pieces(&[set], FloorMs(now)).1
}

fn width(block: Block) -> u32 {
    block.until - block.from
}

/// So many hundredths of the strip from an instant on, as a place on the strip at another.
fn place(hundredths: i64, origin: i64, now: i64) -> u32 {
    u32::try_from(hundredths * SPAN / 100 + origin + BEHIND - now).unwrap()
}

#[test]
fn a_block_is_as_long_as_its_set_in_shares_of_what_is_to_be_seen() {
    let spotted = RibbonSet { spotted: true, ..set(RibbonIs::ToCome, 100_000) };
    let (from, until) = (place(10, 64_000, 90_000), place(20, 64_000, 90_000));
    let (pattern, is) = (Pattern::Solid, BlockIs::ToCome);
    assert_eq!(blocks(spotted, 90_000), [Block { from, until, pattern, light: false, is, spotted: true }]);
    assert_eq!((BEHIND + AHEAD, SPAN, STEP), (360_000, 360_000, 2_000));
}

#[test]
fn what_is_far_behind_or_far_ahead_is_not_drawn() {
    let now = 1_000_000;
    let seen = |from| blocks(set(RibbonIs::ToCome, from), now).len();
    assert_eq!(
        [now - BEHIND - 36_001, now - BEHIND - 35_999, now + AHEAD - 1, now + AHEAD].map(seen),
        [0, 1, 1, 0]
    );
}

#[test]
fn a_set_that_nobody_has_ended_reaches_to_now_and_is_told_apart() {
    let under = |now| blocks(set(RibbonIs::UnderWay, 0), now)[0];
    assert_eq!((under(35_999).is, under(36_000).is), (BlockIs::UnderWay, BlockIs::Over));
    let tenth = u32::try_from(SPAN / 10).unwrap();
    // Of one that began more than a minute ago the beginning is out of sight.
    assert_eq!((width(under(18_000)), under(54_000).until, under(72_000).from), (tenth, tenth + 24_000, 0));
    assert_eq!(i64::from(under(54_000).until), BEHIND, "up to the line");
    // One that is done stays as long as it was.
    assert_eq!(width(blocks(set(RibbonIs::Done, 0), 50_000)[0]), tenth);
}

#[test]
fn a_rest_has_its_two_ticks_until_the_set_after_it_begins() {
    let window = Some(RestWindow { from: FloorMs(90_000), until: FloorMs(126_000) });
    let rest = |is, now| windows(RibbonSet { window, ..set(is, 100_000) }, now);
    let (from, until) = (place(25, 0, 80_000), place(35, 0, 80_000));
    assert_eq!(rest(RibbonIs::ToCome, 80_000), [Window { from, until, earliest: true, latest: true }]);
    assert_eq!(rest(RibbonIs::UnderWay, 110_000), []);
    assert_eq!(rest(RibbonIs::ToCome, 126_000 + BEHIND), []);
    // A tick that is out of sight is not drawn at the edge.
    let ticks = |now| rest(RibbonIs::ToCome, now).iter().map(|w| (w.earliest, w.latest)).collect::<Vec<_>>();
    assert_eq!(ticks(92_000 + BEHIND), [(false, true)]);
    assert_eq!(ticks(100_000 - AHEAD), [(true, false)]);
}

#[test]
fn light_sets_are_told_from_working_ones_and_a_fourth_exercise_looks_like_the_third() {
    let sets = [
        RibbonSet { round: 0, ..set(RibbonIs::Done, 0) },
        RibbonSet { leg: 1, ..set(RibbonIs::ToCome, 40_000) },
        RibbonSet { leg: 2, ..set(RibbonIs::ToCome, 80_000) },
        RibbonSet { leg: 3, ..set(RibbonIs::ToCome, 120_000) },
    ];
    let (blocks, _) = pieces(&sets, FloorMs(20_000));
    let looks: Vec<_> = blocks.iter().map(|block| (block.light, block.pattern)).collect();
    assert_eq!(
        looks,
        [(true, Pattern::Solid), (false, Pattern::Hatched), (false, Pattern::Open), (false, Pattern::Open)]
    );
}

#[test]
fn whoever_hears_the_wall_hears_which_set_is_to_come_when() {
    let said = |language, ribbon: Vec<RibbonSet>| {
        let mut view = board(2);
        view.zone_offset = 7_200;
        view.groups[0].clients[0].ribbon = ribbon;
        let Body::Board { board } = Sample::new("", View::Board(view)).face(language).body else {
            panic!("a board")
        };
        board.lines.into_iter().find(|line| line.who == "Ayla").unwrap().ribbon.label
    };
    // It is 18:50 at the floor; Ayla is on the first exercise of her block.
    let now = NOW.0;
    let coming = |leg, secs: i64| RibbonSet { leg, ..set(RibbonIs::ToCome, now + secs * 1_000) };
    let sets = vec![set(RibbonIs::Done, now - 40_000), coming(0, 60), coming(1, 120)];
    assert_eq!(said(Language::En, sets.clone()), "Ayla: Bench press at 18:51:00, exercise 2 at 18:52:00");
    assert_eq!(said(Language::De, sets), "Ayla: Bankdrücken um 18:51:00, Übung 2 um 18:52:00");
    assert_eq!(said(Language::En, vec![set(RibbonIs::Done, now - 40_000)]), "Ayla: no set planned");
    // Nothing in sight is nothing to draw, and nothing to say.
    assert_eq!(said(Language::En, vec![set(RibbonIs::Done, now - 400_000)]), "");
}

#[test]
fn a_strip_moves_in_steps_of_two_seconds() {
    let sets = [set(RibbonIs::ToCome, 100_000)];
    let left = |now| pieces(&sets, FloorMs(now)).0[0].from;
    assert_eq!(left(50_000), left(51_999));
    assert_eq!(left(50_000) - left(52_000), 2_000);
}

fn any_set() -> impl Strategy<Value = RibbonSet> {
    let near = || prop_oneof![9 => -900_000_i64..900_000, 1 => any::<i64>()].prop_map(FloorMs);
    let is = prop_oneof![Just(RibbonIs::Done), Just(RibbonIs::UnderWay), Just(RibbonIs::ToCome)];
    let window = proptest::option::of((near(), near()).prop_map(|(from, until)| RestWindow { from, until }));
    (any::<u8>(), any::<u8>(), is, near(), near(), any::<bool>(), window).prop_map(
        |(leg, round, is, from, until, spotted, window)| RibbonSet {
            leg,
            round,
            is,
            from,
            until,
            spotted,
            window,
        },
    )
}

proptest! {
    #[test]
    fn blocks_are_in_order_none_lies_on_another_and_all_are_on_the_strip(
        sets in proptest::collection::vec(any_set(), 0..12),
        now in prop_oneof![9 => -900_000_i64..900_000, 1 => any::<i64>()],
    ) {
        let (blocks, windows) = pieces(&sets, FloorMs(now));
        let mut before = 0;
        for block in &blocks {
            prop_assert!(before <= block.from && block.from < block.until, "{blocks:?}");
            before = block.until;
        }
        prop_assert!(i64::from(before) <= SPAN, "{blocks:?}");
        for window in &windows {
            prop_assert!(window.from <= window.until && i64::from(window.until) <= SPAN, "{windows:?}");
        }
        prop_assert!(blocks.len() <= sets.len() && windows.len() <= sets.len());
    }
}

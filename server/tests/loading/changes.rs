//! From what is on to what is wanted.

use proptest::prelude::*;
use turnabout_protocol::units::{Mass, Secs};
use turnabout_server::loading::bar::{
    Bar, BarNo, BarSet, Change, End, Loaded, Plate, Side, Step, Takes, seconds,
};

use crate::world::{FIRST, bar, kg, loaded, set, small};

fn bars() -> BarSet {
    let fixed = Bar { mass: kg(30.0), takes: Takes::Nothing };
    set(vec![bar(20.0, 2.5), bar(15.0, 2.5), fixed], &[(25.0, 8), (10.0, 8), (5.0, 8), (2.5, 8)])
}

#[test]
fn what_is_inside_stays() {
    let change = Change::between(&bars(), Some(&loaded(&[25.0, 10.0, 2.5])), &loaded(&[25.0, 5.0]));
    assert_eq!(change.strip, [small(2.5), small(10.0)]);
    assert_eq!(change.add, [small(5.0)]);
    assert_eq!((change.effort().moves, change.other_bar()), (6, Some(false)));
}

#[test]
fn nothing_to_do_takes_no_time() {
    let change = Change::between(&bars(), Some(&loaded(&[25.0])), &loaded(&[25.0]));
    assert_eq!((change.effort(), change.steps()), Default::default());
}

#[test]
fn both_sides_are_done_in_turn_and_every_pair_takes_one_way() {
    use End::{Left, Right};
    let change = Change::between(&bars(), Some(&loaded(&[10.0])), &loaded(&[25.0]));
    let steps = [
        Step::CollarOff(Left),
        Step::CollarOff(Right),
        Step::Strip(Right, small(10.0)),
        Step::Strip(Left, small(10.0)),
        Step::Add(Left, small(25.0)),
        Step::Add(Right, small(25.0)),
        Step::CollarOn(Right),
        Step::CollarOn(Left),
    ];
    assert_eq!(change.steps(), steps);
    // Common practice, no source: four plates, four collars, four ways along the bar; two people do half each.
    let (plate, collar, walk) = (seconds::PLATE, seconds::COLLAR, seconds::WALK);
    let effort = change.effort();
    assert_eq!(effort.alone, Secs(4 * plate + 4 * collar + 4 * walk));
    assert_eq!(effort.together, Secs(2 * plate + 2 * collar));
}

#[test]
fn another_bar_is_stripped_first() {
    let other = Loaded { bar: BarNo(1), side: loaded(&[25.0]).side };
    let change = Change::between(&bars(), Some(&loaded(&[25.0])), &other);
    assert_eq!((change.other_bar(), change.effort().moves), (Some(true), 4));
    let at = change.steps().iter().position(|step| *step == Step::TakeBar(BarNo(1)));
    assert_eq!(at, Some(4));
    // A fixed bar takes neither plates nor collars.
    let fixed = Loaded { bar: BarNo(2), side: Side::default() };
    let change = Change::between(&bars(), Some(&loaded(&[])), &fixed);
    use End::{Left, Right};
    assert_eq!(change.steps(), [Step::CollarOff(Left), Step::CollarOff(Right), Step::TakeBar(BarNo(2))]);
}

#[test]
fn what_nobody_knows_is_stripped_whole() {
    let change = Change::between(&bars(), None, &loaded(&[5.0]));
    assert_eq!(change.steps()[0], Step::StripWhatIsThere(FIRST));
    assert_eq!((change.other_bar(), change.effort().moves), (None, 2));
}

fn loads() -> impl Strategy<Value = Loaded> {
    let plates = prop::collection::vec(prop::sample::select(vec![25.0, 10.0, 5.0, 2.5]), 0..7);
    (0_u8..3, plates).prop_map(|(bar, plates)| {
        let side = if bar == 2 { Side::default() } else { loaded(&plates).side };
        Loaded { bar: BarNo(bar), side }
    })
}

/// What each end weighs after every step, and what is on at the end.
fn follow(set: &BarSet, now: &Loaded, steps: &[Step]) -> (Vec<[Mass; 2]>, BarNo, [Vec<Plate>; 2]) {
    let plates = now.side.plates().to_vec();
    let (mut bar, mut ends) = (now.bar, [plates.clone(), plates]);
    let mut collars = [set.bar(bar).unwrap().takes_plates(); 2];
    let at = |end: End| usize::from(end == End::Right);
    let mut weights = Vec::new();
    for step in steps {
        match *step {
            Step::StripWhatIsThere(_) => panic!("it is known"),
            Step::CollarOff(end) => assert!(std::mem::take(&mut collars[at(end)])),
            Step::CollarOn(end) => assert!(!std::mem::replace(&mut collars[at(end)], true)),
            Step::Strip(end, plate) => {
                assert!(!collars[at(end)]);
                assert_eq!(ends[at(end)].pop(), Some(plate));
            }
            Step::Add(end, plate) => {
                assert!(!collars[at(end)]);
                ends[at(end)].push(plate);
            }
            Step::TakeBar(other) => {
                assert!(ends.iter().all(Vec::is_empty) && collars == [false; 2]);
                bar = other;
            }
        }
        let weigh = |end: usize| {
            let collar = if collars[end] { set.bar(bar).unwrap().collar() } else { Mass::ZERO };
            ends[end].iter().fold(collar, |all, plate| all + plate.mass)
        };
        weights.push([weigh(0), weigh(1)]);
    }
    assert_eq!(collars, [set.bar(bar).unwrap().takes_plates(); 2]);
    (weights, bar, ends)
}

proptest! {
    #[test]
    fn there_and_back_handles_the_same_plates(a in loads(), b in loads()) {
        let set = bars();
        let (there, back) = (Change::between(&set, Some(&a), &b), Change::between(&set, Some(&b), &a));
        let reversed = |plates: &[Plate]| plates.iter().rev().copied().collect::<Vec<_>>();
        prop_assert_eq!(&there.strip, &reversed(&back.add));
        prop_assert_eq!(&there.add, &reversed(&back.strip));
        prop_assert_eq!(there.effort(), back.effort());
        prop_assert_eq!(there.steps().len(), back.steps().len());
    }

    #[test]
    fn steps_lead_there_and_never_tip_the_bar(a in loads(), b in loads()) {
        let set = bars();
        let steps = Change::between(&set, Some(&a), &b).steps();
        let (weights, bar, ends) = follow(&set, &a, &steps);
        prop_assert_eq!(bar, b.bar);
        prop_assert_eq!(&ends[0][..], b.side.plates());
        prop_assert_eq!(&ends[1][..], b.side.plates());
        for (step, [left, right]) in steps.iter().zip(weights) {
            let one = match step {
                Step::Strip(_, plate) | Step::Add(_, plate) => plate.mass,
                Step::CollarOff(_) | Step::CollarOn(_) => kg(2.5),
                Step::TakeBar(_) | Step::StripWhatIsThere(_) => Mass::ZERO,
            };
            prop_assert!(left.max(right) - left.min(right) <= one, "{:?}", step);
        }
    }
}

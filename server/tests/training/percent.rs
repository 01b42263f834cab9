//! Shares of the one-repetition maximum, repetitions and reserve.

use turnabout_protocol::next::PerMille;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::training::loads::Loads;
use turnabout_server::training::percent::{Basis, reserve_of, share_for, share_with_reserve};

use crate::rack::{bar, kg, mass};

#[test]
fn one_to_ten_repetitions_are_undisputed() {
    // NSCA, Essentials of Strength Training and Conditioning, 4th ed., ch. 17 (from secondary texts).
    for (reps, percent) in (1..).zip([100, 95, 93, 90, 87, 85, 83, 80, 77, 75]) {
        let share = share_for(reps).unwrap();
        assert_eq!((share.share, share.basis), (PerMille(percent * 10), Basis::Undisputed), "{reps}");
    }
}

#[test]
fn above_ten_the_table_says_which_one_it_is() {
    // Prints differ there, so only the mark and the order are checked, not the values.
    let mut lighter = share_for(10).unwrap().share;
    for reps in [11, 12, 15] {
        let share = share_for(reps).unwrap();
        assert_eq!(share.basis, Basis::BookFromMemory);
        assert!(share.share < lighter, "{reps}");
        lighter = share.share;
    }
    assert_eq!((share_for(13), share_for(14)), (share_for(15), share_for(15)));
    assert_eq!((share_for(0), share_for(16), share_for(255)), (None, None, None));
}

#[test]
fn the_load_chart_comes_out() {
    // NSCA training load chart (from secondary texts).
    for (one_rm, reps, load) in [
        ("100 kg", 5, "87 kg"),
        ("100 kg", 8, "80 kg"),
        ("100 kg", 10, "75 kg"),
        ("80 kg", 10, "60 kg"),
        ("140 kg", 3, "130.2 kg"),
        ("140 kg", 9, "107.8 kg"),
        ("250 lb", 7, "207.5 lb"),
    ] {
        assert_eq!(share_for(reps).unwrap().share.of(mass(one_rm)), mass(load), "{one_rm} {reps}");
    }
}

#[test]
fn reserve_is_ten_less_the_rating() {
    // Zourdos et al. 2016, J Strength Cond Res 30(1):267-275 (verified for 10, 9 and by its rule 8; 7 from a
    // secondary text).
    for (rating, reserve) in [(10, 0), (9, 1), (8, 2), (7, 3)] {
        assert_eq!(reserve_of(rating), Some(reserve));
    }
    // 5 to 6 stand for four to six in reserve, lighter ones for none that is said.
    for rating in [0, 4, 5, 6, 11, 255] {
        assert_eq!(reserve_of(rating), None, "{rating}");
    }
}

#[test]
fn the_derived_grid_is_the_table_moved_by_the_reserve() {
    // Computed from the undisputed rows of the NSCA table; no paper prints this grid. Rating 6 is 4 in reserve.
    for (reserve, cells) in [
        (0, [(5, 87), (8, 80), (10, 75)]),
        (1, [(5, 85), (8, 77), (9, 75)]),
        (2, [(3, 87), (5, 83), (8, 75)]),
        (3, [(3, 85), (5, 80), (7, 75)]),
        (4, [(3, 83), (5, 77), (6, 75)]),
    ] {
        for (reps, percent) in cells {
            let derived = share_with_reserve(reps, reserve).unwrap().0;
            assert_eq!((derived.share, derived.basis), (PerMille(percent * 10), Basis::Undisputed));
        }
    }
    assert_eq!(share_with_reserve(10, 2).unwrap().0.basis, Basis::BookFromMemory);
    // Nobody says more than five in reserve well (Hackett et al. 2017, J Strength Cond Res 31(8):2162-2168).
    for (reps, reserve) in [(0, 2), (5, 6), (15, 1), (255, 5)] {
        assert_eq!(share_with_reserve(reps, reserve), None);
    }
}

#[test]
fn the_worked_cell_comes_to_a_load_of_the_bar() {
    let wanted = share_with_reserve(5, 2).unwrap().0.share.of(kg("100"));
    assert_eq!((wanted, bar().at_most(wanted)), (kg("83"), Some(kg("82.5"))));
}

#[test]
fn a_share_is_whole_nanograms_rounded_down() {
    assert_eq!(PerMille(333).of(Mass::from_nanograms(10)), Mass::from_nanograms(3));
    assert_eq!(PerMille::WHOLE.of(Mass::MAX), Mass::MAX);
    assert_eq!(PerMille(100).of(mass("45 lb")).in_unit(MassUnit::Lb), "4.5");
}

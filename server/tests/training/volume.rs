//! Volume load and density.

use proptest::prelude::*;
use turnabout_protocol::command::Ending;
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{FloorMs, Mass, Millis, Secs};
use turnabout_protocol::view::NotCounted;
use turnabout_protocol::work::Work;
use turnabout_server::training::loads::Direction;
use turnabout_server::training::volume::{Moved, density, elapsed};

use crate::rack::kg;

fn set(load: &str, reps: u8) -> Moved {
    Moved {
        light: false,
        load: Some(Load::Mass(kg(load))),
        direction: Direction::Resists,
        pair: false,
        per_side: false,
        work: Work::reps(reps),
        reps: Some(reps),
        ending: Ending::Complete,
    }
}

fn minutes(minutes: i64) -> Millis {
    Millis::secs(60 * minutes)
}

/// Weakley et al. 2017, Eur J Appl Physiol 117:1877-1889: 3 sets of 10 with 80 kg and 3 of 10 with 60 kg are 4,200 kg;
/// in 14 minutes 300 kg a minute, in 8 minutes 525.
#[test]
fn volume_load_and_density_are_those_of_the_published_example() {
    let sets = [[set("80", 10); 3], [set("60", 10); 3]].concat();
    let total = sets.iter().map(|set| set.volume_load().unwrap()).fold(Mass::ZERO, |sum, set| sum + set);
    assert_eq!(total, kg("4200"));
    assert_eq!(density(total, minutes(14)), Some(kg("300")));
    assert_eq!(density(total, minutes(8)), Some(kg("525")));
    assert_eq!(density(total, Millis(0)), None);
}

#[test]
fn both_sides_and_both_of_a_pair_count_and_repetitions_with_help_do_not() {
    let lunge = Moved { per_side: true, ..set("10", 8) };
    assert_eq!(lunge.volume_load(), Ok(kg("160")));
    assert_eq!(Moved { pair: true, ..lunge }.volume_load(), Ok(kg("320")));
    let helped = Moved { ending: Ending::Helped { reps: 2 }, ..set("50", 6) };
    assert_eq!(helped.volume_load(), Ok(kg("200")));
    for ending in [Ending::Short, Ending::Failed, Ending::FormBroken, Ending::EquipmentFault] {
        assert_eq!(Moved { ending, ..set("50", 6) }.volume_load(), Ok(kg("300")), "{ending:?}");
    }
}

#[test]
fn what_cannot_be_multiplied_is_left_out_with_its_reason() {
    let ten = set("50", 10);
    let hold = Work::Hold { secs: Secs(30) };
    for (moved, why) in [
        (Moved { light: true, ..ten }, NotCounted::Light),
        (Moved { load: Some(Load::Pin { pin: 7 }), ..ten }, NotCounted::Pin),
        (Moved { direction: Direction::Assists, ..ten }, NotCounted::Assisted),
        (Moved { work: hold, reps: Some(1), ..ten }, NotCounted::Hold),
        (Moved { reps: None, ending: Ending::Stopped, ..ten }, NotCounted::RepsUnknown),
        (Moved { load: None, ..ten }, NotCounted::NoLoad),
        (Moved { load: Some(Load::Mass(Mass::ZERO)), ..ten }, NotCounted::NoLoad),
    ] {
        assert_eq!(moved.volume_load(), Err(why), "{moved:?}");
    }
}

#[test]
fn time_goes_from_the_first_repetition_to_the_last_and_no_further() {
    let at = |secs: i64| FloorMs(secs * 1_000);
    assert_eq!(elapsed([]), None);
    assert_eq!(elapsed([(at(10), at(50))]), Some(Millis::secs(40)));
    // Whichever comes first in the list.
    assert_eq!(elapsed([(at(200), at(240)), (at(10), at(50))]), Some(Millis::secs(230)));
}

proptest! {
    /// Density times minutes is the volume load, to half a nanogram a minute.
    #[test]
    fn density_is_volume_over_time_to_the_nanogram(grams in 0_i64..9_000_000, millis in 1_i64..14_400_000) {
        let volume = Mass::from_grams(grams);
        let per_minute = i128::from(density(volume, Millis(millis)).unwrap().nanograms());
        let off = per_minute * i128::from(millis) - i128::from(volume.nanograms()) * 60_000;
        prop_assert!(2 * off.abs() <= i128::from(millis), "{off}");
    }

    /// The largest set that can be stated does not leave the integer.
    #[test]
    fn a_set_is_load_times_repetitions(kilos in 1_i64..=9_000, reps in 0_u8..=255, pair: bool, per_side: bool) {
        let load = Some(Load::Mass(Mass::from_grams(kilos * 1_000)));
        let moved = Moved { load, pair, per_side, reps: Some(reps), ..set("1", 1) };
        let times = i64::from(reps) * (1 + i64::from(pair)) * (1 + i64::from(per_side));
        prop_assert_eq!(moved.volume_load(), Ok(Mass::from_nanograms(kilos * 1_000_000_000_000 * times)));
    }
}

//! Technique sets and sets on the way up.

use turnabout_protocol::units::Mass;
use turnabout_server::training::light::{LightSets, light_sets};

use crate::rack::{assisting, bar, kg, steps};

fn both(technique: &str, ramp: &str) -> Option<LightSets> {
    Some(LightSets { technique: kg(technique), ramp: Some(kg(ramp)) })
}

fn one(technique: &str) -> Option<LightSets> {
    Some(LightSets { technique: kg(technique), ramp: None })
}

#[test]
fn light_sets_are_forty_and_eighty_percent_rounded_down() {
    // Ribeiro et al. 2020, Int J Environ Res Public Health 17(18):6882 (verified): 40 % and 80 % of the training
    // load, 32 and 64 kg of 80; rounded down, computed.
    assert_eq!(light_sets(kg("80"), &bar()), both("30", "62.5"));
    assert_eq!(light_sets(kg("80"), &steps(0, 1_000, 100_000)), both("32", "64"));
}

#[test]
fn light_sets_are_never_below_the_lightest_of_the_gear_and_never_above_the_work() {
    assert_eq!(light_sets(kg("40"), &bar()), both("20", "30"));
    assert_eq!(light_sets(kg("25"), &bar()), one("20"));
    assert_eq!(light_sets(kg("20"), &bar()), one("20"));
    assert_eq!(light_sets(kg("19"), &bar()), None);
    assert_eq!(light_sets(Mass::ZERO, &steps(0, 2_500, 20_000)), one("0"));
    assert_eq!(light_sets(kg("30"), &steps(15_000, 2_500, 60_000)), both("15", "22.5"));
}

#[test]
fn on_assisting_gear_the_light_set_is_one_step_easier() {
    let gear = assisting(steps(5_000, 5_000, 50_000));
    assert_eq!(light_sets(kg("30"), &gear), one("35"));
    assert_eq!(light_sets(kg("50"), &gear), one("50"));
    assert_eq!(light_sets(kg("51"), &gear), None);
}

//! One more light set before the first working set: what is read, and where there can be none.

use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_protocol::units::Mass;
use turnabout_server::floor::config::Programme;
use turnabout_server::setup::parse_programme;
use turnabout_server::training::block::Technique;

use crate::small::{FLOOR, PROGRAMME, changed, floor, told_of};

/// The small programme with other words for the technique set of the bench press.
fn bench(technique: &str) -> String {
    changed(PROGRAMME, "{ reps = 3, load = \"20 kg\" }", technique)
}

fn read(text: &str) -> Programme {
    let file = parse_programme("programme.toml", text, &floor().floor);
    file.unwrap_or_else(|mistakes| panic!("{mistakes}\n{text}")).programme
}

fn technique(text: &str, client: u32) -> Technique {
    read(text).groups[&GroupId(1)].blocks[0].legs[0].sets[&ClientId(client)].technique
}

#[test]
fn one_more_light_set_is_read_for_all_and_for_one() {
    let load = Some(Mass::from_grams(20_000).into());
    let all = bench("{ reps = 3, load = \"20 kg\", ramp = true }");
    for client in [104, 105] {
        assert_eq!(technique(&all, client), Technique { reps: 3, load, ramp: true });
    }
    let but_one = changed(&all, "client = 105, ", "client = 105, technique_ramp = false, ");
    assert!(technique(&but_one, 104).ramp && !technique(&but_one, 105).ramp);
    let only_one = changed(PROGRAMME, "client = 105, ", "client = 105, technique_ramp = true, ");
    assert!(!technique(&only_one, 104).ramp && technique(&only_one, 105).ramp);
    assert!(!technique(PROGRAMME, 104).ramp, "not unless said");
    let row = serde_json::to_string(&read(&all)).expect("a programme");
    assert_eq!(serde_json::from_str::<Programme>(&row).expect("the same"), read(&all));
}

#[test]
fn there_is_none_before_a_hold_nor_where_nothing_is_set_nor_where_the_stack_helps() {
    let ramp = "technique = { ramp = true }";
    let told = |floor: &str, text: &str| told_of(floor, text);
    let hold = changed(&bench("{ ramp = true }"), "reps = 10", "reps = \"30 s\"");
    assert_eq!(
        told(FLOOR, &hold),
        [
            "programme.toml:25:22: group[1].block[1].exercise[1].technique.ramp: found true, allowed false: no set on the way up comes before a hold"
        ]
    );
    // Of one client alone, where it is said for that one.
    let one = changed(PROGRAMME, "reps = 8, load", "reps = [\"30 s\", 8, 8], technique_ramp = true, load");
    assert_eq!(
        told(FLOOR, &one),
        [
            "programme.toml:26:65: group[1].block[1].exercise[1].own[1].technique_ramp: found true, allowed false: no set on the way up comes before a hold"
        ]
    );
    let plain = changed(PROGRAMME, "reps = 15", &format!("{ramp}\nreps = 15"));
    assert_eq!(
        told(FLOOR, &plain),
        [
            "programme.toml:37:22: group[1].block[2].exercise[1].technique.ramp: found true, allowed false: this exercise has nothing to set"
        ]
    );
    let assisting = changed(FLOOR, "last = \"50 kg\"\n", "last = \"50 kg\"\nassists = true\n");
    let row = changed(PROGRAMME, "load = \"30 kg\"", &format!("load = \"30 kg\"\n{ramp}"));
    assert_eq!(told(FLOOR, &row), [""; 0]);
    assert_eq!(
        told(&assisting, &row),
        [
            "programme.toml:32:22: group[1].block[1].exercise[2].technique.ramp: found true, allowed false: the stack helps there, and no share of it is lighter"
        ]
    );
    for of in [plain, row] {
        let without = changed(&of, "ramp = true", "ramp = false");
        assert_eq!(told(&assisting, &without), [""; 0], "{of}");
    }
    let word = bench("{ ramp = \"true\" }");
    assert_eq!(
        told(FLOOR, &word),
        [
            "programme.toml:25:22: group[1].block[1].exercise[1].technique.ramp: found \"true\", allowed true or false (write it without quotation marks: true)"
        ]
    );
}

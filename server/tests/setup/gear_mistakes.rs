//! Gear that a floor file may say, and every mistake in it with its place and words.

use turnabout_protocol::units::Mass;
use turnabout_protocol::words::Words;
use turnabout_server::loading::gear::{AddOn, Bar, Ends, Gear, Pins, Ratio};
use turnabout_server::setup::parse_floor;

use crate::small::{FLOOR, PROGRAMME, changed, told_of, told_of_floor};

/// What stands below `[station.bar]` in the small floor file, from line 15 on.
const BAR: &str = "bar = \"20 kg\"\ncollar = \"0 kg\"\nplates = [ { mass = \"10 kg\", count = 2 }, { mass = \"2.5 kg\", count = 4 } ]\n";

/// What stands below `[station.stack]`, from line 23 on.
const STACK: &str = "first = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\n";

fn kg(grams: i64) -> Mass {
    Mass::from_grams(grams)
}

/// What is told of other gear than the usual, written from line 15 on.
fn told(usual: &str, other: &str) -> Vec<String> {
    told_of_floor(&changed(FLOOR, usual, other))
}

fn check(usual: &str, cases: &[(&str, &[&str])]) {
    for (other, expected) in cases {
        let expected: Vec<String> = expected.iter().map(|line| format!("floor.toml:{line}")).collect();
        assert_eq!(told(usual, other), expected, "{other}");
    }
}

fn gear_of(usual: &str, other: &str, key: &str) -> Gear {
    let read = parse_floor("floor.toml", &changed(FLOOR, usual, other), None)
        .unwrap_or_else(|mistakes| panic!("{mistakes}"));
    read.floor.stations.into_values().find(|station| station.key.as_str() == key).expect("the station").gear
}

fn bar_of(other: &str) -> Bar {
    let Gear::Bar(bar) = gear_of(BAR, other, "bench-1") else { panic!("a bar") };
    bar
}

#[test]
fn a_choice_of_bars_is_read() {
    let bar = bar_of(
        r#"bars = [
    { mass = "20 kg", sleeve = 415, rated = "300 kg" },
    { mass = "15 kg" },
    { mass = "25 kg", name = { en = "Trap bar", de = "Hexstange" } },
    { mass = "12.5 kg", fixed = true },
]
collar = "2.5 kg"
plates = [
    { mass = "10 kg", count = 2, full = false, thickness = 30 },
    { mass = "10 kg", count = 4, thickness = 60 },
    { mass = "5 kg", count = 2, full = true },
]
"#,
    );
    assert_eq!(bar.bar.ends, Ends::Sleeves { length_mm: Some(415), rated: Some(kg(300_000)) });
    assert_eq!(bar.others[0].mass, kg(15_000));
    assert_eq!(bar.others[1].name, Some(Words { en: "Trap bar".into(), de: "Hexstange".into() }));
    assert!(bar.others[2].is_fixed());
    // Of one mass the full plate stands first.
    let plates: Vec<_> = bar.plates.iter().map(|p| (p.mass, p.count, p.full, p.thickness_mm)).collect();
    let expected = [
        (kg(10_000), 4, None, Some(60)),
        (kg(10_000), 2, Some(false), Some(30)),
        (kg(5_000), 2, Some(true), None),
    ];
    assert_eq!(plates, expected);
    let set = bar.set().unwrap();
    assert_eq!((set.bars().len(), set.inventory().kinds().len()), (4, 3));
}

#[test]
fn one_bar_is_a_choice_of_one() {
    let bars = BAR.replace("bar = \"20 kg\"", "bars = [{ mass = \"20 kg\" }]");
    assert_eq!(bar_of(&bars), bar_of(BAR));
    assert_eq!(bar_of(BAR).set().unwrap().bars().len(), 1);
}

#[test]
fn a_rack_of_fixed_bars_needs_no_collars() {
    let bar = bar_of("bars = [{ mass = \"10 kg\", fixed = true }, { mass = \"15 kg\", fixed = true }]\n");
    assert_eq!(Gear::Bar(bar).loads_up_to(Mass::MAX), [kg(10_000), kg(15_000)]);
}

#[test]
fn mistakes_in_a_choice_of_bars_are_told() {
    let collar = "collar = \"2.5 kg\"\n";
    let cases: &[(&str, &[&str])] = &[
        (
            &format!("bar = \"20 kg\"\nbars = [{{ mass = \"20 kg\" }}]\n{collar}"),
            &[
                "15:7: station[1].bar.bar: found bar and bars, allowed one of them (write the usual bar first among bars)",
            ],
        ),
        (
            &format!("bars = []\n{collar}"),
            &["15:8: station[1].bar.bars: found a list of 0, allowed a list of 1 to 32"],
        ),
        (
            &format!("bars = [{{ mass = \"20 kg\" }}, {{ mass = \"45 lb\" }}]\n{collar}"),
            &[
                "15:38: station[1].bar.bars[2].mass: found lb, allowed kg: kilograms and pounds are never mixed at one station",
            ],
        ),
        (
            &format!("bars = [{{ mass = \"20 kg\" }}, {{ mass = \"20 kg\" }}]\n{collar}"),
            &[
                "15:38: station[1].bar.bars[2].mass: found 20 kg again, allowed once; it stands in line 15 too (choose another, or take one of the two away)",
            ],
        ),
        (
            &format!("bars = [{{ mass = \"-20 kg\" }}]\n{collar}"),
            &[
                "15:18: station[1].bar.bars[1].mass: found \"-20 kg\", allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals",
            ],
        ),
        (
            &format!("bars = [{{ mass = \"20 kg\", rated = \"24 kg\" }}]\n{collar}"),
            &[
                "15:35: station[1].bar.bars[1].rated: found 24 kg, allowed 25 kg or more: the bar with its collars weighs that (the rating is for the bar itself, its collars and plates)",
            ],
        ),
        (
            &format!("bars = [{{ mass = \"20 kg\", sleeve = 0 }}]\n{collar}"),
            &["15:36: station[1].bar.bars[1].sleeve: found 0, allowed a whole number, 1 to 1000"],
        ),
        (
            "bars = [{ mass = \"20 kg\", fixed = true, sleeve = 400 }]\n",
            &[
                "15:50: station[1].bar.bars[1].sleeve: found this of a fixed bar, allowed of a bar that takes plates",
            ],
        ),
        (
            "bars = [{ mass = \"20 kg\", fixed = true }]\nplates = [{ mass = \"5 kg\", count = 2 }]\n",
            &["14:1: station[1].bar.plates: found plates, allowed none: every bar here is fixed"],
        ),
        (
            "bars = [{ mass = \"20 kg\", name = 3 }]\n",
            &[
                "14:1: station[1].bar.collar: found nothing, allowed a mass such as \"82.5 kg\" or \"45 lb\", at most 9000 kg, at most 4 decimals",
                "15:34: station[1].bar.bars[1].name: found 3, allowed text in quotation marks, 1 to 40 characters on one line, or one for each language: { en = \"\", de = \"\" }",
            ],
        ),
    ];
    check(BAR, cases);
}

#[test]
fn mistakes_in_plates_are_told() {
    let bars = "bars = [{ mass = \"20 kg\", sleeve = 100 }]\ncollar = \"0 kg\"\n";
    let cases: &[(&str, &[&str])] = &[
        (
            &format!("{bars}plates = []\n"),
            &["17:10: station[1].bar.plates: found a list of 0, allowed a list of 1 to 16"],
        ),
        (
            &format!("{bars}plates = [{{ mass = \"20 kg\", count = 2, thickness = 120 }}]\n"),
            &[
                "17:52: station[1].bar.plates[1].thickness: found 120 mm, allowed at most 100 mm: the longest sleeve here (sleeve is the room for plates on one side, thickness that of one plate)",
            ],
        ),
        (
            &format!("{bars}plates = [{{ mass = \"20 kg\", count = 2, thickness = -1 }}]\n"),
            &["17:52: station[1].bar.plates[1].thickness: found -1, allowed a whole number, 1 to 150"],
        ),
        (
            &format!(
                "{bars}plates = [{{ mass = \"20 kg\", count = 2 }}, {{ mass = \"20 kg\", count = 2, full = true }}]\n"
            ),
            &[
                "17:51: station[1].bar.plates[2].mass: found 20 kg again, allowed once; it stands in line 17 too (choose another, or take one of the two away)",
            ],
        ),
    ];
    check(BAR, cases);
}

#[test]
fn a_stack_is_read_with_all_it_may_say() {
    let stack = "labels = [\"5 kg\", \"12 kg\", \"18.5 kg\"]\nadd_ons = [{ mass = \"1.25 kg\", count = 1 }, { mass = \"2.5 kg\", count = 2 }]\nratio = \"2:1\"\nassists = true\n";
    let Gear::Stack(stack) = gear_of(STACK, stack, "row-1") else { panic!("a stack") };
    assert_eq!(stack.pins, Pins::Listed { listed: vec![kg(5_000), kg(12_000), kg(18_500)] });
    // The heaviest first.
    let add_ons = [AddOn { mass: kg(2_500), count: 2 }, AddOn { mass: kg(1_250), count: 1 }];
    assert_eq!((stack.add_ons.as_slice(), stack.assists), (add_ons.as_slice(), true));
    assert_eq!(Some(stack.ratio), Ratio::new(2, 1));
}

#[test]
fn mistakes_in_stacks_are_told() {
    let cases: &[(&str, &[&str])] = &[
        ("labels = []\n", &["23:10: station[2].stack.labels: found a list of 0, allowed a list of 1 to 200"]),
        (
            "labels = [1, 2]\n",
            &[
                "23:11: station[2].stack.labels[1]: found 1, allowed a mass with its unit such as \"40 kg\" or \"90 lb\" (where the labels are mere numbers write how many there are, such as numbers = 20)",
            ],
        ),
        (
            "labels = [\"5 kg\", \"15 kg\", \"10 kg\", \"15 kg\", \"20 lb\"]\n",
            &[
                "23:28: station[2].stack.labels[3]: found 10 kg, allowed more than 15 kg: labels stand in ascending order",
                "23:37: station[2].stack.labels[4]: found 15 kg again, allowed once; it stands in line 23 too (choose another, or take one of the two away)",
                "23:46: station[2].stack.labels[5]: found lb, allowed kg: kilograms and pounds are never mixed at one station",
            ],
        ),
        (
            "labels = [\"5 kg\"]\nstep = \"5 kg\"\n",
            &[
                "24:8: station[2].stack.step: found this beside labels, allowed either first, step and last, or labels",
            ],
        ),
        (
            "labels = [\"5 kg\"]\nratio = \"2:0\"\n",
            &[
                "24:9: station[2].stack.ratio: found \"2:0\", allowed a ratio such as \"2:1\", where 2 kg of the stack are 1 kg at the hand, each 1 to 8",
            ],
        ),
        (
            "labels = [\"5 kg\"]\nadd_ons = [{ mass = \"1 lb\", count = 9 }]\n",
            &[
                "24:21: station[2].stack.add_ons[1].mass: found lb, allowed kg: kilograms and pounds are never mixed at one station",
                "24:37: station[2].stack.add_ons[1].count: found 9, allowed a whole number, 1 to 8",
            ],
        ),
        (
            "first = \"5 kg\"\nstep = \"5 kg\"\nlast = \"1000 kg\"\nadd_ons = [{ mass = \"0.1 kg\", count = 8 }, { mass = \"1 kg\", count = 8 }]\n",
            &[
                "22:1: station[2].stack.add_ons: found add-ons that make 8000 loads or more, allowed fewer (name only the small weights that are kept at this station)",
            ],
        ),
    ];
    check(STACK, cases);
}

#[test]
fn where_a_stack_helps_the_technique_set_has_no_less_help_than_the_work() {
    let helping = changed(FLOOR, STACK, &format!("{STACK}assists = true\n"));
    let with = |load: &str| {
        let own = format!("load = \"30 kg\"\ntechnique = {{ reps = 3, load = \"{load}\" }}");
        changed(PROGRAMME, "load = \"30 kg\"", &own)
    };
    assert_eq!(told_of(&helping, &with("40 kg")), Vec::<String>::new());
    let told = told_of(&helping, &with("20 kg"));
    assert_eq!(told.len(), 2);
    assert!(
        told[0]
            .ends_with("found 20 kg for the technique set, allowed at least the load of client 104, 30 kg")
    );
}

/// The mat of the small floor with a rack of dumbbells, from line 30 on.
fn with_rack(rack: &str) -> String {
    changed(FLOOR, "at = [0, 0]\n", &format!("at = [0, 0]\n[station.dumbbells]\n{rack}"))
}

fn rack_of(rack: &str) -> Vec<(Mass, u8)> {
    let text = with_rack(rack).replace("gear = \"plain\"", "gear = \"dumbbells\"");
    let read = parse_floor("floor.toml", &text, None).unwrap_or_else(|mistakes| panic!("{mistakes}"));
    let mat = read.floor.stations.into_values().find(|station| station.key.as_str() == "mat");
    let Some(Gear::Dumbbells(rack)) = mat.map(|station| station.gear) else { panic!("a rack") };
    rack.pairs.iter().map(|pairs| (pairs.mass, pairs.count)).collect()
}

#[test]
fn a_rack_of_dumbbells_is_read() {
    let steps = "first = \"2 kg\"\nstep = \"2 kg\"\nlast = \"6 kg\"\n";
    assert_eq!(rack_of(steps), [(kg(2_000), 1), (kg(4_000), 1), (kg(6_000), 1)]);
    assert_eq!(rack_of(&format!("{steps}count = 3\n"))[2], (kg(6_000), 3));
    let listed = "pairs = [{ mass = \"10 kg\", count = 2 }, { mass = \"7.5 kg\" }]\n";
    assert_eq!(rack_of(listed), [(kg(7_500), 1), (kg(10_000), 2)]);
}

#[test]
fn mistakes_in_a_rack_of_dumbbells_are_told() {
    let told = |rack| {
        let text = with_rack(rack).replace("gear = \"plain\"", "gear = \"dumbbells\"");
        told_of_floor(&text)
    };
    let cases: &[(&str, &[&str])] = &[
        (
            "pairs = []\n",
            &["31:9: station[3].dumbbells.pairs: found a list of 0, allowed a list of 1 to 100"],
        ),
        (
            "pairs = [{ mass = \"5 kg\", count = 0 }, { mass = \"5 kg\" }, { mass = \"9 lb\" }]\nstep = \"1 kg\"\n",
            &[
                "31:35: station[3].dumbbells.pairs[1].count: found 0, allowed a whole number, 1 to 20",
                "31:49: station[3].dumbbells.pairs[2].mass: found 5 kg again, allowed once; it stands in line 31 too (choose another, or take one of the two away)",
                "31:68: station[3].dumbbells.pairs[3].mass: found lb, allowed kg: kilograms and pounds are never mixed at one station",
                "32:8: station[3].dumbbells.step: found this beside pairs, allowed either first, step, last and count, or pairs",
            ],
        ),
        (
            "first = \"2 kg\"\nstep = \"2 kg\"\nlast = \"5 kg\"\n",
            &[
                "33:8: station[3].dumbbells.last: found 5 kg, allowed 2 kg or whole steps of 2 kg above it, at most 200 labels",
            ],
        ),
        (
            "pairs = [{ mass = \"5 kg\" }]\n[station.stack]\nlabels = [\"5 kg\"]\n",
            &[
                "30:1: station[3].dumbbells: found a stack and a rack of dumbbells, allowed one of them (make two stations of them)",
            ],
        ),
    ];
    for (rack, expected) in cases {
        let expected: Vec<String> = expected.iter().map(|line| format!("floor.toml:{line}")).collect();
        assert_eq!(told(rack), expected, "{rack}");
    }
}

#[test]
fn dumbbells_of_a_rack_have_loads_and_any_others_have_none() {
    let rack = with_rack("first = \"2 kg\"\nstep = \"2 kg\"\nlast = \"20 kg\"\n");
    let row =
        "[[exercise]]\nkey = \"dumbbell-row\"\ngear = \"dumbbells\"\n[[exercise]]\nkey = \"bench-press\"";
    let floor = changed(&rack, "[[exercise]]\nkey = \"bench-press\"", row).replace("[[exercise]]\nkey = \"push-up\"\nname = \"Push-up\"\ngear = \"plain\"\nstarts_with = \"lowering\"\nspot = \"none\"\n", "");
    let with = |load: &str| {
        let own = format!("use = \"dumbbell-row\"\n{load}reps = 15");
        changed(PROGRAMME, "use = \"push-up\"\nreps = 15", &own)
    };
    assert_eq!(told_of(&floor, &with("load = \"12 kg\"\n")), Vec::<String>::new());
    let told = told_of(&floor, &with("load = \"13 kg\"\n"));
    assert!(told[0].ends_with("found 13 kg, allowed what a station for dumbbell-row can be set to: the nearest are 12 kg and 14 kg"), "{told:?}");
    let told = told_of(&floor, &with(""));
    assert!(told[0].ends_with("allowed a load: this exercise uses a rack of dumbbells (write it with its unit, such as load = \"60 kg\")"), "{told:?}");
}

#[test]
fn an_odd_plate_is_a_hint_and_no_mistake() {
    let plates = "bar = \"20 kg\"\ncollar = \"0 kg\"\nplates = [{ mass = \"5 kg\", count = 3 }, { mass = \"2 kg\", count = 2 }]\n";
    let read =
        parse_floor("floor.toml", &changed(FLOOR, BAR, plates), None).unwrap_or_else(|m| panic!("{m}"));
    let told = read.hints.iter().map(|hint| (hint.place.as_ref().map(ToString::to_string), hint.to_string()));
    let odd = "station[1].bar.plates[1].count: found 3, an odd number: one of them is never used, since both sides carry the same";
    assert_eq!(told.collect::<Vec<_>>(), [(Some("17:36".to_owned()), odd.to_owned())]);
    assert_eq!(parse_floor("floor.toml", FLOOR, None).unwrap_or_else(|m| panic!("{m}")).hints, []);
}

#[test]
fn an_exercise_is_done_where_a_load_means_the_same_everywhere() {
    let other = "[[station]]\nkey = \"pull-up\"\nname = \"Pull-up\"\nat = [9, 9]\n[station.stack]\nfirst = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\nassists = true\n\n[[coach]]";
    let floor = changed(FLOOR, "[[coach]]", other);
    assert_eq!(
        told_of_floor(&floor),
        [
            "floor.toml:51:1: exercise[2].stations: found stations where the stack helps and others where it does not, allowed one of the two (name the stations of each, and make two exercises of them)"
        ]
    );
    let apart = changed(&floor, "key = \"cable-row\"\n", "key = \"cable-row\"\nstations = [\"row-1\"]\n");
    assert_eq!(told_of_floor(&apart), Vec::<String>::new());
}

/// The small floor whose mat has a belt, and a dip for it.
fn with_belt(belt: &str) -> String {
    let mat = "key = \"mat\"\nname = \"Mat\"\nat = [0, 0]\n";
    let text = changed(FLOOR, mat, &format!("{mat}[station.belt]\n{belt}"));
    changed(&text, "gear = \"plain\"", "gear = \"belt\"")
}

#[test]
fn a_belt_is_read_and_what_is_wrong_with_it_told() {
    let text = with_belt("plates = [{ mass = \"5 kg\", count = 1 }, { mass = \"20 kg\", count = 3 }]\n");
    let floor = parse_floor("floor.toml", &text, None).unwrap_or_else(|mistakes| panic!("{mistakes}"));
    assert!(floor.hints.is_empty(), "an odd plate is of use on a belt");
    let mat =
        floor.floor.stations.into_values().find(|station| station.key.as_str() == "mat").expect("the mat");
    let loads = mat.gear.loads_up_to(Mass::MAX);
    assert_eq!(loads, [0, 5, 20, 25, 40, 45, 60, 65].map(|mass| kg(mass * 1_000)));
    let cases: &[(&str, &[&str])] = &[
        ("", &["30:1: station[3].belt.plates: found nothing, allowed a list of 1 to 16"]),
        (
            "plates = [{ mass = \"5 kg\", count = 1 }, { mass = \"5 lb\", count = 1 }]\n",
            &[
                "31:50: station[3].belt.plates[2].mass: found lb, allowed kg: kilograms and pounds are never mixed at one station",
            ],
        ),
        (
            "plates = [{ mass = \"5 kg\", count = 0 }]\n",
            &["31:36: station[3].belt.plates[1].count: found 0, allowed a whole number, 1 to 100"],
        ),
    ];
    for (belt, expected) in cases {
        let expected: Vec<String> = expected.iter().map(|line| format!("floor.toml:{line}")).collect();
        assert_eq!(told_of_floor(&with_belt(belt)), expected, "{belt}");
    }
}

#[test]
fn no_load_at_all_is_a_load_on_a_belt_alone() {
    let floor = with_belt("plates = [{ mass = \"5 kg\", count = 2 }]\n");
    let load = |load: &str| {
        let push_up = format!("use = \"push-up\"\nload = \"{load}\"\n");
        told_of(&floor, &changed(PROGRAMME, "use = \"push-up\"\n", &push_up))
    };
    assert_eq!((load("0 kg"), load("10 kg")), (Vec::new(), Vec::new()));
    let told = load("7.5 kg");
    assert!(
        told.len() == 1
            && told[0]
                .contains("found 7.5 kg, allowed what a station for push-up can be set to: the nearest are 5 kg and 10 kg"),
        "{told:?}"
    );
    let bar = told_of(FLOOR, &changed(PROGRAMME, "load = \"40 kg\"", "load = \"0 kg\""));
    assert!(bar.iter().any(|line| line.contains("above zero")), "{bar:?}");
}

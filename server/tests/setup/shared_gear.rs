//! Gear that several stations share, and every mistake in it with its place and words.

use turnabout_protocol::units::Mass;
use turnabout_server::floor::config::Floor;
use turnabout_server::loading::gear::Gear;
use turnabout_server::setup::parse_floor;

use crate::small::{FLOOR, changed, told_of_floor};

/// What stands below `[station.bar]` in the small floor file, from line 15 on.
const BAR: &str = "bar = \"20 kg\"\ncollar = \"0 kg\"\nplates = [ { mass = \"10 kg\", count = 2 }, { mass = \"2.5 kg\", count = 4 } ]\n";

/// The same bar with the plates of a tree.
const FROM_TREE: &str = "bar = \"20 kg\"\ncollar = \"0 kg\"\ntree = \"tree-1\"\n";

/// That tree, after everything else.
const TREE: &str = "[[tree]]\nkey = \"tree-1\"\nname = \"Tree by the door\"\nplates = [ { mass = \"10 kg\", count = 2 }, { mass = \"2.5 kg\", count = 4 } ]\n";

fn read(text: &str) -> Floor {
    parse_floor("floor.toml", text, None).unwrap_or_else(|mistakes| panic!("{mistakes}")).floor
}

/// The small floor with such a bar, and this at its end.
fn with(bar: &str, end: &str) -> String {
    changed(FLOOR, BAR, bar) + end
}

#[test]
fn a_bar_has_the_plates_of_its_tree() {
    let (own, shared) = (read(FLOOR), read(&with(FROM_TREE, TREE)));
    let gear = |floor: &Floor| floor.stations.values().next().map(|station| station.gear.clone());
    let (Some(Gear::Bar(own)), Some(Gear::Bar(bar))) = (gear(&own), gear(&shared)) else { panic!("bars") };
    assert_eq!(bar.plates, own.plates);
    let key = bar.tree.clone().expect("the tree");
    assert_eq!((key.as_str(), shared.trees[&key].name.as_str()), ("tree-1", "Tree by the door"));
    assert_eq!(shared.trees[&key].plates, own.plates);
    assert_eq!(Gear::Bar(bar).loads_up_to(Mass::MAX), Gear::Bar(own).loads_up_to(Mass::MAX));
}

#[test]
fn mistakes_about_trees_are_told() {
    let both = format!("{BAR}tree = \"tree-1\"\n");
    let pounds = TREE.replace("kg", "lb");
    let mixed = TREE.replace("2.5 kg", "5 lb");
    let none = "[[tree]]\nkey = \"tree-1\"\nname = \"Tree by the door\"\n";
    let twice = format!("{TREE}{}", TREE.replace("by the door", "by the wall"));
    let second = format!("{TREE}{}", TREE.replace("tree-1", "tree-2").replace("by the door", "by the wall"));
    let fixed = "bars = [{ mass = \"10 kg\", fixed = true }]\ntree = \"tree-1\"\n";
    let slip = FROM_TREE.replace("tree-1", "tre-1");
    let hidden = TREE.replace("tree-1", "Tree 1");
    let cases: &[(String, &[&str])] = &[
        (
            with(&slip, TREE),
            &[
                "17:8: station[1].bar.tree: found \"tre-1\", allowed the key of a [[tree]] of this file (did you mean \"tree-1\"?)",
            ],
        ),
        (
            with(&both, TREE),
            &[
                "18:8: station[1].bar.tree: found a tree beside plates, allowed one of them (write plates that are kept elsewhere among those of the tree)",
            ],
        ),
        (with(FROM_TREE, none), &["53:1: tree[1].plates: found nothing, allowed a list of 1 to 16"]),
        (
            with(FROM_TREE, &pounds),
            &[
                "17:8: station[1].bar.tree: found lb, allowed kg: kilograms and pounds are never mixed at one station",
            ],
        ),
        (
            with(FROM_TREE, &mixed),
            &[
                "56:52: tree[1].plates[2].mass: found lb, allowed kg: kilograms and pounds are never mixed at one station",
            ],
        ),
        (
            with(FROM_TREE, &twice),
            &[
                "58:7: tree[2].key: found tree-1 again, allowed once; it stands in line 54 too (choose another, or take one of the two away)",
            ],
        ),
        (
            with(FROM_TREE, &second),
            &[
                "58:7: tree[2].key: found this, and no station that takes anything from it, allowed one that stations name (write its key at the stations that share it, or take it away)",
            ],
        ),
        (
            with(fixed, TREE),
            &["14:1: station[1].bar.tree: found plates, allowed none: every bar here is fixed"],
        ),
        // A tree whose key could not be read may be the one that is meant.
        (
            with(FROM_TREE, &hidden),
            &[
                "54:7: tree[1].key: found \"Tree 1\", allowed a key in quotation marks: 1 to 32 of a-z, 0-9 and -, beginning with a letter (such as \"tree-1\")",
            ],
        ),
    ];
    for (text, expected) in cases {
        let expected: Vec<String> = expected.iter().map(|line| format!("floor.toml:{line}")).collect();
        assert_eq!(told_of_floor(text), expected, "{text}");
    }
}

/// The small floor whose mat is a place with a rack, with an exercise for it, and this at its end.
fn with_rack(mat: &str, end: &str) -> String {
    let mat = format!("key = \"mat\"\nname = \"Mat\"\nat = [0, 0]\n{mat}");
    let press = "gear = \"plain\"\nstarts_with = \"lowering\"";
    let text = changed(FLOOR, "key = \"mat\"\nname = \"Mat\"\nat = [0, 0]\n", &mat);
    changed(&text, press, &press.replace("plain", "dumbbells")) + end
}

/// A rack, after everything else.
const RACK: &str = "[[rack]]\nkey = \"rack-a\"\nname = \"Rack A\"\nfirst = \"10 kg\"\nstep = \"5 kg\"\nlast = \"20 kg\"\ncount = 2\n";

#[test]
fn a_station_has_the_pairs_of_its_rack() {
    let floor = read(&with_rack("rack = \"rack-a\"\n", RACK));
    let mat = floor.stations.values().find(|station| station.key.as_str() == "mat").expect("the mat");
    let Gear::Dumbbells(dumbbells) = &mat.gear else { panic!("dumbbells") };
    let key = dumbbells.rack.clone().expect("the rack");
    assert_eq!((key.as_str(), floor.racks[&key].name.as_str()), ("rack-a", "Rack A"));
    assert_eq!(dumbbells.pairs, floor.racks[&key].pairs);
    let counts: Vec<_> =
        dumbbells.pairs.iter().map(|pairs| (pairs.mass.in_unit(dumbbells.unit), pairs.count)).collect();
    assert_eq!(counts, [("10".to_owned(), 2), ("15".to_owned(), 2), ("20".to_owned(), 2)]);
}

#[test]
fn mistakes_about_racks_are_told() {
    let own = "rack = \"rack-a\"\n[station.dumbbells]\npairs = [{ mass = \"10 kg\" }]\n";
    let stack = "rack = \"rack-a\"\n[station.stack]\nfirst = \"5 kg\"\nstep = \"5 kg\"\nlast = \"10 kg\"\n";
    let cases: &[(String, &[&str])] = &[
        (
            with_rack("rack = \"rack-b\"\n", RACK),
            &[
                "30:8: station[3].rack: found \"rack-b\", allowed the key of a [[rack]] of this file (did you mean \"rack-a\"?)",
            ],
        ),
        (
            with_rack(own, RACK),
            &[
                "30:8: station[3].rack: found a rack beside dumbbells, allowed one of them (write pairs that are kept elsewhere among those of the rack)",
            ],
        ),
        (
            with_rack(stack, RACK),
            &[
                "30:8: station[3].rack: found a stack and a rack of dumbbells, allowed one of them (make two stations of them)",
            ],
        ),
        (
            format!("{FLOOR}{RACK}"),
            &[
                "54:7: rack[1].key: found this, and no station that takes anything from it, allowed one that stations name (write its key at the stations that share it, or take it away)",
            ],
        ),
        (
            with_rack("rack = \"rack-a\"\n", "[[rack]]\nkey = \"rack-a\"\nname = \"Rack A\"\npairs = []\n"),
            &["57:9: rack[1].pairs: found a list of 0, allowed a list of 1 to 100"],
        ),
    ];
    for (text, expected) in cases {
        let expected: Vec<String> = expected.iter().map(|line| format!("floor.toml:{line}")).collect();
        assert_eq!(told_of_floor(text), expected, "{text}");
    }
}

//! How an exercise says its load: what each rule comes to, and every kind of mistake in one.

use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::PerMille;
use turnabout_protocol::units::Mass;
use turnabout_server::floor::config::Programme;
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::training::block::Prescription;
use turnabout_server::training::rule::LoadRule;

use crate::small::{FLOOR, PROGRAMME, changed, floor, told_of};

/// The small programme, where both clients of the group have maxima for the bench and the row.
fn with_max() -> String {
    let max = "max = { bench-press = \"60 kg\", cable-row = \"45.5 kg\" }\n";
    let text = changed(PROGRAMME, "name = \"Dara\"\n", &format!("name = \"Dara\"\n{max}"));
    changed(&text, "name = \"Edda\"\n", &format!("name = \"Edda\"\n{max}"))
}

/// The same with other lines for the bench, none of a client's own.
fn bench(lines: &str) -> String {
    let text = changed(&with_max(), "own = [ { client = 105, reps = 8, load = \"25 kg\" } ]\n", "");
    changed(&text, "load = \"40 kg\"", lines)
}

fn read(text: &str) -> Programme {
    let file = parse_programme("programme.toml", text, &floor().floor);
    file.unwrap_or_else(|mistakes| panic!("{mistakes}\n{text}")).programme
}

fn press(text: &str, client: u32) -> Prescription {
    read(text).groups[&GroupId(1)].blocks[0].legs[0].sets[&ClientId(client)].clone()
}

fn rules(text: &str, client: u32) -> Vec<LoadRule> {
    press(text, client).rounds.iter().map(|target| target.load.expect("a bar has a load")).collect()
}

const fn kg(kg: i64) -> LoadRule {
    LoadRule::Fixed { load: Load::Mass(Mass::from_grams(kg * 1_000)) }
}

const fn share(share: u16) -> LoadRule {
    LoadRule::ShareOfMax { share: PerMille(share) }
}

/// What is told about a programme, without the name of the file.
fn told(floor: &str, programme: &str) -> Vec<String> {
    let lines = told_of(floor, programme);
    lines.iter().map(|line| line.strip_prefix("programme.toml:").expect("a place").to_owned()).collect()
}

#[test]
fn maxima_are_kept_by_exercise() {
    let dara = &read(&with_max()).clients[&ClientId(104)];
    let max: Vec<(u16, i64)> = dara.max.iter().map(|(id, mass)| (id.0, mass.nanograms())).collect();
    assert_eq!(max, [(1, 60_000_000_000_000), (2, 45_500_000_000_000)]);
    assert!(read(&with_max()).clients[&ClientId(106)].max.is_empty());
}

#[test]
fn every_rule_is_read() {
    for (said, rule) in [
        ("\"40 kg\"", kg(40)),
        ("\"70 %\"", share(700)),
        ("\"72.5%\"", share(725)),
        ("\"0.1 %\"", share(1)),
        ("\"99.9 %\"", share(999)),
        ("\"as-last-time\"", LoadRule::AsLastTime),
        ("\"find-it\"", LoadRule::FindIt),
        ("\"by-reserve\"\nreserve = 5", LoadRule::ForReserve { reserve: 5 }),
        ("\"by-reserve\"\nreserve = 0", LoadRule::ForReserve { reserve: 0 }),
    ] {
        assert_eq!(rules(&bench(&format!("load = {said}")), 104), [rule], "{said}");
    }
}

#[test]
fn masses_shares_and_by_reserve_go_round_by_round() {
    let text = bench("load = [\"70 %\", \"40 kg\", \"by-reserve\"]\nreserve = 2");
    assert_eq!(rules(&text, 105), [share(700), kg(40), LoadRule::ForReserve { reserve: 2 }]);
}

#[test]
fn a_client_has_a_rule_of_its_own_and_a_reserve_of_its_own() {
    let own = "own = [ { client = 105, reps = 8, load = \"25 kg\" } ]";
    let of_edda = |own: &str| {
        bench(&format!("load = \"by-reserve\"\nreserve = 2\nown = [ {{ client = 105, {own} }} ]"))
    };
    assert!(with_max().contains(own));
    let text = of_edda("reserve = 3");
    assert_eq!(rules(&text, 104), [LoadRule::ForReserve { reserve: 2 }]);
    assert_eq!(rules(&text, 105), [LoadRule::ForReserve { reserve: 3 }]);
    assert_eq!(rules(&of_edda("load = \"find-it\""), 105), [LoadRule::FindIt]);
    let both = changed(&with_max(), "load = \"25 kg\"", "load = [\"60 %\", \"65 %\", \"70 %\"]");
    assert_eq!(
        (rules(&both, 104), rules(&both, 105)),
        (vec![kg(40)], vec![share(600), share(650), share(700)])
    );
}

#[test]
fn a_programme_with_rules_is_the_same_after_the_journal() {
    let text = bench("load = [\"70 %\", \"40 kg\", \"by-reserve\"]\nreserve = 2");
    let text = changed(&text, "load = \"30 kg\"", "load = \"as-last-time\"");
    let programme = read(&text);
    let row = serde_json::to_string(&programme).expect("a programme");
    assert_eq!(serde_json::from_str::<Programme>(&row).expect("the same"), programme);
}

#[test]
fn a_load_that_no_rule_says_is_told_with_all_that_may_stand_there() {
    let allowed = "allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals; where labels are mere numbers a pin such as \"pin 7\", 1 to 200; a share of the maximum such as \"70 %\", 0.1 % to 99.9 %; \"by-reserve\", \"as-last-time\" or \"find-it\"";
    let maximal = " (the whole maximum is a maximal attempt, and no load is worked out for one)";
    for (said, found, hint) in [
        ("\"100 %\"", "\"100 %\"", maximal),
        ("\"102.5 %\"", "\"102.5 %\"", maximal),
        ("\"0 %\"", "\"0 %\"", ""),
        ("\"-5 %\"", "\"-5 %\"", ""),
        ("\"72.25 %\"", "\"72.25 %\"", ""),
        ("\"0 kg\"", "\"0 kg\"", ""),
        ("\"find it\"", "\"find it\"", " (did you mean \"find-it\"?)"),
        ("\"as-lasttime\"", "\"as-lasttime\"", " (did you mean \"as-last-time\"?)"),
        ("70", "70", " (write it with its unit: \"70 kg\")"),
        ("true", "true", ""),
    ] {
        let lines = told(FLOOR, &bench(&format!("load = {said}")));
        assert_eq!(
            lines,
            [format!("26:8: group[1].block[1].exercise[1].load: found {found}, {allowed}{hint}")]
        );
    }
}

#[test]
fn what_holds_for_all_rounds_stands_alone() {
    for (word, list) in [
        ("find-it", "[\"40 kg\", \"find-it\", \"45 kg\"]"),
        ("as-last-time", "[\"70 %\", \"as-last-time\", \"by-reserve\"]\nreserve = 2"),
    ] {
        let lines = told(FLOOR, &bench(&format!("load = {list}")));
        let told = format!(
            "group[1].block[1].exercise[1].load[2]: found \"{word}\" in a list, allowed by itself, for all rounds (write load = \"{word}\")"
        );
        assert!(matches!(lines.as_slice(), [line] if line.ends_with(&told)), "{lines:#?}");
    }
    let one_round = changed(&bench("load = [\"find-it\"]"), "rounds = 3", "rounds = 1");
    assert_eq!(told(FLOOR, &one_round).len(), 1, "not even in a list of one");
}

#[test]
fn whoever_has_no_maximum_is_named_once_for_each_thing_said() {
    let hint = |client: u32| {
        format!(
            "(write it at client {client}, such as max = {{ bench-press = \"80 kg\" }}, or have the load found: \"find-it\")"
        )
    };
    let neither = changed(PROGRAMME, "own = [ { client = 105, reps = 8, load = \"25 kg\" } ]\n", "");
    let share = changed(&neither, "load = \"40 kg\"", "load = \"70 %\"");
    let line = |at: &str, found: &str, client| {
        format!(
            "{at}: found {found}, allowed where the maximum is known: client {client} has none for bench-press {}",
            hint(client)
        )
    };
    let load = "24:8: group[1].block[1].exercise[1].load";
    assert_eq!(told(FLOOR, &share), [line(load, "70 %", 104), line(load, "70 %", 105)]);
    let reserve = changed(&neither, "load = \"40 kg\"", "reserve = 2\nload = \"by-reserve\"");
    let load = "25:8: group[1].block[1].exercise[1].load";
    assert_eq!(told(FLOOR, &reserve), [line(load, "\"by-reserve\"", 104), line(load, "\"by-reserve\"", 105)]);
    // Whoever has a load of one's own needs none, and neither does what takes no share.
    let own = changed(PROGRAMME, "load = \"25 kg\"", "load = \"60 %\"");
    assert_eq!(told(FLOOR, &own), [line("26:42: group[1].block[1].exercise[1].own[1].load", "60 %", 105)]);
    for word in ["as-last-time", "find-it"] {
        let without = changed(&neither, "load = \"40 kg\"", &format!("load = \"{word}\""));
        assert_eq!(told(FLOOR, &without), [""; 0], "{word}");
    }
    // A maximum of another exercise is none.
    let row = changed(&share, "name = \"Dara\"\n", "name = \"Dara\"\nmax = { cable-row = \"40 kg\" }\n");
    assert_eq!(told(FLOOR, &row).len(), 2);
    // One that could not be read has its own mistake and no other.
    let max = "max = { bench-press = 60 }\n";
    let unread = changed(&share, "name = \"Dara\"\n", &format!("name = \"Dara\"\n{max}"));
    let unread = changed(&unread, "name = \"Edda\"\n", &format!("name = \"Edda\"\n{max}"));
    let lines = told(FLOOR, &unread);
    assert!(
        lines.len() == 2 && lines.iter().all(|line| line.contains(".max.bench-press: found 60")),
        "{lines:#?}"
    );
}

#[test]
fn by_reserve_needs_a_reserve_and_repetitions_that_a_table_has() {
    let found = |text: &str| {
        let lines = told(FLOOR, text);
        let [line] = lines.as_slice() else { panic!("{lines:#?}\n{text}") };
        line.clone()
    };
    let whole = "26:8: group[1].block[1].exercise[1].load: found \"by-reserve\"";
    let other = "(write the load, or \"as-last-time\", or \"find-it\")";
    let by_reserve = |lines: &str| bench(&format!("load = \"by-reserve\"\n{lines}"));
    assert_eq!(
        found(&by_reserve("")),
        format!(
            "{whole} without a reserve, allowed with a reserve of 0 to 5 (write how many should have been possible after the last, such as reserve = 2)"
        )
    );
    assert_eq!(
        found(&by_reserve("reserve = 6")),
        format!("{whole} with 6 in reserve, allowed at most 5 {other}")
    );
    assert_eq!(
        found(&changed(&by_reserve("reserve = 4"), "reps = 10", "reps = \"8-12\"")),
        format!("{whole} for 12 repetitions with 4 in reserve, allowed at most 15 together {other}")
    );
    assert_eq!(told(FLOOR, &changed(&by_reserve("reserve = 3"), "reps = 10", "reps = \"8-12\"")), [""; 0]);
    assert_eq!(
        found(&changed(&by_reserve("reserve = 2"), "reps = 10", "reps = \"30 s\"")),
        format!("{whole} for a hold, allowed for repetitions {other}")
    );
    assert_eq!(
        found(&changed(&by_reserve("reserve = 0"), "reps = 10", "reps = 1")),
        format!(
            "{whole} for one repetition with none in reserve, allowed more of either: that is a maximal attempt"
        )
    );
    // Said where a client's own figure makes it so.
    assert_eq!(
        found(&by_reserve("reserve = 5\nown = [ { client = 105, reps = 12 } ]")),
        format!(
            "28:32: group[1].block[1].exercise[1].own[1].reps: found \"by-reserve\" for 12 repetitions with 5 in reserve, allowed at most 15 together {other}"
        )
    );
    // A reserve that could not be read has its own mistake and no other.
    assert!(
        found(&by_reserve("reserve = 11")).contains(".reserve: found 11, allowed a whole number, 0 to 10")
    );
}

#[test]
fn a_share_says_nothing_where_the_stack_helps_nor_a_rule_where_nothing_is_set() {
    let assisting = changed(FLOOR, "last = \"50 kg\"\n", "last = \"50 kg\"\nassists = true\n");
    let row = |load: &str| changed(PROGRAMME, "load = \"30 kg\"", load);
    let helps = "allowed what takes no share of a maximum: the stack helps there (write the load, or \"as-last-time\", or \"find-it\")";
    let load = "31:8: group[1].block[1].exercise[2].load";
    assert_eq!(told(&assisting, &row("load = \"70 %\"")), [format!("{load}: found 70 %, {helps}")]);
    let reserve = row("load = \"by-reserve\"\nreserve = 2");
    assert_eq!(told(&assisting, &reserve), [format!("{load}: found \"by-reserve\", {helps}")]);
    assert_eq!(told(&assisting, &row("load = \"as-last-time\"")), [""; 0]);
    assert_eq!(told(&assisting, &row("load = \"find-it\"")), [""; 0]);
    for load in ["70 %", "by-reserve", "as-last-time", "find-it"] {
        let text = changed(PROGRAMME, "reps = 15", &format!("reps = 15\nload = \"{load}\""));
        assert_eq!(
            told(FLOOR, &text),
            [
                "38:8: group[1].block[2].exercise[1].load: found a load, allowed none: this exercise has nothing to set (take the load away, or give the exercise other gear)"
            ],
            "{text}"
        );
    }
}

#[test]
fn maxima_are_of_exercises_that_have_one() {
    let assisting = changed(FLOOR, "last = \"50 kg\"\n", "last = \"50 kg\"\nassists = true\n");
    let max =
        "name = \"Dara\"\nmax = { bench-pres = \"60 kg\", cable-row = \"40 kg\", push-up = \"80 kg\" }\n";
    let text = changed(PROGRAMME, "name = \"Dara\"\n", max);
    assert_eq!(
        told(&assisting, &text),
        [
            "4:22: client[1].max.bench-pres: found \"bench-pres\", allowed the key of an exercise in the floor file (did you mean \"bench-press\"?)",
            "4:43: client[1].max.cable-row: found a maximum, allowed none: the stack helps there (a share of a maximum says nothing where part of the body is carried)",
            "4:62: client[1].max.push-up: found a maximum, allowed none: this exercise has nothing to set",
        ]
    );
    let max = "name = \"Dara\"\nmax = { bench-press = \"0 kg\", cable-row = \"9000.1 kg\" }\n";
    let mass =
        "allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals";
    assert_eq!(
        told(FLOOR, &changed(PROGRAMME, "name = \"Dara\"\n", max)),
        [
            format!("4:23: client[1].max.bench-press: found \"0 kg\", {mass}"),
            format!("4:43: client[1].max.cable-row: found \"9000.1 kg\", {mass}"),
        ]
    );
    let max = "name = \"Dara\"\nmax = \"60 kg\"\n";
    let lines = told(FLOOR, &changed(PROGRAMME, "name = \"Dara\"\n", max));
    assert_eq!(lines, ["4:7: client[1].max: found \"60 kg\", allowed a table"]);
}

#[test]
fn with_a_rule_only_what_is_said_outright_is_compared_and_must_fit() {
    // A technique load that a station can be set to, beside rules of which nothing is known yet.
    for load in ["\"70 %\"", "\"as-last-time\"", "\"find-it\"", "[\"70 %\", \"25 kg\", \"25 kg\"]"] {
        let text = changed(&bench(&format!("load = {load}")), "load = \"20 kg\" }", "load = \"40 kg\" }");
        assert_eq!(told(FLOOR, &text), [""; 0], "{load}");
        assert_eq!(press(&text, 104).technique.load, Some(Mass::from_grams(40_000).into()));
    }
    let unfit = changed(&bench("load = \"find-it\""), "load = \"20 kg\" }", "load = \"21 kg\" }");
    assert_eq!(
        told(FLOOR, &unfit),
        [
            "27:32: group[1].block[1].exercise[1].technique.load: found 21 kg, allowed what a station for bench-press can be set to: the nearest are 20 kg and 25 kg"
        ]
    );
    let heavier =
        changed(&bench("load = [\"25 kg\", \"70 %\", \"70 %\"]"), "load = \"20 kg\" }", "load = \"40 kg\" }");
    let lines = told(FLOOR, &heavier);
    assert!(
        lines.len() == 2 && lines.iter().all(|line| line.contains("found 40 kg for the technique set")),
        "{lines:#?}"
    );
}

#[test]
fn the_example_says_one_of_each() {
    let floor = parse_floor("floor.toml", include_str!("../../examples/floor.toml"), None);
    let floor = floor.unwrap_or_else(|mistakes| panic!("{mistakes}")).floor;
    let file = parse_programme("evening.toml", include_str!("../../examples/evening.toml"), &floor);
    let programme = file.unwrap_or_else(|mistakes| panic!("{mistakes}")).programme;
    let (orla, runa) = (ClientId(201), ClientId(203));
    assert_eq!(programme.clients[&orla].max.values().collect::<Vec<_>>(), [&Mass::from_grams(60_000)]);
    let legs = &programme.groups[&GroupId(2)].blocks[1].legs;
    let rules = |leg: usize, client| {
        legs[leg].sets[&client].rounds.iter().filter_map(|target| target.load).collect::<Vec<_>>()
    };
    assert_eq!(rules(0, orla), [share(600), share(700), LoadRule::ForReserve { reserve: 3 }]);
    assert_eq!(rules(0, runa), [LoadRule::FindIt; 3]);
    assert_eq!(rules(1, runa), [LoadRule::AsLastTime]);
}

//! `turnabout plan --from FLOOR PROGRAMME` where sessions have several blocks, and clients several sessions.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use serde_json::{Value, json as value};

use crate::asked::{ask, json};

/// So long the example's floor takes a station to be wiped down.
const WIPE_DOWN: u64 = 120;

fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
    path.to_str().expect("text").to_owned()
}

/// A programme of its own for the example's floor.
struct Programme {
    folder: tempfile::TempDir,
}

impl Programme {
    fn new(text: &str) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("programme.toml"), text).expect("it can be written");
        Self { folder }
    }

    fn path(&self, name: &str) -> String {
        self.folder.path().join(name).to_str().expect("text").to_owned()
    }

    fn planned(&self, more: &[&str]) -> Value {
        let (floor, programme) = (example("floor.toml"), self.path("programme.toml"));
        json(0, &[&["plan", "--from", &floor, &programme, "--threads", "1"], more].concat())
    }
}

/// A client in a block of a group.
#[derive(Debug)]
struct Part {
    group: u64,
    block: u64,
    name: String,
    from: u64,
    to: u64,
}

fn parts(answer: &Value) -> Vec<Part> {
    let number = |of: &Value, field: &str| of[field].as_u64().expect("a number");
    let of = |group: &Value| {
        let members = group["members"].as_array().expect("a list").iter();
        let part = |member: &Value| Part {
            group: number(group, "group"),
            block: number(group, "block"),
            name: member["name"].as_str().expect("a name").to_owned(),
            from: number(member, "first_start"),
            to: number(member, "last_end"),
        };
        members.map(part).collect::<Vec<_>>()
    };
    answer["evening"]["groups"].as_array().expect("a list").iter().flat_map(of).collect()
}

/// Groups with their blocks, as they are told.
fn blocks(answer: &Value) -> Vec<(u64, u64)> {
    let mut blocks: Vec<_> = parts(answer).iter().map(|part| (part.group, part.block)).collect();
    blocks.dedup();
    blocks
}

/// The checker has nothing to say, nobody of a group begins a block before all of the group are through with the one
/// before and have wiped down, and nobody is in two groups at a time.
#[track_caller]
fn assert_in_order(answer: &Value) {
    assert_eq!((&answer["breaches"], &answer["evening"]["not_planned"]), (&value!([]), &value!([])));
    let parts = parts(answer);
    for one in &parts {
        assert!(one.from < one.to, "{one:?}");
        let later = parts.iter().filter(|other| {
            let next_block = other.group == one.group && other.block > one.block;
            let next_session = other.group != one.group && other.name == one.name && other.from >= one.from;
            next_block || next_session
        });
        for other in later {
            assert!(other.from >= one.to + WIPE_DOWN, "{other:?} after {one:?}");
        }
    }
}

/// The example with two blocks and three, and Orla in both groups.
#[test]
fn the_examples_evening_is_planned_to_its_end() {
    let example = Programme::new(&fs::read_to_string(example("evening.toml")).expect("text"));
    let (out, svg) = (example.path("plan.json"), example.path("plan.svg"));
    let planned = example.planned(&["--iterations", "400", "--out", &out, "--svg", &svg]);
    let by_eye = example.planned(&["--by-eye", "3"]);
    for answer in [&planned, &by_eye] {
        assert_eq!(blocks(answer), [(1, 1), (1, 2), (2, 1), (2, 2), (2, 3)]);
        assert_in_order(answer);
        // A quarter past seven is an hour and a quarter after six.
        let orla = parts(answer).into_iter().filter(|part| part.name == "Orla");
        let from: Vec<(u64, u64)> = orla.map(|part| (part.group, part.from)).collect();
        assert!(from.iter().all(|(group, from)| *group == 1 || *from >= 75 * 60), "{from:?}");
    }
    assert!(planned["objective"].as_i64() <= by_eye["objective"].as_i64());
    assert_eq!(by_eye, example.planned(&["--by-eye", "3"]), "the same again");
    let drawn = fs::read_to_string(&svg).expect("it was written");
    for text in [">Lantern Yard floor: the whole evening</text>", ">group 2, block 3</text>", ">19:15</text>"]
    {
        assert!(drawn.contains(text), "{text}");
    }
    // A client has one row for all blocks of a session, in each strip of time: Runa trains in one, and Orla in two.
    let rows = |name: &str| {
        let named =
            |line: &&str| line.contains("text-anchor=\"end\"") && line.contains(&format!(">{name}</text>"));
        drawn.lines().filter(named).count()
    };
    assert!(rows("Runa") > 0 && rows("Orla") == 2 * rows("Runa"), "{} and {}", rows("Runa"), rows("Orla"));
    // What was written can be gone on from, and is no worse for it.
    let warm = example.planned(&["--iterations", "200", "--seed", "2", "--warm", &out]);
    assert_in_order(&warm);
    assert_eq!(warm["warm"]["objective"], planned["objective"]);
    assert!(warm["objective"].as_i64() <= planned["objective"].as_i64());
    let (floor, programme) = (self::example("floor.toml"), example.path("programme.toml"));
    let said = ask(&["plan", "--from", &floor, &programme, "--iterations", "1"]);
    assert!(said.out.contains("group 2, block 3 with "), "{}", said.out);
}

/// The demo's programme with every block three times: twelve of them want two benches and a few cables.
fn three_times() -> Programme {
    let text = fs::read_to_string(example("programme.toml")).expect("text");
    let mut groups = text.split("[[group]]\nnumber");
    let mut made = groups.next().expect("a head").to_owned();
    for group in groups {
        let block = group.find("[[group.block]]").expect("each has a block");
        let _ = write!(made, "[[group]]\nnumber{}{}", &group[..block], group[block..].repeat(3));
    }
    Programme::new(&made)
}

#[test]
fn sessions_of_three_blocks_on_few_stations_keep_their_order() {
    let contended = three_times();
    let planned = contended.planned(&["--iterations", "600"]);
    let by_eye = contended.planned(&["--by-eye", "3"]);
    for answer in [&planned, &by_eye] {
        let wanted: Vec<(u64, u64)> =
            (1..=4).flat_map(|group| (1..=3).map(move |block| (group, block))).collect();
        assert_eq!(blocks(answer), wanted);
        assert_in_order(answer);
    }
    assert!(planned["objective"].as_i64() < by_eye["objective"].as_i64());
    assert_eq!(planned, contended.planned(&["--iterations", "600"]), "the same again");
    let other = contended.planned(&["--iterations", "600", "--seed", "2"]);
    assert_in_order(&other);
    assert_ne!(
        parts(&planned).iter().map(|part| part.from).collect::<Vec<_>>(),
        parts(&other).iter().map(|part| part.from).collect::<Vec<_>>()
    );
}

/// A block of one exercise with the client's own number in it.
fn pulls(number: u32, rounds: u32) -> String {
    format!(
        "[[group.block]]\nrounds = {rounds}\nrest = [\"60 s\", \"90 s\"]\n[[group.block.exercise]]\nuse = \"pulldown\"\n\
         reps = 10\ntempo = \"2-0-2-0\"\nload = \"{} kg\"\n",
        20 + 5 * (number % 4)
    )
}

fn clients(numbers: std::ops::RangeInclusive<u32>) -> String {
    const NAMES: [&str; 5] = ["Ilse", "Kaito", "Marit", "Tove", "Umar"];
    let client = |number: u32| {
        let name = NAMES[number as usize % NAMES.len()];
        format!("[[client]]\nnumber = {number}\nname = \"{name} {number}\"\nregular = true\n")
    };
    numbers.map(client).collect()
}

/// By the programme her first session is over at ten past six, and the second begins then. In twelve rounds nobody
/// rests enough to be through by that time.
#[test]
fn a_client_begins_her_next_session_when_the_one_before_is_over() {
    let group = |number: u32, with: &str, times: &str, rounds: u32| {
        let head = format!("[[group]]\nnumber = {number}\ncoach = \"coach-1\"\nclients = {with}\n{times}\n");
        head + &pulls(number, rounds)
    };
    let text = "date = 2026-11-25\n".to_owned()
        + &clients(1..=3)
        + &group(1, "[1, 2]", "starts = \"18:00\"\nends = \"18:10\"", 12)
        + &group(2, "[3, 1]", "starts = \"18:10\"\nends = \"19:00\"", 2);
    let twice = Programme::new(&text);
    for how in [["--iterations", "300"], ["--by-eye", "3"]] {
        let answer = twice.planned(&how);
        assert_eq!(blocks(&answer), [(1, 1), (2, 1)]);
        assert_in_order(&answer);
        let parts = parts(&answer);
        let over = parts.iter().filter(|part| part.group == 1).map(|part| part.to).max();
        let begins = parts.iter().filter(|part| part.group == 2).map(|part| part.from).min();
        assert!(over > Some(600) && begins >= over.map(|over| over + WIPE_DOWN), "{parts:?}");
    }
}

/// Later blocks push nobody out: forty sessions are planned, all blocks of each, and whoever is left out is told of.
#[test]
fn more_sessions_than_are_planned_are_told_of() {
    let group = |number: u32| {
        let head = format!("[[group]]\nnumber = {number}\ncoach = \"coach-1\"\nclients = [{number}]\n");
        head + &pulls(number, 1) + &pulls(number + 1, 1)
    };
    let text = clients(1..=42) + &(1..=42).map(group).collect::<String>();
    let answer = Programme::new(&text).planned(&["--by-eye", "3"]);
    let planned: Vec<(u64, u64)> = (1..=40).flat_map(|group| [(group, 1), (group, 2)]).collect();
    assert_eq!(blocks(&answer), planned);
    let why = "only the first 40 groups of an evening are planned";
    let left_out = value!([{"group": 41, "block": 1, "why": why}, {"group": 42, "block": 1, "why": why}]);
    assert_eq!(answer["evening"]["not_planned"], left_out);
    assert_eq!(answer["breaches"], value!([]));
}

/// Nine sessions of twenty blocks are more than are planned: all nine are there, and the last blocks of each are told of.
#[test]
fn more_blocks_than_are_planned_are_told_of_and_no_session_is_left_out() {
    let group = |number: u32| {
        let head = format!("[[group]]\nnumber = {number}\ncoach = \"coach-1\"\nclients = [{number}]\n");
        head + &(0..20).map(|block| pulls(number + block, 1)).collect::<String>()
    };
    let text = clients(1..=9) + &(1..=9).map(group).collect::<String>();
    let answer = Programme::new(&text).planned(&["--by-eye", "3"]);
    let planned: Vec<(u64, u64)> =
        (1..=9).flat_map(|group| (1..=17).map(move |block| (group, block))).collect();
    assert_eq!(blocks(&answer), planned);
    let left_out = answer["evening"]["not_planned"].as_array().expect("a list");
    assert_eq!(left_out.len(), 9);
    for one in left_out {
        assert_eq!(one["block"], 18);
        assert!(one["why"].as_str().is_some_and(|why| why.contains("160 blocks")), "{one}");
    }
}

//! `turnabout plan --from FLOOR PROGRAMME`.

use std::fs;
use std::path::Path;

use serde_json::{Value, json as value};

use crate::asked::{Said, ask, json, refused};

/// A rest that is too short for three.
const SHORT: &str = r#"rest = ["20 s", "21 s"]"#;

/// The demo's files, the programme with a change.
struct Files {
    folder: tempfile::TempDir,
}

impl Files {
    fn new(change: impl FnOnce(String) -> String) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
        fs::copy(examples.join("floor.toml"), folder.path().join("floor.toml")).expect("a copy");
        let programme = fs::read_to_string(examples.join("programme.toml")).expect("text");
        fs::write(folder.path().join("programme.toml"), change(programme)).expect("it can be written");
        Self { folder }
    }

    fn path(&self, name: &str) -> String {
        self.folder.path().join(name).to_str().expect("text").to_owned()
    }

    fn arguments<T>(&self, more: &[&str], use_them: impl FnOnce(&[&str]) -> T) -> T {
        let (floor, programme) = (self.path("floor.toml"), self.path("programme.toml"));
        let all = ["plan", "--from", &floor, &programme, "--threads", "1"];
        use_them(&[&all[..], more].concat())
    }

    fn planned(&self, iterations: &str) -> Value {
        self.arguments(&["--iterations", iterations], |arguments| json(0, arguments))
    }
}

/// Names of everybody, with the time at which each begins.
fn starts(answer: &Value) -> Vec<(u64, &str, u64)> {
    let groups = answer["evening"]["groups"].as_array().expect("a list");
    let members = |group: &'_ Value| group["members"].as_array().expect("a list").len();
    let mut all = Vec::new();
    for group in groups {
        for member in 0..members(group) {
            let number = group["group"].as_u64().expect("a number");
            let member = &group["members"][member];
            let name = member["name"].as_str().expect("a name");
            all.push((number, name, member["first_start"].as_u64().expect("a number")));
        }
    }
    all
}

#[test]
fn everybody_of_the_programme_is_told_when_and_where_they_begin() {
    let files = Files::new(|programme| programme);
    let answer = files.planned("500");
    assert_eq!(answer["name"], "Lantern Yard floor");
    assert_eq!((&answer["breaches"], &answer["evening"]["not_planned"]), (&value!([]), &value!([])));
    let all = starts(&answer);
    let names: Vec<_> = all.iter().map(|(group, name, _)| (*group, *name)).collect();
    let wanted = [
        (1, "Chidi"),
        (1, "Dara"),
        (2, "Edda"),
        (2, "Farid"),
        (3, "Greta"),
        (3, "Hana"),
        (3, "Jonah"),
        (4, "Lupe"),
        (4, "Nadim"),
    ];
    assert_eq!(names, wanted);
    // Bench press and cable row; nobody has taken anything yet, so somebody begins at once.
    assert_eq!(all.iter().map(|(_, _, start)| *start).min(), Some(0));
    let stations = answer["evening"]["groups"][0]["members"][0]["stations"].as_array().expect("a list");
    assert!(stations[0].as_str().is_some_and(|name| name.starts_with("Bench ")), "{stations:?}");
    assert!(stations[1].as_str().is_some_and(|name| name.starts_with("Cable row ")), "{stations:?}");
    assert_eq!(answer, files.planned("500"), "the same again");
    let said: Said = files.arguments(&["--iterations", "500"], ask);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    for line in ["group 3 with Ayla\n", "  Greta: Rack, then Pulldown\n"] {
        assert!(said.out.contains(line), "{}", said.out);
    }
}

/// With a day, sessions begin when they are to; the picture has the time of day and names.
#[test]
fn nobody_begins_before_their_session() {
    let files = Files::new(|programme| {
        let day = programme.replace("# date = 2026-11-25", "date = 2026-11-25");
        let timed = |text: String, number: u8, starts: &str| {
            let group = format!("[[group]]\nnumber = {number}\n");
            assert!(text.contains(&group), "the example has group {number}");
            text.replace(&group, &format!("{group}starts = \"{starts}\"\n"))
        };
        let day = timed(day, 1, "18:30");
        ["18:00", "18:00", "18:10"].into_iter().zip(2..).fold(day, |text, (at, n)| timed(text, n, at))
    });
    let svg = files.path("plan.svg");
    let asked = ["--iterations", "500", "--svg", &svg];
    let answer = files.arguments(&asked, |arguments| json(0, arguments));
    for (group, name, start) in starts(&answer) {
        let earliest = [0, 1_800, 0, 0, 600][usize::try_from(group).expect("small")];
        assert!(start >= earliest, "{name} of group {group} begins at {start}");
    }
    let at = &answer["evening"]["groups"];
    let chidi = at.as_array().expect("a list").iter().find(|one| one["group"] == 1).expect("group 1");
    assert!(chidi["members"][0]["at"].as_str().is_some_and(|at| at.starts_with("18:3")), "{chidi:#}");
    let drawn = fs::read_to_string(svg).expect("it was written");
    for text in [">18:00</text>", ">18:30</text>", ">Chidi</text>", ">Bench 1</text>", ">group 4</text>"] {
        assert!(drawn.contains(text), "{text}");
    }
}

/// Three whose sets take most of a minute and who may rest hardly longer than half of one do not all come round in time.
#[test]
fn a_group_that_is_too_large_is_told_so_with_two_pairs() {
    let files = Files::new(|programme| programme.replace(r#"rest = ["60 s", "90 s"]"#, SHORT));
    let text = fs::read_to_string(files.path("programme.toml")).expect("text");
    assert!(text.contains(SHORT), "the example has such a rest");
    let answer = files.planned("100");
    let groups = answer["evening"]["groups"].as_array().expect("a list");
    let large: Vec<&Value> = groups.iter().filter(|group| !group["too_large"].is_null()).collect();
    assert!(!large.is_empty(), "{answer:#}");
    for group in large {
        let overrun = group["too_large"]["overrun_seconds"].as_u64().expect("a number");
        assert!(overrun > 0);
        let Some(pairs) = group["too_large"]["pairs"].as_array() else { continue };
        let on = |pair: &Value| pair["members"].as_array().expect("a list").len();
        let members = group["members"].as_array().expect("a list").len();
        assert_eq!(pairs.iter().map(on).sum::<usize>(), members);
        assert!(pairs.iter().all(|pair| pair["overrun_seconds"].as_u64() < Some(overrun)));
    }
    let said = files.arguments(&["--iterations", "100"], ask);
    assert!(said.out.contains("larger than its rests allow on one pair of stations"), "{}", said.out);
}

#[test]
fn files_with_mistakes_and_two_sources_are_refused() {
    let files = Files::new(|programme| programme + "\nnonsense = 1\n");
    let said = files.arguments(&["--iterations", "1"], ask);
    // Told as by every command that reads these files.
    assert_eq!((said.code, said.out.as_str()), (1, ""), "{said:?}");
    assert!(said.err.contains("nonsense"), "{}", said.err);
    let files = Files::new(|programme| programme);
    let (floor, programme) = (files.path("floor.toml"), files.path("programme.toml"));
    files.arguments(&["--iterations", "1", "--out", &floor], |arguments| {
        refused(arguments, &["out and from", "found the same file"]);
    });
    files.arguments(&["--iterations", "1", "--svg", &programme], |arguments| {
        refused(arguments, &["svg and from", "found the same file"]);
    });
    refused(&["plan", &floor, "--from", &floor, &programme], &["INSTANCE and from", "exactly one of them"]);
    refused(&["plan", "--from", &floor], &["--from <FLOOR> <PROGRAMME>"]);
}

//! What the README shows of an evening by eye and planned is what the program makes of the demo's files.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::asked::json;

/// The commands as the README has them, but for `turnabout` in front.
const BY_EYE: &str = "plan --from server/examples/floor.toml server/examples/programme.toml --by-eye 3 \
                      --svg tests/pictures/evening-by-eye.svg";
const PLANNED: &str = "plan --from server/examples/floor.toml server/examples/programme.toml --iterations 20000 --seed 1 \
                       --threads 1 --svg tests/pictures/evening-planned.svg";

/// The first line of the table of figures.
const TABLE: &str = "| | by eye | planned |\n";

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The answer to a command, and the picture it draws, which goes elsewhere than into the repository.
fn asked(command: &str) -> (Value, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let picture = folder.path().join("picture.svg").to_str().expect("text").to_owned();
    let files = root().to_str().expect("text").to_owned() + "/server";
    let place = |word: &str| match word {
        word if word.starts_with("server/") => word.replacen("server", &files, 1),
        word if word.starts_with("tests/pictures/") => picture.clone(),
        word => word.to_owned(),
    };
    let arguments: Vec<String> = command.split(' ').map(place).collect();
    let answer = json(0, &arguments.iter().map(String::as_str).collect::<Vec<_>>());
    (answer, fs::read_to_string(&picture).expect("it was written"))
}

/// The table of figures.
fn table(by_eye: &Value, planned: &Value) -> String {
    let minutes = |seconds: i64| format!("{}:{:02}", seconds / 60, seconds % 60);
    let number = |answer: &Value, field: &str| answer[field].as_i64().expect("a number");
    let part = |answer: &Value, field: &str| number(&answer["parts"], field);
    let row = |what: &str, cell: &dyn Fn(&Value) -> String| {
        format!("| {what} | {} | {} |\n", cell(by_eye), cell(planned))
    };
    let seconds = |field: &'static str| move |answer: &Value| format!("{} s", part(answer, field));
    [
        TABLE.to_owned() + "|---|---|---|\n",
        row("objective, the smaller the better", &|answer| number(answer, "objective").to_string()),
        row("rests too long, all together", &seconds("overrun")),
        row("their price", &|answer| part(answer, "overrun_price").to_string()),
        row("waits between two exercises", &seconds("changeover_wait")),
        row("waits at the door", &seconds("door")),
        row("time of all clients, from their session to their last set", &|answer| {
            minutes(part(answer, "flow"))
        }),
        row("plates and pins moved", &|answer| part(answer, "handling").to_string()),
        row("last set ends at", &|answer| minutes(part(answer, "makespan"))),
    ]
    .concat()
}

/// `GOLDEN=write cargo test -p turnabout-server --test cli readme`, and look at the pictures.
#[test]
fn the_readme_shows_what_the_program_makes() {
    let readme_path = root().join("README.md");
    let mut readme = fs::read_to_string(&readme_path).expect("the repository has one");
    let pictures = root().join("tests/pictures");
    let made = [(BY_EYE, "evening-by-eye.svg"), (PLANNED, "evening-planned.svg")]
        .map(|(command, name)| (command, asked(command), name));
    let [(_, (by_eye, _), _), (_, (planned, _), _)] = &made;
    let table = table(by_eye, planned);
    if std::env::var("GOLDEN").is_ok_and(|how| how == "write") {
        for (_, (_, picture), name) in &made {
            fs::write(pictures.join(name), picture).expect("it can be written");
        }
        let begin = readme.find(TABLE).expect("the README has such a table");
        let end = readme[begin..].find("\n\n").expect("something follows") + 1;
        readme.replace_range(begin..begin + end, &table);
        fs::write(&readme_path, &readme).expect("it can be written");
    }
    assert!(readme.contains(&table), "the README has other figures than\n{table}");
    for (command, (answer, picture), name) in &made {
        assert!(readme.contains(&format!("turnabout {command}\n")), "the README lacks {command}");
        assert!(readme.contains(&format!("](tests/pictures/{name})")), "the README does not show {name}");
        assert_eq!(answer["breaches"].as_array().map(Vec::len), Some(0), "{command}");
        let there = fs::read_to_string(pictures.join(name)).unwrap_or_default();
        assert!(there == *picture, "another picture than tests/pictures/{name}");
    }
    // What the section is there to show.
    let objective = |answer: &Value| answer["objective"].as_i64().expect("a number");
    assert!(objective(planned) < objective(by_eye), "{table}");
}

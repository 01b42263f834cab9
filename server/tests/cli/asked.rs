//! Runs the program and looks at what it says.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// What the program said.
#[derive(Debug)]
pub(crate) struct Said {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// The floor file of the demo.
pub(crate) fn floor() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/floor.toml")
}

/// Asks with these arguments; `FLOOR` stands for the demo's floor file.
pub(crate) fn ask(arguments: &[&str]) -> Said {
    let floor = floor();
    let arguments = arguments.iter().map(|argument| match *argument {
        "FLOOR" => floor.as_os_str(),
        other => other.as_ref(),
    });
    let output = Command::new(env!("CARGO_BIN_EXE_turnabout")).args(arguments).output().expect("it runs");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    Said {
        code: output.status.code().expect("it ends by itself"),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}

/// The JSON answer, which keeps to the committed schema of the command.
#[track_caller]
pub(crate) fn json(code: i32, arguments: &[&str]) -> Value {
    let said = ask(&[arguments, &["--json"]].concat());
    assert_eq!(said.code, code, "{said:?}");
    let answer: Value = serde_json::from_str(&said.out).expect("JSON");
    let schema = match arguments {
        ["plan", "check", ..] => schema("plan-check"),
        ["rehearse", _, second, ..] if !second.starts_with("--") => schema("rehearse-floor"),
        _ => schema(arguments[0]),
    };
    let validator = jsonschema::draft202012::new(&schema).expect("a schema");
    let wrong: Vec<String> = validator.iter_errors(&answer).map(|error| error.to_string()).collect();
    assert!(wrong.is_empty(), "{wrong:?}\n{answer:#}");
    answer
}

/// The committed schema of a command's answer.
pub(crate) fn schema(command: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("schema").join(format!("{command}.json"));
    serde_json::from_str(&std::fs::read_to_string(path).expect("a schema file")).expect("JSON")
}

/// The question is refused: exit code 2, nothing to standard output, and these words to standard error.
#[track_caller]
pub(crate) fn refused(arguments: &[&str], words: &[&str]) {
    for arguments in [arguments.to_vec(), [arguments, &["--json"]].concat()] {
        let said = ask(&arguments);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{arguments:?} {said:?}");
        for word in words {
            assert!(said.err.contains(word), "{arguments:?} lacks {word}: {}", said.err);
        }
    }
}

/// The numbers of a list of masses.
pub(crate) fn values(masses: &Value) -> Vec<f64> {
    masses.as_array().expect("a list").iter().map(|mass| mass["value"].as_f64().expect("a number")).collect()
}

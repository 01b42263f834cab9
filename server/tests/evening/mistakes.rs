//! A mistake in a script is told with its line.

use crate::play::Evening;
use crate::script::parse;

/// What is wrong with a script of which only the last line is.
fn mistake(text: &str) -> String {
    let lines = match parse(text) {
        Ok(lines) => lines,
        Err(mistake) => return mistake.to_string(),
    };
    let mut evening = Evening::new();
    lines.iter().find_map(|line| evening.play(line).err()).expect("a mistake").to_string()
}

#[test]
fn a_mistake_in_a_script_is_told_with_its_line() {
    let first = "18:00:00 coach-1 arrive 1 dara\n# a remark\n";
    for (line, told) in [
        ("18:00 coach-1 back-in row-1", "line 3: `18:00` is no time"),
        ("+x coach-1 back-in row-1", "line 3: `x` is no number"),
        ("+1", "line 3: who speaks is missing"),
        ("+1 coach-1", "line 3: nothing happens"),
        ("+1 coach-9 back-in row-1", "line 3: nobody is called `coach-9`"),
        ("+1 coach-1 dance", "line 3: nothing is called `dance`"),
        ("+1 coach-1 go dara", "line 3: `dara` is no set"),
        ("+1 coach-1 go nemo/1a", "line 3: no client `nemo`"),
        ("+1 coach-1 out row-1 gremlins", "line 3: defect: `gremlins` is none"),
        ("+1 coach-1 warm dara dara", "line 3: `dara` is too much"),
        ("+1 coach-1 warm dara -> perhaps", "line 3: `perhaps` is neither already nor refused"),
        ("17:59:59 coach-1 warm dara", "line 3: it is 18:00:00 already"),
        ("+1 evening ends", "line 3: an evening does not `ends`"),
        ("dara/2a+1 coach-1 warm dara", "line 3: nobody comes to dara/2a"),
    ] {
        assert_eq!(mistake(&format!("{first}{line}\n")), told);
    }
    let told = mistake(&format!("{first}+5 coach-1 arrive 1 dara"));
    assert!(told.starts_with("line 3: at 18:00:05 the floor answers Already"), "{told}");
}

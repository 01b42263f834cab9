//! The picture of a timetable.

use std::fs;
use std::path::{Path, PathBuf};

use turnabout_server::cli::plan::chart::{Labels, draw};
use turnabout_server::timetable::answer::Timetable;
use turnabout_server::timetable::check::check;
use turnabout_server::timetable::format::{read_instance, read_timetable};
use turnabout_server::timetable::instance::Instance;

fn golden(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/plan").join(name)
}

fn tiny() -> (Instance, Timetable) {
    let text = |name| fs::read_to_string(golden(name)).expect("text");
    let instance = read_instance(&text("instance.json")).expect("an instance");
    let timetable = read_timetable(&text("timetable.json"), &instance).expect("a timetable");
    (instance, timetable)
}

fn drawn(instance: &Instance, timetable: &Timetable, labels: &Labels) -> String {
    draw(instance, timetable, &check(instance, timetable).expect("a timetable of it"), labels)
}

/// Rectangles that look like this, by their places and sizes.
fn shapes<'a>(drawn: &'a str, look: &str) -> Vec<&'a str> {
    let shape = |line: &'a str| line.strip_prefix("<rect x=").filter(|line| line.contains(look));
    drawn.lines().filter_map(shape).collect()
}

/// A picture changes only on purpose: `GOLDEN=write cargo test -p turnabout-server --test cli golden`, and look at it.
#[test]
fn the_picture_of_a_small_evening_is_golden() {
    let (instance, timetable) = tiny();
    let drawn = drawn(&instance, &timetable, &Labels::numbers(&instance));
    let path = golden("plan.svg");
    if std::env::var("GOLDEN").is_ok_and(|how| how == "write") {
        fs::write(&path, &drawn).expect("it can be written");
    }
    assert!(
        fs::read_to_string(&path).unwrap_or_default() == drawn,
        "another picture than {}",
        path.display()
    );
}

/// Of each sign as many as the evening has, and one in the legend. Counted by hand from `timetable.json`.
#[test]
fn every_turn_change_wait_and_overrun_has_its_sign() {
    let (instance, timetable) = tiny();
    let drawn = drawn(&instance, &timetable, &Labels::numbers(&instance));
    // Empty to 20 kg and that to 25 kg; the pin once.
    assert_eq!(shapes(&drawn, "url(#change)").len(), 1 + 3);
    assert_eq!(shapes(&drawn, "url(#wait)").len(), 1 + 1);
    assert_eq!(shapes(&drawn, "url(#overrun)").len(), 1 + 2);
    // A station until it is free and once more, and the coach.
    assert_eq!(shapes(&drawn, "#c8c8c8").len(), 1 + 3);
    // Second exercises at their stations and in the rows of their members, further ones too.
    assert_eq!(shapes(&drawn, "url(#second0)").len(), 2 * 4);
    assert_eq!(shapes(&drawn, "url(#further1)").len(), 2);
    for told in
        ["waits 5 s", "rests 15 s beyond the longest", "rests 8 s beyond the longest", "change of load, 8 s"]
    {
        assert!(drawn.contains(&format!("<title>{told}</title>")), "{told}");
    }
    assert!(drawn.contains("<title>group 0, 0.1, r2, exercise 1: 6:03 to 6:43</title>"));
}

/// Names come from people's files.
#[test]
fn names_are_only_text() {
    let (instance, timetable) = tiny();
    let mut labels = Labels::numbers(&instance);
    "</text><script>".clone_into(&mut labels.members[0][0]);
    "a \"bar\" & more\u{1}".clone_into(&mut labels.stations[0]);
    labels.zero = Some(18 * 3_600);
    let drawn = drawn(&instance, &timetable, &labels);
    assert!(drawn.contains("tiny &lt;evening&gt; &amp; co"));
    assert!(drawn.contains("&lt;/text&gt;") && !drawn.contains("<script"));
    assert!(drawn.contains("a &quot;bar&quot; &amp;") && !drawn.contains('\u{1}'));
    // By the time of day: six minutes after six in the evening.
    assert!(drawn.contains(">18:06</text>") && !drawn.contains(" min</text>"));
}

/// Twice as long an evening as a strip has room for goes on in a second one, and nothing is lost between the two.
#[test]
fn a_long_evening_goes_on_in_a_second_strip() {
    let (instance, mut timetable) = tiny();
    for row in timetable.turns.iter_mut().filter(|row| row.round == 1) {
        row.starts.iter_mut().flatten().for_each(|start| start.0 += 4_000);
    }
    let drawn = drawn(&instance, &timetable, &Labels::numbers(&instance));
    assert_eq!(drawn.matches(">Stations</text>").count(), 2);
    assert_eq!(shapes(&drawn, "url(#second0)").len(), 2 * 4);
    // One rest over the end of the strip is drawn in both.
    assert_eq!(shapes(&drawn, "url(#overrun)").len(), 1 + 2 * 2);
}

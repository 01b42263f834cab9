//! Files that are large, deep or odd: a located mistake or a stated limit, and soon.

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use turnabout_server::setup::{Mistakes, limits, parse_floor, parse_programme, report};

use crate::small;

/// What a file of the largest size may take. A tenth of it is usual; anything quadratic takes minutes.
const SOON: Duration = Duration::from_secs(20);

/// A little less than a file may have.
const ALL: usize = 1024 * 1024 - 64;

/// What is told about a text as either file, and that it is told soon and drawn in few words.
fn told(text: &str) -> [Option<Mistakes>; 2] {
    assert!(text.len() as u64 <= limits::FILE_BYTES);
    let begun = Instant::now();
    let told = [
        parse_floor("floor.toml", text, None).err(),
        parse_programme("programme.toml", text, &small::floor().floor).err(),
    ];
    for mistakes in told.iter().flatten() {
        assert!(!mistakes.list().is_empty() && mistakes.list().len() <= limits::MISTAKES);
        let drawn = report::picture(mistakes, report::Look::Plain);
        assert!(drawn.len() < 2_000 * (mistakes.list().len() + 1), "{} bytes of picture", drawn.len());
        assert!(mistakes.to_string().len() < 1_000 * (mistakes.list().len() + 1));
    }
    assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
    told
}

/// The lines about the text as a floor file.
fn lines(text: &str) -> Vec<String> {
    let [floor, _] = told(text);
    floor.map(|mistakes| mistakes.to_string().lines().map(str::to_owned).collect()).unwrap_or_default()
}

fn many(numbers: std::ops::Range<usize>, line: impl Fn(usize) -> String) -> String {
    numbers.fold(String::new(), |mut text, n| {
        let _ = write!(text, "{}", line(n));
        text
    })
}

#[test]
fn nesting_without_end_is_told_once_with_the_limit() {
    let all = [
        format!("a = {}", "[".repeat(ALL)),
        format!("a = {}{}", "[".repeat(10_000), "]".repeat(10_000)),
        format!("a = {}", "{a=".repeat(ALL / 3)),
        format!("a{} = 1", ".a".repeat(ALL / 2)),
        format!("[a{}]", ".a".repeat(ALL / 2)),
        many(0..1_000, |n| format!("[k{n}{}]\n", ".a".repeat(500))),
    ];
    for text in all {
        for mistakes in told(&text) {
            let mistakes = mistakes.expect("too deep").to_string();
            let limit = "found more than 80 levels, one in the other, allowed 80 (the files here need five)";
            assert!(mistakes.ends_with(limit) && mistakes.lines().count() == 1, "{mistakes}");
        }
    }
}

#[test]
fn as_deep_as_the_limit_is_read() {
    let [_, told] = told(&format!("a = {}{}", "[".repeat(limits::LEVELS), "]".repeat(limits::LEVELS)));
    let told = told.expect("a field that is not known").to_string();
    assert_eq!(told, "programme.toml:1:1: a: found a field that is not known, allowed date, client, group");
}

#[test]
fn ten_thousand_stations_are_told_at_the_first_that_is_too_many() {
    let stations = |many: usize| {
        self::many(1..many + 1, |n| format!("[[station]]\nkey = \"s-{n}\"\nname = \"S {n}\"\nat = [1, 2]\n"))
    };
    let text = small::FLOOR.replacen("[[station]]", &format!("{}[[station]]", stations(9_997)), 1);
    // Ten lines of head, four a station: the 501st begins in line 2010 or so.
    let line = text.match_indices("[[station]]").nth(500).map(|(at, _)| text[..at].matches('\n').count() + 1);
    let told = lines(&text);
    assert!(
        told.contains(&format!(
            "floor.toml:{}:1: station: found a list of 10000, allowed 1 to 500 [[station]]",
            line.expect("the 501st station")
        )),
        "{told:#?}"
    );
}

#[test]
fn a_floor_of_the_most_stations_is_read() {
    let stations = many(0..497, |n| format!("[[station]]\nkey = \"s-{n}\"\nname = \"S {n}\"\nat = [1, 2]\n"));
    assert_eq!(lines(&small::FLOOR.replacen("[[station]]", &format!("{stations}[[station]]"), 1)), [""; 0]);
}

#[test]
fn mistakes_without_end_are_counted() {
    let all = [
        "=\n".repeat(ALL / 2),
        "a = 1\n".repeat(ALL / 6),
        many(0..80_000, |n| format!("f{n} = 1\n")),
        format!("station = [{}]", "{q=1},".repeat(ALL / 6 - 4)),
        many(0..9_000, |n| format!("[[station]]\nkey = \"s\"\nname = \"S\"\nat = [{n}, 2]\nq = 1\n")),
    ];
    for text in all {
        let [floor, _] = told(&text);
        let floor = floor.expect("mistakes");
        assert_eq!(floor.list().len(), limits::MISTAKES);
        assert!(floor.left_out() > 100, "{}", floor.left_out());
    }
}

/// Each of them could be a slip for each of as many that there are.
#[test]
fn dangling_names_without_end_are_told_soon() {
    let exercises = many(0..497, |n| {
        format!(
            "[[exercise]]\nkey = \"press-{n}\"\nname = \"P {n}\"\ngear = \"bar\"\nstarts_with = \"lowering\"\nspot = \"over-face\"\n"
        )
    });
    let floor = parse_floor("floor.toml", &format!("{}{exercises}", small::FLOOR), None).unwrap().floor;
    let uses = many(0..6, |n| format!("{{use=\"pres-{n}x\",reps=1,tempo=\"1-0-1-0\"}},"));
    let blocks = many(0..16, |_| {
        format!("[[group.block]]\nrounds=1\nrest=[\"1 s\",\"1 s\"]\nchangeover=\"1 s\"\nexercise=[{uses}]\n")
    });
    let text = many(1..201, |n| format!("[[group]]\nnumber={n}\ncoach=\"coach-1\"\nclients=[{n}]\n{blocks}"));
    assert!(text.len() as u64 <= limits::FILE_BYTES, "{}", text.len());
    let begun = Instant::now();
    let mistakes = parse_programme("programme.toml", &text, &floor).unwrap_err();
    assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
    assert!(mistakes.left_out() > 15_000);
    assert!(mistakes.list()[1].problem.hint().is_some(), "{}", mistakes.list()[1]);
}

#[test]
fn a_mistake_on_a_line_of_a_megabyte_is_told_and_drawn_in_few_words() {
    for name in ["x".repeat(ALL), "\u{1f3cb}".repeat(ALL / 4 - 2)] {
        let quoted = format!("[floor]\nzone = \"{name}\" # the end\n");
        let cut: String = name.chars().take(40).collect();
        let expected = format!(
            "floor.toml:2:8: floor.zone: found \"{cut}\u{2026}\", allowed an IANA time zone such as \"Europe/Berlin\""
        );
        assert!(lines(&quoted).contains(&expected));
    }
    let text = format!(
        "# {}\n[floor]\nname = {{ a = \"{}\", b\u{1f3cb} = 2 }}",
        "y".repeat(10),
        "x".repeat(ALL - 64)
    );
    let column = text.lines().nth(2).unwrap().chars().position(|c| c == '\u{1f3cb}').unwrap() + 1;
    assert!(
        lines(&text)[0].starts_with(&format!("floor.toml:3:{column}: not TOML")),
        "{:?}",
        lines(&text)[0]
    );
}

#[test]
fn odd_characters_are_told_where_they_stand() {
    for (text, expected) in [
        ("\0", "floor.toml:1:1: not TOML"),
        ("[floor]\nname = \"a\0b\"\n", "floor.toml:2:10: not TOML"),
        ("[floor]\n\t\"\u{1f3cb}\t\" = \u{7}\n", "floor.toml:2:9: not TOML"),
        ("[floor]\r\n\tzoen = 1\r\n", "floor.toml:2:2: floor.zoen: found a field that is not known"),
        ("[floor]\rname = 1", "floor.toml:1:9: not TOML: carriage return must be followed by newline"),
        ("date = 2026-02-29", "floor.toml:1:8: not TOML: invalid date, expected day between 01 and 28"),
    ] {
        let told = lines(text);
        assert!(told.iter().any(|line| line.starts_with(expected)), "{expected} is not in {told:#?}");
    }
}

/// The head of the picture and the list name the same column, wide characters before it or not.
#[test]
fn the_picture_and_the_list_agree_on_columns() {
    let text = "[floor]\n\t\"\u{1f3cb}\u{e9}\" = 1\n\"\u{1f3cb}\" = { zoen = 1 }\r\n";
    let [_, mistakes] = told(&format!("client = [{{ \"\u{1f3cb}\u{e9}\" = 1, q = 2 }}]\n{text}"));
    let mistakes = mistakes.expect("mistakes");
    let drawn = report::picture(&mistakes, report::Look::Plain);
    for mistake in mistakes.list() {
        let place = mistake.place.as_ref().expect("a place");
        assert!(drawn.contains(&format!("[programme.toml:{place}]")), "{place} is not in\n{drawn}");
    }
}

#[test]
fn an_empty_file_is_told_what_is_missing() {
    let floor = [
        "floor.toml:1:1: floor: found nothing, allowed a table (write [floor] before its fields)",
        "floor.toml:1:1: station: found nothing, allowed 1 to 500 [[station]] (write [[station]], with two brackets, before each of them)",
        "floor.toml:1:1: coach: found nothing, allowed 1 to 100 [[coach]] (write [[coach]], with two brackets, before each of them)",
        "floor.toml:1:1: exercise: found nothing, allowed 1 to 500 [[exercise]] (write [[exercise]], with two brackets, before each of them)",
    ];
    for text in ["", "\u{feff}", "\r\n\r\n", "# nothing yet"] {
        assert_eq!(lines(text), floor);
    }
    // Nobody trains: an evening like any other.
    assert!(parse_programme("programme.toml", "", &small::floor().floor).is_ok());
}

#[test]
fn names_that_nobody_can_see_or_tell_apart_are_not_taken() {
    let name = |name: &str| lines(&small::changed(small::FLOOR, "\"Small floor\"", &format!("\"{name}\"")));
    for hidden in ["\u{200b}", "a\u{202e}b", "a\u{2028}b", "\u{200d}", "a\\u0085b", " \u{3000} "] {
        let told = name(hidden);
        assert!(told.len() == 1 && told[0].starts_with("floor.toml:2:8: floor.name: found"), "{told:?}");
    }
    // Two joiners have their use within a word.
    assert_eq!(name("\u{645}\u{200c}\u{645}"), [""; 0]);
    let twice = small::changed(small::FLOOR, "\"Row 1\"", "\"Bench 1\"");
    let expected = "floor.toml:20:8: station[2].name: found Bench 1 again, allowed once; it stands in line 12 too (choose another, or take one of the two away)";
    assert_eq!(lines(&twice), [expected]);
}

/// As many kinds of plates and as many of each as a file may have, each a little heavier than the one before.
fn many_plates(step: u32) -> String {
    let mass = |n: u32| 10_000 + n * step;
    let plates: Vec<_> = (0..16)
        .map(|n| format!("{{ mass = \"{}.{:04} kg\", count = 100 }}", mass(n) / 10_000, mass(n) % 10_000))
        .collect();
    let from = "plates = [ { mass = \"10 kg\", count = 2 }, { mass = \"2.5 kg\", count = 4 } ]";
    small::changed(small::FLOOR, from, &format!("plates = [{}]", plates.join(", ")))
}

#[test]
fn plates_that_make_too_many_loads_are_told() {
    let told = small::told_of_floor(&many_plates(137));
    let expected = "floor.toml:14:1: station[1].bar.plates: found plates that make 8000 loads or more, allowed fewer (name only the plates that are kept at this station)";
    assert_eq!(told, [expected]);
    // Halves of a kilogram make fewer, however many plates there are.
    assert_eq!(small::told_of_floor(&many_plates(5_000)), Vec::<String>::new());
}

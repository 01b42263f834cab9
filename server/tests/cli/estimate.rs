//! `turnabout estimate`.

use serde_json::Value;

use crate::asked::{ask, json, refused};

/// Grams of a mass of an answer, rounded, which is three decimals of a kilogram.
fn grams(mass: &Value) -> i64 {
    (mass["ng"].as_i64().expect("nanograms") + 500_000_000) / 1_000_000_000
}

fn estimates(answer: &Value) -> Vec<(String, i64)> {
    let of = |one: &Value| (one["equation"].as_str().expect("a name").to_owned(), grams(&one["one_rm"]));
    answer["equations"].as_array().expect("a list").iter().map(of).collect()
}

/// Check values computed to three decimals from the formulas as secondary texts report them: Brzycki 1993
/// 36w/(37-r), Epley 1985 w(1+r/30), Lander 1985 100w/(101.3-2.67123r), Lombardi 1989 w r^0.10, O'Conner 1989
/// w(1+0.025r), Wathan 1994 100w/(48.8+53.8e^(-0.075r)), Mayhew 1992 100w/(52.2+41.9e^(-0.055r)).
#[test]
fn all_seven_equations_answer() {
    let names = ["brzycki", "epley", "lander", "lombardi", "oconner", "wathan", "mayhew"];
    for (reps, values) in [
        ("2", [102_857, 106_667, 104_213, 107_177, 105_000, 105_146, 111_439]),
        ("5", [112_500, 116_667, 113_709, 117_462, 112_500, 116_583, 119_011]),
        ("8", [124_138, 126_667, 125_109, 123_114, 120_000, 127_671, 126_286]),
        ("10", [133_333, 133_333, 134_070, 125_893, 125_000, 134_747, 130_934]),
        // One repetition is the maximum itself, whatever the formulas say.
        ("1", [100_000; 7]),
    ] {
        let answer = json(0, &["estimate", "--load", "100", "--reps", reps]);
        let expected: Vec<_> = names.iter().map(|name| (*name).to_owned()).zip(values).collect();
        assert_eq!(estimates(&answer), expected, "{reps}");
        let least = values.into_iter().min().unwrap();
        let most = values.into_iter().max().unwrap();
        assert_eq!([grams(&answer["lowest"]), grams(&answer["highest"])], [least, most], "{reps}");
    }
}

/// A worked example that is printed: 200 lb for six repetitions is 232 lb by Brzycki, 220 lb for four 240 lb.
#[test]
fn pounds_stay_pounds() {
    for (load, reps, printed) in [("200", "6", 232.0), ("220", "4", 240.0)] {
        let answer = json(0, &["estimate", "--load", load, "--unit", "lb", "--reps", reps]);
        let brzycki = &answer["equations"][0]["one_rm"];
        assert_eq!(
            (brzycki["unit"].as_str(), brzycki["value"].as_f64().map(f64::round)),
            (Some("lb"), Some(printed))
        );
    }
}

/// NSCA, Essentials of Strength Training and Conditioning, 4th ed. 2016, ch. 17: one to ten repetitions are
/// undisputed, and so nothing above them is checked but that it says so.
#[test]
fn the_table_stands_on_the_lowest_and_marks_what_is_above_ten() {
    let answer = json(0, &["estimate", "--load", "75", "--reps", "10"]);
    let rows = answer["table"].as_array().expect("a list");
    let shares: Vec<_> = rows.iter().map(|row| row["per_mille"].as_i64().unwrap()).collect();
    assert_eq!(shares[..10], [1_000, 950, 930, 900, 870, 850, 830, 800, 770, 750]);
    assert!(shares[10..].is_sorted_by(|heavier, lighter| heavier >= lighter) && shares[10] < 750);
    for (row, reps) in rows.iter().zip(1..) {
        assert_eq!((row["reps"].as_i64(), row["undisputed"].as_bool()), (Some(reps), Some(reps <= 10)));
    }
    // 75 kg for ten is 93.75 kg by O'Conner, the lowest; ten of that is 75 % of it.
    assert_eq!([grams(&answer["lowest"]), grams(&rows[9]["load"])], [93_750, 70_313]);
    let text = ask(&["estimate", "--load", "75", "--reps", "10"]).out;
    for line in text.lines().filter(|line| line.ends_with('*')) {
        assert!(["11", "12", "13", "14", "15"].contains(&&line[2..4]), "{line}");
    }
    assert!(text.contains("* Above 10 repetitions"), "{text}");
}

#[test]
fn the_text_has_every_equation_and_no_target() {
    let said = ask(&["estimate", "--load", "100", "--reps", "10"]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    for word in ["Brzycki", "Epley", "Lander", "Lombardi", "O'Conner", "Wathan", "Mayhew"] {
        assert!(said.out.contains(word), "{word}");
    }
    assert!(said.out.contains("between 125 kg and 134.75 kg"), "{}", said.out);
    assert!(said.out.contains("never a target") && said.out.contains("qualified coach"), "{}", said.out);
}

/// Not above ten repetitions: Reynolds, Gordon, Robergs 2006, J Strength Cond Res 20(3):584-592.
#[test]
fn absurd_sets_are_refused() {
    let huge = "9".repeat(60);
    for reps in ["11", "37", "0", "-1", "2.5", "ten", "", "1e1", huge.as_str()] {
        refused(&["estimate", "--load", "100", "--reps", reps], &["reps: found", "1 to 10"]);
    }
    for load in ["0", "-100", "nan", "inf", "", "1e2", "1000.1", "82,5", "0.00001", "100 kg", huge.as_str()] {
        refused(
            &["estimate", "--load", load, "--reps", "5"],
            &["load: found", "above 0 and at most 1000 kg"],
        );
    }
    refused(
        &["estimate", "--load", "5000", "--unit", "lb", "--reps", "5"],
        &["load: found \"5000\"", "at most 2204.62 lb"],
    );
    refused(
        &["estimate", "--load", "1", "--unit", "stone", "--reps", "5"],
        &["unit: found \"stone\"", "kg or lb"],
    );
    refused(&["estimate", "--load", "100"], &["--reps"]);
    // What is told again of a long argument stays short.
    let said = ask(&["estimate", "--load", &"1".repeat(50_000), "--reps", "5"]);
    assert!(said.err.len() < 400, "{}", said.err.len());
}

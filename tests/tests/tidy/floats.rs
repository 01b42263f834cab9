//! Floor state holds integers and ordered maps only, so that it can be hashed and compared byte for byte.

use crate::{
    mentions::mentions,
    repository,
    rust_text::{is_name, shipped},
    source::{Fault, Source, demand, expect_lines},
};

const FORBIDDEN: [&str; 4] = ["f32", "f64", "HashMap", "HashSet"];

fn inexact(sources: &[Source]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for source in shipped(sources).iter().filter(|source| source.is_under("server/src/floor")) {
        for mention in mentions(&source.text) {
            if mention.segments().any(|name| FORBIDDEN.contains(&name)) {
                faults.push(Fault::new(&source.path, mention.line, mention.path));
            }
        }
        for (line, text) in source.lines().filter(|(_, text)| has_float_literal(text)) {
            faults.push(Fault::new(&source.path, line, text.trim()));
        }
    }
    faults
}

/// A literal such as `1.5` is a float that never says so. `pair.0.1` is none.
fn has_float_literal(line: &str) -> bool {
    let chars: Vec<char> = line.chars().collect();
    chars.windows(3).enumerate().any(|(index, three)| {
        let digits = chars[..=index].iter().rev().take_while(|&&c| is_name(c)).count();
        let number = chars[index + 1 - digits.min(index + 1)];
        let before = (index + 1).checked_sub(digits + 1).map(|at| chars[at]);
        three[1] == '.'
            && three[2].is_ascii_digit()
            && three[0].is_ascii_digit()
            && number.is_ascii_digit()
            && before != Some('.')
    })
}

#[test]
fn floor_state_is_exact_and_ordered() {
    demand("no float and no hash map in floor state", &inexact(&repository::sources()));
}

#[test]
fn planted_floats_and_hash_maps_are_found() {
    let text = "use std::collections::{BTreeMap, HashMap};\nstruct S { a: f64 }\nlet x = 1.5;\nlet y = a.0.1;\n\
                let z = 0..2; // 1.5\nlet f64x = v1.0;";
    expect_lines(&inexact(&[Source::new("server/src/floor/state.rs", text)]), &[1, 2, 3]);
    expect_lines(&inexact(&[Source::new("server/src/capacity/erlang.rs", text)]), &[]);
}

//! Rust source reduced to the code that ships: comments, literals and test code become spaces, lines stay.

use crate::source::Source;

/// The shipped code of every Rust file, same lines. Files that hold only tests come out empty.
pub(crate) fn shipped(sources: &[Source]) -> Vec<Source> {
    let mut test_modules = Vec::new();
    let mut shipped: Vec<Source> = sources
        .iter()
        .filter(|source| source.extension() == "rs")
        .map(|source| {
            let (text, modules) = without_tests(&blank(&source.text));
            let folder = child_folder(&source.path);
            test_modules.extend(modules.iter().map(|module| format!("{folder}/{module}")));
            Source { path: source.path.clone(), text }
        })
        .collect();
    for source in &mut shipped {
        let is_test = |module: &String| {
            source
                .path
                .strip_prefix(module.as_str())
                .is_some_and(|rest| rest == ".rs" || rest.starts_with('/'))
        };
        if test_modules.iter().any(is_test) {
            source.text.clear();
        }
    }
    shipped
}

/// The folder in which a file's `mod name;` looks for `name`.
fn child_folder(path: &str) -> String {
    let (folder, name) = path.rsplit_once('/').unwrap_or(("", path));
    match name {
        "lib.rs" | "main.rs" | "mod.rs" => folder.to_owned(),
        _ => path.trim_end_matches(".rs").to_owned(),
    }
}

/// Replaces comments and the insides of literals by spaces.
pub(crate) fn blank(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    while at < chars.len() {
        let end = opaque_end(&chars, at);
        if end == at {
            out.push(chars[at]);
            at += 1;
        } else {
            out.extend(chars[at..end].iter().map(|&c| if c == '\n' { '\n' } else { ' ' }));
            at = end;
        }
    }
    out
}

/// Where the comment or literal that starts here ends; here itself if none does.
fn opaque_end(chars: &[char], at: usize) -> usize {
    let next = chars.get(at + 1).copied();
    match chars[at] {
        '/' if next == Some('/') => find(chars, at, '\n'),
        '/' if next == Some('*') => block_comment_end(chars, at),
        '"' => quoted_end(chars, at),
        'r' if !follows_name(chars, at) => raw_string_end(chars, at),
        '\'' => character_end(chars, at),
        _ => at,
    }
}

fn find(chars: &[char], from: usize, wanted: char) -> usize {
    chars[from..].iter().position(|&c| c == wanted).map_or(chars.len(), |offset| from + offset)
}

fn follows_name(chars: &[char], at: usize) -> bool {
    // `br"..."` is a raw byte string, `car"` is not Rust; anything else before the r makes it a name's end.
    at > 0 && is_name(chars[at - 1]) && !(chars[at - 1] == 'b' && (at < 2 || !is_name(chars[at - 2])))
}

fn block_comment_end(chars: &[char], at: usize) -> usize {
    let (mut depth, mut i) = (0, at);
    while i + 1 < chars.len() {
        match (chars[i], chars[i + 1]) {
            ('/', '*') => (depth, i) = (depth + 1, i + 2),
            ('*', '/') => (depth, i) = (depth - 1, i + 2),
            _ => i += 1,
        }
        if depth == 0 {
            return i;
        }
    }
    chars.len()
}

fn quoted_end(chars: &[char], at: usize) -> usize {
    let mut i = at + 1;
    while i < chars.len() {
        match chars[i] {
            '\\' => i += 2,
            '"' => return i + 1,
            _ => i += 1,
        }
    }
    chars.len()
}

fn raw_string_end(chars: &[char], at: usize) -> usize {
    let hashes = chars[at + 1..].iter().take_while(|&&c| c == '#').count();
    let quote = at + 1 + hashes;
    if chars.get(quote) != Some(&'"') {
        return at; // a raw name such as r#type, or just the letter
    }
    let mut i = quote + 1;
    while i < chars.len() {
        let closing = chars[i + 1..].iter().take(hashes).filter(|&&c| c == '#').count() == hashes;
        if chars[i] == '"' && closing {
            return i + 1 + hashes;
        }
        i += 1;
    }
    chars.len()
}

/// A character literal; a lifetime is code and stays.
fn character_end(chars: &[char], at: usize) -> usize {
    match (chars.get(at + 1), chars.get(at + 2)) {
        (Some('\\'), Some(_)) => (find(chars, at + 3, '\'') + 1).min(chars.len()),
        (Some(_), Some('\'')) => at + 3,
        _ => at,
    }
}

pub(crate) fn is_name(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// Blanks items under `#[cfg(test)]` in code without literals. Also the modules so marked that have a file.
fn without_tests(code: &str) -> (String, Vec<String>) {
    const MARK: &str = "#[cfg(test)]";
    let (mut out, mut rest, mut modules) = (String::with_capacity(code.len()), code, Vec::new());
    while let Some(start) = rest.find(MARK) {
        let length = item_length(&rest[start..]);
        let item = &rest[start..start + length];
        if let Some(name) = file_module(item) {
            modules.push(name);
        }
        out.push_str(&rest[..start]);
        out.extend(item.chars().map(|c| if c == '\n' { '\n' } else { ' ' }));
        rest = &rest[start + length..];
    }
    out.push_str(rest);
    (out, modules)
}

/// Length of the attributes and the item after them: to its closing brace or semicolon.
fn item_length(code: &str) -> usize {
    let mut depth = 0_i32;
    for (index, c) in code.char_indices() {
        match c {
            '(' | '[' | '{' => depth += 1,
            '}' if depth == 0 => return index, // the brace of what encloses it
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 && matches!(c, '}' | ';') {
            return index + c.len_utf8();
        }
    }
    code.len()
}

/// The name in `mod name;`, if that is what the item is.
fn file_module(item: &str) -> Option<String> {
    let words = item.strip_suffix(';')?;
    let (before, name) = words.trim_end().rsplit_once(' ')?;
    before.trim_end().ends_with("mod").then(|| name.to_owned())
}

#[test]
fn comments_and_literals_become_spaces_and_code_stays() {
    let cases = [
        ("a // b\nc", "a     \nc"),
        ("a /* b /* c */ d */ e", "a                   e"),
        (r#"f("x \" y") g"#, "f(        ) g"),
        ("r#\"a \" b\"# c", "           c"),
        ("b\"a\" br\"z\" c", "b    b     c"),
        ("r#type x", "r#type x"),
        ("for x", "for x"),
        ("'a' '\\'' '\\u{1}' &'a T", "                 &'a T"),
        ("\"a\nb\" c", "  \n   c"),
    ];
    for (text, expected) in cases {
        assert_eq!(blank(text), expected, "{text}");
    }
}

#[test]
fn test_code_is_not_shipped() {
    let sources = [
        Source::new("server/src/a.rs", "fn a() {}\n#[cfg(test)]\n#[x]\nmod t {\n  fn b() {}\n}\nfn c() {}"),
        Source::new("server/src/d/mod.rs", "#[cfg(test)]\nmod tests;\n#[cfg(test)] use x::{y};\nfn d() {}"),
        Source::new("server/src/d/tests.rs", "fn e() {}"),
        Source::new("server/src/d/tests/more.rs", "fn f() {}"),
        Source::new("server/src/d/testsuite.rs", "fn g() {}"),
    ];
    let texts: Vec<String> = shipped(&sources).into_iter().map(|source| source.text).collect();
    let words: Vec<Vec<&str>> = texts.iter().map(|text| text.split_whitespace().collect()).collect();
    assert_eq!(words[0].join(" "), "fn a() {} fn c() {}");
    assert_eq!(words[1].join(" "), "; fn d() {}");
    assert_eq!(words[2].join(" ") + &words[3].join(" "), "");
    assert_eq!(words[4].join(" "), "fn g() {}");
    assert_eq!(texts[0].lines().count(), sources[0].text.lines().count());
}

//! Every path that code names, with `use` trees unfolded, so that `use std::{fs, time::Instant}` cannot hide
//! what it brings.

use crate::rust_text::is_name;

/// A path such as `std::time::Instant`, a glob `std::time::*`, or a macro `println!`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Mention {
    pub(crate) line: usize,
    pub(crate) path: String,
}

impl Mention {
    pub(crate) fn segments(&self) -> impl Iterator<Item = &str> {
        self.path.split("::")
    }

    /// Whether this is the path itself or something in it.
    pub(crate) fn is_within(&self, path: &str) -> bool {
        self.path.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with("::"))
    }
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Token {
    Name(String),
    Colons,
    Mark(char),
}

/// The paths in code whose comments and literals are blank. One name alone is a path too.
pub(crate) fn mentions(code: &str) -> Vec<Mention> {
    let tokens = tokens(code);
    let mut found = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        at = match &tokens[at].1 {
            Token::Name(name) if name == "use" => tree(&tokens, at + 1, "", &mut found),
            Token::Name(_) => path(&tokens, at, &mut found),
            Token::Colons | Token::Mark(_) => at + 1,
        };
    }
    found
}

fn tokens(code: &str) -> Vec<(usize, Token)> {
    let mut tokens = Vec::new();
    let mut line = 1;
    let mut chars = code.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\n' => line += 1,
            ':' if chars.peek() == Some(&':') => {
                chars.next();
                tokens.push((line, Token::Colons));
            }
            c if is_name(c) => {
                let mut name = String::from(c);
                while let Some(more) = chars.next_if(|&next| is_name(next)) {
                    name.push(more);
                }
                tokens.push((line, Token::Name(name)));
            }
            c if c.is_whitespace() => {}
            c => tokens.push((line, Token::Mark(c))),
        }
    }
    tokens
}

/// Reads `a::b::c` or `a::b!`; returns where it ends.
fn path(tokens: &[(usize, Token)], start: usize, found: &mut Vec<Mention>) -> usize {
    let line = tokens[start].0;
    let (mut text, mut at) = (String::new(), start);
    while let Some((_, Token::Name(name))) = tokens.get(at) {
        text.push_str(name);
        at += 1;
        let goes_on = matches!(tokens.get(at), Some((_, Token::Colons)))
            && matches!(tokens.get(at + 1), Some((_, Token::Name(_))));
        if !goes_on {
            break;
        }
        text.push_str("::");
        at += 1;
    }
    // `a != b` is a comparison, not a macro.
    let is_macro = matches!(tokens.get(at), Some((_, Token::Mark('!'))))
        && !matches!(tokens.get(at + 1), Some((_, Token::Mark('='))));
    if is_macro {
        text.push('!');
    }
    found.push(Mention { line, path: text });
    at
}

/// Reads one `use` tree behind `prefix`; returns where it ends.
fn tree(tokens: &[(usize, Token)], start: usize, prefix: &str, found: &mut Vec<Mention>) -> usize {
    let (mut text, mut at) = (prefix.to_owned(), start);
    while let Some((line, token)) = tokens.get(at) {
        match token {
            Token::Name(name) if name == "as" => at += 2,
            Token::Name(name) => {
                let tail = matches!(tokens.get(at + 1), Some((_, Token::Colons)));
                // `use a::{self}` names a.
                let here = if name == "self" && !text.is_empty() {
                    text.trim_end_matches("::").to_owned()
                } else {
                    format!("{text}{name}")
                };
                at += 1;
                if tail {
                    text = here;
                } else {
                    found.push(Mention { line: *line, path: here });
                }
            }
            Token::Colons if text.is_empty() => at += 1, // `use ::std::fs`
            Token::Colons => {
                text.push_str("::");
                at += 1;
            }
            Token::Mark('*') => {
                found.push(Mention { line: *line, path: format!("{text}*") });
                at += 1;
            }
            Token::Mark('{') => {
                at += 1;
                while !matches!(tokens.get(at), None | Some((_, Token::Mark('}')))) {
                    at = tree(tokens, at, &text, found);
                    if matches!(tokens.get(at), Some((_, Token::Mark(',')))) {
                        at += 1;
                    }
                }
                return at + 1;
            }
            // The end of this branch, or `use<'a>`, which is no import.
            Token::Mark(_) => return if at == start { at + 1 } else { at },
        }
    }
    at
}

#[test]
fn use_trees_unfold_and_paths_are_read_where_they_stand() {
    let cases: [(&str, &[&str]); 9] = [
        ("use std::fs;", &["std::fs"]),
        (
            "use std::{fs, time::{Duration, Instant as I}};",
            &["std::fs", "std::time::Duration", "std::time::Instant"],
        ),
        ("use std::{fs::{self, File}, net::*,};", &["std::fs", "std::fs::File", "std::net::*"]),
        ("use ::tokio::time;", &["tokio::time"]),
        ("use {std::fs, tokio};", &["std::fs", "tokio"]),
        ("std::fs::read(x)", &["std::fs::read", "x"]),
        ("println!(a != b)", &["println!", "a", "b"]),
        ("Vec::<f64>::new()", &["Vec", "f64", "new"]),
        ("impl A + use<'a> {}", &["impl", "A", "a"]),
    ];
    for (code, expected) in cases {
        let paths: Vec<String> = mentions(code).into_iter().map(|mention| mention.path).collect();
        assert_eq!(paths, expected, "{code}");
    }
    assert_eq!(mentions("a\n\nuse b::{\n c\n};")[1], Mention { line: 4, path: "b::c".to_owned() });
}

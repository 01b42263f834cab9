//! What a page's modules are when it asks for them: joined to a few files.
//!
//! A slow phone spends more time on asking for thirty small files than on reading them. So the modules that a page
//! needs at once come as one file, what speaks with the server first as one before it, and what is asked for later as
//! one each. Every module is in exactly one file of a page, so what it keeps is there once.
//!
//! A module becomes a call that gives what it exports, after those it imports from:
//!
//! ```js
//! const $dom = (() => {
//! const el = …;
//! return { el };
//! })();
//! ```
//!
//! This reads no JavaScript beyond whole lines of `import { a, b as c } from "./name.js";` and what stands behind
//! `export` at the beginning of a line. The modules are written so, and a test holds them to it.

use std::{collections::BTreeMap, fmt::Write as _, sync::LazyLock};

use super::assets;

/// The module that opens the socket before the others are there.
pub(super) const EARLY: &str = "early.js";

/// The module that loads the texts.
const TEXT: &str = "text.js";

/// The files of every page, by the script of the page and the file's own name.
static FILES: LazyLock<BTreeMap<(&'static str, &'static str), String>> = LazyLock::new(|| {
    let scripts = super::shell::SCRIPTS.iter();
    scripts.flat_map(|script| files(script).into_iter().map(|(name, body)| ((*script, name), body))).collect()
});

/// Whether the page with this script watches a view, for which [`EARLY`] asks.
pub(super) fn watches(script: &'static str) -> bool {
    closure(script).contains(&EARLY)
}

/// Whether the page with this script loads the texts of its language.
pub(super) fn speaks(script: &'static str) -> bool {
    closure(script).contains(&TEXT)
}

/// The address of a file of the page with this script: in a folder of its own, where its files name each other.
pub(super) fn address(script: &str, name: &str) -> String {
    assets::address(&format!("{}/{name}", stem(script)))
}

/// The file of a page, by the page's folder and the file's name; nothing for another version's folder.
pub(super) fn find(folder: &str, page: &str, name: &str) -> Option<&'static str> {
    assets::is_folder(folder).then_some(())?;
    let named = |(script, file): &(&str, &str)| stem(script) == page && *file == name;
    FILES.iter().find(|(key, _)| named(key)).map(|(_, body)| body.as_str())
}

/// Each file of a page with its content: what is asked for at once, then what a module of those asks for later.
fn files(script: &'static str) -> Vec<(&'static str, String)> {
    let mut roots = if watches(script) { vec![EARLY, script] } else { vec![script] };
    let mut homes = BTreeMap::new();
    let mut done = Vec::new();
    let mut at = 0;
    while let Some(root) = roots.get(at).copied() {
        at += 1;
        let own: Vec<_> = closure(root).into_iter().filter(|name| !homes.contains_key(name)).collect();
        for later in own.iter().flat_map(|name| asked_later(name)) {
            if !roots.contains(&later) {
                roots.push(later);
            }
        }
        done.push((root, file(script, root, &own, &homes)));
        homes.extend(own.into_iter().map(|name| (name, root)));
    }
    done
}

/// One file of a page: what it takes from the files before it, then its modules. The page's script comes last and as it
/// is but for its imports, so that it may wait for something; whatever else the file is asked for exports by itself too.
fn file(
    script: &str,
    root: &str,
    own: &[&'static str],
    homes: &BTreeMap<&'static str, &'static str>,
) -> String {
    let mut taken: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for name in own.iter().flat_map(|name| imports(name)) {
        if let Some(home) = homes.get(name) {
            let names = taken.entry(home).or_default();
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    let listed = |names: &[&str]| names.iter().map(|name| variable(name)).collect::<Vec<_>>().join(", ");
    let mut text = String::new();
    for (home, names) in &taken {
        let _ = writeln!(text, "import {{ {} }} from \"./{home}\";", listed(names));
    }
    for name in own.iter().filter(|name| **name != script) {
        let (body, exports) = inner(name);
        let _ = write!(text, "const {} = (() => {{\n{body}", variable(name));
        let _ = writeln!(text, "return {{ {} }};\n}})();", exports.join(", "));
        if *name == root {
            let _ = writeln!(text, "export const {{ {} }} = {};", exports.join(", "), variable(name));
        }
    }
    if root == script {
        lines(script).for_each(|line| text.push_str(&outer(line)));
    }
    // Whoever is asked for later may need any of them.
    let shared: Vec<_> = own.iter().copied().filter(|name| *name != script).collect();
    let _ = writeln!(text, "export {{ {} }};", listed(&shared));
    text
}

/// The lines of a module without those that are only a comment.
fn lines(name: &str) -> impl Iterator<Item = &'static str> {
    let mut within = false;
    assets::body(name).lines().filter(move |line| {
        let line = line.trim();
        let begins = line.starts_with("/**");
        let comment = within || begins || line.is_empty() || line.starts_with("//");
        within = (within || begins) && !line.ends_with("*/");
        !comment
    })
}

/// A module's content as the body of a call, and the names it gives.
fn inner(name: &str) -> (String, Vec<&'static str>) {
    let mut exports = Vec::new();
    let mut body = String::new();
    for line in lines(name) {
        let Some(exported) = line.strip_prefix("export ") else {
            body.push_str(&outer(line));
            continue;
        };
        if let Some((names, _)) = import(line) {
            exports.extend(names.split(',').map(str::trim));
            body.push_str(&outer(line));
            continue;
        }
        let head = ["async function ", "function ", "class ", "const "];
        let rest = head.iter().find_map(|head| exported.strip_prefix(head));
        exports.extend(rest.and_then(|rest| rest.split(|letter: char| !part_of_name(letter)).next()));
        let _ = writeln!(body, "{exported}");
    }
    (body, exports)
}

/// A line of a module, where it imports something with that taken from a module of the page.
fn outer(line: &str) -> String {
    match import(line) {
        Some((names, from)) => format!("const {{{}}} = {};\n", names.replace(" as ", ": "), variable(from)),
        None => format!("{line}\n"),
    }
}

/// The names in braces, and the module they are from, of a line that imports them or exports them anew.
fn import(line: &str) -> Option<(&str, &str)> {
    let rest = line.strip_prefix("import {").or_else(|| line.strip_prefix("export {"))?;
    let (names, from) = rest.split_once("} from \"./")?;
    Some((names, from.strip_suffix("\";")?))
}

/// The modules that one imports at once.
fn imports(name: &str) -> impl Iterator<Item = &'static str> {
    assets::body(name).lines().filter_map(|line| Some(import(line)?.1))
}

/// The modules that one asks for by a call, when it wants them.
fn asked_later(name: &str) -> impl Iterator<Item = &'static str> {
    assets::body(name).split("import(\"./").skip(1).filter_map(|rest| rest.split('"').next())
}

/// A module and all that it needs, each once and after what it needs itself.
fn closure(name: &'static str) -> Vec<&'static str> {
    fn follow(name: &'static str, met: &mut Vec<&'static str>, found: &mut Vec<&'static str>) {
        if met.contains(&name) {
            return;
        }
        met.push(name);
        imports(name).for_each(|import| follow(import, met, found));
        found.push(name);
    }
    let mut found = Vec::new();
    follow(name, &mut Vec::new(), &mut found);
    found
}

fn part_of_name(letter: char) -> bool {
    letter.is_ascii_alphanumeric() || letter == '_' || letter == '$'
}

/// What a module's exports are called in a file.
fn variable(name: &str) -> String {
    format!("${}", stem(name))
}

fn stem(name: &str) -> &str {
    name.strip_suffix(".js").unwrap_or(name)
}

//! The pages as a browser gets them: asked over TCP.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};

use tokio::{net::TcpListener, task::spawn_blocking};

use super::{assets, joined, routes, shell};

const PAGES: [&str; 8] =
    ["/", "/coach", "/board", "/incident", "/summary", "/session", "/briefing", "/programme"];

/// Asks for each path and gives the whole answers, head and body.
async fn ask(requests: Vec<(String, &'static str)>) -> Vec<String> {
    let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
    let address = listener.local_addr().unwrap();
    let server = tokio::spawn(async move { axum::serve(listener, routes()).await });
    let answers = spawn_blocking(move || requests.into_iter().map(|r| one(address, &r.0, r.1)).collect());
    let answers = answers.await.unwrap();
    server.abort();
    answers
}

fn one(address: SocketAddr, path: &str, language: &str) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    let head = format!(
        "GET {path} HTTP/1.1\r\nhost: floor\r\naccept-language: {language}\r\nconnection: close\r\n\r\n"
    );
    stream.write_all(head.as_bytes()).unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

async fn pages(language: &'static str) -> Vec<String> {
    ask(PAGES.iter().map(|path| ((*path).to_owned(), language)).collect()).await
}

#[tokio::test]
async fn every_answer_forbids_what_the_pages_do_not_need() {
    let mut requests: Vec<_> = PAGES.iter().map(|path| ((*path).to_owned(), "en")).collect();
    requests.push((assets::address("coach.css"), "en"));
    requests.push((joined::address("coach.js", "below.js"), "en"));
    requests.push(("/assets/0/coach/coach.js".to_owned(), "en"));
    for answer in ask(requests).await {
        for line in [
            "content-security-policy: default-src 'none'; script-src 'self'; style-src 'self'; \
             connect-src 'self'; img-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'; \
             frame-ancestors 'none'\r\n",
            "x-content-type-options: nosniff\r\n",
            "referrer-policy: no-referrer\r\n",
        ] {
            assert!(answer.contains(line), "{line} is missing in {answer}");
        }
    }
}

#[tokio::test]
async fn no_page_has_a_script_or_style_of_its_own() {
    for page in pages("en").await {
        assert!(page.starts_with("HTTP/1.1 200 OK\r\n"), "{page}");
        assert!(!page.contains("<style") && !page.contains(" style="), "{page}");
        // An attribute has its value at once; in a sentence something else follows the word.
        let word = |rest: &str| {
            rest.trim_start_matches(|letter: char| letter.is_ascii_alphabetic()).starts_with('=')
        };
        assert!(!page.split(" on").skip(1).any(word), "an event attribute in {page}");
        let scripts: Vec<&str> = page.split("<script").skip(1).collect();
        assert!((1..=2).contains(&scripts.len()), "{page}");
        for script in scripts {
            let script = script.strip_prefix(" async").unwrap_or(script);
            assert!(script.starts_with(" type=\"module\" src=\"/assets/"), "{page}");
            assert!(script.contains("\"></script>"), "{page}");
        }
    }
}

#[tokio::test]
async fn what_a_page_names_is_there_and_kept_for_ever() {
    let mut named = Vec::new();
    for page in pages("en").await {
        let addresses = page.split('"').filter(|part| part.starts_with("/assets/"));
        named.extend(addresses.map(|address| (address.to_owned(), "en")));
    }
    assert!(named.len() >= 12, "{named:?}");
    for answer in ask(named).await {
        assert!(answer.starts_with("HTTP/1.1 200 OK\r\n"), "{answer}");
        assert!(answer.contains("cache-control: public, max-age=31536000, immutable\r\n"), "{answer}");
    }
}

#[tokio::test]
async fn another_versions_folder_and_unknown_files_are_not_found() {
    let missing = [
        "/assets/0000000000000000/coach.css".to_owned(),
        "/assets/0000000000000000/coach/coach.js".to_owned(),
        assets::address("package.json"),
        joined::address("coach.js", "board.js"),
    ];
    for answer in ask(missing.into_iter().map(|path| (path, "en")).collect()).await {
        assert!(answer.starts_with("HTTP/1.1 404 Not Found\r\n"), "{answer}");
    }
}

#[tokio::test]
async fn a_page_speaks_the_browsers_language() {
    for (language, tag, word) in [("de-DE,de;q=0.9", "de", "Coach-Seite"), ("fr", "en", "Coach page")] {
        for page in pages(language).await {
            assert!(page.contains(&format!("<html lang=\"{tag}\">")), "{page}");
        }
        assert!(pages(language).await[0].contains(word));
    }
}

#[tokio::test]
async fn a_page_that_watches_a_view_asks_for_it_before_its_modules_are_there() {
    for (path, page) in PAGES.iter().zip(pages("de").await) {
        let early = page.contains("<script async type=\"module\" src=\"");
        assert_eq!(early, ["/coach", "/board"].contains(path), "{page}");
        let catalogue = "<link rel=\"preload\" as=\"fetch\" crossorigin href=\"/text/de.json\">";
        assert_eq!(page.contains(catalogue), *path != "/", "{page}");
    }
    // It is there soon because it hardly needs anything.
    let early = joined::find(&folder(), "coach", joined::EARLY).unwrap();
    assert_eq!(modules(early), ["early.js", "hello.js", "me.js"]);
}

#[test]
fn modules_import_only_files_that_are_served() {
    for asset in &assets::ALL {
        for import in asset.body.split("from \"./").skip(1) {
            let name = import.split('"').next().unwrap();
            assert!(assets::ALL.iter().any(|other| other.name == name), "{} imports {name}", asset.name);
        }
    }
}

#[test]
fn modules_build_no_markup_and_no_style_from_text() {
    for asset in &assets::ALL {
        for word in ["innerHTML", "outerHTML", "insertAdjacentHTML", "eval(", "new Function", "\"style\""] {
            assert!(!asset.body.contains(word), "{} has {word}", asset.name);
        }
    }
}

/// The folder of this version's files.
fn folder() -> String {
    assets::address("").trim_matches('/').rsplit('/').next().unwrap().to_owned()
}

/// The modules that a joined file has as calls, in the order of names.
fn modules(file: &str) -> Vec<String> {
    let calls = file.lines().filter_map(|line| line.strip_prefix("const $")?.strip_suffix(" = (() => {"));
    let mut names: Vec<_> = calls.map(|name| format!("{name}.js")).collect();
    names.sort();
    names
}

/// What stands in quotes after this mark.
fn quoted_after<'text>(text: &'text str, mark: &str) -> Vec<&'text str> {
    text.split(mark).skip(1).map(|rest| rest.split('"').next().unwrap()).collect()
}

#[test]
fn a_page_has_every_module_that_it_needs_once() {
    for script in shell::SCRIPTS {
        let page = script.strip_suffix(".js").unwrap();
        let files: Vec<_> =
            assets::ALL.iter().filter_map(|asset| joined::find(&folder(), page, asset.name)).collect();
        let mut there: Vec<_> = files.iter().flat_map(|file| modules(file)).collect();
        there.push(script.to_owned());
        there.sort();
        // Whatever stands in quotes after a point and a slash is another module, asked for at once or later.
        let mut needed = vec![script];
        let mut at = 0;
        while let Some(name) = needed.get(at).copied() {
            at += 1;
            for import in quoted_after(assets::body(name), "\"./") {
                if !needed.contains(&import) {
                    needed.push(import);
                }
            }
        }
        needed.sort_unstable();
        assert_eq!(there, needed, "{script}");
    }
}

#[test]
fn a_file_takes_from_another_only_what_that_exports() {
    let mut taken = 0;
    for script in shell::SCRIPTS {
        let page = script.strip_suffix(".js").unwrap();
        let file = |name: &str| joined::find(&folder(), page, name);
        for body in assets::ALL.iter().filter_map(|asset| file(asset.name)) {
            for line in body.lines().filter(|line| line.starts_with("import ")) {
                let (names, from) =
                    line.strip_prefix("import { ").unwrap().split_once(" } from \"./").unwrap();
                let from = file(from.strip_suffix("\";").unwrap()).unwrap();
                let exports = from.lines().last().unwrap();
                for name in names.split(", ") {
                    assert!(
                        exports.contains(&format!(" {name},")) || exports.contains(&format!(" {name} }}"))
                    );
                    taken += 1;
                }
            }
        }
    }
    assert!(taken > 5, "{taken}");
}

#[test]
fn a_module_stands_after_those_that_it_takes_from() {
    let mut taken = 0;
    for script in shell::SCRIPTS {
        let page = script.strip_suffix(".js").unwrap();
        for asset in &assets::ALL {
            let Some(body) = joined::find(&folder(), page, asset.name) else { continue };
            let mut there: Vec<&str> = Vec::new();
            for line in body.lines() {
                if let Some(names) = line.strip_prefix("import { ").and_then(|rest| rest.split(" }").next()) {
                    there.extend(names.split(", "));
                } else if let Some(name) =
                    line.strip_prefix("const ").and_then(|rest| rest.strip_suffix(" = (() => {"))
                {
                    there.push(name);
                } else if let Some((_, from)) = line.split_once("} = $") {
                    let from = format!("${}", from.strip_suffix(';').unwrap());
                    assert!(there.contains(&from.as_str()), "{page}/{}: {line}", asset.name);
                    taken += 1;
                }
            }
        }
    }
    assert!(taken > 200, "{taken}");
}

#[test]
fn what_is_asked_for_later_gives_what_its_module_exports() {
    let below = joined::find(&folder(), "coach", "below.js").unwrap();
    assert!(below.contains("\nexport const { footPart, moreList } = $below;\n"), "{below}");
    let choose = joined::find(&folder(), "coach", "choose.js").unwrap();
    assert!(choose.contains("\nexport const { chooseCoach, loadFloor } = $choose;\n"), "{choose}");
    assert_eq!(joined::find("0000000000000000", "coach", "below.js"), None);
}

/// Modules are joined by whole lines, so what is not written in such lines would be joined wrongly.
#[test]
fn modules_are_written_as_they_can_be_joined() {
    for asset in assets::ALL.iter().filter(|asset| asset.media == assets::SCRIPT) {
        for line in asset.body.lines() {
            let named = line.ends_with("\";") && line.contains("} from \"./");
            let import = line.starts_with("import {") && named;
            assert!(!line.starts_with("import") || import, "{}: {line}", asset.name);
            let exports = ["export async function ", "export function ", "export class ", "export const "];
            let export = exports.iter().any(|export| {
                line.strip_prefix(export)
                    .is_some_and(|name| name.starts_with(|c: char| c.is_ascii_alphabetic()))
            });
            let anew = line.starts_with("export {") && named && !line.contains(" as ");
            assert!(!line.starts_with("export") || export || anew, "{}: {line}", asset.name);
            // A text over several lines could have one that looks like a comment.
            let comment = ["/", "*"].iter().any(|mark| line.trim_start().starts_with(mark));
            assert!(comment || line.matches('`').count() % 2 == 0, "{}: {line}", asset.name);
            let opens = line.find("/*").is_some_and(|at| !line[..at].trim().is_empty());
            assert!(!opens, "{}: a comment behind something: {line}", asset.name);
        }
        // Only the script of a page may wait before it is done.
        let waits = asset
            .body
            .lines()
            .any(|line| line.starts_with("await ") || line.contains(" = await ") && !line.starts_with(' '));
        assert!(!waits || shell::SCRIPTS.contains(&asset.name), "{}", asset.name);
    }
}

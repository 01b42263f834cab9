//! The pages as a browser gets them: asked over TCP.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};

use tokio::{net::TcpListener, task::spawn_blocking};

use super::{assets, routes};

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
    requests.push((assets::address("coach.js"), "en"));
    requests.push(("/assets/0/coach.js".to_owned(), "en"));
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
    let missing = ["/assets/0000000000000000/coach.js".to_owned(), assets::address("package.json")];
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
    let early = format!("<script async type=\"module\" src=\"{}\">", assets::address("early.js"));
    for (path, page) in PAGES.iter().zip(pages("de").await) {
        assert_eq!(page.contains(&early), ["/coach", "/board"].contains(path), "{page}");
        let catalogue = "<link rel=\"preload\" as=\"fetch\" crossorigin href=\"/text/de.json\">";
        assert_eq!(page.contains(catalogue), *path != "/", "{page}");
    }
    // It is there soon because it hardly needs anything.
    assert_eq!(assets::imported("early.js"), ["hello.js", "me.js"]);
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

#[tokio::test]
async fn a_page_names_every_module_that_it_will_need_and_none_that_is_not_there() {
    let hash = assets::address("dom.js").replace("dom.js", "");
    for page in pages("en").await {
        let after = |mark: &str| {
            let names = page.split(mark).skip(1).map(|rest| rest.split('"').next().unwrap());
            names.map(|name| name.strip_prefix(hash.as_str()).unwrap()).collect::<Vec<_>>()
        };
        // What begins before the others is no preload but runs at once.
        let early = after("<script async type=\"module\" src=\"");
        let named = [early, after("rel=\"modulepreload\" href=\"")].concat();
        let script = after("<script type=\"module\" src=\"")[0];
        assert!(!named.is_empty() && !named.contains(&script), "{script}: {named:?}");
        let body = |name: &str| assets::ALL.iter().find(|asset| asset.name == name).unwrap().body;
        for name in named.iter().chain([&script]) {
            // Whatever stands in quotes after a point and a slash is another module. What is asked for by a call is
            // wanted later, and named as little as what only that needs.
            let at_once = body(name).replace("import(\"./", "");
            for import in at_once.split("\"./").skip(1).map(|rest| rest.split('"').next().unwrap()) {
                assert!(named.contains(&import), "{script}: {name} imports {import}");
            }
        }
        let once: std::collections::BTreeSet<_> = named.iter().collect();
        assert_eq!(once.len(), named.len(), "{named:?}");
    }
}

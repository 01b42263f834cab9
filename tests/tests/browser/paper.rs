//! What is printed: the sheets of paper of a group of four with the longest names, printed on A4 by Chromium in both
//! languages before and after a whole evening, and read back by a library that is not ours.
//!
//! Source: pypdf for what is in the files. That no heading is left behind at the end of a sheet is common practice, no
//! source.

use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::path::Path;
use std::time::Duration;

use tokio::process::Command;
use turnabout_protocol::command::{Act, Effort, Ending, NoteAbout};
use turnabout_protocol::frame::ToDisplay;
use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::role::Role;
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::view::{CoachView, Stage, View};
use turnabout_tests::harness::{Display, request};
use turnabout_tests::outside;

use super::printed::{BOX, Cell, Page};
use super::{driven, repository, serve_on};

/// Eight pages in two languages on a loaded build machine.
const PATIENCE: Duration = Duration::from_secs(300);
/// So much is done at one display, each step with two frames at most.
const STEPS: usize = 40;
/// An evening that takes more displays than this does not end.
const MOST_DISPLAYS: usize = 60;

const GROUP: GroupId = GroupId(1);
const NAMES: [&str; 4] = [
    "Wanja Vesna Quinn Marit Nadim Greta Edda",
    "Chidi Farid Jonah Kaito Greta Nadim Lupe",
    "Marit Quinn Wanja Vesna Chidi Farid Runa",
    "Kaito Jonah Nadim Greta Marit Quinn Sefa",
];
/// Of each of four clients: in each of two blocks a light set and three rounds of two exercises.
const SETS: usize = 4 * 2 * (1 + 3) * 2;

/// The sheets as they were printed, by the name of the file.
type Papers = BTreeMap<String, Vec<Page>>;

/// Prints pages of the coach, each by its name and its address, and reads the files back; nothing where a tool is missing.
async fn print(address: SocketAddr, folder: &Path, pages: &[(&str, &str)]) -> Option<Papers> {
    let python = outside::python()?;
    let asked = pages.iter().map(|(name, path)| format!("{name}=/{path}&me=coach-1"));
    let arguments = [format!("http://{address}"), folder.display().to_string()].into_iter().chain(asked);
    let told = driven("paper.mjs", &arguments.collect::<Vec<_>>(), PATIENCE).await?;
    let files: Vec<String> = serde_json::from_value(told["files"].clone()).unwrap();
    assert_eq!(files.len(), pages.len() * 2, "both languages");
    let read = Command::new(python)
        .arg(repository("tests/outside/read_paper.py"))
        .args(files.iter().map(|file| folder.join(file)))
        .output()
        .await
        .unwrap();
    assert!(read.status.success(), "{}", String::from_utf8_lossy(&read.stderr));
    let sheets: Vec<Vec<Page>> = serde_json::from_slice(&read.stdout).unwrap();
    let names = files.iter().map(|file| file.trim_end_matches(".pdf").to_owned());
    Some(names.zip(sheets).collect())
}

/// Looks at every sheet, and gives what a paper says in one language.
fn said(papers: &Papers, name: &str, language: Language) -> String {
    let pages = &papers[&format!("{name}-{}", language.tag())];
    pages.iter().map(Page::said).collect::<Vec<_>>().join(" ")
}

fn look(papers: &Papers) {
    for (file, pages) in papers {
        for page in pages {
            assert_eq!(page.wrong(), None, "{file}");
            let last = page.last();
            let heading = NAMES.contains(&last.text.as_str()) || last.text.starts_with("Block ");
            assert!(!heading, "{file}: {last:?} is left behind by what it is above");
        }
    }
}

fn assert_says(said: &str, wanted: &[&str]) {
    for text in wanted {
        assert!(said.contains(text), "{text:?} is not in: {said}");
    }
}

/// The first coach with the page as it is now.
async fn open(address: SocketAddr) -> (Display, CoachView) {
    let role = Role::Coach { coach: "coach-1".parse().unwrap() };
    let mut coach = Display::open_as(address, None, role, "coach/coach-1").await;
    let View::Coach(page) = coach.view().await else { panic!("a coach's page") };
    (coach, page)
}

/// Does what the page expects next, or lets the clock go on where that is nothing or is refused.
async fn step(address: SocketAddr, coach: &mut Display, page: &mut CoachView) {
    let due = page.groups[0].taps.iter().find(|tap| tap.from <= coach.now).map(|tap| as_it_went(&tap.act));
    if let Some(act) = due {
        let (before, sent) = (page.clone(), coach.send_act(act).await.id);
        let mut answered = None;
        // The answer and the view that shows it may come in either order.
        while answered.is_none() || (answered == Some(true) && *page == before) {
            match coach.frame().await {
                ToDisplay::Answer { id, answer } if id == sent => {
                    answered = Some(matches!(answer, Outcome::Accepted { .. }));
                }
                ToDisplay::View { view: View::Coach(newer), .. } => *page = newer,
                other => drop(other),
            }
        }
        if answered == Some(true) {
            return;
        }
    }
    let advanced = request(address, "POST", "/clock/advance", "{\"by_ms\":10000}").await;
    assert_eq!(advanced.status, 200, "{}", advanced.body);
    for frame in coach.until_time(0).await {
        if let ToDisplay::View { view: View::Coach(newer), .. } = frame {
            *page = newer;
        }
    }
}

/// A tap as it is expected, with how a set felt: the last of each exercise was heavy, and one client was helped.
fn as_it_went(act: &Act) -> Act {
    let Act::Done { turn, .. } = act else { return act.clone() };
    let helped = turn.round == 2 && turn.leg == 0 && turn.client == ClientId(101);
    let (reps, ending) = if helped { (Some(7), Some(Ending::Helped { reps: 2 })) } else { (None, None) };
    let effort = Some(if turn.round == 3 { Effort::Heavy } else { Effort::Right });
    Act::Done { turn: *turn, reps, effort, ending }
}

/// Takes the group through its evening by what its coach's page expects.
async fn evening(address: SocketAddr) {
    for _ in 0..MOST_DISPLAYS {
        // A display that sends more at once than people can tap is cut off: another one goes on.
        let (mut coach, mut page) = open(address).await;
        for _ in 0..STEPS {
            if page.groups[0].stage == Stage::Finished {
                return;
            }
            step(address, &mut coach, &mut page).await;
        }
    }
    panic!("the evening does not end");
}

async fn accept(coach: &mut Display, act: Act) {
    let outcome = coach.tap(act).await;
    assert!(matches!(outcome, Outcome::Accepted { .. }), "{outcome:?}");
}

/// The example floor, whose second bench has a lighter bar.
fn floor() -> String {
    let example = include_str!("../../../server/examples/floor.toml");
    let (before, bench_2) = example.split_once("key = \"bench-2\"").unwrap();
    format!("{before}key = \"bench-2\"{}", bench_2.replacen("bar = \"20 kg\"", "bar = \"15 kg\"", 1))
}

/// The longest note there may be, in words of some length.
fn longest_note() -> String {
    "The bar came down on the safety arms. "
        .repeat(14)
        .chars()
        .take(500)
        .collect::<String>()
        .trim()
        .to_owned()
}

fn session(papers: &Papers) {
    for (language, reps, texts) in [
        (
            Language::En,
            "Reps",
            [
                "Bench 1: 62.5 kg, each side 20 + 1.25 Bench 2: each side 20 + 2.5 + 1.25",
                "32.5 kg, each side 2.5 + 1.25",
                "50 kg, pin at 50",
                "42.5 kg (about 94 lb)",
                "Pulldown: Thigh pad 4",
                "rest 1:00 to 2:00 after a round",
                "10 reps, tempo 2-0-2-0",
                "needs a spotter",
            ],
        ),
        (
            Language::De,
            "Wdh.",
            [
                "Bench 1: 62,5 kg, je Seite 20 + 1.25 Bench 2: je Seite 20 + 2.5 + 1.25",
                "32,5 kg, je Seite 2.5 + 1.25",
                "50 kg, Stift bei 50",
                "42,5 kg (etwa 94 lb)",
                "Pulldown: Thigh pad 4",
                "Pause 1:00 bis 2:00 nach einer Runde",
                "10 Wdh., Tempo 2-0-2-0",
                "braucht Hilfestellung",
            ],
        ),
    ] {
        let all = said(papers, "session", language);
        assert_says(&all, &NAMES);
        assert_says(&all, &texts);
        assert_says(
            &all,
            &[message(language, "label.sheet_care_collars"), message(language, "label.caution")],
        );
        for name in NAMES {
            assert_eq!(all.matches(name).count(), 3, "in the head, and above the sets of both blocks: {all}");
        }
        let pages = &papers[&format!("session-{}", language.tag())];
        let boxes: Vec<Cell> = pages.iter().flat_map(|page| page.column(reps)).collect();
        assert_eq!(boxes.len(), SETS, "a box for each set: {boxes:?}");
        for one in boxes {
            assert!(one.text.is_empty() && one.height >= BOX, "{one:?} is no room to write in");
        }
    }
}

fn briefing(papers: &Papers) {
    for (language, texts) in [
        (Language::En, ["Bench press, then Cable row, with no rest between.", "Collars on"]),
        (
            Language::De,
            ["Bankdr\u{fc}cken, dann Rudern am Kabelzug, ohne Pause dazwischen.", "Klemmen drauf"],
        ),
    ] {
        let all = said(papers, "briefing", language);
        assert_says(&all, &NAMES);
        assert_says(&all, &texts);
        assert_says(&all, &[message(language, "label.sheet_cautions"), message(language, "label.caution")]);
    }
}

fn summary(papers: &Papers) {
    for (language, texts) in [
        (
            Language::En,
            [
                "62.5 kg 10 complete",
                "7 spotter helped with 2",
                "42.5 kg 10",
                "a minute, over",
                "as planned",
                "heavy",
                "62.5 kg, 10 reps (same load)",
                "Next time",
            ],
        ),
        (
            Language::De,
            [
                "62,5 kg 10 vollst\u{e4}ndig",
                "7 2 mit Hilfe",
                "42,5 kg 10",
                "je Minute, \u{fc}ber",
                "wie geplant",
                "schwer",
                "62,5 kg, 10 Wdh. (gleiche Last)",
                "N\u{e4}chstes Mal",
            ],
        ),
    ] {
        let pages = &papers[&format!("summary-{}", language.tag())];
        assert_eq!(pages.len(), NAMES.len(), "one sheet for each client in {language:?}");
        for (page, name) in pages.iter().zip(NAMES) {
            let said = page.said();
            assert_says(
                &said,
                &[
                    name,
                    message(language, "label.sheet_volume"),
                    message(language, "label.sheet_density_plain"),
                ],
            );
            let title = message(language, "label.sheet_reps");
            let reps: Vec<Cell> =
                page.column(title).into_iter().filter(|cell| !cell.text.is_empty()).collect();
            assert_eq!(reps.len(), SETS / NAMES.len(), "{name}: {reps:?}");
        }
        let all = said(papers, "summary", language);
        assert_says(&all, &texts);
        assert!(!all.contains("Elbows wandered."), "notes are for coaches");
        assert_says(
            &said(papers, "coach", language),
            &[
                "Elbows wandered.",
                message(language, "label.sheet_coach_only"),
                message(language, "label.sheet_density"),
            ],
        );
    }
}

fn incident(papers: &Papers) {
    for language in [Language::En, Language::De] {
        let pages = &papers[&format!("incident-{}", language.tag())];
        assert_eq!(pages.len(), 1, "one sheet, with room to sign");
        let all = said(papers, "incident", language);
        assert_says(&all, &[&longest_note(), "Bench 1", "Ayla", "112", "Example Street 1, rear building"]);
        assert_says(&all, &["on the wall beside the front desk", "in the red cabinet"]);
        for label in ["people", "witnesses", "done", "sign_author", "sign_other"] {
            assert_says(&all, &[message(language, &format!("label.sheet_{label}"))]);
        }
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_on_paper_is_whole_readable_and_has_room_to_write() {
    let folder = tempfile::tempdir().unwrap();
    let floor_file = folder.path().join("floor.toml");
    std::fs::write(&floor_file, floor()).unwrap();
    let data = folder.path().join("data");
    let (server, address) = serve_on(&floor_file, "tests/tests/browser/paper.toml", &data).await;
    let (mut coach, page) = open(address).await;
    let pulldown = page.stations.iter().find(|line| line.name == "Pulldown").unwrap().station;
    accept(&mut coach, Act::SetSetting { station: pulldown, client: ClientId(101), setting: 0, value: 3 })
        .await;

    let before = [("session", "session?group=1"), ("briefing", "briefing?group=1")];
    let Some(papers) = print(address, folder.path(), &before).await else { return };
    look(&papers);
    session(&papers);
    briefing(&papers);

    evening(address).await;
    let about = NoteAbout::Client { group: GROUP, client: ClientId(103) };
    accept(&mut coach, Act::Note { note: about, text: "Elbows wandered.".to_owned() }).await;
    let about = NoteAbout::Incident { station: StationId(1), call: None };
    accept(&mut coach, Act::Note { note: about, text: longest_note() }).await;
    let after = [
        ("summary", "summary?group=1"),
        ("coach", "summary?group=1&copy=coach"),
        ("incident", "incident?note=2"),
    ];
    let Some(papers) = print(address, folder.path(), &after).await else { return };
    look(&papers);
    summary(&papers);
    incident(&papers);
    let csv = request(address, "GET", "/coaches/coach-1/groups/1/sets.csv", "").await.body;
    assert!(csv.contains(",62.5,\"kg\",") && !csv.contains("62,5"), "a file is for machines: {csv}");
    assert!(server.interrupt().await.success());
}

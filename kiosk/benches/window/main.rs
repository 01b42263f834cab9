//! What a kiosk's window costs: the first frame, a face that stands still, a countdown, a pacer, and memory over a day.
//!
//! Everything happens on a screen of its own of 1920 x 1080 (Debian package `xvfb`), in turns with a trivial window of the
//! same toolkit, which says what of it is the toolkit's and the screen's. Words after `--` choose what is measured:
//! `first`, `still`, `countdown`, `pacer`, `day`.

#[path = "played.rs"]
mod played;
#[path = "process.rs"]
mod process;
#[path = "reference.rs"]
mod reference;
#[path = "../../tests/scenes/mod.rs"]
mod scenes;
#[path = "screen.rs"]
mod screen;

use std::time::{Duration, Instant};

use played::{Part, Played};
use process::Window;
use screen::Screen;

/// How often each is measured; what is shown is the middle one.
const TIMES: usize = 3;
/// From the start of a window until it has settled.
const SETTLE: Duration = Duration::from_secs(5);
/// How long a face is looked at.
const LOOK: Duration = Duration::from_secs(20);

/// The middle of three or more.
fn middle<T: Copy + PartialOrd>(mut found: Vec<T>) -> T {
    found.sort_by(|one, other| one.partial_cmp(other).expect("all were measured"));
    found[found.len() / 2]
}

/// What was found of a window, in percent of a core and in MB.
#[derive(Clone, Copy, Debug)]
struct Found {
    percent: f64,
    resident: f64,
}

/// What a window takes of a core once it has settled, and of memory then.
fn look(window: &Window) -> Found {
    std::thread::sleep(SETTLE);
    let (before, since) = (window.cpu(), Instant::now());
    std::thread::sleep(LOOK);
    let spent = window.cpu().saturating_sub(before);
    Found {
        percent: 100.0 * spent.as_secs_f64() / since.elapsed().as_secs_f64(),
        resident: window.resident(),
    }
}

/// Measures a face and the trivial window in turns.
fn face(screen: &Screen, name: &str, part: Part, bar: f64) {
    let (mut kiosks, mut trivials) = (Vec::new(), Vec::new());
    for _ in 0..TIMES {
        let trivial = Window::reference(screen, part != Part::Still);
        trivials.push(look(&trivial));
        drop(trivial);
        let served = Played::begin(part, 1);
        let kiosk = Window::kiosk(screen, served.port());
        kiosks.push(look(&kiosk));
    }
    let percent = |found: &[Found]| middle(found.iter().map(|found| found.percent).collect());
    let (kiosk, trivial) = (percent(&kiosks), percent(&trivials));
    let resident = middle(kiosks.iter().map(|found| found.resident).collect());
    let met = if kiosk <= bar { "yes" } else { "no" };
    println!(
        "| {name} | {kiosk:.2} % | {trivial:.2} % | {:.1} | {bar} % | {met} | {resident:.1} MB |",
        kiosk / trivial
    );
}

/// Measures from the start of the program to the first picture.
fn first_frame(screen: &Screen) {
    let (mut kiosks, mut trivials) = (Vec::new(), Vec::new());
    for _ in 0..2 * TIMES + 1 {
        for (found, is_kiosk) in [(&mut trivials, false), (&mut kiosks, true)] {
            let began = Instant::now();
            let window = if is_kiosk {
                Window::kiosk(screen, played::NOBODY)
            } else {
                Window::reference(screen, false)
            };
            screen.wait_for_a_picture();
            found.push((began.elapsed(), window.cpu()));
            drop(window);
            screen.wait_for_none();
        }
    }
    for (name, found) in [("kiosk", &kiosks), ("trivial window", &trivials)] {
        let wall = middle(found.iter().map(|(wall, _)| *wall).collect());
        let cpu = middle(found.iter().map(|(_, cpu)| *cpu).collect());
        println!("| {name} | {:.0} ms | {:.0} ms |", 1e3 * wall.as_secs_f64(), 1e3 * cpu.as_secs_f64());
    }
}

/// Drives a kiosk through a day, and tells what it keeps in memory hour by hour.
fn day(screen: &Screen) {
    let served = Played::begin(Part::Evening, played::DAY_RATE);
    let kiosk = Window::kiosk(screen, served.port());
    let mut hours = Vec::new();
    for _ in 0..24 {
        std::thread::sleep(Duration::from_secs(3_600) / played::DAY_RATE);
        hours.push(kiosk.resident());
    }
    let most = hours.iter().copied().fold(0.0, f64::max);
    println!(
        "after the 1st, 2nd, 12th and 24th hour {:.1}, {:.1}, {:.1} and {:.1} MB, at most {most:.1} MB; {} views were sent",
        hours[0],
        hours[1],
        hours[11],
        hours[23],
        served.sent()
    );
}

fn main() {
    if reference::run_if_asked() {
        return;
    }
    let asked: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with('-')).collect();
    let wanted = |name: &str| asked.is_empty() || asked.iter().any(|word| word == name);
    let screen = Screen::begin();
    let bytes = std::fs::metadata(env!("CARGO_BIN_EXE_turnabout-kiosk")).expect("the kiosk is built").len();
    #[expect(clippy::cast_precision_loss, reason = "a few megabytes")]
    let megabytes = bytes as f64 / 1e6;
    println!("the program has {megabytes:.1} MB\n");
    if wanted("first") {
        println!("| first picture of | wall | CPU |\n|---|---|---|");
        first_frame(&screen);
    }
    println!(
        "\n| face | kiosk | trivial window | ratio | bar | met | resident |\n|---|---|---|---|---|---|---|"
    );
    for (name, part, bar) in
        [("still", Part::Still, 0.2), ("countdown", Part::Countdown, 0.5), ("pacer", Part::Pacer, 3.0)]
    {
        if wanted(name) {
            face(&screen, name, part, bar);
        }
    }
    if wanted("day") {
        println!();
        day(&screen);
    }
}

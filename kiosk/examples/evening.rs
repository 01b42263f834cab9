//! Follows windows on screens in memory through an evening, and compares each with what a kiosk without a window says:
//! `cargo run --profile kiosk -p turnabout-kiosk --example evening -- URL PACE OUTDIR FACE...`, where PACE is how fast that floor's
//! evening goes, and a face is `board` or a station's key, or several with commas.
//!
//! Every few seconds each window is looked at. Its picture has to be that of a face that the kiosk without a window, which
//! whole evenings are tested with, had within the last moment. What is not is written to OUTDIR as two pictures, the
//! window's and the nearest; so is one look a minute, to be judged by eye. Needs Xvfb (Debian package `xvfb`) and ends
//! when the server does.

use std::collections::VecDeque;
use std::fs::File;
use std::io::{BufRead, BufReader, BufWriter};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitCode, Stdio};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use i_slint_backend_testing::{TestingBackend, TestingBackendOptions};
use serde::Deserialize;
use slint::ComponentHandle;
use turnabout_kiosk::apply::apply;
use turnabout_kiosk::face::{Face, Going};
use turnabout_kiosk::ui::KioskWindow;
use turnabout_protocol::units::FloorMs;

#[path = "../benches/window/screen.rs"]
mod screen;

use screen::Screen;

/// Between two looks at a window.
const EVERY: Duration = Duration::from_secs(2);
/// How long before the look a face may have been the present one: a line is printed at most every tenth of a second, and
/// this machine may be busy.
const MOMENT: Duration = Duration::from_millis(1_500);
/// How many of a thousand pixels may be otherwise: the level of a pacer moves between two looks.
const OTHERWISE: usize = 25;
/// Of each window one look in so many is kept for the eye.
const KEPT: usize = 30;

/// A line of a kiosk without a window.
#[derive(Clone, Deserialize)]
struct Line {
    now: Option<FloorMs>,
    face: Face,
}

/// Kills a process that is not needed any more.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// The faces of a moment, each with when it was there from.
type Faces = Arc<Mutex<VecDeque<(Instant, Line)>>>;

/// One face of the evening: a window on a screen, and the same without.
struct Watched {
    name: String,
    screen: Screen,
    _window: Running,
    headless: Running,
    faces: Faces,
}

impl Watched {
    fn begin(kiosk: &Path, url: &str, name: &str) -> std::io::Result<Self> {
        let screen = Screen::begin();
        let shows: &[&str] = if name == "board" { &["--board"] } else { &["--station", name] };
        let settings =
            std::env::temp_dir().join(format!("turnabout-evening-{}-{name}.json", std::process::id()));
        let start = |extra: &[&str]| {
            let mut command = Command::new(kiosk);
            command.args(["--server", url]).args(shows).args(extra).env("DISPLAY", screen.name());
            command
        };
        let diagonal = if name == "board" { "43" } else { "24" };
        let window = start(&["--diagonal", diagonal]).arg("--settings").arg(&settings).spawn()?;
        let mut headless = start(&["--headless"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn()?;
        let lines = headless.stdout.take().map(BufReader::new);
        let faces = Faces::default();
        let into = Arc::clone(&faces);
        std::thread::spawn(move || {
            for line in lines.into_iter().flat_map(BufRead::lines).map_while(Result::ok) {
                let Ok(line) = serde_json::from_str(&line) else { return };
                let mut faces = into.lock().unwrap_or_else(PoisonError::into_inner);
                faces.push_back((Instant::now(), line));
                // The present one, and those that a moment ago were.
                while faces.get(1).is_some_and(|(since, _)| since.elapsed() > 2 * MOMENT) {
                    faces.pop_front();
                }
            }
        });
        screen.wait_for_a_picture();
        Ok(Self {
            name: name.to_owned(),
            screen,
            _window: Running(window),
            headless: Running(headless),
            faces,
        })
    }

    /// What was the present face within the last moment, the newest first.
    fn lately(&self, at: Instant) -> Vec<Line> {
        let faces = self.faces.lock().unwrap_or_else(PoisonError::into_inner);
        let mut lately = Vec::new();
        for (since, line) in faces.iter().rev() {
            lately.push(line.clone());
            if at.saturating_duration_since(*since) > MOMENT {
                break;
            }
        }
        lately
    }
}

/// How many of a thousand pixels are otherwise.
fn otherwise(one: &[[u8; 3]], other: &[[u8; 3]]) -> usize {
    let differ =
        |(one, other): &(&[u8; 3], &[u8; 3])| one.iter().zip(*other).any(|(a, b)| a.abs_diff(*b) > 24);
    one.iter().zip(other).filter(differ).count() * 1_000 / one.len().max(1)
}

fn write(path: &Path, picture: &[[u8; 3]]) -> Result<(), Box<dyn std::error::Error>> {
    let mut encoder =
        png::Encoder::new(BufWriter::new(File::create(path)?), screen::WIDTH.into(), screen::HEIGHT.into());
    encoder.set_color(png::ColorType::Rgb);
    encoder.write_header()?.write_image_data(picture.as_flattened())?;
    Ok(())
}

/// The picture of a face.
fn drawn(
    window: &KioskWindow,
    watched: &Watched,
    line: &Line,
    rate: u32,
) -> Result<Vec<[u8; 3]>, slint::PlatformError> {
    use slint::Global as _;
    turnabout_kiosk::ui::Kiosk::get(window).set_diagonal(if watched.name == "board" { 43.0 } else { 24.0 });
    // The sizes of letters follow when it is drawn.
    window.window().take_snapshot()?;
    apply(window, &line.face, line.now.map(|now| Going { now, rate }));
    let picture = window.window().take_snapshot()?;
    Ok(picture.as_slice().iter().map(|pixel| [pixel.r, pixel.g, pixel.b]).collect())
}

fn follow(
    url: &str,
    rate: u32,
    folder: &Path,
    names: &[String],
) -> Result<usize, Box<dyn std::error::Error>> {
    std::fs::create_dir_all(folder)?;
    let options =
        TestingBackendOptions { mock_time: true, threading: false, renderer_name: Some("software".into()) };
    slint::platform::set_platform(Box::new(TestingBackend::new(options)))?;
    let window = KioskWindow::new()?;
    window.show()?;
    window.window().set_size(slint::PhysicalSize::new(screen::WIDTH.into(), screen::HEIGHT.into()));
    // Beside this program, one folder up, lies what it follows.
    let here = std::env::current_exe()?;
    let kiosk: PathBuf = here.ancestors().nth(2).unwrap_or(Path::new(".")).join("turnabout-kiosk");
    let mut all =
        names.iter().map(|name| Watched::begin(&kiosk, url, name)).collect::<Result<Vec<_>, _>>()?;
    let (mut looks, mut wrong) = (0, 0);
    loop {
        std::thread::sleep(EVERY);
        for watched in &mut all {
            if watched.headless.0.try_wait()?.is_some() {
                return Err(format!("the kiosk of {} ended", watched.name).into());
            }
            let (seen, at) = (watched.screen.picture(), Instant::now());
            // What is printed of this very moment may come after it.
            std::thread::sleep(Duration::from_millis(250));
            let lately = watched.lately(at);
            if lately.iter().any(|line| !line.face.link.is_empty()) {
                println!("{looks} looks, {wrong} wrong; the server is gone");
                return Ok(wrong);
            }
            let mut nearest: Option<(usize, Vec<[u8; 3]>)> = None;
            for line in &lately {
                let picture = drawn(&window, watched, line, rate)?;
                let far = otherwise(&seen, &picture);
                if nearest.as_ref().is_none_or(|(nearest, _)| far < *nearest) {
                    nearest = Some((far, picture));
                }
                if far == 0 {
                    break;
                }
            }
            let Some((far, picture)) = nearest else { continue };
            let file =
                |kind: &str| folder.join(format!("{looks:05}-{}-{kind}.png", watched.name.replace(',', "+")));
            if far > OTHERWISE {
                wrong += 1;
                println!("look {looks}, {}: {far} of 1,000 pixels otherwise", watched.name);
                write(&file("wrong-window"), &seen)?;
                write(&file("wrong-face"), &picture)?;
            } else if (looks / names.len()).is_multiple_of(KEPT) {
                write(&file("right"), &seen)?;
            }
            looks += 1;
        }
    }
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [url, pace, folder, names @ ..] = arguments.as_slice() else {
        eprintln!("usage: evening URL PACE OUTDIR FACE...");
        return ExitCode::FAILURE;
    };
    let Ok(rate) = pace.parse() else {
        eprintln!("{pace}: how fast the evening goes is a whole number");
        return ExitCode::FAILURE;
    };
    match follow(url, rate, Path::new(folder), names) {
        Ok(0) => ExitCode::SUCCESS,
        Ok(_) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

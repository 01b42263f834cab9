//! Every phase as it was last looked at: one size, one language, small. Other sizes are held by rules.
//!
//! `GOLDEN=write` draws them anew; then each that changed is to be opened and judged.

use std::fs::{self, File};
use std::io::{BufReader, BufWriter};
use std::path::{Path, PathBuf};

use slint::{Rgba8Pixel, SharedPixelBuffer};
use turnabout_protocol::text::Language;

use crate::scenes::all;
use crate::screens::{Screen, picture, put_on, window};

/// A third of a screen of 1920 x 1080. Half of it is kept.
const SCREEN: Screen = Screen { width: 640, height: 360, inches: 15.6 };

/// A scene of each phase, and of what lies over one.
const SCENES: [&str; 43] = [
    "connecting",
    "free-until",
    "reserved",
    "held",
    "needs-load",
    "get-ready",
    "coming",
    "settings",
    "rest",
    "cue-now",
    "told-spotter",
    "told-way",
    "proposal",
    "ready",
    "get-set",
    "count-in",
    "working",
    "hold",
    "assumed",
    "asking",
    "efforts",
    "leaving",
    "paused",
    "stopped-rack",
    "stopped-wait",
    "wipe-down",
    "finished",
    "other-use",
    "out-of-service",
    "call-sent",
    "call-answered",
    "help",
    "lost-working",
    "undo-done",
    "not-as-shown",
    "pin",
    "four",
    "board",
    "visit-digits",
    "visit-wrong",
    "visit-sheet-called",
    "visit-sheet-empty",
    "visit-board-sheet",
];

/// How far a part of a colour may be off, two steps, and how many pixels in ten thousand may be further: processors round
/// letters otherwise.
const OFF: u8 = 34;
const FURTHER: usize = 10;

fn kept(scene: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(format!("{scene}.png"))
}

/// What is kept of a picture: the mean of each four pixels, in sixteen steps of red, green and blue.
fn small(picture: &SharedPixelBuffer<Rgba8Pixel>) -> Vec<u8> {
    let (width, pixels) = (picture.width() as usize, picture.as_slice());
    let four = |n: usize| {
        let at = n / (width / 2) * 2 * width + n % (width / 2) * 2;
        [at, at + 1, at + width, at + width + 1].map(|at| pixels[at])
    };
    let mean = |four: [u8; 4]| {
        let mean = four.map(u32::from).iter().sum::<u32>() / 4;
        u8::try_from((mean + 8) / 17 * 17).unwrap_or(u8::MAX)
    };
    let of = |four: [Rgba8Pixel; 4]| {
        [mean(four.map(|pixel| pixel.r)), mean(four.map(|pixel| pixel.g)), mean(four.map(|pixel| pixel.b))]
    };
    (0..pixels.len() / 4).flat_map(|n| of(four(n))).collect()
}

/// Writes what is kept of a picture.
fn write(path: &Path, small: &[u8]) {
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    let file = BufWriter::new(File::create(path).unwrap());
    let mut encoder = png::Encoder::new(file, SCREEN.width / 2, SCREEN.height / 2);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_compression(png::Compression::High);
    encoder.write_header().unwrap().write_image_data(small).unwrap();
}

/// Red, green and blue of a picture that was kept.
fn read(path: &Path) -> Vec<u8> {
    let file = File::open(path).unwrap_or_else(|error| panic!("{}: {error}; GOLDEN=write", path.display()));
    let mut reader = png::Decoder::new(BufReader::new(file)).read_info().unwrap();
    assert_eq!(reader.info().color_type, png::ColorType::Rgb, "{}", path.display());
    let mut bytes = vec![0; reader.output_buffer_size().unwrap()];
    reader.next_frame(&mut bytes).unwrap();
    bytes
}

/// How many of ten thousand pixels are not as they were.
fn changed(now: &[u8], kept: &[u8]) -> usize {
    assert_eq!(now.len(), kept.len(), "another size");
    let is_off =
        |(now, then): &(&[u8], &[u8])| now.iter().zip(*then).any(|(now, then)| now.abs_diff(*then) > OFF);
    now.chunks_exact(3).zip(kept.chunks_exact(3)).filter(is_off).count() * 30_000 / now.len()
}

#[test]
fn every_phase_looks_as_it_did() {
    let window = window();
    put_on(&window, SCREEN);
    let all = all();
    let mut others = Vec::new();
    for name in SCENES {
        let sample =
            all.iter().find(|sample| sample.name == name).unwrap_or_else(|| panic!("no scene {name}"));
        let small = small(&picture(&window, &sample.face(Language::En), sample));
        let path = kept(name);
        if std::env::var_os("GOLDEN").is_some_and(|golden| golden == "write") {
            write(&path, &small);
        }
        let changed = changed(&small, &read(&path));
        if changed > FURTHER {
            let now = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.png"));
            write(&now, &small);
            others.push(format!("{name}: {changed} of 10,000 pixels; now {}", now.display()));
        }
    }
    assert!(others.is_empty(), "looks otherwise, GOLDEN=write once it was judged:\n{}", others.join("\n"));
}

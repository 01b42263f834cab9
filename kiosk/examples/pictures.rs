//! Renders a picture of everything a display can show, with no display at all:
//! `cargo run -p turnabout-kiosk --example pictures -- OUTDIR [--only SCENE,... | --every SCENE,...]`.
//!
//! With `--only` just those scenes, in English on a screen of 15.6 inches, as `SCENE-en.png`: the pictures of the
//! documentation are written so. With `--every` just those, in every language on every screen.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::fs::File;
use std::io::BufWriter;
use std::path::Path;
use std::process::ExitCode;

use i_slint_backend_testing::{TestingBackend, TestingBackendOptions};
use slint::{ComponentHandle, Global, PhysicalSize, Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::apply::{apply_setup, apply_with};
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_protocol::text::Language;

#[path = "../tests/scenes/mod.rs"]
mod scenes;

use scenes::Sample;

/// A screen: its pixels, and its inches from corner to corner.
type Screen = ((u32, u32), f32);

/// One of 15.6 inches, two small ones, and the first set upright.
const SCREENS: [Screen; 4] = [LARGE, SMALL, WIDE, UPRIGHT];
const LARGE: Screen = ((1920, 1080), 15.6);
/// As the first, smaller: for what is read about it.
const PRINTED: Screen = ((1280, 720), 15.6);
const SMALL: Screen = ((1280, 800), 10.1);
const WIDE: Screen = ((1024, 600), 10.1);
const UPRIGHT: Screen = ((1080, 1920), 15.6);

#[derive(Debug, thiserror::Error)]
enum PictureError {
    #[error("cannot draw: {0}")]
    Platform(#[from] slint::PlatformError),
    #[error("cannot set the drawing backend: {0}")]
    Backend(#[from] slint::platform::SetPlatformError),
    #[error("cannot write a picture: {0}")]
    Io(#[from] std::io::Error),
    #[error("cannot encode a picture: {0}")]
    Png(#[from] png::EncodingError),
    #[error("there is no scene {0}; there are {1}")]
    NoScene(String, String),
}

const USAGE: &str = "usage: pictures OUTDIR [--only SCENE,... | --every SCENE,...]";

/// What is on a picture.
#[derive(Clone, Copy)]
enum Drawn<'a> {
    /// A face.
    Face(&'a Sample),
    /// A page on which a display is set up, by its name.
    Setup(&'a str),
}

impl Drawn<'_> {
    const fn name(&self) -> &str {
        match self {
            Self::Face(sample) => sample.name,
            Self::Setup(name) => name,
        }
    }
}

/// Which pictures are wanted.
#[derive(Clone, Copy)]
enum Wanted<'a> {
    /// Every scene in every language on every screen.
    All,
    /// These scenes, in English on a screen of 15.6 inches.
    Only(&'a str),
    /// These scenes in every language on every screen.
    Every(&'a str),
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (folder, wanted) = match arguments.as_slice() {
        [folder] if !folder.starts_with('-') => (folder, Wanted::All),
        [folder, option, names] if option == "--only" => (folder, Wanted::Only(names)),
        [folder, option, names] if option == "--every" => (folder, Wanted::Every(names)),
        _ => {
            eprintln!("{USAGE}");
            return ExitCode::FAILURE;
        }
    };
    match draw(Path::new(folder), wanted) {
        Ok(count) => {
            println!("{count} pictures in {folder}");
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn draw(folder: &Path, wanted: Wanted<'_>) -> Result<usize, PictureError> {
    let all = scenes::all();
    let setups = scenes::setups(Language::En).into_iter().map(|(name, _)| Drawn::Setup(name));
    let all: Vec<Drawn<'_>> = all.iter().map(Drawn::Face).chain(setups).collect();
    let drawn = match wanted {
        Wanted::All => all,
        Wanted::Only(names) | Wanted::Every(names) => chosen(&all, names)?,
    };
    std::fs::create_dir_all(folder)?;
    let options =
        TestingBackendOptions { mock_time: true, threading: false, renderer_name: Some("software".into()) };
    slint::platform::set_platform(Box::new(TestingBackend::new(options)))?;
    let window = KioskWindow::new()?;
    window.show()?;
    if matches!(wanted, Wanted::Only(_)) {
        for drawn in &drawn {
            let picture = picture(&window, *drawn, Language::En, PRINTED)?;
            write(&folder.join(format!("{}-en.png", drawn.name())), &picture)?;
        }
        return Ok(drawn.len());
    }
    let mut count = 0;
    for screen in SCREENS {
        for language in Language::ALL {
            for drawn in &drawn {
                let picture = picture(&window, *drawn, language, screen)?;
                let name = format!("{}-{}-{}.png", drawn.name(), language.tag(), screen.0.1);
                write(&folder.join(name), &picture)?;
                count += 1;
            }
        }
    }
    Ok(count)
}

/// The scenes of a list of names.
fn chosen<'s>(there: &[Drawn<'s>], names: &str) -> Result<Vec<Drawn<'s>>, PictureError> {
    let find = |name: &str| there.iter().find(|drawn| drawn.name() == name).copied();
    let all = || there.iter().map(Drawn::name).collect::<Vec<_>>().join(", ");
    names.split(',').map(|n| find(n).ok_or_else(|| PictureError::NoScene(n.to_owned(), all()))).collect()
}

fn picture(
    window: &KioskWindow,
    drawn: Drawn<'_>,
    language: Language,
    ((width, height), inches): Screen,
) -> Result<SharedPixelBuffer<Rgba8Pixel>, PictureError> {
    window.window().set_size(PhysicalSize::new(width, height));
    Kiosk::get(window).set_diagonal(inches);
    // The sizes of letters follow when it is drawn.
    window.window().take_snapshot()?;
    match drawn {
        Drawn::Face(sample) => {
            apply_with(window, &sample.face(language), scenes::STILL, &sample.hands);
            Kiosk::get(window).set_asking(sample.asking);
        }
        Drawn::Setup(name) => {
            let setup = scenes::setups(language).into_iter().find(|(other, _)| *other == name);
            let (_, setup) = setup.ok_or_else(|| PictureError::NoScene(name.into(), String::new()))?;
            apply_setup(window, &setup.face());
        }
    }
    Ok(window.window().take_snapshot()?)
}

fn write(path: &Path, picture: &SharedPixelBuffer<Rgba8Pixel>) -> Result<(), PictureError> {
    let mut encoder =
        png::Encoder::new(BufWriter::new(File::create(path)?), picture.width(), picture.height());
    let (palette, pixels) = indexed(picture.as_slice());
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::High);
    encoder.set_filter(png::Filter::NoFilter);
    encoder.set_palette(palette);
    encoder.write_header()?.write_image_data(&pixels)?;
    Ok(())
}

/// The colours of an indexed picture.
const COLOURS: usize = 256;

/// A palette and each pixel's place in it: a face has a dozen colours and what lies between them at the edges
/// of letters, so the most frequent are enough, and the file is a third as large.
fn indexed(pixels: &[Rgba8Pixel]) -> (Vec<u8>, Vec<u8>) {
    let colour = |pixel: &Rgba8Pixel| [pixel.r, pixel.g, pixel.b];
    let mut counts: BTreeMap<[u8; 3], usize> = BTreeMap::new();
    for pixel in pixels {
        *counts.entry(colour(pixel)).or_default() += 1;
    }
    let mut frequent: Vec<[u8; 3]> = counts.keys().copied().collect();
    frequent.sort_by_key(|colour| Reverse(counts[colour]));
    frequent.truncate(COLOURS);
    let places: BTreeMap<[u8; 3], u8> =
        counts.keys().map(|colour| (*colour, nearest(&frequent, *colour))).collect();
    (frequent.concat(), pixels.iter().map(|pixel| places[&colour(pixel)]).collect())
}

fn nearest(palette: &[[u8; 3]], colour: [u8; 3]) -> u8 {
    let far = |other: &[u8; 3]| -> u32 {
        colour.iter().zip(other).map(|(a, b)| u32::from(a.abs_diff(*b)).pow(2)).sum()
    };
    let place = (0..=u8::MAX).zip(palette).min_by_key(|(_, other)| far(other));
    place.expect("a picture has a pixel").0
}

//! Renders a picture of everything a display can show, with no display at all:
//! `cargo run -p turnabout-kiosk --example pictures -- OUTDIR`.

use std::fs::File;
use std::io::BufWriter;
use std::path::Path;
use std::process::ExitCode;

use i_slint_backend_testing::{TestingBackend, TestingBackendOptions};
use slint::{ComponentHandle, Global, PhysicalSize, Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::apply::apply;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_protocol::text::Language;

#[path = "../tests/scenes/mod.rs"]
mod scenes;

/// A 24-inch screen, and the smallest that is supported.
const SIZES: [(u32, u32); 2] = [(1920, 1080), (1280, 800)];

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
}

fn main() -> ExitCode {
    let Some(folder) = std::env::args().nth(1) else {
        eprintln!("usage: pictures OUTDIR");
        return ExitCode::FAILURE;
    };
    match draw(Path::new(&folder)) {
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

fn draw(folder: &Path) -> Result<usize, PictureError> {
    std::fs::create_dir_all(folder)?;
    let options =
        TestingBackendOptions { mock_time: true, threading: false, renderer_name: Some("software".into()) };
    slint::platform::set_platform(Box::new(TestingBackend::new(options)))?;
    let window = KioskWindow::new()?;
    window.show()?;
    let mut count = 0;
    for (width, height) in SIZES {
        window.window().set_size(PhysicalSize::new(width, height));
        for language in Language::ALL {
            for sample in scenes::all() {
                apply(&window, &sample.face(language));
                Kiosk::get(&window).set_asking(sample.asking);
                let picture = window.window().take_snapshot()?;
                let name = format!("{}-{}-{height}.png", sample.name, language.tag());
                write(&folder.join(name), &picture)?;
                count += 1;
            }
        }
    }
    Ok(count)
}

fn write(path: &Path, picture: &SharedPixelBuffer<Rgba8Pixel>) -> Result<(), PictureError> {
    let mut encoder =
        png::Encoder::new(BufWriter::new(File::create(path)?), picture.width(), picture.height());
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.write_header()?.write_image_data(picture.as_bytes())?;
    Ok(())
}

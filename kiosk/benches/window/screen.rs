//! A screen in memory.
#![allow(dead_code, reason = "each user takes its part")]

use std::io::{BufRead as _, BufReader};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use x11rb::connection::Connection as _;
use x11rb::protocol::xproto::{ConnectionExt as _, ImageFormat, MapState, Window};
use x11rb::rust_connection::RustConnection;

/// Far longer than any window takes.
const PATIENCE: Duration = Duration::from_secs(20);
/// How often the screen is looked at.
const GLANCE: Duration = Duration::from_millis(2);

/// Its pixels from left to right and from top to bottom.
pub(crate) const WIDTH: u16 = 1920;
pub(crate) const HEIGHT: u16 = 1080;

/// A screen of 1920 x 1080. It ends with this.
pub(crate) struct Screen {
    server: Child,
    name: String,
    connection: RustConnection,
    root: Window,
}

impl Screen {
    pub(crate) fn begin() -> Self {
        let mut server = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", &format!("{WIDTH}x{HEIGHT}x24"), "-nolisten", "tcp"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb is there (Debian package xvfb)");
        let mut number = String::new();
        let said = server.stdout.take().expect("it is piped");
        BufReader::new(said).read_line(&mut number).expect("Xvfb says its number");
        let name = format!(":{}", number.trim());
        let (connection, screen) = x11rb::connect(Some(&name)).expect("Xvfb answers");
        let root = connection.setup().roots[screen].root;
        Self { server, name, connection, root }
    }

    /// What `DISPLAY` says of it.
    pub(crate) fn name(&self) -> &str {
        &self.name
    }

    /// The large windows that are there.
    fn windows(&self) -> Vec<Window> {
        let tree = self.connection.query_tree(self.root).expect("sent").reply().expect("there is a root");
        // A window can be gone again while it is asked about.
        let is_large = |window: &Window| -> Option<bool> {
            let shown = self.connection.get_window_attributes(*window).ok()?.reply().ok()?.map_state;
            let size = self.connection.get_geometry(*window).ok()?.reply().ok()?;
            Some(shown == MapState::VIEWABLE && size.width > 600)
        };
        tree.children.into_iter().filter(|window| is_large(window) == Some(true)).collect()
    }

    /// Whether something other than the black of an empty screen is in a window's corner.
    fn is_drawn(&self, window: Window) -> bool {
        let image = self.connection.get_image(ImageFormat::Z_PIXMAP, window, 20, 4, 4, 4, u32::MAX);
        let image = image.ok().and_then(|image| image.reply().ok());
        image.is_some_and(|image| image.data.chunks(4).any(|pixel| pixel[..3].iter().any(|part| *part > 0)))
    }

    /// All that is on it, from the upper left.
    pub(crate) fn picture(&self) -> Vec<[u8; 3]> {
        let image =
            self.connection.get_image(ImageFormat::Z_PIXMAP, self.root, 0, 0, WIDTH, HEIGHT, u32::MAX);
        let image = image.expect("sent").reply().expect("the screen is there");
        image.data.chunks_exact(4).map(|pixel| [pixel[2], pixel[1], pixel[0]]).collect()
    }

    /// Waits until something is drawn.
    pub(crate) fn wait_for_a_picture(&self) {
        self.wait(|| self.windows().iter().any(|window| self.is_drawn(*window)));
    }

    /// Waits until no window is left.
    pub(crate) fn wait_for_none(&self) {
        self.wait(|| self.windows().is_empty());
    }

    fn wait(&self, is_so: impl Fn() -> bool) {
        let since = Instant::now();
        while !is_so() {
            assert!(since.elapsed() < PATIENCE, "the screen {} stays as it is", self.name);
            sleep(GLANCE);
        }
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        // It may have ended by itself; whoever waits for it finds that out.
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}

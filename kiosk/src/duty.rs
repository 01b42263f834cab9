//! What a program does that runs by itself on a wall: one at a time, looked after, over the whole screen.

pub mod instance;
pub mod pointer;
#[cfg(feature = "x11")]
mod screen;
pub mod turning;
pub mod watchdog;

use slint::{ComponentHandle, Timer};

#[cfg(feature = "x11")]
use self::turning::Turner;
use self::watchdog::{Manager, Watch};
use crate::ui::KioskWindow;

/// What goes on beside the faces as long as a window is open.
#[must_use = "it ends with this"]
pub struct Duty {
    _watch: Option<Watch>,
    _arrow: Option<Timer>,
}

impl Duty {
    /// Begins with the window's loop. On the whole screen the arrow of a mouse is hidden while nobody moves it.
    pub fn begin(window: &KioskWindow, whole_screen: bool) -> Self {
        let watch = match Manager::of_environment() {
            Ok(manager) => manager.map(Watch::begin),
            Err(error) => {
                eprintln!("turnabout-kiosk: NOTIFY_SOCKET names no socket: {error}");
                None
            }
        };
        Self { _watch: watch, _arrow: if whole_screen { fill(window) } else { None } }
    }
}

/// Fills the screen. Where nobody manages windows nobody knows what full screen is, and a window that asks for it stays
/// small: there it is made as large as the screen.
#[cfg(feature = "x11")]
fn fill(window: &KioskWindow) -> Option<Timer> {
    let desktop = Turner::here() == Turner::Desktop;
    let screen = if desktop { screen::XScreen::find() } else { None };
    let Some(screen) = screen else {
        window.window().set_fullscreen(true);
        return None;
    };
    if screen.is_managed() {
        window.window().set_fullscreen(true);
    } else {
        let (width, height) = screen.size();
        window.window().set_position(slint::PhysicalPosition::new(0, 0));
        window.window().set_size(slint::PhysicalSize::new(width, height));
    }
    Some(screen.hide_arrow())
}

/// Fills the screen, which without X has nothing else on it.
#[cfg(not(feature = "x11"))]
fn fill(window: &KioskWindow) -> Option<Timer> {
    window.window().set_fullscreen(true);
    None
}

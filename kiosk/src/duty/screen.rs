//! What an X server says of its screen: how large it is, whether anybody manages windows on it, and where the arrow is.

use std::error::Error;
use std::time::Instant;

use slint::{Timer, TimerMode};
use x11rb::connection::Connection;
use x11rb::protocol::xfixes::ConnectionExt as _;
use x11rb::protocol::xinput::{ConnectionExt as _, Device, DeviceClassData, TouchMode};
use x11rb::protocol::xproto::{AtomEnum, ConnectionExt as _, Window};
use x11rb::rust_connection::RustConnection;

use super::pointer::{Arrow, LOOK};

/// Why an X server did not answer.
type Unanswered = Box<dyn Error>;

/// A screen of an X server, over a connection of its own.
#[derive(Debug)]
pub(super) struct XScreen {
    connection: RustConnection,
    root: Window,
    /// In pixels, from left to right and from top to bottom.
    size: (u32, u32),
}

impl XScreen {
    /// The screen of this display; nothing where there is no X server.
    #[must_use]
    pub(super) fn find() -> Option<Self> {
        let (connection, number) = x11rb::connect(None).ok()?;
        let screen = connection.setup().roots.get(number)?;
        let (root, size) = (screen.root, (screen.width_in_pixels.into(), screen.height_in_pixels.into()));
        Some(Self { connection, root, size })
    }

    /// From left to right and from top to bottom, in pixels.
    #[must_use]
    pub(super) const fn size(&self) -> (u32, u32) {
        self.size
    }

    /// Whether a window manager is there, which alone knows what full screen is: the root window names a window that
    /// names itself (Extended Window Manager Hints, `_NET_SUPPORTING_WM_CHECK`). One that is gone leaves only the
    /// first of the two.
    #[must_use]
    pub(super) fn is_managed(&self) -> bool {
        let managed = || -> Result<bool, Unanswered> {
            let check = self.connection.intern_atom(true, b"_NET_SUPPORTING_WM_CHECK")?.reply()?.atom;
            let named = |window: Window| -> Result<Option<Window>, Unanswered> {
                let asked = self.connection.get_property(false, window, check, AtomEnum::WINDOW, 0, 1)?;
                Ok(asked.reply()?.value32().and_then(|mut values| values.next()))
            };
            let Some(child) = named(self.root)? else { return Ok(false) };
            Ok(named(child)? == Some(child))
        };
        managed().unwrap_or(false)
    }

    /// Whether somebody touches this screen: one of its devices takes fingers where they are.
    fn is_touched(&self) -> Result<bool, Unanswered> {
        self.connection.xinput_xi_query_version(2, 2)?.reply()?;
        let devices = self.connection.xinput_xi_query_device(Device::ALL)?.reply()?.infos;
        let mut classes = devices.iter().flat_map(|device| &device.classes);
        Ok(classes.any(
            |class| matches!(&class.data, DeviceClassData::Touch(touch) if touch.mode == TouchMode::DIRECT),
        ))
    }

    fn arrow_at(&self) -> Result<(i16, i16), Unanswered> {
        let pointer = self.connection.query_pointer(self.root)?.reply()?;
        Ok((pointer.root_x, pointer.root_y))
    }

    /// Hides the arrow while nobody moves it, as long as the timer is kept. The server shows it again by itself when
    /// this program is gone.
    #[must_use]
    pub(super) fn hide_arrow(self) -> Timer {
        let timer = Timer::default();
        let begin = || -> Result<Arrow, Unanswered> {
            self.connection.xfixes_query_version(4, 0)?.reply()?;
            // An old server that knows no fingers has none.
            let arrow = Arrow::new(self.is_touched().unwrap_or(false), self.arrow_at()?);
            self.connection.xfixes_hide_cursor(self.root)?;
            self.connection.flush()?;
            Ok(arrow)
        };
        // Where the server cannot hide it, it stays.
        let Ok(mut arrow) = begin() else { return timer };
        let mut shown = false;
        timer.start(TimerMode::Repeated, LOOK, move || {
            let Ok(at) = self.arrow_at() else { return };
            let shows = arrow.shows(at, Instant::now());
            if shows == shown {
                return;
            }
            let told = if shows {
                self.connection.xfixes_show_cursor(self.root)
            } else {
                self.connection.xfixes_hide_cursor(self.root)
            };
            // A server that is gone takes the window with it.
            if told.is_ok() && self.connection.flush().is_ok() {
                shown = shows;
            }
        });
        timer
    }
}

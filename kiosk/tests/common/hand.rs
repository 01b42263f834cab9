//! A hand on a window whose loop runs in another thread.

use std::sync::mpsc::channel;
use std::time::Instant;

use i_slint_backend_testing::{AccessibleRole, ElementHandle};
use slint::Weak;
use turnabout_kiosk::ui::KioskWindow;

use crate::server::PATIENCE;

/// Ends the window's loop, whatever becomes of the test's thread.
pub(crate) struct Quit;

impl Drop for Quit {
    fn drop(&mut self) {
        slint::quit_event_loop().unwrap();
    }
}

/// Asks the window's thread until something labelled so is on the screen; then presses it, if told so.
pub(crate) fn find(window: &Weak<KioskWindow>, label: &str, press: bool) {
    let began = Instant::now();
    loop {
        let (answer, answered) = channel();
        let wanted = label.to_owned();
        window
            .upgrade_in_event_loop(move |window| {
                // A button and what is written on it may be called the same.
                let button =
                    |element: &ElementHandle| element.accessible_role() == Some(AccessibleRole::Button);
                let element = ElementHandle::find_by_accessible_label(&window, &wanted)
                    .find(|element| !press || button(element));
                if let Some(element) = element.as_ref().filter(|_| press) {
                    element.invoke_accessible_default_action();
                }
                answer.send(element.is_some()).unwrap();
            })
            .unwrap();
        if answered.recv_timeout(PATIENCE).unwrap() {
            return;
        }
        assert!(began.elapsed() < PATIENCE, "{label} never came");
    }
}
